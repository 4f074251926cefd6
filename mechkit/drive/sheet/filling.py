"""A sheet that is filled in box by box: what is sound stands in the file at once, the rest waits."""

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from mechkit.drive.sheet.faults import SheetError
from mechkit.drive.sheet.keys import Key, dotted, find, keys, loc_of
from mechkit.drive.sheet.store import Sheet, begin, value_in
from mechkit.drive.sheet.syntax import parse
from mechkit.drive.sheet.typed import written
from mechkit.units import QuantityError, System

#: A key of the sheet within a sentence.
_KEY = re.compile(r"\b[a-z_]+(?:\[[0-9]+\])?(?:\.[a-z_]+(?:\[[0-9]+\])?)+")


@dataclass
class Filling:
    """An evening's entries into one file.

    ``faults`` says of a box what is wrong with it, in one line; ``waits`` what was typed into
    boxes that are not in the file: at fault, or of a table that is not whole yet.
    """

    sheet: Sheet
    faults: dict[str, str] = field(default_factory=dict)
    waits: dict[str, str] = field(default_factory=dict)
    #: Sheets before each entry, to go back to.
    before: list[Sheet] = field(default_factory=list)
    #: What keeps the file from being written, in one line.
    unsaved: str = ""
    _saved: bool = False

    @classmethod
    def of(cls, path: str | Path) -> "Filling":
        """Begin with a file, or with one that is not there yet."""
        return cls(begin(path))

    def enter(self, typed: dict[str, str], system: System = "metric") -> None:
        """Put typed texts into their boxes; what is sound goes into the file."""
        for place, text in typed.items():
            self.faults.pop(place, None)
            self.waits[place] = text
        ready = self._ready(system)
        if ready and not self._take(ready):
            # together they clash, or one of them is wrong: each for itself
            for some in self._apart(ready):
                self._take(some)
        self._save()

    def undo(self) -> None:
        """Take the last entry back."""
        if self.before:
            self.sheet = self.before.pop()
            self.faults.clear()
            self.waits.clear()
            self._save()

    def take_out(self, place: str) -> None:
        """Take one table out of its list, as a run that does not belong."""
        self.waits = {key: text for key, text in self.waits.items() if not key.startswith(place)}
        self.faults = {key: text for key, text in self.faults.items() if not key.startswith(place)}
        if value_in(self._text, loc_of(place)) is not None and self._take({place: None}):
            self._save()

    def again(self) -> None:
        """Read the file again, after other hands have been at it."""
        fresh = Filling.of(self.sheet.path)
        self.sheet, self.faults, self.waits, self.unsaved = fresh.sheet, {}, {}, ""
        self.before.clear()

    @property
    def _text(self) -> dict[str, Any]:
        return parse(self.sheet.text, self.sheet.path)

    def _ready(self, system: System) -> dict[str, Any]:
        """What waits and can go into the file: sound for itself, in a table that is whole."""
        found: dict[str, Any] = {}
        for place, text in self.waits.items():
            if place in self.faults:
                continue
            key = find(loc_of(place))
            value = written(text, key, system)
            if fault := _alone(value, key):
                self.faults[place] = fault
            else:
                found[place] = value
        there = self._text
        for table in {place.rpartition(".")[0] for place in found}:
            loc = loc_of(table)
            if isinstance(loc[-1], int) and not self._whole(loc, there, found):
                found = {p: v for p, v in found.items() if p.rpartition(".")[0] != table}
        for place in [p for p, v in found.items() if v is None]:
            if value_in(there, loc_of(place)) is None:
                del found[place], self.waits[place]
        return found

    def _whole(self, loc, there, found) -> bool:
        """Whether a table of a list has all that it needs, or is in the file already."""
        if value_in(there, loc) is not None or not any(
            found[place] is not None for place in found if loc_of(place)[:-1] == loc
        ):
            return True
        if loc[-2] == "gears":
            return True  # what a gear lacks stands in
        needed = {name for name, key in keys(find(loc).table).items() if key.required}  # type: ignore[arg-type]
        return all(found.get(f"{dotted(loc)}.{name}") is not None for name in needed)

    def _apart(self, ready: dict[str, Any]) -> list[dict[str, Any]]:
        """What is ready, one table of a list or one key at a time."""
        apart: dict[str, dict[str, Any]] = {}
        for place, value in ready.items():
            table = place.rpartition(".")[0]
            apart.setdefault(table if table.endswith("]") else place, {})[place] = value
        return list(apart.values())

    def _take(self, ready: dict[str, Any]) -> bool:
        """Put values into the sheet; what is wrong with them is noted at its box."""
        try:
            fresh = self.sheet.with_values(ready)
        except SheetError as error:
            self._note(error, list(ready))
            return False
        self.before.append(self.sheet)
        self.sheet = fresh
        for place in ready:
            self.waits.pop(place, None)
            self.faults.pop(place, None)
        return True

    def _note(self, error: SheetError, places: list[str]) -> None:
        for line in error.each:
            words = line.removeprefix(f"{self.sheet.path}: ")
            at = next((place for place in places if words.startswith(place)), places[-1])
            self.faults[at] = _KEY.sub(_in_words, words.removeprefix(at).lstrip(":= "))

    def _save(self) -> None:
        """Write the file; the one that was there at the beginning is kept once."""
        try:
            if self.sheet.text.strip() or self.sheet.path.exists():
                self.sheet.save(backup=not self._saved)
                self._saved = True
            self.unsaved = ""
        except SheetError as error:
            self.unsaved = str(error)


def _in_words(key: re.Match[str]) -> str:
    """A key as the page calls it."""
    try:
        words = find(loc_of(key[0])).words
    except KeyError:
        return key[0]
    return f"“{words}”" if words else key[0]


def _alone(value: Any, key: Key) -> str:
    """What is wrong with a value for itself, in one line; empty where nothing is."""
    if key.range is None or value is None:
        return ""
    try:
        for one in value if isinstance(value, list) else [value]:
            key.range.read(one)
    except QuantityError as error:
        return str(error)
    return ""
