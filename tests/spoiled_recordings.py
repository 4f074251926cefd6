"""Recordings spoiled in every way that was thought of, from good ones, by a seed."""

import struct

import numpy as np

#: What a cell of a table may hold by mistake.
CELLS = [
    "", " ", "nan", "inf", "-inf", "1e306", "-1e306", "1e308", "1e-320", "0", "-0.0", "1,5", "0x10", "1_000",
    "true", "12 rpm", "9" * 400, "1e99999", "٣", "−5", "\x00", '"7"', "=A1", "2026-01-01", "8000", "1e9",
]  # fmt: skip
UNITS = [
    "day", "h", "min", "s", "ms", "us", "ns", "m", "rpm", "rad/s", "Hz", "turn/s", "deg/s", "A", "mA", "kA",
    "uA", "%", "", "°", "1/0", "s^9", "[", "furlong", "rpm" * 30,
]  # fmt: skip


def riff(data, *, code=1, channels=1, rate=8000, bits=16, said=None):
    """A WAV file whose header may lie."""
    form = struct.pack(
        "<HHIIHH",
        code,
        channels,
        rate,
        rate * channels * bits // 8 % 2**32,
        channels * bits // 8 % 2**16,
        bits,
    )
    size = len(data) if said is None else said
    body = b"WAVEfmt " + struct.pack("<I", 16) + form + b"data" + struct.pack("<I", size) + data
    return b"RIFF" + struct.pack("<I", len(body)) + body


def spoiled_bytes(rng, raw):
    """Bytes cut, turned, zeroed, doubled, or put in."""
    raw = bytearray(raw)
    for _ in range(rng.integers(1, 4)):
        at = int(rng.integers(0, len(raw) + 1))
        # Headers are short, and most of what can go wrong goes wrong there.
        at = min(at, int(rng.integers(1, 64))) if rng.random() < 0.5 else at
        size = int(rng.integers(1, 9))
        match rng.integers(0, 6):
            case 0:
                del raw[at:]
            case 1:
                del raw[at : at + size]
            case 2:
                raw[at : at + size] = rng.bytes(size)
            case 3:
                raw[at : at + 2000] = bytes(len(raw[at : at + 2000]))
            case 4:
                raw[at:at] = raw[at : at + 500]
            case 5:
                raw[at : at + 4] = struct.pack(
                    "<I", int(rng.choice([0, 1, 2**16, 2**31, 2**32 - 1]))
                )
        if not raw:
            break
    return bytes(raw)


