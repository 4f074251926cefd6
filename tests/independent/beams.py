"""Frames on levers and beams, as linear systems of forces."""

from itertools import pairwise

import numpy as np

from tests.independent.contact import GRAVITY, by_sets


def lever_load(*, mass, center_of_gravity, position_1, position_2):
    """Load on the first of two axles [N]: forces and moments in balance."""
    system = [[1.0, 1.0], [position_1, position_2]]
    weight = mass * GRAVITY
    return np.linalg.solve(system, [weight, weight * center_of_gravity])[0]


def equalized_loads(*, positions, groups, mass, center_of_gravity):
    """Loads [N]: forces and moments in balance, and level beams in either group."""
    positions, groups = np.asarray(positions, float), np.asarray(groups)
    each, weight = np.eye(len(positions)), mass * GRAVITY
    rows, right = [np.ones(len(positions)), positions], [weight, weight * center_of_gravity]
    for group in (1, 2):
        for one, two in pairwise(np.flatnonzero(groups == group)):
            rows.append(each[one] - each[two])
            right.append(0.0)
    return np.linalg.solve(np.array(rows), right)


def middle_axle_load(*, mass, end_rate, middle_rate, rail_height):
    """Load of the middle axle [N], every contact set tried."""
    return by_sets(
        positions=[0.0, 0.03, 0.06],
        rates=[end_rate, middle_rate, end_rate],
        rail_heights=[0.0, rail_height, 0.0],
        mass=mass,
        center_of_gravity=0.03,
    )[1]
