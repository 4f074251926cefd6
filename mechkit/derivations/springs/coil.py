"""Spring formulas, derived."""

import sympy as sp

from mechkit import springs
from mechkit.derivations import Derivation, Empirical, inputs

_COIL = {"wire_diameter": (0.0001, 0.0008), "mean_diameter": (0.001, 0.006)}
_STEEL = (70e9, 83e9)


def spring_index():
    """A definition."""
    return Empirical(
        springs.spring_index,
        whose="the definition of the trade; every stress correction is written with it.",
        inside=_COIL,
    )


def wahl_factor():
    """Wahl's fit."""
    return Empirical(
        springs.wahl_factor,
        whose="A. M. Wahl, who fitted the exact solution of a curved bar in torsion with a "
        "curvature term and added 0.615 over the index for the direct shear (1929).",
        inside=_COIL,
    )


def bergstraesser_factor():
    """Bergsträsser's fit."""
    return Empirical(
        springs.bergstraesser_factor,
        whose="M. Bergsträsser, who fitted curvature and direct shear in one fraction (1933).",
        inside=_COIL,
    )


def _twisting_wire():
    """The torque in the wire and its polar second moment of area."""
    wire_diameter, mean_diameter = inputs("wire_diameter", "mean_diameter")
    force, r = sp.Symbol("force", positive=True), sp.Symbol("r", positive=True)
    torque = force * mean_diameter / 2
    polar = sp.integrate(2 * sp.pi * r * r**2, (r, 0, wire_diameter / 2))
    return force, torque, polar


def coil_spring_rate():
    """The energy of the twisted wire; Castigliano's theorem gives the deflection."""
    mean_diameter, active_coils, shear_modulus = inputs(
        "mean_diameter", "active_coils", "shear_modulus"
    )
    force, torque, polar = _twisting_wire()
    s = sp.Symbol("s", positive=True)
    length = sp.pi * mean_diameter * active_coils
    energy = sp.integrate(torque**2 / (2 * shear_modulus * polar), (s, 0, length))
    deflection = sp.diff(energy, force)
    return Derivation(
        springs.coil_spring_rate,
        steps=[
            ("The force pulls at the arm of half a coil diameter and twists the wire.", torque),
            ("A round wire resists twist by its polar second moment of area.", polar),
            ("Twisting all the active coils stores this energy.", energy),
            ("The deflection is how fast the energy grows with the force.", deflection),
            ("The rate is force over deflection.", force / deflection),
        ],
        result=sp.simplify(force / deflection),
        inside={**_COIL, "active_coils": (3.0, 12.0), "shear_modulus": _STEEL},
    )


def active_coils_for_rate():
    """The rate, solved for the coils."""
    rate, active_coils = inputs("rate", "active_coils")
    formula = sp.Eq(rate, coil_spring_rate().result)
    (coils,) = sp.solve(formula, active_coils)
    return Derivation(
        springs.active_coils_for_rate,
        steps=[
            ("The rate of a coil spring.", formula),
            ("Solved for the number of active coils.", sp.Eq(active_coils, coils)),
        ],
        result=coils,
        inside={**_COIL, "rate": (50.0, 2000.0), "shear_modulus": _STEEL},
    )


def coil_shear_stress():
    """Twist of a straight wire, then the fit for curvature and direct shear."""
    wire_diameter, mean_diameter = inputs("wire_diameter", "mean_diameter")
    _, torque, polar = _twisting_wire()
    straight = sp.simplify(torque * (wire_diameter / 2) / polar)
    index = mean_diameter / wire_diameter
    factor = (4 * index + 2) / (4 * index - 3)
    return Derivation(
        springs.coil_shear_stress,
        steps=[
            ("The force twists the wire with this torque.", torque),
            ("A straight wire is stressed most at its skin.", straight),
            ("A coil is stressed more at its inside: Bergsträsser's fit.", factor),
            ("Both together.", factor * straight),
        ],
        result=factor * straight,
        inside={"force": (0.05, 2.0), **_COIL},
    )


def force_at_stress():
    """The stress, solved for the force."""
    force, stress = inputs("force", "stress")
    formula = sp.Eq(stress, coil_shear_stress().result)
    (solved,) = sp.solve(formula, force)
    return Derivation(
        springs.force_at_stress,
        steps=[
            ("The shear stress in a coil spring.", formula),
            ("Solved for the force.", sp.Eq(force, solved)),
        ],
        result=solved,
        inside={"stress": (1e8, 1.3e9), **_COIL},
    )


def deflection():
    """Hooke's law."""
    force, rate = inputs("force", "rate")
    x = sp.Symbol("x", positive=True)
    law = sp.Eq(rate * x, force)
    (solved,) = sp.solve(law, x)
    return Derivation(
        springs.deflection,
        steps=[
            ("A spring answers in proportion to its compression.", law),
            ("Solved for the compression.", sp.Eq(x, solved)),
        ],
        result=solved,
        inside={"force": (0.05, 2.0), "rate": (50.0, 2000.0)},
    )


def solid_length():
    """A counting rule."""
    return Empirical(
        springs.solid_length,
        whose="a counting rule: coils lie wire on wire, ends squared and ground.",
        inside={"wire_diameter": (0.0001, 0.0008), "total_coils": (4.0, 14.0)},
    )


def critical_free_length():
    """A spring is a column that grows shorter and softer as it is loaded."""
    mean_diameter, end_condition, elastic_modulus, shear_modulus = inputs(
        "mean_diameter", "end_condition", "elastic_modulus", "shear_modulus"
    )
    n, second, x = sp.symbols("n I xi", positive=True)
    length = sp.Symbol("L_0", positive=True)
    radius = mean_diameter / 2
    # of the spring spread over its free length: bending, shear and compression
    per_coil = second * length / (sp.pi * n * radius)
    bending = per_coil * 2 * elastic_modulus * shear_modulus / (elastic_modulus + 2 * shear_modulus)
    shear = per_coil * elastic_modulus / radius**2
    compression = per_coil * shear_modulus / radius**2
    force = compression * x
    squeezed = end_condition * length * (1 - x)
    column = sp.Eq(
        force * (1 + force / (shear * (1 - x))), sp.pi**2 * bending * (1 - x) / squeezed**2
    )
    quadratic = sp.simplify((column.lhs - column.rhs) * (1 - x) / compression)
    quadratic = sp.collect(sp.expand(quadratic), x, sp.factor)
    roots = sp.factor(sp.discriminant(quadratic, x))
    (critical,) = [
        root
        for root in sp.solve(roots, length)
        if root.subs(elastic_modulus, 3 * shear_modulus) > 0
    ]
    return Derivation(
        springs.critical_free_length,
        steps=[
            ("Sideways, the coils bend and twist in turn: bending stiffness.", bending),
            ("They give to shear as well.", shear),
            ("And they shorten under the force.", force),
            (
                "Euler's column with shear, its length and stiffness shrinking as it is loaded.",
                column,
            ),
            ("A quadratic equation for the compression at which it buckles.", sp.Eq(quadratic, 0)),
            ("It has no root, and the spring never buckles, while this is below 0.", roots),
            ("The longest such spring.", sp.Eq(length, critical)),
        ],
        result=critical,
        inside={
            "mean_diameter": (0.001, 0.006),
            "elastic_modulus": (100e9, 210e9),
            "shear_modulus": (40e9, 83e9),
            "end_condition": (0.5, 2.0),
        },
    )
