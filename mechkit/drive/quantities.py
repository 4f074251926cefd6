"""The kinds of values that a bench sheet may hold, each with its unit and its sane range."""

from typing import Annotated, Any

from pydantic import BeforeValidator

from mechkit import units
from mechkit.units import Reading


def _reader(unit, low, high, zero):
    """A validator that reads one quantity and refuses what no bench has seen."""

    def read(given: Any) -> Reading:
        if isinstance(given, Reading):
            return given
        if unit == "-" and isinstance(given, (int, float)) and not isinstance(given, bool):
            given = f"{given!r}"
        reading = units.read(given, unit)
        value = reading.value
        below = value < low if zero else value <= low
        if below or value > high:
            limit = f"{'at least' if zero else 'more than'} {low:g} and at most {high:g}"
            raise units.QuantityError(
                f"{given!r} is out of range: must be {limit} {unit}".rstrip(" -")
            )
        return reading

    return read


def quantity(unit, low=0.0, high=float("inf"), zero=False):
    """The type of a sheet value in ``unit``, above ``low`` (or at it) and up to ``high``."""
    return Annotated[Reading, BeforeValidator(_reader(unit, low, high, zero))]


Length = quantity("m", 0.0, 2.0)
LengthOrNone = quantity("m", 0.0, 2.0, zero=True)
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
Angle = quantity("rad", 0.0, 1.5707)
Fraction = quantity("-", 0.0, 1.0, zero=True)
Number = quantity("-", 0.0, 100000.0, zero=True)
Stress = quantity("Pa", 0.0, 1e10)
