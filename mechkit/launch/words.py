"""What the launcher says: one line a step, one line for a trouble."""

import contextlib
import shutil
import sys
import time


class Trouble(Exception):
    """What keeps a command from going on, in one line for its user."""


def say(line):
    """Print one line at once: whoever waits wants to see it now."""
    print(line, flush=True)


def complain(line: str | None = None):
    """Print what is wrong as one line, or end the line that Ctrl-C broke off."""
    if sys.stderr is None:
        return
    with contextlib.suppress(OSError):
        # A file's name may hold a line's end.
        print(f"mechkit: {' '.join(line.splitlines())}" if line else "", file=sys.stderr)


def lasting(seconds):
    """A time in words.

    >>> lasting(42.3), lasting(160), lasting(3600)
    ('42 s', '2 min 40 s', '60 min 0 s')
    """
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"


class Ticker:
    """A line that keeps changing on a terminal; in a log file, a new line every few seconds."""

    def __init__(self, out=None, every=5.0):
        self.out = out or sys.stdout
        self.every = every
        self.start = time.monotonic()
        self.last = -every
        self.live = self.out.isatty()

    def seconds(self):
        """How long it has been ticking."""
        return time.monotonic() - self.start

    def show(self, text):
        """Show where the work stands."""
        now = self.seconds()
        line = f"{lasting(now):>12}  {text}"
        if self.live:
            width = max(shutil.get_terminal_size().columns - 1, 1)
            self.out.write("\r" + line[:width].ljust(width))
            self.out.flush()
        elif now - self.last >= self.every:
            self.last = now
            print(line, file=self.out, flush=True)

    def end(self, text):
        """Replace the changing line by a last one."""
        self.last = -self.every
        self.show(text)
        if self.live:
            print(file=self.out, flush=True)
