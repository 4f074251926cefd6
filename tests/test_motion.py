"""The drive in time against closed forms of the handbook and a library for linear systems."""

from dataclasses import replace

import numpy as np
import pytest

from mechkit import flywheel, motor, runout, traction, worm
from mechkit.drive.motion.detail import Detail, Gains, Shaft, WormMesh
from mechkit.drive.motion.simulate import before_and_after, simulate
from mechkit.drive.motion.supply import Phase, Pulses, Section, Supply, Track, cut, ramp, steady
from tests.motions import (
    AFTER,
    BEFORE,
    LOSSLESS,
    MESH,
    ROUGH,
    SLACK_AFTER,
    SLACK_BEFORE,
    SMOOTH,
    WARMING,
)

K, R = LOSSLESS.motor.torque_constant, LOSSLESS.motor.resistance
LEVER = 8e-3 / 30
#: Motor, flywheel and train, all as the motor feels them through a mesh without loss [kg*m^2].
INERTIA = 0.8e-7 + 6.5e-7 + 0.4 * LEVER**2
PULSES = Pulses(height=12.0, frequency=16e3, inductance=0.5e-3, windows=((0.0, 2e-3),))
#: A drive held by friction whatever feeds it.
LOCKED = replace(AFTER, starting_friction=1.0)


def test_the_handbook_tells_how_long_and_how_far_it_coasts():
    """flywheel.coast_time and coast_angle; the mesh passes both ways without loss."""
    run = simulate(LOSSLESS, Supply((cut(5.0),)), model_speed=0.2)
    expected = {
        "inertia": INERTIA,
        "speed": 0.2 / LEVER,
        "torque": 0.35e-3,
        "damping": 0.175e-6,
    }
    stand = run.last("stands")
    assert stand.time == pytest.approx(flywheel.coast_time(**expected), rel=1e-7)
    assert stand.distance == pytest.approx(flywheel.coast_angle(**expected) * LEVER, rel=1e-7)


@pytest.mark.parametrize("brake", [0.0, 33.0])
def test_rails_shorted_or_braked_through_a_resistor(brake):
    drive = replace(LOSSLESS, running_friction=0.0, damping=0.0)
    off = cut(1.0, "braked", brake) if brake else cut(1.0, "shorted")
    run = simulate(drive, Supply((off,)), model_speed=0.1)
    constant = motor.mechanical_time_constant(
        inertia=INERTIA, resistance=R + brake, torque_constant=K
    )
    times = np.linspace(0, 3 * constant, 40)
    speed = 0.1 * np.exp(-times / constant)
    assert run.course(times).speed == pytest.approx(speed, rel=1e-5)
    assert run.nodes.current[0] == pytest.approx(-K * 0.1 / LEVER / (R + brake))


@pytest.mark.parametrize("pull", [0.0, 0.3])
def test_it_settles_to_the_steady_speed_and_current(pull):
    """Drive.motor_speed_at, here with a mesh that wastes more than half."""
    run = simulate(AFTER, Supply((steady(9.0, 4.0),)), Track(pull=pull))
    assert run.nodes.motor_speed[-1] == pytest.approx(AFTER.motor_speed_at(9.0, pull), rel=1e-6)
    assert run.nodes.current[-1] == pytest.approx(AFTER.current_at(9.0, pull), rel=1e-6)


def test_a_motor_starts_cold_and_settles_as_warm_as_it_runs():
    """By hand: what the brushes leave, over the winding as warm as its own heat makes it."""
    run = simulate(WARMING, Supply((ramp(0.0, 9.0, 3.0), steady(9.0, 3.0))))
    assert run.starting_voltage == pytest.approx(0.3 + 0.38e-3 * 22.0 / 14e-3, rel=1e-8)
    current, speed = run.nodes.current[-1], run.nodes.motor_speed[-1]
    rise = WARMING.running_motor(9.0).resistance / 22.0 - 1
    warm, constant = 22.0 * (1 + rise), 14e-3 * (1 - 0.6e-3 * rise / 0.00393)
    assert rise == pytest.approx(0.00393 * 30.0 * current**2 * warm, rel=0.02)
    assert warm * current + constant * speed == pytest.approx(9.0 - 0.3, rel=1e-8)
    assert constant * current == pytest.approx(0.35e-3 + 0.175e-6 * speed, rel=1e-6)
    assert speed == pytest.approx(WARMING.motor_speed_at(9.0), rel=1e-6)
    assert run.energy["brushes"] == pytest.approx(
        0.3 * np.trapezoid(run.nodes.current, run.nodes.time), rel=0.01
    )
    assert run.residual < 1e-7


