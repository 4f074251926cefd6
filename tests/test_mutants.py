"""The table of which tests answer for which file of the drive: every name in it is there."""

from pathlib import Path

import pytest

from tests.mutants import QUICK

HERE = Path(__file__).parent
PACKAGE = HERE.parent / "mechkit"


@pytest.mark.parametrize("page", QUICK)
def test_a_file_and_the_tests_that_answer_for_it_are_there(page):
    assert PACKAGE.joinpath(*page.split(".")).with_suffix(".py").is_file()
    assert all((HERE / f"test_{name}.py").is_file() for name in QUICK[page])
