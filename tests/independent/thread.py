"""A worm's thread as a surface in space: forces by vectors, work by moving it (numpy, scipy).

The flank is a helicoid written as points; its normal is the cross product of two numerical
tangents.  Friction points against the relative velocity of the two bodies, itself a cross
product.  Lead angle, pressure angle and friction enter only through these vectors.
"""

import numpy as np
from scipy.optimize import brentq


def _flank(lead_angle, pressure_angle):
    """Unit normal, out of the thread, where the flank meets the pitch circle of radius 1."""
    rise = np.tan(lead_angle)
    # the pressure angle is given square to the thread: lean the flank until it is
    axial = brentq(
        lambda slope: _normal(rise, slope)[1] - np.sin(pressure_angle), 0.0, 5.0, xtol=1e-15
    )
    return _normal(rise, axial)[0]


def _normal(rise, slope):
    """Normal of the helicoid z = rise * angle - slope * (radius - 1), and its radial part."""

    def point(radius, angle):
        return np.array(
            [radius * np.cos(angle), radius * np.sin(angle), rise * angle - slope * (radius - 1)]
        )

    step = 1e-5
    outward = (point(1 + step, 0.0) - point(1 - step, 0.0)) / (2 * step)
    around = (point(1.0, step) - point(1.0, -step)) / (2 * step)
    normal = np.cross(outward, around)
    return normal / np.linalg.norm(normal), abs(normal[0] / np.linalg.norm(normal))


def _force(lead_angle, friction, pressure_angle, drives):
    """Force of the worm on the wheel for a normal force of 1, at the point (1, 0, 0).

    ``drives``: 1 while the worm drives, -1 while the wheel does; the flank that pushes the
    wheel along +z is the same in both.
    """
    normal = _flank(lead_angle, pressure_angle)
    # the worm turns so that its thread runs up the axis where the wheel follows it, or is
    # pushed back by it
    worm = np.cross([0.0, 0.0, -drives], [1.0, 0.0, 0.0])
    wheel = np.array([0.0, 0.0, drives * np.tan(lead_angle)])
    sliding = worm - wheel
    assert abs(np.dot(sliding, normal)) < 1e-9, "bodies would part or cut into each other"
    return normal + friction * sliding / np.linalg.norm(sliding), worm, wheel


def efficiency(*, lead_angle, friction, pressure_angle):
    """Work done on the wheel over work done by the worm."""
    force, worm, wheel = _force(lead_angle, friction, pressure_angle, 1)
    return np.dot(force, wheel) / np.dot(force, worm)


def back_driving_efficiency(*, lead_angle, friction, pressure_angle):
    """Work done on the worm over work done by the wheel."""
    force, worm, wheel = _force(lead_angle, friction, pressure_angle, -1)
    return np.dot(force, worm) / np.dot(force, wheel)


def locking_friction(*, lead_angle, pressure_angle):
    """Friction at which the wheel's push leaves no work for the worm."""
    return brentq(
        lambda friction: back_driving_efficiency(
            lead_angle=lead_angle, friction=friction, pressure_angle=pressure_angle
        ),
        0.0,
        3.0,
        xtol=1e-14,
    )


def _scaled(torque, pitch_diameter, lead_angle, friction, pressure_angle):
    """Force of the worm on the wheel [N] that balances the torque."""
    force, _, _ = _force(lead_angle, friction, pressure_angle, 1)
    moment = np.cross([pitch_diameter / 2, 0.0, 0.0], force)[2]
    return force * torque / abs(moment)


def thrust(**mesh):
    """Part along the worm's axis [N]."""
    return abs(_scaled(**mesh)[2])


def separating_force(**mesh):
    """Part along the line between the shafts [N]."""
    return abs(_scaled(**mesh)[0])


def friction_from_efficiency(*, lead_angle, efficiency, pressure_angle):
    """Friction at which the force does that share of the work on the wheel."""

    def excess(friction):
        force, worm, wheel = _force(lead_angle, friction, pressure_angle, 1)
        return np.dot(force, wheel) / np.dot(force, worm) - efficiency

    return brentq(excess, 0.0, 20.0, xtol=1e-14)


def collar_loss(*, friction, collar_diameter, pitch_diameter, lead_angle):
    """Moment of friction round a ring of pads that take the thrust, for a torque of 1."""
    push = thrust(
        torque=1.0, pitch_diameter=pitch_diameter, lead_angle=lead_angle, friction=0.0,
        pressure_angle=0.35,
    ) / 360  # fmt: skip
    at = np.linspace(0.0, 2 * np.pi, 360, endpoint=False)
    pads = collar_diameter / 2 * np.stack([np.cos(at), np.sin(at), 0 * at], axis=-1)
    rubs = friction * push * np.stack([-np.sin(at), np.cos(at), 0 * at], axis=-1)
    return np.cross(pads, rubs)[:, 2].sum()


def heat(*, torque, speed, efficiency):
    """Friction force times sliding speed [W] of a mesh with that efficiency."""
    lead_angle, pressure_angle, pitch_diameter = 0.2, 0.35, 0.006
    mesh = {"lead_angle": lead_angle, "pressure_angle": pressure_angle}
    friction = friction_from_efficiency(efficiency=efficiency, **mesh)
    force, worm, wheel = _force(friction=friction, drives=1, **mesh)
    size = torque / abs(np.cross([pitch_diameter / 2, 0.0, 0.0], force)[2])
    rubbing = force - _flank(**mesh)
    return size * abs(np.dot(rubbing, worm - wheel)) * speed * pitch_diameter / 2


def sliding_speed(*, pitch_diameter, speed, lead_angle):
    """Length of the difference of the two velocities [m/s]."""
    _, worm, wheel = _force(lead_angle, 0.0, 0.35, 1)
    return np.linalg.norm(worm - wheel) * speed * pitch_diameter / 2


def normal_pressure_angle(*, axial_pressure_angle, lead_angle):
    """Angle between the flank's normal and the plane tangent to the pitch cylinder [rad]."""
    return np.arcsin(_normal(np.tan(lead_angle), np.tan(axial_pressure_angle))[1])


def locking_speed(*, lead_angle, pressure_angle, friction_ratio):
    """Root of the published friction curve, in feet per minute, as speed in m/s."""
    limit = locking_friction(lead_angle=lead_angle, pressure_angle=pressure_angle)

    def curve(feet):
        if feet <= 10:
            return 0.124 * np.exp(-0.074 * feet**0.645)
        return 0.103 * np.exp(-0.110 * feet**0.450) + 0.012

    feet = brentq(lambda feet: friction_ratio * curve(feet) - limit, 1e-6, 1e5, xtol=1e-9)
    return feet * 0.3048 / 60
