"""Creep of a plastic hub, derived."""

from functools import cache

import sympy as sp

from mechkit import fits
from mechkit.derivations import Derivation, inputs

_LASTS = {"time_1": (600.0, 7200.0), "time": (1e5, 1e8)}
_SLOPE = {"creep_exponent": (0.03, 0.2)}
_CREEPS = {"modulus_1": (0.5e9, 4e9), **_LASTS, **_SLOPE}


@cache
def _law():
    """A line on log-log paper through the first value."""
    first, begin, time, slope = inputs("modulus_1", "time_1", "time", "creep_exponent")
    modulus = sp.Function("E")
    line = sp.Eq(modulus(time).diff(time) * time / modulus(time), -slope)
    (constant,) = sp.dsolve(line, modulus(time)).rhs.free_symbols - {time, slope}
    family = sp.dsolve(line, modulus(time)).rhs
    (fixed,) = sp.solve(sp.Eq(family.subs(time, begin), first), constant)
    law = sp.powsimp(sp.simplify(family.subs(constant, fixed)))
    steps = [
        ("On log-log paper the creep modulus falls along a line of this slope.", line),
        ("Through the first value of the sheet it is this.", sp.Eq(modulus(time), law)),
    ]
    return steps, law, first, begin, time, slope


def creep_modulus():
    """The line through one value."""
    steps, law, *_ = _law()
    return Derivation(fits.creep_modulus, steps=steps, result=law, inside=_CREEPS)


def creep_exponent():
    """The slope through two."""
    steps, law, _, _, time, slope = _law()
    second, later = inputs("modulus_2", "time_2")
    through = sp.Eq(sp.log(second), sp.expand_log(sp.log(law.subs(time, later))))
    (found,) = sp.solve(through, slope)
    return Derivation(
        fits.creep_exponent,
        steps=[
            *steps,
            ("It passes through the second value too, here as logarithms.", through),
            ("Solved for the slope.", sp.Eq(slope, found)),
        ],
        result=found,
        inside={
            "modulus_1": (2e9, 4e9),
            "modulus_2": (0.5e9, 1.9e9),
            "time_1": (600.0, 7200.0),
            "time_2": (1e5, 1e8),
        },
        tolerance=1e-11,
    )


@cache
def _relaxed():
    """A fading stress whose creep adds up to a lasting strain."""
    steps, _, first, begin, time, slope = _law()
    s, stress = sp.symbols("s G", positive=True)
    strain = (time / begin) ** slope / first
    image = sp.laplace_transform(strain, time, s, noconds=True)
    product = sp.Eq(s * image * stress, 1 / s)
    (solved,) = sp.solve(product, stress)
    back = sp.inverse_laplace_transform(sp.powsimp(sp.simplify(solved)), s, time)
    back = back.subs(sp.Heaviside(time), 1)
    mirror = sp.gamma(1 - slope) * sp.gamma(1 + slope)
    reflected = sp.pi * slope / sp.sin(sp.pi * slope)
    modulus = sp.simplify(back * mirror) / reflected
    steps = [
        *steps,
        ("One pascal, left on, strains it by this.", strain),
        (
            "A stress that fades is many small ones, each begun in its own time: in Laplace's "
            "images a product, which is to be a lasting strain of one.",
            product,
        ),
        ("Solved and brought back to time.", back),
        ("With the mirror rule of the gamma function.", sp.Eq(mirror, reflected)),
    ]
    return steps, modulus, begin, time


def relaxation_modulus():
    """Boltzmann's superposition, by Laplace."""
    steps, modulus, *_ = _relaxed()
    return Derivation(
        fits.relaxation_modulus, steps=steps, result=modulus, inside=_CREEPS, tolerance=1e-10
    )


def _left():
    """The same stretch, two times."""
    steps, modulus, begin, time = _relaxed()
    share = sp.powsimp(sp.simplify(modulus / modulus.subs(time, begin)), force=True)
    return [
        *steps,
        ("What a rigid shaft feels goes with it: of the first, this is left.", share),
    ], (share)


def grip_left():
    """Pressure goes with the modulus."""
    steps, share = _left()
    return Derivation(
        fits.grip_left, steps=steps, result=share, inside={**_LASTS, **_SLOPE}, tolerance=1e-11
    )


def holding_time():
    """Solved for the time."""
    steps, share = _left()
    holds, torque, time = inputs("holding_torque", "torque", "time")
    slips = sp.Eq(holds * share, torque)
    (lasts,) = sp.solve(slips, time)
    return Derivation(
        fits.holding_time,
        steps=[
            *steps,
            ("It slips when the torque that is left is the one that it must hold.", slips),
            ("Solved for the time.", sp.Eq(time, lasts)),
        ],
        result=lasts,
        inside={
            "holding_torque": (0.02, 0.04),
            "torque": (0.015, 0.02),
            "time_1": (600.0, 7200.0),
            "creep_exponent": (0.06, 0.2),
        },
        tolerance=1e-10,
    )
