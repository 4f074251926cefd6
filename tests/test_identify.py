"""The joint fit: known constants found again, a bad reading named, what is open said."""

import warnings
from dataclasses import replace

import numpy as np
import pytest

from mechkit.drive import sheet
from mechkit.drive.constants.identify import identify
from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.constants.readings import FRAME, Bench, Errors, Free, Given, Held, Rolled, Steady
from mechkit.drive.constants.weighing import CONSTANTS, START
from mechkit.drive.model.spread import Spread
from tests.identified import (
    DRIVES,
    ERRORS,
    TRUTH,
    Day,
    exact,
    known,
    perfect,
    spoiled,
    told,
)

KNOWN = known()


class NoChance:
    """Instruments without error."""

    def standard_normal(self, size=None):
        return 0.0 if size is None else np.zeros(size)


@pytest.fixture(scope="module")
def bench():
    return spoiled(perfect("plain"), np.random.default_rng(11))


def half(constant):
    """How far a constant's interval reaches to one side, as a fraction."""
    return np.log(constant.high / constant.low) / 2


# -- what perfect readings give -----------------------------------------------------------------


@pytest.mark.parametrize("name", DRIVES)
def test_perfect_readings_give_the_constants_back(name):
    true = told(DRIVES[name])
    sure = replace(known(DRIVES[name]), efficiency=Given(true["efficiency"], 0.5))
    found = identify(spoiled(perfect(name), NoChance()), sure, ERRORS)
    for constant, interval in found.constants.items():
        # what is thought of friction at rest and of drag pulls a little
        off = abs(np.log(interval.value / true[constant]))
        assert off < half(interval) / 30, constant
        assert off < 6e-3, constant
    assert found.bad == ()
    assert found.loose == ()


@pytest.mark.parametrize("wrong", [0.4, 2.5])
def test_a_rotor_guessed_by_its_case_is_corrected_by_the_coasts(wrong):
    """The flywheel itself tells it, whatever was thought, and no good coast is called bad."""
    sure = replace(KNOWN, inertia=Given(wrong * TRUTH["inertia"], 0.5))
    found = identify(spoiled(perfect("plain"), NoChance()), sure, ERRORS)
    assert found.bad == ()
    assert found.constants["inertia"].value == pytest.approx(TRUTH["inertia"], rel=0.03)


def test_where_every_coast_is_a_skid_inertia_is_what_was_thought():
    true = DRIVES["a worm that locks, every coast a skid"]
    sure = replace(known(true), inertia=Given(1.3 * true["inertia"], 0.4))
    found = identify(spoiled(exact(true), NoChance()), sure, ERRORS)
    assert found.bad == ()
    assert found.loose == ("no reading tells inertia of rotor and flywheel",) or (
        found.loose == ("the readings hardly tell inertia of rotor and flywheel",)
    )
    interval = found.constants["inertia"]
    assert interval.low < true["inertia"] < interval.high


def test_a_slippery_rail_is_no_bad_reading():
    """Adhesion is known to a fifth: skids longer than stated are adhesion, not mistakes."""
    true = DRIVES["a worm that locks, every coast a skid"]
    skids = spoiled(exact(true, Day(adhesion=0.86 * 0.21)), NoChance())
    loose = identify(skids, known(true), ERRORS)
    assert loose.bad == ()
    assert loose.constants["inertia"].value == pytest.approx(true["inertia"], rel=0.02)
    firm = identify(skids, replace(known(true), adhesion=Given(0.21, 0.001)), ERRORS)
    assert firm.constants["inertia"].value > 1.05 * true["inertia"]


@pytest.mark.parametrize("warmth", [0.1, 0.9])
def test_a_winding_colder_or_warmer_than_thought_stays_inside(warmth):
    """Stiff and at half an ampere, its winding rises by 60 K when it has settled."""
    true = DRIVES["stiff, with a heavy flywheel"]
    found = identify(spoiled(exact(true, Day(warmth=warmth)), NoChance()), known(true), ERRORS)
    for constant, interval in found.constants.items():
        assert interval.low < told(true)[constant] < interval.high, constant


