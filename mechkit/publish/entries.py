"""What the handbook knows of each formula, gathered: entry, equation, outside values, notebooks."""

import importlib
import inspect
import json
import re
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from mechkit import derivations, equations, names

ROOT = Path(__file__).resolve().parents[2]
LEDGER, NOTEBOOKS = ROOT / "tests" / "ledger", ROOT / "notebooks"
_SECTION = re.compile(r"^(?P<title>[A-Z][A-Za-z ]+)\n-{3,}$", re.M)
_ENTRY = re.compile(r"^(?P<names>\w+(?:, \w+)*) : (?P<kind>.+)\n(?P<text>(?:[ ]{4}.*\n?)+)", re.M)


def sections(function: Callable) -> dict[str, str]:
    """The numpydoc sections of a docstring, by title; the head is under ``""``."""
    text = inspect.cleandoc(function.__doc__ or "")
    parts = _SECTION.split(text)
    return {"": parts[0], **dict(zip(parts[1::2], parts[2::2], strict=True))}


def described(function: Callable, section: str) -> Iterator[tuple[str, str]]:
    """Each name of a section's list with its words."""
    for found in _ENTRY.finditer(sections(function).get(section, "") + "\n"):
        words = " ".join(found["text"].split())
        for name in found["names"].split(", "):
            yield name, words


@dataclass(frozen=True)
class Value:
    """One outside value: what was put in, what must come out, and who says so."""

    inputs: str
    expected: str
    within: str
    origin: str
    provenance: str


@dataclass(frozen=True)
class Formula:
    """Everything about one formula but its derivation."""

    topic: str
    name: str
    function: Callable

    @property
    def title(self) -> str:
        """The formula in one sentence."""
        return " ".join(sections(self.function)[""].split())

    @property
    def called(self) -> str:
        """Its name in words."""
        return self.name.replace("_", " ")

    @property
    def lines(self) -> list[str]:
        """Its equation."""
        return equations.lines(self.topic, self.name)

    @property
    def solved_for(self) -> str:
        """The result, where the equation is solved for it; else nothing."""
        left = self.lines[0].partition(" = ")[0] if self.lines else ""
        return self.results[0][0] if left in dict(self.arguments) else ""

    @property
    def arguments(self) -> list[tuple[str, str]]:
        """What goes in: name, and words with unit and range."""
        return list(described(self.function, "Parameters"))

    @property
    def results(self) -> list[tuple[str, str]]:
        """What comes out."""
        return list(described(self.function, "Returns"))

    @property
    def notes(self) -> str:
        """Where it holds, where it stops, and its source."""
        return sections(self.function)["Notes"].strip()

    @property
    def example(self) -> str:
        """Worked with numbers from the bench."""
        return sections(self.function)["Examples"].strip()

    @property
    def values(self) -> list[Value]:
        """What holds it from outside."""
        return _ledger().get(f"{self.topic}.{self.name}", [])

    @property
    def counted(self) -> str:
        """Its outside values by how much they are worth."""
        counts = Counter(value.provenance for value in self.values)
        return ", ".join(f"{number} {kind}" for kind, number in counts.most_common())

    @property
    def notebooks(self) -> list[tuple[str, str]]:
        """File and title of each notebook that shows or calls it."""
        asked = re.compile(rf"\b{self.topic}\.{self.name}\(|\"{self.topic}\", \"{self.name}\"")
        return [(file, title) for file, title, code in _notebooks() if asked.search(code)]


def formulas(topic: str) -> list[Formula]:
    """The formulas of one chapter, page by page."""
    return [Formula(topic, name, f) for name, f in derivations.public_functions(topic).items()]


def head(topic: str) -> tuple[str, str]:
    """A chapter's title and what its first line adds."""
    title, _, rest = _entry_of(topic).partition("\n")[0].rstrip(".").partition(":")
    rest = re.sub(r";[^;]*`.*", "", rest).strip()
    return title, f"{rest[:1].upper()}{rest[1:]}." if rest else ""


def _entry_of(place: str) -> str:
    """What a chapter or a page of it says on top."""
    return inspect.getdoc(importlib.import_module(f"mechkit.{place}")) or ""


def cautions(topic: str) -> list[str]:
    """What the chapter's pages warn of."""
    return [
        " ".join(found.split())
        for page in derivations.pages(topic)
        for found in re.findall(r"Caution: ((?:.+\n?)+)", _entry_of(page))
    ]


@cache
def _ledger() -> dict[str, list[Value]]:
    """The outside values of each formula; none where the tests do not lie beside the kit."""
    found: dict[str, list[Value]] = {}
    shelf = LEDGER / "sources.toml"
    if not shelf.is_file():
        return found
    sources = tomllib.loads(shelf.read_text("utf-8"))
    for path in sorted({*LEDGER.rglob("*.toml")} - {shelf}):
        for row in tomllib.loads(path.read_text("utf-8"))["row"]:
            found.setdefault(row["formula"], []).append(_value(row, sources))
    return found


def _value(row: dict[str, Any], sources: dict[str, dict[str, str]]) -> Value:
    topic = row["formula"].split(".")[0]
    inputs = ", ".join(f"{name} {_quantity(name, it, topic)}" for name, it in row["inputs"].items())
    if "source" in row:
        book = sources[row["source"]]
        parts = (book.get("author"), book["title"], book.get("edition"), row["where"])
        origin = ", ".join(filter(None, parts))
    else:
        origin = row["how"]
    expected = row.get("expected")
    return Value(
        inputs=inputs.replace("_", " "),
        expected="computed anew" if expected is None else _plain(expected),
        within=f"{100 * row['within']:.2g} %",
        origin="; ".join(filter(None, (origin, row.get("reason"), row.get("note")))),
        provenance=row["provenance"],
    )


def _quantity(name: str, it: Any, topic: str) -> str:
    unit = "" if isinstance(it, str | list) else names.entry(name, topic).unit
    return f"{_plain(it)} {unit}".removesuffix(" -").strip()


def _plain(it: Any) -> str:
    """A quantity as the ledger writes it."""
    if isinstance(it, list):
        return " · ".join(map(_plain, it))
    return it if isinstance(it, str) else f"{it:.6g}"


@cache
def _notebooks() -> list[tuple[str, str, str]]:
    """Each notebook: its file, its title, its code."""
    found = []
    for path in sorted(NOTEBOOKS.glob("*.ipynb")):
        cells = json.loads(path.read_text("utf-8"))["cells"]
        title = "".join(cells[0]["source"]).partition("\n")[0].lstrip("# ")
        code = "\n".join("".join(c["source"]) for c in cells if c["cell_type"] == "code")
        found.append((path.name, title, code))
    return found
