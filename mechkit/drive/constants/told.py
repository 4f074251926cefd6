"""What the readings tell: every constant from all of them at once, beside what the page counts.

The page counts with constants drawn one from the other (`calibrate`), so that each band can be
traced to a reading.  Here the same readings are weighed together (`identify`), which finds the
one that does not belong, says what stays open, and holds the first way to account.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from mechkit.drive.constants import readings
from mechkit.drive.constants.identify import CONSTANTS, Advice, Identified, identify
from mechkit.drive.constants.readings import SORTS
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.spread import Band, Spread
from mechkit.drive.sheet.schema import BenchSheet, Measured, MotorTable, State
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


#: Sorts of readings that the page counts with; the others it only compares.
COUNTED = SORTS[:7]


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
    bad: tuple[tuple[str, int], ...]
    counted: tuple[tuple[str, int], ...]
    loose: tuple[str, ...]
    advice: Advice | None

    def remarks(self) -> list[str]:
        """Everything but the numbers, a sentence each."""
        found = []
        for sort, n in self.bad:
            known = "; the page counts without it" if sort in COUNTED else ""
            if (sort, n) in self.counted:
                known = "; the page still counts with it, too few are left without"
            found.append(f"{sort} {n + 1} does not belong to the others: read it again{known}.")
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


def _bad(found: Identified | None, *sorts: str) -> set[int]:
    """Numbers of the readings of some sorts that do not belong."""
    return {n for sort, n in found.bad if sort in sorts} if found else set()


def sound_motor(table: MotorTable, found: Identified | None) -> MotorTable:
    """The readings of the motor alone without those that do not belong.

    Of the resistance two readings must be left; running free it was read but once.
    """
    bad = _bad(found, "resistance reading")
    kept = [reading for n, reading in enumerate(table.resistance) if n not in bad]
    sound: dict[str, Any] = {"resistance": kept} if bad and len(kept) > 1 else {}
    if _bad(found, "stalled current"):
        sound["stall"] = None
    return table.model_copy(update=sound) if sound else table


def sound_runs(measured: Measured, found: Identified | None) -> Measured:
    """The readings on the track without runs that do not belong, if enough of them are left."""
    bad = _bad(found, "current of run", "time of run")
    kept = [run for n, run in enumerate(measured.runs) if n not in bad]
    counted = [run for run in kept if run.current]
    if not bad or len(counted) < 4 or not any(run.pull.value for run in counted):
        return measured
    return measured.model_copy(update={"runs": kept})


def told(
    when: str,
    found: Identified,
    drive: Drive | None,
    taken: tuple[MotorTable, Measured],
    sound: tuple[MotorTable, Measured],
    spread: Spread,
) -> Told:
    """The answer of one state, beside the drive that the page counts with.

    ``taken`` are the readings of the motor and on the track, ``sound`` those the page counts with.
    """
    lines = []
    for key, constant in found.constants.items():
        kind, of = SHOWN[key]
        band = Band(constant.value, constant.low, constant.high, kind)
        lines.append(Line(key, band, spread.band(of(drive), kind) if drive else None))
    (motor, track), (sound_alone, sound_track) = taken, sound
    gone = {
        "resistance reading": len(sound_alone.resistance) < len(motor.resistance),
        "stalled current": sound_alone.stall is None,
        "current of run": sound_track is not track,
        "time of run": sound_track is not track,
    }
    counted = tuple(
        (sort, n) for sort, n in found.bad if sort in COUNTED and not gone.get(sort, False)
    )
    return Told(when, tuple(lines), found.bad, counted, found.loose, found.advice)