#: What a common error of volts and of amps does to each constant, as powers, by hand: ohms are
#: volts over amps, the torque constant goes as volts, a torque as the constant times amps,
#: efficiency as one over torque; what stands over itself stays.
METER = {
    "resistance": (1, -1),
    "torque_constant": (1, 0),
    "motor_friction": (1, 1),
    "running_friction": (1, 1),
    "damping": (1, 1),
    "efficiency": (-1, -1),
}


def test_the_meters_two_errors_pass_into_each_constant():
    """Resistance by volts and amps with the shaft held; no coast weighs torque against the train."""
    fine = replace(ERRORS, meter=0.06, stopwatch=1e-3, ruler=1e-5, spring_scale=1e-3)
    fine = replace(fine, **dict.fromkeys(("digit", "volts_digit", "rotation", "brush"), 1e-4))
    fine = replace(fine, **dict.fromkeys(("breakaway", "coast", "place"), 1e-4))
    sure = replace(KNOWN, wheel_diameter=Given(KNOWN.wheel_diameter.value, 1e-5))
    here = replace(spoiled(perfect("plain"), NoChance()), resistance=(), coasts=())
    found = identify(here, sure, fine)
    for name, powers in METER.items():
        expected = 1.96 * 0.03 * np.hypot(*powers)
        assert half(found.constants[name]) == pytest.approx(expected, rel=0.04), name


# -- readings that do not belong ----------------------------------------------------------------


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
        assert constant.value == pytest.approx(told(TRUTH)[name], rel=0.12), name


def test_a_bad_coast_is_named_and_left_out(bench):
    coasts = list(bench.coasts)
    coasts[2] = replace(coasts[2], distance=2 * coasts[2].distance)
    found = identify(replace(bench, coasts=tuple(coasts)), KNOWN, ERRORS)
    assert found.bad == (("distance of coast", 2),)
    assert found.constants["inertia"].value == pytest.approx(TRUTH["inertia"], rel=0.08)


def test_a_bad_reading_of_the_motor_alone_is_named(bench):
    wrong = replace(bench, resistance=(*bench.resistance[:1], 29.0, *bench.resistance[2:]))
    found = identify(wrong, KNOWN, ERRORS)
    assert found.bad == (("resistance reading", 1),)
    assert found.constants["resistance"].value == pytest.approx(21.0, rel=0.03)


def test_what_is_doubted_by_himself_is_not_called_bad(bench):
    runs = list(bench.runs)
    runs[3] = replace(runs[3], current=1.2 * runs[3].current)
    assert identify(replace(bench, runs=tuple(runs)), KNOWN, ERRORS).bad
    runs[3] = replace(runs[3], doubt=(0.0, 0.15, 0.0))
    assert identify(replace(bench, runs=tuple(runs)), KNOWN, ERRORS).bad == ()


def test_two_equal_readings_do_not_erase_the_band(bench):
    """Each is one breakaway, good to 3 %; and twice the same number is no proof of more."""
    once, twice = (
        identify(replace(bench, starting_voltage=(0.86,) * n), KNOWN, ERRORS) for n in (1, 2)
    )
    assert half(once.constants["starting_voltage"]) == pytest.approx(1.96 * 0.03, rel=0.1)
    ratio = half(twice.constants["starting_voltage"]) / half(once.constants["starting_voltage"])
    assert ratio == pytest.approx(2**-0.5, rel=0.1)


def test_readings_that_scatter_widen_every_band(bench):
    """Instruments four times as bad as he says: the bands say so, whatever he wrote."""
    worse = replace(
        ERRORS, **{name: 4 * getattr(ERRORS, name) for name in ("digit", "brush", "coast")}
    )
    wild = identify(spoiled(perfect("plain"), np.random.default_rng(3), worse), KNOWN, ERRORS)
    calm = identify(bench, KNOWN, ERRORS)
    assert wild.scatter > 1.25
    for name in ("resistance", "running_friction", "efficiency"):
        assert half(wild.constants[name]) > 1.15 * half(calm.constants[name]), name


