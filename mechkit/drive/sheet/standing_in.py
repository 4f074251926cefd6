"""What stands in for a key that nobody measured: a value that goes with the engine, and its band."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from math import floor, log10
from statistics import fmean
from typing import Any

from mechkit import tables, units
from mechkit.drive.sheet.keys import Key, keys
from mechkit.drive.sheet.quantities import Range, ratio_of
from mechkit.drive.sheet.schema import BenchSheet, Table
from mechkit.units import Reading

#: Both are of one form and share their stand-ins.
STATES = {"as_is", "planned"}
#: Digits that a stand-in is worth.
DIGITS = 3
#: Load of a carrying axle over that of a driver; common practice, no source.
CARRYING = 0.5
#: Share on the drivers where no arrangement is written; common practice, no source.
USUAL_SHARE = 0.82
#: Drivers from axle to axle, over their diameter; common practice, no source.
APART = 1.2
#: Between the backs of a pair of drivers, over the gauge; common practice, no source.
BACKS = 0.87
#: The gauge of most full-size railways [m].
GAUGE = 1.435
#: Volts of full throttle where nothing names any.
USUAL_VOLTS = 12.0
#: A winding takes this share of the volts of a steady run, of a free motor and of a start: what
#: friction holds at rest over what it does in motion.
LOADED, FREE, STICTION = 0.25, 0.07, 1.35
#: The motor's own share of what friction takes in the engine; common practice, no source.
OWN = 0.35


@dataclass(frozen=True)
class Assumption:
    """One key that nobody measured, what is taken for it, and why."""

    key: str
    value: Any
    why: str


@cache
def table() -> dict[str, Any]:
    """The table of assumptions."""
    return tables.assumptions()


def entry(place: str) -> dict[str, Any] | None:
    """What the table says of a key such as ``as_is.worm.module``; None where it is silent."""
    found: Any
    first, _, rest = place.partition(".")
    for root in (first, "state") if first in STATES else (first,):
        found = table()
        for part in [root, *(rest.split(".") if rest else [])]:
            found = found.get(part) if isinstance(found, dict) else None
        if isinstance(found, dict) and ("value" in found or "rule" in found):
            return found
    return None


def wanted(place: str, key: Key, beside: dict[str, Any]) -> bool:
    """Whether a key is needed, for itself or because of what stands beside it."""
    when = (entry(place) or {}).get("when", {})
    beside_it = bool(when) and all(beside.get(name) == it for name, it in when.items())
    return key.required or beside_it


class Open(LookupError):
    """A key that is not written and that nothing stands in for."""


class StandIns:
    """Stand-ins for one sheet: its given keys as they are, all others from the table.

    ``given`` holds the tables as they are written, already known to be sound.
    """

    def __init__(self, given: dict[str, Any]):
        self.given = given

    def make(self, place: str, key: Key, at: dict[str, Any] | None = None) -> Assumption | None:
        """The stand-in of a key, or None where it or what it goes with is open.

        ``at`` is the table that it stands in.
        """
        said = entry(place)
        try:
            return self._made(said, place, key, at) if said else None
        except Open:
            return None

    def _made(self, said, place: str, key: Key, at) -> Assumption:
        state = place.partition(".")[0]
        if "rule" in said:
            value = RULES[said["rule"]](self, state, at or {})
        else:
            value = said["value"]
            if key.range:
                value = _read(key.range, value)
        if key.range:
            for other, power in said.get("goes", {}).items():
                value *= self.number(other.replace("state", state, 1), at) ** power
            within = said.get("within", 0.0)
            made: Any = (
                [rounded(one, key.range, within) for one in value]
                if isinstance(value, list)
                else rounded(value, key.range, within)
            )
            if key.many and not isinstance(made, list):
                made = [made]
            return Assumption(place, made, said["why"])
        return Assumption(place, value, said["why"])

    def number(self, place: str, at: dict[str, Any] | None = None) -> float:
        """A key's number in SI, as it is written or as it is assumed; of a list, the mean."""
        key, written = self._find(place, at)
        if written is None:
            made = self.make(place, key, at)
            if made is None:
                raise Open(place)
            written = made.value
        if not key.range:
            return float(ratio_of(written))
        many = written if isinstance(written, list) else [written]
        return fmean(_read(key.range, one) for one in many)

    def written(self, place: str) -> Any:
        """What stands at a place, or None."""
        return self._find(place, None)[1]

    def readings(self, place: str) -> list[float]:
        """A key's numbers through all tables of a list, as ``measured_before.runs.voltage``."""
        *above, last = place.split(".")
        found: list[Any] = [self.given]
        model: type[Table] = BenchSheet
        for part in above:
            found = [one for table in found for one in _each(table.get(part))]
            model = keys(model)[part].table or model
        key = keys(model)[last]
        assert key.range
        return [
            _read(key.range, one) for table in found for one in _each(table.get(last)) if one != ""
        ]

    def _find(self, place, at):
        """A key by its dotted name, and what is written there; ``at`` is the table of a list."""
        written: Any = self.given
        model: type[Table] = BenchSheet
        *above, last = place.split(".")
        for part in above:
            found = keys(model)[part]
            model = found.table or model
            written = at if found.many else (written or {}).get(part)
        return keys(model)[last], (written or {}).get(last)


