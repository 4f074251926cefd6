"""The bench sheet: read, checked, changed and written; the file is never half written or lost.

Text becomes a table by the TOML readers, a table becomes a sheet by the schema; nothing in
the file is ever evaluated.  Everything that can be wrong is a `SheetError` of one line.
"""

import copy
import re
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

import tomlkit
from pydantic import ValidationError
from tomlkit.exceptions import TOMLKitError

import mechkit
from mechkit import units
from mechkit.drive.sheet import files
from mechkit.drive.sheet.clash import value_at
from mechkit.drive.sheet.complete import (
    NONE,
    complete,
    known_part,
    lacking,
    stood_in,
    whole,
    without_none,
)
from mechkit.drive.sheet.contradictions import contradictions
from mechkit.drive.sheet.faults import Fault, SheetError, faults_of, refuse
from mechkit.drive.sheet.keys import dotted, find, loc_of
from mechkit.drive.sheet.schema import BenchSheet
from mechkit.drive.sheet.syntax import MARK, parse

__all__ = ["Sheet", "SheetError", "begin", "demo", "load"]

DEMO = Path(mechkit.__file__).parent.parent / "notebooks" / "ten_wheeler.toml"
#: What a sheet that is being written is checked with until it says so itself; nothing is computed.
UNSAID = {"scale": 87, "weight": "50 kg"}
_KEY = re.compile(r"[A-Za-z_]+(\[[1-9][0-9]{0,3}\])?(\.[A-Za-z_]+(\[[1-9][0-9]{0,3}\])?)*")


@dataclass(frozen=True)
class Sheet:
    """A bench sheet: where it lies, its text with comments, and what it says.

    Sheets do not change; `with_value` makes a new one.
    """

    path: Path
    text: str = field(repr=False)
    data: BenchSheet = field(repr=False)
    #: What this and every sheet made from it last saw in the file, to notice other hands.
    seen: dict[Path, bytes] = field(repr=False, compare=False)
    #: Whether it may still lack what nothing stands in for: a sheet that is being written.
    begun: bool = field(default=False, compare=False)

    @property
    def lacks(self) -> tuple[str, ...]:
        """The keys without which nothing is computed, of a sheet that is being written."""
        given = known_part(parse(self.text, self.path)) if self.begun else {}
        return tuple(dotted(fault.loc) for fault in lacking(given)) if self.begun else ()

    @property
    def document(self) -> tomlkit.TOMLDocument:
        """The TOML document with its comments, made anew at each call."""
        text = self.text.removeprefix(MARK)
        try:
            # of a sheet that is being written the last one is seldom asked again
            return _written.pop(text, None) or copy.deepcopy(_document(text))
        except (TOMLKitError, RecursionError, ValueError) as error:
            raise SheetError(f"{self.path} can be read but not changed: {error}") from None

    def with_value(self, key: str, value: Any) -> "Sheet":
        """A new sheet with one value changed, checked again; None takes an optional key out.

        The key is written as in the messages: ``"planned.gears[2].teeth"``.
        """
        return self.with_values({key: value})

    def with_values(self, values: dict[str, Any]) -> "Sheet":
        """A new sheet with several values changed together, checked once at the end."""
        wanted = parse(self.text, self.path)
        document, new = self.document, []
        for key, value in values.items():
            place = _place(key)
            value = _plain(value)
            if value is None and _only_inherited(wanted, place):
                value = NONE
            if value_in(wanted, place) is None:
                new.append(place)
            for root in (wanted, document):
                self._open(root, place)
                _put(root, place, copy.deepcopy(value), self.path)
        data = _checked(wanted, self.path, None, self.begun)
        for place in new:
            _explain(document, place)
        text = (MARK if self.text.startswith(MARK) else "") + tomlkit.dumps(document)
        if "\r\n" in self.text:
            text = re.sub(r"\r?\n", "\r\n", text)
        # The document is edited by a second reader of TOML; both must agree on the result.
        if parse(text, self.path) != wanted:
            raise SheetError(f"{self.path}: {', '.join(values)} cannot be changed in this layout")
        if self.begun:
            _written.clear()
            _written[text.removeprefix(MARK)] = document
        return Sheet(self.path, text, data, self.seen, self.begun)

    def _open(self, root, place):
        """Make the tables above a key that so far are inherited, stood in for, or not begun.

        One past the end of a list begins its next table.
        """
        for depth, part in enumerate(place[:-1], 1):
            if isinstance(part, str) and part not in root:
                found = value_at(self.data, place[:depth])
                if found is None and not self.begun:
                    return  # `_put` says so
                root[part] = _beginning(root, _is_list(place[:depth]), found)
            elif self.begun and isinstance(root, list) and part == len(root):
                root.append(tomlkit.table() if isinstance(root, tomlkit.items.AoT) else {})
            try:
                root = root[part]
            except (KeyError, IndexError, TypeError):
                return  # `_put` says so

    def save(self, path: str | Path | None = None, backup: bool = True) -> Path:
        """Write the sheet, whole or not at all; the older file is kept beside it as a backup.

        ``backup=False`` is for who keeps the older ones himself, as a page that can undo.

        Returns
        -------
        path : Path
            Where it was written.

        Raises
        ------
        SheetError
            The file was changed by other hands since it was read, or cannot be written.
        """
        target = files.target(self.path if path is None else path)
        files.replace(target, self._bytes, self.seen.get(target), backup)
        self.seen[target] = self._bytes
        return target

    def save_copy(self) -> Path:
        """Write the sheet beside its file under the next free name: ``NAME-copy.toml``, ``-copy-2``."""
        target = files.add_copy(files.target(self.path), self._bytes)
        self.seen[target] = self._bytes
        return target

    @property
    def _bytes(self) -> bytes:
        return self.text.encode("utf-8")


