"""Names that people's own checks call: module, function, arguments and defaults stay."""

import importlib
import inspect

import pytest

PROMISED = {
    "scale.model_speed": "prototype_speed ratio",
    "scale.prototype_speed": "model_speed ratio",
    "gears.module_from_diametral_pitch": "diametral_pitch",
    "gears.pitch_diameter": "module teeth",
    "gears.outside_diameter": "module teeth addendum_coefficient=1.0",
    "gears.base_diameter": "module teeth pressure_angle",
    "gears.center_distance": "module teeth_1 teeth_2",
    "gears.contact_ratio": "module teeth_1 teeth_2 pressure_angle addendum center_distance",
    "gears.backlash": "module teeth_1 teeth_2 pressure_angle center_distance",
    "gears.minimum_teeth": "pressure_angle addendum_coefficient=1.0",
    "gears.lewis_form_factor": "teeth",
    "gears.bending_stress": "tangential_force face_width module lewis_form_factor",
    "gears.line_contact_pressure": "force length radius_1 radius_2 modulus_1 poisson_1 modulus_2 poisson_2",
    "worm.lead_angle": "starts module pitch_diameter",
    "worm.efficiency": "lead_angle friction pressure_angle",
    "worm.back_driving_efficiency": "lead_angle friction pressure_angle",
    "worm.locking_friction": "lead_angle pressure_angle",
    "worm.sliding_speed": "pitch_diameter speed lead_angle",
    "worm.friction_coefficient": "sliding_speed",
    "runout.binding_runout": "backlash pressure_angle",
    "motor.torque_constant": "voltage no_load_speed no_load_current resistance",
    "motor.speed": "voltage torque resistance torque_constant friction_torque damping=0.0",
    "motor.starting_voltage": "torque resistance torque_constant",
    "motor.maximum_efficiency": "no_load_current stall_current",
    "motor.mechanical_time_constant": "inertia resistance torque_constant",
    "motor.ripple_current": "voltage duty frequency resistance inductance",
    "flywheel.ring_inertia": "outer width density bore=0.0",
    "flywheel.coast_time": "inertia speed torque damping=0.0",
    "flywheel.coast_angle": "inertia speed torque damping=0.0",
    "flywheel.permissible_eccentricity": "balance_grade speed",
    "flywheel.unbalance_force": "mass eccentricity speed",
    "flywheel.disc_stress": "outer density poisson speed",
    "flywheel.overhung_critical_speed": "mass overhang shaft_diameter elastic_modulus",
    "fits.tolerance_grade": "diameter grade",
    "fits.limits": "diameter tolerance_class",
    "fits.interference_pressure": "diameter hub_outer diametral_interference hub_modulus hub_poisson shaft_modulus shaft_poisson shaft_bore=0.0",
    "fits.hub_hoop_stress": "pressure diameter hub_outer",
    "fits.slip_torque": "pressure diameter length friction",
    "fits.press_force": "pressure diameter length friction",
    "springs.coil_spring_rate": "wire_diameter mean_diameter active_coils shear_modulus",
    "springs.wahl_factor": "wire_diameter mean_diameter",
    "springs.bergstraesser_factor": "wire_diameter mean_diameter",
    "springs.coil_shear_stress": "force wire_diameter mean_diameter",
    "bearings.rating_life": "dynamic_rating load exponent=3.0",
    "wear.wear_depth": "wear_rate pressure sliding_distance",
    "suspension.axle_loads": "positions rates rail_heights mass center_of_gravity",
    "traction.grade_resistance": "mass grade",
    "traction.adhesion_limit": "load adhesion",
}  # fmt: skip


def signature(function):
    """Arguments in order, each with its default, as one line."""
    arguments = inspect.signature(function).parameters.values()
    return " ".join(
        one.name if one.default is one.empty else f"{one.name}={one.default}" for one in arguments
    )


@pytest.mark.parametrize("name", PROMISED)
def test_name_and_arguments_stay(name):
    topic, _, function = name.partition(".")
    function = getattr(importlib.import_module(f"mechkit.{topic}"), function)
    assert signature(function) == PROMISED[name]
