"""Addresses of an earlier version lead to the new ones, and say so once."""

import subprocess
import sys

import pytest

from mechkit import moved

OLD = [
    *(f"mechkit.{old}" for old in moved.PAGES),
    *(f"mechkit.derivations.{old}" for old in moved.PAGES if old != "stance"),
    *(f"mechkit.derivations.{old}" for old in moved.SHARED),
]


def told(code):
    """What a fresh Python prints, warnings among it."""
    command = [sys.executable, "-W", "always::DeprecationWarning", "-c", code]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    return run.stdout + run.stderr


def test_every_old_address_is_the_new_module():
    code = f"""
import importlib, warnings
from mechkit import moved
for old in {OLD!r}:
    with warnings.catch_warnings(record=True) as said:
        warnings.simplefilter("always")
        module = importlib.import_module(old)
        again = importlib.import_module(old)
    mine = [str(one.message) for one in said if "kept for one version" in str(one.message)]
    assert module is again is importlib.import_module(moved.page(old)), old
    assert mine == [f"{{old}} is {{moved.page(old)}} now; the old name is kept for one version"], mine
print("all", end="")
"""
    assert told(code) == "all"


@pytest.mark.parametrize(
    "line",
    ["import mechkit.teeth", "from mechkit import teeth", "from mechkit.teeth import tooth_force"],
)
def test_the_warning_points_at_the_line_that_asks(line):
    said = told(line)
    assert "<string>:1: DeprecationWarning: mechkit.teeth is mechkit.gears.teeth now" in said
    assert said.count("DeprecationWarning") == 1


def test_a_name_that_was_never_there_is_refused_as_ever():
    assert "ModuleNotFoundError: No module named 'mechkit.tooth'" in told("import mechkit.tooth")
    said = told("from mechkit.teeth import no_such")
    assert "ImportError: cannot import name 'no_such' from 'mechkit.gears.teeth'" in said


def test_help_under_the_old_name_is_the_new_page():
    said = told("from mechkit import teeth; help(teeth)")
    assert "mechkit.gears.teeth" in said
    assert "tooth_force(" in said