def test_brushes_keep_their_part_of_pulses_too():
    """Current through a standing winding, pulse by pulse, has the mean that the mean voltage has."""
    locked = replace(LOCKED, motor=replace(AFTER.motor, brush_drop=0.3))
    run = simulate(locked, Supply((steady(6.0, 4e-3),), replace(PULSES, windows=((0.0, 4e-3),))))
    late = run.course(np.linspace(3e-3, 4e-3, 16_001))
    assert np.mean(late.current) == pytest.approx((6.0 - 0.3) / 22.0, rel=2e-3)
    assert run.residual < 1e-7


def test_a_start_that_friction_at_rest_does_not_hold_up_is_a_start():
    """Warm it pulls less than cold; at the very start it must not fall back on that."""
    drive = replace(WARMING, starting_friction=WARMING.running_friction)
    run = simulate(drive, Supply((ramp(0.0, 9.0, 3.0), steady(9.0, 1.0))))
    assert [event.words for event in run.events] == ["breaks away"]
    assert run.starting_voltage == pytest.approx(drive.starting_voltage, rel=1e-8)


def test_rolling_moved_to_the_train_changes_no_steady_speed_and_no_start():
    for drive in (AFTER, replace(AFTER, rolling_force=0.08)):
        run = simulate(drive, Supply((ramp(0, 6, 2), steady(6.0, 4.0))))
        assert run.starting_voltage == pytest.approx(AFTER.starting_voltage, rel=1e-8)
        assert run.nodes.motor_speed[-1] == pytest.approx(AFTER.motor_speed_at(6.0), rel=1e-6)


def test_behind_a_ramp_the_speed_lags_by_one_time_constant():
    run = simulate(LOSSLESS, Supply((ramp(1.0, 11.0, 5.0),)))
    lag = INERTIA / (LOSSLESS.damping + K**2 / R)
    times = np.linspace(2.0, 5.0, 20)
    expected = LOSSLESS.motor_speed_at(1.0 + 2.0 * (times - lag))
    assert run.course(times).motor_speed == pytest.approx(expected, rel=1e-6)


def test_step_of_voltage_through_the_winding_as_a_linear_system():
    """Independent computation: python-control, two states, current and speed."""
    drive = replace(LOSSLESS, running_friction=0.0, starting_friction=0.0, adhesion=50.0)
    coil = 5e-3
    pulses = Pulses(height=6.0, frequency=500.0, inductance=coil, windows=((0.0, 0.1),))
    run = simulate(drive, Supply((steady(6.0, 0.1),), pulses))
    import control  # here: every process collects this file, and one runs it

    system = control.ss(
        [[-R / coil, -K / coil], [K / INERTIA, -0.175e-6 / INERTIA]],
        [[6.0 / coil], [0.0]], np.eye(2), np.zeros((2, 1)),
    )  # fmt: skip
    times = np.linspace(0, 0.1, 201)
    current, speed = control.forced_response(system, times, np.ones_like(times)).states
    course = run.course(times)
    assert course.motor_speed == pytest.approx(speed, rel=1e-5, abs=1e-4)
    assert course.current == pytest.approx(current, rel=1e-5, abs=1e-6)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.85])
def test_ripple_of_the_current_under_pulses(share):
    """motor.ripple_current, exact for a standing motor."""
    run = simulate(LOCKED, Supply((steady(12 * share, 2e-3),), PULSES))
    late = run.nodes.current[run.nodes.time > 1.9e-3]
    expected = motor.ripple_current(
        voltage=12.0, duty=share, frequency=16e3, resistance=R, inductance=0.5e-3
    )
    assert np.ptp(late) == pytest.approx(expected, rel=1e-6)


def test_pulses_seen_as_their_mean_heat_as_much_as_pulses_run_through():
    supply = Supply((steady(6.0, 0.05),), replace(PULSES, windows=((0.025, 0.05),)))
    seen = simulate(LOCKED, Supply((steady(6.0, 0.05),), replace(PULSES, windows=())))
    run = simulate(LOCKED, supply)
    smooth = simulate(LOCKED, Supply((steady(6.0, 0.05),)))
    more = seen.energy["winding"] - smooth.energy["winding"]
    assert run.energy["winding"] - smooth.energy["winding"] == pytest.approx(more, rel=0.01)
    assert more > 0 and max(seen.residual, run.residual) < 1e-7


