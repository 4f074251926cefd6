"""Springs: coil springs, the wire on the shelf, bowed and waved washers.

The formulas are called from here: ``springs.spring_index``.  They stand, a page each, in

======== ==========================================================
coil     coil springs of round wire
stock    strength of spring wire, and the sizes to be had
washers  the shim that takes up end play and keeps pushing
======== ==========================================================
"""

from mechkit.springs.coil import (
    active_coils_for_rate,
    bergstraesser_factor,
    coil_shear_stress,
    coil_spring_rate,
    critical_free_length,
    deflection,
    force_at_stress,
    solid_length,
    spring_index,
    wahl_factor,
)
from mechkit.springs.stock import (
    allowable_shear_stress,
    music_wire_strength,
    nearest_music_wire,
    phosphor_bronze_strength,
)
from mechkit.springs.washers import (
    bowed_washer_stress,
    waved_washer_factor,
    waved_washer_rate,
)

__all__ = [
    "active_coils_for_rate",
    "allowable_shear_stress",
    "bergstraesser_factor",
    "bowed_washer_stress",
    "coil_shear_stress",
    "coil_spring_rate",
    "critical_free_length",
    "deflection",
    "force_at_stress",
    "music_wire_strength",
    "nearest_music_wire",
    "phosphor_bronze_strength",
    "solid_length",
    "spring_index",
    "wahl_factor",
    "waved_washer_factor",
    "waved_washer_rate",
]
