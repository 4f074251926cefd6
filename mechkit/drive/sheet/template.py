"""The blank bench sheet, written from the schema's own words.

``python3 -m mechkit.drive.sheet.template`` writes it to the notebooks' folder anew.
"""

import json
import textwrap
import tomllib
from functools import cache
from typing import get_args

from mechkit import units
from mechkit.drive.sheet import DEMO, quantities
from mechkit.drive.sheet.hour import Step, opened_by, steps
from mechkit.drive.sheet.keys import Key, keys
from mechkit.drive.sheet.schema import BenchSheet, NoLoad, Stall

BLANK = DEMO.with_name("blank_sheet.toml")

INTRO = """\
# Bench sheet: one locomotive; a quarter of an hour to begin with, an hour for all of it.
# Save it under a name of your own first.
#
# How to write.  Between the quotes goes the number with the unit that you measured in:
# "16.2 mm", "5/32 in", "1-1/4 in", "3 thou", "410 g", "13 ohm", "9000 rpm".  The decimal
# point is a dot.  Counts stand without quotes: teeth = 20.  What no bench has seen is refused:
# parts over {part}, engines over {engine}, {mass}, {volts}, {amps}.
#
# How sure you are.  A spread may follow: "16.20 +/- 0.05 mm", or "13 ohm +/- 2 %".  It is
# what you would bet on: nineteen readings of twenty would fall inside.  Without one, the
# instruments named below decide.  A wide honest spread is worth more than a fine guess.
#
# What must stand.  Seven lines below are live: the scale, the weights, the lowest voltage that
# starts it, and one run by the stop-watch.  They already tell scale speed, late start, pull and
# skid, and what to measure next:  python3 -m mechkit build SHEET.  All else stands behind a #;
# take the # away and fill it in, in the order of the hour, and more is answered.  What you leave
# out is assumed, within a wide band and by name; "I do not know" is the same as leaving it out.
# A block that begins with a # is taken whole.  The examples are those of an invented locomotive,
# ten_wheeler.toml.
#
# Nothing comes apart before its readings are taken: motor cold and track first, then scale and
# caliper, body off, motor out, gearbox open; what you think of buying comes last.
#
# Two seconds is all that a stalled motor gets, at a low voltage: the winding heats at
# once and can burn you, or itself.  Keep fingers, hair and sleeves off turning parts.
"""

#: Tables that are short enough to stand on one line.
INLINE = (NoLoad, Stall)
#: What stands without a #: enough for the first answers.
LIVE = {
    "locomotive.scale", "locomotive.weight", "locomotive.weight_on_drivers",
    "measured_before.starting_voltage", "measured_before.runs.voltage",
    "measured_before.runs.distance", "measured_before.runs.time",
}  # fmt: skip
#: Tables in the order of the hour.
ORDER = (
    *("locomotive", "measured_before", "supply", "as_is", "envelope", "track", "instruments"),
    *("planned", "measured_after", "stock"),
)  # fmt: skip
#: What stands over a part of the sheet.
RULE = f"# {'-' * 88}"
#: So many questions are named for a reading.
NAMED = 4
#: Where an example is found when the demo has none at the same place.
TWINS = {
    "as_is": "planned", "planned": "as_is",
    "measured_before": "measured_after", "measured_after": "measured_before",
}  # fmt: skip
#: What only the sheet as a whole can say of its tables.
NOTES = {
    "as_is": "The drive as it is, before any work.",
    "measured_before": "What the engine did on the track before the work.",
    "stock": "What lies in the drawer, for python3 -m mechkit choose: every motor, gear set and bar "
    "is tried with every other.",
    "motors": "Repeat the block for every motor.",
    "gear_sets": "Repeat the block for every set.",
    "bars": "Repeat the block for every bar.",
    "gears": "Repeat the block for every gear.",
    "rooms": "Repeat the block for every room, from front to rear; a round one needs height "
    "and diameter, a box needs bottom, top and width.",
    "runs": "Repeat the block for every run: one is enough to begin with, four at different "
    "voltages tell much more, one or two of them with a pull.",
    "coasts": "Repeat the block for every coast.",
}


#: Tables that take the keys of another, and how they are written.
LIKE = {
    "planned": """\
# The drive as you mean to build it, under the keys of as_is: only what changes, all else stays
# as it is.  Another motor is told whole, from its maker's sheet; a gear by its name; a part that
# goes out is "none".
#
#   [planned]
#   flywheel = "none"
#   [planned.mesh]
#   lubrication = "greased"
#   [[planned.gears]]
#   name = "axle gear"
#   total_runout = "0.001 in"
""",
    "measured_after": """\
# What it does after the work, under the keys of measured_before: [measured_after],
# [[measured_after.runs]], [[measured_after.coasts]].
""",
}


def blank_sheet() -> str:
    """The text of the blank sheet."""
    top = keys(BenchSheet)
    lines = [INTRO.format(**_limits())]
    lines += _aligned([_line(key, key.name) for key in top.values() if not key.table])
    for name in ORDER:
        lines += ["", ""]
        lines += [RULE, *LIKE[name].splitlines()] if name in LIKE else _table(top[name], name)
    return "\n".join(lines) + "\n"


def _limits() -> dict[str, str]:
    """The highest of each kind that a sheet takes, for the introduction."""
    kinds = {
        "part": quantities.Size, "engine": quantities.Length, "mass": quantities.Mass,
        "volts": quantities.Voltage, "amps": quantities.Current,
    }  # fmt: skip
    found = {name: get_args(kind)[1] for name, kind in kinds.items()}
    return {name: units.plain(reach.high, reach.unit) for name, reach in found.items()}