def test_wheels_slip_at_the_adhesion_limit_and_not_before():
    limit = float(traction.adhesion_limit(load=0.32 * 9.80665, adhesion=0.2))
    # no jolt at the start: friction at rest as in motion, and a throttle that opens slowly
    strong = replace(
        AFTER, motor=replace(AFTER.motor, resistance=5.0), starting_friction=AFTER.running_friction
    )
    holds = simulate(strong, Supply((ramp(0, 12, 12),)), Track(pull=0.96 * limit))
    slips = simulate(strong, Supply((steady(12, 5),)), Track(pull=0.96 * limit))
    dragged = simulate(strong, Supply((cut(0.2),)), Track(pull=1.04 * limit))
    assert holds.first("wheels slip") is None and holds.nodes.rim_force.max() < limit
    assert dragged.first("wheels skid") and dragged.nodes.distance[-1] < 0
    assert slips.first("wheels slip").time == 0 and slips.first("wheels grip").time > 0.1
    assert slips.nodes.rim_force.max() == pytest.approx(limit, rel=1e-9)
    assert slips.nodes.slip_speed.max() > 0.05


def test_a_locked_drive_skids_as_far_as_adhesion_says():
    """traction.stopping_distance; the worm stops at once, the engine does not."""
    run = simulate(BEFORE, Supply((cut(1.0),)), model_speed=0.34)
    skid = traction.stopping_distance(
        model_speed=0.34, adhesion=0.2, mass=0.4, mass_on_drivers=0.32
    )
    assert run.last("stands").distance == pytest.approx(skid, rel=1e-6)
    assert run.first("motor stands").time < 0.7 * run.last("stands").time
    assert run.first("wheels skid").time == 0


def test_the_mesh_is_the_handbooks_and_locks_while_it_slows_down():
    """Within what the table costs between its places; unlocked at speed, locked at rest."""
    gains = Gains(0.5, 0.0, Detail(mesh=MESH), 1500.0)
    for speed in (0.0, 3.0, 40.0, 333.0, 1200.0):
        forward, back = MESH.efficiencies(speed)
        assert gains.at(speed, True) == pytest.approx(1 / forward, rel=2e-3)
        assert gains.at(speed, False) == pytest.approx(back, abs=2e-3)
    assert gains.at(1200.0, False) > 0.2 and gains.at(20.0, False) < -0.3


def test_without_a_mesh_the_way_back_follows_the_usual_rule():
    """2 - 1/efficiency against the exact screw: by hand, apart by twice (friction / cos)^2."""
    thread = WormMesh(lead_angle=0.05, pressure_angle=0.25, pitch_diameter=6e-3)
    forward, back = thread.efficiencies(300.0)
    sliding = worm.sliding_speed(pitch_diameter=6e-3, speed=300.0, lead_angle=0.05)
    friction = worm.friction_coefficient(sliding_speed=sliding)
    drive = replace(AFTER, efficiency=float(forward))
    gains = Gains(drive.efficiency, drive.back, Detail(), 500.0)
    assert gains.at(300.0, True) == pytest.approx(1 / forward)
    assert back - gains.at(300.0, False) == pytest.approx(
        2 * (friction / np.cos(0.25)) ** 2, rel=0.01
    )


def test_the_hop_is_the_ripple_of_the_axle_gear_where_a_flywheel_holds_the_motor():
    heavy = replace(LOSSLESS, flywheel_inertia=50e-7)
    gear = Shaft("axle gear", 1 / 30, 30, eccentricity=40e-6, base_diameter=11e-3)
    fast = float(heavy.rail_speed(heavy.motor_speed_at(6.0)))
    supply = Supply((steady(6.0, 12.0),))
    run = simulate(heavy, supply, detail=Detail(shafts=(gear,)), model_speed=fast)
    ripple = runout.speed_ripple(eccentricity=40e-6, base_diameter=11e-3)
    assert run.hop(2.0, 12.0) == pytest.approx(ripple, rel=0.01)
    none = simulate(heavy, supply, model_speed=fast)
    assert none.hop(2.0, 12.0) < 1e-6


