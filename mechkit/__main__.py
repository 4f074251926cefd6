"""``python3 -m mechkit``: this page must parse under old Pythons, so that they can be refused."""

import sys

if sys.version_info < (3, 11):  # noqa: UP036
    sys.exit(
        "mechkit needs Python 3.11 or newer, and this is %d.%d: get one from python.org"  # noqa: UP031
        % sys.version_info[:2]
    )

from mechkit.launch.commands import main

sys.exit(main(sys.argv[1:]))
