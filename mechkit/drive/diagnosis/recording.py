"""Recordings on the disk: a phone's sound, or readings of current or speed against time.

Nothing in the file is believed before it is checked, and never more than a minute is kept.
"""

import os
import shlex
import stat
import struct
import subprocess
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np

from mechkit import units
from mechkit.drive.diagnosis import limits

Kind = Literal["sound", "current", "speed"]
PLAIN = "save it as a plain WAV file (PCM)"
#: Name of a column -> what it holds, its SI unit, and the unit where none is given.
COLUMNS: dict[str, tuple[Kind, str, str]] = {
    "current": ("current", "A", "A"),
    "speed": ("speed", "rad/s", "rpm"),
    "axle speed": ("speed", "rad/s", "rpm"),
    "wheel speed": ("speed", "rad/s", "rpm"),
}
#: Where a file of another kind has its mark, the mark, and what the kind is.
PACKED = [
    (4, b"ftyp", "is a phone's packed sound (M4A, MP4 or 3GP)"),
    (0, b"#!AMR", "is a phone's packed sound (AMR)"),
    (0, b"OggS", "is a packed sound (OGG)"),
    (0, b"fLaC", "is a packed sound (FLAC)"),
    (0, b"ID3", "is a packed sound (MP3)"),
    (0, b"\xff\xfb", "is a packed sound (MP3)"),
    (0, b"\xff\xf3", "is a packed sound (MP3)"),
    (0, b"\xff\xf1", "is a packed sound (AAC)"),
    (0, b"\xff\xf9", "is a packed sound (AAC)"),
    (0, b"\x1aE\xdf\xa3", "is a packed sound (WebM)"),
    (0, b"0&\xb2u", "is a packed sound (WMA)"),
    (0, b"caff", "is a phone's sound (CAF)"),
    (0, b"FORM", "is a sound (AIFF)"),
    (0, b"PK\x03\x04", "is a spreadsheet or a packed folder"),
    (0, b"\xd0\xcf\x11\xe0", "is a spreadsheet of an old kind"),
]
HEADS = '"time, current" or "time, axle speed"'


class RecordingError(ValueError):
    """Why a recording cannot be used, in one line."""


@dataclass(frozen=True)
class Recording:
    """What was recorded: ``value`` [-, A or the axle's rad/s] at each ``time`` [s] from the start."""

    kind: Kind
    time: np.ndarray
    value: np.ndarray
    notes: tuple[str, ...] = ()

    @property
    def duration(self):
        """From the first to the last sample [s]."""
        return float(self.time[-1] - self.time[0])

    @property
    def rate(self):
        """Samples a second, on the average."""
        return (len(self.time) - 1) / self.duration


def read(path: str | Path) -> Recording:
    """Read a WAV file, or a CSV file of time and current or time and speed.

    Raises
    ------
    RecordingError
        One line: the file, what is wrong with it, and what helps.
    """
    path = Path(path)
    try:
        raw = _bytes(path)
        if raw[:4] in (b"RIFF", b"RIFX", b"RF64"):
            return _sound(raw)
        if packed := _packed(raw):
            raise RecordingError(f"{packed}; {_remedy(packed, path)}")
        if _binary(raw):
            raise RecordingError("is neither a WAV nor a CSV file, whatever its name says")
        if len(raw) > limits.LARGEST_TABLE:
            raise RecordingError(
                f"is larger than {limits.LARGEST_TABLE // 1_000_000} MB, too much for a table: cut "
                "it to a minute of steady running"
            )
        return _table(raw)
    except RecordingError as error:
        raise RecordingError(f"{path} {error}") from None


def _bytes(path):
    """The bytes of an ordinary file of sane size; nothing else is opened."""
    try:
        mode = path.stat()
        if stat.S_ISDIR(mode.st_mode):
            raise RecordingError("is a folder, not a recording")
        if not stat.S_ISREG(mode.st_mode):
            raise RecordingError("is not an ordinary file (a pipe or a device)")
        if mode.st_size > limits.LARGEST:
            raise RecordingError(
                f"is larger than {limits.LARGEST // 1_000_000} MB: cut it to a minute of steady running"
            )
        with path.open("rb") as file:
            raw = file.read(limits.LARGEST)
    except FileNotFoundError:
        raise RecordingError("is not there") from None
    except OSError as error:
        raise RecordingError(f"cannot be read: {(error.strerror or str(error)).lower()}") from None
    except ValueError as error:
        # Our own refusals, and a name with a zero byte in it.
        raise RecordingError(str(error)) from None
    if not raw:
        raise RecordingError("is empty")
    return raw


