"""Worm and wheel: the thread, sliding, friction, efficiency and locking.

============================ ========================================================
lead                         how far the wheel's rim moves in a turn of the worm
lead_angle                   lead angle at the pitch circle
normal_pressure_angle        pressure angle square to the thread
center_distance              center distance of worm and wheel
sliding_speed                speed at which the thread slides on the teeth
friction_coefficient         published curve, hardened steel on bronze in oil
efficiency                   the worm drives
back_driving_efficiency      the wheel drives; negative where it locks
locking_friction             coefficient of friction above which it locks
locking_speed                sliding speed below which it locks while it slows down
============================ ========================================================

What it puts on its shafts, and its friction from a measured efficiency: `mechkit.worm.loads`.
"""

from math import pi

import numpy as np

from mechkit import check

FOOT_PER_MINUTE = 0.3048 / 60  # m/s
#: Below this friction the published curve never comes, however fast the worm turns.
CURVE_FLOOR = 0.012


def lead(*, starts, module):
    """Lead of a worm: how far a point on the wheel's pitch circle moves in one turn.

    Parameters
    ----------
    starts : float or array
        Number of starts [-], at least 1
    module : float or array
        Axial module, that of the wheel [m], greater than 0

    Returns
    -------
    lead : float or array
        Lead [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Shafts at right angles.  Source: Machinery's Handbook, worm gearing (from memory).

    Examples
    --------
    >>> round(lead(starts=1, module=0.0004) * 1e3, 3)   # mm
    1.257
    """
    check.at_least(1.0, starts=starts)
    check.positive(module=module)
    return pi * module * starts


def lead_angle(*, starts, module, pitch_diameter):
    """Lead angle of a worm at its pitch circle.

    Parameters
    ----------
    starts : float or array
        Number of starts [-], at least 1
    module, pitch_diameter : float or array
        Axial module, that of the wheel, and pitch diameter of the worm [m], greater than 0

    Returns
    -------
    lead_angle : float or array
        Lead angle [rad]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The pitch diameter is the outside diameter less two modules.  A thicker worm of the same
    thread has a smaller lead angle: it slides more, wastes more and locks sooner.  Source:
    R.L. Mott, Machine Elements in Mechanical Design, 4th ed., p. 343.

    Examples
    --------
    >>> float(np.degrees(lead_angle(starts=1, module=0.0004, pitch_diameter=0.006)).round(2))
    3.81
    """
    check.positive(pitch_diameter=pitch_diameter)
    return np.arctan(lead(starts=starts, module=module) / (pi * pitch_diameter))


def normal_pressure_angle(*, axial_pressure_angle, lead_angle):
    """Pressure angle square to the thread from the one in the worm's axial plane.

    Parameters
    ----------
    axial_pressure_angle : float or array
        Pressure angle in the axial plane [rad], greater than 0 and less than pi/2
    lead_angle : float or array
        Lead angle [rad], greater than 0 and less than pi/2

    Returns
    -------
    pressure_angle : float or array
        Normal pressure angle [rad]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    At the small lead angles of a single start the two differ by hundredths of a degree.
    Source: R.L. Mott, Machine Elements in Mechanical Design, 4th ed., eq. 8-41, p. 480.

    Examples
    --------
    >>> float(np.degrees(normal_pressure_angle(axial_pressure_angle=0.349066, lead_angle=0.0666)).round(2))
    19.96
    """
    check.acute(axial_pressure_angle=axial_pressure_angle, lead_angle=lead_angle)
    return np.arctan(np.tan(axial_pressure_angle) * np.cos(lead_angle))


