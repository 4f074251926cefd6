"""Bounce, derived; contact on rough rail, worked out by numbers."""

import numpy as np
import sympy as sp

from mechkit import suspension
from mechkit.derivations import Derivation, Empirical, inputs

_PLACES = np.array([0.0, 0.021, 0.043, 0.068])
_FRAME = {
    "positions": lambda random, count: _PLACES,
    "rates": lambda random, count: random.uniform(100.0, 900.0, (count, 4)),
    "mass": (0.2, 0.6),
    "center_of_gravity": (0.025, 0.042),
}


def bounce_speed():
    """A mass that falls back on its spring."""
    rate, mass = inputs("rate", "mass")
    time, speed = sp.symbols("t omega", positive=True)
    rise = sp.Function("y")
    motion = sp.Eq(mass * sp.diff(rise(time), time, 2), -rate * rise(time))
    swing = sp.cos(speed * time)
    put_in = motion.subs(rise(time), swing).doit()
    (solved,) = sp.solve(sp.simplify((put_in.lhs - put_in.rhs) / swing), speed)
    return Derivation(
        suspension.bounce_speed,
        steps=[
            ("Lifted from rest, the springs pull the mass back.", motion),
            ("It swings up and down; the swing put into the equation.", put_in),
            ("That holds at one speed of rotation only.", sp.Eq(speed, solved)),
        ],
        result=solved,
        inside={"rate": (200.0, 3000.0), "mass": (0.2, 0.6)},
    )


def lift_off_depths():
    """A solver is the formula."""
    return Empirical(
        suspension.lift_off_depths,
        whose="numerical: the frame settles without the axle, see `suspension.axle_loads`; how "
        "far it sinks over the empty place is the depth at which that wheel's load ends.",
        inside=_FRAME,
    )


def contact_shares():
    """Counted on random rail."""
    return Empirical(
        suspension.contact_shares,
        whose="numerical: counted on random rail, each place by `suspension.axle_loads`; for "
        "three like axles the normal distribution gives the share on paper.",
        inside={
            **_FRAME,
            "unevenness": (0.0001, 0.003),
            "minimum_load": (0.0, 0.3),
            "samples": lambda random, count: 150,
            "seed": lambda random, count: 3,
        },
    )
