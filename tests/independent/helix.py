"""The flanks of a worm mesh as points in space (numpy, trimesh)."""

import numpy as np
import trimesh


def _helix(radius, lead, turns):
    """Points on a helix about the z axis."""
    angle = np.linspace(0, 2 * np.pi * turns, 20_001)
    return np.column_stack(
        [radius * np.cos(angle), radius * np.sin(angle), lead / (2 * np.pi) * angle]
    )


def worm_sliding_distance(*, pitch_diameter, lead_angle, turns):
    """Length of the pitch helix, point by point [m]."""
    lead = np.pi * pitch_diameter * np.tan(lead_angle)
    points = _helix(pitch_diameter / 2, lead, 1.0)
    return float(turns * np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def _strip_area(points, across):
    """Area of a strip along points, as wide and slanted as the vectors across."""
    count = len(points)
    vertices = np.vstack([points - across / 2, points + across / 2])
    first = np.arange(count - 1)
    faces = np.vstack(
        [
            np.column_stack([first, first + 1, first + count]),
            np.column_stack([first + 1, first + count + 1, first + count]),
        ]
    )
    return float(trimesh.Trimesh(vertices, faces, process=False).area)


def worm_swept_area(*, length, working_depth, starts, lead_angle, pressure_angle):
    """Area of a helical strip that leans by the pressure angle [m^2]."""
    radius = 0.003
    lead = 2 * np.pi * radius * np.tan(lead_angle)
    points = _helix(radius, lead, length / lead)
    outward = points * [1, 1, 0] / radius
    tangent = np.gradient(points, axis=0)
    tangent /= np.linalg.norm(tangent, axis=1)[:, None]
    sideways = np.cross(outward, tangent)
    across = working_depth * (outward + np.tan(pressure_angle) * sideways)
    return starts * _strip_area(points, across)


def wheel_swept_area(*, teeth, face_width, working_depth, lead_angle, pressure_angle):
    """Area of a flat flank that is slanted by the lead angle and leans [m^2]."""
    along = np.array([0.0, face_width * np.tan(lead_angle), face_width])
    outward = np.array([1.0, 0.0, 0.0])
    sideways = np.cross(outward, along / np.linalg.norm(along))
    across = working_depth * (outward + np.tan(pressure_angle) * sideways)
    points = np.linspace(np.zeros(3), along, 5)
    return teeth * _strip_area(points, np.tile(across, (5, 1)))


def time_to_backlash(
    *,
    backlash,
    wear_rate_1,
    area_1,
    wear_rate_2,
    area_2,
    force,
    sliding_speed,
    lead_angle,
    pressure_angle,
):
    """Time until the flank, moved along its own normal, leaves a gap along the worm [s]."""
    outward, axis = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])
    thread = np.array([0.0, np.cos(lead_angle), np.sin(lead_angle)])
    sideways = np.cross(outward, thread)
    leaning = outward + np.tan(pressure_angle) * sideways
    normal = np.cross(thread, leaning)
    normal /= np.linalg.norm(normal)
    per_second = force * sliding_speed * (wear_rate_1 / area_1 + wear_rate_2 / area_2)
    # The line along the axis meets the moved plane this far off.
    gap_per_second = per_second / abs(normal @ axis)
    return float(backlash / gap_per_second)
