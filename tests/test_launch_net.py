"""One net under every command: a user's mistake is one line, a fault of the kit a traceback."""

import errno
import io
import os
import signal
import subprocess
import sys
import textwrap
import types
from pathlib import Path

import pytest

from mechkit.drive.sheet import DEMO
from mechkit.launch import CHECKOUT, net
from mechkit.launch.words import Trouble
from mechkit.units import KINDS, show
from tests.test_launch import run

FULL = Path("/dev/full")
posix = pytest.mark.skipif(os.name == "nt", reason="another system's signals, pipes and rights")


def raises(error):
    def command():
        raise error

    return command


def no(number, *names):
    return OSError(number, os.strerror(number), *names)


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (Trouble("the disk is full"), "the disk is full"),
        (Trouble("no sheet a\nb.toml"), "no sheet a b.toml"),
        (no(errno.EACCES, "/shut/engine.toml"), "/shut/engine.toml: permission denied"),
        (no(errno.EISDIR, b"engine.toml"), "engine.toml: is a directory"),
        (no(errno.ENOSPC), "the output cannot be written: no space left on device"),
    ],
    ids=str,
)
def test_a_mistake_is_1_and_one_line(error, said, capsys):
    assert net.catch(raises(error)) == 1
    assert capsys.readouterr().err == f"mechkit: {said}\n"


@pytest.mark.parametrize(
    "error",
    [
        ValueError("a fault"),
        UnicodeDecodeError("utf-8", b"\xff", 0, 1, "a fault"),
        no(errno.ENOENT),
        no(errno.ENOENT, 7),
        no(errno.ENOENT, str(net.PACKAGE / "tables" / "materials.csv")),
    ],
    ids=repr,
)
def test_a_fault_of_the_kit_stays_as_it_is(error):
    with pytest.raises(type(error)) as met:
        net.catch(raises(error))
    assert met.value is error


def test_an_end_with_a_code_keeps_it():
    assert net.catch(raises(SystemExit(2))) == 2
    assert net.catch(lambda: 7) == 7


# -- the output --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("encoding", "written"),
    [
        ("ascii", r"3 mm +/- 0.01 mm, 6.0 ohm, 20 um: \u017caba \U0001f682"),
        ("cp1252", r"3 mm ± 0.01 mm, 6.0 ohm, 20 µm: \u017caba \U0001f682"),
        ("utf-8", "3 mm ± 0.01 mm, 6.0 Ω, 20 µm: żaba 🚂"),
    ],
)
def test_every_sign_is_written_somehow(encoding, written, monkeypatch):
    out = io.TextIOWrapper(io.BytesIO(), encoding=encoding, newline="\n")
    monkeypatch.setattr(sys, "stdout", out)
    assert net.catch(lambda: print("3\u00a0mm ± 0.01 mm, 6.0 Ω, 20 µm: żaba 🚂")) is None
    said = out.buffer.getvalue().decode(encoding)
    assert said.replace("\u00a0", " ") == f"{written}\n"


def test_a_name_of_broken_letters_is_written_somehow(monkeypatch):
    out = io.TextIOWrapper(io.BytesIO(), encoding="utf-8", newline="\n")
    monkeypatch.setattr(sys, "stdout", out)
    net.catch(lambda: print("\udcffengine.toml"))
    assert out.buffer.getvalue() == b"\\udcffengine.toml\n"


@pytest.mark.parametrize("kind", KINDS)
def test_every_unit_has_a_plain_writing(kind):
    for system in ("metric", "inch"):
        said = show(-1.0, kind, system).encode("ascii", "mechkit.plain")
        assert b"\\" not in said


def test_a_report_is_readable_where_there_is_nothing_but_ascii():
    speed = DEMO.parent / "recordings" / "axle_speed.csv"
    env = {**os.environ, "PYTHONIOENCODING": "ascii"}
    done = run("diagnose", str(speed), str(DEMO), env=env)
    assert (done.returncode, done.stderr) == (0, "")
    assert " um +/- " in done.stdout
    assert "\\" not in done.stdout


@pytest.mark.skipif(not FULL.exists(), reason="no full device")
@pytest.mark.parametrize("held", ["", "1"], ids=["held back", "at once"])
def test_a_full_output_is_one_line_and_nothing_is_written(held, tmp_path):
    with FULL.open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "mechkit", "build", str(DEMO), "--out", "page.html"],
            cwd=tmp_path, stdout=full, stderr=subprocess.PIPE, text=True, timeout=60,
            env={**os.environ, "PYTHONUNBUFFERED": held, "PYTHONPATH": str(CHECKOUT)},
        )  # fmt: skip
    assert done.returncode == 1
    assert done.stderr == "mechkit: the output cannot be written: no space left on device\n"
    assert not list(tmp_path.iterdir())


