"""Where a page may be written, and how: whole or not at all, and over nobody else's file."""

import os
import shutil
import stat
import time
from pathlib import Path
from typing import TextIO

from mechkit.drive.sheet import files


class OutputError(ValueError):
    """Why a page cannot be written, in one line."""


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


def claimed(path: Path, mark: str, noun: str) -> Path:
    """The file behind a path, links followed; nothing is overwritten but an older one of ours."""
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
            raise OutputError(f"{target} is a folder; give the {noun} a name")
        if not stat.S_ISREG(mode):
            raise OutputError(f"{target} is not an ordinary file (a pipe or a device)")
        with target.open("rb") as file:
            head = file.read(len(mark) + 64)
    except OSError as error:
        raise OutputError(f"{path}: {files.reason(error)}") from None
    if mark.encode() not in head:
        raise OutputError(f"{target} exists and is not a {noun}; choose another name with --out")
    return target


def put(target: Path, raw: bytes):
    """The whole file or none of it."""
    try:
        with files.whole(target, raw) as fresh:
            fresh.replace(target)
    except OSError as error:
        raise OutputError(f"{target} cannot be written: {files.reason(error)}") from None
    files.clear_abandoned(target)