def center_distance(*, pitch_diameter, module, teeth):
    """Center distance of worm and wheel.

    Parameters
    ----------
    pitch_diameter, module : float or array
        Pitch diameter of the worm and axial module, that of the wheel [m], greater than 0
    teeth : float or array
        Number of teeth of the wheel [-], at least 3

    Returns
    -------
    center_distance : float or array
        Center distance without backlash [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Wheel without profile shift, shafts at right angles.  Source: R.L. Mott, Machine Elements
    in Mechanical Design, 4th ed., p. 343.

    Examples
    --------
    >>> round(center_distance(pitch_diameter=0.006, module=0.0004, teeth=30) * 1e3, 3)   # mm
    9.0
    """
    check.positive(pitch_diameter=pitch_diameter, module=module)
    check.at_least(3.0, teeth=teeth)
    return (pitch_diameter + module * teeth) / 2


def sliding_speed(*, pitch_diameter, speed, lead_angle):
    """Speed at which the worm's thread slides over the teeth of the wheel.

    Parameters
    ----------
    pitch_diameter : float or array
        Pitch diameter of the worm [m], greater than 0
    speed : float or array
        Speed of the worm [rad/s], at least 0
    lead_angle : float or array
        Lead angle [rad], greater than 0 and less than pi/2

    Returns
    -------
    sliding_speed : float or array
        Sliding speed along the thread [m/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    At the pitch circle, shafts at right angles.  Source: R.L. Mott, Machine Elements in
    Mechanical Design, 4th ed., eq. 10-18, p. 480.

    Examples
    --------
    >>> round(float(sliding_speed(pitch_diameter=0.006, speed=1047.2, lead_angle=0.0666)), 2)
    3.15
    """
    check.positive(pitch_diameter=pitch_diameter)
    check.not_negative(speed=speed)
    check.acute(lead_angle=lead_angle)
    return speed * pitch_diameter / 2 / np.cos(lead_angle)


def friction_coefficient(*, sliding_speed):
    """Coefficient of friction of a worm mesh at a sliding speed, published curve.

    Parameters
    ----------
    sliding_speed : float or array
        Sliding speed along the thread [m/s], at least 0

    Returns
    -------
    friction : float or array
        Coefficient of friction [-]

    Raises
    ------
    ValueError
        sliding_speed is negative, NaN or infinite.

    Notes
    -----
    Hardened and ground steel worm, bronze wheel, plenty of oil; the fit itself steps by 2 %
    at 10 ft/min.  Greased brass runs higher: multiply, or take a band of 0.05 to 0.20, and
    calibrate on the drive.  Another handbook's table lies 8 to 13 % above it.  Source:
    ANSI/AGMA 6034, in J.E. Shigley, Mechanical Engineering Design, eq. 15-62 (from memory).

    Examples
    --------
    >>> round(float(friction_coefficient(sliding_speed=3.15)), 3)
    0.026
    """
    check.not_negative(sliding_speed=sliding_speed)
    feet = sliding_speed / FOOT_PER_MINUTE
    slow = 0.124 * np.exp(-0.074 * feet**0.645)
    fast = 0.103 * np.exp(-0.110 * feet**0.450) + CURVE_FLOOR
    return np.select([feet == 0, feet <= 10], [0.15, slow], fast)[()]


def efficiency(*, lead_angle, friction, pressure_angle):
    """Efficiency of the mesh while the worm drives.

    Parameters
    ----------
    lead_angle : float or array
        Lead angle [rad], greater than 0 and less than pi/2
    friction : float or array
        Coefficient of friction [-], at least 0
    pressure_angle : float or array
        Normal pressure angle [rad], greater than 0 and less than pi/2

    Returns
    -------
    efficiency : float or array
        Power out over power in [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Friction at the thread only; bearings come on top.  Negative where the thread is so steep
    that the worm cannot drive.  Some books leave the pressure angle out.  Source:
    J. Carvill, Mechanical Engineer's Data Handbook, sec. 2.10.6, p. 99.

    Examples
    --------
    >>> round(float(efficiency(lead_angle=0.0666, friction=0.08, pressure_angle=0.349066)), 2)
    0.44
    """
    check.acute(lead_angle=lead_angle, pressure_angle=pressure_angle)
    check.not_negative(friction=friction)
    normal, slope = np.cos(pressure_angle), np.tan(lead_angle)
    return (normal - friction * slope) / (normal + friction / slope)


