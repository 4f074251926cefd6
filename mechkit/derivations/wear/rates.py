"""Wear formulas, derived."""

import sympy as sp

from mechkit import wear
from mechkit.derivations import Derivation, inputs

RATE = (1e-16, 1e-11)


def wear_rate_from_archard():
    """Volume after Archard over force and distance."""
    coefficient, hardness = inputs("archard_coefficient", "hardness")
    force, distance = sp.symbols("force sliding_distance", positive=True)
    area = force / hardness
    volume = coefficient * area * distance
    return Derivation(
        wear.wear_rate_from_archard,
        steps=[
            ("The peaks yield until they carry the load: the true area of contact.", area),
            ("Of what slides over it, the coefficient's share comes off.", volume),
            ("A newton over a meter.", volume / (force * distance)),
        ],
        result=volume / (force * distance),
        inside={"archard_coefficient": (1e-8, 1e-1), "hardness": (1e8, 8e9)},
    )


def wear_rate_from_rabinowicz():
    """Half-ball particles, one in so many touching spots."""
    coefficient, hardness = inputs("rabinowicz_coefficient", "hardness")
    force, distance, radius = sp.symbols("force sliding_distance a", positive=True)
    spots = force / (hardness * sp.pi * radius**2)
    particle = sp.Rational(2, 3) * sp.pi * radius**3
    volume = coefficient * spots * particle * distance / (2 * radius)
    return Derivation(
        wear.wear_rate_from_rabinowicz,
        steps=[
            ("Round spots of radius a carry the load.", spots),
            ("A loose particle is half a ball: here the three comes from.", particle),
            ("Each spot is gone and new after its own width.", volume),
            ("A newton over a meter.", volume / (force * distance)),
        ],
        result=volume / (force * distance),
        inside={"rabinowicz_coefficient": (1e-8, 1e-1), "hardness": (1e8, 8e9)},
    )


def wear_volume():
    """Constant rate, added up over the way."""
    rate, force, distance = inputs("wear_rate", "force", "sliding_distance")
    each = rate * force
    total = sp.integrate(each, (sp.Symbol("x", positive=True), 0, distance))
    return Derivation(
        wear.wear_volume,
        steps=[
            ("Volume lost for each meter.", each),
            ("Added up over the way.", total),
        ],
        result=total,
        inside={"wear_rate": RATE, "force": (0.0, 10.0), "sliding_distance": (0.0, 1e6)},
    )


def wear_depth():
    """A small patch: its volume over its area."""
    rate, pressure, distance = inputs("wear_rate", "pressure", "sliding_distance")
    area = sp.Symbol("A", positive=True)
    volume = rate * pressure * area * distance
    return Derivation(
        wear.wear_depth,
        steps=[
            ("Volume lost by a small patch that carries pressure times area.", volume),
            ("Spread over the same patch.", volume / area),
        ],
        result=volume / area,
        inside={"wear_rate": RATE, "pressure": (0.0, 5e7), "sliding_distance": (0.0, 1e6)},
    )


def pressure_speed():
    """Heat of friction on each area, but for the coefficient."""
    pressure, speed = inputs("pressure", "sliding_speed")
    area, friction = sp.symbols("A mu", positive=True)
    heat = friction * pressure * area * speed
    return Derivation(
        wear.pressure_speed,
        steps=[
            ("Heat of friction on an area.", heat),
            ("Per area and coefficient: what the limit is set on.", heat / (area * friction)),
        ],
        result=heat / (area * friction),
        inside={"pressure": (0.0, 5e7), "sliding_speed": (0.0, 5.0)},
    )


def relative_life():
    """Distances to the same volume under the same force."""
    first, second = inputs("wear_rate_1", "wear_rate_2")
    volume, force = sp.symbols("V F", positive=True)
    lives = [volume / (rate * force) for rate in (first, second)]
    return Derivation(
        wear.relative_life,
        steps=[
            ("Distance until the first pair has lost a volume.", lives[0]),
            ("The second.", lives[1]),
            ("Volume and force drop out.", lives[0] / lives[1]),
        ],
        result=lives[0] / lives[1],
        inside={"wear_rate_1": RATE, "wear_rate_2": RATE},
    )
