"""Bands of what readings tell: they hold the truth as often as they say, and name their readings."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from mechkit.drive.constants.identify import identify
from mechkit.drive.constants.readings import Bench, Steady
from mechkit.drive.model.spread import Spread
from tests.bench_identify import count, short, whole
from tests.identified import DRIVES, ERRORS, FEW, few, known, perfect, spoiled

KNOWN = known()


@pytest.fixture(scope="module")
def bench():
    return spoiled(perfect("plain"), np.random.default_rng(11))


def half(constant):
    """How far a constant's interval reaches to one side, as a fraction."""
    return np.log(constant.high / constant.low) / 2


# -- how often the bands hold the truth ---------------------------------------------------------


@pytest.mark.parametrize("name", ["plain", "on the edge of a skid"])
def test_the_bands_hold_the_truth_as_often_as_they_say(name):
    """A count that 90 to 98 % truly covering bands leave once in a thousand constants."""
    trials = 25
    for held in (found := count(whole(DRIVES[name]), trials, seed=2024, draws=400))[:2]:
        fewest = stats.binom.ppf(0.001, trials, 0.90)
        # a band too wide to miss at all is no better than one that misses too often
        assert all(number >= fewest for number in held.values()), held
        assert sum(held.values()) < len(held) * trials, held
    assert found[2] <= 2  # a clean bench has hardly ever a bad reading


@pytest.mark.parametrize("name", FEW)
def test_few_readings_hold_the_truth_too(name):
    trials = 30
    bands, _, named, _ = count(short(name), trials, seed=2024, draws=400)
    assert all(number >= stats.binom.ppf(0.001, trials, 0.90) for number in bands.values()), bands
    assert named == 0


@pytest.mark.parametrize("name", FEW)
def test_few_readings_are_told_and_never_refused(name):
    """What was read is told as well as its reading; all else as loosely as it is known."""
    here = few(spoiled(perfect("plain"), np.random.default_rng(5)), name)
    found = identify(here, KNOWN, ERRORS)
    assert found.bad == ()
    for constant in ("damping", "efficiency"):
        assert half(found.constants[constant]) > 0.3, constant
    assert "no reading tells mesh efficiency" in found.loose
    draws = found.draws(Spread(), "today")
    start = draws.starting_friction * draws.resistance / draws.torque_constant * draws.volts
    low, high = np.percentile(start[1:], [2.5, 97.5])
    if here.starting_voltage:  # one breakaway and the meter: 3 and half a percent
        assert np.log(high / low) / 3.92 == pytest.approx(np.hypot(0.03, 0.005), rel=0.15)
        assert low < here.starting_voltage[0] < high
    else:
        assert high > 2 * low
    if here.runs:  # the torque that he clocked, not friction and drag each by itself
        run = here.runs[0]
        turning = run.distance / run.time / draws.lever
        torque = draws.running_friction + draws.damping * turning
        widths = [np.std(np.log(each[1:])) for each in (torque, draws.running_friction)]
        assert widths[0] < 0.7 * widths[1]


def test_a_current_that_was_read_stays_as_it_was_read():
    """What holds it at rest is not known without a start; friction in motion is, by the runs."""
    bench = spoiled(perfect("plain"), np.random.default_rng(5))
    runs = tuple(run for run in bench.runs if not run.pull)
    no_start = replace(bench, starting_voltage=(), coasts=(), runs=runs)
    draws = identify(no_start, KNOWN, ERRORS).draws(Spread(), "today")
    run = runs[2]
    turning = run.distance / run.time / draws.lever
    amps = (draws.running_friction + draws.damping * turning) / draws.torque_constant * draws.amps
    low, high = np.percentile(amps[1:], [2.5, 97.5])
    assert 0.95 * run.current < low < run.current < high < 1.05 * run.current
    assert np.all(draws.stiction >= 1 - 1e-9)


# -- draws that name their readings ---------------------------------------------------------------


def test_the_band_names_the_readings_that_it_comes_from(bench):
    spread = Spread()
    draws = identify(bench, KNOWN, ERRORS).draws(spread, "today")
    start = spread.band(
        draws.starting_friction * draws.resistance / draws.torque_constant, "voltage"
    )
    assert all(name.startswith("starting voltage") for name, _ in start.sources)
    assert all(name.endswith(", today") for name, _ in start.sources)
    assert "the meter's volts" in dict(spread.band(draws.torque_constant, "constant").sources)
    assert set(spread.drawn) >= {"current of run 3, today", "time of run 3, today", "adhesion"}


def test_a_reading_in_doubt_takes_the_band_over(bench):
    alone = few(bench, "the motor alone")
    doubtful = replace(alone, no_load=(replace(alone.no_load[0], doubt=(0.2, 0.0)),))
    spread = Spread()
    draws = identify(doubtful, KNOWN, ERRORS).draws(spread, "today")
    name, share = spread.band(draws.motor_friction, "torque").sources[0]
    assert name == "free-running current, today"
    assert share > 0.9


def test_a_stand_in_is_called_what_it_is(bench):
    spread = Spread()
    free = tuple(run for run in bench.runs if run.pull == 0)
    draws = identify(replace(bench, runs=free), KNOWN, ERRORS).draws(spread, "today")
    band = spread.band(draws.efficiency, "percent")
    assert band.source == "mesh efficiency, by the table of friction, today"


def test_the_same_evening_asked_twice_gives_the_same_draws(bench):
    found = identify(bench, KNOWN, ERRORS)
    one, two = (found.draws(Spread(), "today") for _ in range(2))
    assert np.array_equal(one.inertia, two.inertia)


def test_readings_are_called_as_on_the_sheet():
    two = Bench(resistance=(1.0, 1.0), starting_voltage=(1.0, 1.0), slip=(1.0,))
    words = [two.called(place) for place in two.places]
    assert words == [
        "resistance reading 1",
        "resistance reading 2",
        "forward starting voltage",
        "backward starting voltage",
        "pull at slip",
    ]
    one = Bench(starting_voltage=(1.0,), runs=(Steady(1.0, 1.0, 1.0),))
    assert [one.called(place) for place in one.places] == [
        "starting voltage",
        "current of run 1",
        "time of run 1",
    ]
