"""How often the joint fit's 95 % bands hold the truth: python3 -m tests.bench_identify.

Takes two minutes or so a drive, so it is run by hand; tests/test_identify.py runs a tenth of it.
Words of a drive's name run that one alone; ``few`` runs the short evenings, ``written`` a bench
whose readings are worse than the instruments, with that written behind them and left out.
"""

import sys
import time
from dataclasses import replace

import numpy as np

from mechkit.drive.constants.identify import CONSTANTS, identify
from mechkit.drive.constants.readings import Bench
from mechkit.drive.model.spread import DRAWS, Spread
from tests.identified import DRIVES, ERRORS, FEW, known, short_trial, told, trial

TRIALS = 500
#: Bands may hold the truth this often, in percent; what no reading tells, also more often.
LEAST, MOST = 90.0, 98.0


def count(trials, times=TRIALS, seed=1848, draws=DRAWS):
    """How often bands and intervals held the truth, benches with good readings called bad, times.

    ``trials`` gives a truth and its bench from a source of chance.
    """
    chance, spread = np.random.default_rng(seed), Spread(draws=draws)
    bands, intervals = dict.fromkeys(CONSTANTS, 0), dict.fromkeys(CONSTANTS, 0)
    named, took = 0, 0.0
    for _ in range(times):
        true, bench, sure = trials(chance)
        true = told(true)
        began = time.process_time()
        found = identify(bench, sure, ERRORS)
        took += time.process_time() - began
        named += bool(found.bad)
        numbers = found.draws(spread, "today")
        for name, interval in found.constants.items():
            low, high = np.percentile(getattr(numbers, name)[1:], [2.5, 97.5])
            bands[name] += low <= true[name] <= high
            intervals[name] += interval.low <= true[name] <= interval.high
    return bands, intervals, named, took / times


def whole(true):
    """Trials of one drive, everything read."""
    return lambda chance: (*trial(true, chance), known(true))


def short(name):
    """Trials of a short evening."""
    return lambda chance: (*short_trial(name, chance), known())


def report(words, trials, times=TRIALS):
    """Print one row each for bands and intervals; return what a band holds too seldom or often."""
    bands, intervals, named, took = count(trials, times)
    for label, held in ((words, bands), ("  by standard errors", intervals)):
        print(f"{label:42s}", *(f"{100 * n / times:11.1f} %" for n in held.values()), end="")
        print(f"; {1e3 * took:.0f} ms a fit; good called bad: {named}" if held is bands else "")
    sys.stdout.flush()
    return [
        f"{name} of {words}" for name, n in bands.items() if not LEAST <= 100 * n / times <= MOST
    ]


# -- a hand that says how bad it is -------------------------------------------------------------

#: Standard errors that he writes himself, as fractions: a needle that trembled, a late thumb.
WRITTEN = {
    "resistance": 0.02, "free": (0.03, 0.02), "held": 0.03, "start": 0.04,
    "run": (0.01, 0.03, 0.03), "coast": (0.04, 0.04),
}  # fmt: skip


def in_doubt(bench, chance):
    """The same bench read by a worse hand, who says so behind every number."""

    def off(reading, keys, errors):
        """A reading with some of its numbers off, and the doubt written behind it."""
        changes = {
            key: getattr(reading, key) * (1 + error * chance.standard_normal())
            for key, error in zip(keys, errors, strict=True)
        }
        return replace(reading, **changes, doubt=errors if len(errors) > 1 else errors[0])

    def each(values, error):
        return tuple(value * (1 + error * chance.standard_normal()) for value in values)

    return replace(
        bench,
        resistance=each(bench.resistance, WRITTEN["resistance"]),
        starting_voltage=each(bench.starting_voltage, WRITTEN["start"]),
        doubt=(
            (WRITTEN["resistance"],) * len(bench.resistance),
            (WRITTEN["start"],) * len(bench.starting_voltage),
        ),
        no_load=tuple(off(r, ("current", "speed"), WRITTEN["free"]) for r in bench.no_load),
        stall=tuple(off(r, ("current",), (WRITTEN["held"],)) for r in bench.stall),
        runs=tuple(off(r, ("voltage", "current", "time"), WRITTEN["run"]) for r in bench.runs),
        coasts=tuple(off(r, ("distance", "time"), WRITTEN["coast"]) for r in bench.coasts),
    )


def unwritten(bench):
    """The same readings with nothing written behind them."""
    bare = {
        part: tuple(replace(reading, doubt=type(reading).doubt) for reading in getattr(bench, part))
        for part in ("no_load", "stall", "runs", "coasts")
    }
    return replace(bench, doubt=Bench.doubt, **bare)


def written(spoil):
    """Trials of the plain drive, read by a worse hand."""

    def trials(chance):
        true, bench = trial(DRIVES["plain"], chance)
        return true, spoil(in_doubt(bench, chance)), known()

    return trials


def main(asked: str):
    """Print the share of trials for each constant."""
    print(" " * 42, *(words[-12:].rjust(13) for words in CONSTANTS))
    outside = []
    if asked == "written":
        report("spreads written and used", written(lambda bench: bench), TRIALS // 5)
        report("the same, nothing written", written(unwritten), TRIALS // 5)
    if asked in ("", "few"):
        for name in FEW:
            report(name, short(name))
    for name, true in DRIVES.items():
        if asked in name and asked != "few":
            outside += report(name, whole(true))
    if outside:
        raise SystemExit(f"outside {LEAST:.0f} to {MOST:.0f} %: {', '.join(outside)}")


if __name__ == "__main__":
    main(" ".join(sys.argv[1:]))
