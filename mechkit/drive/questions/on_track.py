"""Runs at the bench beside what the model makes of them: speed and current over volts."""

from dataclasses import dataclass

import numpy as np

from mechkit import scale
from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.questions.reach import throttle
from mechkit.drive.sheet.hour import answers
from mechkit.drive.sheet.schema import BenchSheet

#: Volts at which the curves are asked.
PLACES = 25


@dataclass(frozen=True)
class Curve:
    """A quantity over volts with its 95 % band, and the runs that were read; None where it waits."""

    words: str
    kind: str
    volts: tuple[float, ...]
    middle: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    #: Volts, value, and whether the run belongs to the others.
    runs: tuple[tuple[float, float, bool], ...]


def curves(sheet: BenchSheet) -> tuple[Curve, ...]:
    """Speed and current of the engine as it is, as far as they can be answered."""
    known, ratio = known_of(sheet), sheet.locomotive.scale
    volts = np.linspace(0.0, throttle(sheet.supply.voltage.value).high, PLACES)
    bad = set(known.told_before.bad)
    runs = [(n, run) for n, run in enumerate(sheet.measured_before.runs) if not run.pull.value]
    clocked = tuple(
        (
            run.voltage.value,
            float(
                scale.prototype_speed(model_speed=run.distance.value / run.time.value, ratio=ratio)
            ),
            ("time of run", n) not in bad,
        )
        for n, run in runs
    )
    metered = tuple(
        (run.voltage.value, run.current.value, ("current of run", n) not in bad)
        for n, run in runs
        if run.current
    )
    drive, found = known.before, []
    for words, kind, key, ask, read in (
        ("speed at scale", "speed", "top", drive.speed_at, clocked),
        ("current", "current", "current", drive.current_at, metered),
    ):
        if not answers(sheet, "headline", key):
            continue
        bands = [known.spread.band(ask(one), kind) for one in volts]
        found.append(
            Curve(
                words,
                kind,
                tuple(float(one) for one in volts),
                tuple(one.value for one in bands),
                tuple(one.low for one in bands),
                tuple(one.high for one in bands),
                read,
            )
        )
    return tuple(found)
