"""Force and stress on gear teeth, derived."""

import sympy as sp

from mechkit import gears
from mechkit.derivations import Derivation, Empirical, inputs


def tangential_force():
    """The torque as a force on the pitch radius."""
    torque, diameter, force = inputs("torque", "pitch_diameter", "tangential_force")
    lever = sp.Eq(torque, force * diameter / 2)
    return Derivation(
        gears.tangential_force,
        steps=[
            ("The force acts on the pitch radius.", diameter / 2),
            ("Force times lever is the torque.", lever),
        ],
        result=sp.solve(lever, force)[0],
        inside={"torque": (0.0005, 0.02), "pitch_diameter": (0.004, 0.02)},
    )


def tooth_force():
    """The line of action is tangent to the base circle."""
    torque, diameter, force = inputs("torque", "base_diameter", "force")
    lever = sp.Eq(torque, force * diameter / 2)
    return Derivation(
        gears.tooth_force,
        steps=[
            ("The line of action passes the center at the base radius.", diameter / 2),
            ("Force times lever is the torque.", lever),
        ],
        result=sp.solve(lever, force)[0],
        inside={"torque": (0.0005, 0.02), "base_diameter": (0.004, 0.02)},
    )


def lewis_form_factor():
    """A table drawn from tooth outlines."""
    return Empirical(
        gears.lewis_form_factor,
        whose="W. Lewis's table of tooth outlines, 20 degrees full depth, as Shigley prints it",
        inside={"teeth": (12.0, 500.0)},
    )


def bending_stress():
    """A beam built in at the root and loaded at the tip."""
    force, width, module, factor = inputs(
        "tangential_force", "face_width", "module", "lewis_form_factor"
    )
    height, thickness = sp.symbols("h t", positive=True)
    moment, section = force * height, width * thickness**2 / 6
    shape = sp.Eq(factor, thickness**2 / (6 * height * module))
    return Derivation(
        gears.bending_stress,
        steps=[
            ("The force at the tip bends the root, $h$ below, by this moment.", moment),
            ("Section modulus of the root, $t$ thick.", section),
            ("Stress is moment over section modulus.", moment / section),
            ("Lewis put the shape of the tooth into one number.", shape),
        ],
        result=sp.simplify((moment / section).subs(height, sp.solve(shape, height)[0])),
        inside={
            "tangential_force": (0.2, 5.0),
            "face_width": (0.001, 0.005),
            "module": (0.0002, 0.001),
            "lewis_form_factor": (0.24, 0.48),
        },
    )


def line_contact_pressure():
    """An elliptic pressure whose dent fits both bodies and whose sum is the force."""
    force, length, radius_1, radius_2 = inputs("force", "length", "radius_1", "radius_2")
    modulus_1, modulus_2 = inputs("modulus_1", "modulus_2")
    poisson_1, poisson_2 = inputs("poisson_1", "poisson_2")
    half, peak, stiff = sp.symbols("a pressure E", positive=True)
    s = sp.Symbol("s", real=True)
    pressure = peak * sp.sqrt(1 - (s / half) ** 2)
    sum_of_it = half * sp.integrate(peak * sp.sqrt(1 - s**2), (s, -1, 1))
    steepness = sp.integrate(1 / sp.sqrt(1 - s**2), (s, -1, 1)) * peak / half
    dent = 2 / (sp.pi * stiff) * steepness
    curvature = 1 / radius_1 + 1 / radius_2
    compliance = (1 - poisson_1**2) / modulus_1 + (1 - poisson_2**2) / modulus_2
    width = sp.solve(sp.Eq(dent, curvature), half)[0]
    found = sp.solve(sp.Eq(force / length, sum_of_it.subs(half, width)), peak)
    return Derivation(
        gears.line_contact_pressure,
        steps=[
            ("Hertz tried a pressure shaped like half an ellipse, $2a$ wide.", pressure),
            ("Its sum over the strip, per length.", sum_of_it),
            (
                "A flat surface under pressure slopes by $2/(\\pi E)$ times pressure over distance, "
                "summed; in the middle of the strip the dent has this curvature.",
                dent,
            ),
            (
                "It must be as hollow as both bodies are round: so wide is the strip.",
                sp.Eq(half, width),
            ),
            ("The sum must be the force: so high is the peak.", sp.Eq(peak, found[0])),
            ("Both bodies give way, one after the other.", sp.Eq(1 / stiff, compliance)),
        ],
        result=found[0].subs(stiff, 1 / compliance),
        inside={
            "force": (0.2, 5.0),
            "length": (0.001, 0.005),
            "radius_1": (0.0005, 0.003),
            "radius_2": (0.0005, 0.003),
            "modulus_1": (3e9, 210e9),
            "poisson_1": (0.28, 0.40),
            "modulus_2": (3e9, 210e9),
            "poisson_2": (0.28, 0.40),
        },
    )
