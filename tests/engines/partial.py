"""The sheet of a machinist who has not had his hour yet: the first so many of his readings."""

import tomllib
from typing import Any

import tomlkit

#: His readings in the order of the hour, each with what it fills in; ``*`` is every gear.
HOUR: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("scale", ("locomotive.scale", "supply.voltage")),
    ("weights", ("locomotive.weight", "locomotive.weight_on_drivers", "locomotive.trailing_weight")),
    ("start", ()),
    ("run", ()),
    ("ohms", ("instruments", "as_is.motor.resistance")),
    ("amps", ("measured_before.runs",)),
    ("coast", ("measured_before.coasts", "locomotive.top_speed")),
    ("pull", ("measured_before.drawbar_pull",)),
    ("wheels", (
        "locomotive.driver_diameter", "locomotive.axle_diameter", "locomotive.driver_axles",
        "locomotive.length", "locomotive.center_of_gravity", "locomotive.wheel_arrangement",
    )),
    ("room", ("envelope",)),
    ("motor", ("as_is.motor",)),
    ("gears", ("as_is.worm", "as_is.gears", "as_is.mesh.lubrication", "as_is.flywheel")),
)  # fmt: skip
#: What the gearbox shows only to an indicator and a feeler, which come later.
LATER = ("as_is.worm.end_play", "as_is.gears.*.total_runout")


def text(whole: str, readings: int) -> str:
    """The sheet with its first readings alone, and nothing planned."""
    full = tomllib.loads(whole)
    sheet: dict[str, Any] = {}
    names = [name for name, _ in HOUR[:readings]]
    for _, keys in HOUR[:readings]:
        for key in keys:
            _copy(full, sheet, key.split("."))
    before = full.get("measured_before", {})
    if "start" in names and before.get("starting_voltage"):
        some = before["starting_voltage"]
        sheet.setdefault("measured_before", {})["starting_voltage"] = (
            some if "amps" in names else some[:1]
        )
    if "run" in names and "amps" not in names:
        alone = [run for run in before.get("runs", []) if "pull" not in run]
        alone.sort(key=lambda run: float(run["voltage"].split()[0]))
        laps = [{k: v for k, v in run.items() if k != "current"} for run in alone[-1:]]
        if laps:
            sheet.setdefault("measured_before", {})["runs"] = laps
    for key in LATER:
        _drop(sheet, key.split("."))
    return tomlkit.dumps(sheet)


def _copy(full, sheet, path):
    """Take what stands at a place over, if there is anything."""
    first, *rest = path
    if first not in full:
        return
    if rest:
        _copy(full[first], sheet.setdefault(first, {}), rest)
    else:
        sheet[first] = full[first]


def _drop(sheet, path):
    """Leave out what stands at a place, in every table of a list."""
    first, *rest = path
    some = sheet if first == "*" else [sheet]
    for one in some:
        if first == "*":
            _drop(one, rest)
        elif first in one:
            if rest:
                _drop(one[first], rest)
            else:
                del one[first]
