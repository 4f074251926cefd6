"""Where the build sheet may be written: a plain file or behind a link, whole or not at all."""

import io
import os
from pathlib import Path
from types import SimpleNamespace

import pytest

from mechkit.drive.sheet import DEMO, files
from mechkit.publish import build_sheet, page

posix = pytest.mark.skipif(os.name == "nt", reason="no such files there, or no right to make them")


@pytest.fixture
def engine(tmp_path, monkeypatch):
    """A bench sheet whose build takes no time; what is built is another file's matter."""
    monkeypatch.setattr(
        build_sheet, "rebuild", lambda data, progress: SimpleNamespace(partial=False, decisions=())
    )
    monkeypatch.setattr(page, "figures", lambda done: [])
    monkeypatch.setattr(page, "counted", lambda done: "No checks")
    monkeypatch.setattr(page, "render", lambda *_: f"<!doctype html>\n{page.MARK}\nż")
    monkeypatch.setattr(build_sheet.verdict, "in_plan", lambda *_: [])
    sheet = tmp_path / "engine.toml"
    sheet.write_bytes(DEMO.read_bytes())
    return sheet


def names(folder):
    return sorted(path.name for path in folder.iterdir())


@posix
def test_a_link_stays_a_link(engine, tmp_path, capsys):
    (tmp_path / "web").mkdir()
    link = tmp_path / "page.html"
    link.symlink_to(tmp_path / "web" / "engine.html")
    for _ in range(2):
        assert build_sheet.main(engine, link) == 0
        assert link.is_symlink()
        assert names(tmp_path / "web") == ["engine.html"]
    assert str(tmp_path / "web" / "engine.html") in capsys.readouterr().out
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    assert build_sheet.main(engine, tmp_path / "loop") == 1
    assert capsys.readouterr().err.count("\n") == 1


@posix
def test_what_is_behind_a_link_is_not_overwritten_either(engine, tmp_path, capsys):
    (tmp_path / "letter.html").write_text("<p>Dear club,")
    (tmp_path / "page.html").symlink_to(tmp_path / "letter.html")
    assert build_sheet.main(engine, tmp_path / "page.html") == 1
    assert "letter.html exists and is not a build sheet" in capsys.readouterr().err
    assert (tmp_path / "letter.html").read_text() == "<p>Dear club,"


@posix
@pytest.mark.parametrize("name", ["pipe", "/dev/null"])
def test_a_pipe_or_device_is_refused_at_once(name, engine, tmp_path, capsys):
    os.mkfifo(tmp_path / "pipe")
    assert build_sheet.main(engine, tmp_path / name) == 1
    said = capsys.readouterr().err
    assert said == f"mechkit: {tmp_path / name} is not an ordinary file (a pipe or a device)\n"


def test_a_name_too_long_is_refused_before_the_work(engine, tmp_path, capsys, monkeypatch):
    monkeypatch.setattr(build_sheet, "rebuild", lambda *_: pytest.fail("worked for nothing"))
    assert build_sheet.main(engine, tmp_path / ("n" * 300)) == 1
    said = capsys.readouterr().err
    assert "name" in said and said.count("\n") == 1
    assert names(tmp_path) == ["engine.toml"]


@posix
def test_the_longest_legal_name_is_written(engine, tmp_path):
    assert build_sheet.main(engine, tmp_path / ("n" * 250 + ".html")) == 0
    assert len(names(tmp_path)) == 2


def test_what_a_kill_left_is_cleared(engine, tmp_path, monkeypatch):
    (tmp_path / ".engine-build.html.mechkit-0123abcd").write_text("half a page")
    monkeypatch.setattr(files, "ABANDONED", -1.0)
    assert build_sheet.main(engine) == 0
    assert names(tmp_path) == ["engine-build.html", "engine.toml"]


@pytest.mark.parametrize("columns", [1, 20, 200])
def test_the_moving_line_stays_in_one_row(columns, monkeypatch):
    class Terminal(io.StringIO):
        def isatty(self):
            return True

    monkeypatch.setenv("COLUMNS", str(columns))
    progress = build_sheet.Progress(Terminal())
    progress("drawing: the elevation of the locomotive, planned")
    progress("writing the page")
    *_, first, second = progress.out.getvalue().split("\r\x1b[K")
    assert max(len(first), len(second)) == min(columns - 1, len(first))
    assert columns < 200 or first.endswith("planned ...")


def test_a_title_in_broken_letters_is_written(engine, tmp_path, monkeypatch):
    monkeypatch.setattr(page, "render", lambda *_: f"{page.MARK} \udcff")
    assert build_sheet.main(engine, tmp_path / "page.html") == 0
    assert Path(tmp_path / "page.html").read_bytes().endswith(b" ?")
