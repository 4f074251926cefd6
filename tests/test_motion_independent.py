"""The drive in time against an integration written apart, from plain physics.

Independent computation: scipy's DOP853 at a relative error of 1e-10, with its own right-hand
sides; nothing of the simulation but the numbers of the engine.
"""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from mechkit.drive.motion.detail import Detail, Shaft
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Section, Supply, Track, cut, ramp, steady
from tests.motions import AFTER, BEFORE, MESH

G = 9.80665
LEVER = 16e-3 / 2 / 30
K, R = 14e-3, 22.0
ROTOR, MASS = 0.8e-7 + 6.5e-7, 0.4
#: What the drivers pull at the drawbar before they slip; they hold the train's own rolling too.
PULL = 0.2 * 0.32 * G


def integrate(rates, span, start, events=None):
    run = solve_ivp(
        rates,
        span,
        start,
        "DOP853",
        rtol=1e-10,
        atol=1e-12,
        events=events,
        dense_output=True,
        max_step=0.05,
    )
    assert run.success
    return run


def ends(condition, direction=0.0):
    condition.terminal, condition.direction = True, direction
    return condition


def tied(force_gain, torque, lever, change, speed, resisting):
    """Speed-up of motor and rim force from two equations, motor and train, solved as such."""
    matrix = [[ROTOR, lever * force_gain], [-MASS * lever, 1.0]]
    return np.linalg.solve(matrix, [torque, resisting + MASS * change * speed**2])


GEARS = (
    Shaft("idler", 1 / 14, 14, 15e-6, 5.26e-3, friction_swing=0.03, phase=1.0),
    Shaft("axle gear", 1 / 30, 30, 60e-6, 11.3e-3, friction_swing=0.2, phase=2.0),
)


def on_a_grade(grade, solved=tied):
    """Right-hand side for the drive with eccentric gears; power may turn round at any moment."""
    rolling, uphill = (0.08 + 0.01 * MASS * G) / np.hypot(1, grade), MASS * G * grade / np.hypot(1, grade)  # fmt: skip
    own = 0.35e-3 - 0.08 * LEVER / 0.42

    def rates(t, state):
        _, angle, speed = state
        lever, change, swing = LEVER, 0.0, 1.0
        for turns, off, base, share, phase in (
            (1 / 14, 15e-6, 5.26e-3, 0.03, 1.0),
            (1 / 30, 60e-6, 11.3e-3, 0.2, 2.0),
        ):
            lever += LEVER * off / (base / 2) * np.cos(turns * angle + phase)
            change -= LEVER * off / (base / 2) * turns * np.sin(turns * angle + phase)
            swing += share * np.cos(turns * angle + phase)
        torque = K * (3 + 4 * t - K * speed) / R - own * swing - 0.175e-6 * speed
        faster, force = solved(1 / 0.42, torque, lever, change, speed, rolling + uphill)
        if force < 0:
            faster, force = solved(-0.4, torque, lever, change, speed, rolling + uphill)
        return [lever * speed, speed, faster]

    return rates


def simulated(grade, **how):
    """The same drive by the kit."""
    drive = replace(AFTER, rolling_force=0.08, back_efficiency=-0.4)
    track = Track((Section(grade=grade, curve_coefficient=0.01),))
    return simulate(drive, Supply((ramp(3, 11, 2.0),)), track, Detail(shafts=GEARS), **how)


@pytest.mark.parametrize("grade", [0.02, -0.06])
def test_eccentric_gears_on_a_grade_and_in_a_curve(grade):
    run = simulated(grade, model_speed=0.05, tolerance=1e-9)
    first = run.nodes.motor_speed[0]
    known = integrate(on_a_grade(grade), (0, 2), [0.0, 0.0, first])
    times = np.linspace(0.1, 2.0, 30)
    course = run.course(times)
    assert course.distance == pytest.approx(known.sol(times)[0], rel=1e-6)
    assert course.motor_speed == pytest.approx(known.sol(times)[2], rel=1e-5)
    assert bool(run.first("power reverses")) == (grade < 0)


def test_wheels_that_slip_until_the_train_has_caught_up():
    strong = replace(AFTER, motor=replace(AFTER.motor, resistance=4.0), rolling_force=0.05)
    limit = PULL + 0.05
    own = 0.35e-3 - 0.05 * LEVER / 0.42

    def slipping(_t, state):
        _, v, speed = state
        torque = K * (12 - K * speed) / 4.0 - own - 0.175e-6 * speed
        return [v, (limit - 0.05) / MASS, (torque - LEVER * limit / 0.42) / ROTOR]

    known = integrate(
        slipping, (0, 5), [0.0, 0.0, 0.0], ends(lambda _, s: LEVER * s[2] - s[1] + 1e-15, -1)
    )
    run = simulate(strong, Supply((steady(12, 2),)))
    grip = run.first("wheels grip")
    assert run.first("wheels slip").time == 0
    assert grip.time == pytest.approx(known.t[-1], rel=1e-6)
    assert grip.distance == pytest.approx(known.y[0, -1], rel=1e-6)


