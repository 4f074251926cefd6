"""The whole job without a notebook: a bench sheet in, a build sheet out.

The build sheet is one file of HTML that opens anywhere, offline, and prints on A4 or Letter.
"""

import os
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import TextIO

from mechkit.drive.decisions.rebuild import Rebuild, rebuild
from mechkit.drive.sheet import Sheet, SheetError, load
from mechkit.publish import page, verdict


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
            self.out.write(f"\r\x1b[K{self.seconds:4.0f} s  {step} ...")
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
    except (SheetError, OutputError) as error:
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
    print(
        f"{page.counted(done)}{f' ({named})' if broken else ''}. "
        f"Build sheet: {target} ({target.stat().st_size / 1e6:.1f} MB, {progress.seconds:.0f} s)"
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
    target = Path(out) if out else default
    _claim(target)
    try:
        done = rebuild(sheet.data, progress)
    except ValueError as error:
        raise SheetError(f"{sheet.path}: {error}") from None
    drawn = {}
    for name, draw in page.figures(done):
        progress(f"drawing: {name.lower()}")
        drawn[name] = draw()
    progress("writing the page")
    _put(target, page.render(sheet, done, drawn, target).encode("utf-8"))
    return target, done


def _claim(target: Path):
    """Refuse to overwrite anything but an older build sheet."""
    try:
        if target.is_dir():
            raise OutputError(f"{target} is a folder; give the build sheet a name")
        if not target.parent.is_dir():
            raise OutputError(f"{target.parent} is not a folder; make it first")
        if not target.exists():
            return
        with target.open("rb") as file:
            head = file.read(len(page.MARK) + 64)
    except OSError as error:
        raise OutputError(f"{target}: {_reason(error)}") from None
    if page.MARK.encode() not in head:
        raise OutputError(
            f"{target} exists and is not a build sheet; choose another name with --out"
        )


def _put(target: Path, raw: bytes):
    """The whole file or none of it."""
    fresh = None
    try:
        with tempfile.NamedTemporaryFile(
            dir=target.parent, prefix=f".{target.name}.", delete=False
        ) as file:
            fresh = Path(file.name)
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        fresh.chmod(0o666 & ~_mask())
        fresh.replace(target)
    except OSError as error:
        raise OutputError(f"{target} cannot be written: {_reason(error)}") from None
    finally:
        if fresh:
            fresh.unlink(missing_ok=True)


def _mask() -> int:
    """The bits that new files do not get; temporary files are private, the page need not be."""
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).lower()