def _table(key: Key, place: str) -> list[str]:
    """One table with its keys in the order of the hour, then the tables inside it."""
    assert key.table
    inside = keys(key.table).values()
    blocks = [one for one in inside if one.table and one.table not in INLINE]
    plain = [one for one in inside if one not in blocks]
    lines = _heading(key, place)
    if plain:
        header = f"[[{place}]]" if key.many else f"[{place}]"
        alone = (key.required and not key.many) or any(one.startswith(f"{place}.") for one in LIVE)
        lines += [header if alone else f"#{header}"]
        for n, (step, some) in enumerate(_by_step(plain, place)):
            lines += [""] * bool(n)
            lines += _asked(step) if step else []
            lines += _aligned([_line(one, f"{place}.{one.name}") for one in some])
    for one in blocks:
        lines += ["", *_table(one, f"{place}.{one.name}")]
    return lines


def _by_step(plain: list[Key], place: str) -> list[tuple[Step | None, list[Key]]]:
    """The keys of a table by the readings that they belong to; what belongs to none comes last."""
    found: dict[str, list[Key]] = {name: [] for name in [*steps(), ""]}
    for key in plain:
        here = f"{place}.{key.name}"
        step = next((one for one in steps().values() if here in one.keys), None)
        found[step.name if step else ""].append(key)
    return [(steps().get(name), some) for name, some in found.items() if some]


def _asked(step: Step) -> list[str]:
    """How a reading is asked for, how long it takes and what it opens, as comment lines."""
    needed = list(dict.fromkeys(one.words for one in opened_by(step)))
    more = f" and {len(needed) - NAMED} more" if len(needed) > NAMED else ""
    took = f"{step.minutes:g} min: " if step.minutes else ""
    opens = f"  Opens: {'; '.join(needed[:NAMED])}{more}." if needed else ""
    words = f"{took}{step.words}.{opens}"
    return [f"# {line}" for line in textwrap.wrap(words, 90, break_long_words=False)]


def _heading(key: Key, place: str) -> list[str]:
    """What the table is, as comment lines; the big ones with a rule above."""
    words = [NOTES.get(place) or (key.table.__doc__ if key.table else ""), NOTES.get(key.name)]
    if place in NOTES:
        words[1] = ""
    if not key.required and not key.many and "." in place:
        words.append("Leave the block out if there is none.")
    text = "  ".join(word.strip() for word in words if word)
    lines = [f"# {line}" for line in textwrap.wrap(text, 90, break_long_words=False)]
    step = next((one for one in steps().values() if place in one.keys), None)
    lines += _asked(step) if step else []
    return lines if "." in place else [RULE, *lines]


def _line(key: Key, place: str) -> str:
    """``key = ""   # words; example, range``; behind a # unless it is among the first."""
    mark = "" if place in LIVE else "#"
    if key.table:
        blanks = ", ".join(f'{name} = ""' for name in keys(key.table))
        doc = (key.table.__doc__ or "").strip().rstrip(".").lower()
        value = f"{{ {blanks} }}"
        words = doc if key.words in doc else f"{key.words}; {doc}"
    else:
        blanks = ", ".join(['""'] * _least(key))
        value = f"[{blanks}]" if key.many else blanks
        words = key.words
    example = "" if words.startswith("as ") else _example(place)
    parts = [words, _choice(key), example, _range(key), _default(key)]
    return f"{mark}{key.name} = {value}\t# {'; '.join(part for part in parts if part)}"


def _least(key: Key) -> int:
    return int(key.low or 1) if key.many else 1


def _choice(key: Key) -> str:
    options = [json.dumps(option) for option in key.options]
    if key.kind == "yes":
        options = ["true", "false"]
    listed = f"{', '.join(options[:-1])} or {options[-1]}" if options else ""
    # Where the words are the options already, once is enough.
    return "" if listed.replace('"', "") == key.words else listed


def _example(place: str) -> str:
    """As the demo locomotive has it, or its other state."""
    found = _demo_value(place)
    return "" if found is None else f"as {_toml(found)}"


def _range(key: Key) -> str:
    if key.kind in {"whole", "number"} and key.low is not None:
        return f"{key.low:g} to {key.high:g}"
    return ""


def _default(key: Key) -> str:
    if key.required or key.default in (None, "", []) or key.table:
        return ""
    return f"else {_toml(key.default)}"


def _toml(value) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return f"[{', '.join(_toml(one) for one in value)}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{name} = {_toml(one)}' for name, one in value.items())} }}"
    return json.dumps(value, ensure_ascii=False)


@cache
def _demo() -> dict:
    return tomllib.loads(DEMO.read_text("utf-8"))


def _demo_value(place: str):
    """The demo's value at a place, the first table of a list standing for all."""
    first, _, rest = place.partition(".")
    for root in (first, TWINS.get(first)):
        found = [_demo()]
        for part in [root, *rest.split(".")] if rest else [root]:
            found = [one for table in found for one in _each(table.get(part))]
        if found:
            return found[0]
    return None


def _each(value):
    """The tables of a list, or the one value; a list of plain values is one value."""
    if value is None:
        return []
    return value if isinstance(value, list) and isinstance(value[0], dict) else [value]


def _aligned(lines: list[str]) -> list[str]:
    """Comments begin in one column, as far as that stays readable."""
    halves = [line.split("\t") for line in lines]
    column = max((len(entry) for entry, _ in halves if len(entry) < 32), default=0)
    return [f"{entry.ljust(column)}   {words}" for entry, words in halves]


if __name__ == "__main__":
    BLANK.write_text(blank_sheet(), "utf-8", newline="\n")
