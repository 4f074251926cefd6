"""How much of a gear's swing the train feels: one law, asked in closed form and in time."""

from dataclasses import replace

import numpy as np
import pytest

from mechkit.drive.motion.detail import Detail, Shaft
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Supply, cut, steady
from tests.motions import AFTER, BEFORE, LOSSLESS

#: Offset over base radius: small, so that swings add up.
RIPPLE = 0.002


def gear(turns):
    """A gear off center that makes so many turns for one of the motor."""
    return Shaft("gear", turns, 30, eccentricity=RIPPLE / 2 * 10e-3, base_diameter=10e-3)


def wave(run, plain, turns, start, end):
    """Swing of the train's speed at a gear's turn over a run without it, per mean speed."""
    first, last = (float(run.course([at]).motor_angle[0]) * turns for at in (start, end))
    whole = np.floor((last - first) / (2 * np.pi))
    assert whole >= 2
    even = first + np.linspace(0, whole * 2 * np.pi, int(whole) * 360, endpoint=False)
    times = np.linspace(start, end, 8000)

    def speed(course):
        return np.interp(even / turns, course.motor_angle, course.speed)

    with_it, without = speed(run.course(times)), speed(plain.course(times))
    return 2 * abs(np.mean((with_it - without) * np.exp(-1j * even))) / np.mean(without)


ROLLS = {"rolling_force": 0.08}
DRIVES = {
    "iron core without a flywheel": replace(BEFORE, **ROLLS),
    "with a flywheel": replace(AFTER, **ROLLS),
    "heavy train": replace(BEFORE, train_mass=1.2, **ROLLS),
    "no loss in the mesh": replace(LOSSLESS, flywheel_inertia=5e-8, **ROLLS),
    "next to no friction": replace(
        BEFORE, running_friction=0.1e-3, starting_friction=0.1e-3, rolling_force=0.03
    ),
}


@pytest.mark.parametrize("turns", [1 / 30, 1 / 14], ids=["axle gear", "idler"])
@pytest.mark.parametrize("drive", DRIVES.values(), ids=DRIVES)
def test_fed_the_closed_form_is_what_the_run_does(drive, turns):
    volts = 9.0
    fast = float(drive.rail_speed(drive.motor_speed_at(volts)))
    supply = Supply((steady(volts, 2.5),))
    run, plain = (
        simulate(drive, supply, None, Detail(shafts=shafts), model_speed=fast, tolerance=1e-9)
        for shafts in ((gear(turns),), ())
    )
    assert run.first("power reverses") is None
    hop = drive.hop(RIPPLE, turns, volts)
    assert wave(run, plain, turns, 1.5, 2.5) == pytest.approx(hop, rel=1e-3)
    assert hop < 0.99 * RIPPLE  # the motor gives way: a formula that held it fast would fail


def test_coasting_it_is_the_same_without_the_supply():
    """Only the drag is left to hold the motor; a train that rolls hard keeps the flanks pressed."""
    drive = replace(
        LOSSLESS, flywheel_inertia=0.0, rolling_force=0.02, running_friction=0.02 * 8e-3 / 30 + 1e-8,
        starting_friction=1e-5, damping=1e-12,
    )  # fmt: skip
    supply = Supply((cut(1.5),))
    run, plain = (
        simulate(drive, supply, None, Detail(shafts=shafts), model_speed=0.3, tolerance=1e-9)
        for shafts in ((gear(1 / 30),), ())
    )
    assert run.first("power reverses") is None
    inertia, train = 0.8e-7, 0.4 * (8e-3 / 30) ** 2
    share = inertia / (inertia + train)
    assert wave(run, plain, 1 / 30, 0.2, 1.2) == pytest.approx(RIPPLE * share, rel=0.01)


def test_an_engine_that_stands_does_not_hop_and_draws_are_answered_one_by_one():
    drive = replace(DRIVES["with a flywheel"], running_friction=np.array([0.35e-3, 0.6e-3, 20e-3]))
    hops = drive.hop(RIPPLE, 1 / 30, 9.0)
    assert hops[2] == 0 and drive.motor_speed_at(9.0)[2] == 0
    for hop, friction in zip(hops, (0.35e-3, 0.6e-3), strict=False):
        assert hop == pytest.approx(
            replace(drive, running_friction=friction).hop(RIPPLE, 1 / 30, 9.0)
        )
