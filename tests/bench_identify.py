"""How often the joint fit's 95 % intervals hold the truth: python3 -m tests.bench_identify.

Takes some minutes, so it is run by hand; tests/test_identify.py runs a tenth of it.
``python3 -m tests.bench_identify written`` takes some seconds: a bench whose readings are worse
than the instruments, with that written behind them and with it left out.
"""

import sys
import time

import numpy as np

from mechkit.drive.constants.identify import CONSTANTS, identify
from tests.identified import DRIVES, ERRORS, KNOWN, LOCKING, in_doubt, trial, unwritten

TRIALS, WRITTEN_TRIALS = 500, 100


def count(true, slip=True, trials=TRIALS, seed=1848, spoil=lambda bench, chance: bench):
    """How often each interval held the truth, and how many good readings were called bad."""
    chance, held, named = np.random.default_rng(seed), dict.fromkeys(true, 0), 0
    for _ in range(trials):
        found = identify(spoil(trial(true, chance, slip), chance), KNOWN, ERRORS)
        named += len(found.bad)
        for name, constant in found.constants.items():
            held[name] += constant.low <= true[name] <= constant.high
    return held, named


def written():
    """Print the same for the plain drive, read by a hand that says how bad it is, or does not."""
    print(" " * 34, *(words[:12].rjust(13) for words in CONSTANTS))
    ways = {
        "spreads written and used": in_doubt,
        "the same, nothing written": lambda bench, chance: unwritten(in_doubt(bench, chance)),
    }
    for words, spoil in ways.items():
        held, named = count(DRIVES["plain"], trials=WRITTEN_TRIALS, spoil=spoil)
        shares = (100 * n / WRITTEN_TRIALS for n in held.values())
        print(
            f"{words:34s}", *(f"{share:11.1f} %" for share in shares), f"; good called bad: {named}"
        )


def main():
    """Print the share of trials for each constant on each drive."""
    print(" " * 34, *(words[:12].rjust(13) for words in CONSTANTS))
    outside = []
    for words, true in [*DRIVES.items(), ("locking worm, all coasts skid", LOCKING)]:
        for slip in (True, False):
            began = time.perf_counter()
            held, named = count(true, slip)
            label = words if slip else "  the same, slip not weighed"
            print(f"{label:34s}", *(f"{100 * n / TRIALS:11.1f} %" for n in held.values()), end="")
            print(f"; good called bad: {named}; {time.perf_counter() - began:.0f} s", flush=True)
            # an inertia that has a most only is held from one side
            outside += [
                f"{name} of {label.strip()}"
                for name, n in held.items()
                if not 0.90 <= n / TRIALS <= (1.0 if true is LOCKING else 0.98)
            ]
    if outside:
        raise SystemExit(f"outside 90 to 98 %: {', '.join(outside)}")


if __name__ == "__main__":
    written() if sys.argv[1:] == ["written"] else main()
