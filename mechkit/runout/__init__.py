"""Runout: an off-center gear, and how the offsets of a stack of parts add up.

The formulas are called from here: ``runout.eccentricity``.  They stand, a page each, in

========== ==========================================================
eccentric  what an off-center gear does to the mesh, and how to true it
stackup    bore, bushing, seat and axle together; wobble
========== ==========================================================
"""

from mechkit.runout.eccentric import (
    backlash_swing,
    binding_runout,
    eccentricity,
    eccentricity_from_ripple,
    felt_ripple,
    idler_swing,
    speed_ripple,
    tight_spot_backlash,
    transmission_error,
    truing_stock,
)
from mechkit.runout.stackup import (
    face_wobble,
    root_sum_square_stack,
    wobble_eccentricity,
    worst_case_stack,
)

__all__ = [
    "backlash_swing",
    "binding_runout",
    "eccentricity",
    "eccentricity_from_ripple",
    "face_wobble",
    "felt_ripple",
    "idler_swing",
    "root_sum_square_stack",
    "speed_ripple",
    "tight_spot_backlash",
    "transmission_error",
    "truing_stock",
    "wobble_eccentricity",
    "worst_case_stack",
]
