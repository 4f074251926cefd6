"""The only place where "5/32 in" becomes 0.00396875.

`read` turns what a machinist writes into SI numbers; `show` turns SI numbers into what
he reads, metric or inch, never finer than asked.
"""

import difflib
import math
import re
from dataclasses import dataclass
from datetime import date, time
from functools import cache, lru_cache
from typing import Literal, NamedTuple, get_args

import pint

System = Literal["metric", "inch"]

_NUMBER = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_AMOUNT = (
    r"(?P<sign>[+-]?)(?:(?P<whole>[0-9]+)(?: +|-))?(?P<top>[0-9]+) */ *(?P<bottom>[0-9]+)"
    rf"|(?P<number>{_NUMBER})"
)
#: One unit with a power of one digit; pint never sees a longer power, a call or a name.
_FACTOR = r'[A-Za-zµμΩ°%"]+(?:(?:\^|\*\*)-?[1-9]|[²³])?'
_PRODUCT = rf"{_FACTOR}(?:(?: *[*·/] *| +){_FACTOR})*"
_UNIT = rf"{_PRODUCT}(?: */ *\({_PRODUCT}\))?"
_PLUS_MINUS = r"(?:\+ */ *-|\+-|±)"
_QUANTITY = re.compile(
    rf" *(?:{_AMOUNT}) *(?:{_PLUS_MINUS} *(?P<spread>{_NUMBER}) *)?(?P<unit>[^0-9+\-.,± ][^±]*?)? *"
    rf"(?:{_PLUS_MINUS} *(?P<after>{_NUMBER}) *(?P<own>[^0-9+\-.,± ][^±]*?)? *)?"
)

_SPELLING = str.maketrans({
    "Ω": "ohm", "°": "degree", "%": "percent", '"': "in", "²": "^2", "³": "^3", "·": "*",
})  # fmt: skip
#: What a person writes for what pint calls otherwise, or takes for something else.
_WORDS = {
    "amp": "A", "amps": "A", "Amp": "A", "Amps": "A", "degreeC": "degC", "degreeF": "degF",
    "mil": "thou", "mils": "thou", "thousandth": "thou", "thousandths": "thou",
    "Ohm": "ohm", "Ohms": "ohm", "RPM": "rpm", "rev": "turn", "revs": "turn", "r": "turn",
}  # fmt: skip
#: What a word processor, a browser or `show` puts in the place of plain signs.
_PLAIN = str.maketrans({
    "−": "-", "–": "-", "\u00a0": " ", "\u202f": " ", "\t": " ", "″": '"', "”": '"', "“": '"', "⁄": "/",
    "¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
})  # fmt: skip
#: Wanted units that say what turns; dimensions alone would pass 50 Hz as 50 rad/s.
_TURNING = {"rad": True, "rad/s": True, "1/s": False}


@cache
def registry():
    """The pint registry with the words of the trade added, made at first use."""
    ureg: pint.UnitRegistry = pint.UnitRegistry(cache_folder=None)
    ureg.define("thou = 0.001 inch")
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
        As ``"5/32 in"``, ``"1-1/4 in"``, ``".003 in"``, ``"2.00 +/- 0.01 mm"``,
        ``"13 ohm +/- 2 %"``.
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
        lacks = "is not a plain number" if unit == "-" else "has no unit; write it in quotes"
        raise QuantityError(f"{written(text)} {lacks}, as {_example(unit)}")
    if len(text) > 60:
        raise QuantityError(f"{written(text)} is too long for a quantity")
    if not text.strip():
        raise QuantityError(f"is still blank; write for example {_example(unit)}")
    plain = text.translate(_PLAIN)
    if re.search(r"[0-9] *, *[0-9]", plain):
        raise QuantityError(
            f"{text!r} has a comma; write the decimal point as a dot, and no comma for thousands"
        )
    found = _QUANTITY.fullmatch(plain)
    if not found or (found["spread"] and found["after"]):
        raise QuantityError(f"{text!r} is not {wanted(unit)}")
    factor, offset = _factor(text, found["unit"] or "", unit)
    value = _amount(found, text) * factor + offset
    spread = _spread(found, text, unit, factor, value)
    if not (math.isfinite(value) and math.isfinite(spread)):
        raise QuantityError(f"{text!r} is too large a number")
    return Reading(value, spread, text)


def _amount(found, text):
    """The number in front, decimal or fraction."""
    if found["number"]:
        return float(found["number"])
    if int(found["bottom"]) == 0:
        raise QuantityError(f"{text!r} divides by zero")
    amount = int(found["whole"] or 0) + int(found["top"]) / int(found["bottom"])
    return -amount if found["sign"] == "-" else amount


def _spread(found, text, unit, factor, value):
    """The plus-minus in SI; after the unit it may have its own, or be a share in percent."""
    amount = float(found["spread"] or found["after"] or 0.0)
    if amount < 0:
        raise QuantityError(f"{text!r}: the spread after +/- cannot be negative")
    if found["own"] == "%" and found["unit"] != "%":
        return amount / 100 * abs(value)
    if found["own"]:
        factor, _ = _factor(text, found["own"], unit)
    return amount * factor