# -- what is open, and what to read next ----------------------------------------------------------


def test_without_a_loaded_run_the_efficiency_is_unknown_and_asked_for(bench):
    free = tuple(run for run in bench.runs if run.pull == 0)
    sure = replace(KNOWN, inertia=Given(TRUTH["inertia"], 0.03))
    found = identify(replace(bench, runs=free, coasts=()), sure, ERRORS)
    assert found.loose == ("no reading tells mesh efficiency",)
    assert half(found.constants["efficiency"]) == pytest.approx(1.96 * 0.5, rel=0.1)
    assert found.advice.reading == "a run at full throttle with a hung weight"
    assert found.advice.constant == "mesh efficiency"
    assert found.advice.error_after < 0.2 < found.advice.error


def test_without_a_coast_the_inertia_is_as_guessed_and_a_coast_is_asked_for(bench):
    sure = replace(KNOWN, inertia=Given(1.2 * TRUTH["inertia"], 0.5))
    found = identify(replace(bench, coasts=()), sure, ERRORS)
    assert found.loose == ("no reading tells inertia of rotor and flywheel",)
    assert found.constants["inertia"].value == pytest.approx(1.2 * TRUTH["inertia"])
    assert half(found.constants["inertia"]) == pytest.approx(1.96 * 0.5)
    assert found.advice.reading.startswith("a coast with the rails open")


def test_without_a_start_friction_at_rest_is_as_the_trade_has_it(bench):
    found = identify(replace(bench, starting_voltage=()), KNOWN, ERRORS)
    assert found.loose == ("no reading tells the voltage that starts it",)
    assert found.fit.numbers(found.place).stiction == pytest.approx(1.3, rel=0.01)
    assert found.advice.reading == "the lowest voltage that starts it, both ways"


def test_at_one_speed_drag_is_not_told_apart_but_their_sum_is(bench):
    one = replace(bench, runs=(bench.runs[3],) * 3, coasts=(), starting_voltage=())
    found = identify(one, KNOWN, ERRORS)
    assert "no reading tells friction that grows with speed" in found.loose
    draws = found.draws(Spread(), "today")
    run = bench.runs[3]
    torque = draws.running_friction + draws.damping * run.distance / run.time / draws.lever
    ends = [np.percentile(each[1:], [2.5, 97.5]) for each in (torque, draws.running_friction)]
    spreads = [np.log(high / low) / 3.92 for low, high in ends]
    assert spreads[0] < 0.02 < 0.15 < spreads[1]


def test_laps_without_current_still_count(bench):
    laps = tuple(replace(run, current=np.nan) for run in bench.runs)
    found = identify(replace(bench, runs=laps), KNOWN, ERRORS)
    with_current = identify(bench, KNOWN, ERRORS)
    for name in ("running_friction", "damping"):
        constant = found.constants[name]
        assert constant.low <= TRUTH[name] <= constant.high
        assert half(constant) > half(with_current.constants[name])


