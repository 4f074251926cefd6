"""What was measured after the work against what was planned before it."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from mechkit import scale
from mechkit.drive.constants import readings
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.model.spread import Band, doubt
from mechkit.units import System, show


@dataclass(frozen=True)
class Check:
    """One reading on the track beside its prediction."""

    words: str
    voltage: float
    pull: float
    measured: Band
    planned: Band

    @property
    def agrees(self) -> bool:
        """True where reading and prediction overlap, errors counted."""
        return self.measured.meets(self.planned)

    def say(self, system: System = "metric") -> str:
        """Which reading it is."""
        if not self.voltage:
            return self.words
        place = f"{self.words} at {show(self.voltage, 'voltage', system, 1)}"
        return f"{place}, pulling {show(self.pull, 'force', system)}" if self.pull else place


def _reading(value: float, error: float, kind: str) -> Band:
    return Band(value, value - error, value + error, kind)


def checks(known: Knowledge) -> Iterator[Check]:
    """Every reading taken after the work; nothing where there is none."""
    sheet, planned, band = known.sheet, known.planned, known.spread.band
    tools, after = sheet.instruments, sheet.measured_after
    for way, voltage in zip(("forward", "backward"), after.starting_voltage, strict=False):
        error = voltage.spread or 0.05 * voltage.value  # turned up by hand, from memory
        yield Check(
            f"starts, {way}",
            0.0,
            0.0,
            _reading(voltage.value, error, "voltage"),
            band(planned.starting_voltage, "voltage"),
        )
    for run in after.runs:
        speed = scale.prototype_speed(
            model_speed=run.distance.value / run.time.value, ratio=sheet.locomotive.scale
        )
        unsure = 2 * doubt(run.distance, run.time)  # what he wrote behind them himself
        error = speed * math.hypot(tools.stopwatch.value / run.time.value, unsure)
        volts, pull = run.voltage.value, run.pull.value
        yield Check(
            "speed",
            volts,
            pull,
            _reading(speed, error, "speed"),
            band(planned.speed_at(volts, pull), "speed"),
        )
        if run.current:
            current = run.current.value
            error = current * math.hypot(tools.meter.value, 2 * doubt(run.current))
            yield Check(
                "current",
                volts,
                pull,
                _reading(current, error, "current"),
                band(planned.current_at(volts, pull), "current"),
            )
    for coast in after.coasts:
        rail = planned.rail_speed(planned.motor_speed_at(coast.voltage.value))
        volts, shorted = coast.voltage.value, coast.rails == "shorted"
        if coast.distance:
            error = math.hypot(2 * tools.ruler.value, coast.distance.spread)
            yield Check(
                f"rolls on, rails {coast.rails},",
                volts,
                0.0,
                _reading(coast.distance.value, error, "length"),
                band(planned.coast(rail, shorted), "length"),
            )
        time = readings.timed(coast, tools)
        if time:
            yield Check(
                f"takes to stop, rails {coast.rails},",
                volts,
                0.0,
                _reading(time.value, time.spread, "time"),
                band(planned.coast_time(rail, shorted), "time"),
            )
