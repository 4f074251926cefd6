"""Saving, cut short at every line: nothing is lost, nothing false is left, and the next save clears up."""

import errno
import os
import sys
import threading
from pathlib import Path

import pytest

from mechkit.drive.sheet import SheetError, files

OLD, NEW = b"old = 1\n" * 40, b"new = 2\n" * 50
forks = pytest.mark.skipif(not hasattr(os, "fork"), reason="no way to kill half of oneself here")


@pytest.fixture(params=["hard links", "no hard links"])
def disk(request, monkeypatch):
    """A disk with hard links, and one without, as a memory stick."""

    def none(*_, **__):
        raise PermissionError(errno.EPERM, "Operation not permitted")

    if request.param == "no hard links":
        monkeypatch.setattr(os, "link", none)


def killed_at(act, line):
    """Whether ``act`` was killed at its ``line``-th line; False once it comes to its end."""
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9
    left = line

    def trace(frame, event, _):
        nonlocal left
        if frame.f_code.co_filename != files.__file__:
            return None
        left -= event == "line"
        if left < 0:
            os._exit(9)
        return trace

    try:
        sys.settrace(trace)
        act()
    finally:
        os._exit(0)


def seen(folder):
    """What a user sees in a folder."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.name[0] != "."}


def killed_everywhere(folder, act):
    """Every kill of an act in a folder of one old file; the folder is as it was before the next."""
    path = folder / "engine.toml"
    for line in range(1000):
        for left in folder.iterdir():
            left.unlink()
        path.write_bytes(OLD)
        if not killed_at(lambda: act(path), line):
            assert line > 30, "it was killed at hardly a line"
            return
        yield line
    raise AssertionError("it never came to its end")


@forks
def test_a_save_killed_at_any_line_loses_nothing_and_pretends_nothing(tmp_path, disk, monkeypatch):
    monkeypatch.setattr(files, "ABANDONED", -1.0)
    came = set()
    for line in killed_everywhere(tmp_path, lambda path: files.replace(path, NEW, OLD)):
        there = seen(tmp_path)
        now = there.pop("engine.toml")
        assert now in (OLD, NEW), line
        assert there in (
            [{}, {"engine.toml.bak-1": OLD}] if now == OLD else [{"engine.toml.bak-1": OLD}]
        ), line
        came.add((now == NEW, len(there)))
        # The next save does it, with one backup of each older file, and clears away the rest.
        files.replace(tmp_path / "engine.toml", b"newest", None)
        after = {"engine.toml": b"newest", "engine.toml.bak-1": OLD}
        after |= {"engine.toml.bak-2": NEW} if now == NEW else {}
        assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == after, line
    assert came == {(False, 0), (False, 1), (True, 1)}


@forks
def test_a_copy_killed_at_any_line_is_there_or_not(tmp_path, disk, monkeypatch):
    monkeypatch.setattr(files, "ABANDONED", -1.0)
    came = set()
    for line in killed_everywhere(tmp_path, lambda path: files.add_copy(path, NEW)):
        there = seen(tmp_path)
        assert there.pop("engine.toml") == OLD
        assert there in ({}, {"engine-copy.toml": NEW}), line
        came.add(len(there))
        made = files.add_copy(tmp_path / "engine.toml", b"newest")
        assert made.read_bytes() == b"newest"
        assert len(list(tmp_path.iterdir())) == 2 + len(there), line
    assert came == {0, 1}


def test_a_backup_shares_nothing_with_the_file_that_goes_on(tmp_path, disk, monkeypatch):
    """So that an editor that writes in place after a kill does not write into the backup."""
    path = tmp_path / "engine.toml"
    path.write_bytes(OLD)
    os.utime(path, (1e9, 1e9))

    def cut(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", cut)
    with pytest.raises(KeyboardInterrupt):
        files.replace(path, NEW, OLD)
    monkeypatch.undo()
    with path.open("r+b") as file:
        file.write(b"edited in place")
    backup = tmp_path / "engine.toml.bak-1"
    assert backup.read_bytes() == OLD
    assert backup.stat().st_mtime == 1e9
    assert len(list(tmp_path.iterdir())) == 2


LEFT = ".engine.toml.mechkit-0123abcd"
KEPT = [
    ".engine.toml.swp",
    ".engine.toml.mechkit-notes",
    ".engine.toml.0123abcd",
    "mechkit-0123abcd",
]


def test_what_killed_saves_left_is_cleared_once_it_is_old_and_nothing_else(tmp_path, monkeypatch):
    path = tmp_path / "engine.toml"
    for name in (LEFT, *KEPT):
        (tmp_path / name).write_bytes(OLD)
    (tmp_path / ".a.mechkit-0123abcd").mkdir()
    files.replace(path, NEW, None)
    assert (tmp_path / LEFT).exists(), "another save may be at work on it"
    touched = files._touched
    monkeypatch.setattr(
        files, "_touched", lambda stats: touched(stats) + 4000 * (stats.st_size == 1)
    )
    files.replace(path, b"#", None)
    left = {one.name for one in tmp_path.iterdir()}
    assert left == {"engine.toml", "engine.toml.bak-1", ".a.mechkit-0123abcd", *KEPT}


def test_two_that_save_at_once_take_each_other_no_name(tmp_path, disk):
    """Each of them is put in the place of the other just before it takes a name."""
    path = tmp_path / "engine.toml"
    path.write_bytes(OLD)
    renamed = files._rename_to_new

    def late(fresh, name):
        files._rename_to_new = renamed
        files.add_copy(path, b"of another save")
        renamed(fresh, name)

    files._rename_to_new = late
    try:
        made = files.add_copy(path, NEW)
    finally:
        files._rename_to_new = renamed
    assert seen(tmp_path) == {
        "engine.toml": OLD, "engine-copy.toml": b"of another save", "engine-copy-2.toml": NEW,
    }  # fmt: skip
    assert made.name == "engine-copy-2.toml"


@pytest.mark.skipif(files.fcntl is None, reason="Windows needs no lock")
def test_without_hard_links_only_one_takes_a_name_at_a_time(tmp_path):
    took = []

    def wait():
        with files._alone_in(tmp_path):
            took.append("other")

    other = threading.Thread(target=wait)
    with files._alone_in(tmp_path):
        other.start()
        other.join(0.2)
        took.append("first")
    other.join()
    assert took == ["first", "other"]


def test_the_longest_legal_name_is_saved(tmp_path):
    path = tmp_path / f"{'å' * 100}{'n' * 40}.toml"
    path.write_bytes(OLD)
    files.replace(path, NEW, OLD)
    assert path.read_bytes() == NEW
    assert files.add_copy(path, NEW).read_bytes() == NEW
    with pytest.raises(SheetError):
        files.replace(tmp_path / ("n" * 300), NEW, None)