def _remedy(kind, path):
    """How a file of another kind becomes one that can be read."""
    if "sound" not in kind:
        return "save its one sheet as CSV"
    names = [path.name, f"{path.stem}.wav"]
    quoted = subprocess.list2cmdline(names) if os.name == "nt" else shlex.join(names)
    return (
        "export it as WAV (PCM) in a sound editor, or set the recorder to WAV; a converter does it "
        f"too: ffmpeg -i {quoted}"
    )


def _packed(raw):
    """What kind of file it is that a phone or a spreadsheet makes, by how it begins."""
    for start, mark, kind in PACKED:
        if raw[start:].startswith(mark):
            return kind
    return None


def _binary(raw):
    """True for bytes that no text file holds; UTF-16 too."""
    head = raw[:4096]
    return any(byte < 9 or 13 < byte < 32 for byte in head)


# -- sound ------------------------------------------------------------------------------


def _sound(raw):
    """The louder channel of a WAV file."""
    code, channels, rate, bits, data = _chunks(raw)
    if not 1 <= channels <= 8:
        raise RecordingError(f"has {channels} channels: record one, or two")
    least, most = limits.RATES
    if not least <= rate <= most:
        raise RecordingError(
            f"says {rate} samples a second: a sound has {least} to {most}; {PLAIN}"
        )
    width = bits // 8
    there = len(data) // (width * channels)
    frames = min(there, int(limits.LONGEST * rate))
    notes = []
    if there > frames:
        notes.append(f"Only the first {limits.LONGEST:.0f} s are used.")
    if frames < limits.FEWEST:
        raise RecordingError("holds no sound")
    # One channel after the other: all of them as floats would take eight times the file.
    frame = np.frombuffer(data, "u1", frames * width * channels).reshape(frames, channels, width)
    value = max((_numbers(frame[:, n], code, width) for n in range(channels)), key=np.std)
    if channels > 1:
        notes.append(f"Of {channels} channels the louder one is used.")
    if bits == 8:
        notes.append("8 bits are coarse: record in 16 if the phone can.")
    top = float(np.max(np.abs(value)))
    if top < limits.QUIET:
        raise RecordingError("is silent: hold the phone a hand's breadth from the gearbox")
    if np.mean(np.abs(value) >= 0.999 * max(top, 0.9)) > limits.CLIPPED:
        raise RecordingError("is clipped, too loud for the phone: hold it further off")
    return Recording("sound", np.arange(frames) / rate, value - value.mean(), tuple(notes))


def _chunks(raw):
    """Format and samples out of a RIFF file whose lengths may lie."""
    if raw[:4] != b"RIFF" or raw[8:12] != b"WAVE":
        raise RecordingError(f"is a WAV file of a rare kind: {PLAIN}")
    form = None
    at = 12
    while at + 8 <= len(raw):
        name, size = struct.unpack_from("<4sI", raw, at)
        body = raw[at + 8 : at + 8 + size]
        if name == b"fmt ":
            if len(body) < 16:
                break
            code, channels, rate, _, _, bits = struct.unpack_from("<HHIIHH", body)
            if code == 0xFFFE and len(body) >= 26:
                code = struct.unpack_from("<H", body, 24)[0]
            if (code, bits) not in {(1, 8), (1, 16), (1, 24), (1, 32), (3, 32), (3, 64)}:
                raise RecordingError(f"is a WAV file of a rare or compressed kind: {PLAIN}")
            form = code, channels, rate, bits
        elif name == b"data" and form:
            return (*form, body)
        at += 8 + size + size % 2
    raise RecordingError(f"begins like a WAV file but is damaged: {PLAIN}")