def back_driving_efficiency(*, lead_angle, friction, pressure_angle):
    """Efficiency of the mesh while the wheel drives the worm; negative where it locks.

    Parameters
    ----------
    lead_angle : float or array
        Lead angle [rad], greater than 0 and less than pi/2
    friction : float or array
        Coefficient of friction [-], at least 0
    pressure_angle : float or array
        Normal pressure angle [rad], greater than 0 and less than pi/2

    Returns
    -------
    efficiency : float or array
        Power at the worm over power at the wheel [-], negative where it locks

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Negative: the worm's shaft must be helped, or the wheel stands.  Coasting goes through
    this number as soon as the flywheel sits on the wheel's side.  Source: Elements of Metric
    Gear Technology, eq. 16-23, worm gear as the driver.

    Examples
    --------
    >>> round(float(back_driving_efficiency(lead_angle=0.0666, friction=0.08, pressure_angle=0.349066)), 2)
    -0.27
    """
    check.acute(lead_angle=lead_angle, pressure_angle=pressure_angle)
    check.not_negative(friction=friction)
    normal, slope = np.cos(pressure_angle), np.tan(lead_angle)
    return (normal - friction / slope) / (normal + friction * slope)


def locking_friction(*, lead_angle, pressure_angle):
    """Coefficient of friction above which the wheel cannot drive the worm.

    Parameters
    ----------
    lead_angle : float or array
        Lead angle [rad], greater than 0 and less than pi/2
    pressure_angle : float or array
        Normal pressure angle [rad], greater than 0 and less than pi/2

    Returns
    -------
    friction : float or array
        Coefficient of friction at the limit [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Where the back-driving efficiency is zero; vibration can unlock a mesh that is near it.
    Source: J.E. Shigley, Mechanical Engineering Design, self-locking worm (from memory).

    Examples
    --------
    >>> round(float(locking_friction(lead_angle=0.0666, pressure_angle=0.349066)), 4)
    0.0627
    """
    check.acute(lead_angle=lead_angle, pressure_angle=pressure_angle)
    return np.cos(pressure_angle) * np.tan(lead_angle)


def locking_speed(*, lead_angle, pressure_angle, friction_ratio=1.0):
    """Sliding speed at which a mesh that slows down begins to lock.

    Parameters
    ----------
    lead_angle : float or array
        Lead angle [rad], greater than one that always locks, less than pi/2
    pressure_angle : float or array
        Normal pressure angle [rad], greater than 0 and less than pi/2
    friction_ratio : float or array
        Friction of this mesh in multiples of the published curve [-], greater than 0

    Returns
    -------
    sliding_speed : float or array
        Sliding speed below which it locks [m/s], 0 where it locks at rest only or never

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite; or the lead angle is so small that
        the mesh is locked at any speed.

    Notes
    -----
    The inverse of `friction_coefficient`, part by part; between the two parts, where the
    fit steps, 10 ft/min.  Source: as `friction_coefficient`.

    Examples
    --------
    >>> round(float(locking_speed(lead_angle=0.0666, pressure_angle=0.349066)), 2)
    0.32
    """
    check.acute(pressure_angle=pressure_angle)
    check.positive(friction_ratio=friction_ratio)
    floor = np.arctan(CURVE_FLOOR * friction_ratio / np.cos(pressure_angle))
    check.inside(floor, pi / 2, lead_angle=lead_angle)
    limit = locking_friction(lead_angle=lead_angle, pressure_angle=pressure_angle) / friction_ratio
    fast = (np.log(0.103 / np.minimum(limit - CURVE_FLOOR, 0.103)) / 0.110) ** (1 / 0.450)
    slow = (np.log(0.124 / np.minimum(limit, 0.124)) / 0.074) ** (1 / 0.645)
    return np.where(fast > 10, fast, np.minimum(slow, 10.0)) * FOOT_PER_MINUTE


check.formulas(__name__)
