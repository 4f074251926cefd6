"""Which engine lies on the bench: one note beside the notebooks, that every page reads."""

import contextlib
import os
from pathlib import Path

from mechkit.drive.sheet import files
from mechkit.drive.sheet.faults import SheetError
from mechkit.drive.sheet.store import DEMO, Sheet, demo, load

#: The note: the path of a bench sheet in one line.
NOTE = DEMO.with_name(".on_the_bench")
#: Set to ``demo`` the note is not read: tests have the demo on the bench, whatever lies there.
FIXED = "MECHKIT_ON_BENCH"


def path() -> Path | None:
    """Where the sheet of the engine on the bench lies; None for the demo."""
    if os.environ.get(FIXED) == "demo":
        return None
    try:
        said = NOTE.read_text("utf-8").strip()
    except (OSError, ValueError):
        return None
    return NOTE.parent / said if said else None


def put(sheet: str | Path | None) -> None:
    """Put an engine on the bench, or with None the demo."""
    if sheet is None:
        with contextlib.suppress(OSError):
            NOTE.unlink(missing_ok=True)
        return
    with files.whole(NOTE, f"{Path(sheet).resolve()}\n".encode()) as fresh:
        fresh.replace(NOTE)


def on_bench(drawer: bool = False) -> Sheet:
    """The bench sheet of the engine on the bench; the demo's where there is none, or it says too little.

    With ``drawer`` one that has motors and gears to choose from.
    """
    there = path()
    if there is None or not there.exists():
        return demo()
    try:
        found = load(there)
    except SheetError as error:
        print(f"{error}\nUntil that is mended, the demo lies on the bench.")
        return demo()
    stock = found.data.stock
    if drawer and not (stock.motors and stock.gear_sets):
        print(f"No motors and gear sets under stock in {there.name}: the demo lies on the bench.")
        return demo()
    return found


def engines() -> list[Path]:
    """Every bench sheet beside the notebooks, the demo first; and the one on the bench."""
    here = sorted(one for one in NOTE.parent.glob("*.toml") if one.name != "blank_sheet.toml")
    there = path()
    found = [DEMO, *(one for one in here if one != DEMO)]
    return [*found, there] if there and there not in found and there.exists() else found
