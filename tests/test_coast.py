"""The coast of one flywheel: against two bodies run in time by scipy, and by reason."""

from dataclasses import replace

import numpy as np
import pytest

from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Motor
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Supply, cut
from mechkit.drive.questions.flywheel import FlywheelCase, coast, speed_at
from tests.independent import two_bodies

#: An engine in 1:64 (invented): iron core without a flywheel before, ironless after.
DEMO = FlywheelCase(
    before=Drive(
        motor=Motor(resistance=13.0, torque_constant=7e-3, friction_torque=0.5e-3, rotor_inertia=1.5e-7),
        gear_ratio=30.0, wheel_diameter=16e-3, flywheel_inertia=0.0, starting_friction=1.45e-3,
        running_friction=1.4e-3, damping=0.175e-6, efficiency=0.33, engine_mass=0.4, train_mass=0.4,
        mass_on_drivers=0.32, adhesion=0.2, scale=64.0,
    ),
    after=Drive(
        motor=Motor(resistance=22.0, torque_constant=14e-3, friction_torque=0.2e-3, rotor_inertia=0.8e-7),
        gear_ratio=30.0, wheel_diameter=16e-3, flywheel_inertia=6.5e-7, starting_friction=0.38e-3,
        running_friction=0.35e-3, damping=0.175e-6, efficiency=0.42, engine_mass=0.4, train_mass=0.4,
        mass_on_drivers=0.32, adhesion=0.2, scale=64.0,
    ),
    material="brass", outer=16e-3, width=12e-3, bore=2e-3, off_center=10e-6, gap=3e-3,
    bearing_span=21e-3, motor_diameter=16e-3, motor_length=24e-3, boiler_bore=21e-3, boiler_wall=0.8e-3,
    shaft_above_boiler=-1.1e-3, engine_length=150e-3, voltage=12.0,
    start_speed=30 * 0.44704,
)  # fmt: skip

#: A crawl [m/s of the full-size engine]: 5 mph.
CRAWL = 2.2352
WHEEL = {"outer": 16e-3, "width": 12e-3, "bore": 2e-3, "material": "brass", "off_center": 10e-6}
AT_SPEED = WHEEL | {"friction": 0.35e-3, "start_speed": 13.4}


LEVER = 16e-3 / 2 / 30
#: What the handbook is not asked for: the wheel in brass, the motor's share, the drivers' hold.
BRASS, HOLD = 8490.0, 0.2 * 0.32 * 9.80665


def wheel(width):
    """Inertia of a brass wheel so wide [kg*m^2]."""
    return np.pi * BRASS * width / 32 * ((16e-3) ** 4 - (2e-3) ** 4)


def rolled(drive, width, speed, damping, friction=0.35e-3):
    """Way from a speed of the full-size engine, the wheel so wide; nothing of the handbook."""
    force = drive.rolling_force
    inner = friction - force * LEVER / 0.42
    return two_bodies.stop(
        speed=speed / 64, inertia=0.8e-7 + wheel(width), mass=0.4, lever=LEVER, friction=inner,
        breakaway=max(0.38e-3 - force * LEVER / 0.42, inner), damping=damping, rolling=force,
        limit=HOLD + force, gain=1 / 0.42, back=2 - 1 / 0.42, lost_motion=drive.lost_motion,
    )[0]  # fmt: skip


OPEN, SHORTED = 0.175e-6, 0.175e-6 + 14e-3**2 / 22.0
#: The same engine with a train that rolls hard by itself, and with lost motion.
SLACK = replace(DEMO, after=replace(DEMO.after, rolling_force=0.05, lost_motion=0.1e-3))


@pytest.mark.parametrize("case", [DEMO, SLACK], ids=["tight", "slack"])
@pytest.mark.parametrize("friction", [0.28e-3, 0.35e-3, 0.42e-3])
def test_rails_open_agrees_with_the_equations_of_motion(case, friction):
    """Independent computation: scipy's ODE solver."""
    state = coast(case, **(AT_SPEED | {"friction": friction}))
    expected = rolled(case.after, 12e-3, 13.4, OPEN, friction)
    assert state.open.stop == pytest.approx(expected, rel=1e-7)


@pytest.mark.parametrize("case", [DEMO, SLACK], ids=["tight", "slack"])
def test_rails_shorted_agrees_too(case):
    state = coast(case, **AT_SPEED)
    assert state.shorted.stop == pytest.approx(rolled(case.after, 12e-3, 13.4, SHORTED), rel=1e-7)
    slow = float(case.after.speed_at(3.0))
    assert state.crawl == pytest.approx(rolled(case.after, 12e-3, slow, OPEN), rel=1e-7)


