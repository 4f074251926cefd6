"""The launcher: one line for every mistake, nothing but the standard library, one environment."""

import ast
import os
import runpy
import subprocess
import sys
import types
from pathlib import Path, PureWindowsPath

import pytest

import mechkit
from mechkit.launch import CHECKOUT, commands, environment, net, pip, words

HERE = Path(mechkit.__file__).parent
#: What may be imported once the environment stands, inside the function that needs it.
LATER = {"jupyterlab", "pytest", "mechkit.drive", "mechkit.publish", "venv"}


def run(*arguments, **settings):
    """One command as its user starts it."""
    return subprocess.run(
        [sys.executable, "-m", "mechkit", *arguments],
        cwd=CHECKOUT,
        capture_output=True,
        text=True,
        timeout=60,
        **settings,
    )


@pytest.mark.parametrize("path", sorted((HERE / "launch").glob("*.py")), ids=lambda p: p.stem)
def test_starts_with_nothing_but_python(path):
    tree = ast.parse(path.read_text("utf-8"))
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            modules = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            modules = [node.module]
        else:
            continue
        for module in modules:
            root = module.split(".")[0]
            fine = root in sys.stdlib_module_names or module.startswith("mechkit.launch")
            later = node not in tree.body and module.startswith(tuple(LATER))
            assert fine or later, f"{path.name} imports {module}"


@pytest.mark.parametrize("name", ["__init__.py", "__main__.py"])
def test_old_pythons_can_read_the_refusal(name):
    ast.parse((HERE / name).read_text("utf-8"), feature_version=(3, 7))


def test_an_old_python_is_refused_in_one_line(monkeypatch):
    monkeypatch.setattr(sys, "version_info", (3, 9, 18))
    with pytest.raises(SystemExit) as refused:
        runpy.run_module("mechkit", run_name="__main__")
    assert "3.11 or newer, and this is 3.9" in refused.value.code
    assert "\n" not in refused.value.code


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], "lab | test | build | choose | diagnose | handbook"),
        (["polish"], "polish"),
        (["build"], "SHEET"),
        (["diagnose", "run.wav"], "SHEET"),
        (["choose"], "SHEET"),
        (["lab", "--port", "70000"], "70000"),
        (["lab", "--port", "x"], "1 to 65535"),
        (["lab", "--loud"], "--loud"),
        (["test", "--prepare", "--fast"], "--fast"),
    ],
)
def test_wrong_usage_is_2_and_one_line(arguments, said):
    done = run(*arguments)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert said in done.stderr
    assert not done.stdout


def test_a_missing_sheet_is_1_and_one_line(tmp_path):
    done = run("build", str(tmp_path / "engine.toml"))
    assert done.returncode == 1
    assert done.stderr == f"mechkit: no bench sheet {tmp_path / 'engine.toml'}\n"


def test_a_missing_recording_is_1_and_one_line(tmp_path):
    sheet = tmp_path / "engine.toml"
    sheet.touch()
    done = run("diagnose", str(tmp_path / "run.wav"), str(sheet))
    assert done.returncode == 1
    assert done.stderr == f"mechkit: no recording {tmp_path / 'run.wav'}\n"


def test_an_unknown_command_names_those_there_are():
    assert all(name in run("polish").stderr for name in ("lab", "test", "build", "diagnose"))


def test_help_is_no_mistake():
    done = run("--help")
    assert done.returncode == 0
    assert all(name in done.stdout for name in ("lab", "test", "build", "diagnose"))


@pytest.mark.parametrize("arguments", [["--help"], ["test", "--prepare"]])
def test_a_closed_pipe_ends_it_quietly(arguments):
    """Held back until the end, and said at once: nobody reads either."""
    reader, writer = os.pipe()
    os.close(reader)
    done = subprocess.run(
        [sys.executable, "-m", "mechkit", *arguments],
        cwd=CHECKOUT, env={**os.environ, "PYTHONUNBUFFERED": ""},
        stdout=writer, stderr=subprocess.PIPE, text=True, timeout=60,
    )  # fmt: skip
    os.close(writer)
    assert done.returncode == net.PIPE_CLOSED
    assert not done.stderr