def spoiled_sound(rng, value):
    """A sound of another format, length, rate and size of its numbers."""
    value = value[: int(rng.choice([0, 1, 63, 64, 65, 96, 127, 128, 300, 2000, len(value)]))]
    code, bits = [(1, 8), (1, 16), (1, 24), (1, 32), (3, 32), (3, 64)][rng.integers(0, 6)]
    channels = int(rng.choice([0, 1, 1, 1, 2, 3, 8, 9, 65535]))
    rate = int(rng.choice([0, 1, 999, 1000, 4000, 8000, 48_000, 192_000, 400_000, 2**32 - 1]))
    many = np.repeat(value[:, None], min(channels, 9), axis=1)
    if code == 3:
        size = 10.0 ** rng.integers(-330, 309) if rng.random() < 0.5 else 1.0
        with np.errstate(over="ignore", invalid="ignore", under="ignore"):
            data = (many * size).astype(f"<f{bits // 8}")
        if data.size and rng.random() < 0.3:
            data.flat[rng.integers(0, data.size)] = rng.choice([np.nan, np.inf, -np.inf, 1e38])
        raw = data.tobytes()
    else:
        whole = np.round(many * 0.9 * 2.0 ** (bits - 1)).astype("<i8")
        whole += 128 if bits == 8 else 0
        raw = whole.view("u1").reshape(-1, 8)[:, : bits // 8].tobytes()
    said = int(rng.choice([0, 1, len(raw), 2**32 - 1])) if rng.random() < 0.3 else None
    return riff(raw, code=code, channels=channels, rate=rate, bits=bits, said=said)


def spoiled_table(rng, lines):
    """Cells, units, scales, order and marks of a table."""
    head, rows = lines[0], [line.split(",") for line in lines[1:]]
    for _ in range(rng.integers(1, 3)):
        row, column = int(rng.integers(0, len(rows))), int(rng.integers(0, 2))
        # What only scales or cuts a record goes the farthest, so it comes the oftenest.
        match rng.choice([0, 1, 1, 2, 2, 2, 3, 4, 4, 5, 6, 7, 8, 9, 9]):
            case 0:
                rows[row][column] = str(rng.choice(CELLS))
            case 1:
                names = [part.split("[")[0].strip() for part in head.split(",")]
                names[column % len(names)] += f" [{rng.choice(UNITS)}]"
                head = ",".join(names)
            case 2:
                factor = 10.0 ** float(rng.choice([-309, -30, -12, -6, -3, 3, 6, 9, 12, 300]))
                rows = [_scaled(one, column, factor) for one in rows]
            case 3:
                rows = [rows[n] for n in rng.permutation(len(rows))]
            case 4:
                rows = rows[: int(rng.choice([1, 2, 63, 64, 65, 100]))]
            case 5:
                rows = [rows[0]] * len(rows)
            case 6:
                rows[row] = rows[row] + ["7"] * int(rng.integers(1, 4))
            case 7:
                head = str(
                    rng.choice(
                        ["", "time", "time,time", "current,speed", head[::-1], head + ",speed"]
                    )
                )
            case 8:
                rows[row:] = [_later(one, 10.0 ** rng.integers(-1, 7)) for one in rows[row:]]
            case 9:
                rows[row] = _scaled(rows[row], 1, 10.0 ** rng.integers(-6, 9))
    mark = str(rng.choice([*",,,,,,;", "\t", " "]))
    end = str(rng.choice(["\n", "\n", "\r\n", "\r"]))
    text = end.join([head.replace(",", mark), *(mark.join(one) for one in rows)])
    return text.encode(str(rng.choice([*["utf-8"] * 8, "utf-8-sig", "utf-16"])))


def spoiled_numbers(rng):
    """A table that is written well, of numbers that no bench has seen; some that it has."""
    count = int(rng.choice([64, 65, 100, 400, 3000]))
    often = 10.0 ** rng.uniform(-1, 6) if rng.random() < 0.5 else rng.uniform(50, 1000)
    time = np.cumsum(rng.exponential(1.0, count) ** rng.choice([0.0, 1.0, 4.0])) / often
    kind = str(rng.choice(["axle speed", "wheel speed", "current"]))
    usual = 0.15 if kind == "current" else 100.0
    size = usual * (10.0 ** rng.uniform(-8, 8) if rng.random() < 0.5 else rng.uniform(0.2, 4))
    swing = rng.choice([0.0, 0.05, 0.9]) * np.sin(2 * np.pi * 10.0 ** rng.uniform(-1, 2) * time)
    value = size * (1 + swing + rng.choice([0.0, 0.01, 3.0]) * rng.standard_normal(count))
    if rng.random() < 0.2:
        value[rng.integers(0, count)] *= 10.0 ** rng.uniform(-9, 9)
    rows = "".join(f"{t!r},{v!r}\n" for t, v in zip(time.tolist(), value.tolist(), strict=True))
    return f"time,{kind}\n{rows}".encode()


def _scaled(row, column, factor):
    try:
        return [f"{float(cell) * factor!r}" if n == column else cell for n, cell in enumerate(row)]
    except ValueError:
        return row


def _later(row, seconds):
    try:
        return [f"{float(row[0]) + seconds!r}", *row[1:]]
    except ValueError:
        return row
