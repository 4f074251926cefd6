"""The whole job without a notebook: a bench sheet in, a build sheet out.

The build sheet is one file of HTML that opens anywhere, offline, and prints on A4 or Letter.
"""

import sys
from collections.abc import Callable
from pathlib import Path

from mechkit.drive.decisions.rebuild import Rebuild, rebuild
from mechkit.drive.sheet import Sheet, SheetError, load
from mechkit.publish import page, partial, verdict
from mechkit.publish.place import OutputError, Progress, claimed, put


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
    target = claimed(Path(out) if out else default, page.MARK, "build sheet")
    try:
        done = rebuild(sheet.data, progress)
    except ValueError as error:
        raise SheetError(f"{sheet.path}: {error}") from None
    drawn = {}
    for name, draw in page.figures(done):
        progress(f"drawing: {name.lower()}")
        drawn[name] = draw()
    progress("writing the page")
    put(target, page.render(sheet, done, drawn, target).encode("utf-8", "replace"))
    return target, done
