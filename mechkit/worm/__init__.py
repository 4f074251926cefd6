"""Worm and wheel: thread, friction, locking; what the mesh puts on its shafts.

The formulas are called from here: ``worm.lead``.  They stand, a page each, in

====== ==========================================================
pair   lead, sliding, friction, efficiency, locking
loads  thrust and separating force, collar, heat, lurch of the end play
====== ==========================================================
"""

from mechkit.worm.loads import (
    collar_loss,
    friction_from_efficiency,
    heat,
    lurch,
    separating_force,
    thrust,
    wheel_torque,
)
from mechkit.worm.pair import (
    CURVE_FLOOR,
    FOOT_PER_MINUTE,
    back_driving_efficiency,
    center_distance,
    efficiency,
    friction_coefficient,
    lead,
    lead_angle,
    locking_friction,
    locking_speed,
    normal_pressure_angle,
    sliding_speed,
)

__all__ = [
    "CURVE_FLOOR",
    "FOOT_PER_MINUTE",
    "back_driving_efficiency",
    "center_distance",
    "collar_loss",
    "efficiency",
    "friction_coefficient",
    "friction_from_efficiency",
    "heat",
    "lead",
    "lead_angle",
    "locking_friction",
    "locking_speed",
    "lurch",
    "normal_pressure_angle",
    "separating_force",
    "sliding_speed",
    "thrust",
    "wheel_torque",
]
