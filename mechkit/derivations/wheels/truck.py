"""The leading truck, derived."""

import sympy as sp

from mechkit import wheels
from mechkit.derivations import Derivation, inputs

_FLANGE = {"flange_angle": (0.9, 1.3), "friction": (0.1, 0.5)}


def curve_offset():
    """Two heights of one circle."""
    overhang, wheelbase, radius, along = inputs("overhang", "wheelbase", "curve_radius", "x")
    height = sp.sqrt(radius**2 - along**2)
    axles = height.subs(along, wheelbase / 2)
    pivot = height.subs(along, wheelbase / 2 + overhang)
    bend = sp.Symbol("k", positive=True)
    near = sp.series((axles - pivot).subs(radius, 1 / bend), bend, 0, 2).removeO()
    return Derivation(
        wheels.curve_offset,
        steps=[
            (
                "The frame lies along a chord; halfway between its fixed axles x is zero. The "
                "track stands so high over the curve's center.",
                height,
            ),
            ("At the end axles.", axles),
            ("At the truck.", pivot),
            ("The truck must move out by the difference.", axles - pivot),
            (
                "For a wide curve, with k = 1 / radius: half of overhang times overhang and "
                "wheelbase together, over the radius.",
                sp.factor(near),
            ),
        ],
        result=axles - pivot,
        inside={
            "overhang": (10e-3, 40e-3),
            "wheelbase": (30e-3, 80e-3),
            "curve_radius": (0.3, 2.0),
        },
        tolerance=1e-9,
    )


def derailment_quotient():
    """A definition."""
    side, load = inputs("side_force", "wheel_load")
    return Derivation(
        wheels.derailment_quotient,
        steps=[
            ("What pushes the flange up the rail.", side),
            ("Over what holds the wheel down.", side / load),
        ],
        result=side / load,
        inside={"side_force": (0.0, 0.5), "wheel_load": (0.1, 1.0)},
    )


def _balance():
    """Forces on a flange that is about to climb."""
    angle, friction = inputs("flange_angle", "friction")
    normal, side, load = sp.symbols("N Y Q", positive=True)
    pushed = sp.Eq(side, normal * sp.sin(angle) - friction * normal * sp.cos(angle))
    held = sp.Eq(load, normal * sp.cos(angle) + friction * normal * sp.sin(angle))
    quotient = sp.simplify((pushed.rhs / held.rhs).expand())
    limit = (sp.tan(angle) - friction) / (1 + friction * sp.tan(angle))
    assert sp.simplify(quotient - limit) == 0
    steps = [
        (
            "The rail pushes square to the flank; climbing, the flank rubs downhill and friction "
            "holds it up. Sideways:",
            pushed,
        ),
        ("Up and down:", held),
        ("The force of the rail drops out of their quotient.", sp.Eq(side / load, limit)),
    ]
    return steps, limit


def climbing_limit():
    """Balance on the flank."""
    steps, limit = _balance()
    return Derivation(wheels.climbing_limit, steps=steps, result=limit, inside=_FLANGE)


def least_wheel_load():
    """The same balance, asked for the load."""
    steps, limit = _balance()
    (side,) = inputs("side_force")
    return Derivation(
        wheels.least_wheel_load,
        steps=[*steps, ("Solved for the load.", side / limit)],
        result=side / limit,
        inside=_FLANGE | {"side_force": (0.05, 0.5)},
    )
