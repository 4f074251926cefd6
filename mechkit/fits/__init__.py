"""Fits: limits of size, press fits, joints, knurls, and plastic hubs.

The formulas are called from here: ``fits.tolerance_grade``.  They stand, a page each, in

============= ==========================================================
press         limits of size, interference, what a press fit holds
joints        what a joint stands; heat and adhesive
knurls        what rolling a knurl raises, and how far it throws a gear
knurl_joints  a hub pressed over a knurl
creep         what is left of the grip of a plastic hub
============= ==========================================================
"""

from mechkit.fits.creep import (
    creep_exponent,
    creep_modulus,
    grip_left,
    holding_time,
    relaxation_modulus,
)
from mechkit.fits.joints import (
    bond_torque,
    hub_von_mises_stress,
    interference_for_torque,
    release_temperature,
    shrink_temperature,
    warm_interference,
    yield_interference,
)
from mechkit.fits.knurl_joints import (
    crest_shear_torque,
    knurl_bite,
    knurl_interference,
    knurl_pressure,
    knurl_window,
)
from mechkit.fits.knurls import (
    bearing_share,
    knurl_eccentricity,
    raised_height,
    sharp_height,
    spoiling_height,
)
from mechkit.fits.press import (
    fit_interference,
    hub_hoop_stress,
    inch_fit_interference,
    interference_pressure,
    limits,
    press_force,
    slip_torque,
    tolerance_grade,
)

__all__ = [
    "bearing_share",
    "bond_torque",
    "creep_exponent",
    "creep_modulus",
    "crest_shear_torque",
    "fit_interference",
    "grip_left",
    "holding_time",
    "hub_hoop_stress",
    "hub_von_mises_stress",
    "inch_fit_interference",
    "interference_for_torque",
    "interference_pressure",
    "knurl_bite",
    "knurl_eccentricity",
    "knurl_interference",
    "knurl_pressure",
    "knurl_window",
    "limits",
    "press_force",
    "raised_height",
    "relaxation_modulus",
    "release_temperature",
    "sharp_height",
    "shrink_temperature",
    "slip_torque",
    "spoiling_height",
    "tolerance_grade",
    "warm_interference",
    "yield_interference",
]
