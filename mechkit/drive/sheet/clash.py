"""Two readings that cannot both be true, said in one line with both keys and both values."""

from collections.abc import Iterator

from mechkit.drive.sheet.faults import Fault
from mechkit.drive.sheet.keys import dotted
from mechkit.units import Reading


def said(value):
    """A value as it stands in the sheet."""
    if isinstance(value, Reading):
        return f'"{value.text}"' if value.text else f"{value.value:g}"
    return f"{value:g}"


def value_at(data, loc):
    """The value at a place, through tables, lists and aliases; None where it is left out."""
    for part in loc:
        if data is None:
            return None
        if isinstance(part, int):
            data = data[part]
        else:
            data = getattr(data, {"from": "start", "to": "end"}.get(part, part))
    return data


def clash(data, loc, words, other, why="", also=()):
    """``this = "a" is more than that = "b"``, and why that cannot be.

    ``also`` are further places that it rests on.
    """
    here, there = said(value_at(data, loc)), said(value_at(data, other))
    text = f"= {here} {words} {dotted(other)} = {there}{why and f'; {why}'}"
    return Fault(loc, text, rests_on=(other, *also))


def most(reading: Reading):
    """The highest that its spread allows."""
    return reading.value + reading.spread


def least(reading: Reading):
    """The lowest that its spread allows."""
    return reading.value - reading.spread


def above(data, loc, other, why="", equal=False) -> Iterator[Fault]:
    """Refuse a value that is more than another (or, with ``equal``, as much), spreads granted."""
    here, there = value_at(data, loc), value_at(data, other)
    if here is None or there is None:
        return
    if least(here) > most(there):
        yield clash(data, loc, "is more than", other, why)
    elif equal and least(here) >= most(there):
        yield clash(data, loc, "is as much as", other, why)
