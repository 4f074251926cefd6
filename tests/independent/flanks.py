"""An idler whose center goes round, watched along the common normals of its flanks."""

import numpy as np


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
