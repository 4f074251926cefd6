"""What the schema says about each key of a bench sheet, in words a person reads.

The error messages and the blank template both ask here, so they cannot tell two stories.
"""

import types
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, Union, get_args, get_origin

from mechkit import units
from mechkit.drive.sheet.quantities import Range
from mechkit.drive.sheet.schema import BenchSheet, Table


@dataclass(frozen=True)
class Key:
    """One key of one table."""

    name: str
    words: str
    required: bool
    default: Any
    kind: str  # "quantity", "whole", "number", "yes", "choice", "text" or "table"
    many: bool = False
    range: Range | None = None
    options: tuple[str, ...] = ()
    low: float | None = None
    high: float | None = None
    table: type[Table] | None = None

    @property
    def one(self) -> str:
        """What a single value must be."""
        if self.kind == "quantity" and self.range:
            return units.wanted(self.range.unit)
        if self.kind == "choice":
            return "one of " + ", ".join(f'"{option}"' for option in self.options)
        if self.kind in {"whole", "number"}:
            word = "a whole number" if self.kind == "whole" else "a plain number"
            return f"{word}{_between(self.kind, self.low, self.high)}"
        if self.kind == "yes":
            return "true or false, without quotes"
        if self.kind == "text":
            return f"text in quotes, at most {self.high:g} characters"
        return "a table with keys of its own"

    @property
    def expected(self) -> str:
        """What must stand behind the equals sign."""
        if not self.many:
            return self.one
        if self.kind == "table":
            return f"a list of {_count(self.low, self.high)}tables, each under [[...]]"
        return f"a list in square brackets, {_count(self.low, self.high)}each {self.one}"


def _between(kind, low, high):
    return (
        f" {'from' if kind == 'whole' else 'above'} {low:g} to {high:g}" if low is not None else ""
    )


def _count(low, high):
    if low is None:
        return ""
    return f"{low:g} to {high:g} " if high is not None else f"at least {low:g} "


def _limits(metadata):
    """Lowest and highest value, or count, or length, from a field's constraints."""
    found = {
        side: next((getattr(m, n) for m in metadata for n in names if hasattr(m, n)), None)
        for side, names in (
            ("low", ("ge", "gt", "min_length")),
            ("high", ("le", "lt", "max_length")),
        )
    }
    return found["low"], found["high"]


def _bare(kind, metadata):
    """A field's type without its optional half, its list and its annotations."""
    metadata, many = list(metadata), False
    while True:
        origin, inner = get_origin(kind), get_args(kind)
        if origin in {Union, types.UnionType}:
            kind = next(part for part in inner if part is not type(None))
        elif origin is list:
            kind, many = inner[0], True
        elif hasattr(kind, "__metadata__"):
            metadata += kind.__metadata__
            kind = inner[0]
        else:
            return kind, metadata, many


def _key(name, field):
    kind, metadata, many = _bare(field.annotation, field.metadata)
    low, high = _limits(metadata)
    common = {
        "name": field.alias or name, "words": field.description or "", "many": many,
        "required": field.is_required(), "default": field.default, "low": low, "high": high,
    }  # fmt: skip
    reach = next((m for m in metadata if isinstance(m, Range)), None)
    if reach:
        return Key(**common, kind="quantity", range=reach)
    if get_origin(kind) is Literal:
        return Key(**common, kind="choice", options=get_args(kind))
    if isinstance(kind, type) and issubclass(kind, Table):
        return Key(**common, kind="table", table=kind)
    return Key(**common, kind={bool: "yes", int: "whole", float: "number", str: "text"}[kind])


@cache
def keys(table: type[Table]) -> dict[str, Key]:
    """The keys of a table, by the name that stands in the file."""
    made = (_key(name, field) for name, field in table.model_fields.items())
    return {key.name: key for key in made}


def find(loc: tuple[str | int, ...]) -> Key:
    """The key at a place such as ``("planned", "gears", 1, "teeth")``."""
    key = Key(name="", words="", required=True, default=None, kind="table", table=BenchSheet)
    for part in loc:
        if isinstance(part, str):
            key = keys(key.table or Table)[part]
    return key


@cache
def tables() -> dict[str, type[Table]]:
    """Every table of the sheet by its dotted name; lists of tables end in ``[]``."""
    return {"": BenchSheet, **dict(_tables(BenchSheet, ""))}


def _tables(table, above) -> Iterator[tuple[str, type[Table]]]:
    for key in keys(table).values():
        if key.table:
            name = f"{above}{key.name}{'[]' if key.many else ''}"
            yield name, key.table
            yield from _tables(key.table, f"{name}.")


def loc_of(place: str) -> tuple[str | int, ...]:
    """The other way round.

    >>> loc_of("planned.gears[2].teeth")
    ('planned', 'gears', 1, 'teeth')
    """
    loc: tuple[str | int, ...] = ()
    for part in place.split("."):
        name, _, number = part.rstrip("]").partition("[")
        loc += (name, int(number) - 1) if number else (name,)
    return loc


def dotted(loc: tuple[str | int, ...]) -> str:
    """A place as a person writes it, counted from one.

    >>> dotted(("planned", "gears", 1, "teeth"))
    'planned.gears[2].teeth'
    """
    text = ""
    for part in loc:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}"
    return text.removeprefix(".")


def bare(place: str) -> str:
    """A place without the numbers of its lists."""
    return ".".join(part.partition("[")[0] for part in place.split("."))
