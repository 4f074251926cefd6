"""The delicate checks of the ledger on the linear algebra that this process was given.

numpy and scipy pick their kernels by the processor, and the last bits differ from one to the
other; ``OPENBLAS_CORETYPE`` picks by hand.  ``python -m tests.kernels`` prints which kernels
ran and how far off each check was, in shares of what its row allows.
"""

import ctypes
import json
from pathlib import Path

import numpy as np
import scipy

from tests import ledger

#: The checks that solve systems of equations or eigenvalues.
DELICATE = {"beam", "beams", "contact", "disc", "fem", "spot", "whirl"}


def names():
    """What the linear algebra of numpy and of scipy calls its kernels; nothing if another's."""
    found = set()
    for package in (np, scipy):
        beside = Path(package.__file__).parents[1] / f"{package.__name__}.libs"
        for library in beside.glob("*openblas*"):
            for name in ("scipy_openblas_get_corename64_", "scipy_openblas_get_corename"):
                ask = getattr(ctypes.CDLL(str(library)), name, None)
                if ask:
                    ask.restype = ctypes.c_char_p
                    found.add(ask().decode())
    return sorted(found)


def shares():
    """How much of its allowance each delicate check needs."""
    found = {}
    for row in ledger.rows():
        if row.computed_by.split(":")[0] in DELICATE:
            off = ledger.difference(ledger.ours(row), ledger.theirs(row))
            share = off / row.within if off else 0.0
            found[row.computed_by] = max(found.get(row.computed_by, 0.0), share)
    return found


if __name__ == "__main__":
    print(json.dumps({"kernels": names(), "shares": shares()}))
