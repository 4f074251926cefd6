"""The environment a command runs in: the running Python if it has everything, else ``.venv``."""

import importlib.util
import json
import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

from mechkit.launch import CHECKOUT, packages, pip
from mechkit.launch.words import Trouble, say

VENV = CHECKOUT / ".venv"
#: Written last, so that a half-made environment never counts as ready.
MARK = VENV / "mechkit-ready.json"
LOG = VENV / "pip.log"
#: Packages that a fresh environment gets, those of packages included; counted, for "of about".
ABOUT = {(): 116, ("test",): 136}
#: Room that the environment and pip's downloads take on the disk [bytes]; measured, with a margin.
ROOM = 1_500_000_000
#: Where packages lie, on one system and on the other.
PACKAGES = ("lib/python*/site-packages", "Lib/site-packages")
#: What every environment holds, whoever made it.
ENVIRONMENT = "pyvenv.cfg"
SETTINGS = Path(__file__).parent / "settings"
#: Where Jupyter looks for what holds for every start from ``.venv``.
FURNITURE = {
    "mechkit.json": "etc/jupyter/jupyter_server_config.d",
    "overrides.json": "share/jupyter/lab/settings",
    "page_config.json": "etc/jupyter/labconfig",
}


def python_of(folder, *, windows=os.name == "nt"):
    """The interpreter of an environment."""
    return folder / ("Scripts/python.exe" if windows else "bin/python")


def ready(extras=()):
    """The Python that has all packages; makes or completes ``.venv`` where none has.

    Raises
    ------
    Trouble
        no environment can be made: one line says why.
    """
    missing = packages.lacking(packages.needed(extras))
    if not missing:
        return Path(sys.executable)
    if Path(sys.prefix).resolve() == VENV.resolve():
        raise Trouble(f"{VENV} lacks {', '.join(missing)}: delete that folder and start again")
    if not _is_fresh(extras):
        _make(extras)
    return python_of(VENV)


def _is_fresh(extras):
    """Whether ``.venv`` was made for the packages wanted now."""
    try:
        mark = json.loads(MARK.read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return False
    ready = mark.get("ready") if isinstance(mark, dict) else None
    now = packages.fingerprint(packages.needed(extras))
    return isinstance(ready, list) and now in ready and python_of(VENV).exists()


def _make(extras):
    """Make ``.venv`` where it is missing or broken, then install the kit from this folder."""
    try:
        if not _works(python_of(VENV)):
            _check_place()
            _create()
        _forget_mark()
        _drop_unfinished()
        say("Installing the kit from this folder and the packages it builds on:")
        # A later test run needs what a lab has and more, so its mark covers both.
        what = f".[{','.join(extras)}]" if extras else "."
        pip.install(python_of(VENV), what, CHECKOUT, LOG, _about(extras), _count)
        furnish(VENV)
        marks = [packages.fingerprint(packages.needed(some)) for some in {(), tuple(extras)}]
        MARK.write_text(json.dumps({"ready": sorted(marks)}), "utf-8")
    except OSError as error:
        raise Trouble(pip.known(str(error), CHECKOUT) or _again(error)) from None


def _again(error):
    """What the system refuses about the environment, and what helps."""
    what = f"{error.filename}: " if error.filename else ""
    return f"{what}{(error.strerror or str(error)).lower()}: delete {VENV} and start again"


def _check_place():
    """Refuse where making the environment would take away what somebody else put there."""
    if VENV.is_symlink():
        raise Trouble(f"{VENV} is a link to no environment of this Python: delete the link")
    if VENV.exists() and not VENV.is_dir():
        raise Trouble(f"{VENV} is a file and must be a folder: rename it and start again")
    unmarked = not (VENV / ENVIRONMENT).exists()
    if unmarked and any(not path.is_dir() for path in VENV.rglob("*")):
        raise Trouble(f"{VENV} holds other things than packages: rename it and start again")


def _forget_mark():
    """From here on the environment is not ready."""
    if MARK.is_dir():
        shutil.rmtree(MARK)
    else:
        MARK.unlink(missing_ok=True)


def _drop_unfinished():
    """Let pip place again what it was placing when it was killed, and would take for placed."""
    for place in PACKAGES:
        for told in VENV.glob(f"{place}/*.dist-info"):
            if not (told / "RECORD").exists():  # which pip writes last
                shutil.rmtree(told)


def furnish(folder):
    """Let a JupyterLab that is started from ``.venv`` by hand serve the panels as fast."""
    for name, place in FURNITURE.items():
        (folder / place).mkdir(parents=True, exist_ok=True)
        shutil.copyfile(SETTINGS / name, folder / place / name)


def _works(python):
    """Whether an environment's Python starts, is of this version, and has all of pip."""
    test = (
        "import sys; from importlib.metadata import files; "
        "whole = all(one.locate().exists() for one in files('pip') if one.suffix == '.py'); "
        f"sys.exit(sys.version_info[:2] != {sys.version_info[:2]} or not whole)"
    )
    try:
        done = subprocess.run([str(python), "-I", "-c", test], capture_output=True)
    except OSError:
        return False
    return done.returncode == 0


def _create():
    """An empty environment with pip."""
    for module in ("venv", "ensurepip"):
        if importlib.util.find_spec(module) is None:
            raise Trouble(
                f"this Python has no {module}: install it (Debian, Ubuntu: "
                "sudo apt install python3-venv) and start the same command again"
            )
    if shutil.disk_usage(CHECKOUT).free < ROOM:
        raise Trouble(pip.DISK)
    import venv  # not at the top: some systems pack it apart

    say(f"First start: making an environment of its own in {VENV} (some minutes, once).")
    for old in VENV.iterdir() if VENV.is_dir() else ():
        if old.name != ENVIRONMENT:  # so that a kill leaves what may be made anew
            shutil.rmtree(old) if old.is_dir() and not old.is_symlink() else old.unlink()
    builder = venv.EnvBuilder(with_pip=True, symlinks=os.name != "nt", prompt="mechkit")
    try:
        builder.create(VENV)
    except subprocess.CalledProcessError as error:
        said = (error.output or b"").decode("utf-8", "replace").strip().splitlines() or ["no word"]
        raise Trouble(f"venv could not make an environment: {said[-1]}") from None


def _about(extras):
    """How many packages are still to come, roughly."""
    return max(1, ABOUT[tuple(extras)] - _count())


def _count():
    """How many packages lie in ``.venv``."""
    return max(sum(1 for _ in VENV.glob(f"{place}/*.dist-info")) for place in PACKAGES)


def surroundings():
    """Environment variables under which every Python, kernels too, finds this very checkout.

    Another package on the index bears the same name; what stands first in the path wins.
    """
    path = [str(CHECKOUT), *filter(None, [os.environ.get("PYTHONPATH")])]
    if path[1:] and path[1].split(os.pathsep)[0] == path[0]:
        path = path[1:]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(path)}


def become(python, arguments):
    """Go on in another Python; on Windows, whose exec returns too early, wait for it.

    Raises
    ------
    Trouble
        it does not start.
    """
    command = [str(python), *arguments]
    sys.stdout.flush()
    try:
        if os.name == "nt":
            return subprocess.call(command, env=surroundings())
        # Ctrl-C waits until the other Python has come to `__main__`.
        held = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
        try:
            os.execve(command[0], command, surroundings())
        finally:
            signal.pthread_sigmask(signal.SIG_SETMASK, held)
    except OSError as error:
        raise Trouble(_again(error)) from None
