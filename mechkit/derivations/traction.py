"""Traction formulas, derived."""

import sympy as sp

from mechkit import traction
from mechkit.derivations import Derivation, Empirical, inputs
from mechkit.names import STANDARD_GRAVITY

_DRIVE = {
    "gear_ratio": (10.0, 60.0),
    "efficiency": (0.1, 0.9),
    "wheel_diameter": (0.008, 0.045),
}
_TRACK = {
    "grade": (0.0, 0.05),
    "rolling_coefficient": (0.005, 0.04),
    "curve_coefficient": (0.0, 0.03),
}
_GRAVITY = sp.Float(STANDARD_GRAVITY)


def _slope():
    """Weight on a slope: along the track and onto it."""
    mass, grade = inputs("mass", "grade")
    angle = sp.Symbol("angle", real=True)
    weight = mass * _GRAVITY
    along, onto = weight * sp.sin(angle), weight * sp.cos(angle)
    return grade, angle, along, onto


def grade_resistance():
    """The share of the weight along the track."""
    grade, angle, along, _ = _slope()
    steep = sp.simplify(along.subs(angle, sp.atan(grade)))
    return Derivation(
        traction.grade_resistance,
        steps=[
            ("Along the track lies the sine's share of the weight.", along),
            ("Rise over run is the tangent.", steep),
            ("On the grades of a railway, the first term does.", sp.series(steep, grade, 0, 4)),
        ],
        result=steep,
        inside={"mass": (0.1, 3.0), "grade": (0.0, 0.1)},
    )


def rolling_resistance():
    """A share of the weight, on the level."""
    coefficient = inputs("rolling_coefficient")[0]
    _, angle, _, onto = _slope()
    level = onto.subs(angle, 0)
    return Derivation(
        traction.rolling_resistance,
        steps=[
            ("What presses on the rail; on the level all the weight.", level),
            ("The coefficient's share of it.", coefficient * level),
        ],
        result=coefficient * level,
        inside={"mass": (0.1, 3.0), "rolling_coefficient": (0.0, 0.05)},
    )


def train_resistance():
    """Along the slope, plus a share of what presses on the rail."""
    grade, angle, along, onto = _slope()
    rolling, curve = inputs("rolling_coefficient", "curve_coefficient")
    total = along + (rolling + curve) * onto
    result = sp.simplify(total.subs(angle, sp.atan(grade)))
    return Derivation(
        traction.train_resistance,
        steps=[
            ("Grade along the track; rolling and curve go with what presses on it.", total),
            ("Rise over run is the tangent.", result),
        ],
        result=result,
        inside={"mass": (0.1, 3.0), **_TRACK},
    )


def adhesion_limit():
    """Wheels added up: each holds the coefficient's share of its own load."""
    load, adhesion = inputs("load", "adhesion")
    share, wheels = sp.symbols("i n", integer=True, positive=True)
    each = adhesion * load / wheels
    total = sp.summation(each, (share, 1, wheels))
    return Derivation(
        traction.adhesion_limit,
        steps=[
            ("Each of n coupled wheels holds its share.", each),
            ("Added up, however many there are.", total),
        ],
        result=total,
        inside={"load": (0.0, 10.0), "adhesion": (0.1, 0.3)},
    )


def _power():
    """Power at the rim against power at the motor."""
    torque, force, ratio, efficiency, diameter = inputs(
        "torque", "force", "gear_ratio", "efficiency", "wheel_diameter"
    )
    speed = sp.Symbol("speed", positive=True)
    rim = speed / ratio * diameter / 2
    return sp.Eq(force * rim, efficiency * torque * speed), rim, torque, force


def tractive_force():
    """What the mesh lets through, over the speed of the rim."""
    balance, rim, _, force = _power()
    return Derivation(
        traction.tractive_force,
        steps=[
            ("Speed of the rim for a speed of the motor.", rim),
            ("Power at the rim is what the drive lets through.", balance),
        ],
        result=sp.solve(balance, force)[0],
        inside={"torque": (0.0, 0.005), **_DRIVE},
    )


def torque_for_pull():
    """The same balance, solved for the torque."""
    balance, rim, torque, _ = _power()
    return Derivation(
        traction.torque_for_pull,
        steps=[
            ("Speed of the rim for a speed of the motor.", rim),
            ("Power at the rim is what the drive lets through.", balance),
        ],
        result=sp.solve(balance, torque)[0],
        inside={"force": (0.0, 2.0), **_DRIVE},
    )


def cars_up_grade():
    """Whole cars only."""
    return Empirical(
        traction.cars_up_grade,
        whose="a counting rule: pull less the engine's own resistance, in whole cars",
        inside={
            "force": (0.3, 2.0),
            "engine_mass": (0.2, 1.0),
            "car_mass": (0.05, 0.3),
            **_TRACK,
        },
    )


def stopping_distance():
    """Kinetic energy against the friction of the drivers."""
    speed, adhesion, mass, on_drivers = inputs("model_speed", "adhesion", "mass", "mass_on_drivers")
    distance = sp.Symbol("distance", positive=True)
    energy = mass * speed**2 / 2
    friction = adhesion * on_drivers * _GRAVITY
    balance = sp.Eq(energy, friction * distance)
    return Derivation(
        traction.stopping_distance,
        steps=[
            ("Energy of motion of the whole train.", energy),
            ("Only the drivers brake.", friction),
            ("The friction eats the energy over the distance.", balance),
        ],
        result=sp.solve(balance, distance)[0],
        inside={
            "model_speed": (0.0, 1.0),
            "adhesion": (0.1, 0.3),
            "mass": (0.5, 2.0),
            "mass_on_drivers": (0.1, 0.5),
        },
    )


def driver_speed():
    """The rim runs as fast as the rail."""
    speed, diameter = inputs("model_speed", "wheel_diameter")
    turning = sp.Symbol("speed", positive=True)
    rolling = sp.Eq(speed, turning * diameter / 2)
    return Derivation(
        traction.driver_speed,
        steps=[
            ("Rolling: the rim runs as fast as the rail.", rolling),
            ("Solved for the turning.", sp.Eq(turning, sp.solve(rolling, turning)[0])),
        ],
        result=sp.solve(rolling, turning)[0],
        inside={"model_speed": (0.0, 2.0), "wheel_diameter": (0.008, 0.045)},
    )
