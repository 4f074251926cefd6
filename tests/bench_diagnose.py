"""Diagnose invented recordings by the hundred: ``python3 -m tests.bench_diagnose`` prints the table."""

from collections import Counter
from typing import NamedTuple

import numpy as np

from mechkit.drive import sheet
from mechkit.drive.diagnosis.diagnose import CannotTell, diagnose
from mechkit.drive.diagnosis.recording import Recording
from tests.recordings import Drive, Fault, current_record, sound_record, speed_record

ONE_START = Drive()
TWO_STARTS = Drive(starts=2)
#: Faults by shaft; none is a healthy drive.
FAULTS = {
    "speed": [(), (), ("axle",), ("idler",), ("motor",), ("rods",), ("axle", "idler"), ("axle", "rods")],
    "current": [(), (), ("axle",), ("idler",), ("rods",), ("axle", "idler")],
    "sound": [(), (), ("axle",), ("bump",), ("idler",), ("rods",), ("motor",), ("axle", "rods"), ("axle", "idler")],
}  # fmt: skip
REPEATS = {"speed": 12, "current": 8, "sound": 7}


class Trial(NamedTuple):
    """One recording: what was wrong, what was said, and the runouts put in and read out [m]."""

    kind: str
    true: tuple[str, ...]
    said: tuple[str, ...] | None
    put_in: dict[str, float]
    read_out: dict[str, float]


def bench(starts=1):
    """The demo drive; with two starts where the worm has them."""
    data = sheet.demo().data
    worm = data.as_is.worm.model_copy(update={"starts": starts})
    return data.model_copy(update={"as_is": data.as_is.model_copy(update={"worm": worm})})


def lag():
    """Time constant of the demo's iron-core motor, by hand from its sheet [s]."""
    constant = (12.0 - 0.078 * 13.0) / (15100 * 2 * np.pi / 60)
    mass = 7000 * np.pi / 4 * 0.0125**2 * 0.014
    return mass * 0.0125**2 / 8 * 13.0 / constant**2


def mechanism(rng, faults):
    """Runout left on the good shafts, and far more on the bad ones."""
    runout = {shaft: rng.uniform(0, 25e-6) for shaft in ("axle", "idler", "motor")}
    runout |= {shaft: rng.uniform(110e-6, 230e-6) for shaft in faults if shaft != "rods"}
    return Fault(runout, rng.uniform(0.011, 0.022) if "rods" in faults else rng.uniform(0, 0.001))


def record(kind, faults, rng):
    """A recording with its drive's starts and the runouts that were put in."""
    if kind == "sound":
        drive = TWO_STARTS if "motor" in faults or rng.random() < 0.2 else ONE_START
        names = {"bump": "axle bump"}
        depths = {names.get(shaft, shaft): rng.uniform(0.22, 0.45) for shaft in faults}
        made = sound_record(
            rng,
            drive,
            depths,
            hum=rng.uniform(0, 0.08),
            noise=rng.uniform(0.1, 0.6),
            wow=rng.uniform(0, 0.4),
        )
        return Recording("sound", *made), drive.starts, {}
    fault = mechanism(rng, faults)
    if kind == "speed":
        made = speed_record(rng, ONE_START, fault, noise=rng.uniform(0.002, 0.015))
    else:
        made = current_record(rng, ONE_START, fault, lag=lag(), noise=rng.uniform(0.01, 0.05))
    return Recording(kind, *made), 1, fault.runout


def trials(seed=7):
    """Every fault in every kind of record, several times over."""
    rng = np.random.default_rng(seed)
    benches = {starts: bench(starts) for starts in (1, 2)}
    for kind, every in FAULTS.items():
        for faults in every:
            for _ in range(REPEATS[kind]):
                made, starts, put_in = record(kind, faults, rng)
                true = tuple(sorted(shaft.replace("bump", "axle") for shaft in faults))
                try:
                    answer = diagnose(made, benches[starts])
                except CannotTell:
                    yield Trial(kind, true, None, put_in, {})
                    continue
                read_out = {
                    found.shaft.kind: found.total_runout
                    for found in answer.findings
                    if found.total_runout is not None
                }
                yield Trial(kind, true, tuple(sorted(answer.shafts)), put_in, read_out)


def named(shafts):
    """A set of shafts as a heading."""
    return "cannot tell" if shafts is None else "+".join(shafts) or "none"


def table(done):
    """How often which fault was answered by which: a row a true fault, a column an answer."""
    counts = Counter((one.kind, named(one.true), named(one.said)) for one in done)
    answers = sorted({said for _, _, said in counts})
    rows = [f"{'kind':9}{'true fault':14}" + "".join(f"{name:>13}" for name in answers)]
    for kind, true in dict.fromkeys((kind, true) for kind, true, _ in counts):
        cells = (counts[kind, true, said] for said in answers)
        rows.append(f"{kind:9}{true:14}" + "".join(f"{cell or '.':>13}" for cell in cells))
    return "\n".join(rows)


def runout_errors(done, kind):
    """Relative error of every runout that was read out of a kind of record."""
    return np.array(
        [
            one.read_out[shaft] / one.put_in[shaft] - 1
            for one in done
            if one.kind == kind
            for shaft in one.read_out
            if shaft in one.true
        ]
    )


def shares(done):
    """Share of faulty drives answered with exactly their shafts, and of healthy ones accused."""
    faulty = [one.said == one.true for one in done if one.true]
    healthy = [bool(one.said) for one in done if not one.true]
    return float(np.mean(faulty)), float(np.mean(healthy))


if __name__ == "__main__":
    everything = list(trials())
    print(table(everything))
    right, alarms = shares(everything)
    print(f"{len(everything)} recordings: {right:.1%} right shaft, {alarms:.1%} false alarms")
    for sort in ("speed", "current"):
        off = runout_errors(everything, sort)
        print(
            f"runout from {sort}: {off.min():+.0%} to {off.max():+.0%}, median {np.median(off):+.1%}"
        )