@posix
@pytest.mark.parametrize("closed", [[1], [1, 2]], ids=["output", "both"])
def test_a_closed_output_is_one_line(closed, tmp_path):
    done = run(
        "build", str(DEMO), "--out", str(tmp_path / "page.html"),
        preexec_fn=lambda: [os.close(number) for number in closed],
    )  # fmt: skip
    assert done.returncode == 1
    assert done.stderr == ("" if 2 in closed else "mechkit: the output is closed\n")
    assert not list(tmp_path.iterdir())


def test_windows_without_a_window_goes_on(monkeypatch):
    monkeypatch.setattr(net, "os", types.SimpleNamespace(name="nt", devnull=os.devnull))
    monkeypatch.setattr(sys, "stdout", None)
    monkeypatch.setattr(sys, "stderr", None)
    assert net._dress_streams()
    print("heard by nobody")
    sys.stdout.close()


# -- the user's files --------------------------------------------------------------------


@posix
@pytest.mark.parametrize(
    "arguments", [["build", "NAME"], ["choose", "NAME"], ["diagnose", "run.wav", "NAME"]]
)
def test_a_name_too_long_is_one_line(arguments):
    done = run(*("n" * 300 if one == "NAME" else one for one in arguments))
    assert done.returncode == 1
    assert done.stderr == f"mechkit: {'n' * 300}: file name too long\n"


AS_NOBODY = """
    import os, sys
    from mechkit.launch import commands
    if "--out" in sys.argv:
        from mechkit.publish import build_sheet
    if os.getuid() == 0:
        os.setgid(65534)
        os.setuid(65534)
    sys.exit(commands.main(sys.argv[1:]))
"""


@pytest.mark.skipif(not hasattr(os, "setuid"), reason="no such permissions on this system")
@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["build", "shut/engine.toml"], "shut/engine.toml: permission denied"),
        (["build", "engine.toml", "--out", "shut/page.html"], "shut/page.html: permission denied"),
        (["build", "engine.toml", "--out", "page.html"], "is a folder that may not be written in"),
        (["diagnose", "shut/run.wav", "engine.toml"], "shut/run.wav: permission denied"),
    ],
)
def test_a_folder_that_may_not_be_entered_is_one_line(arguments, said, tmp_path):
    (tmp_path / "engine.toml").write_bytes(DEMO.read_bytes())
    (tmp_path / "shut").mkdir()
    for folder in [tmp_path, *tmp_path.parents[:2]]:
        folder.chmod(0o755)
    tmp_path.chmod(0o555)
    (tmp_path / "shut").chmod(0)
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(AS_NOBODY), *arguments], cwd=tmp_path, text=True,
        capture_output=True, env={**os.environ, "PYTHONPATH": str(CHECKOUT)}, timeout=60,
    )  # fmt: skip
    tmp_path.chmod(0o755)
    (tmp_path / "shut").chmod(0o755)
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert said in done.stderr


# -- Ctrl-C ------------------------------------------------------------------------------


def test_ctrl_c_ends_quietly(capsys):
    assert net.catch(raises(KeyboardInterrupt())) == net.INTERRUPTED
    assert capsys.readouterr().err == "\n"


def hears():
    """Whoever runs the tests in the background has told his children to ignore the key."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@posix
@pytest.mark.parametrize(
    ("module", "code", "said"),
    [("argparse", -signal.SIGINT, ""), ("mechkit.launch.late", net.INTERRUPTED, "\n")],
    ids=["before the commands stand", "later"],
)
def test_ctrl_c_at_the_very_start_is_quiet(module, code, said, tmp_path):
    """Python's own library is replaced by a module in whose import the key is pressed."""
    press = "import os, signal, time\nos.kill(os.getpid(), signal.SIGINT)\ntime.sleep(5)\n"
    if module == "argparse":
        (tmp_path / "argparse.py").write_text(press)
        arguments = ["-m", "mechkit", "--help"]
    else:
        (tmp_path / "late.py").write_text(
            "import runpy, signal, sys\nfrom mechkit.launch import commands\n"
            f"commands._dispatch = lambda _: exec({press!r})\n"
            "runpy.run_module('mechkit', run_name='__main__')\n"
        )
        arguments = ["late.py"]
    done = subprocess.run(
        [sys.executable, *arguments], cwd=tmp_path, capture_output=True, text=True, timeout=60,
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(tmp_path), str(CHECKOUT)])},
        preexec_fn=hears,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (code, said)


@posix
def test_who_told_python_to_ignore_ctrl_c_is_heard():
    done = run("--help", preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_IGN))
    assert done.returncode == 0