#: The document behind the last text of a sheet that is being written: the next entry goes on with it.
_written: dict[str, tomlkit.TOMLDocument] = {}


@lru_cache(maxsize=4)
def _document(text) -> tomlkit.TOMLDocument:
    """A text as a TOML document, to be copied: reading it takes twice as long as a copy."""
    return tomlkit.parse(text)


def load(path: str | Path) -> Sheet:
    """Read and check a bench sheet.

    Raises
    ------
    SheetError
        One line: the file, the key, what was read and what is wanted.
    """
    path = Path(path)
    raw, text = files.read_text(path)
    wanted = parse(text, path)
    if not wanted:
        raise SheetError(f"{path} is empty; a bench sheet begins as a copy of blank_sheet.toml")
    data = _checked(wanted, path, text)
    return Sheet(path.absolute(), text, data, {files.target(path): raw})


def begin(path: str | Path) -> Sheet:
    """A sheet that is being written: the file as far as it goes, or a new one that is not there yet.

    Raises
    ------
    SheetError
        One line: the file, the key, what was read and what is wanted.
    """
    path = Path(path)
    raw, text = files.read_text(path) if path.exists() else (None, "")
    data = _checked(parse(text, path), path, text, begun=True)
    seen = {} if raw is None else {files.target(path): raw}
    return Sheet(path.absolute(), text, data, seen, begun=True)


def demo() -> Sheet:
    """The bench sheet of the demo locomotive, from the notebooks' folder."""
    return load(DEMO)


def _checked(wanted, path, text, begun=False) -> BenchSheet:
    """Tables to a sheet, with stand-ins for what nobody measured; or every mistake, a line each."""
    given = known_part(wanted)
    if begun and isinstance(given.get("locomotive", {}), dict):
        given = {**given, "locomotive": {**UNSAID, **given.get("locomotive", {})}}
    plain = without_none(given)
    try:
        data = BenchSheet.model_validate(plain)
    except ValidationError as error:
        found = faults_of(error, plain)
        wrong = [fault for fault in found if not fault.missing] + lacking(given)
        if wrong:
            open_ = (fault for fault in found if fault.missing and not stood_in(fault.loc))
            refuse(path, [*wrong, *open_], text)
        data = _completed(given, path, text)
    refuse(path, (one for one in contradictions(data) if not _rests_on(one, data.assumed)), text)
    return data


def _completed(given, path, text) -> BenchSheet:
    filled, assumed = complete(given)
    try:
        data = BenchSheet.model_validate(filled)
    except ValidationError as error:
        refuse(path, faults_of(error, filled), text)
        raise SheetError(f"{path}: {error.error_count()} mistakes") from None
    return data.with_assumed({key: one.why for key, one in assumed.items()})


def _rests_on(fault: Fault, assumed) -> bool:
    """Whether a contradiction is with something that nobody measured."""

    def stands_in(place):
        inside = (f"{dotted(place)}.", f"{dotted(place)}[")
        above = (dotted(place[:end]) for end in range(1, len(place) + 1))
        return any(key in assumed for key in above) or any(
            key.startswith(inside) for key in assumed
        )

    return any(stands_in(place) for place in (fault.loc, *fault.rests_on))


def _only_inherited(wanted, place) -> bool:
    """Whether a part of the plan that is taken out would be inherited from the engine as it is."""
    if place[0] != "planned" or len(place) != 2 or place[1] not in wanted.get("as_is", {}):
        return False
    rest = {name: part for name, part in wanted.get("planned", {}).items() if name != place[1]}
    return not whole(rest)


def _plain(value):
    """What a file can hold: a reading by its text, an array's number as a number."""
    if isinstance(value, units.Reading):
        return value.text
    return value.item() if hasattr(value, "item") else value


def _place(key) -> tuple[str | int, ...]:
    """``"planned.gears[2].teeth"`` as a place; the key must be one that the schema knows."""
    if not _KEY.fullmatch(key):
        raise SheetError(f"{key!r} is not a key; write it as planned.gears[2].teeth")
    return loc_of(key)


def _beginning(root, many, found):
    """An empty table, or a list of tables with the names of those that it inherits."""
    if not many:
        return {}
    some = [
        one.text if isinstance(one, units.Reading) else {"name": one.name}
        for one in found or []
        if isinstance(one, units.Reading) or hasattr(one, "name")
    ]
    return some or ([] if type(root) is dict else tomlkit.aot())


def _is_list(place) -> bool:
    try:
        return find(place).many
    except KeyError:
        return False  # the check says that there is no such key


def value_in(root, place):
    """What stands at a place in tables; None where nothing does."""
    for part in place:
        try:
            root = root[part]
        except (KeyError, IndexError, TypeError):
            return None
    return root


def _explain(document, place):
    """Put the words of a key behind it, as the blank sheet does."""
    table = value_in(document, place[:-1])
    item = table.item(place[-1]) if isinstance(table, tomlkit.items.Table) else None
    words = find(place).words
    tables = tomlkit.items.Table | tomlkit.items.AoT
    if words and isinstance(item, tomlkit.items.Item) and not isinstance(item, tables):
        item.comment(words)


def _put(root, place, value, path):
    """Set, add or (None) take out the value at a place in tables or a document."""
    for depth, part in enumerate(place[:-1], 1):
        try:
            root = root[part]
        except (KeyError, IndexError, TypeError):
            raise SheetError(f"{path}: there is no {dotted(place[:depth])} in this sheet") from None
    last = place[-1]
    try:
        if value is None:
            del root[last]
        else:
            root[last] = value
    except (KeyError, IndexError, TypeError):
        raise SheetError(f"{path}: there is no {dotted(place)} in this sheet") from None
