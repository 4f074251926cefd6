"""The bench sheet's drives in time: the same engine as in the closed forms, and what time adds."""

import re

import numpy as np
import pytest

from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.model.spread import Spread
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Supply, steady
from mechkit.drive.questions import in_time
from mechkit.drive.sheet import demo
from mechkit.drive.sheet.schema import Measured

VOLTS = 9.0


@pytest.fixture(scope="module")
def known():
    return Knowledge(demo().data, Spread(draws=50))


@pytest.fixture(scope="module")
def runs(known):
    return dict(zip(("before", "planned"), in_time.both(known, VOLTS), strict=True))


@pytest.mark.parametrize("name", ["before", "planned"])
def test_start_speed_and_coast_are_those_of_the_closed_forms(known, runs, name):
    drive, run = getattr(known, name), runs[name]
    # an off-center gear changes the leverage, and with it the start, by its ripple at most
    leverage = sum(shaft.ripple for shaft in run.detail.shafts)
    start = float(drive.starting_voltage[0])
    assert run.starting_voltage == pytest.approx(start, rel=leverage)
    end = in_time.OPENS + in_time.STAYS
    course = run.course(np.linspace(end - 2.0, end, 4000))
    speed = float(np.mean(course.speed)) * known.sheet.locomotive.scale
    assert speed == pytest.approx(float(drive.speed_at(VOLTS)[0]), rel=0.01)
    rail = float(run.course([end]).speed[0])
    closed = float(np.atleast_1d(drive.coast(rail))[0])
    # The closed form passes all friction and all inertia through the mesh as if it drove. In
    # time rolling resistance acts on the train itself (longer), and what the train gives back
    # loses in the mesh (shorter).
    assert 0.85 * closed < run.coast_distance < 1.2 * closed


@pytest.mark.parametrize("name", ["before", "planned"])
def test_energy_is_booked_whole(runs, name):
    assert abs(runs[name].residual) < 1e-5


def test_truing_the_gears_takes_the_hop_away(runs):
    """With a flywheel the motor turns evenly, so wheels swing by the axle gear's whole ripple;
    without one the light rotor gives way to some of it."""
    end = in_time.OPENS + in_time.STAYS
    before, after = (runs[name].hop(end - 3.0, end) for name in ("before", "planned"))
    ripples = [runs[name].detail.shafts[-1].ripple for name in ("before", "planned")]
    assert after == pytest.approx(ripples[1], rel=0.1)
    assert 0.5 * ripples[0] < before < ripples[0]
    assert after < before / 3


def test_teeth_meet_as_often_as_starts_pass(runs):
    run = runs["planned"]
    end = in_time.OPENS + in_time.STAYS
    turning = float(run.course([end]).motor_speed[0]) / (2 * np.pi)
    for tone in run.tones(end).values():
        assert tone == pytest.approx(
            turning * run.detail.shafts[0].turns * run.detail.shafts[0].teeth
        )


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_each_state_has_its_line(known, system):
    lines = in_time.tell(known, VOLTS, system)
    assert [line.split(":")[0] for line in lines] == ["As it is", "As planned"]
    unit = "km/h" if system == "metric" else "mph"
    assert all(re.search(rf"runs \d+\s{unit}", line) for line in lines)


def test_what_does_not_start_is_said(known):
    first, second = in_time.tell(known, 2.0)
    assert "does not start" in first and "starts at" in second


def test_few_readings_run_too():
    """One lap by the watch: the engine as it is runs as fast as it was clocked."""
    data = demo().data
    lap = data.measured_before.runs[4].model_copy(update={"current": None})
    known = Knowledge(
        data.model_copy(update={"measured_before": Measured(runs=[lap])}), Spread(draws=10)
    )
    throttle = Supply((steady(lap.voltage.value, 6.0),))
    run = simulate(known.before, throttle, detail=in_time.detail_of(known, data.as_is))
    clocked = lap.distance.value / lap.time.value
    speeds = run.course(np.linspace(3.0, 6.0, 2000)).speed
    assert float(np.mean(speeds)) == pytest.approx(clocked, rel=0.05)
