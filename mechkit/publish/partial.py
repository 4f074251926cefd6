"""What a sheet that says little is answered: what is known, what is assumed, what would open more."""

from collections.abc import Iterator
from typing import NamedTuple

from mechkit.drive.decisions.rebuild import Rebuild
from mechkit.drive.sheet.clash import said, value_at
from mechkit.drive.sheet.hour import Opening, Step, steps
from mechkit.drive.sheet.keys import find, loc_of
from mechkit.publish.verdict import joined
from mechkit.units import System, half, show

#: Assumptions that no number hangs on.
IDLE = {"title", "as_is.gears", "as_is.gears[1].name", "envelope.rooms[1].name"}


class Assumed(NamedTuple):
    """A key that nobody measured: what it is, what is taken for it, and why."""

    key: str
    words: str
    value: str
    why: str


def known(done: Rebuild, system: System) -> str:
    """What can be said already, in one sentence."""
    volts = show(done.sheet.supply.voltage.value, "voltage", system, 1)
    parts = []
    for key, words in (
        ("top", f"runs at {{}} at scale on {volts}"),
        ("start", "starts at {}"),
        ("pull", "pulls {} before its wheels slip"),
    ):
        band = next((line.before for line in done.headlines if line.key == key), None)
        if band:
            parts.append(words.format(band.say(system)))
    if done.skid:
        parts.append(f"skids {done.skid.say(system)} on locked drivers from that speed")
    if not parts:
        return "Nothing yet: no reading of the engine on the track stands in the sheet."
    return f"It {joined(parts)}."


def following(done: Rebuild, system: System) -> str:
    """What to measure next, and what it would do for the numbers above."""
    best = max(done.worth, key=lambda one: one.without / one.with_it, default=None)
    if best:
        return f"{sharpened(done, system)[done.worth.index(best)]}."
    if done.openings:
        first = done.openings[0]
        return (
            f"{_capital(joined(step.words for step in first.steps))} "
            f"({minutes(first.minutes)}): {tells(first)}."
        )
    return "Nothing that is missing would sharpen a number on this page."


def sharpened(done: Rebuild, system: System) -> list[str]:
    """What each reading that was not taken would do, a sentence each."""
    words = {line.key: line.words for line in done.headlines}
    found = []
    for one in done.worth:
        without, with_it = (
            half(one_half, one.kind, system) for one_half in (one.without, one.with_it)
        )
        found.append(
            f"“{words[one.key]}” would go from ±{without} to ±{with_it} with "
            f"{one.step.words} ({minutes(one.step.minutes)})"
        )
    return found


def minutes(number: float) -> str:
    """A time at the bench.

    >>> minutes(0), minutes(1), minutes(12)
    ('no time', '1 minute', '12 minutes')
    """
    return "no time" if not number else f"{number:g} minute{'s' * (number != 1)}"


def missing(done: Rebuild) -> list[Step]:
    """The readings that some question waits for, in the order of the hour."""
    wanted = {step for one in done.openings for step in one.steps}
    return [step for step in steps().values() if step in wanted]


def names(one: Opening) -> str:
    """The readings of an opening, by their short names."""
    return joined(step.name for step in one.steps)


def tells(one: Opening) -> str:
    """The questions of an opening."""
    return joined(question.words for question in one.questions)


def assumed(done: Rebuild) -> Iterator[Assumed]:
    """Every number that stands in for one that nobody measured; the plan inherits its own."""
    sheet = done.sheet
    for place, why in sheet.assumed.items():
        twin = place.replace("planned", "as_is", 1)
        if place in IDLE or (twin != place and twin in sheet.assumed):
            continue
        loc = loc_of(place)
        value = value_at(sheet, loc)
        if isinstance(value, list):
            value = ", ".join(_plain(one) for one in value if hasattr(one, "text"))
            value = value or "see the reason"
        yield Assumed(place, find(loc).words, _plain(value), why)


def _plain(value) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    return said(value).strip('"').replace("+/-", "±")


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def report(done: Rebuild) -> Iterator[str]:
    """The same for a terminal, line by line."""
    yield known(done, "metric")
    yield f"Next: {following(done, 'metric')}"
    lacks = missing(done)
    if not lacks:
        return
    width = max(len(step.name) for step in lacks)
    yield "Missing, in the order of the hour:"
    for step in lacks:
        yield f"  {step.name.ljust(width)}  {minutes(step.minutes)}: {step.words}"
    yield "What it would tell:"
    for one in done.openings:
        yield f"  {names(one)} ({minutes(one.minutes)}): {tells(one)}"
