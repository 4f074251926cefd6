"""Wear of a worm mesh, derived."""

import sympy as sp

from mechkit import wear
from mechkit.derivations import Derivation, inputs
from mechkit.derivations.wear.rates import RATE

_ANGLES = {"lead_angle": (0.03, 0.35), "pressure_angle": (0.24, 0.45)}
_DEPTH = {"working_depth": (0.0004, 0.0015)}


def worm_sliding_distance():
    """The helix, unrolled."""
    diameter, lead_angle, turns = inputs("pitch_diameter", "lead_angle", "turns")
    around = sp.pi * diameter
    along = around * sp.tan(lead_angle)
    path = sp.simplify(sp.sqrt(around**2 + along**2))
    path = path.subs(sp.Abs(sp.cos(lead_angle)), sp.cos(lead_angle))
    return Derivation(
        wear.worm_sliding_distance,
        steps=[
            ("One turn goes round the pitch cylinder.", around),
            ("The thread moves along by the lead.", along),
            ("The slanted way, turn by turn.", turns * path),
        ],
        result=turns * path,
        inside={
            "pitch_diameter": (0.003, 0.012),
            "lead_angle": (0.03, 0.35),
            "turns": (0.0, 1e6),
        },
    )


def _flank(working_depth, pressure_angle):
    """Height of a flank that leans by the pressure angle."""
    return working_depth / sp.cos(pressure_angle)


def worm_swept_area():
    """Length of thread in the mesh, times height of flank."""
    length, depth, starts, lead_angle, pressure_angle = inputs(
        "length", "working_depth", "starts", "lead_angle", "pressure_angle"
    )
    thread = length / sp.sin(lead_angle)
    return Derivation(
        wear.worm_swept_area,
        steps=[
            ("Thread that lies within the length in contact.", thread),
            ("Height of its leaning flank.", _flank(depth, pressure_angle)),
        ],
        result=starts * thread * _flank(depth, pressure_angle),
        inside={"length": (0.002, 0.01), **_DEPTH, "starts": (1.0, 4.0), **_ANGLES},
    )


def wheel_swept_area():
    """Length of tooth, times height of flank, times teeth."""
    teeth, width, depth, lead_angle, pressure_angle = inputs(
        "teeth", "face_width", "working_depth", "lead_angle", "pressure_angle"
    )
    tooth = width / sp.cos(lead_angle)
    return Derivation(
        wear.wheel_swept_area,
        steps=[
            ("Tooth across the face, slanted by the lead angle.", tooth),
            ("Height of its leaning flank.", _flank(depth, pressure_angle)),
        ],
        result=teeth * tooth * _flank(depth, pressure_angle),
        inside={"teeth": (12.0, 60.0), "face_width": (0.0005, 0.006), **_DEPTH, **_ANGLES},
    )


def mesh_wear_depth():
    """Volume worn off, over the flank it comes from."""
    rate, force, distance, area = inputs("wear_rate", "force", "sliding_distance", "swept_area")
    volume = rate * force * distance
    return Derivation(
        wear.mesh_wear_depth,
        steps=[
            ("Volume that this member loses.", volume),
            ("Spread evenly over its own flank.", volume / area),
        ],
        result=volume / area,
        inside={
            "wear_rate": RATE,
            "force": (0.0, 10.0),
            "sliding_distance": (0.0, 1e6),
            "swept_area": (1e-6, 2e-4),
        },
    )


def time_to_backlash():
    """Both depths together, seen round the wheel's pitch circle."""
    backlash, force, speed, lead_angle, pressure_angle = inputs(
        "backlash", "force", "sliding_speed", "lead_angle", "pressure_angle"
    )
    rates, areas = inputs("wear_rate_1", "wear_rate_2"), inputs("area_1", "area_2")
    time = sp.Symbol("time", positive=True)
    depth = sum(rate * force * speed * time / area for rate, area in zip(rates, areas, strict=True))
    opened = sp.Eq(backlash, depth / (sp.cos(pressure_angle) * sp.cos(lead_angle)))
    result = sp.simplify(sp.solve(opened, time)[0])
    return Derivation(
        wear.time_to_backlash,
        steps=[
            ("Depth off both flanks, along their normal.", depth),
            ("The normal leans twice: by the pressure angle and by the lead angle.", opened),
            ("Solved for the time.", sp.Eq(time, result)),
        ],
        result=result,
        inside={
            "backlash": (0.0, 0.0005),
            "wear_rate_1": RATE,
            "area_1": (1e-5, 2e-4),
            "wear_rate_2": RATE,
            "area_2": (1e-5, 2e-4),
            "force": (0.1, 10.0),
            "sliding_speed": (0.1, 5.0),
            **_ANGLES,
        },
    )
