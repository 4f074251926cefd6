"""Wheels: wheelsets and track, side rods, the leading truck, contact with the rail.

The formulas are called from here: ``wheels.wheel_check_gauge``.  They stand, a page each, in

========== ==========================================================
wheelsets  how far a pulled wheel may lie off when it goes back
rods       what the holes of side rods forgive
truck      what a curve asks of the leading truck
contacts   what a wheel drops on its rail, and what breaks its film
========== ==========================================================
"""

from mechkit.wheels.contacts import (
    constriction_resistance,
    contact_spot,
    contact_temperature,
    path_resistance,
    punctured_film,
    softening_voltage,
    tarnish_resistance,
)
from mechkit.wheels.rods import (
    flange_play,
    forgiven_quartering,
    forgiven_rod_error,
)
from mechkit.wheels.truck import (
    climbing_limit,
    curve_offset,
    derailment_quotient,
    least_wheel_load,
)
from mechkit.wheels.wheelsets import (
    back_to_back_window,
    check_flangeway,
    frog_flangeway,
    press_freedom,
    wheel_check_gauge,
)

__all__ = [
    "back_to_back_window",
    "check_flangeway",
    "climbing_limit",
    "constriction_resistance",
    "contact_spot",
    "contact_temperature",
    "curve_offset",
    "derailment_quotient",
    "flange_play",
    "forgiven_quartering",
    "forgiven_rod_error",
    "frog_flangeway",
    "least_wheel_load",
    "path_resistance",
    "press_freedom",
    "punctured_film",
    "softening_voltage",
    "tarnish_resistance",
    "wheel_check_gauge",
]
