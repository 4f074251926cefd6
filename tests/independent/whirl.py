"""Critical speeds from the lowest eigenvalue of a beam of finite elements (scikit-fem).

The shaft's own mass is kept, but made so small that it does not count; the disc is a mass at
one node.  Neither a deflection formula nor a stiffness is put in.
"""

from math import pi

import numpy as np
from scipy.linalg import eigh
from skfem import Basis, BilinearForm, ElementLineHermite, MeshLine


@BilinearForm
def _bending(u, v, _):
    return u.hess[0, 0] * v.hess[0, 0]


@BilinearForm
def _inertia(u, v, _):
    return u * v


def _lowest(places, held, tilted, mass, shaft_diameter, elastic_modulus):
    """Lowest natural speed of a shaft with a mass at its last node [rad/s]."""
    basis = Basis(MeshLine(places), ElementLineHermite())
    deflection, slope = basis.nodal_dofs
    stiffness = elastic_modulus * pi * shaft_diameter**4 / 64 * _bending.assemble(basis).toarray()
    inertia = 1e-9 * mass / places[-1] * _inertia.assemble(basis).toarray()
    order = np.argsort(basis.mesh.p[0])
    inertia[deflection[order[-1]], deflection[order[-1]]] += mass
    fixed = [deflection[order[n]] for n in held] + [slope[order[n]] for n in tilted]
    free = np.setdiff1d(np.arange(basis.N), fixed)
    inside = np.ix_(free, free)
    # The slowest swing is the largest of the inverted problem, so that its digits are safe:
    # next to no mass away from the disc makes the other speeds immense.
    return 1 / float(np.sqrt(eigh(inertia[inside], stiffness[inside], eigvals_only=True)[-1]))


def overhung_critical_speed(*, mass, overhang, shaft_diameter, elastic_modulus):
    """Shaft held so that it can neither move nor tilt at the bearing."""
    places = np.linspace(0, overhang, 9)
    return _lowest(places, [0], [0], mass, shaft_diameter, elastic_modulus)


def critical_speed(*, mass, overhang, span, shaft_diameter, elastic_modulus):
    """Shaft held in two bearings that let it tilt."""
    places = np.concatenate([np.linspace(0, span, 9), span + np.linspace(0, overhang, 9)[1:]])
    return _lowest(places, [0, 8], [], mass, shaft_diameter, elastic_modulus)
