"""What a hand types into a box, as it stands in a bench sheet: commas, fractions, bare numbers.

A box knows its key, so it knows the unit that a bare number is in; the file always says it.
"""

import re
from typing import Any

from mechkit.drive.sheet.keys import Key
from mechkit.drive.sheet.quantities import UNKNOWN, Range
from mechkit.units import System

#: The unit of a bare number, metric and inch, by the SI unit of the key.
BARE: dict[str, tuple[str, str]] = {
    "m": ("mm", "in"),
    "kg": ("g", "oz"),
    "V": ("V", "V"),
    "A": ("mA", "mA"),
    "ohm": ("ohm", "ohm"),
    "H": ("mH", "mH"),
    "rad/s": ("rpm", "rpm"),
    "s": ("s", "s"),
    "1/s": ("Hz", "Hz"),
    "N": ("g", "oz"),
    "m/s": ("km/h", "mph"),
    "kg*m^2": ("g*cm^2", "g*cm^2"),
    "rad": ("deg", "deg"),
    "Pa": ("MPa", "MPa"),
    "-": ("", ""),
}
#: Keys that nobody reads in the unit of their kind.
OWN = {"distance": ("mm", "in"), "module": ("mm", "pitch")}
#: What stands for yes and for no.
YES, NO = {"yes", "y", "true", "on"}, {"no", "n", "false", "off"}

_DECIMAL = re.compile(r"(?<=[0-9]),(?=[0-9])")
_BETWEEN = re.compile(r"\s*;\s*|\s*,\s+")
_UNIT = re.compile(r"[A-Za-zµμΩ°%\"″”]")
_CLOCK = re.compile(
    r"\s*(?:(?P<h>[0-9]+)\s*h(?:ours?)?\s*)?(?P<min>[0-9]+)\s*(?:min(?:utes?)?|:|')\s*"
    r"(?:(?P<s>[0-9]+(?:\.[0-9]+)?)\s*(?:s|sec|seconds?|\"|'')?)?\s*",
    re.IGNORECASE,
)
_LIST_UNIT = re.compile(r"[0-9.)\s](?P<unit>[A-Za-zµμΩ°%\"″”][^;]*)$")


def unit_of(key: Key, system: System) -> str:
    """The unit that a bare number in a box is in; empty for plain numbers and words."""
    if not key.range:
        return ""
    pair = OWN.get(key.name) or BARE[key.range.unit]
    return pair[system == "inch"]


def written(typed: str, key: Key, system: System = "metric") -> Any:
    """A typed text as the value that the file holds; None where nothing is said.

    Whether it is sound is not asked here: the sheet says so, as it does of any file.

    Parameters
    ----------
    typed : str
        As ``"7,6"``, ``"5/32"``, ``"2 oz"``, ``"3 min 12"``, ``"0; 22; 44"``, ``"?"``.
    key : Key
        The key that the box stands for.
    system : {"metric", "inch"}
        In which a bare number is meant.

    Examples
    --------
    >>> from mechkit.drive.sheet.keys import find
    >>> written("16,2", find(("locomotive", "driver_diameter")))
    '16.2 mm'
    >>> written("5/32", find(("locomotive", "axle_diameter")), "inch")
    '5/32 in'
    >>> written("3 min 12", find(("measured_before", "runs", "time")))
    '192 s'
    """
    text = typed.strip()
    if not text or text.rstrip(".").casefold() in UNKNOWN:
        return None
    if key.many and not key.table:
        return _several(text, key, system)
    return _one(text, key, system)


def _several(text: str, key: Key, system: System) -> list[Any]:
    """A list; a unit behind the last number holds for those that have none."""
    parts = [part for part in _BETWEEN.split(text) if part]
    last = _LIST_UNIT.search(parts[-1])
    if last and key.range:
        parts = [part if _UNIT.search(part) else f"{part} {last['unit']}" for part in parts]
    return [_one(part, key, system) for part in parts]


def _one(text: str, key: Key, system: System) -> Any:
    if key.kind == "quantity" and key.range:
        return _quantity(text, key, key.range, system)
    if key.kind == "yes":
        word = text.casefold()
        return True if word in YES else False if word in NO else text
    if key.kind in {"whole", "number"}:
        return _number(text)
    return text


def _quantity(text: str, key: Key, reach: Range, system: System) -> str:
    text = _DECIMAL.sub(".", text)
    if reach.unit == "s" and (clock := _CLOCK.fullmatch(text)):
        seconds = 3600 * int(clock["h"] or 0) + 60 * int(clock["min"]) + float(clock["s"] or 0)
        return f"{seconds:g} s"
    if _UNIT.search(text):
        return text
    unit = unit_of(key, system)
    return f"{text} {unit}" if unit else text


def _number(text: str) -> Any:
    """A count or a plain number; what is none stays as it was typed, "1:87" among it."""
    plain = _DECIMAL.sub(".", text)
    for kind in (int, float):
        try:
            return kind(plain)
        except ValueError:
            continue
    return text
