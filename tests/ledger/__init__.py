"""The ledger of outside values: one file a page of the handbook, one row a value.

A row names the formula, its inputs with units, what is expected, how close (``within``,
relative, half of the last printed digit unless ``reason`` says why wider) and where the value
comes from.  A published one names its ``source``, a key of ``sources.toml``, and ``where`` in
it; any other says ``how`` it was come by.  A computation is run, not copied: ``computed_by``
names a function under `tests.independent` that is called with the same inputs.

``provenance`` says how much a row is worth:

- *published*: the value stands at that place;
- *published, worked on by hand*: the rule stands there, or numbers of which ours is made;
- *independent computation*: another way there, by a general-purpose library;
- *same formula, other words*: the same expression once more; it finds slips, no wrong physics;
- *common practice, no source*; *from memory*: nobody can go and look.

``read_again`` marks what was read once more at its source when the sources were written
down; without it, only whoever wrote the row has seen the place.  ``errs`` says to which side
of a fuller theory or of a measurement the formula is known to lie: "high: ..." or "low: ...".
"""

import importlib
import tomllib
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from mechkit import names, units
from tests import docstrings

PRINTED = ("published", "published, worked on by hand")
PROVENANCE = (
    *PRINTED,
    "independent computation",
    "same formula, other words",
    "common practice, no source",
    "from memory",
)
SOURCES = Path(__file__).parent / "sources.toml"


@dataclass(frozen=True)
class Source:
    """What to look for on the shelf."""

    title: str
    kind: str
    author: str = ""
    edition: str = ""
    address: str = ""

    def __str__(self):
        return ", ".join(filter(None, (self.author, self.title, self.edition)))


@dataclass(frozen=True)
class Row:
    """One outside value."""

    formula: str
    inputs: dict[str, Any]
    provenance: str
    within: float
    source: str = ""
    where: str = ""
    how: str = ""
    read_again: bool = False
    expected: Any = None
    computed_by: str = ""
    reason: str = ""
    errs: str = ""
    note: str = ""
    arguments: dict[str, Any] = field(default_factory=dict)

    @property
    def function(self):
        """The handbook function that the row checks."""
        topic, name = self.formula.split(".")
        return getattr(importlib.import_module(f"mechkit.{topic}"), name)


def si(text, unit):
    """A ledger quantity in SI; numbers are plain, lists are read one by one."""
    if isinstance(text, list):
        return [si(one, unit) for one in text]
    if isinstance(text, str):
        return units.read(text, unit).value
    return text


@cache
def sources():
    """Every source by its key."""
    found = tomllib.loads(SOURCES.read_text("utf-8"))
    return {key: Source(**entry) for key, entry in found.items()}


@cache
def rows():
    """Every row of every ledger file, inputs turned into SI arguments."""
    found = []
    for path in sorted({*SOURCES.parent.rglob("*.toml")} - {SOURCES}):
        for number, row in enumerate(tomllib.loads(path.read_text("utf-8"))["row"], 1):
            try:
                topic = row["formula"].split(".")[0]
                arguments = {
                    name: text
                    if names.entry(name, topic).words.startswith("tolerance class")
                    else si(text, names.entry(name, topic).unit)
                    for name, text in row["inputs"].items()
                }
                found.append(Row(**row, arguments=arguments))
            except (KeyError, TypeError, ValueError) as error:
                raise ValueError(f"{path.name}, row {number}: {error}") from error
    return found


def ours(row):
    """What the handbook says."""
    return row.function(
        **{
            name: np.array(value) if isinstance(value, list) else value
            for name, value in row.arguments.items()
        }
    )


def theirs(row):
    """What the outside says, in SI."""
    if row.computed_by:
        module, name = row.computed_by.split(":")
        return getattr(importlib.import_module(f"tests.independent.{module}"), name)(
            **row.arguments
        )
    promised = list(docstrings.units(row.function, "Returns").values())
    if len(promised) > 1:
        return tuple(si(one, unit) for one, unit in zip(row.expected, promised, strict=True))
    return si(row.expected, promised[0])


def side_by_side(ours, theirs):
    """Each result of a formula and what the outside says, as arrays of one shape."""
    pairs = zip(ours, theirs, strict=True) if isinstance(ours, tuple) else [(ours, theirs)]
    every = (np.broadcast_arrays(*map(np.asarray, pair)) for pair in pairs)
    return list(zip(*every, strict=True))


def difference(ours, theirs):
    """The largest difference, relative where what the outside says is not nothing."""
    return max(
        float(np.max(np.abs(one - other) / np.where(other == 0, 1, np.abs(other))))
        for one, other in zip(*side_by_side(ours, theirs), strict=True)
    )
