"""Worm loads: what the mesh puts on the shafts, what that costs, the lurch of its end play.

========================== ==========================================================
wheel_torque               torque at the wheel from the torque on the worm
thrust                     force along the worm's shaft, worm driving
separating_force           force that pushes worm and wheel apart
collar_loss                torque that a thrust face takes, over a worm's without loss
friction_from_efficiency   friction in the mesh from its measured efficiency
heat                       power that friction turns into heat at the mesh
lurch                      how far the wheel jumps when the thrust reverses
========================== ==========================================================

The thread, its friction and its locking are in `mechkit.worm`.
"""

import numpy as np

from mechkit import check


def wheel_torque(*, torque, gear_ratio, efficiency):
    """Torque at the wheel's shaft from the torque on the worm.

    Parameters
    ----------
    torque : float or array
        Torque on the worm [N*m], at least 0
    gear_ratio : float or array
        Turns of the worm for one of the wheel, teeth over starts [-], greater than 0
    efficiency : float or array
        Efficiency of the mesh, worm driving [-], 0 to 1

    Returns
    -------
    torque : float or array
        Torque at the wheel's shaft [N*m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Steady running.  Source: any mechanics text, power in times efficiency is power out.

    Examples
    --------
    >>> round(wheel_torque(torque=0.0004, gear_ratio=30, efficiency=0.44) * 1e3, 2)   # mN m
    5.28
    """
    check.not_negative(torque=torque)
    check.positive(gear_ratio=gear_ratio)
    check.up_to(0.0, 1.0, efficiency=efficiency)
    return torque * gear_ratio * efficiency


def thrust(*, torque, pitch_diameter, lead_angle, friction, pressure_angle):
    """Force along the worm's shaft while the worm drives; also the wheel's tangential force.

    Parameters
    ----------
    torque : float or array
        Torque on the worm [N*m], at least 0
    pitch_diameter : float or array
        Pitch diameter of the worm [m], greater than 0
    lead_angle : float or array
        Lead angle [rad], greater than 0 and less than pi/2
    friction : float or array
        Coefficient of friction [-], at least 0
    pressure_angle : float or array
        Normal pressure angle [rad], greater than 0 and less than pi/2

    Returns
    -------
    thrust : float or array
        Thrust on the worm's bearing [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    It changes its direction with the direction of running and, where the wheel drives, on a
    down grade: the bearing needs both faces.  While the wheel drives take the torque at the
    wheel and `mechkit.gears.tangential_force`.  Source: J. Carvill, Mechanical Engineer's
    Data Handbook, sec. 2.10.6, p. 99.

    Examples
    --------
    >>> round(float(thrust(
    ...     torque=0.0004, pitch_diameter=0.006, lead_angle=0.0666, friction=0.08,
    ...     pressure_angle=0.349066,
    ... )), 2)
    0.87
    """
    _check(torque, pitch_diameter, lead_angle, friction, pressure_angle)
    normal, slope = np.cos(pressure_angle), np.tan(lead_angle)
    return 2 * torque / pitch_diameter * (normal - friction * slope) / (normal * slope + friction)


def separating_force(*, torque, pitch_diameter, lead_angle, friction, pressure_angle):
    """Force that pushes worm and wheel apart, square to both shafts, worm driving.

    Parameters
    ----------
    torque : float or array
        Torque on the worm [N*m], at least 0
    pitch_diameter : float or array
        Pitch diameter of the worm [m], greater than 0
    lead_angle : float or array
        Lead angle [rad], greater than 0 and less than pi/2
    friction : float or array
        Coefficient of friction [-], at least 0
    pressure_angle : float or array
        Normal pressure angle [rad], greater than 0 and less than pi/2

    Returns
    -------
    force : float or array
        Separating force [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    What opens a thin gearbox cover and deepens the backlash under load.  Source: J. Carvill,
    Mechanical Engineer's Data Handbook, sec. 2.10.6, p. 99.

    Examples
    --------
    >>> round(float(separating_force(
    ...     torque=0.0004, pitch_diameter=0.006, lead_angle=0.0666, friction=0.08,
    ...     pressure_angle=0.349066,
    ... )), 2)
    0.32
    """
    _check(torque, pitch_diameter, lead_angle, friction, pressure_angle)
    across = np.cos(pressure_angle) * np.sin(lead_angle) + friction * np.cos(lead_angle)
    return 2 * torque / pitch_diameter * np.sin(pressure_angle) / across


