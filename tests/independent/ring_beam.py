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


def _pressed(waves, poisson):
    """Deflection of a unit ring under a unit load, and the bending moment at a crest."""
    waves = int(waves)
    nodes, radius = waves * 40, 1.0
    bending, torsion = 1.0, 2 / (1 + poisson)  # E b t^3 / 12 is the unit
    angles = 2 * np.pi * np.arange(nodes) / nodes
    places = radius * np.array([np.cos(angles), np.sin(angles)]).T
    stiff = np.zeros((3 * nodes, 3 * nodes))
    beams = []
    for one in range(nodes):
        two = (one + 1) % nodes
        along = places[two] - places[one]
        length = np.linalg.norm(along)
        c, s = along / length
        # turns about x and y -> twist about the beam, slope dw/ds = -(turn about its side)
        turn = np.array([[1, 0, 0], [0, c, s], [0, s, -c]])
        spread = np.kron(np.eye(2), turn)
        own = [3 * one + i for i in range(3)] + [3 * two + i for i in range(3)]
        beam = _beam(bending, torsion, length) @ spread
        stiff[np.ix_(own, own)] += spread.T @ beam
        beams.append((own, beam))
    load = np.zeros(3 * nodes)
    crest, trough = np.arange(waves) * 40, np.arange(waves) * 40 + 20
    load[3 * crest], load[3 * trough] = 1 / waves, -1 / waves
    rise = np.zeros(3 * nodes)  # the first node held: the load balances itself
    rise[3:] = np.linalg.solve(stiff[3:, 3:], load[3:])
    own, beam = beams[0]
    moment = abs((beam @ rise[own])[2])
    return rise[3 * crest].mean() - rise[3 * trough].mean(), moment


def waved_washer_factor(*, waves, poisson):
    """Deflection factor K of rate = E b t^3 N^4 / (K D^3) of a ring of thin strip [-]."""
    deflection, _ = _pressed(waves, poisson)
    return deflection * 12 * waves**4 / 2**3


def bowed_washer_stress(*, elastic_modulus, deflection, thickness, mean_diameter, poisson):
    """Bending stress at the crest of a plain bow that is pressed so far [Pa]."""
    unit, moment = _pressed(2, poisson)
    # curvature is the moment over the stiffness, stress at the skin half a thickness of it
    curvature = moment / unit * deflection / (mean_diameter / 2) ** 2
    return elastic_modulus * curvature * thickness / 2