def test_from_a_crawl_a_heavy_flywheel_carries_farther_than_locked_wheels_skid():
    state = coast(DEMO, **(AT_SPEED | {"start_speed": CRAWL, "width": 20e-3}))
    assert state.shorted.stop == pytest.approx(rolled(DEMO.after, 20e-3, CRAWL, SHORTED), rel=1e-7)
    assert state.shorted.stop > state.skid.stop


def test_no_stop_is_shorter_than_adhesion_allows():
    """A flywheel that is next to nothing: the worm would lock at once, and the wheels skid."""
    state = coast(DEMO, **(AT_SPEED | {"outer": 8e-3, "width": 4e-3, "friction": 1.5e-3}))
    assert state.skids and not coast(DEMO, **AT_SPEED).skids
    assert state.open.stop == pytest.approx(state.skid.stop)
    assert state.shorted.stop == pytest.approx(state.skid.stop)
    speed, share = 13.4 / 64, 0.32 / 0.4
    assert state.skid.stop == pytest.approx(speed**2 / (2 * 0.2 * 9.80665 * share))


def test_the_coast_is_what_the_notes_of_the_drive_expect():
    """A quick model of the same engine, computed apart: about 135 mm open, a tenth shorted, and
    a few millimeters from a crawl (independent computation, rounded by its author)."""
    state = coast(DEMO, **AT_SPEED)
    assert state.open.stop == pytest.approx(135e-3, rel=0.10)
    assert state.shorted.stop == pytest.approx(13.5e-3, rel=0.25)
    assert state.crawl < 10e-3


def test_a_run_falls_to_standstill_and_never_rolls_back():
    state = coast(DEMO, **AT_SPEED)
    for run in (state.open, state.shorted, state.before, state.skid):
        assert run.distance[0] == 0 and run.speed[0] == pytest.approx(13.4)
        assert run.speed[-1] == pytest.approx(0, abs=1e-9)
        assert np.all(np.diff(run.distance) >= 0) and np.all(np.diff(run.speed) <= 0)


def test_a_run_is_drawn_as_it_goes():
    """Speed over distance where the flank meets and the wheels grip, not only at the end."""
    state = coast(SLACK, **AT_SPEED)
    drive = replace(SLACK.after, flywheel_inertia=wheel(12e-3))
    run = simulate(drive, Supply((cut(4.0),)), model_speed=13.4 / 64)
    nodes = run.nodes
    along = np.interp(nodes.distance, state.open.distance, state.open.speed / 64)
    assert np.abs(along - nodes.speed).max() < 0.01 * nodes.speed[0]


def test_more_friction_stops_sooner_and_the_band_holds_the_answer():
    draws = np.linspace(0.8, 1.2, 1001) * 0.35e-3
    drawn = replace(DEMO.after, running_friction=np.append(0.35e-3, draws))
    state = coast(replace(DEMO, after=drawn), **AT_SPEED)
    assert state.open_low < state.open.stop < state.open_high
    dragging = coast(DEMO, **(AT_SPEED | {"friction": 0.35e-3 * 1.19}))
    assert dragging.open.stop == pytest.approx(state.open_low, rel=1e-3)


def test_room_shaking_and_whirl():
    state = coast(DEMO, **AT_SPEED)
    assert state.room == pytest.approx(10.5e-3 - 1.1e-3 - 8e-3)
    assert state.fits and not coast(DEMO, **(AT_SPEED | {"outer": 18.5e-3})).fits
    top = float(replace(DEMO.after, running_friction=0.35e-3).motor_speed_at(12.0))
    assert state.shake == pytest.approx(10e-6 * top**2 / 9.80665)
    thinner = coast(DEMO, **(AT_SPEED | {"bore": 1.5e-3}))
    assert thinner.whirl < state.whirl


def test_a_voltage_gives_a_speed_and_too_little_gives_none():
    assert speed_at(DEMO, friction=0.35e-3, voltage=12.0) == pytest.approx(30 * 0.44704, rel=0.05)
    assert speed_at(DEMO, friction=1.5e-3, voltage=1.0) == 0
    standing = coast(DEMO, **(AT_SPEED | {"start_speed": 0.0}))
    assert standing.open.stop == 0
