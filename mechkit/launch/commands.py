"""The commands: ``lab``, ``test``, ``build``, ``choose``, ``diagnose`` and ``handbook``."""

import argparse
import os
import sys
import time
import webbrowser
from pathlib import Path

from mechkit.launch import CHECKOUT, environment, lab, net
from mechkit.launch.words import Trouble, lasting, say


class Parser(argparse.ArgumentParser):
    """A parser that refuses in one line."""

    def error(self, message):
        """End with 2 and one line."""
        self.exit(2, f"mechkit: {message} (see {self.prog} --help)\n")


def parser():
    """Every command with its options."""
    top = Parser(prog="python3 -m mechkit", description="The engineering notebook kit.")
    commands = top.add_subparsers(
        metavar="lab | test | build | choose | diagnose | handbook", required=True, dest="command"
    )

    one = commands.add_parser("lab", help="open the notebooks in JupyterLab, on your engine")
    one.add_argument(
        "sheet", type=Path, nargs="?", metavar="SHEET",
        help="the engine to put on the bench, a .toml file, begun if it is not there yet",
    )  # fmt: skip
    one.add_argument("--no-browser", action="store_true", help="print the address only")
    one.add_argument("--port", type=_port, default=8888, help="8888 unless told otherwise")
    one.set_defaults(run=run_lab, check=check_lab, extras=())
    _add_prepare(one)

    one = commands.add_parser("test", help="check formulas, notebooks and panels")
    one.add_argument("more", nargs="*", metavar="-- ARGUMENT", help="handed on to pytest")
    one.set_defaults(run=run_tests, check=check_tests, extras=("test",))
    _add_prepare(one)

    one = commands.add_parser("build", help="a bench sheet in, a build sheet out")
    one.add_argument("sheet", type=Path, metavar="SHEET", help="the bench sheet, a .toml file")
    one.add_argument("--out", type=Path, metavar="FILE", help="SHEET-build.html unless told")
    one.add_argument("--open", action="store_true", help="show the result in the browser")
    one.set_defaults(run=run_build, check=check_build, extras=(), prepare=False)

    one = commands.add_parser("choose", help="motors, gears and bars in stock in, the best out")
    one.add_argument("sheet", type=Path, metavar="SHEET", help="the bench sheet, a .toml file")
    one.add_argument(
        "--by", nargs="+", default=(), metavar="AIM",
        help="what you care about, in order: start creep top coast coast_on pull life cool room",
    )  # fmt: skip
    one.set_defaults(run=run_choose, check=check_build, extras=(), prepare=False)

    one = commands.add_parser("diagnose", help="a recording in, the faulty shaft out")
    one.add_argument("recording", type=Path, metavar="RECORDING", help="a .wav or .csv file")
    one.add_argument("sheet", type=Path, metavar="SHEET", help="the bench sheet, a .toml file")
    one.add_argument("--planned", action="store_true", help="recorded after the rebuild")
    one.set_defaults(run=run_diagnose, check=check_diagnose, extras=(), prepare=False)

    one = commands.add_parser("handbook", help="every formula as a page to read, offline")
    one.add_argument("--out", type=Path, metavar="FOLDER", help="handbook unless told")
    one.add_argument("--open", action="store_true", help="show the result in the browser")
    one.set_defaults(run=run_handbook, check=check_handbook, extras=(), prepare=False)
    return top


def _add_prepare(command):
    """The option that only makes the environment, for a computer that will go offline."""
    command.add_argument("--prepare", action="store_true", help="fetch all packages and stop there")


def _port(text):
    """A port number."""
    try:
        number = int(text)
    except ValueError:
        number = 0
    if not 1 <= number <= 65535:
        raise argparse.ArgumentTypeError(f"{text} is no port: a number from 1 to 65535")
    return number


def main(arguments):
    """Run one command; returns its exit code."""
    return net.catch(lambda: _dispatch(arguments))


def _dispatch(arguments):
    """Run one command, here or in the Python that has all packages."""
    options = parser().parse_args(arguments)
    options.check(options)
    python = environment.ready(options.extras)
    if options.prepare:
        say(f"Ready: {python}")
        return 0
    if python != Path(sys.executable):
        return environment.become(python, ["-m", "mechkit", *arguments])
    os.environ.update(environment.surroundings())
    return options.run(options)


