"""Reads the handbook's docstrings: which unit each argument and result promises."""

import inspect
import re

_SECTION = re.compile(r"^(?P<title>[A-Z][A-Za-z ]+)\n-{3,}$", re.M)
_ENTRY = re.compile(r"^(?P<names>\w+(?:, \w+)*) : (?P<kind>.+)\n(?P<text>(?:[ ]{4}.*\n?)+)", re.M)
_UNIT = re.compile(r"\[([^\]]+)\]")


def sections(function):
    """The numpydoc sections of a docstring, by title; the head is under ``""``."""
    text = inspect.cleandoc(function.__doc__ or "")
    parts = _SECTION.split(text)
    return {"": parts[0], **dict(zip(parts[1::2], parts[2::2], strict=True))}


def units(function, section):
    """Name -> unit, for the Parameters or Returns of a docstring."""
    found = {}
    for entry in _ENTRY.finditer(sections(function).get(section, "") + "\n"):
        unit = _UNIT.search(entry["text"])
        for name in entry["names"].split(", "):
            found[name] = unit[1] if unit else None
    return found
