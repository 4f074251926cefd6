"""The whole job without a notebook: a bench sheet in, a build sheet out.

The build sheet is one file of HTML that opens anywhere, offline, and prints on A4 or Letter.
"""

import os
import shutil
import stat
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TextIO

from mechkit.drive.decisions.rebuild import Rebuild, rebuild
from mechkit.drive.sheet import Sheet, SheetError, files, load
from mechkit.publish import page, partial, verdict


class OutputError(ValueError):
    """Why the build sheet cannot be written, in one line."""


class Progress:
    """What is being done: one moving line on a terminal, a line a step in a log."""

    def __init__(self, out: TextIO):
        self.out, self.live, self.start = out, out.isatty(), time.monotonic()

    @property
    def seconds(self) -> float:
        """How long it has been at work [s]."""
        return time.monotonic() - self.start

    def __call__(self, step: str):
        """Say the step that begins."""
        if self.live:
            # A line that goes on in the next row could not be taken away.
            line = f"{self.seconds:4.0f} s  {step} ..."[: shutil.get_terminal_size().columns - 1]
            self.out.write(f"\r\x1b[K{line}")
            self.out.flush()
        else:
            print(step, file=self.out, flush=True)

    def clear(self):
        """Take the moving line away."""
        if self.live:
            self.out.write("\r\x1b[K")
            self.out.flush()


def main(path: str | Path, out: str | Path | None = None) -> int:
    """Build from a bench sheet; say what was done, where the result lies and how long it took.

    Returns
    -------
    code : int
        0 when the build sheet was written, 1 when the bench sheet or the place is no good.
    """
    progress = Progress(sys.stdout)
    try:
        progress("reading the bench sheet")
        sheet = load(path)
        target, done = _write(sheet, out, progress)
    except SheetError as error:
        progress.clear()
        error.tell()
        return 1
    except OutputError as error:
        progress.clear()
        print(f"mechkit: {error}", file=sys.stderr)
        return 1
    except ValueError as error:
        # A number that no formula takes, though each key for itself was fine.
        progress.clear()
        print(f"mechkit: {path}: {error}", file=sys.stderr)
        return 1
    progress.clear()
    broken = verdict.in_plan(done, "wrong")
    named = ", ".join(one.question for one in broken)
    for line in partial.report(done) if done.partial else ():
        print(line)
    checks = f"{page.counted(done)}{f' ({named})' if broken else ''}. " if done.decisions else ""
    print(
        f"{checks}Build sheet: {target} ({target.stat().st_size / 1e6:.1f} MB, {progress.seconds:.0f} s)"
    )
    return 0


def write(sheet: Sheet, out: str | Path | None = None) -> Path:
    """Write the build sheet of a bench sheet that is already loaded.

    Returns
    -------
    path : Path
        Where it lies: beside the bench sheet unless told otherwise.

    Raises
    ------
    SheetError
        The sheet holds too few readings.
    OutputError
        The place cannot be written, or holds a file that is not a build sheet.
    """
    return _write(sheet, out, lambda step: None)[0]


def _write(sheet: Sheet, out, progress: Callable[[str], None]) -> tuple[Path, Rebuild]:
    default = sheet.path.with_name(f"{sheet.path.stem}-build.html")
    target = _claimed(Path(out) if out else default)
    try:
        done = rebuild(sheet.data, progress)
    except ValueError as error:
        raise SheetError(f"{sheet.path}: {error}") from None
    drawn = {}
    for name, draw in page.figures(done):
        progress(f"drawing: {name.lower()}")
        drawn[name] = draw()
    progress("writing the page")
    _put(target, page.render(sheet, done, drawn, target).encode("utf-8", "replace"))
    return target, done


def _claimed(path: Path) -> Path:
    """The file behind a path, links followed; nothing but an older build sheet is overwritten."""
    try:
        target = files.target(path) if path.is_symlink() else path
        if not target.parent.is_dir():
            raise OutputError(f"{target.parent} is not a folder; make it first")
        if not os.access(target.parent, os.W_OK):
            raise OutputError(f"{target.parent} is a folder that may not be written in")
        try:
            mode = target.stat().st_mode
        except FileNotFoundError:
            return target
        if stat.S_ISDIR(mode):
            raise OutputError(f"{target} is a folder; give the build sheet a name")
        if not stat.S_ISREG(mode):
            raise OutputError(f"{target} is not an ordinary file (a pipe or a device)")
        with target.open("rb") as file:
            head = file.read(len(page.MARK) + 64)
    except OSError as error:
        raise OutputError(f"{path}: {files.reason(error)}") from None
    if page.MARK.encode() not in head:
        raise OutputError(
            f"{target} exists and is not a build sheet; choose another name with --out"
        )
    return target


def _put(target: Path, raw: bytes):
    """The whole file or none of it."""
    try:
        with files.whole(target, raw) as fresh:
            fresh.replace(target)
    except OSError as error:
        raise OutputError(f"{target} cannot be written: {files.reason(error)}") from None
    files.clear_abandoned(target)
