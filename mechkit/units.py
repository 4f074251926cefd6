"""The only place where "5/32 in" becomes 0.00396875.

`read` turns what a machinist writes into SI numbers; `show` turns SI numbers into what
he reads, metric or inch, never finer than asked.
"""

import difflib
import math
import re
from dataclasses import dataclass
from functools import cache
from typing import Literal, NamedTuple, get_args

import pint

System = Literal["metric", "inch"]

_NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?"
_AMOUNT = rf"(?:(?P<whole>\d+)[ -])?(?P<top>\d+)\s*/\s*(?P<bottom>\d+)|(?P<number>{_NUMBER})"
_SPREAD = rf"\s*(?:\+/-|\+-|±)\s*(?P<spread>{_NUMBER})"
_QUANTITY = re.compile(rf"^\s*(?:{_AMOUNT})(?:{_SPREAD})?\s*(?P<unit>[^\d+\-.,±].*)?$")
#: What `read` accepts as a unit: letters, powers, products and quotients; no calls, no names.
_UNIT = re.compile(r"^[A-Za-zµμΩ°%\"][A-Za-zµμΩ°%_ */^·\d()\-²³]*$")

_SPELLING = {"Ω": "ohm", "°C": "degC", "°": "degree", "%": "percent", '"': "in", "²": "^2",
             "³": "^3", "·": "*", "^-": "**-"}  # fmt: skip


@cache
def registry():
    """The pint registry with the words of the trade added, made at first use."""
    ureg: pint.UnitRegistry = pint.UnitRegistry(cache_folder=None)
    ureg.define("thou = 0.001 inch = thousandth = thousandths")
    return ureg


@dataclass(frozen=True)
class Reading:
    """A value as read at the bench, in SI, with its spread.

    ``spread`` is the plus-minus that he would bet on: about 95 %, two standard
    deviations.  ``text`` is what stood in the sheet.
    """

    value: float
    spread: float = 0.0
    text: str = ""

    @property
    def sigma(self):
        """Standard deviation: half the spread."""
        return self.spread / 2


class QuantityError(ValueError):
    """What he wrote is not a quantity of the wanted kind; the text says why."""


def read(text, unit):
    """Read a quantity with its own unit, with a spread if one is given, into SI.

    Parameters
    ----------
    text : str
        As ``"5/32 in"``, ``"1 1/4 in"``, ``"0.003 in"``, ``"2.00 +/- 0.01 mm"``.
    unit : str
        The SI unit wanted, as the vocabulary spells it; ``"-"`` for a plain number.

    Returns
    -------
    reading : Reading
        Value and spread in that unit.

    Raises
    ------
    QuantityError
        No number, no unit, an unknown unit, or a unit of another kind.

    Examples
    --------
    >>> round(read("5/32 in", "m").value, 9)
    0.00396875
    >>> read("2.00 +/- 0.01 mm", "m").spread
    1e-05
    """
    if not isinstance(text, str):
        raise QuantityError(f"{text!r} has no unit; write it in quotes, as {_example(unit)}")
    if len(text) > 60:
        raise QuantityError(f"{text[:24]!r}... is too long for a quantity")
    if re.search(r"\d,\d", text):
        raise QuantityError(f"{text!r} has a comma; write the decimal point as a dot")
    found = _QUANTITY.match(text)
    if not found:
        raise QuantityError(f"{text!r} is not a number with a unit, as {_example(unit)}")
    amount = _amount(found)
    if not math.isfinite(amount):
        raise QuantityError(f"{text!r} is too large a number")
    given = (found["unit"] or "").strip()
    factor, offset = _factor(text, given, unit)
    spread = float(found["spread"] or 0.0)
    if spread < 0:
        raise QuantityError(f"{text!r}: the spread after +/- cannot be negative")
    return Reading(amount * factor + offset, abs(spread * factor), text)


def _amount(found):
    """The number in front, decimal or fraction."""
    if found["number"]:
        return float(found["number"])
    if int(found["bottom"]) == 0:
        raise QuantityError(f"{found.string!r} divides by zero")
    return int(found["whole"] or 0) + int(found["top"]) / int(found["bottom"])


