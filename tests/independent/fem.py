"""A hub pressed on a shaft by finite elements (scikit-fem): solid bodies of revolution.

Both parts obey the full law of elasticity; neither plane stress nor Lamé's formulas are
put in.  The surfaces stand apart by the interference; along the axis they slide without
friction, or stick.  Radii are counted in radii of the joint, forces for one radian of the
joint, and half the length is meshed: the other half is its mirror image.
"""

from functools import cache
from math import pi

import numpy as np
from scipy.sparse import block_diag, csc_matrix
from scipy.sparse.linalg import spsolve
from skfem import (
    Basis,
    BilinearForm,
    ElementQuad2,
    ElementVector,
    FacetBasis,
    LinearForm,
    MeshQuad,
)  # fmt: skip


def _strains(field, r):
    """Radial, axial, hoop and shear strain of a body of revolution."""
    (radial, shear_1), (shear_2, axial) = field.grad
    return radial, axial, field[0] / r, shear_1 + shear_2


def _stresses(strains, modulus, poisson):
    """Hooke's law: the normal stresses in the same order, then shear."""
    rigid = modulus / (1 + poisson)
    volume = rigid * poisson / (1 - 2 * poisson) * sum(strains[:3])
    return [volume + rigid * strain for strain in strains[:3]] + [rigid / 2 * strains[3]]


@BilinearForm
def _energy(u, v, w):
    stresses = _stresses(_strains(u, w.x[0]), w.modulus, w.poisson)
    return sum(s * e for s, e in zip(stresses, _strains(v, w.x[0]), strict=True)) * w.x[0]


def _part(inner, outer, heights, modulus, poisson):
    """Basis and stiffness of one part."""
    mesh = MeshQuad.init_tensor(np.linspace(inner, outer, 25), heights)
    basis = Basis(mesh, ElementVector(ElementQuad2()), intorder=5)
    return basis, _energy.assemble(basis, modulus=modulus, poisson=poisson)


def _at(basis, axis, place, direction):
    """Numbers of the unknown travels at one place: u^1 along the radius, u^2 the axis."""
    return basis.get_dofs(lambda x: np.isclose(x[axis], place)).all(direction)


def _joint(basis, direction, top):
    """Unknowns on the joint, from the middle to its end."""
    found = _at(basis, 0, 1.0, direction)
    height = basis.doflocs[1][found]
    order = np.argsort(height)
    return found[order][height[order] <= top * (1 + 1e-9)]


def _bore_stresses(basis, travel, metal):
    """Hoop, radial and axial stress at the bore, averaged along it."""
    bore = FacetBasis(
        basis.mesh, basis.elem,
        facets=basis.mesh.facets_satisfying(lambda x: np.isclose(x[0], basis.mesh.p[0].min())),
    )  # fmt: skip
    strains = _strains(bore.interpolate(travel), bore.global_coordinates()[0])
    radial, axial, hoop, _ = _stresses(strains, *metal)
    return [float(np.mean(stress)) for stress in (hoop, radial, axial)]


@cache
def press(bore, outer, interference, hub, shaft, *, top=1.0, overhang=0.0, stick=False):
    """Mean pressure in the joint; hoop, radial and axial stress at the bore of the hub."""
    along = np.linspace(0, top, 5)
    further = np.linspace(top, top + overhang, 5)[1:] if overhang else []
    inside, stiff_inside = _part(bore, 1.0, np.r_[along, further], *shaft)
    outside, stiff_outside = _part(1.0, outer, along, *hub)
    total = inside.N + outside.N
    leader, step = np.arange(total), np.zeros(total)
    for direction in ("u^1", "u^2") if stick else ("u^1",):
        leader[_joint(outside, direction, top) + inside.N] = _joint(inside, direction, top)
    on_hub = _joint(outside, "u^1", top)
    step[on_hub + inside.N] = interference / 2
    held = np.r_[_at(inside, 1, 0, "u^2"), _at(outside, 1, 0, "u^2") + inside.N]
    on_axis = _at(inside, 0, 0, "u^1") if bore == 0 else []
    followers = np.flatnonzero(leader != np.arange(total))
    free = np.setdiff1d(np.arange(total), np.r_[held, on_axis, followers].astype(int))
    follow = csc_matrix((np.ones(total), (np.arange(total), leader)), (total, total))[:, free]
    stiffness = block_diag([stiff_inside, stiff_outside], format="csc")
    travel = follow @ spsolve(follow.T @ stiffness @ follow, -follow.T @ (stiffness @ step)) + step
    hub_travel = travel[inside.N :]
    pressure = float((stiff_outside @ hub_travel)[on_hub].sum() / top)
    return pressure, _bore_stresses(outside, hub_travel, hub)


