"""Inertia of turned parts from a closed solid mesh (trimesh)."""

import numpy as np
import trimesh
from scipy.optimize import brentq


def _turned(outers, widths, density, bore):
    """A bored wheel in steps as a closed solid."""
    rim, place = [], 0.0
    for outer, width in zip(outers, widths, strict=True):
        rim += [[outer / 2, place], [outer / 2, place + width]]
        place += width
    profile = np.array([[bore / 2, 0], *rim, [bore / 2, place], [bore / 2, 0]])
    solid = trimesh.creation.revolve(profile, sections=720)
    solid.density = density
    return solid


def ring_inertia(*, outer, width, density, bore):
    """Moment of inertia of a bored disc about its axis [kg*m^2], by volume integral."""
    return stepped_inertia(outers=[outer], widths=[width], density=density, bore=bore)


def stepped_inertia(*, outers, widths, density, bore):
    """Moment of inertia of a stepped wheel about its axis [kg*m^2], by volume integral."""
    return abs(_turned(outers, widths, density, bore).moment_inertia[2, 2])


def ring_mass(*, outer, width, density, bore):
    """Mass of a bored disc [kg], by volume integral."""
    return abs(_turned([outer], [width], density, bore).mass)


def width_for_inertia(*, inertia, outer, density, bore):
    """Width at which the solid has an inertia [m], by trial."""

    def off(width):
        return ring_inertia(outer=outer, width=width, density=density, bore=bore) / inertia - 1

    return brentq(off, 1e-3, 0.1)
