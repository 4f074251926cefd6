"""Recordings of an invented engine: its speed or current while a shaft is at fault, or none is.

The motor gives way: rotor and train on one lever that swings with each gear that is off center,
and friction that swings with it.  Readings carry noise; current carries the commutator's ripple.
"""

from dataclasses import replace
from math import pi

import numpy as np
from scipy.integrate import solve_ivp

from tests.engines.made import Chance
from tests.engines.parts import Engine, State
from tests.engines.steady import Works

#: Off-center swing of a gear that is sound, and of one that is not, in modules.
SOUND, BAD = (0.01, 0.05), (0.3, 0.6)
TURNS = 14


def faulty(chance: Chance, state: State) -> tuple[State, str]:
    """The state with one bad gear or none: its name as a shaft."""
    shafts = ["none", "none", "axle"] + (["idler"] if len(state.gears) == 2 else [])
    bad = chance.one(shafts)
    places = {"axle": len(state.gears) - 1, "idler": 0}
    gears = [
        replace(one, runout=state.worm.module * chance.between(*(BAD if n == places.get(bad) else SOUND)))
        for n, one in enumerate(state.gears)
    ]  # fmt: skip
    return replace(state, gears=tuple(gears)), bad


def record(engine: Engine, seed: int, kind: str) -> tuple[str, str] | None:
    """A table of readings, ``kind`` is current or axle speed, and the shaft that is at fault."""
    chance = Chance(seed, engine.seed, 11)
    state, bad = faulty(chance, engine.before)
    works, motor = Works(engine, state), engine.before.motor
    volts = min(max(1.6 * works.starting_voltage, 0.35 * engine.voltage), engine.voltage)
    found = works.running(volts)
    if not found:
        return None
    last = state.gears[-1].teeth
    swings = []
    for one in state.gears:
        turns = state.worm.starts / one.teeth
        base = state.worm.module * one.teeth / 2 * np.cos(state.mesh.angle)
        meshes = 1.0 if one is state.gears[-1] else 2 * np.sin(state.mesh.angle)
        off = one.runout / 2 / base * meshes
        rubs = chance.between(0.15, 0.6) * one.runout / (0.6 * state.worm.module)
        swings.append((turns, off, rubs, chance.between(0, 2 * pi)))
    drifts = chance.between(0.01, 0.06), chance.between(0.05, 0.2), chance.between(0, 6)

    def lever(angle):
        size, change, rub = 1.0, 0.0, 1.0
        for turns, off, rubs, phase in swings:
            size = size + off * np.cos(turns * angle + phase)
            change = change - off * turns * np.sin(turns * angle + phase)
            rub = rub + rubs * np.cos(turns * angle + phase)
        return works.lever * size, works.lever * change, rub

    def current(t, speed):
        fed = volts * (1 + drifts[0] * np.sin(drifts[1] * t + drifts[2])) - motor.brush_drop
        return (fed - motor.constant * speed) / motor.resistance

    def rates(t, y):
        at, change, rub = lever(y[0])
        gain = state.gain(y[1], True)
        torque = motor.constant * current(t, y[1]) - works.rubbing - works.damping * y[1]
        load = engine.rolling_force * at * gain * rub
        below = state.inertia + gain * engine.train * at * at
        above = torque - load - gain * at * engine.train * change * y[1] ** 2
        return y[1], above / below

    span = min(TURNS * last / state.worm.starts * 2 * pi / found[0], 55.0)
    run = solve_ivp(rates, (0, span), [0.0, found[0]], rtol=1e-6, dense_output=True)
    rate = 1500 if kind == "current" else max(200, 60 * last / state.worm.starts / span)
    times = np.arange(0, span, 1 / rate)[:90_000]
    angle, speed = run.sol(times)
    if kind == "current":
        segments = chance.one((3, 5, 7))
        value = current(times, speed) * (1 + 0.03 * np.cos(2 * segments * angle))
        value = value + found[1] * 0.01 * chance.rng.standard_normal(len(times))
        head, value = "time [s],current [A]", value
    else:
        rail = lever(angle)[0] * speed / (engine.wheel / 2) * 30 / pi
        value = rail * (1 + 0.004 * chance.rng.standard_normal(len(times)))
        head = "time [s],axle speed [rpm]"
    rows = [f"{t:.6f},{v:.7g}" for t, v in zip(times, value, strict=True)]
    return "\n".join([head, *rows]) + "\n", bad
