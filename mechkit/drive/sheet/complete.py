"""A partial sheet made whole: the plan inherits, and what nobody measured gets a stand-in.

The tables are still as they are written; nothing that stands in them is changed.
"""

from dataclasses import replace
from typing import Any

from mechkit.drive.sheet.faults import LEAST, Fault, missing_words
from mechkit.drive.sheet.keys import Key, bare, dotted, find, keys
from mechkit.drive.sheet.quantities import UNKNOWN
from mechkit.drive.sheet.schema import BenchSheet, SpringsTable, State, Table
from mechkit.drive.sheet.standing_in import Assumption, StandIns, entry, wanted

#: What is written for a part that the plan takes out.
NONE = "none"
#: A planned motor that differs in more than this is another motor, of which nothing is inherited.
SAME_MOTOR = {"insulated"}

#: What sprung drivers are told by.
SPRUNG = {"wire_diameter", "mean_diameter", "active_coils"}

Tables = dict[str, Any]


def lacking(given: Tables) -> list[Fault]:
    """The keys that are missing without which nothing is computed."""
    tables = {table: given.get(table, {}) for table, _ in LEAST}
    return [
        Fault(loc, missing_words(loc), missing=True)
        for loc in LEAST
        if isinstance(tables[loc[0]], dict) and loc[1] not in tables[loc[0]]
    ]


def stood_in(loc: tuple[str | int, ...]) -> bool:
    """Whether a missing key is told already, or something stands in for it or for its table."""
    return (
        loc in LEAST
        or loc[0] == "planned"
        or bool(find(loc).table)
        or entry(bare(dotted(loc))) is not None
    )


def known_part(written: Any) -> Any:
    """The tables without what he says that he does not know."""
    if isinstance(written, dict):
        return {name: known_part(value) for name, value in written.items() if not _unknown(value)}
    if isinstance(written, list):
        return [known_part(value) for value in written if not _unknown(value)]
    return written


def _unknown(value) -> bool:
    if isinstance(value, list) and value:
        return all(_unknown(one) for one in value)
    return isinstance(value, str) and value.strip().rstrip(".").casefold() in UNKNOWN


def complete(given: Tables) -> tuple[Tables, dict[str, Assumption]]:
    """All tables with their stand-ins, and the assumptions by their keys.

    ``given`` is sound in all that it has; a key that has no stand-in stays missing.
    """
    filled = _copy(given)
    assumed: dict[str, Assumption] = {}
    stand_ins = StandIns(filled)
    for key in keys(BenchSheet).values():
        if key.name != "planned":
            _fill(key, filled, key.name, stand_ins, assumed)
    said = filled.get("planned")
    filled["planned"] = inherited(filled["as_is"], said)
    for place, one in list(assumed.items()):
        state, _, key_in_state = place.partition(".")
        if state == "as_is" and _took_over(filled["planned"], said or {}, key_in_state):
            assumed[f"planned.{key_in_state}"] = replace(one, key=f"planned.{key_in_state}")
    _fill(keys(BenchSheet)["planned"], filled, "planned", stand_ins, assumed)
    return filled, assumed


def without_none(given: Tables) -> Tables:
    """The tables without what the plan takes out."""
    planned = given.get("planned")
    if not isinstance(planned, dict):
        return given
    kept = {name: part for name, part in planned.items() if part != NONE}
    return {**given, "planned": kept}


def _copy(tables: Any) -> Any:
    """Tables of their own; values are never changed."""
    if isinstance(tables, dict):
        return {name: _copy(value) for name, value in tables.items()}
    return [_copy(one) for one in tables] if isinstance(tables, list) else tables


def _took_over(planned: Tables, said: Tables, place: str) -> bool:
    """Whether a plan has a key that it does not say itself, as ``gears[2].teeth``."""
    first, _, rest = place.partition(".")
    name, _, number = first.rstrip("]").partition("[")
    there, own = planned.get(name), said.get(name)
    if number and there is not None:
        if len(there) < int(number):
            return False
        there = there[int(number) - 1]
        own = next((one for one in own or [] if one.get("name") == there.get("name")), None)
    if not rest:
        return there is not None and own is None
    return there is not None and _took_over(there, own or {}, rest)