def _factor(text, given, unit):
    """What turns the given unit into the wanted one: a factor and, for °C, an offset."""
    if unit == "-":
        if given in {"", "%"}:
            return (0.01 if given else 1.0), 0.0
        raise QuantityError(f"{text!r} has a unit; write {wanted('-')}")
    if not given:
        raise QuantityError(f"{text!r} has no unit; write for example {_example(unit)}")
    if not re.fullmatch(_UNIT, given):
        raise QuantityError(f"{given!r} is not a unit; write for example {_example(unit)}")
    try:
        here, factor, offset = _conversion(given, unit)
    except pint.DimensionalityError as error:
        raise QuantityError(_wrong_kind(text, registry().Unit(error.units1), unit)) from None
    except Exception:  # pint raises whatever its parser meets
        raise QuantityError(
            f"{given!r} is not a unit that is known{_nearest(given)}; "
            f"write for example {_example(unit)}"
        ) from None
    if unit in _TURNING and _turns(here) != _TURNING[unit]:
        raise QuantityError(_wrong_kind(text, here, unit))
    return factor, offset


@lru_cache(maxsize=500)
def _conversion(given, unit):
    """The unit as pint knows it, its factor and its offset, which only °C and °F have."""
    spelled = re.sub(r"[A-Za-zµμ]+", lambda m: _WORDS.get(m[0], m[0]), given.translate(_SPELLING))
    here, there = registry().Unit(spelled), registry().Unit(unit)
    zero, one = (registry().Quantity(x, here).to(there).magnitude for x in (0.0, 1.0))
    return here, one - zero, zero


def _turns(unit):
    """True where a pint unit counts an angle: rpm and degrees do, hertz and percent do not."""
    return "radian" in registry().get_base_units(unit)[1]._units


def _wrong_kind(text, here, unit):
    return f"{text!r} is {_article(_kind(here))}; write {wanted(unit)}"


_EXAMPLES = {
    "m": '"5/32 in" or "2.0 mm"', "-": "0.2 or \"20 %\"", "kg": '"410 g"', "V": '"12 V"', "A": '"0.18 A"',
    "ohm": '"13 ohm"', "rad/s": '"9000 rpm"', "s": '"1.4 s"', "N": '"0.6 N" or "60 gf"', "rad": '"20 deg"',
    "m/s": '"45 mph"', "N/m": '"165 N/m"', "kg*m^2": '"0.6 g*cm^2"', "N*m": '"0.3 mN*m"', "H": '"0.4 mH"',
    "kelvin": '"20 degC"', "1/s": '"16 kHz"', "kg/m^3": '"8490 kg/m^3"', "Pa": '"124 MPa"',
}  # fmt: skip
_KINDS = {
    "m": "length", "-": "plain number", "kg": "mass", "V": "voltage", "A": "current", "ohm": "resistance",
    "rad/s": "speed of rotation", "s": "time", "N": "force", "rad": "angle", "m/s": "speed",
    "N/m": "spring rate", "kg*m^2": "moment of inertia", "N*m": "torque", "H": "inductance",
    "kelvin": "temperature", "1/s": "frequency", "kg/m^3": "density", "Pa": "pressure", "W": "power",
}  # fmt: skip
#: The unit in which a limit is printed.
_BENCH = {"m": "mm", "kg": "g", "rad/s": "rpm", "rad": "deg", "H": "mH", "kg*m^2": "g*cm^2",
          "Pa": "MPa", "m/s": "mph", "1/s": "Hz"}  # fmt: skip


def written(value):
    """How a value stands in a file, in one short line.

    >>> written("5/32 in"), written(True), written([1, 2])
    ("'5/32 in'", 'true', 'a list')
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, (list, dict)):
        return "a list" if isinstance(value, list) else "a table"
    if isinstance(value, (date, time)):
        return f"the date or time {value}"
    text = repr(value)
    return text if len(text) <= 40 else f"{text[:30]}…"


def wanted(unit):
    """What a value in that unit must be, in words and with an example.

    >>> wanted("rad/s")
    'a speed of rotation, as "9000 rpm"'
    """
    return f"{_article(_KINDS.get(unit, f'quantity in {unit}'))}, as {_example(unit)}"


def plain(value, unit):
    """An SI value as short text in a unit of the bench, for limits in messages.

    >>> plain(0.2, "m"), plain(1.0, "-")
    ('200 mm', '1')
    """
    bench = _BENCH.get(unit, unit)
    if unit == "-" or not value:
        return f"{value:g}"
    amount = float(registry().Quantity(value, unit).to(bench).magnitude)
    if amount >= 1000 and unit in {"m", "kg"}:
        amount, bench = value, unit
    return f"{amount:.6g} {bench}"


def _article(words):
    return f"{'an' if words[0] in 'aeiou' else 'a'} {words}"


def _example(unit):
    """How a quantity of that unit is written."""
    return _EXAMPLES.get(unit, f'"1.5 {unit}"')


def _kind(unit):
    """The trade's word for what a pint unit measures."""
    for spelled, word in _KINDS.items():
        there = registry().Unit("" if spelled == "-" else spelled)
        if there.dimensionality == unit.dimensionality and _turns(there) == _turns(unit):
            return word
    return f"quantity in {unit:~P}"


