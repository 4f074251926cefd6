"""Events of the drive in time: where they lie, what energy does, and what must mirror."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from mechkit.drive.motion.detail import Detail
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Pulses, Section, Supply, Track, cut, ramp, steady
from tests.motions import AFTER, BEFORE, LOSSLESS, ROUGH, SLACK_AFTER, SLACK_BEFORE, SMOOTH

LEVER = 8e-3 / 30
HILLS = Track(
    (
        Section(0.08),
        Section(0.015, dead=True),
        Section(0.06, grade=0.03, curve_coefficient=0.02),
        Section(0.06, grade=-0.05),
        Section(),
    )
)
SCENE = Supply((ramp(0, 9, 0.8), steady(9, 0.5), cut(0.5, "shorted"), steady(5, 0.4), cut(0.8)))


def test_energy_in_is_energy_out_with_everything_switched_on():
    for drive, detail in ((SLACK_BEFORE, ROUGH), (SLACK_AFTER, SMOOTH)):
        run = simulate(drive, SCENE, HILLS, detail)
        assert run.residual < 1e-7
        assert all(run.energy[place] > 0 for place in ("supply", "winding", "mesh", "rolling"))


def test_energy_closes_the_better_the_finer_the_steps():
    """So the balance weighs the solver, and not a sum that closes by itself."""
    gaps = [
        simulate(SLACK_AFTER, SCENE, HILLS, SMOOTH, tolerance=tolerance).residual
        for tolerance in (1e-3, 1e-5, 1e-8)
    ]
    assert gaps[0] > 10 * gaps[1] > 100 * gaps[2]


def test_the_balance_by_hand_from_the_course_alone():
    """The winding's heat as the integral of R i^2, apart from the solver's own books."""
    run = simulate(SLACK_AFTER, SCENE, HILLS, SMOOTH)
    heat = 0.0
    for start, end in zip([0, 0.8, 1.3, 1.8, 2.2], [0.8, 1.3, 1.8, 2.2, 3.0], strict=True):
        times = np.linspace(start + 1e-9, end - 1e-9, 20001)
        heat += np.trapezoid(22.0 * run.course(times).current ** 2, times)
    assert run.energy["winding"] == pytest.approx(heat, rel=1e-4)


@settings(max_examples=12, deadline=None, derandomize=True, phases=[Phase.generate])
@given(
    volts=st.floats(-12, 12),
    off=st.sampled_from(["open", "shorted", "braked"]),
    speed=st.floats(0, 0.3),
    grade=st.floats(-0.1, 0.1),
    play=st.sampled_from([0.0, 0.05e-3, 0.3e-3]),
    cogging=st.floats(0, 0.3e-3),
    back=st.floats(-1.5, 0.9),
    rolling=st.floats(0, 0.08),
    adhesion=st.sampled_from([0.02, 0.2]),
)
def test_whatever_happens_energy_closes_and_friction_only_takes(
    volts, off, speed, grade, play, cogging, back, rolling, adhesion
):
    """Greasy rail included, on which wheels spin under a train that stands."""
    detail = Detail(cogging=cogging, slots=10, shafts=ROUGH.shafts)
    brake = 20.0 if off == "braked" else 0.0
    supply = Supply((steady(volts, 0.3), cut(0.4, off, brake)))
    track = Track((Section(0.02), Section(0.02, dead=True), Section(grade=grade)))
    drive = replace(
        AFTER, adhesion=adhesion, rolling_force=rolling, lost_motion=play, back_efficiency=back
    )
    run = simulate(drive, supply, track, detail, model_speed=speed)
    assert run.residual < 1e-6
    for place in ("winding", "motor and bearings", "mesh", "wheel slip", "rolling"):
        assert run.energy[place] >= -1e-9 * run.throughput - 1e-15
    limit = 0.32 * 9.80665 * adhesion + rolling
    assert np.abs(run.nodes.rim_force).max() <= limit * (1 + 1e-6)
    assert np.all(np.diff(run.nodes.time) >= 0)


@settings(max_examples=6, deadline=None, derandomize=True)
@given(volts=st.floats(1, 12), ramped=st.floats(0.05, 0.5))
def test_turning_the_throttle_round_mirrors_the_run(volts, ramped):
    motor = replace(BEFORE.motor, heating=15.0, magnet=0.6e-3, brush_drop=0.2)
    drive = replace(BEFORE, rolling_force=0.08, motor=motor)
    detail = replace(SMOOTH, shafts=())
    runs = [
        simulate(drive, Supply((ramp(0, way * volts, ramped), cut(0.3))), detail=detail)
        for way in (1, -1)
    ]
    assert runs[1].nodes.distance[-1] == pytest.approx(
        -runs[0].nodes.distance[-1], rel=1e-5, abs=1e-9
    )
    assert [e.words for e in runs[0].events] == [e.words for e in runs[1].events]


def test_a_start_lies_where_the_ramp_reaches_the_starting_voltage():
    run = simulate(AFTER, Supply((ramp(0, 7.3, 3.1),)), tolerance=1e-4)
    start = run.first("breaks away")
    assert start.time == pytest.approx(AFTER.starting_voltage / 7.3 * 3.1, rel=1e-10)
    assert start.distance == 0


def test_events_do_not_move_with_the_steps():
    coarse, fine = (
        simulate(SLACK_AFTER, SCENE, HILLS, replace(SMOOTH, shafts=()), tolerance=tolerance).events
        for tolerance in (1e-6, 1e-10)
    )
    assert [event.words for event in coarse] == [event.words for event in fine]
    assert [event.time for event in coarse] == pytest.approx([e.time for e in fine], rel=1e-4)


def test_dead_rail_begins_and_ends_where_it_lies():
    run = simulate(AFTER, Supply((steady(9, 3),)), HILLS)
    dead, alive = run.first("rail dead"), run.first("rail alive")
    assert dead.distance == pytest.approx(0.08, abs=1e-10)
    assert alive.distance == pytest.approx(0.095, abs=1e-10)
    between = run.course(np.linspace(dead.time + 1e-6, alive.time - 1e-6, 9))
    assert np.all(between.current == 0)


def test_a_crawl_does_not_carry_over_a_dead_rail_and_speed_does():
    long_gap = Track((Section(0.05), Section(0.03, dead=True), Section()))
    slow = simulate(AFTER, Supply((steady(1.5, 6),)), long_gap)
    fast = simulate(AFTER, Supply((steady(9, 2),)), long_gap)
    assert slow.last("stands") and slow.first("rail alive") is None
    assert fast.first("rail alive") and fast.last("stands") is None


def test_backlash_is_crossed_in_the_time_that_the_motor_needs_to_fall_behind():
    """By hand: the train rolls on free, the motor slows at T / J; play = lever T / J t^2 / 2."""
    drive = replace(AFTER, damping=0.0, lost_motion=0.2e-3)
    run = simulate(drive, Supply((cut(1.0),)), model_speed=0.15)
    expected = np.sqrt(2 * 0.2e-3 * 7.3e-7 / (LEVER * 0.35e-3))
    assert run.first("power reverses").time == 0
    assert run.first("flank meets").time == pytest.approx(expected, rel=1e-9)


def test_at_a_reversal_the_mesh_carries_nothing():
    """A throttle without steps on an even track: the force runs through 0, it does not jump."""
    supply = Supply((ramp(0, 9, 0.8), ramp(9, 0, 0.3), ramp(0, 0, 0.5)))
    run = simulate(replace(SLACK_AFTER, lost_motion=0.0), supply, detail=SMOOTH)
    turned = [e.time for e in run.events if e.words == "power reverses"]
    assert turned
    for time in turned:
        force = run.nodes.rim_force[run.nodes.time == time]
        assert np.abs(force).max() < 1e-8


def test_a_worm_holds_on_a_grade_and_a_free_mesh_rolls_back():
    steep = Track((Section(grade=0.15),))
    worm = simulate(AFTER, Supply((cut(0.5),)), steep)
    assert worm.nodes.distance[-1] == 0 and not worm.events
    easy = replace(LOSSLESS, running_friction=0.02e-3, starting_friction=0.03e-3)
    free = simulate(easy, Supply((cut(0.5),)), steep)
    assert free.nodes.distance[-1] < -1e-3 and free.first("breaks away").time == 0


def test_cogging_twitches_before_it_starts_and_blurs_at_speed():
    run = simulate(BEFORE, Supply((ramp(0, 8, 6),)), detail=Detail(cogging=0.3e-3, slots=10))
    over = BEFORE.motor.resistance / BEFORE.motor.torque_constant
    assert len([e for e in run.events if e.words == "breaks away"]) > 1
    assert 1.45e-3 * over < run.starting_voltage <= (1.45e-3 + 0.3e-3) * over * (1 + 1e-9)
    plain = simulate(BEFORE, Supply((ramp(0, 8, 6),)))
    assert run.nodes.motor_speed[-1] == pytest.approx(plain.nodes.motor_speed[-1], rel=5e-3)


def test_pulses_run_through_leave_the_motion_as_the_mean_does():
    drive = replace(LOSSLESS, adhesion=5.0)
    supply = Supply((steady(6, 0.4),))
    pulses = Pulses(12.0, 4e3, 0.5e-3, ((0.3, 0.31),))
    mean = simulate(drive, supply)
    run = simulate(drive, Supply(supply.phases, pulses))
    assert run.residual < 1e-7
    times = np.array([0.305, 0.31, 0.39])
    assert run.course(times).speed == pytest.approx(mean.course(times).speed, rel=5e-4)
    assert np.ptp(run.nodes.current[(run.nodes.time > 0.302) & (run.nodes.time < 0.309)]) > 0.1


def test_greasy_rail_wheels_spin_and_stop_under_a_train_that_never_moves():
    """A weight hung behind it holds the train where the drivers cannot pull."""
    drive = replace(AFTER, adhesion=0.02, rolling_force=0.08)
    supply = Supply((ramp(0, 6, 0.5), cut(1.5)))
    run = simulate(drive, supply, Track(pull=0.08))
    assert run.nodes.distance.max() == 0 and run.slipped > 0.01
    assert run.last("wheels grip").time < 2.0 and run.nodes.motor_speed[-1] == 0
    assert run.residual < 1e-7
