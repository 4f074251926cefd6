"""Levers, beams and unlike springs, derived."""

import numpy as np
import sympy as sp

from mechkit import suspension
from mechkit.derivations import Derivation, Empirical, inputs
from mechkit.names import STANDARD_GRAVITY


def lever_load():
    """Moments about the other axle."""
    mass, center, position_1, position_2 = inputs(
        "mass", "center_of_gravity", "position_1", "position_2"
    )
    load, weight = sp.symbols("P_1 W", positive=True)
    moments = sp.Eq(load * (position_2 - position_1), weight * (position_2 - center))
    (solved,) = sp.solve(moments, load)
    result = solved.subs(weight, mass * sp.Float(STANDARD_GRAVITY))
    return Derivation(
        suspension.lever_load,
        steps=[
            (
                "Moments about the other axle: the load at its arm against the weight at its.",
                moments,
            ),
            ("Solved for the load.", sp.Eq(load, solved)),
            ("The weight is mass times standard gravity.", result),
        ],
        result=result,
        inside={
            "mass": (0.2, 0.6),
            "center_of_gravity": (0.02, 0.04),
            "position_1": (0.0, 0.01),
            "position_2": (0.05, 0.08),
        },
    )


def equalized_loads():
    """Beams: statics alone."""
    return Empirical(
        suspension.equalized_loads,
        whose="the lever rule twice: each group of axles acts at its mean position "
        "(`lever_load`), and its beams split what it carries evenly.",
        inside={
            "positions": lambda random, count: np.array([0.0, 0.02, 0.04, 0.06]),
            "groups": lambda random, count: np.array([1, 1, 2, 2]),
            "mass": (0.2, 0.6),
            "center_of_gravity": (0.015, 0.045),
        },
    )


def middle_axle_load():
    """Heave and pitch of a frame on three springs, all of them touching."""
    mass, end_rate, middle_rate, rail_height = inputs(
        "mass", "end_rate", "middle_rate", "rail_height"
    )
    spacing, weight = sp.symbols("b W", positive=True)
    heave, pitch = sp.symbols("y phi", real=True)
    rear = end_rate * (0 - heave + pitch * spacing)
    middle = middle_rate * (rail_height - heave)
    front = end_rate * (0 - heave - pitch * spacing)
    balance = sp.Eq(rear + middle + front, weight)
    moments = sp.Eq(front * spacing - rear * spacing, 0)
    stance = sp.solve([balance, moments], [heave, pitch], dict=True)[0]
    load = sp.factor(middle.subs(stance))
    result = load.subs(weight, mass * sp.Float(STANDARD_GRAVITY))
    return Derivation(
        suspension.middle_axle_load,
        steps=[
            ("Each spring is compressed by the rail under it less the frame above it.",
             sp.Matrix([rear, middle, front])),
            ("The springs together carry the weight.", balance),
            ("The ends balance about the middle.", moments),
            ("Solved for heave and pitch: the frame stays level.",
             sp.Matrix([stance[heave], stance[pitch]])),
            ("Put back into the middle spring; it holds from 0 to the whole weight, outside "
             "that a wheel is off the rail.", load),
            ("The weight is mass times standard gravity.", result),
        ],
        result=result,
        inside={
            "mass": (0.2, 0.6),
            "end_rate": (200.0, 900.0),
            "middle_rate": (200.0, 900.0),
            "rail_height": (-0.0008, 0.0008),
        },
    )  # fmt: skip


def driver_share():
    """A definition."""
    return Empirical(
        suspension.driver_share,
        whose="the definition of adhesive weight: what stands on driven axles.",
        inside={
            "loads": lambda random, count: random.uniform(0.0, 1.0, (count, 4)),
            "drivers": lambda random, count: np.array([0, 1, 1, 1]),
        },
    )
