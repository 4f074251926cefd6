"""A waved washer as a flat ring plate pressed along radial lines (Morley elements, scikit-fem)."""

import numpy as np
from skfem import Basis, BilinearForm, ElementTriMorley, MeshTri, condense, solve
from skfem.helpers import dd, ddot, eye, trace


def _ring(inner, outer, around, across):
    """A structured mesh of a flat ring."""
    angles = 2 * np.pi * np.arange(around) / around
    radii = np.linspace(inner, outer, across + 1)
    points = np.array([(r * np.cos(a), r * np.sin(a)) for a in angles for r in radii]).T
    cells = []
    for i in range(around):
        here, there = i * (across + 1), (i + 1) % around * (across + 1)
        for j in range(across):
            a, b, c, d = here + j, here + j + 1, there + j, there + j + 1
            cells += [(a, b, d), (a, d, c)] if (i + j) % 2 else [(a, b, c), (b, d, c)]
    return MeshTri(np.ascontiguousarray(points), np.ascontiguousarray(np.array(cells).T))


def waved_washer_rate(
    *, elastic_modulus, width, thickness, mean_diameter, waves, poisson=0.3, across=10, **_
):
    """Rate [N/m] of a flat ring pressed on its crests against its troughs, evenly across."""
    waves, around = int(waves), int(waves) * 60
    # in units of the mean diameter and of E t^3, so that numbers stay near 1
    half = width / mean_diameter / 2
    basis = Basis(_ring(0.5 - half, 0.5 + half, around, across), ElementTriMorley())

    @BilinearForm
    def bending(u, v, w):
        curved = dd(u)
        moment = (1 - poisson) * curved + poisson * eye(trace(curved), 2)
        return ddot(moment, dd(v)) / (12 * (1 - poisson**2))

    matrix = bending.assemble(basis)
    load = np.zeros(basis.N)
    lines = {}
    for sign, start in ((1, 0), (-1, around // waves // 2)):
        nodes = [
            (start + wave * around // waves) * (across + 1) + j
            for wave in range(waves)
            for j in range(across + 1)
        ]
        weights = np.tile(np.array([0.5] + [1.0] * (across - 1) + [0.5]) / across, waves) / waves
        lines[sign] = (basis.nodal_dofs[0, nodes], weights)
        load[lines[sign][0]] += sign * weights
    # the load balances itself: any three rises may be held
    held = basis.nodal_dofs[0, [0, around // 3 * (across + 1), 2 * around // 3 * (across + 1)]]
    rise = solve(*condense(matrix, load, D=held))
    deflection = sum(sign * rise[dofs] @ weights for sign, (dofs, weights) in lines.items())
    return elastic_modulus * thickness**3 / mean_diameter**2 / deflection
