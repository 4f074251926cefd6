"""One line for what is wrong with a bench sheet: file, line, key, what stood there, what is wanted."""

import difflib
import re
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any, NamedTuple

from pydantic import ValidationError

from mechkit import units
from mechkit.drive.sheet.keys import dotted, find, keys, tables
from mechkit.drive.sheet.schema import BenchSheet

#: Longest text of an error; a line that fills the screen is not one clear line.
LONGEST = 360


class SheetError(ValueError):
    """What is wrong with a bench sheet: the first mistake in one line, and all of them in ``each``."""

    def __init__(self, text, each=()):
        super().__init__(_clean(text))
        self.each: tuple[str, ...] = tuple(_clean(line) for line in each) or (str(self),)

    def tell(self) -> None:
        """Say every mistake on the terminal, a line each."""
        for line in self.each:
            print(f"mechkit: {line}", file=sys.stderr)


def _clean(text):
    clean = "".join(c if c.isprintable() else " " for c in text)
    return clean if len(clean) <= LONGEST else f"{clean[: LONGEST - 1]}…"


#: What has no stand-in at all, and without which nothing is computed.
LEAST: tuple[tuple[str, str], ...] = (("locomotive", "scale"), ("locomotive", "weight"))


class Fault(NamedTuple):
    """One mistake: where, and the rest of the sentence."""

    loc: tuple[str | int, ...]
    words: str
    missing: bool = False
    #: Other places that it rests on: where one of them is only assumed, nothing contradicts.
    rests_on: tuple[tuple[str | int, ...], ...] = ()
    #: Of a key that is spelled wrong: the right one.
    meant: tuple[str | int, ...] = ()


def refuse(path: Path | str, faults: Iterable[Fault], text: str | None):
    """Raise all mistakes, the first with the count of the others; what is missing comes last.

    A key that is spelled wrong is unknown and missing at once, and the spelling is
    what he must see.
    """
    lines = line_numbers(text) if text is not None else {}
    faults = list(faults)
    meant = {fault.meant for fault in faults}
    told = (fault for fault in faults if not (fault.missing and fault.loc in meant))
    order = sorted(told, key=lambda fault: (fault.missing, _line(lines, fault.loc) or 1e9))
    if not order:
        return
    each = [_told(path, fault, lines) for fault in order]
    where, words = each[0]
    more = f" (and {len(each) - 1} more)" if len(each) > 1 else ""
    space = LONGEST - len(where) - len(more)
    first = where + (words if len(words) <= space else f"{words[: space - 1]}…") + more
    raise SheetError(first, (f"{where}{words}" for where, words in each))


def _told(path, fault: Fault, lines) -> tuple[str, str]:
    """Where a mistake stands, and what it is."""
    # A table that is nowhere has no line.
    line = None if fault.missing and find(fault.loc).table else _line(lines, fault.loc)
    where = f"{path}, line {line}: " if line else f"{path}: "
    return where, f"{dotted(fault.loc)}{' ' if fault.words[:1] != ':' else ''}{fault.words}"


def faults_of(error: ValidationError, data: dict[str, Any]) -> list[Fault]:
    """Every mistake that the validator found, in our words."""
    return [_fault(detail, data) for detail in error.errors(include_url=False)]


def _fault(detail, data):
    loc, kind = detail["loc"], detail["type"]
    if kind == "extra_forbidden":
        near = _near(loc)
        return Fault(loc, _unknown(loc), meant=(*loc[:-1], near[0]) if near else ())
    if kind == "missing":
        return Fault(loc, missing_words(loc), missing=True)
    key, value = find(loc), _value(data, loc)
    if value == "":
        out = "" if loc in LEAST else ", or take the line out"
        return Fault(loc, f"is still blank; write {_expected(loc, key)}{out}")
    if kind == "value_error":
        return Fault(loc, f": {detail['ctx']['error']}")
    if kind in {"too_long", "too_short"} and isinstance(value, list):
        return Fault(loc, f"has {len(value)} entries; write {_expected(loc, key)}")
    return Fault(loc, f"= {units.written(value)}: write {_expected(loc, key)}{_like(key, value)}")


