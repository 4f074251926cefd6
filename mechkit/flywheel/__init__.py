"""Flywheels: coast, balance, whirl and stress of one, and how large it must be.

The formulas are called from here: ``flywheel.ring_inertia``.  They stand, a page each, in

======= ==========================================================
wheel   inertia, coasting, balance, whirl, stress
sizing  from the wanted coast to a part that fits
======= ==========================================================
"""

from mechkit.flywheel.sizing import (
    bored_disc_stress,
    coast_distance,
    inertia_to_coast,
    reflected_inertia,
    stepped_inertia,
    stored_energy,
    width_for_inertia,
)
from mechkit.flywheel.wheel import (
    coast_angle,
    coast_time,
    critical_speed,
    disc_stress,
    equivalent_mass,
    overhung_critical_speed,
    permissible_eccentricity,
    ring_inertia,
    ring_mass,
    unbalance_force,
)

__all__ = [
    "bored_disc_stress",
    "coast_angle",
    "coast_distance",
    "coast_time",
    "critical_speed",
    "disc_stress",
    "equivalent_mass",
    "inertia_to_coast",
    "overhung_critical_speed",
    "permissible_eccentricity",
    "reflected_inertia",
    "ring_inertia",
    "ring_mass",
    "stepped_inertia",
    "stored_energy",
    "unbalance_force",
    "width_for_inertia",
]
