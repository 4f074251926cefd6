"""What the readings tell: every constant from all of them at once, beside what the page counts.

The page counts with constants drawn one from the other (`calibrate`), so that each band can be
traced to a reading.  Here the same readings are weighed together (`identify`), which finds the
one that does not belong, says what stays open, and holds the first way to account.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from mechkit.drive import readings
from mechkit.drive.calibrate import metered
from mechkit.drive.identify import CONSTANTS, Advice, Identified, identify
from mechkit.drive.performance import Drive
from mechkit.drive.schema import BenchSheet, Measured, State
from mechkit.drive.spread import Band, Spread
from mechkit.units import System, show

#: How each constant is shown, and where a drive keeps it.
SHOWN = {
    "resistance": ("resistance", lambda drive: drive.motor.resistance),
    "torque_constant": ("constant", lambda drive: drive.motor.torque_constant),
    "motor_friction": ("torque", lambda drive: drive.motor.friction_torque),
    "starting_friction": ("torque", lambda drive: drive.starting_friction),
    "running_friction": ("torque", lambda drive: drive.running_friction),
    "damping": ("drag", lambda drive: drive.damping),
    "efficiency": ("percent", lambda drive: drive.efficiency),
    "inertia": ("inertia", lambda drive: drive.inertia),
}


@dataclass(frozen=True)
class Line:
    """One constant: as all readings tell it, and as the page counts it, if it does."""

    key: str
    told: Band
    counted: Band | None

    @property
    def words(self) -> str:
        """What it is."""
        return CONSTANTS[self.key]

    @property
    def agrees(self) -> bool | None:
        """Whether both bands meet; None where there is nothing to hold against another."""
        return None if self.counted is None else self.told.meets(self.counted)

    def plain(self, system: System = "metric") -> str:
        """What the page counts with, without its band."""
        band = self.counted
        return show(band.value, band.kind, system, band.decimals(system)) if band else "—"

    def say(self, system: System = "metric") -> str:
        """What the readings tell of it: a band, a most, or nothing."""
        if self.told.low > 0:
            return self.told.say(system)
        if np.isinf(self.told.high):
            return "not told"
        return f"at most {show(self.told.high, self.told.kind, system)}"


@dataclass(frozen=True)
class Told:
    """What the readings of one state tell, what they leave open, and what to read next."""

    when: str
    lines: tuple[Line, ...]
    bad: tuple[str, ...]
    left_out: bool
    loose: tuple[str, ...]
    advice: Advice | None

    def remarks(self) -> list[str]:
        """Everything but the numbers, a sentence each."""
        found = []
        for label in self.bad:
            found.append(f"{label} does not belong to the others: read it again.")
        if self.left_out:
            found.append("runs with such a reading are left out of what the page computes.")
        apart = [line.words for line in self.lines if line.agrees is False]
        if apart:
            found.append(
                f"all readings together do not give {', '.join(apart)} as counted here: trust "
                "neither before the readings are taken again."
            )
        found += [f"{words}." for words in self.loose]
        if self.advice:
            found.append(f"one reading more would help most: {_advised(self.advice)}.")
        return [f"{words[:1].upper()}{words[1:]}" for words in found]


def _percent(share: float) -> str:
    """Two digits of a share."""
    return show(share, "percent", decimals=1 if share < 0.0995 else 0)


def _advised(advice: Advice) -> str:
    """The reading and what it gives, errors as 95 % bands."""
    before, after = (_percent(1.96 * each) for each in (advice.error, advice.error_after))
    if np.isinf(advice.error):
        return f"{advice.reading}. It would tell {advice.constant} to ±{after} or so"
    return f"{advice.reading}. It would bring {advice.constant} from ±{before} to ±{after} or so"


def ask(sheet: BenchSheet, state: State, measured: Measured) -> Identified | None:
    """All readings of one state weighed together; None where nothing was read on the track."""
    if not (measured.runs or measured.coasts or measured.starting_voltage):
        return None
    return _weighed(*readings.from_sheet(sheet, state, measured))


#: The same readings are asked for again whenever a plan is tried that they know nothing of.
_weighed = lru_cache(maxsize=16)(identify)


def without_bad(measured: Measured, found: Identified | None) -> Measured:
    """The readings on the track without runs that do not belong, if enough of them are left."""
    bad = found.bad_runs if found else ()
    kept = [run for n, run in enumerate(measured.runs) if n not in bad]
    counted = metered(kept)
    if not bad or len(counted) < 4 or not any(run.pull.value for run in counted):
        return measured
    return measured.model_copy(update={"runs": kept})


def told(when: str, found: Identified, drive: Drive | None, left_out: bool, spread: Spread) -> Told:
    """The answer of one state, beside the drive that the page counts with."""
    lines = []
    for key, constant in found.constants.items():
        kind, of = SHOWN[key]
        band = Band(constant.value, constant.low, constant.high, kind)
        lines.append(Line(key, band, spread.band(of(drive), kind) if drive else None))
    return Told(when, tuple(lines), found.bad, left_out, found.loose, found.advice)