def _numbers(samples, code, width):
    """A row of bytes for each sample to floats, full scale at 1."""
    if width == 1:
        return (samples[:, 0].astype(float) - 128) / 128
    if width == 3:
        first, second, third = samples.T.astype(np.int32)
        whole = first | second << 8 | third << 16
        return (whole - ((whole & 0x800000) << 1)) / 2.0**23
    kind = "f" if code == 3 else "i"
    value = np.ascontiguousarray(samples).view(f"<{kind}{width}")[:, 0]
    if code == 1:
        return value / 2.0 ** (8 * width - 1)
    if not np.all(np.abs(value) <= limits.LOUDEST):  # what is no number is not less, either
        raise RecordingError(f"holds samples that are no numbers, or far too large ones: {PLAIN}")
    return value.astype(float)


# -- tables -----------------------------------------------------------------------------


def _table(raw):
    """Time and one more column, named in the first line that is no remark."""
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise RecordingError("has bytes that are not UTF-8: save it as CSV in UTF-8") from None
    lines = [(n, line) for n, line in enumerate(text.splitlines(), 1) if line.strip()]
    lines = [(n, line) for n, line in lines if not line.startswith("#")]
    if not lines:
        raise RecordingError("is empty")
    head = lines[0][1]
    mark = max(",;\t", key=head.count)
    names = [name.strip().strip('"').lower() for name in head.split(mark)]
    scales, kind, places = _columns(names)
    rows = np.array([_row(n, line, mark, len(names), places) for n, line in lines[1:]])
    if len(rows) < limits.FEWEST:
        raise RecordingError(
            f"has {len(rows)} readings: too few, at least {limits.FEWEST} are wanted"
        )
    with np.errstate(over="ignore"):
        time, value = (rows - [rows[0, 0], 0.0]).T * scales[:, None]
    far = np.flatnonzero(~np.isfinite(time) | (np.abs(value) > limits.LARGEST_READING))
    if len(far):
        raise RecordingError(f"line {lines[far[0] + 1][0]}: has a value beyond all measure")
    back = np.flatnonzero(np.diff(time) <= 0)
    if len(back):
        raise RecordingError(f"line {lines[back[0] + 2][0]}: the time does not go on")
    notes: tuple[str, ...] = ()
    if time[-1] > limits.LONGEST:
        keep = time <= limits.LONGEST
        time, value = time[keep], value[keep]
        notes = (f"Only the first {limits.LONGEST:.0f} s are used.",)
        if len(time) < limits.FEWEST:
            raise RecordingError(
                f"has {len(time)} readings in its first minute, and {limits.FEWEST} are the least: "
                "read more often, or look at the time's unit"
            )
    record = Recording(kind, time, -value if np.median(value) < 0 else value, notes)
    if not record.rate <= limits.RATES[1]:
        raise RecordingError(
            f"has {record.rate:.3g} readings a second, by its times: write their unit as time [ms]"
        )
    return record


def _columns(names):
    """Which columns hold what, and the factors to SI."""
    found = {}
    for place, name in enumerate(names):
        word, _, unit = name.replace("(", "[").partition("[")
        if word.strip() in {"time", *COLUMNS}:
            found[word.strip()] = place, unit.rstrip(" ])").strip()
    told = [word for word in found if word != "time"]
    if "time" not in found or len(told) != 1:
        raise RecordingError(f"wants a first line with the columns' names: {HEADS}")
    kind, unit, usual = COLUMNS[told[0]]
    factors = []
    for word, si, plain in (("time", "s", "s"), (told[0], unit, usual)):
        given = {"ma": "mA", "a": "A"}.get(found[word][1], found[word][1]) or plain
        try:
            factors.append(units.read(f"1 {given}", si).value)
        except units.QuantityError:
            raise RecordingError(f"has {word} in {given!r}: write it as {word} [{plain}]") from None
    return np.array(factors), kind, (found["time"][0], found[told[0]][0])


def _row(number, line, mark, width, places):
    """The two numbers of a line."""
    cells = [cell.strip().strip('"') for cell in line.split(mark)]
    if len(cells) != width:
        why = "; are those decimal commas? write decimal points" if mark == "," else ""
        raise RecordingError(f"line {number}: has {len(cells)} columns, not {width}{why}")
    try:
        pair = [float(cells[place]) for place in places]
    except ValueError:
        comma = any("," in cell for cell in cells)
        why = (
            "has decimal commas: write decimal points" if comma else "has a cell that is no number"
        )
        raise RecordingError(f"line {number}: {why}") from None
    if not np.all(np.isfinite(pair)):
        raise RecordingError(f"line {number}: has a value that is no finite number")
    return pair
