"""Invented engines before the kit: each gets a page, and its bands hold the truth.

A thousand of them, with panels, drawers and recordings: python -m tests.engines --engines 1000.
"""

import pytest
from scipy import stats

from tests.engines.judge import judge

#: As many as a test run has the time for, of every scale and kind; other seeds than those the
#: numbers of common practice were ever looked at with.
SEEDS = range(5000, 5024)
#: A band claims 95 %; so few hits of so many come by chance once in a thousand runs.
CLAIMED, CHANCE = 0.90, 1e-3


@pytest.fixture(scope="module")
def verdicts():
    return [judge(seed) for seed in SEEDS]


def test_every_drawn_engine_gets_a_page(verdicts):
    other = {one.seed: one.outcome for one in verdicts if one.outcome.kind != "page"}
    assert not other


@pytest.mark.parametrize("when", ["before", "planned"])
def test_bands_hold_the_truth_as_often_as_they_claim(verdicts, when):
    held = [band for one in verdicts for band in one.held if band.when == when]
    for key in {band.key for band in held}:
        some = [band.covers for band in held if band.key == key]
        assert sum(some) >= stats.binom.ppf(CHANCE, len(some), CLAIMED), (key, sum(some), len(some))


def test_a_plan_of_nothing_gives_the_measured_engine_back(verdicts):
    same = [one for one in verdicts if one.facts["nothing"]]
    assert same
    for one in same:
        bands = {(band.key, band.when): band for band in one.held}
        for (key, when), band in bands.items():
            if when == "planned":
                before = bands[key, "before"]
                assert (band.value, band.low, band.high) == pytest.approx(
                    (before.value, before.low, before.high), rel=1e-9
                ), (one.seed, key)
