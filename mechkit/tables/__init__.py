"""Data of the trade: one value a row, each with its source and place.

Every table is a CSV file beside this one with the columns ``name, property, value, unit,
source, where, note``.  ``source`` is a key of ``sources.toml``; ``where`` is a page, table
or clause; ``value`` is a number, or a range as ``124..310`` where books differ.
"""

import csv
import tomllib
from functools import cache
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).parent


class Row(NamedTuple):
    """One value with its source; ``low`` and ``high`` are equal where there is no range."""

    name: str
    property: str
    low: float
    high: float
    unit: str
    source: str
    where: str
    note: str


@cache
def rows(table):
    """All rows of a table, values in SI, in the order of the file."""
    from mechkit import units  # pint is slow to import and only needed once a table is read

    with (HERE / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        found = []
        for line in csv.DictReader(file):
            ends = [units.to_si(float(end), line["unit"]) for end in line["value"].split("..")]
            rest = {key: line[key] for key in ("name", "property", "source", "where", "note")}
            found.append(Row(low=ends[0], high=ends[-1], unit=line["unit"], **rest))
    return tuple(found)


@cache
def sources():
    """The list of sources: key -> what to look for on the shelf."""
    return tomllib.loads((HERE / "sources.toml").read_text("utf-8"))


@cache
def assumptions():
    """What stands in for a key of the bench sheet that nobody measured."""
    return tomllib.loads((HERE / "assumptions.toml").read_text("utf-8"))


@cache
def _index(table):
    found: dict[tuple[str, str], list[Row]] = {}
    for row in rows(table):
        found.setdefault((row.name, row.property), []).append(row)
    return found


def _rows_of(table, name, wanted):
    try:
        return _index(table)[name, wanted]
    except KeyError:
        names = sorted({row.name for row in rows(table) if row.property == wanted})
        raise ValueError(
            f"{table}: no {wanted} for {name!r}; there is {', '.join(names) or 'none'}"
        ) from None


def value(table, name, property):
    """The value of a property in SI; where books differ, the first row's low end."""
    return _rows_of(table, name, property)[0].low


def band(table, name, property):
    """The lowest and the highest value that the sources give, in SI."""
    found = _rows_of(table, name, property)
    return min(row.low for row in found), max(row.high for row in found)


def names(table):
    """The names in a table, in the order of the file."""
    return tuple(dict.fromkeys(row.name for row in rows(table)))