def test_a_cut_with_lost_motion_phase_by_phase():
    """Afloat, then skidding on the other flank, then both together to the stand."""
    play, own, back = 0.15e-3, 0.35e-3 - 0.04 * LEVER / 0.42, -0.38
    limit = PULL + 0.04

    def afloat(_, s):
        return [s[1], -0.04 / MASS, -(own + 0.175e-6 * s[2]) / ROTOR, LEVER * s[2] - s[1]]

    def skidding(_, s):
        braked = -own - 0.175e-6 * s[2] - LEVER * back * -limit
        return [s[1], -(limit + 0.04) / MASS, braked / ROTOR, 0.0]

    def together(_, s):
        faster, force = tied(back, -own - 0.175e-6 * s[2], LEVER, 0.0, s[2], 0.04)
        assert -limit < force < 0 or s[2] < 0
        return [LEVER * s[2], LEVER * faster, faster, 0.0]

    one = integrate(afloat, (0, 5), [0, 0.2, 0.2 / LEVER, 0.0], ends(lambda _, s: s[3] + play))
    two = integrate(skidding, (one.t[-1], 5), one.y[:, -1], ends(lambda _, s: s[1] - LEVER * s[2]))
    three = integrate(together, (two.t[-1], 9), two.y[:, -1], ends(lambda _, s: s[2]))
    drive = replace(AFTER, rolling_force=0.04, lost_motion=play, back_efficiency=back)
    run = simulate(drive, Supply((cut(4.0),)), model_speed=0.2)
    told = [run.first(words) for words in ("flank meets", "wheels grip", "stands")]
    for event, phase in zip(told, (one, two, three), strict=True):
        assert event.time == pytest.approx(phase.t[-1], rel=1e-6)
        assert event.distance == pytest.approx(phase.y[0, -1], rel=1e-6)


def test_cogging_at_a_crawl():
    inertia, lever = 1.5e-7, LEVER
    load = 1 / 0.33

    def rates(_, state):
        _, angle, speed = state
        torque = 7e-3 * (3.5 - 7e-3 * speed) / 13 - 1.4e-3 - 0.175e-6 * speed
        torque -= 0.25e-3 * np.sin(9 * angle)
        whole = inertia + MASS * lever**2 * (load if torque > 0 else 0.2)
        return [lever * speed, speed, torque / whole]

    run = simulate(
        replace(BEFORE, back_efficiency=0.2), Supply((steady(3.5, 0.4),)), model_speed=0.03,
        tolerance=1e-9, detail=Detail(cogging=0.25e-3, slots=9),
    )  # fmt: skip
    known = integrate(rates, (0, 0.4), [0.0, 0.0, 0.03 / lever])
    times = np.linspace(0.02, 0.4, 50)
    course = run.course(times)
    assert course.distance == pytest.approx(known.sol(times)[0], rel=1e-6)
    assert course.speed == pytest.approx(lever * known.sol(times)[2], rel=1e-4)


def test_a_mesh_that_locks_while_it_slows_down():
    """The published curve and the screw written out again; the table between costs a little.

    The train pushes, for next to no rolling resistance: first it drives the motor on, then
    friction has grown and the worm brakes it to a stop.
    """
    slope, cosine = np.tan(0.0666), np.cos(0.349066)

    def friction(speed):
        feet = speed * 3e-3 / np.cos(0.0666) / (0.3048 / 60)
        return 0.124 * np.exp(-0.074 * feet**0.645) if feet <= 10 else (
            0.103 * np.exp(-0.110 * feet**0.450) + 0.012
        )  # fmt: skip

    def back(speed):
        f = friction(speed)
        return 0.95 * (cosine - f / slope) / (cosine + f * slope)

    def rates(_, state):
        speed = max(state[1], 0.0)  # a trial step may look past the stand
        faster, force = tied(back(speed), -0.35e-3 - 0.175e-6 * speed, LEVER, 0.0, speed, 0.0)
        assert force < 0 or state[1] < 0
        return [LEVER * speed, faster]

    known = integrate(rates, (0, 9), [0.0, 0.25 / LEVER], ends(lambda _, state: state[1] - 1e-6))
    run = simulate(AFTER, Supply((cut(4.0),)), detail=Detail(mesh=MESH), model_speed=0.25)
    assert back(0.25 / LEVER) > 0.2 > -0.3 > back(10.0)
    assert run.coast_distance is None and run.last("stands").distance == pytest.approx(
        known.y[0, -1], rel=2e-4
    )
