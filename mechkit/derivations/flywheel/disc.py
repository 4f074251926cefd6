"""What the two turning discs, with and without a bore, share."""

from functools import cache

import sympy as sp


@cache
def balance(density, poisson, speed):
    """Force balance of a ring element of a turning disc, its solution, and the radius.

    Modulus taken as one: stresses do not depend on it.
    """
    r = sp.Symbol("r", positive=True)
    displacement = sp.Function("u")
    radial, hoop = stresses(displacement(r), r, poisson)
    forces = r * radial.diff(r) + radial - hoop + density * speed**2 * r**2
    equation = sp.Eq(sp.simplify(forces * (1 - poisson**2) / r), 0)
    return equation, sp.dsolve(equation, displacement(r)), r


def stresses(displacement, r, poisson):
    """Radial and hoop stress of plane stress, modulus one, from the displacement."""
    stretch, hoop = displacement.diff(r), displacement / r
    factor = 1 / (1 - poisson**2)
    return factor * (stretch + poisson * hoop), factor * (hoop + poisson * stretch)