@cache
def _ring(outer, pressure, metal=(100e9, 0.3)):
    """Hoop, radial and axial stress at the bore of a ring under pressure; any metal."""
    basis, stiffness = _part(1.0, outer, np.linspace(0, 1, 3), *metal)
    on_bore, middle = _joint(basis, "u^1", 1.0), _at(basis, 1, 0, "u^2")
    push = np.zeros(basis.N)
    push[on_bore] = pressure / 2 * np.array([1, 4, 2, 4, 1]) / 6  # Simpson along two elements
    free = np.setdiff1d(np.arange(basis.N), middle)
    travel = np.zeros(basis.N)
    travel[free] = spsolve(stiffness[free][:, free].tocsc(), push[free])
    return _bore_stresses(basis, travel, metal)


def _mises(hoop, radial, axial):
    """Equivalent stress of three principal ones."""
    return np.sqrt(((hoop - radial) ** 2 + (radial - axial) ** 2 + (axial - hoop) ** 2) / 2)


def interference_pressure(
    *, diameter, hub_outer, diametral_interference,
    hub_modulus, hub_poisson, shaft_modulus, shaft_poisson, shaft_bore=0.0, **how,
):  # fmt: skip
    """Mean pressure in the joint [Pa]."""
    return press(
        shaft_bore / diameter, hub_outer / diameter, 2 * diametral_interference / diameter,
        (hub_modulus, hub_poisson), (shaft_modulus, shaft_poisson), **how,
    )[0]  # fmt: skip


def hub_hoop_stress(*, pressure, diameter, hub_outer):
    """Hoop stress at the bore of the hub [Pa]."""
    return _ring(hub_outer / diameter, pressure)[0]


def hub_von_mises_stress(*, pressure, diameter, hub_outer):
    """Equivalent stress at the bore of the hub [Pa]."""
    return _mises(*_ring(hub_outer / diameter, pressure))


def interference_for_torque(*, torque, length, friction, diameter, **joint):
    """Interference whose pressure, rubbing all around, holds the torque [m]."""
    one_micrometer = interference_pressure(diameter=diameter, diametral_interference=1e-6, **joint)
    grip = friction * one_micrometer * (pi * diameter * length) * (diameter / 2)
    return 1e-6 * torque / grip


def yield_interference(
    *, yield_strength, diameter, hub_outer,
    hub_modulus, hub_poisson, shaft_modulus, shaft_poisson, shaft_bore=0.0,
):  # fmt: skip
    """Interference at which the bore reaches the yield strength [m]."""
    _, stresses = press(
        shaft_bore / diameter, hub_outer / diameter, 2e-6 / diameter,
        (hub_modulus, hub_poisson), (shaft_modulus, shaft_poisson),
    )  # fmt: skip
    return 1e-6 * yield_strength / _mises(*stresses)


@LinearForm
def _swelling(v, w):
    """Work of the thermal stress of a body that may not grow, per unit of free strain."""
    return w.modulus / (1 - 2 * w.poisson) * sum(_strains(v, w.x[0])[:3]) * w.x[0]


@cache
def _growth(expansion, rise, metal=(100e9, 0.3)):
    """How much a warm ring's bore grows per radius, and the ring per length."""
    basis, stiffness = _part(1.0, 1.6, np.linspace(0, 1, 3), *metal)
    push = expansion * rise * _swelling.assemble(basis, modulus=metal[0], poisson=metal[1])
    free = np.setdiff1d(np.arange(basis.N), _at(basis, 1, 0, "u^2"))
    travel = np.zeros(basis.N)
    travel[free] = spsolve(stiffness[free][:, free].tocsc(), push[free])
    return travel[_at(basis, 0, 1.0, "u^1")].mean(), travel[_at(basis, 1, 1.0, "u^2")].mean()


def warm_interference(
    *, diametral_interference, diameter, temperature_rise, hub_expansion, shaft_expansion
):
    """Interference between two parts that warm up, each free to grow [m]."""
    hub, shaft = (_growth(a, temperature_rise)[0] for a in (hub_expansion, shaft_expansion))
    return diametral_interference + diameter * (shaft - hub)


def release_temperature(*, diametral_interference, diameter, hub_expansion, shaft_expansion):
    """Rise at which two parts that warm up together come apart [K]."""
    hub, shaft = (_growth(a, 1.0)[0] for a in (hub_expansion, shaft_expansion))
    return diametral_interference / (diameter * (hub - shaft))


def shrink_temperature(*, diametral_interference, assembly_clearance, diameter, hub_expansion):
    """Rise at which the bore of the hub has grown past the shaft and the clearance [K]."""
    return (diametral_interference + assembly_clearance) / (diameter * _growth(hub_expansion, 1)[0])


def end_play_change(*, length, shaft_expansion, shaft_rise, housing_expansion, housing_rise):
    """Difference of two parts growing along the axis [m]."""
    return length * (
        _growth(housing_expansion, housing_rise)[1] - _growth(shaft_expansion, shaft_rise)[1]
    )