def _nearest(given):
    """A hint at the unit that was perhaps meant."""
    known = ["mm", "in", "inch", "thou", "cm", "m", "g", "kg", "oz", "V", "mV", "A", "mA", "ohm", "rpm",
             "s", "ms", "N", "mN", "gf", "deg", "degC", "degF", "mph", "km/h", "mH", "MPa", "N/m",
             "mN*m"]  # fmt: skip
    folded = {unit.lower(): unit for unit in known}
    near = difflib.get_close_matches(given.lower(), folded, n=1, cutoff=0.4)
    return f"; did you mean {folded[near[0]]}?" if near else ""


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
    return dict.fromkeys(get_args(System), Shown(unit, decimals, unit if label is None else label))


#: What each kind of quantity is shown in, metric and inch.
KINDS: dict[str, dict[System, Shown]] = {
    "length": {"metric": Shown("mm", 2, "mm"), "inch": Shown("inch", 3, "in")},
    "center": {"metric": Shown("mm", 3, "mm"), "inch": Shown("inch", 4, "in")},
    "fine": {"metric": Shown("um", 0, "µm"), "inch": Shown("thou", 2, "thou")},
    "micron": {"metric": Shown("um", 1, "µm"), "inch": Shown("thou", 2, "thou")},
    "mass": {"metric": Shown("g", 1, "g"), "inch": Shown("ounce", 2, "oz")},
    "heavy": {"metric": Shown("kg", 1, "kg"), "inch": Shown("pound", 1, "lb")},
    "force": {"metric": Shown("N", 2, "N"), "inch": Shown("ozf", 2, "ozf")},
    "torque": {"metric": Shown("mN*m", 2, "mN·m"), "inch": Shown("ozf*inch", 3, "ozf·in")},
    "inertia": {"metric": Shown("g*cm^2", 2, "g·cm²"), "inch": Shown("ounce*inch^2", 4, "oz·in²")},
    "constant": _same("mN*m/A", 2, "mN·m/A"),
    "drag": _same("uN*m*s/rad", 2, "µN·m·s"),
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
    "ripple": _same("percent", 1, "%"),
    "number": _same("dimensionless", 2, ""),
    "friction": _same("dimensionless", 3, ""),
    "times": _same("dimensionless", 0, "times"),
    "energy": _same("mJ", 1),
    "power": _same("W", 2),
    "hours": _same("hour", 0, "h"),
    "temperature": {"metric": Shown("degC", 0, "°C"), "inch": Shown("degF", 0, "°F")},
    "frequency": _same("kHz", 1),
    "tone": _same("Hz", 0),
    "rise": {"metric": Shown("kelvin", 0, "K"), "inch": Shown("delta_degF", 0, "°F")},
    "slide": {"metric": Shown("m/s", 2, "m/s"), "inch": Shown("ft/min", 0, "ft/min")},
}
#: The unit that each is computed in.
SI = {
    "length": "m", "fine": "m", "mass": "kg", "force": "N", "torque": "N*m", "inertia": "kg*m^2",
    "speed": "m/s", "stress": "Pa", "rate": "N/m", "rotation": "rad/s", "voltage": "V", "current": "A",
    "resistance": "ohm", "time": "s", "angle": "rad", "percent": "", "number": "", "energy": "J",
    "power": "W", "hours": "s", "temperature": "kelvin", "slide": "m/s", "constant": "N*m/A", "drag": "N*m*s/rad",
    "frequency": "1/s", "tone": "1/s", "micron": "m", "ripple": "",
    "friction": "", "times": "", "rise": "kelvin", "heavy": "kg", "center": "m",
}  # fmt: skip


@cache
def _scale(kind, system):
    """Factor and offset from SI to what is shown; pint is asked once."""
    unit = KINDS[kind][system].unit
    zero, one = (registry().Quantity(x, SI[kind]).to(unit).magnitude for x in (0.0, 1.0))
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
    return f"{shown(value, kind, system):z.{places}f}".replace("-", "−") + gap + unit


def half(width, kind, system="metric"):
    """Half of a band, to two digits.

    >>> half(0.00123, "length"), half(0.31, "voltage")
    ('1.2\xa0mm', '0.31\xa0V')
    """
    for places in range(4):
        text = show(width, kind, system, places)
        digits = text.removesuffix(label(kind, system)).strip("\u00a0").replace(".", "").lstrip("0")
        if len(digits) >= 2:
            return text
    return text
