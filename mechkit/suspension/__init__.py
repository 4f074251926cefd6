"""Suspension: which axle carries what, beams and levers, and how the engine rides.

The formulas are called from here: ``suspension.axle_loads``.  They stand, a page each, in

=========== ==========================================================
axles       springs under a frame on uneven rail
equalizing  levers, beams, springs of unlike stiffness
ride        bounce, how deep a wheel follows, contact on rough rail
stance      how a rigid frame settles on supports that never pull
=========== ==========================================================
"""

from mechkit.suspension.axles import (
    axle_loads,
    axle_loads_with_stops,
    axle_rises_with_stops,
    rigid_axle_loads,
    spring_compressions,
)
from mechkit.suspension.equalizing import (
    driver_share,
    equalized_loads,
    lever_load,
    middle_axle_load,
)
from mechkit.suspension.ride import (
    bounce_speed,
    contact_shares,
    lift_off_depths,
)

__all__ = [
    "axle_loads",
    "axle_loads_with_stops",
    "axle_rises_with_stops",
    "bounce_speed",
    "contact_shares",
    "driver_share",
    "equalized_loads",
    "lever_load",
    "lift_off_depths",
    "middle_axle_load",
    "rigid_axle_loads",
    "spring_compressions",
]