def _check(torque, pitch_diameter, lead_angle, friction, pressure_angle):
    """The demands that both forces share."""
    check.not_negative(torque=torque, friction=friction)
    check.positive(pitch_diameter=pitch_diameter)
    check.acute(lead_angle=lead_angle, pressure_angle=pressure_angle)


def collar_loss(*, friction, collar_diameter, pitch_diameter, lead_angle):
    """Torque that a plain face takes for carrying the thrust, over a worm's without any loss.

    Parameters
    ----------
    friction : float or array
        Coefficient of friction of the face [-], at least 0
    collar_diameter : float or array
        Mean diameter of the face [m], greater than 0
    pitch_diameter : float or array
        Pitch diameter of the worm [m], greater than 0
    lead_angle : float or array
        Lead angle [rad], greater than 0 and less than pi/2

    Returns
    -------
    loss : float or array
        Torque at the face over the torque of the same worm without friction [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    What is lost at the face comes beside the mesh: one over the efficiency of both is one over
    the mesh's, plus this; while the wheel drives it is taken off.  Half of the bore and half of
    the outside are the mean of a face that has run in.  Source: J.E. Shigley, Mechanical
    Engineering Design, collar of a power screw (from memory).

    Examples
    --------
    >>> round(float(collar_loss(
    ...     friction=0.1, collar_diameter=0.003, pitch_diameter=0.006, lead_angle=0.0666
    ... )), 2)
    0.75
    """
    check.not_negative(friction=friction)
    check.positive(collar_diameter=collar_diameter, pitch_diameter=pitch_diameter)
    check.acute(lead_angle=lead_angle)
    return friction * collar_diameter / (pitch_diameter * np.tan(lead_angle))


def friction_from_efficiency(*, lead_angle, efficiency, pressure_angle):
    """Coefficient of friction in the mesh that a measured efficiency tells.

    Parameters
    ----------
    lead_angle : float or array
        Lead angle [rad], greater than 0 and less than pi/2
    efficiency : float or array
        Efficiency of the mesh, worm driving [-], 0 to 1
    pressure_angle : float or array
        Normal pressure angle [rad], greater than 0 and less than pi/2

    Returns
    -------
    friction : float or array
        Coefficient of friction [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The inverse of `mechkit.worm.efficiency`.  A hung weight measures the whole drive: take
    gears and `collar_loss` off first.  Source: as `mechkit.worm.efficiency`.

    Examples
    --------
    >>> round(float(friction_from_efficiency(
    ...     lead_angle=0.0666, efficiency=0.44, pressure_angle=0.349066
    ... )), 3)
    0.079
    """
    check.acute(lead_angle=lead_angle, pressure_angle=pressure_angle)
    check.up_to(0.0, 1.0, efficiency=efficiency)
    slope = np.tan(lead_angle)
    return np.cos(pressure_angle) * slope * (1 - efficiency) / (efficiency + slope**2)


def heat(*, torque, speed, efficiency):
    """Power that friction turns into heat at the mesh.

    Parameters
    ----------
    torque : float or array
        Torque on the worm [N*m], at least 0
    speed : float or array
        Speed of the worm [rad/s], at least 0
    efficiency : float or array
        Efficiency of the mesh, worm driving [-], 0 to 1

    Returns
    -------
    power : float or array
        Heat at the mesh [W]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A few hundred milliwatts in a closed box of some grams thin the grease and soften an
    adhesive joint.  Source: any mechanics text, power in less power out.

    Examples
    --------
    >>> round(heat(torque=0.0004, speed=1047.2, efficiency=0.44), 2)
    0.23
    """
    check.not_negative(torque=torque, speed=speed)
    check.up_to(0.0, 1.0, efficiency=efficiency)
    return torque * speed * (1 - efficiency)


def lurch(*, end_play, wheel_diameter):
    """Angle by which the wheel jumps when the worm slides through its end play.

    Parameters
    ----------
    end_play : float or array
        End play of the worm's shaft [m], at least 0
    wheel_diameter : float or array
        Pitch diameter of the worm wheel [m], greater than 0

    Returns
    -------
    angle : float or array
        Angle at the wheel [rad]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The worm moves like a rack.  Backlash comes on top; at the rail the jump grows by wheel
    tread over pitch diameter.  Source: any mechanics text, rack and pinion.

    Examples
    --------
    >>> float(np.degrees(lurch(end_play=0.0002, wheel_diameter=0.012)).round(1))
    1.9
    """
    check.not_negative(end_play=end_play)
    check.positive(wheel_diameter=wheel_diameter)
    return 2 * end_play / wheel_diameter


check.formulas(__name__)
