"""The joint fit: known constants found again, a bad reading named, what is open said."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from mechkit.drive import sheet
from mechkit.drive.constants import readings
from mechkit.drive.constants.identify import CONSTANTS, identify
from mechkit.drive.constants.readings import FRAME, Bench, Steady
from tests.identified import (
    DRIVES,
    ERRORS,
    KNOWN,
    LOCKING,
    TRUTH,
    exact,
    perfect,
    spoiled,
    trial,
)


class NoChance:
    """Instruments without error."""

    def standard_normal(self, size=None):
        return 0.0 if size is None else np.zeros(size)


@pytest.fixture
def bench():
    return spoiled(perfect("plain"), np.random.default_rng(11))


def half(constant):
    """How far a constant's interval reaches to one side, as a fraction."""
    return np.log(constant.high / constant.low) / 2


@pytest.mark.parametrize(("name", "trials"), [("plain", 40), ("on the edge of a skid", 20)])
def test_the_intervals_hold_the_truth_as_often_as_they_say(name, trials):
    """A band that 90 to 98 % truly covering intervals leave once in a thousand constants."""
    chance, true = np.random.default_rng(2024), DRIVES[name]
    held = dict.fromkeys(true, 0)
    for _ in range(trials):
        found = identify(trial(true, chance), KNOWN, ERRORS)
        for constant, interval in found.constants.items():
            held[constant] += interval.low <= true[constant] <= interval.high
    fewest = stats.binom.ppf(0.001, trials, 0.90)
    # an interval too wide to miss at all is no better than one that misses too often
    assert all(count >= fewest for count in held.values()), held
    assert sum(held.values()) < len(true) * trials, held


@pytest.mark.parametrize("name", DRIVES)
def test_perfect_readings_give_the_constants_back(name):
    found = identify(spoiled(perfect(name), NoChance(), DRIVES[name]), KNOWN, ERRORS)
    for constant, interval in found.constants.items():
        # the loose hold on every constant pulls by a few parts in ten thousand
        assert interval.value == pytest.approx(DRIVES[name][constant], rel=5e-4), constant
    assert found.bad == ()
    assert found.loose == ()


def test_where_every_coast_is_a_skid_inertia_has_a_most():
    found = identify(spoiled(exact(LOCKING), NoChance(), LOCKING), KNOWN, ERRORS)
    assert found.bad == ()
    assert found.loose == ("no reading tells inertia",)
    inertia = found.constants.pop("inertia")
    assert np.isnan(inertia.value)
    assert inertia.low == 0.0
    assert LOCKING["inertia"] < inertia.high < 4 * LOCKING["inertia"]
    for constant, interval in found.constants.items():
        assert interval.value == pytest.approx(LOCKING[constant], rel=5e-4), constant


def test_a_slippery_rail_is_no_bad_reading():
    """Adhesion is known to a fifth: skids longer than stated are adhesion, not mistakes."""
    skids = spoiled(exact(LOCKING, adhesion=0.86 * KNOWN.adhesion), NoChance(), LOCKING)
    assert identify(skids, KNOWN, ERRORS).bad == ()
    assert identify(skids, KNOWN, replace(ERRORS, adhesion=0.001)).bad != ()


@pytest.mark.parametrize("warmth", [0.1, 0.9])
def test_a_winding_colder_or_warmer_than_thought_stays_inside(warmth):
    """Stiff and at half an ampere, its winding rises by 60 K when it has settled."""
    true = DRIVES["stiff, with a heavy flywheel"]
    found = identify(spoiled(exact(true, warmth), NoChance(), true), KNOWN, ERRORS)
    for constant, interval in found.constants.items():
        assert interval.low < true[constant] < interval.high, constant


#: What a common error of volts and of amps does to each constant, as powers, by hand: ohms are
#: volts over amps, the torque constant goes as volts, a torque as the constant times amps, or
#: at rest as constant times volts over ohms; inertia as torque, efficiency as one over torque.
METER = {
    "resistance": (1, -1),
    "torque_constant": (1, 0),
    "motor_friction": (1, 1),
    "starting_friction": (1, 1),
    "running_friction": (1, 1),
    "damping": (1, 1),
    "efficiency": (-1, -1),
    "inertia": (1, 1),
}


@pytest.mark.parametrize("name", METER)
def test_the_meters_two_errors_pass_into_each_constant(name):
    fine = replace(ERRORS, meter=0.06, stopwatch=1e-3, ruler=1e-5, spring_scale=1e-3)
    fine = replace(fine, **dict.fromkeys(("digit", "volts_digit", "rotation", "brush"), 1e-4))
    fine = replace(fine, **dict.fromkeys(("breakaway", "coast", "place"), 1e-4))
    found = identify(spoiled(perfect("plain"), NoChance()), KNOWN, fine)
    expected = 1.96 * 0.03 * np.hypot(*METER[name])
    assert half(found.constants[name]) == pytest.approx(expected, rel=0.02)


