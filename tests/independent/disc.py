"""Turning discs by finite elements along the radius (scikit-fem): plane stress, in radii."""

import numpy as np
from skfem import Basis, BilinearForm, ElementLineP2, LinearForm, MeshLine, condense, solve
from skfem.helpers import grad


def _hoop_stress(bore, outer, density, poisson, speed):
    """Hoop stress nearest the axis [Pa]; the radius is measured in outside radii."""
    rigid = 1 / (1 - poisson**2)

    @BilinearForm
    def energy(u, v, w):
        r = w.x[0]
        radial, hoop = grad(u)[0], u / r
        return (
            rigid * r * ((radial + poisson * hoop) * grad(v)[0] + (hoop + poisson * radial) * v / r)
        )

    @LinearForm
    def spin(v, w):
        return w.x[0] ** 2 * v

    start = bore / outer
    mesh = MeshLine.init_tensor(start + (1 - start) * _graded(400))
    basis = Basis(mesh, ElementLineP2(), intorder=6)
    matrix, load = energy.assemble(basis), spin.assemble(basis)
    if bore == 0:
        center = basis.get_dofs(lambda x: x[0] == 0.0)
        field = solve(*condense(matrix, load, D=center))
    else:
        field = solve(matrix, load)
    inner = Basis(mesh, ElementLineP2(), quadrature=(np.zeros((1, 1)), np.ones(1)))
    shape = inner.interpolate(field)
    radii = np.asarray(inner.global_coordinates())[0]
    first = radii.argmin()
    radial = shape.grad[0].ravel()[first]
    hoop = radial if bore == 0 else np.asarray(shape).ravel()[first] / radii.ravel()[first]
    return density * (speed * outer / 2) ** 2 * rigid * (hoop + poisson * radial)


def _graded(count):
    """Steps that get finer toward the inside."""
    return np.linspace(0, 1, count + 1) ** 2


def disc_stress(*, outer, density, poisson, speed):
    """Hoop stress at the center of a disc without a bore [Pa]."""
    return float(_hoop_stress(0.0, outer, density, poisson, speed))


def bored_disc_stress(*, outer, bore, density, poisson, speed):
    """Hoop stress at the bore [Pa]."""
    return float(_hoop_stress(bore, outer, density, poisson, speed))
