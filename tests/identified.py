"""Readings of drives whose constants are known, computed apart from the fit.

Steady runs come from a bracketing root finder on the circuit and torque balance, coasts
from an adaptive integral of the equation of motion; nothing here calls the handbook.
"""

from dataclasses import replace
from functools import lru_cache

import numpy as np
from scipy import integrate, optimize

from mechkit.drive.constants.readings import Bench, Errors, Free, Held, Known, Rolled, Steady

#: A plain drive with a flywheel.
TRUTH = {
    "resistance": 21.0,
    "torque_constant": 0.0135,
    "motor_friction": 0.25e-3,
    "starting_friction": 0.55e-3,
    "running_friction": 0.40e-3,
    "damping": 0.20e-6,
    "efficiency": 0.42,
    "inertia": 6.0e-7,
}
DRIVES = {
    "plain": TRUTH,
    "stiff, with a heavy flywheel": TRUTH
    | {
        "resistance": 12.0,
        "running_friction": 1.2e-3,
        "starting_friction": 1.5e-3,
        "inertia": 3e-6,
    },
    "free running": TRUTH
    | {
        "motor_friction": 0.06e-3,
        "running_friction": 0.15e-3,
        "starting_friction": 0.22e-3,
        "damping": 0.12e-6,
        "efficiency": 0.62,
        "inertia": 3e-7,
    },
    "heavy flywheel": TRUTH | {"resistance": 30.0, "torque_constant": 0.018, "inertia": 4e-6},
    "on the edge of a skid": TRUTH
    | {"running_friction": 0.9e-3, "starting_friction": 1.1e-3, "inertia": 6e-7},
}
#: A worm that locks behind a light rotor: every coast is a skid, and inertia has a most only.
LOCKING = TRUTH | {
    "resistance": 13.0,
    "torque_constant": 0.007,
    "motor_friction": 0.5e-3,
    "running_friction": 1.15e-3,
    "starting_friction": 1.45e-3,
    "efficiency": 0.25,
    "inertia": 1.2e-7,
}
KNOWN = Known(
    gear_ratio=30.0,
    wheel_diameter=0.016,
    train_mass=0.55,
    mass_on_drivers=0.32,
    adhesion=0.21,
    thermal_resistance=40.0,
)
ERRORS = Errors(meter=0.01, stopwatch=0.2, ruler=0.002)
LEVER = 0.008 / 30.0
GRAVITY = 9.80665


def steady(volts, torque, damping, true, kelvin):
    """Current and speed where the circuit and the torques balance, winding warm by K/W."""
    constant = true["torque_constant"]

    def amps(speed):
        return (torque + damping * speed) / constant

    def short_of(speed):
        current = amps(speed)
        # rise = kelvin * I^2 * R_hot and R_hot = R (1 + 0.00393 rise), solved for R_hot
        hot = true["resistance"] / (1 - 0.00393 * kelvin * current**2 * true["resistance"])
        return volts - current * hot - constant * speed

    speed = optimize.brentq(short_of, 0.0, volts / constant)
    return amps(speed), speed


def rolled(speed, shorted, true, adhesion):
    """Distance and time from a speed to standstill, by integration."""
    damping = true["damping"] + shorted * true["torque_constant"] ** 2 / true["resistance"]

    def slowing(w):
        return true["inertia"] / (true["running_friction"] + damping * w)

    angle, _ = integrate.quad(lambda w: w * slowing(w), 0.0, speed)
    time, _ = integrate.quad(slowing, 0.0, speed)
    slide = adhesion * GRAVITY * KNOWN.mass_on_drivers / KNOWN.train_mass
    rail = speed * LEVER
    return max(angle * LEVER, rail**2 / (2 * slide)), max(time, rail / slide)


def exact(true=TRUTH, warmth=0.5, adhesion=KNOWN.adhesion):
    """What perfect instruments would read, by sort, then spoiled by chance.

    ``warmth`` is how much of its settled rise the winding had reached.
    """
    runs, kelvin = [], warmth * KNOWN.thermal_resistance
    start = true["starting_friction"] * true["resistance"] / true["torque_constant"]
    low = max(2.0, 1.4 * start)
    volts = [*np.linspace(low, 12, 6), 8.0, 12.0]
    for v, pull in zip(volts, [0, 0, 0, 0, 0, 0, 0.15, 0.3], strict=True):
        load = true["running_friction"] + pull * LEVER / true["efficiency"]
        amps, speed = steady(v, load, true["damping"], true, kelvin)
        runs.append((v, pull, amps, 1.5 / (speed * LEVER)))
    coasts = []
    for v, rails in [(12, "open"), (12, "open"), (8, "open"), (6, "open"), (12, "shorted")]:
        _, speed = steady(v, true["running_friction"], true["damping"], true, kelvin)
        coasts.append((v, rails, *rolled(speed, rails == "shorted", true, adhesion)))
    frees = [(v, *steady(v, true["motor_friction"], 0.0, true, kelvin)) for v in (6.0, 12.0)]
    return runs, coasts, frees, start, adhesion * GRAVITY * KNOWN.mass_on_drivers