def test_a_voltage_out_of_an_array_is_a_voltage():
    plain, numpys = (simulate(AFTER, Supply((steady(u, 0.3),))) for u in (6.0, np.float64(6.0)))
    assert numpys.nodes.distance[-1] == plain.nodes.distance[-1] > 0


def test_tones_are_teeth_times_turns():
    run = simulate(SLACK_AFTER, Supply((steady(8.0, 3.0),)), detail=SMOOTH)
    speed = run.nodes.motor_speed[-1] / (2 * np.pi)
    assert run.tones(3.0)["idler"] == pytest.approx(speed * 14 / 14)
    assert run.tones(3.0)["axle gear"] == pytest.approx(speed * 30 / 30)


def test_it_creeps_on_the_voltage_that_has_just_started_it():
    opened = simulate(AFTER, Supply((ramp(0.0, 12.0, 24.0),)))
    assert opened.starting_voltage == pytest.approx(AFTER.starting_voltage, rel=1e-8)
    just = opened.starting_voltage * (1 + 1e-6)
    run = simulate(AFTER, Supply((ramp(0.0, just, 2 * just), steady(just, 4.0))))
    creep = run.nodes.speed[-1]
    assert creep == pytest.approx(AFTER.rail_speed(AFTER.motor_speed_at(just)), rel=1e-4)
    assert simulate(AFTER, Supply((ramp(0.0, 0.5, 1.0),))).starting_voltage is None


def test_speed_over_voltage_in_one_run_is_that_of_the_steady_drive():
    volts = (3.0, 6.0, 12.0)
    run = simulate(AFTER, Supply(tuple(steady(each, 3.0) for each in volts)))
    expected = [AFTER.rail_speed(AFTER.motor_speed_at(each)) for each in volts]
    assert run.course([3.0, 6.0, 9.0]).speed == pytest.approx(expected, rel=1e-6)


def test_before_and_after_on_one_throttle():
    """Twice the drive: later start, faster, stops on locked wheels; as the notes expect."""
    supply = Supply((ramp(0, 12, 3), steady(12, 1.5), cut(3)))
    before, after = before_and_after((SLACK_BEFORE, ROUGH), (SLACK_AFTER, SMOOTH), supply)
    assert before.starting_voltage > 3 * after.starting_voltage
    assert before.first("wheels skid") and before.coast_distance < 0.045
    assert after.coast_distance == pytest.approx(0.135, rel=0.25)
    assert before.heat > 10 * after.heat


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (lambda: steady(float("nan"), 1.0), "voltage = nan V: must be finite"),
        (lambda: ramp(0.0, 5.0, 0.0), "time = 0 s: must be greater than 0"),
        (lambda: Phase(1.0, 3.0, circuit="open"), "voltage = 3 V: must be 0 with the power off"),
        (lambda: cut(1.0, "braked"), "resistance = 0 ohm: must be greater than 0"),
        (lambda: cut(1.0, "off"), "circuit = 'off': must be fed, open, shorted or braked"),
        (lambda: Supply((steady(13.0, 1.0),), PULSES), "voltage = 13 V: must be at least 0 and at most 12 V"),
        (lambda: Supply(()), "must hold at least one phase"),
        (lambda: replace(PULSES, windows=((0.2, 0.1),)), "time = 0.1 s: must be greater than 0.2 s"),
        (lambda: Section(grade=float("inf")), "grade = inf: must be finite"),
        (lambda: Track(pull=-1.0), "force = -1 N: must be at least 0"),
        (lambda: Detail(slots=2.5), "slots = 2.5: must be a whole number"),
        (lambda: Shaft("gear", 0.0, 30), "turns = 0: must be greater than 0"),
        (lambda: simulate(AFTER, Supply((cut(1.0),)), model_speed=-1.0), "model_speed = -1 m/s: must be at least 0"),
        (lambda: simulate(AFTER, Supply((cut(1.0),)), tolerance=0.1), "tolerance = 0.1: must be at least 1e-12"),
        (lambda: simulate(replace(AFTER, rolling_force=2.0), Supply((cut(1.0),))), "rolling_force = 2 N"),
        (lambda: simulate(AFTER, Supply((cut(1.0),))).hop(0.0, 1.0), "must be a whole turn of the drivers"),
        (lambda: simulate(AFTER, Supply((cut(1.0),))).course([2.0]), "time = 2 s: must be at least 0 and at most 1 s"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_value_and_limit(wrong, message):
    with pytest.raises(ValueError) as refusal:
        wrong()
    assert message in str(refusal.value)
