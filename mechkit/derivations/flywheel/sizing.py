"""Sizing formulas, derived."""

import sympy as sp

from mechkit import flywheel
from mechkit.derivations import Derivation, Empirical, inputs
from mechkit.derivations.flywheel import disc, wheel

_RAIL = {"gear_ratio": (10.0, 60.0), "wheel_diameter": (0.008, 0.045)}


def inertia_to_coast():
    """The coasting angle is proportional to the inertia."""
    coast = wheel.coast_angle().result
    angle, inertia = inputs("angle", "inertia")
    wanted = sp.Eq(angle, coast)
    result = sp.simplify(sp.solve(wanted, inertia)[0])
    return Derivation(
        flywheel.inertia_to_coast,
        steps=[
            ("The angle of coasting, as derived for the flywheel.", wanted),
            ("Solved for the inertia.", sp.Eq(inertia, result)),
        ],
        result=result,
        inside={"angle": (10.0, 3000.0), **wheel.COASTING},
        tolerance=1e-9,
    )


def width_for_inertia():
    """The inertia of a disc is proportional to its width."""
    disc = wheel.ring_inertia().result
    inertia, width = inputs("inertia", "width")
    wanted = sp.Eq(inertia, disc)
    result = sp.solve(wanted, width)[0]
    return Derivation(
        flywheel.width_for_inertia,
        steps=[
            ("The inertia of a bored disc.", wanted),
            ("Solved for the width.", sp.Eq(width, result)),
        ],
        result=result,
        inside={
            "inertia": (1e-8, 5e-6),
            "outer": (0.008, 0.040),
            "density": (1000.0, 19000.0),
            "bore": (0.001, 0.006),
        },
    )


def stepped_inertia():
    """Rings on one axis add up."""

    def steps(low, high):
        return lambda random, count: random.uniform(low, high, (count, 3))

    return Empirical(
        flywheel.stepped_inertia,
        whose="rings on one axis add up; each ring is derived as ring_inertia",
        inside={
            "outers": steps(0.008, 0.040),
            "widths": steps(0.002, 0.020),
            "density": (1000.0, 19000.0),
            "bore": (0.001, 0.006),
        },
    )


def bored_disc_stress():
    """Equilibrium and compatibility of a turning disc, no pressure at either edge."""
    outer, bore, density, poisson, speed = inputs("outer", "bore", "density", "poisson", "speed")
    equation, general, r = disc.balance(density, poisson, speed)
    inner_constant, outer_constant = sp.symbols("C1 C2")
    radial, hoop = disc.stresses(general.rhs, r, poisson)
    edges = sp.solve(
        [radial.subs(r, bore / 2), radial.subs(r, outer / 2)],
        [inner_constant, outer_constant],
        dict=True,
    )[0]
    result = sp.factor(sp.simplify(hoop.subs(edges).subs(r, bore / 2)))
    return Derivation(
        flywheel.bored_disc_stress,
        steps=[
            ("Forces on a ring element, with the strains of one displacement.", equation),
            ("Its general solution.", general),
            (
                "Both edges carry no radial stress: the two constants.",
                sp.Matrix([edges[inner_constant], edges[outer_constant]]),
            ),
            ("Hoop stress at the bore, over the modulus taken as one.", result),
        ],
        result=result,
        inside={
            "outer": (0.010, 0.040),
            "bore": (0.001, 0.006),
            "density": (1000.0, 19000.0),
            "poisson": (0.2, 0.4),
            "speed": (100.0, 3000.0),
        },
        tolerance=1e-10,
    )


def stored_energy():
    """Work of speeding it up."""
    inertia, speed = inputs("inertia", "speed")
    each = inertia * sp.Symbol("w", positive=True)
    total = sp.integrate(each, (sp.Symbol("w", positive=True), 0, speed))
    return Derivation(
        flywheel.stored_energy,
        steps=[
            ("Work for one more radian a second: the angular momentum.", each),
            ("Added up from rest.", total),
        ],
        result=total,
        inside={"inertia": (1e-8, 5e-6), "speed": (0.0, 2000.0)},
    )


def reflected_inertia():
    """Equal kinetic energy at the rail and at the motor."""
    mass, ratio, diameter = inputs("mass", "gear_ratio", "wheel_diameter")
    inertia, speed = sp.symbols("inertia speed", positive=True)
    rail = speed / ratio * diameter / 2
    equal = sp.Eq(inertia * speed**2 / 2, mass * rail**2 / 2)
    return Derivation(
        flywheel.reflected_inertia,
        steps=[
            ("Speed at the rail for a speed of the motor.", rail),
            ("Equal energy.", equal),
        ],
        result=sp.solve(equal, inertia)[0],
        inside={"mass": (0.1, 3.0), **_RAIL},
    )


def coast_distance():
    """A wheel that rolls lays off its radius for each radian."""
    angle, ratio, diameter = inputs("angle", "gear_ratio", "wheel_diameter")
    wheel = angle / ratio
    return Derivation(
        flywheel.coast_distance,
        steps=[
            ("The drivers turn less than the motor by the ratio.", wheel),
            ("Rolling: radius times angle.", wheel * diameter / 2),
        ],
        result=wheel * diameter / 2,
        inside={"angle": (0.0, 3000.0), **_RAIL},
    )
