"""Reads the handbook's docstrings: which unit each argument and result promises."""

import re

from mechkit.publish.entries import described, sections

__all__ = ["sections", "units"]
_UNIT = re.compile(r"\[([^\]]+)\]")


def units(function, section):
    """Name -> unit, for the Parameters or Returns of a docstring."""
    found = {}
    for name, words in described(function, section):
        unit = _UNIT.search(words)
        found[name] = unit[1] if unit else None
    return found
