"""The generator of invented engines, and its truths at limits that have closed forms."""

import itertools
from dataclasses import replace
from math import atan, cos, log, radians, tan

import pytest

from tests.engines import drawn, made, truth
from tests.engines.parts import Engine, Flywheel, G, State
from tests.engines.rolling import Rolling, coast
from tests.engines.steady import Works

SEEDS = range(150)


@pytest.fixture(scope="module")
def engines() -> list[Engine]:
    return [drawn.draw(seed) for seed in SEEDS]


def simple(**changes) -> tuple[Engine, State]:
    """An engine without loss in the mesh, lost motion or drag, and what is changed in it."""
    engine = drawn.draw(5)
    state = engine.before
    mesh = replace(
        state.mesh, friction=0.0, rise=0.0, spur=1.0, drag=0.0, backlash=0.0, worm_backlash=0.0
    )
    state = replace(
        state,
        worm=replace(state.worm, collar=0.0, end_play=0.0),
        motor=replace(state.motor, damping=0.0, brush_drop=0.0, magnet=0.0),
        mesh=mesh,
        alignment=replace(state.alignment, offset=0.0),
        flywheel=Flywheel("brass", 25e-3, 15e-3, 2e-3, 0.0, 20e-3, 10e-3),
    )
    for name, change in changes.items():
        part = getattr(state, name)
        state = replace(state, **{name: replace(part, **change)})
    return replace(engine, rolling=0.01), state


# -- what is drawn ----------------------------------------------------------------------


def test_every_feature_is_drawn(engines):
    states = [state for engine in engines for state in (engine.before, engine.after)]
    assert {engine.scale for engine in engines} == set(drawn.SCALES)
    assert {len(engine.axles) for engine in engines} == {2, 3, 4, 5, 6}
    assert {len(state.gears) for state in states} == {1, 2, 3, 4}
    assert {state.worm.material for state in states} == set(made.MATERIALS)
    assert {gear.material for state in states for gear in state.gears} == set(made.MATERIALS)
    assert {state.springs.kind for state in states} == {"rigid", "sprung", "equalized"}
    assert {state.mesh.lubrication for state in states} == {"dry", "starved", "greased"}
    assert {engine.units for engine in engines} == {"metric", "inch", "mixed"}
    assert min(engine.voltage for engine in engines) == 6
    assert max(engine.voltage for engine in engines) == 24
    for when in ("before", "after"):
        mine = [getattr(engine, when) for engine in engines]
        assert {state.motor.kind for state in mine} == {"iron core", "ironless"}
        assert {state.flywheel is None for state in mine} == {True, False}
        assert {state.adapter is None for state in mine} == {True, False}
        assert {state.alignment.offset == 0 for state in mine} == {True, False}
    assert {engine.tank for engine in engines} == {True, False}
    assert {engine.before is engine.after for engine in engines} == {True, False}
    assert {bool(engine.drawer.motors) for engine in engines} == {True, False}
    assert {changed for engine in engines for changed in engine.cut} == {
        "motor", "gears", "grease", "alignment", "thrust", "flywheel", "springs", "runout"
    }  # fmt: skip


def test_constants_span_more_than_tables_do(engines):
    def span(values):
        return min(values), max(values)

    low, high = span([state.mesh.friction for e in engines for state in (e.before, e.after)])
    assert 0.03 <= low < 0.045 and 0.2 < high <= 0.25
    drags = [e.before.mesh.drag * (e.scale / 64) ** 3 for e in engines]
    assert min(drags) < 0.03e-6 and max(drags) > 0.8e-6
    low, high = span([state.mesh.spur for e in engines for state in (e.before, e.after)])
    assert 0.9 <= low < 0.91 and 0.98 < high <= 0.99
    low, high = span([engine.rolling for engine in engines])
    assert 0.008 <= low < 0.010 and 0.033 < high <= 0.04
    low, high = span([engine.grip for engine in engines])
    assert 0.12 <= low < 0.13 and 0.28 < high <= 0.30
    low, high = span([engine.before.motor.stiction for engine in engines])
    assert 1.05 <= low < 1.15 and 1.85 < high <= 2.0