@pytest.mark.parametrize(
    ("place", "change", "sort"),
    [
        (3, {"current": 0.050}, "current of run"),
        (5, {"time": 9.0}, "time of run"),
        (1, {"time": 21.0}, "time of run"),
    ],
)
def test_one_bad_reading_is_named_and_left_out(bench, place, change, sort):
    runs = list(bench.runs)
    runs[place] = replace(runs[place], **change)
    found = identify(replace(bench, runs=tuple(runs)), KNOWN, ERRORS)
    assert found.bad == ((sort, place),)
    for name, constant in found.constants.items():
        assert constant.value == pytest.approx(TRUTH[name], rel=0.12), name


def test_a_bad_coast_is_named_and_left_out(bench):
    coasts = list(bench.coasts)
    coasts[2] = replace(coasts[2], distance=2 * coasts[2].distance)
    found = identify(replace(bench, coasts=tuple(coasts)), KNOWN, ERRORS)
    assert found.bad == (("distance of coast", 2),)
    assert found.constants["inertia"].value == pytest.approx(TRUTH["inertia"], rel=0.08)


def test_a_clean_bench_has_hardly_ever_a_bad_reading():
    chance = np.random.default_rng(7)
    named = sum(bool(identify(trial(TRUTH, chance), KNOWN, ERRORS).bad) for _ in range(12))
    assert named <= 1


def test_without_a_loaded_run_the_efficiency_is_unknown_and_asked_for(bench):
    free = tuple(run for run in bench.runs if run.pull == 0)
    found = identify(replace(bench, runs=free), KNOWN, ERRORS)
    assert found.loose == ("no reading tells mesh efficiency",)
    assert np.isnan(found.constants["efficiency"].value)
    assert found.constants["efficiency"].high == np.inf
    assert found.advice.reading == "a run at full throttle with a hung weight"
    assert found.advice.error == np.inf
    assert found.advice.error_after < 0.2


def test_without_a_coast_the_inertia_is_unknown_and_a_coast_is_asked_for(bench):
    found = identify(replace(bench, coasts=()), KNOWN, ERRORS)
    assert found.loose == ("no reading tells inertia",)
    assert found.advice.reading.startswith("a coast with the rails open")


def test_without_a_start_friction_at_rest_is_unknown(bench):
    found = identify(replace(bench, starting_voltage=()), KNOWN, ERRORS)
    assert found.loose == ("no reading tells friction at rest",)
    assert found.advice.reading == "the lowest voltage that starts it, both ways"


def test_at_one_speed_friction_and_its_growth_cannot_be_told_apart(bench):
    one = Bench(bench.resistance, bench.no_load, (), bench.starting_voltage, (bench.runs[3],) * 3)
    found = identify(one, KNOWN, ERRORS)
    pair = [line for line in found.loose if "cannot tell" in line]
    assert len(pair) == 1
    assert CONSTANTS["running_friction"] in pair[0]
    assert CONSTANTS["damping"] in pair[0]


def test_laps_without_current_still_count(bench):
    laps = tuple(Steady(run.voltage, run.distance, run.time, run.pull) for run in bench.runs)
    found = identify(replace(bench, runs=laps), KNOWN, ERRORS)
    with_current = identify(bench, KNOWN, ERRORS)
    for name in ("running_friction", "damping"):
        constant = found.constants[name]
        assert constant.low <= TRUTH[name] <= constant.high
        assert half(constant) > half(with_current.constants[name])


def test_short_coasts_filmed_tell_more_than_by_stop_watch(bench):
    timed = tuple(replace(coast, distance=np.nan) for coast in bench.coasts)
    filmed = tuple(replace(coast, time_error=FRAME) for coast in timed)
    found = [
        identify(replace(bench, coasts=coasts), KNOWN, ERRORS).constants["inertia"]
        for coasts in (timed, filmed)
    ]
    assert half(found[1]) < 0.6 * half(found[0])
    assert all(one.low < TRUTH["inertia"] < one.high for one in found)


@pytest.mark.parametrize(
    ("missing", "words"),
    [
        ({"resistance": (), "stall": ()}, "no resistance was read"),
        ({"no_load": (), "runs": ()}, "no speed was read"),
    ],
)
def test_too_little_is_refused_in_one_line(bench, missing, words):
    with pytest.raises(ValueError, match=words) as refusal:
        identify(replace(bench, **missing), KNOWN, ERRORS)
    assert "\n" not in str(refusal.value)


def test_the_demo_sheet_is_read_whole():
    data = sheet.demo().data
    found = identify(*readings.from_sheet(data, data.as_is, data.measured_before))
    assert found.bad == ()
    # its coasts are skids or little more, and no other coast would do better
    assert found.loose == ("the coasts may be skids, which tell the most that inertia can be",)
    assert found.constants["inertia"].low == 0.0
    assert "coast" not in found.advice.reading
    assert 5 < found.constants["resistance"].value < 30
    assert found.constants["motor_friction"].value < found.constants["running_friction"].value
