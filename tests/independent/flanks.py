"""Common normals of flanks: an idler whose center goes round, a rack on a small gear (scipy)."""

import numpy as np
from scipy.optimize import brentq


def idler_swing(*, pressure_angle, around):
    """Swing of what comes out over what goes in, per offset over base radius, stepped round.

    Each mesh sees its share along the common normal, drawn as a vector: the driver pushes
    inward, the idler outward.
    """
    turn = np.linspace(0, 2 * np.pi, 20_001)
    center = np.array([np.cos(turn), np.sin(turn)])

    def share(at, outward):
        radial = np.array([np.cos(at), np.sin(at)])
        along = np.array([-np.sin(at), np.cos(at)])
        return (np.cos(pressure_angle) * along + outward * np.sin(pressure_angle) * radial) @ center

    slope = np.gradient(share(0.7 + around, 1) - share(0.7, -1), turn, edge_order=2)
    return np.ptp(slope) / 2


def minimum_teeth(*, pressure_angle, addendum_coefficient=1.0):
    """Teeth whose line of action touches the base circle just on the rack's tip line, by search.

    The gear's center at the origin, its pitch point below, the module one.
    """
    along = np.array([np.cos(pressure_angle), np.sin(pressure_angle)])

    def over_the_tip(teeth):
        pitch_point = np.array([0.0, -teeth / 2])
        touch = pitch_point - (pitch_point @ along) * along
        return touch[1] - pitch_point[1] - addendum_coefficient

    return brentq(over_the_tip, 3.0, 1000.0, xtol=1e-12)
