"""How often the joint fit's 95 % intervals hold the truth: python3 -m tests.bench_identify.

Takes a minute or two, so it is run by hand; tests/test_identify.py runs a tenth of it.
"""

import time

import numpy as np

from mechkit.drive.identify import CONSTANTS, identify
from tests.identified import ERRORS, KNOWN, TRUTH, exact, spoiled

TRIALS = 500


def main():
    """Print the share of trials for each constant, and how many good readings were called bad."""
    chance, perfect = np.random.default_rng(1848), exact()
    held, named, began = dict.fromkeys(TRUTH, 0), 0, time.perf_counter()
    for _ in range(TRIALS):
        found = identify(spoiled(perfect, chance), KNOWN, ERRORS)
        named += len(found.bad)
        for name, constant in found.constants.items():
            held[name] += constant.low <= TRUTH[name] <= constant.high
    for name, count in held.items():
        print(f"{CONSTANTS[name]:34s} {100 * count / TRIALS:5.1f} %")
    print(f"good readings called bad: {named}; {time.perf_counter() - began:.0f} s")
    outside = [name for name, count in held.items() if not 0.90 <= count / TRIALS <= 0.98]
    if outside:
        raise SystemExit(f"outside 90 to 98 %: {', '.join(outside)}")


if __name__ == "__main__":
    main()
