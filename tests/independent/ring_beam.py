"""A waved washer as a ring of short straight beams that bend and twist (direct stiffness).

Each node may move along the axis and turn about both axes in the plane; the beams know
nothing of the ring's curvature but the corners between them.
"""

import numpy as np


def _beam(bending, torsion, length):
    """Stiffness of a straight beam: rise and two turns (twist, slope) at each end."""
    k = np.zeros((6, 6))
    r, m = 12 * bending / length**3, 6 * bending / length**2
    near, far = 4 * bending / length, 2 * bending / length
    own = [0, 2, 3, 5]
    k[np.ix_(own, own)] = [
        [r, m, -r, m],
        [m, near, -m, far],
        [-r, -m, r, -m],
        [m, far, -m, near],
    ]
    k[np.ix_([1, 4], [1, 4])] = torsion / length * np.array([[1, -1], [-1, 1]])
    return k


def waved_washer_factor(*, waves, poisson):
    """Deflection factor K of rate = E b t^3 N^4 / (K D^3) of a ring of thin strip [-]."""
    waves = int(waves)
    nodes, radius = waves * 40, 1.0
    bending, torsion = 1.0, 2 / (1 + poisson)  # E b t^3 / 12 is the unit
    angles = 2 * np.pi * np.arange(nodes) / nodes
    places = radius * np.array([np.cos(angles), np.sin(angles)]).T
    stiff = np.zeros((3 * nodes, 3 * nodes))
    for one in range(nodes):
        two = (one + 1) % nodes
        along = places[two] - places[one]
        length = np.linalg.norm(along)
        c, s = along / length
        # turns about x and y -> twist about the beam, slope dw/ds = -(turn about its side)
        turn = np.array([[1, 0, 0], [0, c, s], [0, s, -c]])
        spread = np.kron(np.eye(2), turn)
        own = [3 * one + i for i in range(3)] + [3 * two + i for i in range(3)]
        stiff[np.ix_(own, own)] += spread.T @ _beam(bending, torsion, length) @ spread
    load = np.zeros(3 * nodes)
    crest, trough = np.arange(waves) * 40, np.arange(waves) * 40 + 20
    load[3 * crest], load[3 * trough] = 1 / waves, -1 / waves
    rise = np.zeros(3 * nodes)  # the first node held: the load balances itself
    rise[3:] = np.linalg.solve(stiff[3:, 3:], load[3:])
    deflection = rise[3 * crest].mean() - rise[3 * trough].mean()
    return deflection * 12 * bending * waves**4 / (2 * radius) ** 3
