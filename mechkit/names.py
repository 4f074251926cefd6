"""The vocabulary: every argument and result of the handbook, with letter, unit and words.

This table is law.  A formula may only use names that stand here, its docstring must
give the unit that stands here, `check` reads the unit of an error message from here,
and the derivations print the letter that stands here.  One name, one meaning; where a
topic needs the same word for something else, the entry is keyed ``topic.name``, and
the unit still stays the same.
"""

from typing import NamedTuple


class Name(NamedTuple):
    """Letter for print (LaTeX), SI unit as pint reads it, words of the trade."""

    letter: str
    unit: str
    words: str


NAMES = {
    # -- size and shape -----------------------------------------------------------
    "length": Name(r"\ell", "m", "length in contact along the axis"),
    "width": Name("w", "m", "width along the axis"),
    "face_width": Name("b", "m", "face width of a gear"),
    "diameter": Name("d", "m", "diameter"),
    "outer": Name("D", "m", "outside diameter"),
    "bore": Name("d_0", "m", "bore diameter"),
    "density": Name(r"\rho", "kg/m^3", "density"),
    "mass": Name("m", "kg", "mass"),
    "inertia": Name("J", "kg*m^2", "moment of inertia about the shaft"),
    "radius_1": Name("r_1", "m", "radius of curvature of the first body"),
    "radius_2": Name("r_2", "m", "radius of curvature of the second body"),
    # -- motion and force -----------------------------------------------------------
    "speed": Name(r"\omega", "rad/s", "speed of rotation"),
    "angle": Name(r"\theta", "rad", "angle turned"),
    "time": Name("t", "s", "time"),
    "distance": Name("x", "m", "distance along the track"),
    "force": Name("F", "N", "force"),
    "load": Name("P", "N", "load"),
    "torque": Name("T", "N*m", "torque"),
    "pressure": Name("p", "Pa", "pressure"),
    "stress": Name(r"\sigma", "Pa", "stress"),
    "friction": Name(r"\mu", "-", "coefficient of friction"),
    "efficiency": Name(r"\eta", "-", "efficiency"),
    "damping": Name("c", "N*m*s/rad", "friction torque per unit of speed"),
    "tangential_force": Name("F_t", "N", "tangential force at the pitch circle"),
    # -- material -------------------------------------------------------------------
    "elastic_modulus": Name("E", "Pa", "modulus of elasticity"),
    "shear_modulus": Name("G", "Pa", "modulus of rigidity"),
    "poisson": Name(r"\nu", "-", "Poisson's ratio"),
    "modulus_1": Name("E_1", "Pa", "modulus of elasticity of the first body"),
    "modulus_2": Name("E_2", "Pa", "modulus of elasticity of the second body"),
    "poisson_1": Name(r"\nu_1", "-", "Poisson's ratio of the first body"),
    "poisson_2": Name(r"\nu_2", "-", "Poisson's ratio of the second body"),
    # -- scale ------------------------------------------------------------------------
    "prototype_speed": Name("V", "m/s", "speed of the full-size engine"),
    "model_speed": Name("v", "m/s", "speed of the model"),
    "scale.ratio": Name("s", "-", "scale ratio, 64 for 1:64"),
    "prototype_length": Name("L", "m", "length on the full-size engine"),
    "model_length": Name(r"\ell", "m", "length on the model"),
    # -- gears ------------------------------------------------------------------------
    "module": Name("m_n", "m", "module"),
    "diametral_pitch": Name("P_d", "1/m", "diametral pitch, teeth per length of diameter"),
    "teeth": Name("z", "-", "number of teeth"),
    "teeth_1": Name("z_1", "-", "number of teeth of the first gear"),
    "teeth_2": Name("z_2", "-", "number of teeth of the second gear"),
    "pressure_angle": Name(r"\alpha", "rad", "pressure angle"),
    "around": Name(r"\vartheta", "rad", "angle from the mesh that drives a gear to its other mesh"),
    "working_pressure_angle": Name(
        r"\alpha'", "rad", "pressure angle at the working center distance"
    ),
    "addendum": Name("h_a", "m", "addendum"),
    "addendum_coefficient": Name("k", "-", "addendum in modules"),
    "pitch_diameter": Name("d", "m", "pitch diameter"),
    "outside_diameter": Name("d_a", "m", "outside diameter of a gear"),
    "base_diameter": Name("d_b", "m", "base circle diameter"),
    "center_distance": Name("a", "m", "center distance"),
    "contact_ratio": Name(r"\varepsilon", "-", "contact ratio"),
    "backlash": Name("j", "m", "circumferential backlash"),
    "lewis_form_factor": Name("Y", "-", "Lewis form factor"),
    "gear_ratio": Name("i", "-", "turns of the motor for one of the axle"),
    "dedendum_coefficient": Name("k_f", "-", "dedendum in modules"),
    "base_pitch": Name("p_b", "m", "base pitch, from flank to flank along the line of action"),
    "pitch_point_distance": Name("s", "m", "distance from the pitch point on the line of action"),
    "spanned_teeth": Name("k", "-", "number of teeth between the jaws"),
    "span": Name("W", "m", "span measurement, the base tangent length over several teeth"),
    "next_span": Name("W_+", "m", "span measurement over one tooth more"),
    "reading": Name("D_r", "m", "reading of a caliper"),
    "tip_land": Name("s_a", "m", "width of the tip of a tooth"),
    "uncertainty": Name("u", "m", "plus-minus of a reading, about 95 %"),
    # -- worm -------------------------------------------------------------------------
    "starts": Name("z_1", "-", "number of starts (threads) of a worm"),
    "lead_angle": Name(r"\lambda", "rad", "lead angle"),
    "sliding_speed": Name("v_s", "m/s", "sliding speed"),
    "axial_pressure_angle": Name(r"\alpha_x", "rad", "pressure angle in the worm's axial plane"),
    "friction_ratio": Name("q", "-", "friction of a mesh in multiples of the published curve"),
    "end_play": Name("x", "m", "end play of a shaft"),
    "collar_diameter": Name("d_c", "m", "mean diameter of the face that takes a worm's thrust"),
    "wheel_diameter": Name("d_2", "m", "pitch diameter of the worm wheel"),
    # -- runout -----------------------------------------------------------------------
    "eccentricity": Name("e", "m", "offset of the center from the axis"),
    "total_runout": Name("R", "m", "total indicated runout"),
    "eccentricities": Name("e_i", "m", "offsets of a stack of parts, one a part"),
    "speed_ripple": Name("w", "-", "speed ripple, from the mean to the peak, per mean speed"),
    "runout.turns": Name("i", "-", "turns of the off-center gear for one of the motor"),
    "lever": Name(r"\ell", "m", "travel at the rim per angle of the motor"),
    "face_runout": Name("R_a", "m", "total indicated runout of the face"),
    "clearance": Name("c", "m", "clearance on the diameter"),
    # -- motor ------------------------------------------------------------------------
    "voltage": Name("U", "V", "voltage at the motor"),
    "current": Name("I", "A", "current"),
    "resistance": Name("R", "ohm", "winding resistance"),
    "inductance": Name("L", "H", "winding inductance"),
    "torque_constant": Name("k", "N*m/A", "torque constant"),
    "friction_torque": Name("T_f", "N*m", "friction torque"),
    "no_load_speed": Name(r"\omega_0", "rad/s", "no-load speed"),
    "no_load_current": Name("I_0", "A", "no-load current"),
    "stall_current": Name("I_s", "A", "stall current"),
    "duty": Name("D", "-", "duty, the share of time that the pulse is on"),
    "frequency": Name("f", "1/s", "frequency"),
    "back_emf": Name("U_i", "V", "voltage that the turning motor makes itself"),
    "ripple_current": Name(r"\Delta I", "A", "current ripple, peak to peak"),
    # -- winding ----------------------------------------------------------------------
    "power": Name("P", "W", "power"),
    "temperature_coefficient": Name(
        r"\alpha", "1/kelvin", "relative rise of resistance per kelvin, copper 0.00393"
    ),
    "magnet_coefficient": Name(r"\beta", "1/kelvin", "relative loss of magnet strength per kelvin"),
    "thermal_resistance": Name(r"R_{th}", "kelvin/W", "temperature rise per power"),
    "heat_capacity": Name("C", "J/kelvin", "heat that warms the winding by one kelvin"),
    # -- contacts ---------------------------------------------------------------------
    "resistivity_1": Name(r"\rho_1", "ohm*m", "resistivity of the first metal"),
    "resistivity_2": Name(r"\rho_2", "ohm*m", "resistivity of the second metal"),
    "film_resistance": Name(r"\sigma_f", "ohm*m^2", "resistance of a film times its area"),
    "contact_resistance": Name("R_c", "ohm", "resistance of one wheel on its rail"),
    "wheels_1": Name("n_1", "-", "wheels that collect from one rail"),
    "wheels_2": Name("n_2", "-", "wheels that collect from the other rail"),
    "contact_voltage": Name("U_c", "V", "voltage across one contact"),
    "temperature": Name(r"\vartheta", "kelvin", "absolute temperature"),
    "ambient": Name(r"\vartheta_0", "kelvin", "absolute temperature of the metal around"),
    "film_strength": Name("E_f", "V/m", "field that breaks through a film"),
    # -- flywheel ---------------------------------------------------------------------
    "balance_grade": Name("G", "m/s", "balance grade, permissible eccentricity times speed"),
    "overhang": Name(r"\ell", "m", "overhang beyond the bearing"),
    "flywheel.span": Name("s", "m", "distance between the two bearings"),
    "flywheel.wheel_diameter": Name("D_w", "m", "diameter of the driver over the tread"),
    "traction.wheel_diameter": Name("D_w", "m", "diameter of the driver over the tread"),
    "outers": Name("D", "m", "outside diameters of the steps"),
    "widths": Name("w", "m", "widths of the steps"),
    "shaft_diameter": Name("d", "m", "shaft diameter"),
    # -- fits -------------------------------------------------------------------------
    "fits.grade": Name("IT", "-", "tolerance grade number"),
    "tolerance_class": Name("", "-", "tolerance class, as H7 or p6"),
    "hole_class": Name("", "-", "tolerance class of the hole, as H7"),
    "shaft_class": Name("", "-", "tolerance class of the shaft, as p6"),
    "fit_class": Name("", "-", "tolerance class of an inch fit, as FN1"),
    "hub_outer": Name("D", "m", "outside diameter of the hub"),
    "diametral_interference": Name(r"\delta", "m", "interference on the diameter"),
    "hub_modulus": Name("E_h", "Pa", "modulus of elasticity of the hub"),
    "hub_poisson": Name(r"\nu_h", "-", "Poisson's ratio of the hub"),
    "shaft_modulus": Name("E_s", "Pa", "modulus of elasticity of the shaft"),
    "shaft_poisson": Name(r"\nu_s", "-", "Poisson's ratio of the shaft"),
    "shaft_bore": Name("d_0", "m", "bore of a hollow shaft"),
    # -- joints -----------------------------------------------------------------------
    "yield_strength": Name("R_e", "Pa", "yield strength"),
    "shear_strength": Name(r"\tau", "Pa", "shear strength"),
    "hub_expansion": Name(r"\alpha_h", "1/kelvin", "thermal expansion coefficient of the hub"),
    "shaft_expansion": Name(r"\alpha_s", "1/kelvin", "thermal expansion coefficient of the shaft"),
    "temperature_rise": Name(r"\Delta\vartheta", "kelvin", "rise in temperature"),
    "assembly_clearance": Name("s", "m", "clearance on the diameter while assembling"),
    # -- knurls -----------------------------------------------------------------------
    "knurl_pitch": Name("p_k", "m", "pitch of a straight knurl, crest to crest around the shaft"),
    "tooth_depth": Name("h_t", "m", "depth of a knurl, crest to root"),
    "crest_angle": Name(r"\gamma", "rad", "angle between the flanks of a crest"),
    "raised_height": Name("h", "m", "height of the crests above the plain shaft"),
    "bite": Name("b", "m", "depth of the crests in the hub"),
    "uneven_share": Name("u", "-", "highest less lowest crest in a turn, per raised height"),
    # -- creep ------------------------------------------------------------------------
    "fits.modulus_1": Name("E_1", "Pa", "creep modulus at the first time"),
    "fits.modulus_2": Name("E_2", "Pa", "creep modulus at the second time"),
    "time_1": Name("t_1", "s", "first time under load"),
    "time_2": Name("t_2", "s", "second time under load"),
    "creep_exponent": Name("n", "-", "slope of the creep modulus on log-log paper"),
    "holding_torque": Name("T_1", "N*m", "torque that a joint holds at the first time"),
    # -- springs and suspension -------------------------------------------------------
    "wire_diameter": Name("d", "m", "wire diameter"),
    "mean_diameter": Name("D", "m", "mean coil diameter"),
    "active_coils": Name("n", "-", "number of active coils"),
    "total_coils": Name("n_t", "-", "number of coils, end coils counted"),
    "rate": Name("c", "N/m", "spring rate"),
    "free_length": Name("L_0", "m", "free length of a spring"),
    "solid_length": Name("L_s", "m", "length of a spring closed solid"),
    "end_condition": Name("a", "-", "end condition, 0.5 between flat seats"),
    "tensile_strength": Name("S_{ut}", "Pa", "tensile strength"),
    "torsion_share": Name("s", "-", "elastic limit in torsion over tensile strength"),
    "thickness": Name("t", "m", "thickness of sheet or shim"),
    "springs.width": Name("b", "m", "radial width of a washer"),
    "deflection": Name("f", "m", "deflection of a spring"),
    "waves": Name("N", "-", "number of waves, 2 for a plain bow"),
    "deflection_factor": Name("K", "-", "deflection factor of a waved washer"),
    "positions": Name("x", "m", "positions of the axles along the frame"),
    "rates": Name("c", "N/m", "spring rates, one an axle"),
    "rail_heights": Name("h", "m", "height of the rail under each axle"),
    "preloads": Name("P_0", "N", "spring forces with the axles as drawn, one an axle"),
    "travel_up": Name("u", "m", "how far each axle can rise in its slot"),
    "travel_down": Name("v", "m", "how far each axle can drop in its slot"),
    "stop_rate": Name("c_s", "N/m", "stiffness of a stop of the axlebox"),
    "minimum_load": Name("P_{min}", "N", "least load of an axle for sure contact"),
    "unevenness": Name(r"\sigma_h", "m", "root mean square unevenness of the rail"),
    "samples": Name("N", "-", "number of places on the track"),
    "seed": Name("", "-", "start of the random numbers"),
    "groups": Name("", "-", "1 or 2 for each axle, axles of a group tied by beams"),
    "loads": Name("P", "N", "loads, one an axle"),
    "drivers": Name("", "-", "1 for a driven axle, else 0"),
    "position_1": Name("x_1", "m", "position of the axle in question"),
    "position_2": Name("x_2", "m", "position of the other axle"),
    "end_rate": Name("c_e", "N/m", "spring rate of either end axle"),
    "middle_rate": Name("c_m", "N/m", "spring rate of the middle axle"),
    "rail_height": Name("h", "m", "height of the rail under an axle"),
    "center_of_gravity": Name("x_g", "m", "position of the center of gravity along the frame"),
    # -- bearings ---------------------------------------------------------------------
    "dynamic_rating": Name("C", "N", "basic dynamic load rating"),
    "exponent": Name("p", "-", "life exponent, 3 for balls"),
    "life": Name("L", "-", "life in revolutions"),
    "radial_load": Name("F_r", "N", "radial load"),
    "axial_load": Name("F_a", "N", "thrust load"),
    "radial_factor": Name("X", "-", "radial factor of the bearing's sheet"),
    "axial_factor": Name("Y", "-", "thrust factor of the bearing's sheet"),
    "viscosity": Name(r"\nu", "m^2/s", "kinematic viscosity"),
    "pitch_circle": Name("d_m", "m", "diameter of the ring of balls"),
    "lubrication_factor": Name("f_0", "-", "factor for the kind of lubrication"),
    "housing_expansion": Name(
        r"\alpha_g", "1/kelvin", "thermal expansion coefficient of the housing"
    ),
    "shaft_rise": Name(r"\Delta\vartheta_s", "kelvin", "rise of the shaft's temperature"),
    "housing_rise": Name(r"\Delta\vartheta_g", "kelvin", "rise of the housing's temperature"),
    # -- alignment --------------------------------------------------------------------
    "offset": Name("e", "m", "distance out of line"),
    "alignment.span": Name("b", "m", "span to the bearing out of line"),
    "bearing_span": Name("a", "m", "distance between two bearings"),
    "alignment.positions": Name("x", "m", "positions of the bearings along the shaft"),
    "offsets": Name("y", "m", "sideways offsets of the bearings"),
    "shaft_rate": Name("c_s", "N/m", "stiffness of the shaft against sideways push"),
    "bed_rate": Name("c_b", "N/m", "stiffness of the motor bed"),
    "resonance": Name(r"\omega_0", "rad/s", "resonance"),
    "damping_ratio": Name(r"\zeta", "-", "damping over critical damping"),
    # -- wear -------------------------------------------------------------------------
    "wear_rate": Name("k", "m^3/(N*m)", "specific wear rate, volume per force and distance"),
    "sliding_distance": Name("s", "m", "sliding distance"),
    "archard_coefficient": Name("K", "-", "wear coefficient after Archard, volume K W s / H"),
    "rabinowicz_coefficient": Name(
        "K_3", "-", "wear coefficient after Rabinowicz, volume K W s / (3 H)"
    ),
    "hardness": Name("H", "Pa", "indentation hardness of the softer member"),
    "swept_area": Name("A", "m^2", "flank area of one member that the contact sweeps"),
    "area_1": Name("A_1", "m^2", "swept flank area of the first member"),
    "area_2": Name("A_2", "m^2", "swept flank area of the second member"),
    "wear_rate_1": Name("k_1", "m^3/(N*m)", "specific wear rate of the first member"),
    "wear_rate_2": Name("k_2", "m^3/(N*m)", "specific wear rate of the second member"),
    "turns": Name("n", "-", "number of turns of the worm"),
    "working_depth": Name("h", "m", "depth of tooth that touches"),
    # -- rods -------------------------------------------------------------------------
    "crankpin_clearance": Name("c", "m", "rod hole less crankpin, on the diameter"),
    "crank_throw": Name("r", "m", "crankpin's center off the axle's"),
    "rod_error": Name("e", "m", "distance of a rod's holes less the distance of the axles"),
    "quartering_error": Name(r"\delta", "rad", "error of one crank on one axle"),
    "track_gauge": Name("G", "m", "inside to inside of the railheads"),
    "back_to_back": Name("B", "m", "inside face to inside face of the wheels"),
    "flange_width": Name("F", "m", "width of a flange where it meets the railhead"),
    # -- wheelsets --------------------------------------------------------------------
    "check_gauge": Name("C", "m", "check rail's face to the gauge face of the frog"),
    "check_span": Name("S", "m", "check rail's face to the wing rail's face"),
    # -- truck ------------------------------------------------------------------------
    "wheels.overhang": Name("a", "m", "truck's center ahead of the first fixed axle"),
    "wheelbase": Name("b", "m", "first to last fixed axle"),
    "curve_radius": Name("R", "m", "radius of the track's center line"),
    "side_force": Name("Y", "N", "force of the flange against the rail"),
    "wheel_load": Name("Q", "N", "load of a wheel on the rail"),
    "flange_angle": Name(r"\beta", "rad", "flange's flank from the axle's line"),
    # -- traction ---------------------------------------------------------------------
    "grade": Name("i", "-", "grade, rise over run"),
    "adhesion": Name(r"\mu", "-", "adhesion coefficient of wheel on rail"),
    "rolling_coefficient": Name("f", "-", "rolling resistance per weight"),
    "curve_coefficient": Name("f_c", "-", "extra resistance per weight in a curve, measured"),
    "mass_on_drivers": Name("m_d", "kg", "mass that the drivers carry"),
    "engine_mass": Name("m_e", "kg", "mass of the engine"),
    "rolling_force": Name("F_r", "N", "pull that keeps the train rolling"),
    "cogging": Name("T_c", "N*m", "peak torque with which the magnet holds the iron core"),
    "lost_motion": Name("b", "m", "backlash and end play together, as travel at the rim"),
    "car_mass": Name("m_c", "kg", "mass of one car"),
}

#: Arguments that are words.
WORDS = frozenset({"tolerance_class", "hole_class", "shaft_class", "fit_class"})

#: Arguments with one value an axle, bearing, part or step, in the last place of an array.
ROWS = frozenset(
    (
        "positions", "rates", "rail_heights", "preloads", "travel_up", "travel_down",
        "loads", "drivers", "groups", "offsets", "eccentricities", "outers", "widths",
    )
)  # fmt: skip

#: Constants with a dimension that formulas may use; the dimension test scales them too.
STANDARD_GRAVITY = 9.80665  # m/s^2, by definition (3rd CGPM, 1901)
LORENZ_NUMBER = 2.44e-8  # V^2/K^2, pi^2/3 (k/e)^2, of all metals alike
CONSTANTS = {"STANDARD_GRAVITY": "m/s^2", "LORENZ_NUMBER": "V^2/kelvin^2"}


def entry(name, topic=""):
    """The vocabulary entry for a name, the topic's own meaning first."""
    return NAMES.get(f"{topic}.{name}") or NAMES[name]


def unit_of(name):
    """The unit of a name with a space before it, or nothing for plain numbers."""
    known = NAMES.get(name)
    return "" if known is None or known.unit == "-" else f" {known.unit}"
