"""What is no test, and which tests share a process."""

import gc
import os

from xdist.scheduler import LoadFileScheduling

# Tests have the demo on the bench, whatever engine its owner has put there.
os.environ["MECHKIT_ON_BENCH"] = "demo"

#: No tests and no doctests: the tests load what they need, and the heavy libraries with it.
collect_ignore_glob = ["independent/*", "engines/*", "bench_*", "make_*", "mutants.py"]

#: What asks for every derivation; sympy's work is done once a process.
DERIVED = {
    f"tests/test_{name}.py"
    for name in (
        "arguments",
        "broadcasting",
        "derivations",
        "dimensions",
        "formulas",
        "ledger",
        "proportions",
        "ranges",
    )
}


class ByNeed(LoadFileScheduling):
    """A file's tests stay together, and so do the files that need the derivations."""

    def _split_scope(self, nodeid):
        """Name the group of a test."""
        file = super()._split_scope(nodeid)
        return "derivations" if file in DERIVED else file


def pytest_xdist_make_scheduler(config, log):
    """Deal the tests out so."""
    return ByNeed(config, log)


def pytest_collection_finish():
    """What was collected stays to the end: no need to look through it again for garbage."""
    gc.freeze()
    gc.set_threshold(20_000)
