"""The kinds of values that a bench sheet may hold, each with its unit and its sane range."""

from dataclasses import dataclass
from math import radians
from typing import Annotated, Any

from pydantic import BeforeValidator

from mechkit import units
from mechkit.units import Reading


@dataclass(frozen=True)
class Range:
    """The unit of a quantity and what a bench can have seen, in that unit."""

    unit: str
    low: float
    high: float
    zero: bool

    def read(self, given: Any) -> Reading:
        """Read one quantity and refuse what no bench has seen."""
        if isinstance(given, Reading):
            return given
        if self.unit == "-" and isinstance(given, (int, float)) and not isinstance(given, bool):
            given = f"{given!r}"
        reading = units.read(given, self.unit)
        value = reading.value
        below = value < self.low if self.zero else value <= self.low
        if below or value > self.high:
            raise units.QuantityError(f"{given!r} is out of range: must be {self.words}")
        return reading

    @property
    def words(self) -> str:
        """The range in a unit of the bench."""
        low, high = (units.plain(limit, self.unit) for limit in (self.low, self.high))
        return f"{'at least' if self.zero else 'more than'} {low} and at most {high}"


def quantity(unit, low, high, zero=False):
    """The type of a sheet value in ``unit``, above ``low`` (or at it) and up to ``high``."""
    reach = Range(unit, low, high, zero)
    return Annotated[Reading, reach, BeforeValidator(reach.read)]


#: Along the track.
Stretch = quantity("m", 0.0, 100.0)
StretchOrNone = quantity("m", 0.0, 100.0, zero=True)
#: Of an engine.
Length = quantity("m", 0.0, 2.0)
#: Of a part that is held in one hand.
Size = quantity("m", 0.0, 0.2)
LengthOrNone = quantity("m", 0.0, 0.2, zero=True)
#: Of spring wire that a locomotive of this size can have.
Wire = quantity("m", 0.02e-3, 1.6e-3)
#: Of what reads or turns a part; coarser, and there is nothing to be said of fits and runout.
Finest = quantity("m", 0.0, 1e-3)
Position = quantity("m", -2.0, 2.0, zero=True)
Mass = quantity("kg", 0.0, 50.0)
Voltage = quantity("V", 0.0, 60.0)
Current = quantity("A", 0.0, 20.0)
Resistance = quantity("ohm", 0.0, 10000.0)
Inductance = quantity("H", 0.0, 1.0)
Rotation = quantity("rad/s", 0.0, 20000.0)
Time = quantity("s", 0.0, 36000.0)
Force = quantity("N", 0.0, 500.0, zero=True)
Speed = quantity("m/s", 0.0, 100.0)
Inertia = quantity("kg*m^2", 0.0, 1e-3)
#: Of gear teeth: nobody cuts them flatter or steeper.
Pressure = quantity("rad", radians(10), radians(45))
AngleOrNone = quantity("rad", 0.0, 1.5707, zero=True)
Fraction = quantity("-", 0.0, 1.0, zero=True)
#: Of a meter; one that is off by more tells nothing.
Meter = quantity("-", 0.0, 0.2, zero=True)
#: Over a weight: no engine rolls or holds without any.
Friction = quantity("-", 0.0, 1.0)
Number = quantity("-", 0.0, 100000.0, zero=True)
#: Of a motor, winding to air [K/W]; the smallest that turn have some hundreds.
Cooling = quantity("-", 0.0, 1000.0)
Stress = quantity("Pa", 0.0, 1e10)
