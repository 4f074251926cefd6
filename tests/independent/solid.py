"""Inertia of turned parts from a closed solid mesh (trimesh)."""

import numpy as np
import trimesh


def ring_inertia(*, outer, width, density, bore):
    """Moment of inertia of a bored disc about its axis [kg*m^2], by volume integral."""
    profile = np.array(
        [[bore / 2, 0], [outer / 2, 0], [outer / 2, width], [bore / 2, width], [bore / 2, 0]]
    )
    solid = trimesh.creation.revolve(profile, sections=720)
    solid.density = density
    return abs(solid.moment_inertia[2, 2])