def _fill(key: Key, table: Tables, place: str, stand_ins: StandIns, assumed) -> None:
    """Stand-ins for what a key lacks, and for what its tables lack."""
    if key.name not in table:
        if not wanted(bare(place), key, table):
            return
        made = stand_ins.make(bare(place), key, table)
        if made:
            table[key.name] = made.value
            assumed[place] = replace(made, key=place)
        elif key.table and not key.many:
            table[key.name] = {}
        else:
            return
    if not key.table:
        return
    many = table[key.name] if key.many else [table[key.name]]
    for n, one in enumerate(many, 1):
        for inner in keys(key.table).values():
            where = f"{place}[{n}]" if key.many else place
            _fill(inner, one, f"{where}.{inner.name}", stand_ins, assumed)


# -- the plan ---------------------------------------------------------------------------------


def whole(table: Any, model: type[Table] = State) -> bool:
    """Whether a table says everything that is needed of it, for itself."""
    if not isinstance(table, dict):
        return False
    if model is SpringsTable and table.get("kind") == "sprung" and not table.keys() >= SPRUNG:
        return False
    for key in keys(model).values():
        if key.name not in table:
            if key.required:
                return False
        elif key.table:
            many = table[key.name] if key.many else [table[key.name]]
            if not all(whole(one, key.table) for one in many):
                return False
    return True


def inherited(old: Tables, planned: Tables | None) -> Tables:
    """The plan as a state: what it does not say stays as it is.

    One that is whole stands for itself, whatever the engine has: no flywheel then means none.
    """
    if planned is None:
        return _copy(old)
    out = {name for name, part in planned.items() if part == NONE}
    new = {name: part for name, part in planned.items() if name not in out}
    if whole(new):
        return new
    made = {}
    for key in keys(State).values():
        if key.name in out:
            continue
        if key.name not in new:
            if key.name in old:
                made[key.name] = _copy(old[key.name])
        elif key.many:
            made[key.name] = _gears(old.get(key.name, []), new[key.name], key.table)
        elif key.name == "motor":
            made[key.name] = _motor(old.get("motor", {}), new["motor"], key.table)
        else:
            made[key.name] = _changed(old.get(key.name, {}), new[key.name], key.table)
    made |= {name: part for name, part in new.items() if name not in made}
    _unfollow(old, new, made)
    return made


def _changed(old: Tables, new: Tables, model) -> Tables:
    """A part with some keys changed; one that is whole is as it says."""
    return new if whole(new, model) else {**_copy(old), **new}


def _motor(old: Tables, new: Tables, model) -> Tables:
    """The same motor with a key changed, or another one, of which only its own keys are known."""
    if whole(new, model):
        return new
    another = any(name not in SAME_MOTOR and old.get(name) != value for name, value in new.items())
    return new if another else {**_copy(old), **new}


def _gears(old: list[Tables], new: list[Tables], model) -> list[Tables]:
    """Gears by their names where some are told in part, else the list as it stands."""
    names = [gear.get("name") for gear in old]
    if all(whole(gear, model) for gear in new):
        return new
    if all(gear.get("name") in names for gear in new):
        changes = {gear["name"]: gear for gear in new}
        return [{**_copy(gear), **changes.get(gear.get("name"), {})} for gear in old]
    if len(new) == len(old):
        return [{**_copy(was), **gear} for was, gear in zip(old, new, strict=True)]
    return new


def _unfollow(old: Tables, new: Tables, made: Tables) -> None:
    """Take out of the plan what followed from a key that it changes."""
    module = old.get("worm", {}).get("module"), made.get("worm", {}).get("module")
    said = {gear.get("name"): gear for gear in new.get("gears", [])}
    for n, gear in enumerate(made.get("gears", [])):
        was = old["gears"][n] if n < len(old.get("gears", [])) else {}
        changed = module[0] != module[1] or was.get("teeth") != gear.get("teeth")
        if changed and "outside_diameter" not in said.get(gear.get("name"), {}):
            gear.pop("outside_diameter", None)
