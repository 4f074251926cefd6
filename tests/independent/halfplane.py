"""Line contact on elastic half-planes: strips of pressure and their dent, solved as a system.

No shape of the pressure is assumed.  The surface sinks by the logarithm of the distance
(Flamant); the contact's width is what makes the pressure vanish at its edge.
"""

import numpy as np
from scipy.optimize import brentq

STRIPS = 400


def _pressures(half, curvature, compliance):
    """Pressures on the strips of a contact of that half width, dent matching the gap."""
    edges = np.linspace(-half, half, STRIPS + 1)
    x = (edges[1:] + edges[:-1]) / 2
    reach = x[:, None] - edges[None, :]
    sunk = reach * np.log(abs(reach)) - reach
    influence = -2 * compliance / np.pi * (sunk[:, :-1] - sunk[:, 1:])
    # dent = approach - curvature x^2 / 2: the approach is one more unknown, and the edge
    # strips carry nothing where the width is right
    system = np.column_stack([influence, -np.ones(STRIPS)])
    gap = -curvature * x**2 / 2
    closing = np.zeros(STRIPS + 1)
    closing[[0, -2]] = 1.0
    solved = np.linalg.solve(np.vstack([system, closing]), np.append(gap, 0.0))
    return solved[:-1], edges[1] - edges[0]


def line_contact_pressure(
    *, force, length, radius_1, radius_2, modulus_1, poisson_1, modulus_2, poisson_2
):
    """Peak pressure of two cylinders [Pa]."""
    compliance = (1 - poisson_1**2) / modulus_1 + (1 - poisson_2**2) / modulus_2
    curvature = 1 / radius_1 + 1 / radius_2

    def excess(half):
        pressures, width = _pressures(half, curvature, compliance)
        return pressures.sum() * width * length / force - 1

    half = brentq(excess, 1e-4 * radius_1, 0.3 * radius_1, rtol=1e-9)
    return _pressures(half, curvature, compliance)[0].max()
