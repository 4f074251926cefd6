"""Making the environment: once, visibly, never half; and plain words when it cannot be made."""

import errno
import importlib
import importlib.util
import io
import json
import shutil
import socket
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jupyter_server.config_manager import BaseJSONConfigManager
from packaging.version import Version

from mechkit.launch import environment, lab, packages, pip, words
from tests.bare import bare, hollow

__all__ = ["bare"]

RELEASE = st.lists(st.integers(0, 30), min_size=1, max_size=4).map(lambda n: ".".join(map(str, n)))


@given(RELEASE, RELEASE)
def test_versions_compare_as_the_packaging_library_does(one, other):
    ours = packages.numbers(one) < packages.numbers(other)
    assert ours == (Version(one) < Version(other))


def test_a_package_too_old_is_lacking(monkeypatch):
    there = {"numpy": "1.26.4", "scipy": "1.13.0", "sympy": None}
    monkeypatch.setattr(packages, "installed", there.get)
    wanted = {"numpy": "2.0", "scipy": "1.13", "sympy": "1.13"}
    assert packages.lacking(wanted) == ["numpy", "sympy"]


def test_without_a_checkout_nothing_is_asked_for(tmp_path):
    assert packages.needed(folder=tmp_path) == {}


def test_a_real_environment_is_made_once(bare):
    python = environment.ready(())
    assert environment._works(python)
    assert python == environment.python_of(environment.VENV)
    assert environment.ready(()) == python
    assert bare == ["."]
    (half,) = environment.VENV.rglob("pip/_internal/req/req_install.py")
    half.unlink()
    assert not environment._works(python), "its pip was placed by half"


def test_tests_complete_the_environment_of_the_lab(bare, monkeypatch):
    hollow(environment.VENV)
    monkeypatch.setattr(environment, "_works", lambda _: True)
    environment.ready(())
    environment.ready(("test",))
    environment.ready(())
    environment.ready(("test",))
    assert bare == [".", ".[test]"]


def test_new_packages_are_fetched(bare, monkeypatch):
    hollow(environment.VENV)
    monkeypatch.setattr(environment, "_works", lambda _: True)
    environment.ready(())
    monkeypatch.setattr(packages, "needed", lambda *_: {"numpy": "9.9"})
    environment.ready(())
    assert bare == [".", "."]


def test_a_failed_install_is_not_ready(bare, monkeypatch):
    def fail(*_):
        raise words.Trouble(pip.NETWORK)

    hollow(environment.VENV)
    monkeypatch.setattr(environment, "_works", lambda _: True)
    environment.ready(())
    environment.MARK.write_text(json.dumps({"ready": []}), "utf-8")
    monkeypatch.setattr(pip, "install", fail)
    for _ in range(2):
        with pytest.raises(words.Trouble, match="no package index answers"):
            environment.ready(())
    assert not environment.MARK.exists()


def test_an_environment_without_its_python_is_made_anew(bare, monkeypatch):
    made = []
    hollow(environment.VENV)
    monkeypatch.setattr(environment, "_works", Path.exists)
    monkeypatch.setattr(environment, "_create", lambda: made.append(1))
    environment.ready(())
    environment.python_of(environment.VENV).unlink()
    environment.ready(())
    assert made == [1]


def test_its_own_environment_never_starts_itself_again(bare, monkeypatch):
    monkeypatch.setattr(sys, "prefix", str(environment.VENV))
    with pytest.raises(words.Trouble, match=r"lacks jupyterlab.*delete that folder"):
        environment.ready(())
    assert not bare


@pytest.mark.parametrize("module", ["venv", "ensurepip"])
def test_a_python_without_venv_says_what_to_install(bare, monkeypatch, module):
    find = importlib.util.find_spec
    monkeypatch.setattr(
        environment.importlib.util, "find_spec", lambda name: None if name == module else find(name)
    )
    with pytest.raises(words.Trouble, match=rf"no {module}.*python3-venv"):
        environment.ready(())


def test_a_full_disk_is_said_before_anything_is_fetched(bare, monkeypatch):
    monkeypatch.setattr(
        environment.shutil, "disk_usage", lambda _: shutil._ntuple_diskusage(9, 9, 0)
    )
    with pytest.raises(words.Trouble, match="disk is full"):
        environment.ready(())
    assert not environment.VENV.exists()


@pytest.mark.parametrize(
    ("number", "said"),
    [(errno.ENOSPC, "disk is full"), (errno.EACCES, "cannot be written"), (errno.EROFS, "cannot")],
)
def test_what_the_system_refuses_is_said_in_words(bare, monkeypatch, number, said):
    def refuse():
        raise OSError(number, environment.os.strerror(number), "/kit/.venv")

    monkeypatch.setattr(environment, "_create", refuse)
    with pytest.raises(words.Trouble, match=said):
        environment.ready(())