def _expected(loc, key):
    """What must stand at a place; inside a list that is one element."""
    return key.one if isinstance(loc[-1], int) else key.expected


def _like(key, value):
    """The option that was perhaps meant."""
    near = difflib.get_close_matches(str(value), key.options, n=1, cutoff=0.5)
    return f'; did you mean "{near[0]}"?' if near else ""


def missing_words(loc) -> str:
    """What a missing key is, and what to write."""
    key = find(loc)
    if key.kind == "table":
        header = f"[[{dotted(loc)}]]" if key.many else f"[{dotted(loc)}]"
        return f"is missing; the sheet needs a table {header}"
    words = f" ({key.words})" if key.words else ""
    return f"is missing{words}; write {key.expected}"


def _unknown(loc):
    """The nearest right key, or the table in which the key is at home."""
    name = str(loc[-1])
    here = find(loc[:-1]).table or BenchSheet
    if near := _near(loc):
        return f"is not a key of a bench sheet; did you mean {near[0]}?"
    homes = [table for table, model in tables().items() if table and name in keys(model)]
    mine = dotted(loc[:1])
    homes.sort(key=lambda home: not home.startswith(mine))
    if homes:
        return f"does not belong here; {name} is a key of [{homes[0]}]"
    table = f"[{dotted(loc[:-1])}]" if len(loc) > 1 else "the top of the sheet"
    return f"is not a key of a bench sheet; {table} takes {', '.join(keys(here))}"


def _near(loc) -> list[str]:
    """The key of its table that is spelled most like it, if any."""
    here = find(loc[:-1]).table or BenchSheet
    return difflib.get_close_matches(str(loc[-1]), keys(here), n=1, cutoff=0.6)


def _value(data, loc):
    for part in loc:
        data = data[part]
    return data


_HEADER = re.compile(r"\s*(\[\[?)\s*([\w\-.\s\"']+?)\s*\]\]?\s*(?:#.*)?$")
_ENTRY = re.compile(r"\s*([\w\-.\s\"']+?)\s*=")


def line_numbers(text: str) -> dict[tuple[str | int, ...], int]:
    """The line of each table and key, counted from one.

    TOML readers keep no positions of what they accept, so this looks at the lines
    themselves; an unusual layout costs the line number, never the message.
    """
    found: dict[tuple[str | int, ...], int] = {}
    count: dict[tuple[str | int, ...], int] = {}
    table: tuple[str | int, ...] = ()
    inside = False
    for number, line in enumerate(text.splitlines(), 1):
        opens = line.count('"""') % 2 or line.count("'''") % 2
        if inside:
            inside = not opens
            continue
        inside = bool(opens)
        if header := _HEADER.match(line):
            table = _place(header[2], count, header[1] == "[[")
            _note(found, table, 0, number)
        elif entry := _ENTRY.match(line):
            _note(found, table + _parts(entry[1]), len(table), number)
    return found


def _note(found, place, known, number):
    """Note the line of a place and of what it makes on the way."""
    for end in range(known + 1, len(place) + 1):
        found.setdefault(place[:end], number)


def _parts(name):
    return tuple(part.strip(" \t\"'") for part in name.split("."))


def _place(name, count, many):
    """The place of a header; ``[[...]]`` begins the next table of a list."""
    place: tuple[str | int, ...] = ()
    parts = _parts(name)
    for depth, part in enumerate(parts, 1):
        place += (part,)
        if many and depth == len(parts):
            count[place] = count.get(place, -1) + 1
        if place in count:
            place += (count[place],)
    return place


def _line(lines, loc):
    """The line of a place, or of the nearest table or key around it."""
    for end in range(len(loc), 0, -1):
        if loc[:end] in lines:
            return lines[loc[:end]]
    return None