def or_stand_in(data: BenchSheet, place: str) -> Reading:
    """A size that a sheet may leave out without lacking it: as it is written, else its stand-in.

    Of several readings of it, the least.
    """
    given = {
        name: {key: value for key, value in dict(getattr(data, name)).items() if value}
        for name in ("locomotive", "track")
    }
    stand_ins = StandIns(given)
    key, written = stand_ins._find(place, None)
    if written is None:
        made = stand_ins.make(place, key)
        assert made
        written = made.value
    return min(_each(written), key=lambda one: one.value)


def rounded(value: float, reach: Range, within: float) -> Reading:
    """A stand-in as it would be written: few digits, its band, inside what a sheet takes."""
    value = min(value, reach.high)
    if value:
        value = round(value, DIGITS - 1 - floor(log10(abs(value))))
    spread = within * abs(value)
    number, _, unit = units.plain(value, reach.unit).partition(" ")
    unit = unit or {"m": "mm"}.get(reach.unit, "")  # nothing, of a length
    text = _digits(float(number), DIGITS)
    if within and value:
        text += f" +/- {_digits(float(number) * within, 2)}"
    return Reading(value, spread, f"{text} {unit}".strip())


def _digits(number: float, digits: int) -> str:
    """A number to so many digits, without powers of ten.

    >>> _digits(6745.3, 3), _digits(0.0298, 2)
    ('6750', '0.03')
    """
    return f"{float(f'{number:.{digits}g}'):g}"


def _read(reach: Range, written: Any) -> float:
    """A number in SI; what stands in the table of assumptions may lie beyond a bench's range."""
    if isinstance(written, Reading):
        return written.value
    if isinstance(written, int | float):
        return float(written)
    return reach.written(written).value


def _each(value) -> list[Any]:
    if value is None:
        return []
    return value if isinstance(value, list) else [value]


# -- rules ------------------------------------------------------------------------------------


def arrangement(given: dict[str, Any]) -> tuple[int, int] | None:
    """Driving and carrying axles of an arrangement such as 4-6-0; None where there is none."""
    text = given.get("locomotive", {}).get("wheel_arrangement", "")
    found = [int(part) for part in re.findall(r"[0-9]+", text)] if isinstance(text, str) else []
    if len(found) < 3 or not 4 <= sum(found[1:-1]) <= 16:
        return None
    return sum(found[1:-1]) // 2, (found[0] + found[-1]) // 2


def _share_on_drivers(sheet: StandIns, state: str, at) -> float:
    axles = arrangement(sheet.given)
    share = axles[0] / (axles[0] + CARRYING * axles[1]) if axles else USUAL_SHARE
    return share * sheet.number("locomotive.weight")


def _axles_apart(sheet: StandIns, state: str, at) -> list[float]:
    axles = arrangement(sheet.given)
    apart = APART * sheet.number("locomotive.driver_diameter")
    return [n * apart for n in range(min(axles[0], 8) if axles else 3)]


