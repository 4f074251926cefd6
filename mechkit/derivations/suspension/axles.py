"""Axle loads: a solver is the formula; why, and where it is proved."""

import numpy as np

from mechkit import suspension
from mechkit.derivations import Empirical

_LESSON = (
    "numerical: which wheels touch is not known beforehand, and for every set that does the "
    "balance of weight and moment is another pair of equations. For one pitch the heave follows "
    "by sorting the axles by height; the moment falls steadily as the pitch grows, so one "
    "pitch balances it. `suspension.middle_axle_load` derives the one case that fits on a line."
)
_PLACES = np.array([0.0, 0.021, 0.043, 0.068])


def _positions(random, count):
    return _PLACES


def _per_axle(low, high):
    return lambda random, count: random.uniform(low, high, (count, len(_PLACES)))


_FRAME = {
    "positions": _positions,
    "rail_heights": lambda random, count: random.normal(0.0, 0.002, (count, len(_PLACES))),
    "mass": (0.2, 0.6),
    "center_of_gravity": (0.02, 0.045),
}
_SPRUNG = {**_FRAME, "rates": _per_axle(100.0, 900.0)}
_IN_SLOTS = {
    **_SPRUNG,
    "preloads": _per_axle(0.0, 1.0),
    "travel_up": _per_axle(0.0, 0.001),
    "travel_down": _per_axle(0.0, 0.001),
    "stop_rate": (1e5, 1e6),
}


def axle_loads():
    """Springs that push or hang free."""
    return Empirical(suspension.axle_loads, whose=_LESSON, inside=_SPRUNG)


def spring_compressions():
    """Where the springs then stand."""
    return Empirical(suspension.spring_compressions, whose=_LESSON, inside=_SPRUNG)


def axle_loads_with_stops():
    """Springs with preload in slots with ends."""
    return Empirical(
        suspension.axle_loads_with_stops,
        whose=_LESSON + " A stop is one more straight piece of an axle's force over its rise.",
        inside=_IN_SLOTS,
    )


def axle_rises_with_stops():
    """Where the axles then stand."""
    return Empirical(suspension.axle_rises_with_stops, whose=_LESSON, inside=_IN_SLOTS)


def rigid_axle_loads():
    """The limit of stiff springs."""
    return Empirical(
        suspension.rigid_axle_loads,
        whose=_LESSON + " A rigid frame is the limit of equal, ever stiffer springs: it rests on "
        "the two rail points whose line passes highest under the center of gravity.",
        inside=_FRAME,
    )
