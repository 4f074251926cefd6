"""What the drive in time costs, counted and not clocked; dirty rail, and play that is turned through."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.model.spread import Spread
from mechkit.drive.motion.detail import Detail
from mechkit.drive.motion.machine import Machine
from mechkit.drive.motion.simulate import before_and_after, simulate
from mechkit.drive.motion.supply import Section, Supply, Track, cut, ramp, steady
from mechkit.drive.questions import in_time
from mechkit.drive.sheet import demo
from tests.motions import AFTER, BEFORE, ROUGH, SLACK_AFTER, SLACK_BEFORE, SMOOTH
from tests.test_motion_events import HILLS
from tests.test_motion_independent import integrate, on_a_grade, simulated

TEN_SECONDS = Supply((ramp(0, 12, 4), steady(12, 3), cut(3)))


@pytest.mark.parametrize(("drive", "detail"), [(SLACK_BEFORE, ROUGH), (SLACK_AFTER, SMOOTH)])
def test_steps_grow_as_the_time_that_is_run(drive, detail):
    """Everything on: four times as many goes at the throttle, four times the steps.

    Not to the step: each go finds the gears, and the cogs, at another place.
    """
    go = (ramp(0, 9, 0.2), steady(9.0, 0.2), cut(0.4, "shorted"))
    few, many = (simulate(drive, Supply(go * n), detail=detail) for n in (2, 8))
    assert len([event for event in many.events if event.words == "stands"]) == 8
    assert many.steps == pytest.approx(4 * few.steps, rel=0.2)


@pytest.mark.parametrize(
    ("track", "before", "after", "most"),
    [
        (None, (BEFORE, Detail()), (AFTER, Detail()), 500),
        (HILLS, (SLACK_BEFORE, ROUGH), (SLACK_AFTER, SMOOTH), 10_000),
    ],
)
def test_ten_seconds_of_both_states_take_so_many_steps(track, before, after, most):
    """At well under a tenth of a millisecond a step: 50 ms plain, a second with everything on."""
    runs = before_and_after(before, after, TEN_SECONDS, track)
    assert sum(run.steps for run in runs) < most


def test_for_what_it_asks_of_the_laws_it_is_as_exact_as_scipy(monkeypatch):
    """The same equations, by solve_ivp as fine as takes at least as many evaluations."""
    asked = []
    plain = Machine.rates
    monkeypatch.setattr(Machine, "rates", lambda *all_: asked.append(1) or plain(*all_))
    run = simulated(-0.06, model_speed=0.05)
    start = [0.0, 0.0, run.nodes.motor_speed[0]]
    exact = integrate(on_a_grade(-0.06), (0, 2), start).y[2, -1]
    theirs = solve_ivp(on_a_grade(-0.06), (0, 2), start, "RK45", rtol=1e-8, atol=1e-11)
    assert len(asked) <= theirs.nfev
    assert abs(run.nodes.motor_speed[-1] / exact - 1) <= abs(theirs.y[2, -1] / exact - 1)


SPOT, CLEAN, SPOTS = 1e-3, 20e-3, 8
DIRTY = Track(
    (
        *(part for _ in range(SPOTS) for part in (Section(CLEAN), Section(SPOT, dead=True))),
        Section(),
    )
)


def test_a_dirty_rail_is_run_spot_by_spot():
    run = simulate(SLACK_AFTER, Supply((ramp(0, 6, 1), steady(6.0, 3.0))), DIRTY, SMOOTH)
    places = (CLEAN + SPOT) * np.arange(SPOTS)
    for words, at in (("rail dead", places + CLEAN), ("rail alive", places + CLEAN + SPOT)):
        told = [event.distance for event in run.events if event.words == words]
        assert told == pytest.approx(at, abs=1e-10)
    clean = simulate(SLACK_AFTER, Supply((ramp(0, 6, 1), steady(6.0, 3.0))), detail=SMOOTH)
    assert run.nodes.distance[-1] < clean.nodes.distance[-1]
    assert run.residual < 1e-7


def test_a_worm_without_a_flywheel_dies_on_a_spot_that_a_flywheel_carries_over():
    supply = Supply((ramp(0, 4, 1), steady(4.0, 3.5)))
    rough = replace(ROUGH, cogging=0.0)
    without, with_one = before_and_after(
        (SLACK_BEFORE, rough), (SLACK_AFTER, SMOOTH), supply, DIRTY
    )
    stand = without.last("stands")
    assert CLEAN < stand.distance % (CLEAN + SPOT) < CLEAN + SPOT
    assert without.nodes.distance[-1] == stand.distance
    assert len([e for e in with_one.events if e.words == "rail alive"]) == SPOTS


def test_backing_off_turns_the_motor_through_backlash_and_end_play_first():
    """By hand from the sheet: 0.05 mm at a 12 mm gear, 0.020 in of end play on a 0.4 pi mm lead.

    The wheel, 16.2 mm by the caliper, is weighed with all else that was read.
    """
    known = Knowledge(demo().data, Spread(draws=10))
    detail = in_time.detail_of(known.sheet.as_is)
    run = simulate(known.before, Supply((ramp(0, -9, 2),)), detail=detail)
    wheel = float(known.before.wheel_diameter[0])
    assert wheel == pytest.approx(16.2e-3, rel=1e-3)
    expected = wheel * (0.05 / 12 + 0.508 / (0.4 * 30))
    assert float(known.before.lost_motion[0]) == pytest.approx(expected, rel=1e-9)
    meets = run.first("flank meets")
    assert meets.distance == 0.0
    before = run.nodes.time <= meets.time
    # the gears' runout changes the leverage on the way, by its ripple at most
    turned = -run.nodes.motor_angle[before][-1] * wheel / 2 / 30
    ripple = sum(shaft.ripple for shaft in detail.shafts)
    assert turned == pytest.approx(expected, rel=ripple)
    assert run.nodes.distance[-1] < -1e-3
