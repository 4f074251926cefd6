"""The user's file: its keys, units and faults, read, changed and saved."""

from mechkit.drive.sheet.engines import on_bench
from mechkit.drive.sheet.store import DEMO, Sheet, SheetError, begin, demo, load

__all__ = ["DEMO", "Sheet", "SheetError", "begin", "demo", "load", "on_bench"]
