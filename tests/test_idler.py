"""An idler off center: both of its meshes, in the drive in time as in the diagnosis."""

from dataclasses import replace

import numpy as np
import pytest

from mechkit import runout
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.diagnosis.shafts import Train
from mechkit.drive.model.spread import Spread
from mechkit.drive.motion.detail import Detail, Shaft
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Supply, cut, ramp, steady
from mechkit.drive.questions import in_time
from mechkit.drive.sheet import demo
from tests import recordings
from tests.independent import flanks
from tests.motions import LOSSLESS

ALPHA = np.radians(20.0)
IDLER = Shaft(
    "idler", 1 / 20, 20, eccentricity=50e-6, base_diameter=8e-3 * np.cos(ALPHA),
    meshes=runout.idler_swing(pressure_angle=ALPHA),
)  # fmt: skip


@pytest.mark.parametrize("around", [0.5, 2.0, np.pi, 4.0, 6.0])
@pytest.mark.parametrize("angle", [np.radians(14.5), ALPHA])
def test_two_meshes_anywhere_round_the_idler_are_those_of_its_flanks(around, angle):
    made = runout.idler_swing(pressure_angle=angle, around=around)
    assert made == pytest.approx(flanks.idler_swing(pressure_angle=angle, around=around), rel=1e-6)


def test_where_both_lines_of_action_are_one_the_offset_does_nothing():
    assert runout.idler_swing(pressure_angle=ALPHA, around=2 * ALPHA) == pytest.approx(
        0.0, abs=1e-12
    )
    assert runout.idler_swing(pressure_angle=ALPHA, around=np.pi + 2 * ALPHA) == pytest.approx(2.0)


def swing(run, start, end, order):
    """Swing of the wheel's speed at an order of the motor's turn, mean to peak, per mean."""
    turn = 2 * np.pi / order
    course = run.course(np.linspace(start, end, 40_001))
    first = course.motor_angle[0]
    turns = np.floor((course.motor_angle[-1] - first) / turn)
    even = np.linspace(0, turns * turn, int(turns) * 200, endpoint=False)
    speed = np.interp(even, course.motor_angle - first, course.speed)
    # even in angle, not in time
    return 2 * abs(np.mean(speed * np.exp(-1j * order * even))) / np.mean(speed)


def test_the_drive_in_time_swings_as_the_flanks_do():
    """A heavy flywheel holds the motor; the swing put in by the shape of invented flanks."""
    heavy = replace(LOSSLESS, flywheel_inertia=50e-7)
    fast = float(heavy.rail_speed(heavy.motor_speed_at(6.0)))
    run = simulate(heavy, Supply((steady(6.0, 3.0),)), detail=Detail(shafts=(IDLER,)), model_speed=fast)  # fmt: skip
    _, speed = recordings.idler_swing(recordings.Drive(), 100e-6)
    assert swing(run, 1.0, 3.0, 1 / 20) == pytest.approx(np.ptp(speed) / 2, rel=0.01)
    assert run.residual < 1e-7


@pytest.fixture(scope="module")
def known():
    return Knowledge(demo().data, Spread(draws=10))


@pytest.mark.parametrize("which", ["as_is", "planned"])
def test_in_time_and_diagnosis_count_every_gear_alike(known, which):
    state = getattr(known.sheet, which)
    train = Train(known.sheet, state)
    turning = {shaft.name: shaft for shaft in in_time.detail_of(state).shafts}
    for gear in state.gears:
        kind = "axle" if gear is state.gears[-1] else "idler"
        shaft = next(one for one in train.shafts if one.kind == kind)
        expected = train.swing_of(shaft, gear.total_runout.value)
        assert turning[gear.name].ripple == pytest.approx(expected, rel=1e-9)


def test_energy_stays_booked_with_an_idler_far_off_center():
    detail = Detail(shafts=(replace(IDLER, eccentricity=150e-6),))
    run = simulate(LOSSLESS, Supply((ramp(0, 9, 0.5), steady(9.0, 0.5), cut(1.0))), detail=detail)
    assert run.residual < 1e-7


def test_meshes_beyond_two_are_refused():
    with pytest.raises(ValueError, match=r"meshes = 2\.5: must be at least 0 and at most 2"):
        replace(IDLER, meshes=2.5)
