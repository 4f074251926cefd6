"""Spur gears: sizes of one, a pair at its center distance, teeth, the mesh, unknown gears.

The formulas are called from here: ``gears.module_from_diametral_pitch``.  They stand, a page each, in

======== ==========================================================
sizes    one gear: diameters, tooth thickness, fewest teeth
pair     two gears at their center distance: contact and backlash
teeth    forces and strength of teeth
mesh     how the flanks touch, slide and get in each other's way
gauging  what an unknown gear is, from a caliper and a count
======== ==========================================================
"""

from mechkit.gears.gauging import (
    Candidate,
    SpanCandidate,
    base_pitch,
    diameter_over_odd_teeth,
    identify,
    identify_by_spans,
    span_measurement,
    spanned_teeth,
)
from mechkit.gears.mesh import (
    flank_radii,
    sliding_distance,
    sliding_speed,
    tip_overrun,
)
from mechkit.gears.pair import (
    backlash,
    backlash_approximate,
    center_distance,
    center_distance_for_backlash,
    contact_ratio,
    path_of_contact,
    working_pressure_angle,
)
from mechkit.gears.sizes import (
    FEWEST,
    base_diameter,
    involute,
    minimum_teeth,
    module_from_diametral_pitch,
    outside_diameter,
    pitch_diameter,
    root_diameter,
    tooth_thickness,
)
from mechkit.gears.teeth import (
    bending_stress,
    lewis_form_factor,
    line_contact_pressure,
    tangential_force,
    tooth_force,
)

__all__ = [
    "FEWEST",
    "Candidate",
    "SpanCandidate",
    "backlash",
    "backlash_approximate",
    "base_diameter",
    "base_pitch",
    "bending_stress",
    "center_distance",
    "center_distance_for_backlash",
    "contact_ratio",
    "diameter_over_odd_teeth",
    "flank_radii",
    "identify",
    "identify_by_spans",
    "involute",
    "lewis_form_factor",
    "line_contact_pressure",
    "minimum_teeth",
    "module_from_diametral_pitch",
    "outside_diameter",
    "path_of_contact",
    "pitch_diameter",
    "root_diameter",
    "sliding_distance",
    "sliding_speed",
    "span_measurement",
    "spanned_teeth",
    "tangential_force",
    "tip_overrun",
    "tooth_force",
    "tooth_thickness",
    "working_pressure_angle",
]
