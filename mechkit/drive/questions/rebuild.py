"""One throttle, two drives: the same volts before and after the rebuild."""

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from mechkit import scale
from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.spread import Band
from mechkit.drive.questions.reach import Reach
from mechkit.drive.questions.reach import throttle as throttle_of
from mechkit.drive.sheet.schema import BenchSheet, Measured


@dataclass(frozen=True, eq=False)
class Case:
    """An engine before and after, and the volts at which both are compared."""

    sheet: BenchSheet

    @cached_property
    def known(self):
        """The sheet, worked out."""
        return known_of(self.sheet)

    @cached_property
    def drives(self) -> dict[str, Drive]:
        """Both drives."""
        return {"before": self.known.before, "planned": self.known.planned}

    @cached_property
    def voltage(self) -> Reach:
        """The throttle, to the whole volt above what a strong pack gives [V]."""
        full = throttle_of(self.sheet.supply.voltage.value)
        return Reach(full.start, 0.0, float(np.ceil(full.high)))

    @cached_property
    def pull(self) -> Reach:
        """Pulls on the drawbar, to beyond where the drivers slip [N]."""
        return Reach(0.0, 0.0, 1.2 * float(self.known.planned.pull_at_slip[0]))

    @property
    def most(self) -> float:
        """The throttle's upper end [V]."""
        return self.voltage.high

    @cached_property
    def volts(self):
        """The throttle from end to end [V]."""
        return np.linspace(0.0, self.most, 81)

    @cached_property
    def fastest(self) -> float:
        """The most that a curve, a reading or the full-size engine reaches [m/s]."""
        runs = [curves(self, name, 0.0)[0].max() for name in self.drives]
        for measured in (self.sheet.measured_before, self.sheet.measured_after):
            runs += self.readings(measured)[:, 1].tolist()
        return float(max([*runs, self.sheet.locomotive.top_speed.value]))

    @cached_property
    def farthest(self) -> float:
        """The longest way that either rolls, in lengths of engine and tender [-]."""
        rolls = [
            float(np.ravel(drive.coast(drive.rail_speed(drive.motor_speed_at(self.most))))[0])
            for drive in self.drives.values()
        ]
        return max(rolls) / self.length

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


def slips(drive: Drive, pull):
    """Where the drivers slip under a pull, draw by draw."""
    return pull >= drive.pull_at_slip


@lru_cache(maxsize=64)
def curves(case: Case, name: str, pull: float):
    """Speed over the whole throttle: as expected, and both ends of the band [m/s]."""
    drive = case.drives[name]
    volts = case.volts[:, None]
    runs = (volts >= breaks_away(drive, pull)) & ~slips(drive, pull)
    speed = np.where(runs, drive.speed_at(volts, pull), 0.0)
    low, high = np.percentile(speed[:, 1:], [2.5, 97.5], axis=1)
    return speed[:, 0], low, high


def answer(case: Case, name: str, voltage, pull, shorted) -> Answer:
    """What one drive does: it stands still below the voltage that breaks it away, and where the
    drivers slip."""
    drive = case.drives[name]
    spread = case.known.spread
    start = breaks_away(drive, pull)
    held = np.minimum(pull, drive.pull_at_slip)  # more than that the rail does not give
    turning = drive.motor_speed_at(voltage, held)
    runs = bool(voltage >= start[0])
    rail = np.where((voltage >= start) & ~slips(drive, pull), drive.rail_speed(turning), 0.0)
    current = drive.current_at(voltage, held) if runs else voltage / drive.motor.resistance
    curve, low, high = curves(case, name, pull)
    return Answer(
        curve=curve,
        low=low,
        high=high,
        speed=spread.band(scale.prototype_speed(model_speed=rail, ratio=drive.scale), "speed"),
        current=spread.band(current, "current"),
        start=spread.band(start, "voltage"),
        coast=spread.band(drive.coast(rail, shorted), "length"),
        slips=bool(slips(drive, pull)[0]),
        runs=runs,
    )


def throttle(case: Case, *, voltage: float, pull: float, shorted: bool) -> Throttle:
    """Both drives at one throttle, under one pull, and how far they roll when it is cut."""
    answers = {name: answer(case, name, voltage, pull, shorted) for name in case.drives}
    return Throttle(voltage, pull, shorted, answers["before"], answers["planned"])