@lru_cache
def perfect(name):
    """What perfect instruments read on a drive of the list."""
    return exact(DRIVES[name])


def spoiled(readings, chance, true=TRUTH, slip=True):
    """A bench with errors as an hour with a hand-held meter has them."""
    runs, coasts, frees, start, pull_at_slip = readings
    one = chance.standard_normal
    volts, amps = 1 + ERRORS.meter / 2 * one(), 1 + ERRORS.meter / 2 * one()
    watch, ruler = ERRORS.stopwatch / 2, ERRORS.ruler / 2
    return Bench(
        resistance=tuple(true["resistance"] * volts / amps * (1 + 0.02 * one(6))),
        no_load=tuple(
            Free(v * volts, i * amps * (1 + 0.005 * one()), w * (1 + 0.005 * one()))
            for v, i, w in frees
        ),
        stall=(
            Held(
                1.5 * volts,
                1.5 / true["resistance"] * amps * (1 + 0.005 * one()) / (1 + 0.02 * one()),
            ),
        ),
        starting_voltage=tuple(start * volts * (1 + 0.03 * one(4))),
        runs=tuple(
            # a volt misread by its last digit is a speed that belongs to another voltage
            Steady(
                v * volts * (1 + 0.002 * one()),
                1.5,
                t + watch * one(),
                pull,
                i * amps * (1 + 0.005 * one()),
            )
            for v, pull, i, t in runs
        ),
        coasts=tuple(
            Rolled(
                v * volts,
                rails,
                d * (1 + 0.02 * one()) + ruler * one(),
                t * (1 + 0.02 * one()) + watch * one(),
            )
            for v, rails, d, t in coasts
        ),
        slip=(pull_at_slip * (1 + 0.05 * one()) + 0.01 * one(),) if slip else (),
    )


def trial(true, chance, slip=True):
    """A bench of a day of its own: another adhesion, and a winding more or less warm."""
    adhesion = KNOWN.adhesion * np.exp(ERRORS.adhesion * chance.standard_normal())
    return spoiled(exact(true, chance.uniform(), adhesion), chance, true, slip)


#: Standard errors that he writes himself, as fractions: a needle that trembled, a late thumb.
WRITTEN = {
    "resistance": 0.02, "free": (0.03, 0.02), "held": 0.03, "start": 0.04,
    "run": (0.01, 0.03, 0.03), "coast": (0.04, 0.04),
}  # fmt: skip


def in_doubt(bench, chance):
    """The same bench read by a worse hand, who says so behind every number."""
    one = chance.standard_normal

    def off(value, error):
        return value * (1 + error * one())

    amps_free, speed_free = WRITTEN["free"]
    volts, amps, pace = WRITTEN["run"]
    far, long = WRITTEN["coast"]
    return replace(
        bench,
        resistance=tuple(off(r, WRITTEN["resistance"]) for r in bench.resistance),
        starting_voltage=tuple(off(u, WRITTEN["start"]) for u in bench.starting_voltage),
        doubt=(
            (WRITTEN["resistance"],) * len(bench.resistance),
            (WRITTEN["start"],) * len(bench.starting_voltage),
        ),
        no_load=tuple(
            Free(f.voltage, off(f.current, amps_free), off(f.speed, speed_free), WRITTEN["free"])
            for f in bench.no_load
        ),
        stall=tuple(
            replace(h, current=off(h.current, WRITTEN["held"]), doubt=WRITTEN["held"])
            for h in bench.stall
        ),
        runs=tuple(
            replace(
                run,
                voltage=off(run.voltage, volts),
                current=off(run.current, amps),
                time=off(run.time, pace),
                doubt=WRITTEN["run"],
            )
            for run in bench.runs
        ),
        coasts=tuple(
            replace(
                coast,
                distance=off(coast.distance, far),
                time=off(coast.time, long),
                doubt=WRITTEN["coast"],
            )
            for coast in bench.coasts
        ),
    )


def unwritten(bench):
    """The same readings with nothing written behind them."""
    bare = {
        part: tuple(replace(reading, doubt=type(reading).doubt) for reading in getattr(bench, part))
        for part in ("no_load", "stall", "runs", "coasts")
    }
    return replace(bench, doubt=Bench.doubt, **bare)
