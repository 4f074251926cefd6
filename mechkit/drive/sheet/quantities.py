"""The kinds of values that a bench sheet may hold, each with its unit and its sane range."""

import re
from dataclasses import dataclass
from math import radians
from typing import Annotated, Any

from pydantic import BeforeValidator

from mechkit import gears, units
from mechkit.names import STANDARD_GRAVITY
from mechkit.units import Reading

#: What he writes where he does not know: the same as leaving the key out.
UNKNOWN = {
    "i do not know",
    "i don't know",
    "i don’t know",
    "do not know",
    "unknown",
    "not known",
    "?",
}
_PITCH = re.compile(
    r"\s*([0-9]+(?:\.[0-9]+)?)\s*(?:dp|d\.p\.|(?:diametral )?pitch)\s*", re.IGNORECASE
)
_RATIO = re.compile(r"\s*1\s*[:/]\s*([0-9]{1,3}(?:\.[0-9]{1,4})?)\s*")
#: Of gear teeth, an inch of pitch diameter; finer and coarser ones no drive of this size has.
PITCHES = (4.0, 400.0)


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
        reading = self.written(given)
        value = reading.value
        below = value < self.low if self.zero else value <= self.low
        if below or value > self.high:
            raise units.QuantityError(f"{given!r} is out of range: must be {self.words}")
        return reading

    def written(self, given: Any) -> Reading:
        """What a text says, in SI."""
        return units.read(given, self.unit)

    @property
    def words(self) -> str:
        """The range in a unit of the bench."""
        low, high = (units.plain(limit, self.unit) for limit in (self.low, self.high))
        return f"{'at least' if self.zero else 'more than'} {low} and at most {high}"


class OfTeeth(Range):
    """A module, or the diametral pitch that stands for it."""

    def written(self, given: Any) -> Reading:
        """A length, or teeth an inch."""
        found = _PITCH.fullmatch(given) if isinstance(given, str) else None
        if not found:
            return units.read(given, self.unit)
        pitch = float(found[1])
        if not PITCHES[0] < pitch <= PITCHES[1]:
            raise units.QuantityError(
                f"{given!r} is out of range: must be above {PITCHES[0]:g} and at most {PITCHES[1]:g}"
            )
        module = gears.module_from_diametral_pitch(diametral_pitch=pitch / 25.4e-3)
        return Reading(float(module), 0.0, given)


class Hung(Range):
    """A force, or the weight that was hung on the string for it."""

    def written(self, given: Any) -> Reading:
        """A force by the spring scale, or a mass that hangs."""
        try:
            return units.read(given, self.unit)
        except units.QuantityError as error:
            try:
                mass = units.read(given, "kg")
            except units.QuantityError:
                raise error from None
            return Reading(mass.value * STANDARD_GRAVITY, mass.spread * STANDARD_GRAVITY, mass.text)


def pitch_of(module: Reading) -> str:
    """The diametral pitch as it was written, as "48 pitch"; empty where a module was."""
    found = _PITCH.fullmatch(module.text)
    return f"{float(found[1]):g} pitch" if found else ""


def ratio_of(given: Any) -> Any:
    """The scale of "1:87"; anything else as it is."""
    found = _RATIO.fullmatch(given) if isinstance(given, str) else None
    return float(found[1]) if found else given


def quantity(unit, low, high, zero=False, kind=Range):
    """The type of a sheet value in ``unit``, above ``low`` (or at it) and up to ``high``."""
    reach = kind(unit, low, high, zero)
    return Annotated[Reading, reach, BeforeValidator(reach.read)]


#: Along the track.
Stretch = quantity("m", 0.0, 100.0)
StretchOrNone = quantity("m", 0.0, 100.0, zero=True)
#: Of an engine.
Length = quantity("m", 0.0, 2.0)
#: Of a part that is held in one hand.
Size = quantity("m", 0.0, 0.2)
LengthOrNone = quantity("m", 0.0, 0.2, zero=True)
#: Of teeth, or their diametral pitch.
Module = quantity("m", 0.0, 0.2, kind=OfTeeth)
#: Of spring wire that a locomotive of this size can have.
Wire = quantity("m", 0.02e-3, 1.6e-3)
#: Of what reads or turns a part; coarser, and there is nothing to be said of fits and runout.
Finest = quantity("m", 0.0, 1e-3)
Position = quantity("m", -2.0, 2.0, zero=True)
Mass = quantity("kg", 0.0, 50.0)
MassOrNone = quantity("kg", 0.0, 50.0, zero=True)
Voltage = quantity("V", 0.0, 60.0)
Current = quantity("A", 0.0, 20.0)
Resistance = quantity("ohm", 0.0, 10000.0)
Inductance = quantity("H", 0.0, 1.0)
Rotation = quantity("rad/s", 0.0, 20000.0)
Time = quantity("s", 0.0, 36000.0)
#: Of a supply in pulses.
Frequency = quantity("1/s", 5.0, 1e6)
Force = quantity("N", 0.0, 500.0, zero=True, kind=Hung)
Speed = quantity("m/s", 0.0, 100.0)
Inertia = quantity("kg*m^2", 0.0, 1e-3)
#: Of gear teeth: nobody cuts them flatter or steeper.
Pressure = quantity("rad", radians(10), radians(45))
#: Out of quarter; rods that turn at all forgive a few degrees.
AngleOrNone = quantity("rad", 0.0, radians(30), zero=True)
Fraction = quantity("-", 0.0, 1.0, zero=True)
#: Of a meter; one that is off by more tells nothing.
Meter = quantity("-", 0.0, 0.2, zero=True)
#: Over a weight: no engine rolls or holds without any.
Friction = quantity("-", 0.0, 1.0)
Number = quantity("-", 0.0, 100000.0, zero=True)
#: Of a motor, winding to air [K/W]; the smallest that turn have some hundreds.
Cooling = quantity("-", 0.0, 1000.0)
Stress = quantity("Pa", 0.0, 1e10)
#: Full size over model, as a number or as "1:87".
Scale = Annotated[float, BeforeValidator(ratio_of)]
