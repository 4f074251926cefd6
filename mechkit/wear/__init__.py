"""Wear: rates and depth of rubbing pairs, and the life of a worm mesh.

The formulas are called from here: ``wear.wear_rate_from_archard``.  They stand, a page each, in

====== ==========================================================
rates  wear rates, volume, depth, which pair lasts longer
mesh   what slides on what in a worm mesh, hours to a backlash
====== ==========================================================
"""

from mechkit.wear.mesh import (
    mesh_wear_depth,
    time_to_backlash,
    wheel_swept_area,
    worm_sliding_distance,
    worm_swept_area,
)
from mechkit.wear.rates import (
    pressure_speed,
    relative_life,
    wear_depth,
    wear_rate_from_archard,
    wear_rate_from_rabinowicz,
    wear_volume,
)

__all__ = [
    "mesh_wear_depth",
    "pressure_speed",
    "relative_life",
    "time_to_backlash",
    "wear_depth",
    "wear_rate_from_archard",
    "wear_rate_from_rabinowicz",
    "wear_volume",
    "wheel_swept_area",
    "worm_sliding_distance",
    "worm_swept_area",
]
