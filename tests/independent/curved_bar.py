"""Stress in the wire of a close-coiled spring, from elasticity (scikit-fem).

A sector of a ring of round wire, loaded along the coil's axis, has two shear stresses only.
Göhner's stress function phi meets div(grad(phi) / r^3) = -2 / r^3 over the section and is 0
at the skin (Timoshenko and Goodier, Theory of Elasticity, torsion of a ring sector); both
stresses are its slopes over r^2.  No fit for curvature or direct shear enters.
"""

import numpy as np
from skfem import (
    Basis,
    BilinearForm,
    ElementTriP2,
    FacetBasis,
    LinearForm,
    MeshTri2,
    condense,
    solve,
)
from skfem.helpers import dot, grad


def coil_factor(*, wire_diameter, mean_diameter):
    """Greatest shear stress over that of a straight wire under the same torque [-]."""
    radius = mean_diameter / wire_diameter  # in wire radii
    mesh = MeshTri2.init_circle(5).translated((radius, 0.0))
    basis = Basis(mesh, ElementTriP2(), intorder=6)

    @BilinearForm
    def stiffness(u, v, w):
        return dot(grad(u), grad(v)) / w.x[0] ** 3

    @LinearForm
    def load(v, w):
        return 2 * v / w.x[0] ** 3

    phi = solve(*condense(stiffness.assemble(basis), load.assemble(basis), D=basis.get_dofs()))
    slope = grad(basis.interpolate(phi))[0]
    force = abs(np.sum(slope / basis.global_coordinates()[0] ** 2 * basis.dx))
    skin = FacetBasis(mesh, ElementTriP2(), intorder=6)
    slopes = grad(skin.interpolate(phi))
    stress = np.hypot(slopes[0], slopes[1]) / skin.global_coordinates()[0] ** 2
    return stress.max() / (2 * force * radius / np.pi)
