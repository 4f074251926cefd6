"""Bearing formulas, derived; fits, with whose they are."""

import sympy as sp

from mechkit import bearings
from mechkit.derivations import Derivation, Empirical, inputs


def rating_life():
    """A fit to endurance tests."""
    return Empirical(
        bearings.rating_life,
        whose="Lundberg and Palmgren's fit to endurance tests, agreed in ISO 281.",
        inside={"dynamic_rating": (50.0, 1000.0), "load": (1.0, 40.0), "exponent": [3.0, 10 / 3]},
    )


def life_time():
    """Turns counted at steady speed."""
    life, speed = inputs("life", "speed")
    t, theta = sp.Symbol("t", positive=True), sp.Function("theta")
    turning = sp.dsolve(sp.Eq(theta(t).diff(t), speed), theta(t), ics={theta(0): 0})
    done = sp.Eq(turning.rhs, 2 * sp.pi * life)
    return Derivation(
        bearings.life_time,
        steps=[
            ("At steady speed the angle grows with time.", turning),
            ("The life is over after so many full turns.", done),
        ],
        result=sp.solve(done, t)[0],
        inside={"life": (1e6, 1e12), "speed": (10.0, 2000.0)},
    )


def needed_rating():
    """The life law solved for the rating."""
    life, load, exponent, rating = inputs("life", "load", "exponent", "dynamic_rating")
    law = sp.Eq(life, 10**6 * (rating / load) ** exponent)
    ratio = sp.Symbol("q", positive=True)
    root = sp.solve(sp.Eq(life, 10**6 * ratio**exponent), ratio)[0]
    return Derivation(
        bearings.needed_rating,
        steps=[
            ("The life law, fitted to tests (ISO 281).", law),
            ("Solved for the rating in multiples of the load.", root),
        ],
        result=load * root,
        inside={"life": (1e6, 1e12), "load": (0.5, 50.0), "exponent": (3.0, 3.4)},
    )


def equivalent_load():
    """A rule with factors from tests."""
    return Empirical(
        bearings.equivalent_load,
        whose="the combination rule of ISO 281, its factors fitted to contact of ball and race.",
        inside={
            "radial_load": (0.0, 20.0),
            "axial_load": (0.0, 20.0),
            "radial_factor": [1.0, 0.56],
            "axial_factor": (0.0, 2.3),
        },
    )


def friction_torque():
    """Friction at the shaft's surface."""
    mu, load, d = inputs("friction", "load", "diameter")
    angle = sp.Symbol("phi", positive=True)
    rubbing = mu * load
    work = sp.Integral(rubbing * d / 2, (angle, 0, 2 * sp.pi))
    return Derivation(
        bearings.friction_torque,
        steps=[
            ("Friction at the shaft's surface.", rubbing),
            ("Its work in one turn of the shaft.", work),
            ("Torque is work per angle turned.", work.doit() / (2 * sp.pi)),
        ],
        result=work.doit() / (2 * sp.pi),
        inside={"friction": (0.001, 0.3), "load": (0.1, 30.0), "diameter": (0.001, 0.01)},
    )


def thrust_torque():
    """Thin rings of a flat face."""
    mu, load, outer, bore = inputs("friction", "load", "outer", "bore")
    r = sp.Symbol("r", positive=True)
    pressure = load / (sp.pi * (outer**2 - bore**2) / 4)
    ring = mu * pressure * 2 * sp.pi * r * r
    total = sp.Integral(ring, (r, bore / 2, outer / 2))
    return Derivation(
        bearings.thrust_torque,
        steps=[
            ("The thrust, spread evenly over the face.", pressure),
            ("Friction on a thin ring, times its radius.", ring),
            ("All rings from the bore to the rim.", total),
        ],
        result=total.doit(),
        inside={
            "friction": (0.01, 0.3),
            "load": (0.1, 30.0),
            "outer": (0.003, 0.01),
            "bore": (0.0005, 0.0025),
        },
        tolerance=1e-11,
    )


def viscous_torque():
    """A fit to friction tests."""
    return Empirical(
        bearings.viscous_torque,
        whose="Palmgren's fit to measured drag, as Harris, Rolling Bearing Analysis, gives it.",
        inside={
            "viscosity": (10e-6, 200e-6),
            "speed": (1.0, 1500.0),
            "pitch_circle": (0.002, 0.02),
            "lubrication_factor": (0.7, 2.0),
        },
        scales=False,
    )


def pressure_velocity():
    """Projected pressure times the speed of the shaft's surface."""
    load, length, speed = inputs("load", "length", "speed")
    d = sp.Symbol("diameter", positive=True)
    pressure, rubbing = load / (d * length), speed * d / 2
    return Derivation(
        bearings.pressure_velocity,
        steps=[
            ("The load on the bearing's projected area.", pressure),
            ("The speed of the shaft's surface.", rubbing),
            ("Their product: the diameter drops out.", sp.simplify(pressure * rubbing)),
        ],
        result=sp.simplify(pressure * rubbing),
        inside={"load": (0.1, 30.0), "length": (0.001, 0.02), "speed": (1.0, 2000.0)},
    )


def end_play_change():
    """What the housing gains less what the shaft gains."""
    length, shaft, housing = inputs("length", "shaft_expansion", "housing_expansion")
    shaft_rise, housing_rise = inputs("shaft_rise", "housing_rise")
    x = sp.Symbol("x", positive=True)
    housing_gain = sp.Integral(housing * housing_rise, (x, 0, length))
    shaft_gain = sp.Integral(shaft * shaft_rise, (x, 0, length))
    change = sp.factor(housing_gain.doit() - shaft_gain.doit())
    return Derivation(
        bearings.end_play_change,
        steps=[
            ("The housing grows between its thrust faces by:", housing_gain),
            ("The shaft between the same faces by:", shaft_gain),
            ("The play gains the difference.", change),
        ],
        result=change,
        inside={
            "length": (0.005, 0.1),
            "shaft_expansion": (4e-6, 18e-6),
            "shaft_rise": (-20.0, 100.0),
            "housing_expansion": (10e-6, 110e-6),
            "housing_rise": (-20.0, 60.0),
        },
        tolerance=1e-9,
    )
