"""``python3 -m mechkit``: this page must parse under old Pythons, so that they can be refused."""

import sys

if sys.version_info < (3, 11):  # noqa: UP036
    sys.exit(
        "mechkit needs Python 3.11 or newer, and this is %d.%d: get one from python.org"  # noqa: UP031
        % sys.version_info[:2]
    )

try:
    import _signal as signal  # built in; the library's `signal` takes its time to load
except ImportError:
    import signal

# Until the commands stand, Ctrl-C ends Python itself, without a word.
if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
    signal.signal(signal.SIGINT, signal.SIG_DFL)
if hasattr(signal, "pthread_sigmask"):  # `environment.become` lets it wait until here
    signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGINT})

from mechkit.launch.commands import main

sys.exit(main(sys.argv[1:]))
