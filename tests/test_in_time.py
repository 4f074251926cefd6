"""The bench sheet's drives in time: the same engine as in the closed forms, and what time adds."""

import re

import numpy as np
import pytest

from mechkit.drive.constants.knowledge import Knowledge, nominal
from mechkit.drive.decisions import findings
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
    # the power is cut wherever the gears happen to stand: the motor's own speed is off by as much
    assert run.coast_distance == pytest.approx(closed, rel=2 * leverage)


@pytest.mark.parametrize("name", ["before", "planned"])
def test_energy_is_booked_whole(runs, name):
    assert abs(runs[name].residual) < 1e-5


def test_truing_the_gears_takes_the_hop_away(known, runs):
    """What is left of a gear's ripple is in the closed form what it is in time."""
    end = in_time.OPENS + in_time.STAYS
    hops = {}
    for name, run in runs.items():
        hops[name] = run.hop(end - 4.0, end)
        gear = run.detail.shafts[-1]
        closed = getattr(known, name).hop(gear.ripple, gear.turns, VOLTS)[0]
        assert hops[name] == pytest.approx(closed, rel=0.02)
        assert closed < 0.95 * gear.ripple
    assert hops["planned"] < hops["before"] / 3


def test_the_page_tells_the_swing_that_the_run_shows(known):
    """Asked at two doors: the finding on the build sheet, and a run on full throttle.

    There the flanks part once a turn, which the closed form does not know: a tenth.
    """
    run, _ = in_time.both(known, known.sheet.supply.voltage.value)
    end = in_time.OPENS + in_time.STAYS
    told, ripple = findings.hop(known).numbers["swing"].value, run.detail.shafts[-1].ripple
    assert told == pytest.approx(run.hop(end - 4.0, end), rel=0.1)
    assert told < 0.9 * ripple
    assert any(event.words == "power reverses" for event in run.events if 5.0 < event.time < end)


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
    run = simulate(
        nominal(known.before), throttle, detail=in_time.detail_of(data.as_is, nominal(known.before))
    )
    clocked = lap.distance.value / lap.time.value
    speeds = run.course(np.linspace(3.0, 6.0, 2000)).speed
    assert float(np.mean(speeds)) == pytest.approx(clocked, rel=0.05)


def test_a_coast_of_many_seconds_is_waited_for():
    """A large brass wheel on a shaft in line: longer than the throttle is shut in the demo's runs."""
    heavy = demo().with_values(
        {
            "planned.flywheel.outside_diameter": "16.5 mm",
            "planned.flywheel.width": "24 mm",
            "planned.flywheel.overhang": "15 mm",
            "planned.alignment.offset": "0 mm",
        }
    )
    known = Knowledge(heavy.data, Spread(draws=10))
    after = in_time.both(known, VOLTS)[1]
    assert after.last("stands").time > in_time.OPENS + in_time.STAYS
    assert f"rolls on {after.coast_distance * 1e3:.0f}\u00a0mm" in in_time.tell(known, VOLTS)[1]