@cache
def _factor(text, given, wanted):
    """What turns the given unit into the wanted one: a factor and, for °C, an offset."""
    if wanted == "-":
        if given not in {"", "%"}:
            raise QuantityError(
                f"{text!r} has a unit; a plain number is expected, as {_example('-')}"
            )
        return (0.01 if given == "%" else 1.0), 0.0
    if not given:
        raise QuantityError(f"{text!r} has no unit; write for example {_example(wanted)}")
    spelled = given
    for written, meant in _SPELLING.items():
        spelled = spelled.replace(written, meant)
    ureg = registry()
    if not _UNIT.match(given) or "%" in given:
        raise QuantityError(f"{given!r} is not a unit; write for example {_example(wanted)}")
    try:
        here, there = ureg.Unit(spelled), ureg.Unit(wanted)
        zero = ureg.Quantity(0.0, here).to(there).magnitude
        one = ureg.Quantity(1.0, here).to(there).magnitude
    except pint.DimensionalityError:
        raise QuantityError(
            f"{text!r} is a {_kind(here)}; {_kind(there)} is expected, as {_example(wanted)}"
        ) from None
    except Exception:
        raise QuantityError(
            f"{given!r} is not a unit that is known{_nearest(given)}; "
            f"write for example {_example(wanted)}"
        ) from None
    return one - zero, zero


_EXAMPLES = {
    "m": '"5/32 in" or "2.0 mm"', "-": "0.2 or 20 %", "kg": '"410 g"', "V": '"12 V"', "A": '"0.18 A"',
    "ohm": '"13 ohm"', "rad/s": '"9000 rpm"', "s": '"1.4 s"', "N": '"0.6 N"', "rad": '"20 deg"',
    "m/s": '"45 mph"', "N/m": '"165 N/m"', "kg*m^2": '"0.6 g*cm^2"', "N*m": '"0.3 mN*m"', "H": '"0.4 mH"',
    "kelvin": '"20 degC"', "1/s": '"16 kHz"', "kg/m^3": '"8490 kg/m^3"', "Pa": '"124 MPa"',
}  # fmt: skip
_KINDS = {
    "m": "length", "kg": "mass", "V": "voltage", "A": "current", "ohm": "resistance",
    "rad/s": "speed of rotation", "s": "time", "N": "force", "rad": "angle", "m/s": "speed",
    "N/m": "spring rate", "kg*m^2": "moment of inertia", "N*m": "torque", "H": "inductance",
    "kelvin": "temperature", "1/s": "frequency", "kg/m^3": "density", "Pa": "pressure", "W": "power",
}  # fmt: skip


def _example(unit):
    """How a quantity of that unit is written."""
    return _EXAMPLES.get(unit, f'"1.5 {unit}"')


def _kind(unit):
    """The trade's word for what a pint unit measures."""
    for spelled, word in _KINDS.items():
        if registry().Unit(spelled).dimensionality == unit.dimensionality:
            return word
    return f"quantity in {unit:~P}"


def _nearest(given):
    """A hint at the unit that was perhaps meant."""
    known = ["mm", "in", "inch", "thou", "cm", "m", "g", "kg", "oz", "V", "mV", "A", "mA", "ohm", "rpm",
             "s", "ms", "N", "mN", "deg", "degC", "degF", "mph", "km/h", "mH", "MPa", "N/m", "mN*m"]  # fmt: skip
    near = difflib.get_close_matches(given, known, n=1, cutoff=0.4)
    return f"; {near[0]} is" if near else ""


def to_si(number, unit):
    """A number with a unit as pint reads it, in SI base units; ``"-"`` for a plain number.

    >>> to_si(25, "mm")
    0.025
    """
    if unit in {"-", ""}:
        return number
    return float(registry().Quantity(number, unit).to_base_units().magnitude)


class Shown(NamedTuple):
    """A unit for the eye and how many decimals suit it."""

    unit: str
    decimals: int
    label: str