def test_an_environment_with_everything_is_used_as_it_is():
    done = run("test", "--prepare")
    assert done.returncode == 0
    assert done.stdout == f"Ready: {sys.executable}\n"


@pytest.fixture
def publish(monkeypatch):
    """The build sheet's room, noting what it is asked for."""
    asked = []
    room = types.ModuleType("mechkit.publish")
    room.build_sheet = types.SimpleNamespace(main=lambda *given: asked.append(given) or room.code)
    room.code = 0
    monkeypatch.setitem(sys.modules, "mechkit.publish", room)
    monkeypatch.setattr(commands.webbrowser, "open", lambda url: asked.append(url))
    room.asked = asked
    return room


def test_build_puts_the_result_beside_the_sheet(publish, tmp_path):
    sheet = tmp_path / "engine.toml"
    sheet.touch()
    assert commands.main(["build", str(sheet)]) == 0
    assert publish.asked == [(sheet, tmp_path / "engine-build.html")]


def test_build_shows_the_result(publish, tmp_path):
    sheet, out = tmp_path / "engine.toml", tmp_path / "out.html"
    sheet.touch()
    assert commands.main(["build", str(sheet), "--out", str(out), "--open"]) == 0
    assert publish.asked == [(sheet, out), out.resolve().as_uri()]


def test_build_shows_nothing_that_was_not_written(publish, tmp_path):
    sheet = tmp_path / "engine.toml"
    sheet.touch()
    publish.code = 1
    assert commands.main(["build", str(sheet), "--open"]) == 1
    assert len(publish.asked) == 1


def test_elsewhere_it_goes_on_there(monkeypatch):
    gone = []
    monkeypatch.setattr(environment, "ready", lambda _: Path("/else/python"))
    monkeypatch.setattr(environment, "become", lambda *given: gone.append(given) or 7)
    assert commands.main(["lab", "--port", "9000"]) == 7
    assert gone == [(Path("/else/python"), ["-m", "mechkit", "lab", "--port", "9000"])]


def test_tests_end_with_words(monkeypatch, capsys):
    given = []
    monkeypatch.setattr(pytest, "main", lambda arguments: given.extend(arguments) or 0)
    monkeypatch.setattr(environment, "ready", lambda _: Path(sys.executable))
    monkeypatch.chdir(CHECKOUT)
    assert commands.main(["test", "--", "-k", "gears"]) == 0
    assert given[-2:] == ["-k", "gears"]
    assert {"--nbval-lax", "notebooks", "tests", "mechkit"} <= set(given)
    assert capsys.readouterr().out.splitlines()[-1] == "All tests passed in 0 s."
    monkeypatch.setattr(pytest, "main", lambda arguments: 1)
    assert commands.main(["test"]) == 1
    assert capsys.readouterr().out.splitlines()[-1].startswith("FAILED")


def test_the_interpreter_lies_where_each_system_puts_it():
    there = PureWindowsPath("C:/kit/.venv")
    assert str(environment.python_of(there, windows=True)) == r"C:\kit\.venv\Scripts\python.exe"
    assert environment.python_of(Path("/kit/.venv"), windows=False) == Path("/kit/.venv/bin/python")


def test_this_checkout_comes_first(monkeypatch):
    monkeypatch.setenv("PYTHONPATH", "/elsewhere")
    first = environment.surroundings()["PYTHONPATH"]
    assert first.split(environment.os.pathsep) == [str(CHECKOUT), "/elsewhere"]
    monkeypatch.setenv("PYTHONPATH", first)
    assert environment.surroundings()["PYTHONPATH"] == first


def test_a_trouble_is_one_line(monkeypatch, capsys):
    def refuse(_):
        raise words.Trouble(pip.DISK)

    monkeypatch.setattr(environment, "ready", refuse)
    assert commands.main(["lab"]) == 1
    assert capsys.readouterr().err == f"mechkit: {pip.DISK}\n"
