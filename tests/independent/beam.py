"""Shafts bent by bearings out of line: beam finite elements (scikit-fem, Hermite cubics)."""

from itertools import pairwise
from math import pi

import numpy as np
from scipy.sparse.linalg import spsolve
from skfem import Basis, BilinearForm, ElementLineHermite, MeshLine


@BilinearForm
def _bending(u, v, w):
    return u.hess[0, 0] * v.hess[0, 0]


def _reactions(places, travels, shaft_diameter, elastic_modulus, firm_start=False):
    """Forces that hold the shaft at given sideways travels."""
    places, travels = np.asarray(places, float), np.asarray(travels, float)
    between = [np.linspace(p, q, 6)[:-1] for p, q in pairwise(places)]
    mesh = MeshLine(np.concatenate([*between, places[-1:]]))
    basis = Basis(mesh, ElementLineHermite())
    stiffness = elastic_modulus * pi * shaft_diameter**4 / 64 * _bending.assemble(basis)
    nodes = [int(np.argmin(abs(mesh.p[0] - place))) for place in places]
    deflection, slope = basis.nodal_dofs
    held, values = list(deflection[nodes]), list(travels)
    if firm_start:
        held, values = [*held, slope[nodes[0]]], [*values, 0.0]
    curve = np.zeros(basis.N)
    curve[held] = values
    free = np.setdiff1d(np.arange(basis.N), held)
    curve[free] = spsolve(stiffness[free][:, free].tocsc(), -(stiffness @ curve)[free])
    return (stiffness @ curve)[deflection[nodes]]


def shaft_rate(*, span, shaft_diameter, elastic_modulus):
    """Force for a meter of travel at the end, to first order [N/m]."""
    return _reactions([0, span], [0, 1], shaft_diameter, elastic_modulus, firm_start=True)[1]


def side_load(*, offset, span, shaft_diameter, elastic_modulus):
    """Side load of a shaft held firmly at one end [N]."""
    return _reactions([0, span], [0, offset], shaft_diameter, elastic_modulus, firm_start=True)[1]


def third_bearing_load(*, offset, bearing_span, span, shaft_diameter, elastic_modulus):
    """Side load in the third of three bearings [N]."""
    places = [0, bearing_span, bearing_span + span]
    return _reactions(places, [0, 0, offset], shaft_diameter, elastic_modulus)[2]


def bearing_loads(*, positions, offsets, shaft_diameter, elastic_modulus):
    """Forces of all bearings on the shaft [N]."""
    return _reactions(positions, offsets, shaft_diameter, elastic_modulus)


def friction_torque(*, friction, offset, bearing_span, span, shaft_diameter, elastic_modulus):
    """Friction of all three bearings at the shaft's surface [N*m]."""
    places = [0, bearing_span, bearing_span + span]
    loads = _reactions(places, [0, 0, offset], shaft_diameter, elastic_modulus)
    return friction * np.abs(loads).sum() * shaft_diameter / 2