def _same(unit, decimals, label=None):
    return dict.fromkeys(get_args(System), Shown(unit, decimals, label or unit))


#: What each kind of quantity is shown in, metric and inch.
KINDS: dict[str, dict[System, Shown]] = {
    "length": {"metric": Shown("mm", 2, "mm"), "inch": Shown("inch", 3, "in")},
    "fine": {"metric": Shown("um", 0, "µm"), "inch": Shown("thou", 2, "thou")},
    "mass": {"metric": Shown("g", 1, "g"), "inch": Shown("ounce", 2, "oz")},
    "force": {"metric": Shown("N", 2, "N"), "inch": Shown("ozf", 2, "ozf")},
    "torque": {"metric": Shown("mN*m", 2, "mN·m"), "inch": Shown("ozf*inch", 3, "ozf·in")},
    "inertia": {"metric": Shown("g*cm^2", 2, "g·cm²"), "inch": Shown("ounce*inch^2", 4, "oz·in²")},
    "speed": {"metric": Shown("km/h", 0, "km/h"), "inch": Shown("mph", 0, "mph")},
    "stress": {"metric": Shown("MPa", 1, "MPa"), "inch": Shown("kpsi", 2, "ksi")},
    "rate": {"metric": Shown("N/m", 0, "N/m"), "inch": Shown("lbf/inch", 2, "lbf/in")},
    "rotation": _same("rpm", 0),
    "voltage": _same("V", 2),
    "current": _same("mA", 0),
    "resistance": _same("ohm", 1, "Ω"),
    "time": _same("s", 2),
    "angle": _same("degree", 1, "°"),
    "percent": _same("percent", 0, "%"),
    "number": _same("dimensionless", 2, ""),
    "energy": _same("mJ", 1),
    "power": _same("W", 2),
    "hours": _same("hour", 0, "h"),
    "temperature": {"metric": Shown("degC", 0, "°C"), "inch": Shown("degF", 0, "°F")},
    "slide": {"metric": Shown("m/s", 2, "m/s"), "inch": Shown("ft/min", 0, "ft/min")},
}
_SI = {
    "length": "m", "fine": "m", "mass": "kg", "force": "N", "torque": "N*m", "inertia": "kg*m^2",
    "speed": "m/s", "stress": "Pa", "rate": "N/m", "rotation": "rad/s", "voltage": "V", "current": "A",
    "resistance": "ohm", "time": "s", "angle": "rad", "percent": "", "number": "", "energy": "J",
    "power": "W", "hours": "s", "temperature": "kelvin", "slide": "m/s",
}  # fmt: skip


@cache
def _scale(kind, system):
    """Factor and offset from SI to what is shown; pint is asked once."""
    unit = KINDS[kind][system].unit
    zero, one = (registry().Quantity(x, _SI[kind]).to(unit).magnitude for x in (0.0, 1.0))
    return one - zero, zero


def shown(value, kind, system="metric"):
    """The number that is shown for an SI value; arrays too.

    >>> round(shown(0.016, "length", "inch"), 3)
    0.63
    """
    factor, offset = _scale(kind, system)
    return value * factor + offset


def from_shown(number, kind, system="metric"):
    """The SI value behind a number that is shown.

    >>> round(from_shown(16.0, "length"), 6)
    0.016
    """
    factor, offset = _scale(kind, system)
    return (number - offset) / factor


def label(kind, system="metric"):
    """The unit as it is printed.

    >>> label("fine", "inch")
    'thou'
    """
    return KINDS[kind][system].label


def show(value, kind, system="metric", decimals=None):
    """A value with its unit, as it stands in a sentence.

    >>> show(0.016, "length"), show(0.016, "length", "inch")
    ('16.00\xa0mm', '0.630\xa0in')
    """
    places = KINDS[kind][system].decimals if decimals is None else decimals
    unit = label(kind, system)
    gap = "" if unit in {"", "°"} else "\u00a0"
    return f"{shown(value, kind, system):.{places}f}{gap}{unit}".replace("-", "−")
