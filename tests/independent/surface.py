"""Friction and shear on surfaces that are cut into triangles (trimesh), added up one by one."""

from itertools import pairwise

import numpy as np
import trimesh

SECTIONS = 720


def _grip(solid, wanted):
    """Area and distance from the axis of the triangles of one face of a solid."""
    faces = wanted(np.abs(solid.face_normals[:, 2]))
    return solid.area_faces[faces], np.hypot(*solid.triangles_center[faces][:, :2].T)


def _shell(diameter, length):
    """The curved face of a shaft."""
    solid = trimesh.creation.cylinder(radius=diameter / 2, height=length, sections=SECTIONS)
    return _grip(solid, lambda upright: upright < 0.5)


def slip_torque(*, pressure, diameter, length, friction):
    """Torque of friction on the curved face [N*m]."""
    area, arm = _shell(diameter, length)
    return float(friction * pressure * np.sum(area * arm))


def press_force(*, pressure, diameter, length, friction):
    """Force of friction on the curved face [N]."""
    return float(friction * pressure * np.sum(_shell(diameter, length)[0]))


def bond_torque(*, shear_strength, diameter, length):
    """Torque of the film's shear on the curved face [N*m]."""
    area, arm = _shell(diameter, length)
    return float(shear_strength * np.sum(area * arm))


def thrust_torque(*, friction, load, outer, bore):
    """Torque of friction on a flat ring under even pressure, cut into thin rings [N*m]."""
    edges = np.linspace(bore / outer, 1.0, 40)  # counted in outside radii
    total_area = total_moment = 0.0
    for inner, rim in pairwise(edges):
        solid = trimesh.creation.annulus(r_min=inner, r_max=rim, height=1.0, sections=SECTIONS)
        area, arm = _grip(solid, lambda upright: upright > 0.5)
        total_area += area.sum()
        total_moment += np.sum(area * arm)
    return float(friction * load * outer / 2 * total_moment / total_area)