#: Lines that pip itself printed, one list a trouble.
PIP_SAID = {
    "no package index": [
        "WARNING: Retrying (Retry(total=0, connect=None, read=None, redirect=None, status=None)) "
        "after connection broken by 'NewConnectionError(...)': /simple/setuptools/",
        "  ERROR: Could not find a version that satisfies the requirement setuptools>=77 "
        "(from versions: none)",
        "error: subprocess-exited-with-error",
    ],
    "disk is full": [
        "Installing collected packages: numpy",
        "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device",
    ],
    "cannot be written in /kit": [
        "ERROR: Could not install packages due to an OSError: [Errno 13] Permission denied: '/kit'",
    ],
    "No matching distribution found for numpy>=9": [
        "ERROR: Could not find a version that satisfies the requirement numpy>=9 "
        "(from versions: 2.3.0, 2.4.6)",
        "ERROR: No matching distribution found for numpy>=9",
    ],
}


@pytest.mark.parametrize("said", PIP_SAID)
def test_pips_troubles_are_told_in_one_line(said):
    line = pip.cause(PIP_SAID[said], "/kit")
    assert said in line
    assert "\n" not in line


def test_progress_follows_pip():
    progress = pip.Progress(about=3)
    told = []
    for line in [
        "Collecting jupyterlab>=4.4 (from mechkit==0.1.0)\n",
        "  Downloading jupyterlab-4.6.6-py3-none-any.whl.metadata (16 kB)\n",
        "  Downloading jupyterlab-4.6.6-py3-none-any.whl (17.3 MB)\n",
        "Collecting numpy>=2.0 (from mechkit==0.1.0)\n",
        "Using cached numpy-2.4.6-cp311-cp311-manylinux_2_28_x86_64.whl (16.9 MB)\n",
        "Processing /wheels/pint-0.25.3-py3-none-any.whl (from mechkit==0.1.0)\n",
        "Processing /home/turner/mechkit-0.1\n",
        "Installing collected packages: numpy, jupyterlab, mechkit\n",
    ]:
        progress.read(line)
        told.append(progress.standing(placed=2))
    assert told == [
        "looking up jupyterlab, 1 of about 3",
        "looking up jupyterlab, 1 of about 3",
        "1 of about 3 packages: jupyterlab (17.3 MB)",
        "1 of about 3 packages: jupyterlab (17.3 MB)",
        "2 of about 3 packages: numpy (16.9 MB)",
        "3 of about 3 packages: pint",
        "3 of about 3 packages: pint",
        "put in place 2 of 3 packages",
    ]


def test_a_log_file_gets_a_line_now_and_then():
    out = io.StringIO()
    ticker = words.Ticker(out, every=60.0)
    for n in range(5):
        ticker.show(f"{n} packages")
    ticker.end("all in place")
    first, last = out.getvalue().splitlines()
    assert first.endswith("0 packages")
    assert last.endswith("all in place")


def test_a_taken_port_is_said_and_the_next_is_used(capsys):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert lab.free_port(port) > port
        assert f"Port {port} is taken" in capsys.readouterr().out
        with pytest.raises(words.Trouble, match="--port"):
            lab.free_port(port, tries=1)


def test_a_free_port_is_taken_without_a_word(capsys):
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    assert lab.free_port(port) == port
    assert not capsys.readouterr().out


def test_the_lab_opens_on_the_start_page_without_news(tmp_path):
    (tmp_path / "notebooks").mkdir()
    assert lab.address_of(tmp_path, lab.START) == "/lab"
    (tmp_path / "notebooks" / "start.ipynb").touch()
    assert lab.address_of(tmp_path, lab.START) == "/lab/tree/notebooks/start.ipynb"
    flags = lab.flags(tmp_path, port=8890, browser=False)
    assert "--LabApp.news_url=None" in flags
    assert "--ServerApp.jpserver_extensions=mechkit.lab_server=True" in flags
    assert "--no-browser" in flags
    assert "--no-browser" not in lab.flags(tmp_path, port=8890)


def test_jupyter_started_from_the_environment_by_hand_has_the_kits_server(tmp_path):
    environment.furnish(tmp_path)
    read = BaseJSONConfigManager(config_dir=str(tmp_path / "etc" / "jupyter"))
    extensions = read.get("jupyter_server_config")["ServerApp"]["jpserver_extensions"]
    (name,) = (name for name, on in extensions.items() if on)
    assert importlib.import_module(name)._jupyter_server_extension_points() == [{"module": name}]
    settings = json.loads((tmp_path / "share/jupyter/lab/settings/overrides.json").read_text())
    assert "@jupyterlab/statusbar-extension:plugin" in settings
    page = BaseJSONConfigManager(config_dir=str(tmp_path / "etc/jupyter/labconfig"))
    assert page.get("page_config")["disabledExtensions"]
