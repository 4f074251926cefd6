"""Spoiled bench sheets through the door that a machinist uses: a line a mistake, exit 1, nothing changed."""

import pytest

from mechkit.drive.sheet import DEMO
from mechkit.publish import build_sheet
from tests.spoiled import CONTRADICTIONS, SPOILED


def everything(folder):
    """All regular files of a folder, byte for byte."""
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("bad", SPOILED, ids=lambda bad: bad.name)
def test_a_spoiled_sheet_builds_nothing(bad, tmp_path, capsys):
    path = bad.make(tmp_path)
    before = everything(tmp_path)
    assert build_sheet.main(path) == 1
    said = capsys.readouterr().err
    # every mistake has a line of its own, so none is counted
    assert all(line.startswith("mechkit: ") for line in said.splitlines())
    assert "Traceback" not in said
    for part in (part for part in bad.contains if not part.startswith("(and")):
        assert part in said.replace(str(tmp_path), "")  # the folder bears the test's name
    assert everything(tmp_path) == before


def test_there_are_enough_of_them():
    assert len(SPOILED) + len(CONTRADICTIONS) >= 60


def test_a_number_that_no_formula_takes_is_one_line(tmp_path, capsys):
    """Each key is fine and nothing contradicts, yet the thread is too steep to compute."""
    path = tmp_path / "engine.toml"
    text = DEMO.read_text("utf-8").replace("thermal_resistance = 28 ", "thermal_resistance = 9e4 ")
    path.write_text(text, "utf-8")
    code = build_sheet.main(path)
    said = capsys.readouterr().err
    assert code == 1
    assert said.count("\n") == 1
    assert "engine.toml" in said
