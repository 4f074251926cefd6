"""A spoiled or half-made environment is repaired, or refused with what helps; nobody else's files go."""

import json
import os
import signal
import subprocess
import sys
import venv

import pytest

from mechkit.launch import CHECKOUT, environment, words
from tests.bare import bare, hollow

__all__ = ["bare"]
posix = pytest.mark.skipif(os.name == "nt", reason="another system's links and signals")


@pytest.fixture
def works(monkeypatch):
    """Every Python that is there works."""
    monkeypatch.setattr(environment, "_works", lambda python: python.exists())


# -- the mark ----------------------------------------------------------------------------

SPOILED = [
    b"{}", b"[]", b"null", b"7", b'"ready"', b'{"ready": 5}', b'{"ready": null}', b'{"ready": {}}',
    b"", b"{", b"\xff\xfe\x00", b"\x00" * 50, b"[" * 100_000,
]  # fmt: skip


@pytest.mark.parametrize("mark", SPOILED, ids=lambda mark: repr(mark[:20]))
def test_a_spoiled_mark_is_made_anew(mark, bare, works):
    hollow(environment.VENV)
    environment.MARK.write_bytes(mark)
    for _ in range(2):
        environment.ready(())
    assert bare == ["."]
    assert json.loads(environment.MARK.read_text("utf-8"))["ready"]


def test_a_folder_in_the_marks_place_gives_way(bare, works):
    hollow(environment.VENV)
    (environment.MARK / "more").mkdir(parents=True)
    environment.ready(())
    assert environment.MARK.is_file()


# -- what stands in the environment's place ----------------------------------------------


def test_a_file_in_its_place_is_refused_and_kept(bare):
    environment.VENV.write_text("precious")
    with pytest.raises(words.Trouble, match=r"\.venv is a file and must be a folder: rename it"):
        environment.ready(())
    assert environment.VENV.read_text() == "precious"


def test_a_folder_of_other_things_is_refused_and_kept(bare):
    (environment.VENV / "photos").mkdir(parents=True)
    (environment.VENV / "photos" / "boiler.jpg").touch()
    with pytest.raises(words.Trouble, match="holds other things than packages: rename it"):
        environment.ready(())
    assert (environment.VENV / "photos" / "boiler.jpg").exists()


@posix
@pytest.mark.parametrize("there", [True, False])
def test_a_link_to_elsewhere_is_refused_and_nothing_behind_it_goes(there, bare, tmp_path):
    if there:
        (tmp_path / "elsewhere").mkdir()
        (tmp_path / "elsewhere" / environment.ENVIRONMENT).touch()
    environment.VENV.symlink_to(tmp_path / "elsewhere")
    with pytest.raises(words.Trouble, match="is a link to no environment of this Python: delete"):
        environment.ready(())
    assert environment.VENV.is_symlink()
    assert not there or list((tmp_path / "elsewhere").iterdir())


@pytest.mark.parametrize("left", ["folders", "settings", "settings and more"])
def test_what_a_kill_left_of_making_it_is_made_anew(left, bare, monkeypatch):
    """As far as `venv` comes: empty folders, then its settings, then Python, then pip."""
    (environment.VENV / "bin").mkdir(parents=True)
    if left != "folders":
        (environment.VENV / environment.ENVIRONMENT).touch()
    if left == "settings and more":
        (environment.VENV / "bin" / "old").touch()
        (environment.VENV / "lib" / "pip").mkdir(parents=True)
    made = []
    monkeypatch.setattr(
        venv.EnvBuilder,
        "create",
        lambda _, place: made.append([one.name for one in place.iterdir()]),
    )
    environment.ready(())
    assert made == [[] if left == "folders" else [environment.ENVIRONMENT]]


def test_what_does_not_start_does_not_work(tmp_path):
    assert not environment._works(tmp_path)
    assert not environment._works(tmp_path / "nowhere")


def test_what_pip_was_placing_when_it_was_killed_is_placed_again(bare, works):
    hollow(environment.VENV)
    place = environment.VENV / (
        "Lib/site-packages" if os.name == "nt" else "lib/python3.11/site-packages"
    )
    for name, files in {
        "numpy-2.dist-info": ["METADATA"],
        "scipy-1.dist-info": ["METADATA", "RECORD"],
    }.items():
        (place / name).mkdir(parents=True)
        for file in files:
            (place / name / file).touch()
    environment.ready(())
    assert [path.name for path in place.iterdir()] == ["scipy-1.dist-info"]


@posix
@pytest.mark.parametrize(
    ("content", "mode"), [("no program", 0o755), ("#!/nowhere/python\n", 0o755)]
)
def test_a_python_that_does_not_start_says_what_helps(content, mode, tmp_path):
    python = tmp_path / "python"
    python.write_text(content)
    python.chmod(mode)
    with pytest.raises(words.Trouble, match=rf"delete {environment.VENV} and start again"):
        environment.become(python, [])
    assert signal.SIGINT not in signal.pthread_sigmask(signal.SIG_BLOCK, [])


def test_what_the_system_refuses_comes_with_a_remedy(bare, monkeypatch):
    def refuse():
        raise IsADirectoryError(21, "Is a directory", "/kit/.venv/pip.log")

    monkeypatch.setattr(environment, "_create", refuse)
    with pytest.raises(
        words.Trouble, match=r"/kit/.venv/pip.log: is a directory: delete .*\.venv and start again"
    ):
        environment.ready(())


@posix
def test_ctrl_c_between_two_pythons_is_heard_by_the_second():
    """It waits while Python itself starts, which would answer with a page."""
    press = (
        "import os, signal\n"
        "from mechkit.launch import environment\n"
        "execve = os.execve\n"
        "os.execve = lambda *given: (os.kill(os.getpid(), signal.SIGINT), execve(*given))\n"
        f"environment.become({sys.executable!r}, ['-m', 'mechkit', '--help'])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", press], cwd=CHECKOUT, capture_output=True, text=True, timeout=60,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )  # fmt: skip
    assert (done.returncode, done.stderr, done.stdout) == (-signal.SIGINT, "", "")
