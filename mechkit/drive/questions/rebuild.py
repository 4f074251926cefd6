"""One throttle, two drives: the same volts before and after the rebuild."""

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from mechkit import scale
from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.spread import Band
from mechkit.drive.sheet.schema import BenchSheet, Measured


@dataclass(frozen=True, eq=False)
class Case:
    """An engine before and after, and the volts at which both are compared."""

    sheet: BenchSheet
    most: float = 16.0

    @cached_property
    def known(self):
        """The sheet, worked out."""
        return known_of(self.sheet)

    @cached_property
    def volts(self):
        """The throttle from end to end [V]."""
        return np.linspace(0.0, self.most, 81)

    @property
    def length(self):
        """Engine and tender over the couplers [m]."""
        return self.sheet.locomotive.length.value

    def readings(self, measured: Measured):
        """Volts and speed of the full-size engine, one row a run without a pull."""
        ratio = self.sheet.locomotive.scale
        return np.array(
            [
                (
                    run.voltage.value,
                    scale.prototype_speed(
                        model_speed=run.distance.value / run.time.value, ratio=ratio
                    ),
                )
                for run in measured.runs
                if run.pull.value == 0
            ]
        ).reshape(-1, 2)


@dataclass(frozen=True)
class Answer:
    """What one drive does at that throttle."""

    curve: np.ndarray
    low: np.ndarray
    high: np.ndarray
    speed: Band
    current: Band
    start: Band
    coast: Band
    slips: bool
    runs: bool


@dataclass(frozen=True)
class Throttle:
    """Both drives at one setting of the throttle."""

    voltage: float
    pull: float
    shorted: bool
    before: Answer
    planned: Answer


def breaks_away(drive: Drive, pull):
    """Voltage that starts it against a pull [V]."""
    return drive.starting_voltage * (1 + drive.load_torque(pull) / drive.starting_friction)


@lru_cache(maxsize=64)
def curves(case: Case, name: str, pull: float):
    """Speed over the whole throttle: as expected, and both ends of the band [m/s]."""
    drive: Drive = getattr(case.known, name)
    volts = case.volts[:, None]
    speed = np.where(volts >= breaks_away(drive, pull), drive.speed_at(volts, pull), 0.0)
    low, high = np.percentile(speed[:, 1:], [2.5, 97.5], axis=1)
    return speed[:, 0], low, high


def answer(case: Case, name: str, voltage, pull, shorted) -> Answer:
    """What one drive does: it stands still below the voltage that breaks it away."""
    drive: Drive = getattr(case.known, name)
    spread = case.known.spread
    start = breaks_away(drive, pull)
    turning = drive.motor_speed_at(voltage, pull)
    rail = np.where(voltage >= start, drive.rail_speed(turning), 0.0)
    runs = bool(voltage >= start[0])
    current = drive.current_at(voltage, pull) if runs else voltage / drive.motor.resistance
    curve, low, high = curves(case, name, pull)
    return Answer(
        curve=curve,
        low=low,
        high=high,
        speed=spread.band(scale.prototype_speed(model_speed=rail, ratio=drive.scale), "speed"),
        current=spread.band(current, "current"),
        start=spread.band(start, "voltage"),
        coast=spread.band(drive.coast(rail, shorted), "length"),
        slips=bool(pull >= drive.pull_at_slip[0]),
        runs=runs,
    )


def throttle(case: Case, *, voltage: float, pull: float, shorted: bool) -> Throttle:
    """Both drives at one throttle, under one pull, and how far they roll when it is cut."""
    return Throttle(
        voltage,
        pull,
        shorted,
        answer(case, "before", voltage, pull, shorted),
        answer(case, "planned", voltage, pull, shorted),
    )
