"""Which engine lies on the bench: one note, read by every page, and nothing of it where tests run."""

import pytest

from mechkit.drive.sheet import DEMO, demo, engines, on_bench
from mechkit.launch import commands, lab
from mechkit.launch.words import Trouble
from mechkit.panels import engines as listed

SMALL = '[locomotive]\nscale = 64\nweight = "410 g"\n'


@pytest.fixture
def bench(tmp_path, monkeypatch):
    """A folder of its own for the note, and the note read as on any other day."""
    monkeypatch.setattr(engines, "NOTE", tmp_path / ".on_the_bench")
    monkeypatch.delenv(engines.FIXED)
    return tmp_path


def test_without_a_note_the_demo_lies_there(bench):
    assert engines.path() is None
    assert on_bench().data == demo().data


def test_what_is_put_there_is_what_every_page_reads(bench):
    mine = bench / "mine.toml"
    mine.write_text(SMALL, "utf-8")
    engines.put(mine)
    assert engines.path() == mine
    assert on_bench().data.locomotive.weight.value == pytest.approx(0.410)
    engines.put(None)
    assert on_bench().data == demo().data


def test_a_sheet_that_says_too_little_gives_way_to_the_demo_with_a_word(bench, capsys):
    mine = bench / "mine.toml"
    mine.write_text("[locomotive]\nscale = 64\n", "utf-8")
    engines.put(mine)
    assert on_bench().data == demo().data
    assert "locomotive.weight is missing" in capsys.readouterr().out


def test_a_sheet_that_is_gone_gives_way_to_the_demo(bench):
    engines.put(bench / "gone.toml")
    assert on_bench().data == demo().data


def test_an_empty_drawer_gives_way_where_one_is_needed(bench, capsys):
    mine = bench / "mine.toml"
    mine.write_text(SMALL, "utf-8")
    engines.put(mine)
    assert on_bench(drawer=True).data == demo().data
    assert "stock" in capsys.readouterr().out


def test_tests_have_the_demo_there_whatever_the_note_says(bench, monkeypatch):
    engines.NOTE.write_text("elsewhere.toml\n", "utf-8")
    monkeypatch.setenv(engines.FIXED, "demo")
    assert engines.path() is None


def test_the_list_names_every_sheet_and_the_one_chosen_is_put_there(bench):
    (bench / "mine.toml").write_text(SMALL, "utf-8")
    (bench / "begun.toml").write_text("[locomotive]\n", "utf-8")
    shown = listed.show()
    files = [path for _, path in shown.choice.options]
    assert files == [str(DEMO), str(bench / "begun.toml"), str(bench / "mine.toml")]
    assert "not whole yet" in {path: words for words, path in shown.choice.options}[files[1]]
    shown.choice.value = files[2]
    assert engines.path() == bench / "mine.toml"
    assert "Run this page again" in shown.said.value
    shown.choice.value = str(DEMO)
    assert engines.path() is None


# -- the command ---------------------------------------------------------------------------


def asked(*arguments):
    return commands.parser().parse_args(["lab", *map(str, arguments)])


@pytest.mark.parametrize(
    ("name", "says"), [("engine.txt", "ends in .toml"), ("nowhere/engine.toml", "not a folder")]
)
def test_a_name_that_is_no_sheet_is_one_line_before_anything_starts(bench, name, says):
    with pytest.raises(Trouble, match=says):
        commands.check_lab(asked(bench / name))


def test_the_lab_opens_on_the_boxes_for_a_new_engine_and_on_the_start_page_for_a_known_one(bench):
    mine = bench / "mine.toml"
    assert commands._on_bench(mine) == lab.BENCH
    mine.write_text("[locomotive]\nscale = 64\n", "utf-8")
    assert commands._on_bench(mine) == lab.BENCH
    mine.write_text(SMALL, "utf-8")
    assert commands._on_bench(mine) == lab.START
    assert engines.path() == mine


def test_a_spoiled_sheet_is_one_line_and_stays_off_the_bench(bench):
    mine = bench / "mine.toml"
    mine.write_text(SMALL + "scael = 3\n", "utf-8")
    with pytest.raises(Trouble, match="scale"):
        commands._on_bench(mine)
    assert engines.path() is None


def test_without_a_sheet_what_lies_there_stays(bench):
    mine = bench / "mine.toml"
    mine.write_text(SMALL, "utf-8")
    engines.put(mine)
    commands.check_lab(asked())
    assert engines.path() == mine
