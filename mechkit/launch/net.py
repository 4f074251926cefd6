"""One net under every command: what its user can mend is told in one line, a fault of the kit stays.

Caught: a `Trouble`, Ctrl-C, a reader that went away, an output that is full or closed, letters
that the terminal has not, and what the system refuses about a file of the user.
"""

import codecs
import contextlib
import errno
import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path

from mechkit.launch.words import Trouble, complain

#: What a shell reports of a program that was interrupted, and of one whose reader went away.
INTERRUPTED, PIPE_CLOSED = 130, 141
#: Whose files are the kit's own: one that is missing here is no mistake of the user.
PACKAGE = Path(__file__).resolve().parents[1]
#: What an output refuses, where the error names no file.
REFUSED = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO, errno.EBADF, errno.EPIPE}
#: What is written for a sign that the terminal has not.
PLAIN = {
    "\u00a0": " ", "\u202f": " ", "−": "-", "–": "-", "±": "+/-", "×": "x", "·": "*", "µ": "u", "μ": "u",
    "Ω": "ohm", "°": "deg", "²": "^2", "³": "^3", "…": "...", "≤": "<=", "≥": ">=", "→": "->", "’": "'",
}  # fmt: skip


def catch(command: Callable[[], int | str | None]) -> int | str | None:
    """Run a command; returns its exit code."""
    hears = signal.getsignal(signal.SIGINT)
    if not _dress_streams():
        return 1
    try:
        if hears is signal.SIG_DFL:  # as `__main__` leaves it until here
            signal.signal(signal.SIGINT, signal.default_int_handler)
        try:
            code = command()
        except SystemExit as end:
            code = end.code
        sys.stdout.flush()  # what is still held back must find a closed pipe here, not at exit
    except Trouble as trouble:
        complain(str(trouble))
        code = 1
    except KeyboardInterrupt:
        complain()
        code = INTERRUPTED
    except OSError as error:
        code = _told(error)
    if hears is signal.SIG_DFL:
        signal.signal(signal.SIGINT, hears)
    return code


def _dress_streams():
    """Let every sign be written somehow; whether there is an output at all."""
    if os.name == "nt" and sys.stdout is sys.stderr is None:  # started without a window
        sys.stdout = sys.stderr = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115
    if sys.stdout is None:
        complain("the output is closed")
        return False
    for stream in filter(None, (sys.stdout, sys.stderr)):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="mechkit.plain")
    return True


def _plain(error):
    """The plain writing of signs that an encoding has not."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    signs = error.object[error.start : error.end]
    return "".join(PLAIN.get(s) or ascii(s)[1:-1] for s in signs), error.end


codecs.register_error("mechkit.plain", _plain)


def _told(error):
    """Tell in one line what the system refuses about an output or a user's file; else raise it."""
    refusal = _output_fault() or (error if error.filename is None else None)
    if refusal and _is_of_output(refusal):
        # Python would complain once more at exit of what is still held back.
        with contextlib.suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if _is_pipe(refusal):
            return PIPE_CLOSED
        complain(f"the output cannot be written: {_reason(refusal)}")
        return 1
    if not isinstance(error.filename, str | bytes):
        raise error
    path = os.fsdecode(error.filename)
    if Path(path).absolute().is_relative_to(PACKAGE):
        raise error
    complain(f"{path}: {_reason(error)}")
    return 1


def _output_fault():
    """What the output refuses now, if it does."""
    try:
        sys.stdout.flush()
    except OSError as error:
        return error
    return None


def _is_of_output(error):
    return error.errno in REFUSED or _is_pipe(error)


def _is_pipe(error):
    """Whether the reader went away; Windows says that otherwise."""
    return isinstance(error, BrokenPipeError) or (os.name == "nt" and error.errno == errno.EINVAL)


def _reason(error):
    return (error.strerror or str(error)).lower()
