"""From the text of a file to plain tables, or one line that says where it stops being TOML."""

import re
import tomllib
from pathlib import Path
from typing import Any

from mechkit.drive.sheet.faults import SheetError

#: On longer lines a TOML reader can take for ever.
LONGEST_LINE = 500
#: What some editors put in front of UTF-8 text.
MARK = "\ufeff"


def parse(text: str, path: Path | str) -> dict[str, Any]:
    """The tables of a sheet as they are written, not yet checked."""
    lines = text.splitlines()
    for number, line in enumerate(lines, 1):
        if len(line) > LONGEST_LINE:
            raise SheetError(
                f"{path}, line {number}: is {len(line)} characters long; "
                f"no line of a bench sheet needs more than {LONGEST_LINE}"
            )
    try:
        return tomllib.loads(text.removeprefix(MARK))
    except RecursionError:
        raise SheetError(f"{path}: brackets within brackets, too deep for a bench sheet") from None
    except ValueError as error:
        raise SheetError(f"{path}{_place_and_cause(str(error), lines)}") from None


def _place_and_cause(words: str, lines: list[str]) -> str:
    """Line, column, and what usually stands behind the reader's complaint."""
    found = re.search(r" \(at (?:line (\d+), column (\d+)|end of document)\)$", words)
    if not found:
        return f": {words}"
    said = words[: found.start()]
    if not found[1]:
        last = f", line {len(lines)}, column {len(lines[-1]) + 1}: " if lines else ": "
        return f"{last}the file ends too early ({said}); is half of it missing?"
    line = lines[int(found[1]) - 1] if int(found[1]) <= len(lines) else ""
    return f", line {found[1]}, column {found[2]}: {_cause(said, line.strip())}"


def _cause(said: str, line: str) -> str:
    key, _, value = (part.strip() for part in line.partition("="))
    key = key[:60]
    if line[:1] == "[" and ("twice" in said or "overwrite" in said):
        return f"{line[:60]} is given twice; keep one of the two"
    if "overwrite" in said:
        return f"{key} is given twice; keep one of the two"
    if value[:1] in {"“", "”", "„", "«", "‘", "’"}:
        hint = 'write straight quotes, as "2.0 mm"'
    elif value.count('"') % 2:
        hint = "is a closing quote missing?"
    elif re.match(r"[+-]?[0-9]+,[0-9]", value):
        hint = "write the decimal point as a dot"
    elif re.match(r"[+-]?[.0-9]", value):
        hint = 'write quantities in quotes with their unit, as "2.0 mm"'
    elif re.match(r"(true|false|yes|no)\b", value, re.IGNORECASE):
        hint = "write true or false in small letters"
    elif not value or value[0] == "#":
        hint = 'something must stand behind the equals sign, as "2.0 mm"'
    elif value[:1].isalpha():
        hint = "write text in quotes"
    else:
        return f"{line[:60]} is not TOML ({said})"
    return f"{line[:60]} cannot be read; {hint}"
