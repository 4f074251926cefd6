"""A stop in closed form: against the simulation, against scipy, in its limits, and in bulk."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from mechkit import flywheel, traction
from mechkit.drive.model import coasting
from mechkit.drive.model.coasting import FLOATS, RETURNS, SKIDS, SLIPS, STANDS, TIED, Bodies
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Motor
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Supply, cut
from tests.independent import two_bodies
from tests.motions import AFTER, BEFORE, LOSSLESS

LEVER = 8e-3 / 30


def drawn(chance):
    """A drive that nobody would build, so that everything happens; a speed, rails shorted or not."""

    def log(low, high):
        return float(np.exp(chance.uniform(np.log(low), np.log(high))))

    efficiency, ratio, wheel = chance.uniform(0.25, 0.95), float(chance.integers(8, 45)), log(0.01, 0.024)  # fmt: skip
    rolling = log(0.005, 0.15) if chance.random() < 0.8 else 0.0
    inner = log(3e-5, 1e-3)
    running = inner + rolling * wheel / 2 / ratio / efficiency
    drive = Drive(
        motor=Motor(log(3, 30), log(3e-3, 2e-2), friction_torque=0.0, rotor_inertia=log(2e-8, 3e-7)),
        gear_ratio=ratio, wheel_diameter=wheel,
        flywheel_inertia=0.0 if chance.random() < 0.3 else log(5e-8, 5e-6),
        starting_friction=running + inner * chance.uniform(0, 0.5), running_friction=running,
        damping=0.0 if chance.random() < 0.15 else log(1e-8, 2e-6), efficiency=efficiency,
        engine_mass=0.4, train_mass=log(0.2, 1.2), mass_on_drivers=0.2, adhesion=log(0.02, 0.3),
        scale=87.0, rolling_force=rolling,
        lost_motion=0.0 if chance.random() < 0.25 else log(1e-5, 2e-3),
        back_efficiency=None if chance.random() < 0.5 else chance.uniform(-1.2, 0.9),
    )  # fmt: skip
    return drive, log(0.02, 0.35), bool(chance.random() < 0.3)


@cache
def stops():
    """Sixty of them."""
    chance = np.random.default_rng(1848)
    return [drawn(chance) for _ in range(60)]


def kinds(drive, speed, shorted):
    """The phases of a stop, one after the other."""
    phases = coasting.phases(drive.bodies(shorted), speed)
    return tuple(int(one.kind) for one in phases if one.kind != STANDS)


def bodies(drive, shorted):
    """The numbers of a stop, by name."""
    return {name: float(value) for name, value in vars(drive.bodies(shorted)).items()}


def test_every_phase_is_met_and_the_simulation_agrees():
    met = set()
    for drive, speed, shorted in stops():
        met |= set(kinds(drive, speed, shorted))
        way, time = coasting.stop(drive.bodies(shorted), speed)
        off = cut(1.2 * float(time) + 0.1, "shorted" if shorted else "open")
        stand = simulate(drive, Supply((off,)), model_speed=speed).last("stands")
        assert (stand.distance, stand.time) == pytest.approx((way, time), rel=1e-6)
    assert met == {TIED, FLOATS, RETURNS, SKIDS, SLIPS}


@cache
def different():
    """The first three of each course that a stop among the sixty takes."""
    found: dict[tuple, list] = {}
    for one in stops():
        found.setdefault(kinds(*one), []).append(one)
    return [one for alike in found.values() for one in alike[:3]]


def test_newtons_laws_for_two_bodies_agree():
    """Independent computation: scipy, each contact as the force that it carries allows."""
    assert len(different()) >= 12
    contacts = set()
    for drive, speed, shorted in different():
        way, time, told = two_bodies.stop(speed=speed, **bodies(drive, shorted))
        contacts |= set(told)
        assert coasting.stop(drive.bodies(shorted), speed) == pytest.approx((way, time), rel=1e-7)
    assert contacts == {"push", "hold", "none", "spin", "skid"}


#: A drive for each course, by what it goes through.
COURSES = {
    (TIED,): replace(AFTER, efficiency=0.8),
    (TIED, TIED): replace(
        AFTER, efficiency=0.8, damping=2e-6, running_friction=0.2e-3, rolling_force=0.12
    ),
    (FLOATS, SKIDS): replace(BEFORE, rolling_force=0.04, lost_motion=0.3e-3),
    (FLOATS, SKIDS, TIED): replace(AFTER, rolling_force=0.04, lost_motion=0.3e-3),
    (FLOATS, SKIDS, TIED, RETURNS, SLIPS, TIED): replace(
        AFTER, efficiency=0.7, flywheel_inertia=6e-7, damping=1e-6, running_friction=0.12e-3,
        rolling_force=0.05, lost_motion=0.1e-3,
    ),
}  # fmt: skip


@pytest.mark.parametrize(("course", "drive"), COURSES.items(), ids=lambda x: str(x)[:20])
def test_teeth_that_yield_and_wheels_that_creep_end_where_rigid_ones_do(course, drive):
    """Independent computation: scipy, one stiff run that knows no phases; within what yields."""
    drive = replace(drive, starting_friction=drive.running_friction)
    assert kinds(drive, 0.25, False) == course
    way = two_bodies.yielding_stop(speed=0.25, **bodies(drive, False))
    assert drive.coast(0.25) == pytest.approx(way, rel=2e-3)


# -- limits -------------------------------------------------------------------------


def test_without_loss_either_way_it_is_the_handbooks_with_the_trains_mass_added():
    drive = replace(LOSSLESS, damping=0.4e-6)
    inertia = 7.3e-7 + 0.4 * LEVER**2
    turning = {"inertia": inertia, "speed": 0.2 / LEVER, "torque": 0.35e-3, "damping": 0.4e-6}
    assert drive.coast(0.2) == pytest.approx(flywheel.coast_angle(**turning) * LEVER, rel=1e-9)
    assert drive.coast_time(0.2) == pytest.approx(flywheel.coast_time(**turning), rel=1e-9)


def test_without_drag_energy_goes_as_force_times_way():
    """By hand: a motor that pushes, 1/2 (J/l^2 + m/eta) v^2 = (T/l + F/eta) x."""
    drive = replace(AFTER, damping=0.0, running_friction=0.15e-3, rolling_force=0.2)
    inner = 0.15e-3 - 0.2 * LEVER / 0.42
    moved = (7.3e-7 / LEVER**2 + 0.4 / 0.42) * 0.2**2 / 2
    assert drive.coast(0.2) == pytest.approx(moved / (inner / LEVER + 0.2 / 0.42), rel=1e-9)
    nearly = replace(drive, damping=1e-13)
    assert nearly.coast(0.2) == pytest.approx(drive.coast(0.2), rel=1e-6)


@pytest.mark.parametrize("force", [0.0, 0.06])
def test_on_a_locked_worm_it_skids_as_far_as_adhesion_lets_it(force):
    """A rotor of next to nothing stands at once; what it rolls by itself helps the rail twice."""
    drive = replace(BEFORE, motor=replace(BEFORE.motor, rotor_inertia=1e-13), rolling_force=force)
    assert drive.back < 0
    skid = 0.4 * 0.25**2 / (2 * (0.2 * 0.32 * 9.80665 + 2 * force))
    assert drive.coast(0.25) == pytest.approx(skid, rel=1e-4)
    assert drive.skid(0.25) == pytest.approx(skid, rel=1e-12)
    if not force:
        handbook = traction.stopping_distance(
            model_speed=0.25, adhesion=0.2, mass=0.4, mass_on_drivers=0.32
        )
        assert drive.skid(0.25) == pytest.approx(handbook, rel=1e-12)


def test_lost_motion_of_a_hair_changes_a_stop_by_a_hair():
    """As its root: what is afloat falls behind as the square of time."""
    for drive, speed, shorted in stops():
        none = replace(drive, lost_motion=0.0).bodies(shorted)
        hair = replace(drive, lost_motion=1e-12).bodies(shorted)
        ways = [coasting.stop(each, speed)[0] for each in (none, hair)]
        assert ways[1] == pytest.approx(ways[0], rel=1e-3)


def test_where_the_motor_pushes_lost_motion_does_nothing():
    drive = replace(AFTER, running_friction=0.15e-3, rolling_force=0.2, damping=0.0)
    loose = replace(drive, lost_motion=1e-3)
    assert kinds(loose, 0.2, False) == (TIED,)
    assert loose.coast(0.2) == pytest.approx(drive.coast(0.2), rel=1e-12)


def test_faster_and_with_a_heavier_flywheel_it_goes_farther():
    more = np.linspace(1.0, 4.0, 25)
    for drive, speed, shorted in stops():
        heavier = replace(drive, flywheel_inertia=more * (drive.flywheel_inertia + 1e-8))
        for ways in (drive.coast(more * speed, shorted), heavier.coast(speed, shorted)):
            assert np.all(np.diff(ways) > -1e-9 * ways[1:])


def test_nothing_comes_to_rest_before_friction_has_taken_all_its_energy():
    """What moves at first goes into the rail, the mesh and the bearings; none of it can be less."""
    for drive, speed, shorted in stops():
        b = bodies(drive, shorted)
        way, time = coasting.stop(drive.bodies(shorted), speed)
        moving = b["mass"] * speed**2 / 2 + b["inertia"] * (speed / b["lever"]) ** 2 / 2
        assert b["rolling"] * way <= moving * (1 + 1e-9)
        hardest = (b["limit"] + b["rolling"]) / b["mass"]
        assert way >= speed**2 / (2 * hardest) * (1 - 1e-9)
        assert time >= speed / hardest * (1 - 1e-9)


def test_a_motor_that_has_stopped_afloat_is_held_by_its_friction_at_rest():
    """What the rail can push it with is more than friction in motion, and less than at rest."""
    rotor = replace(BEFORE.motor, rotor_inertia=1e-9)
    held = replace(
        BEFORE, motor=rotor, efficiency=0.8, lost_motion=5e-3, rolling_force=0.01,
        running_friction=0.1e-3, starting_friction=0.2e-3,
    )  # fmt: skip
    pushed = LEVER * held.back * held.rim_limit
    assert held.inner_friction < pushed < held.inner_stiction
    loose = replace(held, starting_friction=held.running_friction)
    for drive in (held, loose):
        assert kinds(drive, 0.25, False)[:2] == (FLOATS, SKIDS)
        way = two_bodies.stop(speed=0.25, **bodies(drive, False))[0]
        assert drive.coast(0.25) == pytest.approx(way, rel=1e-7)
    assert held.coast(0.25) < 0.997 * loose.coast(0.25)


def test_on_a_locked_worm_adhesion_brakes_all_the_way_and_where_the_motor_pushes_none():
    locked = replace(BEFORE, motor=replace(BEFORE.motor, rotor_inertia=1e-13))
    afloat = replace(locked, lost_motion=1e-3)
    pushes = replace(AFTER, running_friction=0.15e-3, rolling_force=0.2)
    assert coasting.skidding(locked.bodies(), 0.25) == pytest.approx(1)
    # the rotor stands at once: the train has the lost motion to itself before it skids
    assert coasting.skidding(afloat.bodies(), 0.25) == pytest.approx(
        1 - 1e-3 / afloat.coast(0.25), rel=1e-4
    )
    assert coasting.skidding(pushes.bodies(), 0.2) == 0
    assert coasting.skidding(AFTER.bodies(), 0.0) == 0


def test_from_a_stand_it_goes_nowhere():
    assert [float(each) for each in coasting.stop(AFTER.bodies(), 0.0)] == [0.0, 0.0]
    frictions = replace(AFTER, running_friction=np.array([0.3e-3, 0.35e-3]))
    assert frictions.coast(0.0).tolist() == [0.0, 0.0]
    ways, speeds = coasting.curve(AFTER.bodies(), 0.0)
    assert ways[..., -1] == 0 == speeds[..., -1]


# -- in bulk ------------------------------------------------------------------------


def together():
    """All sixty as one set of arrays, and their speeds."""
    every = [bodies(drive, shorted) for drive, _, shorted in stops()]
    columns = {name: np.array([one[name] for one in every]) for name in every[0]}
    return Bodies(**columns), np.array([speed for _, speed, _ in stops()])


def test_arrays_of_draws_equal_them_one_by_one():
    whole, speeds = together()
    ways, times = coasting.stop(whole, speeds)
    alone = [coasting.stop(drive.bodies(shorted), v) for drive, v, shorted in stops()]
    assert ways == pytest.approx([float(way) for way, _ in alone], rel=1e-9)
    assert times == pytest.approx([float(time) for _, time in alone], rel=1e-9)
    grid = coasting.stop(AFTER.bodies(), speeds[:, None] * np.ones(3))[0]
    assert grid.shape == (60, 3) and np.all(grid == grid[:, :1])


def test_a_curve_ends_where_its_stop_ends_and_runs_as_the_simulation_runs():
    whole, speeds = together()
    ways, along = coasting.curve(whole, speeds)
    assert ways.shape == along.shape and ways.shape[0] == 60
    assert np.all(ways[:, 0] == 0) and along[:, 0] == pytest.approx(speeds)
    assert ways[:, -1] == pytest.approx(coasting.stop(whole, speeds)[0], rel=1e-12)
    assert np.abs(along[:, -1]).max() < 1e-7
    assert np.all(np.diff(ways, axis=1) >= -1e-15)
    for number in range(0, 60, 6):
        drive, speed, shorted = stops()[number]
        off = cut(float(drive.coast_time(speed, shorted)), "shorted" if shorted else "open")
        run = simulate(drive, Supply((off,)), model_speed=speed)
        course = run.course(np.linspace(0.0, run.table[0, -1], 20_001))
        there = np.interp(ways[number], course.distance, course.speed)
        assert np.abs(there - along[number]).max() < 2e-3 * speed