def test_a_seed_gives_one_engine(engines):
    for seed in (0, 17, 39):
        assert drawn.draw(seed) == engines[seed]
    assert len(set(engines)) == len(engines)


def test_what_could_not_exist_is_thrown_out(engines):
    reasons = {drawn.impossible(drawn.once(0, attempt)) for attempt in range(200)}
    assert len(reasons) > 5
    for engine in engines:
        assert drawn.impossible(engine) == ""
        for state in (engine.before, engine.after):
            works = Works(engine, state)
            assert works.starting_voltage < engine.voltage
            assert works.running(engine.voltage, warmth=1.0)
    impossible = replace(engines[0], before=replace(engines[0].before, box=1.0))
    assert "starts too late" in drawn.impossible(impossible)


def test_the_plan_keeps_what_is_not_cut(engines):
    for engine in engines:
        before, after = engine.before, engine.after
        for name, parts in {
            "motor": ("motor",), "gears": ("gears",), "alignment": ("alignment",), "springs": ("springs",),
        }.items():  # fmt: skip
            kept = name not in engine.cut and not (name == "gears" and "runout" in engine.cut)
            for part in parts:
                assert not kept or getattr(before, part) == getattr(after, part), (
                    engine.seed,
                    part,
                )
        assert (before.box, before.box_stiction) == (after.box, after.box_stiction)
        if not {"gears", "grease"} & set(engine.cut):
            assert before.mesh == after.mesh


# -- the truth at limits that have closed forms -----------------------------------------


@pytest.mark.parametrize(
    ("degrees", "normal", "expected"), [(1.0, 14.5, 0.252), (1.0, 20.0, 0.247)]
)
def test_the_worm_is_the_textbooks_power_screw(degrees, normal, expected):
    """Friction 0.05: 25.2 % by the table of Shigley's for 14.5 deg; 24.7 % by its formula for 20."""
    _, state = simple(mesh={"friction": 0.05, "angle": radians(normal)})
    module = state.worm.pitch * tan(radians(degrees)) / state.worm.starts
    pitch = state.worm.pitch
    state = replace(state, worm=replace(state.worm, module=module, outside=pitch + 2 * module))
    assert 1 / state.gain(0.0, True) == pytest.approx(expected, abs=0.0005)


def test_a_worm_that_locks_and_one_that_does_not():
    _, state = simple()
    lead = atan(state.worm.tan_lead)
    at_limit = cos(state.mesh.angle) * tan(lead)
    for share, locks in ((0.99, False), (1.01, True)):
        mesh = replace(state.mesh, friction=share * at_limit)
        assert (replace(state, mesh=mesh).gain(0.0, False) < 0) is locks
    assert state.gain(0.0, True) == state.gain(0.0, False) == pytest.approx(1)


def test_a_steady_speed_in_closed_form():
    engine, state = simple(mesh={"drag": 0.3e-6, "friction": 0.1})
    works, motor = Works(engine, state), state.motor
    speed, current = works.running(9.0)
    k, ohms = motor.constant, motor.resistance
    load = works.rubbing + engine.rolling_force * works.lever * state.gain(0, True)
    assert speed == pytest.approx(
        (k * 9.0 / ohms - load) / (k * k / ohms + works.damping), rel=1e-9
    )
    assert current == pytest.approx((load + works.damping * speed) / k, rel=1e-9)
    held = works.running(9.0, pull=works.engine.rim_limit * 50)
    assert held is None
    warm, more = works.running(9.0, warmth=1.0)
    _, _, rise = works.heated(more, 1.0)
    assert warm < speed
    assert rise == pytest.approx(motor.thermal * more**2 * ohms * (1 + 0.00393 * rise), rel=1e-6)


