"""A gear turned askew in space (scipy rotations)."""

import numpy as np
from scipy.spatial.transform import Rotation


def face_wobble(*, clearance, length, diameter):
    """Swing of the face of a bored gear turned in space until its bore touches the shaft."""
    shaft = length / 2
    tilt = np.arctan2(clearance, length)
    rim = np.array([[diameter / 2, 0, 0], [-diameter / 2, 0, 0]])
    turned = Rotation.from_euler("y", tilt).apply(rim)
    ends = Rotation.from_euler("y", tilt).apply([[shaft, 0, length / 2], [shaft, 0, -length / 2]])
    assert abs(np.ptp(ends[:, 0]) - clearance) < 1e-3 * clearance
    return np.ptp(turned[:, 2])


def wobble_eccentricity(*, face_runout, diameter, face_width):
    """How far the center of one face leaves the axis when the gear is turned askew."""
    tilt = np.arcsin(face_runout / diameter)
    center = Rotation.from_euler("y", tilt).apply([0.0, 0.0, face_width / 2])
    return np.hypot(center[0], center[1])
