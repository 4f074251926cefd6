"""Readings of a drive whose constants are known, computed apart from the fit.

Steady runs come from a bracketing root finder on the circuit and torque balance, coasts
from an adaptive integral of the equation of motion; nothing here calls the handbook.
"""

from scipy import integrate, optimize

from mechkit.drive.readings import Bench, Errors, Free, Held, Known, Rolled, Steady

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


def steady(volts, torque, damping, true):
    """Current and speed where the circuit and the torques balance, winding warm."""
    constant = true["torque_constant"]

    def amps(speed):
        return (torque + damping * speed) / constant

    def short_of(speed):
        current = amps(speed)
        # rise = 40 K/W * I^2 * R_hot and R_hot = R (1 + 0.00393 rise), solved for R_hot
        hot = true["resistance"] / (1 - 0.00393 * 40.0 * current**2 * true["resistance"])
        return volts - current * hot - constant * speed

    speed = optimize.brentq(short_of, 0.0, volts / constant)
    return amps(speed), speed


def rolled(speed, shorted, true):
    """Distance and time from a speed to standstill, by integration."""
    damping = true["damping"] + shorted * true["torque_constant"] ** 2 / true["resistance"]

    def slowing(w):
        return true["inertia"] / (true["running_friction"] + damping * w)

    angle, _ = integrate.quad(lambda w: w * slowing(w), 0.0, speed)
    time, _ = integrate.quad(slowing, 0.0, speed)
    slide = KNOWN.adhesion * 9.80665 * KNOWN.mass_on_drivers / KNOWN.train_mass
    rail = speed * LEVER
    return max(angle * LEVER, rail**2 / (2 * slide)), max(time, rail / slide)


def exact(true=TRUTH):
    """What perfect instruments would read, by sort; computed once, then spoiled by chance."""
    runs = []
    for volts, pull in [(2, 0), (4, 0), (6, 0), (8, 0), (10, 0), (12, 0), (8, 0.15), (12, 0.3)]:
        load = true["running_friction"] + pull * LEVER / true["efficiency"]
        amps, speed = steady(volts, load, true["damping"], true)
        runs.append((volts, pull, amps, 1.5 / (speed * LEVER), true["torque_constant"] * speed))
    coasts = []
    for volts, rails in [(12, "open"), (12, "open"), (8, "open"), (5, "open"), (12, "shorted")]:
        _, speed = steady(volts, true["running_friction"], true["damping"], true)
        coasts.append((volts, rails, *rolled(speed, rails == "shorted", true)))
    frees = [(v, *steady(v, true["motor_friction"], 0.0, true)) for v in (6.0, 12.0)]
    start = true["starting_friction"] * true["resistance"] / true["torque_constant"]
    return runs, coasts, frees, start


def spoiled(perfect, chance, true=TRUTH):
    """A bench with errors as an hour with a hand-held meter has them."""
    runs, coasts, frees, start = perfect
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
            for v, pull, i, t, _ in runs
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
    )