def test_it_starts_at_the_voltage_that_breaks_it_away():
    engine, state = simple(mesh={"friction": 0.1, "rise": 0.5, "fade": 0.2})
    works = Works(engine, state)
    amps = works.starting_voltage / state.motor.resistance
    friction = state.motor.friction * state.motor.stiction + state.box * state.box_stiction
    rim = engine.rolling * engine.train * G * state.box_stiction * works.lever
    lead, rub = state.worm.tan_lead, 0.15 / cos(state.mesh.angle)
    at_rest = rim * (lead + rub) / (1 - lead * rub) / lead
    assert amps * state.motor.constant == pytest.approx(friction + at_rest, rel=1e-12)


@pytest.mark.parametrize("friction", [0.0, 0.12])
@pytest.mark.parametrize("drag", [0.0, 0.4e-6])
@pytest.mark.parametrize("shorted", [False, True])
def test_a_wheel_that_drives_to_the_end(friction, drag, shorted):
    """(I + m l^2/eff) dw/dt = -(T + R l/eff) - c w, integrated by hand."""
    engine, state = simple(mesh={"friction": friction, "drag": drag})
    if shorted:
        engine = replace(engine, rolling=0.04)
        state = replace(state, flywheel=replace(state.flywheel, outside=45e-3))
    works = Works(engine, state)
    gain, lever = state.gain(0, True), works.lever
    torque = works.rubbing + engine.rolling_force * lever * gain
    inertia = state.inertia + engine.train * lever**2 * gain
    brake = state.motor.constant**2 / state.motor.resistance if shorted else 0.0
    c, start = drag + brake, 0.15 / lever
    stop = coast(works, 0.15, shorted)
    assert set(stop.modes) == {"drive"}
    turned = inertia * start**2 / 2 / torque
    if c:
        turned = inertia / c * (start - torque / c * log(1 + c * start / torque))
        assert stop.time == pytest.approx(inertia / c * log(1 + c * start / torque), rel=1e-6)
    assert stop.distance == pytest.approx(lever * turned, rel=1e-6)
    assert stop.energy["brake"] == pytest.approx(0) or shorted


def test_a_train_that_rolls_farther_pushes_through_the_mesh():
    """(I + m l^2 b) dw/dt = -(T + R l b), b below 1; without lost motion from the first moment."""
    engine, state = simple(mesh={"friction": 0.01})
    state = replace(state, flywheel=None, box=3 * state.box)
    works = Works(engine, state)
    back, lever = state.gain(0, False), works.lever
    assert 0.5 < back < 1
    grippy = replace(engine, grip=50.0)
    stop = coast(Works(grippy, state), 0.2)
    assert set(stop.modes) == {"push"}
    slowing = works.rubbing + grippy.rolling_force * lever * back
    inertia = state.inertia + grippy.train * lever**2 * back
    assert stop.distance == pytest.approx(0.2**2 / lever / 2 * inertia / slowing, rel=1e-6)


def test_a_worm_that_locks_skids_the_wheels():
    """A rotor without weight stops at once: the train stops on rail and rolling alone."""
    engine, state = simple(mesh={"friction": 0.2})
    light = replace(state.motor, rotor_inertia=1e-13)
    state = replace(state, flywheel=None, motor=light)
    stop = coast(Works(engine, state), 0.2)
    force = engine.rim_limit + engine.rolling_force
    assert stop.modes[-1] == "skid"
    assert stop.distance == pytest.approx(0.2**2 * engine.train / 2 / force, rel=1e-4)


