"""The environment a command runs in: the running Python if it has everything, else ``.venv``."""

import importlib.util
import json
import os
import shutil
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
    except (OSError, ValueError):
        return False
    now = packages.fingerprint(packages.needed(extras))
    return python_of(VENV).exists() and now in mark["ready"]


def _make(extras):
    """Make ``.venv`` where it is missing or broken, then install the kit from this folder."""
    try:
        if not _works(python_of(VENV)):
            _create()
        MARK.unlink(missing_ok=True)
        say("Installing the kit from this folder and the packages it builds on:")
        # A later test run needs what a lab has and more, so its mark covers both.
        what = f".[{','.join(extras)}]" if extras else "."
        pip.install(python_of(VENV), what, CHECKOUT, LOG, _about(extras), _count)
        furnish(VENV)
        marks = [packages.fingerprint(packages.needed(some)) for some in {(), tuple(extras)}]
        MARK.write_text(json.dumps({"ready": sorted(marks)}), "utf-8")
    except OSError as error:
        raise Trouble(pip.cause([str(error)], CHECKOUT)) from None


def furnish(folder):
    """Let a JupyterLab that is started from ``.venv`` by hand serve the panels as fast."""
    for name, place in FURNITURE.items():
        (folder / place).mkdir(parents=True, exist_ok=True)
        shutil.copyfile(SETTINGS / name, folder / place / name)


def _works(python):
    """Whether an environment's Python starts, is of this version, and has pip."""
    if not python.exists():
        return False
    test = f"import pip, sys; sys.exit(sys.version_info[:2] != {sys.version_info[:2]})"
    return subprocess.run([str(python), "-I", "-c", test], capture_output=True).returncode == 0


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
    builder = venv.EnvBuilder(with_pip=True, clear=True, symlinks=os.name != "nt", prompt="mechkit")
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
    places = ("lib/python*/site-packages", "Lib/site-packages")
    return max(sum(1 for _ in VENV.glob(f"{place}/*.dist-info")) for place in places)


def surroundings():
    """Environment variables under which every Python, kernels too, finds this very checkout.

    Another package on the index bears the same name; what stands first in the path wins.
    """
    path = [str(CHECKOUT), *filter(None, [os.environ.get("PYTHONPATH")])]
    if path[1:] and path[1].split(os.pathsep)[0] == path[0]:
        path = path[1:]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(path)}


def become(python, arguments):
    """Go on in another Python; on Windows, whose exec returns too early, wait for it."""
    command = [str(python), *arguments]
    if os.name == "nt":
        return subprocess.call(command, env=surroundings())
    sys.stdout.flush()
    return os.execve(command[0], command, surroundings())