def _between_backs(sheet: StandIns, state: str, at) -> float:
    gauge = sheet.written("track.gauge")
    return BACKS * (gauge.value if gauge else GAUGE / sheet.number("locomotive.scale"))


def _middle_of_axles(sheet: StandIns, state: str, at) -> float:
    return sheet.number("locomotive.driver_axles")


def _fastest_run(sheet: StandIns, state: str, at) -> float:
    named = [
        volts
        for when in ("measured_before", "measured_after")
        for kind in ("runs", "coasts")
        for volts in sheet.readings(f"{when}.{kind}.voltage")
    ]
    return max(named, default=USUAL_VOLTS)


def _winding(sheet: StandIns, state: str, at) -> float:
    """Resistance from whatever current was read: stalled, in the engine, free; else by size."""
    held = sheet.written(f"{state}.motor.stall")
    if isinstance(held, dict) and {"voltage", "current"} <= held.keys():
        return sheet.number(f"{state}.motor.stall.voltage") / sheet.number(
            f"{state}.motor.stall.current"
        )
    before = "measured_before" if state == "as_is" else "measured_after"
    amps, starts = (
        sheet.readings(f"{before}.{key}") for key in ("runs.current", "starting_voltage")
    )
    if amps and starts:
        return fmean(starts) / STICTION / min(amps)
    if amps:
        return LOADED * fmean(sheet.readings(f"{before}.runs.voltage")) / fmean(amps)
    free = sheet.written(f"{state}.motor.no_load")
    if isinstance(free, dict) and "current" in free:
        return (
            FREE
            * sheet.number(f"{state}.motor.no_load.voltage")
            / sheet.number(f"{state}.motor.no_load.current")
        )
    return (
        13.0
        * (sheet.number("supply.voltage") / 12)
        * (sheet.number("locomotive.weight") / 0.4) ** -1.2
    )


def _free_current(sheet: StandIns, state: str, at) -> float:
    """What a motor takes by itself: part of what the engine takes, as far as that was read."""
    before = "measured_before" if state == "as_is" else "measured_after"
    amps, starts = (
        sheet.readings(f"{before}.{key}") for key in ("runs.current", "starting_voltage")
    )
    resistance = sheet.number(f"{state}.motor.resistance")
    if amps:
        return OWN * min(amps)
    if starts:
        return OWN * fmean(starts) / STICTION / resistance
    return FREE * sheet.number(f"{state}.motor.no_load.voltage") / resistance


def _one_gear(sheet: StandIns, state: str, at) -> list[dict[str, Any]]:
    return [{"name": "axle gear"}]


def _over_tooth_tops(sheet: StandIns, state: str, at) -> float:
    teeth = sheet.number(f"{state}.gears.teeth", at)
    return (teeth + 2) * sheet.number(f"{state}.worm.module")


def _one_room(sheet: StandIns, state: str, at) -> list[dict[str, Any]]:
    """A boiler from ahead of the first driver to behind the last, round the shaft."""
    driver, shaft = (
        sheet.number("locomotive.driver_diameter"),
        sheet.number("envelope.shaft_height"),
    )
    apart = APART * driver
    places = sheet.written("locomotive.driver_axles")
    reach = keys(BenchSheet)["locomotive"].table
    assert reach
    axle = keys(reach)["driver_axles"].range
    assert axle
    last = max(_read(axle, one) for one in places) if places else 2 * apart

    def size(value):
        return Reading(value, 0.0, units.plain(float(f"{value:.3g}"), "m"))

    return [
        {
            "name": "boiler", "shape": "round", "from": size(-driver), "to": size(last + driver),
            "height": size(shaft), "diameter": size(1.3 * driver),
        }
    ]  # fmt: skip


RULES: dict[str, Callable[[StandIns, str, dict[str, Any]], Any]] = {
    "share_on_drivers": _share_on_drivers,
    "axles_apart": _axles_apart,
    "between_backs": _between_backs,
    "middle_of_axles": _middle_of_axles,
    "fastest_run": _fastest_run,
    "winding": _winding,
    "free_current": _free_current,
    "one_gear": _one_gear,
    "over_tooth_tops": _over_tooth_tops,
    "one_room": _one_room,
}