def check_lab(options):
    """Refuse where there are no notebooks."""
    if not (CHECKOUT / "notebooks").is_dir():
        raise Trouble("no notebooks here: start it in the folder that holds mechkit and notebooks")
    if options.sheet and options.sheet.suffix != ".toml":
        raise Trouble(f"{options.sheet} is no bench sheet: name a file that ends in .toml")
    if options.sheet and not options.sheet.absolute().parent.is_dir():
        raise Trouble(f"{options.sheet.parent} is not a folder; make it first")


def run_lab(options):
    """Start JupyterLab on the notebooks."""
    _hand_over_proxies()
    from jupyterlab.labapp import main as start

    port = lab.free_port(options.port)
    page = _on_bench(options.sheet) if options.sheet else lab.START
    say("JupyterLab starts; Ctrl-C here ends it.")
    return start(lab.flags(CHECKOUT, port=port, browser=not options.no_browser, page=page)) or 0


def _on_bench(sheet):
    """Put an engine on the bench; the page to begin with: its boxes until they say enough."""
    from mechkit.drive.sheet import SheetError, begin, engines

    try:
        begun = begin(sheet)
    except SheetError as error:
        raise Trouble(str(error)) from None
    engines.put(sheet)
    say(f"On the bench: {sheet}")
    return lab.BENCH if begun.lacks else lab.START


def _hand_over_proxies():
    """Let the server have the environment's proxies in a form that it takes, or none with a word."""
    from mechkit.launch import proxies

    found, left_out = proxies.taken(os.environ)
    for name, value in found.items():
        if value:
            os.environ[name] = value
        else:
            del os.environ[name]
    if left_out:
        say(f"Left out for this start: {', '.join(left_out)} (JupyterLab takes http://host:port).")


def check_tests(options):
    """Refuse where there are no tests."""
    if not (CHECKOUT / "tests").is_dir():
        raise Trouble("no tests here: start it in the folder that holds mechkit and tests")


#: The browser's file takes longest, so it starts first; a notebook's cells stay in one process.
PYTEST = [
    *("tests/test_in_browser.py", "notebooks", "tests", "mechkit"),
    *("--nbval-lax", "--nbval-current-env", "--nbval-cell-timeout=120"),
    *("--dist=loadfile", "--no-loadscope-reorder"),
]


def run_tests(options):
    """Run every test; the last line says in words how it went."""
    import pytest

    os.chdir(CHECKOUT)
    start = time.monotonic()
    workers = f"--numprocesses={min(max(os.cpu_count() or 2, 2), 4)}"
    code = int(pytest.main([*PYTEST, workers, *options.more]))
    took = lasting(time.monotonic() - start)
    if code == pytest.ExitCode.INTERRUPTED:
        say(f"Stopped after {took}.")
    elif code:
        say(f"FAILED: what failed stands in the lines above ({took}).")
    else:
        say(f"All tests passed in {took}.")
    return code


def check_build(options):
    """Refuse a bench sheet that is not there before anything is installed."""
    if not options.sheet.is_file():
        raise Trouble(f"no bench sheet {options.sheet}")


def run_build(options):
    """Write the build sheet."""
    from mechkit.publish import build_sheet

    out = options.out or options.sheet.with_name(f"{options.sheet.stem}-build.html")
    code = build_sheet.main(options.sheet, out)
    if options.open and not code:
        webbrowser.open(out.resolve().as_uri())
    return code


def run_choose(options):
    """Show what the parts in stock can make."""
    from mechkit.drive.choice import chosen

    return chosen.main(options.sheet, options.by)


def check_diagnose(options):
    """Refuse files that are not there before anything is installed."""
    check_build(options)
    if not options.recording.exists():
        raise Trouble(f"no recording {options.recording}")


def run_diagnose(options):
    """Say which shaft a recording blames."""
    from mechkit.drive.diagnosis import diagnose

    return diagnose.main(options.recording, options.sheet, options.planned)


def check_handbook(options):
    """Refuse a place that no folder can be made in before anything is installed."""
    if options.out and not options.out.absolute().parent.is_dir():
        raise Trouble(f"{options.out.parent} is not a folder; make it first")


def run_handbook(options):
    """Write the handbook's pages."""
    from mechkit.publish import handbook

    code = handbook.main(options.out)
    if options.open and not code:
        webbrowser.open((options.out or handbook.PLACE).resolve().joinpath("index.html").as_uri())
    return code