def test_a_motor_that_stood_is_turned_by_the_train_again():
    """A light rotor stops within the lost motion; a mesh without loss lets the train drive it."""
    engine, state = simple(mesh={"backlash": 0.2e-3})
    works = Works(engine, state)
    light = replace(state.motor, rotor_inertia=1e-11, stiction=1.0)
    box = 0.3 * engine.rim_limit * works.lever - light.friction
    state = replace(state, flywheel=None, motor=light, box=box, box_stiction=1.0)
    stop = coast(Works(engine, state), 0.2)
    assert stop.modes[:2] == ("float", "float") and stop.modes[-1] == "push"
    slowing = 0.3 * engine.rim_limit + engine.rolling_force
    assert stop.distance == pytest.approx(0.2**2 * engine.train / 2 / slowing, rel=0.02)


def test_lost_motion_without_end_lets_the_train_roll_alone():
    engine, state = simple(mesh={"backlash": 10.0, "friction": 0.1})
    state = replace(state, flywheel=None)
    stop = coast(Works(engine, state), 0.2)
    assert set(stop.modes) == {"float"}
    assert stop.distance == pytest.approx(0.2**2 / 2 / (engine.rolling * G), rel=1e-6)


def test_the_energy_of_every_stop_is_booked(engines):
    modes = set()
    for engine in engines[:20]:
        for state, shorted in itertools.product((engine.before, engine.after), (False, True)):
            stop = coast(Works(engine, state), engine.top_speed / engine.scale, shorted)
            assert stop.unbooked < 1e-5
            assert min(stop.energy.values()) > -1e-9
            modes |= set(stop.modes)
    assert modes == {"drive", "float", "skid", "push", "slip"}


def stepped(works: Works, speed: float, step=2e-5) -> float:
    """The same stop in small equal steps: each body moves on alone, then one impulse joins them.

    Time stepping without events or modes (after Moreau), of first order.
    """
    laws = Rolling(works, False)
    lever, mass, inertia = works.lever, laws.mass, laws.inertia
    most = laws.limit * step
    far, gap, v, motor = 0.0, 0.0, speed, speed / lever
    while v > 0 or motor > 0:
        v = max(v - step * laws.rolling / mass, 0.0)
        motor = max(motor - step * laws.friction(motor) / inertia, 0.0)
        closing, push = lever * motor - v, 0.0
        if gap >= 0 and closing > 0:
            gain = works.state.gain(motor, True)
            push = min(closing / (1 / mass + lever**2 * gain / inertia), most)
        elif gap <= -laws.play and closing < 0:
            gain = works.state.gain(motor, False)
            below = 1 / mass + lever**2 * gain / inertia
            push = max(closing / below, -most) if below > 0 else -most
        if push:
            after = motor - push * lever * gain / inertia
            if after < 0:
                after, push = 0.0, max(-mass * v, -most)
            motor, v = after, v + push / mass
        gap = min(max(gap + step * (lever * motor - v), -laws.play), 0.0)
        far += step * v
    return far


@pytest.mark.parametrize("seed", [1, 2, 9, 15, 26])
def test_events_agree_with_small_steps_without_events(engines, seed):
    engine = engines[seed]
    speed = engine.top_speed / engine.scale
    for state in (engine.before, engine.after):
        works = Works(engine, state)
        assert stepped(works, speed) == pytest.approx(coast(works, speed).distance, rel=1e-3)


def test_a_motor_that_does_not_give_way_hops_by_the_gears_error():
    engine, state = simple()
    heavy = replace(state, flywheel=replace(state.flywheel, outside=150e-3))
    off = state.gears[-1].runout / 2 / state.base_radius
    assert truth.hop(engine, heavy, 6.0) == pytest.approx(off, rel=2e-3)
    light = replace(state, flywheel=None)
    assert truth.hop(engine, light, 6.0) < off


def test_pull_is_what_the_drawbar_gives():
    engine, _ = simple()
    weight = engine.driver_mass * G
    rolls = engine.rolling * (engine.mass + engine.trailing) * G
    assert engine.pull_at_slip == pytest.approx(engine.grip * weight - rolls)
    assert engine.adhesion * weight == pytest.approx(engine.pull_at_slip)