def test_short_coasts_filmed_tell_more_than_by_stop_watch(bench):
    loosely = replace(KNOWN, inertia=Given(TRUTH["inertia"], 0.5))
    timed = tuple(replace(coast, distance=np.nan) for coast in bench.coasts)
    filmed = tuple(replace(coast, time_error=FRAME) for coast in timed)
    found = [
        identify(replace(bench, coasts=coasts), loosely, ERRORS).constants["inertia"]
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
def test_nothing_at_all_is_refused_in_one_line(bench, missing, words):
    with pytest.raises(ValueError, match=words) as refusal:
        identify(replace(bench, **missing), KNOWN, ERRORS)
    assert "\n" not in str(refusal.value)


# -- any readings -----------------------------------------------------------------------------------


def anything(chance):
    """Readings such as no engine gives, each of a size that the sheet lets pass."""

    def wide(low, high):
        return float(np.exp(chance.uniform(np.log(low), np.log(high))))

    volts, ohms = wide(3, 24), wide(0.5, 300)
    free = Free(volts, wide(1e-3, 0.999) * volts / ohms, wide(50, 5000))
    fastest = free.speed / (volts - free.current * ohms) * 0.016 / 2 / 30

    def run():
        put, far = wide(0.05, 24), wide(1e-3, 20)
        amps = wide(1e-3, 1.14) * put / ohms if chance.random() < 0.7 else np.nan
        pull = wide(1e-3, 5) if chance.random() < 0.3 else 0.0
        return Steady(put, far, far / (fastest * put * wide(1e-3, 1.0)), pull, amps)

    def coast():
        far = chance.choice([np.nan, 0.0, wide(1e-4, 50)])
        return Rolled(
            wide(0.05, 24),
            str(chance.choice(["open", "shorted"])),
            float(far),
            wide(0.02, 30) if np.isnan(far) else np.nan,
        )

    bench = Bench(
        resistance=(ohms, ohms * wide(0.6, 1.6)),
        no_load=(free,),
        stall=(Held(1.0, 1.0 / (1.1 * ohms)),) if chance.random() < 0.5 else (),
        starting_voltage=tuple(wide(0.01, 20) for _ in range(chance.choice([0, 1, 2]))),
        runs=tuple(run() for _ in range(chance.choice([0, 1, 4]))),
        coasts=tuple(coast() for _ in range(chance.choice([0, 0, 1, 3]))),
        slip=(wide(0.01, 5),) if chance.random() < 0.5 else (),
    )
    sure = replace(
        KNOWN,
        adhesion=Given(float(chance.choice([0.0, 0.2, 1.0])), 0.1),
        rolling=Given(float(chance.choice([0.0, 0.02, 1.0])), 0.15),
        inertia=Given(wide(1e-10, 1e-4), 0.5),
        thermal_resistance=float(chance.choice([0.0, 40.0, 1e5])),
        train_mass=Given(wide(0.02, 50), 0.01),
        mass_on_drivers=Given(wide(0.02, 20), 0.02),
    )
    return (
        bench,
        sure,
        Errors(float(chance.choice([0.0, 0.01, 0.3])), wide(0.01, 5), wide(1e-5, 0.1)),
    )


@pytest.mark.parametrize("seed", range(12))
def test_no_readings_are_refused_and_no_number_runs_away(seed):
    with warnings.catch_warnings(), np.errstate(divide="raise", over="raise", invalid="raise"):
        warnings.simplefilter("error")
        found = identify(*anything(np.random.default_rng([64, seed])))
        draws = found.draws(Spread(draws=200), "today")
        assert all(np.all(np.isfinite(number)) for number in vars(draws).values())
        assert all(
            constant.low < constant.value < constant.high for constant in found.constants.values()
        )
        assert len(found.loose) <= len(CONSTANTS)
        # no reading makes a number less sure than it was thought beforehand
        held = np.arange(len(found.errors)) != START  # by stiction
        assert np.all(found.errors[held] <= 1.001 * found.fit.firm[held])
        assert found.advice is None or found.advice.error_after < found.advice.error


def test_the_demo_sheet_is_read_whole():
    told = known_of(sheet.demo().data)
    for found in (told.told_before, told.told_after):
        assert found.bad == ()
        assert 5 < found.constants["resistance"].value < 30
        motor, whole = (found.constants[name] for name in ("motor_friction", "running_friction"))
        assert motor.value < whole.value
        # the one reading more is for what is known least of all that a reading can tell
        wanted = next(c for c in found.constants.values() if c.words == found.advice.constant)
        assert found.advice.error == pytest.approx(half(wanted) / 1.96, rel=1e-6)
        assert found.advice.error_after < found.advice.error
