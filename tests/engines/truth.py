"""What is true of an invented engine: the numbers that a page about it ought to hold.

Pull at slip is what the drawbar gives (`Engine.pull_at_slip`): the rail's limit less the
train's own rolling.  Running friction holds the rolling through the mesh, as the page's does.
Numbers on full throttle are those of the evening, with the winding as warm as it then was.
"""

from dataclasses import replace
from math import pi

import numpy as np
from scipy.integrate import solve_ivp

from tests.engines.parts import Engine, Flywheel, State
from tests.engines.rolling import coast
from tests.engines.steady import Works

CREEP = 1 / 4  # of full throttle


def truths(engine: Engine, state: State, warmth: float = 0.0) -> dict[str, float]:
    """Every number by its key, in SI; speeds as of the full-size engine; 0 where it stands."""
    works = Works(engine, state)
    rail = engine.top_speed / engine.scale
    full = works.running(engine.voltage, warmth=warmth)
    slow = works.running(CREEP * engine.voltage, warmth=warmth)
    opened, shorted = coast(works, rail), coast(works, rail, True)
    return {
        "start": works.starting_voltage,
        "creep": works.rail(slow[0]) * engine.scale if slow else 0.0,
        "top": works.rail(full[0]) * engine.scale if full else 0.0,
        "current": full[1] if full else 0.0,
        "friction": works.running_friction,
        "efficiency": works.efficiency,
        "coast": opened.distance,
        "coast shorted": shorted.distance,
        "felt mass": works.felt_mass,
        "pull": engine.pull_at_slip,
        "skid": skid(engine, works.rail(full[0])) if full else 0.0,
        "stall margin": works.stall_margin(engine.voltage),
    }


def skid(engine: Engine, rail: float) -> float:
    """Distance in which locked drivers stop the train: they rub, and all else rolls."""
    slows = engine.rim_limit + engine.rolling_force
    return engine.train * rail**2 / (2 * slows)


def hop(engine: Engine, state: State, voltage: float, turns: float = 3.0) -> float:
    """Half the swing of the model's speed over its mean, once a wheel turn, the motor giving way.

    An axle gear off center by half its runout moves the flank's lever by that over the base
    circle; motor and train follow as one while the motor drives.
    """
    works, motor = Works(engine, state), state.motor
    found = works.running(voltage)
    if found is None:
        return 0.0
    off = state.gears[-1].runout / 2 / state.base_radius
    lever, ratio = works.lever, state.ratio

    def rates(_, y):
        angle, speed = y
        at = lever * (1 + off * np.cos(angle / ratio))
        change = -lever * off / ratio * np.sin(angle / ratio)
        gain = state.gain(speed, True)
        current = (voltage - motor.brush_drop - motor.constant * speed) / motor.resistance
        torque = motor.constant * current - works.rubbing - works.damping * speed
        push = engine.rolling_force + engine.train * change * speed**2
        faster = (torque - gain * at * push) / (state.inertia + gain * engine.train * at * at)
        return speed, faster

    whole = turns * 2 * pi * ratio / found[0]
    run = solve_ivp(rates, (0, whole), [0.0, found[0]], "DOP853", rtol=1e-8, dense_output=True)
    times = np.linspace(whole * (1 - 1 / turns), whole, 400)
    angle, speed = run.sol(times)
    rail = lever * (1 + off * np.cos(angle / ratio)) * speed
    return float((rail.max() - rail.min()) / 2 / rail.mean())


def chosen(engine: Engine, motor: int, gears: int, wheel: Flywheel | None) -> State:
    """The drive after the work with a motor and a gear set from the drawer, and a wheel or none."""
    picked, drawer, after = engine.drawer.gear_sets[gears], engine.drawer, engine.after
    return replace(
        after,
        motor=drawer.motors[motor],
        worm=picked.worm,
        gears=picked.gears,
        mesh=picked.mesh,
        flywheel=wheel,
        adapter=None,
    )
