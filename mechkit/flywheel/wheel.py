"""Flywheels: inertia, coasting, balance, whirl, stress; how large: `mechkit.flywheel.sizing`.

========================== ==========================================================
ring_inertia, ring_mass    moment of inertia and mass of a plain or bored disc
equivalent_mass            what the inertia feels like at the rail
coast_time, coast_angle    time and angle turned to standstill
permissible_eccentricity   how far off center a balance grade lets it be
unbalance_force            force of an off-center mass
disc_stress                stress in a turning disc without a bore
overhung_critical_speed    bending critical speed, shaft built in (upper bound)
critical_speed             bending critical speed, shaft in two bearings
========================== ==========================================================

Caution: try a new flywheel under a cover; one that works loose flies.
"""

from math import pi

import numpy as np
import scipy

from mechkit import check


def ring_inertia(*, outer, width, density, bore=0.0):
    """Moment of inertia of a plain or bored disc about its axis.

    Parameters
    ----------
    outer, width : float or array
        Outside diameter and width along the axis [m], greater than 0
    density : float or array
        Density [kg/m^3], greater than 0
    bore : float or array
        Bore diameter [m], 0 <= bore < outer

    Returns
    -------
    inertia : float or array
        Moment of inertia about the shaft [kg*m^2]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Holds for one material with square edges; crowned rims and set-screw holes are not
    counted.  Source: any mechanics text, mass moment of inertia of a hollow cylinder.

    Examples
    --------
    >>> round(ring_inertia(outer=0.016, width=0.010, density=8490) * 1e9)   # g mm^2
    546
    """
    check.positive(outer=outer, width=width, density=density)
    check.between(0.0, outer, bore=bore)
    return pi * density * width / 32 * (outer**4 - bore**4)


def ring_mass(*, outer, width, density, bore=0.0):
    """Mass of a plain or bored disc.

    Parameters
    ----------
    outer, width : float or array
        Outside diameter and width [m], greater than 0
    density : float or array
        Density [kg/m^3], greater than 0
    bore : float or array
        Bore diameter [m], 0 <= bore < outer

    Returns
    -------
    mass : float or array
        Mass [kg]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    As `ring_inertia`.  Source: volume of a hollow cylinder.

    Examples
    --------
    >>> round(ring_mass(outer=0.016, width=0.010, density=8490) * 1e3, 1)   # g
    17.1
    """
    check.positive(outer=outer, width=width, density=density)
    check.between(0.0, outer, bore=bore)
    return pi * density * width / 4 * (outer**2 - bore**2)


def equivalent_mass(*, inertia, gear_ratio, wheel_diameter):
    """Mass at the rail that is as hard to start and stop as the flywheel.

    Parameters
    ----------
    inertia : float or array
        Moment of inertia on the motor's shaft [kg*m^2], greater than 0
    gear_ratio : float or array
        Turns of the motor for one of the axle [-], greater than 0
    wheel_diameter : float or array
        Diameter of the driver over the tread [m], greater than 0

    Returns
    -------
    mass : float or array
        Equivalent mass [kg]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Mesh losses not counted; add the engine's own mass.  Source: equal kinetic energy.

    Examples
    --------
    >>> round(equivalent_mass(inertia=5.46e-7, gear_ratio=30.0, wheel_diameter=0.016), 1)
    7.7
    """
    check.positive(inertia=inertia, gear_ratio=gear_ratio, wheel_diameter=wheel_diameter)
    return inertia * (2 * gear_ratio / wheel_diameter) ** 2


def coast_time(*, inertia, speed, torque, damping=0.0):
    """Time from power off to standstill.

    Parameters
    ----------
    inertia : float or array
        Moment of inertia of all that turns, seen at the motor [kg*m^2], greater than 0
    speed : float or array
        Speed of rotation at the start [rad/s], at least 0
    torque : float or array
        Friction torque that does not change with speed [N*m], greater than 0
    damping : float or array
        Friction torque per unit of speed [N*m*s/rad], at least 0

    Returns
    -------
    time : float or array
        Time [s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Rails shorted: add `motor.shorted_damping`.  Source: equation of motion; hyp2f1: log(1 + x) / x.

    Examples
    --------
    >>> round(float(coast_time(inertia=5.5e-7, speed=800.0, torque=0.3e-3, damping=0.2e-6)), 2)
    1.18
    """
    check.positive(inertia=inertia, torque=torque)
    check.not_negative(speed=speed, damping=damping)
    return inertia * speed / torque * scipy.special.hyp2f1(1, 1, 2, -damping * speed / torque)


def coast_angle(*, inertia, speed, torque, damping=0.0):
    """Angle turned from power off to standstill.

    Parameters
    ----------
    inertia : float or array
        Moment of inertia of all that turns, seen at the motor [kg*m^2], greater than 0
    speed : float or array
        Speed of rotation at the start [rad/s], at least 0
    torque : float or array
        Friction torque that does not change with speed [N*m], greater than 0
    damping : float or array
        Friction torque per unit of speed [N*m*s/rad], at least 0

    Returns
    -------
    angle : float or array
        Angle turned [rad]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Grows with the square of the speed.  Source: equation of motion, integrated.

    Examples
    --------
    >>> round(float(coast_angle(inertia=5.5e-7, speed=800.0, torque=0.3e-3, damping=0.2e-6)))
    437
    """
    check.positive(inertia=inertia, torque=torque)
    check.not_negative(speed=speed, damping=damping)
    share = scipy.special.hyp2f1(1, 2, 3, -damping * speed / torque)  # 2 (x - log(1 + x)) / x^2
    return inertia * speed**2 / torque / 2 * share


def permissible_eccentricity(*, balance_grade, speed):
    """Offset of the mass center that a balance grade allows.

    Parameters
    ----------
    balance_grade : float or array
        Balance grade [m/s], greater than 0; G6.3 is 0.0063 m/s
    speed : float or array
        Highest speed of rotation in service [rad/s], greater than 0

    Returns
    -------
    eccentricity : float or array
        Offset of the center of mass from the axis [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Rigid rotors, below the first critical speed.  Source: ISO 21940-11, definition.

    Examples
    --------
    >>> round(permissible_eccentricity(balance_grade=0.0063, speed=1047.2) * 1e6, 1)   # um
    6.0
    """
    check.positive(balance_grade=balance_grade, speed=speed)
    return balance_grade / speed


def unbalance_force(*, mass, eccentricity, speed):
    """Force of a mass that turns off center.

    Parameters
    ----------
    mass : float or array
        Mass [kg], greater than 0
    eccentricity : float or array
        Offset of the center of mass from the axis [m], at least 0
    speed : float or array
        Speed of rotation [rad/s], at least 0

    Returns
    -------
    force : float or array
        Force that turns with the shaft [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Stiff shaft, below a third of the critical speed.  Source: any mechanics text.

    Examples
    --------
    >>> round(unbalance_force(mass=0.0171, eccentricity=20e-6, speed=1257.0), 2)
    0.54
    """
    check.positive(mass=mass)
    check.not_negative(eccentricity=eccentricity, speed=speed)
    return mass * eccentricity * speed**2


def disc_stress(*, outer, density, poisson, speed):
    """Hoop stress at the center of a turning disc without a bore, its greatest stress.

    Parameters
    ----------
    outer : float or array
        Outside diameter [m], greater than 0
    density : float or array
        Density [kg/m^3], greater than 0
    poisson : float or array
        Poisson's ratio [-], 0 <= poisson <= 0.5
    speed : float or array
        Speed of rotation [rad/s], at least 0

    Returns
    -------
    stress : float or array
        Hoop stress [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Flat disc; a bore doubles it: `flywheel.bored_disc_stress`.  Source: any strength text.

    Examples
    --------
    >>> round(disc_stress(outer=0.016, density=8490, poisson=0.34, speed=1047.2) / 1e6, 2)   # MPa
    0.25
    """
    check.positive(outer=outer, density=density)
    check.poisson(poisson=poisson)
    check.not_negative(speed=speed)
    return (3 + poisson) / 8 * density * (speed * outer / 2) ** 2


def overhung_critical_speed(*, mass, overhang, shaft_diameter, elastic_modulus):
    """First bending critical speed of an overhung mass, shaft built in: an upper bound.

    Parameters
    ----------
    mass : float or array
        Mass [kg], greater than 0
    overhang : float or array
        From the bearing to the center of mass [m], greater than 0
    shaft_diameter : float or array
        Shaft diameter [m], greater than 0
    elastic_modulus : float or array
        Modulus of elasticity of the shaft [Pa], greater than 0

    Returns
    -------
    speed : float or array
        Critical speed of rotation [rad/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Point mass, bearing that cannot tilt: decide by `critical_speed`.  Source: cantilever.

    Examples
    --------
    >>> shaft = dict(shaft_diameter=0.002, elastic_modulus=200e9)
    >>> round(float(overhung_critical_speed(mass=0.020, overhang=0.012, **shaft)) / 2 / pi * 60)
    35262
    """
    check.positive(mass=mass, overhang=overhang)
    check.positive(shaft_diameter=shaft_diameter, elastic_modulus=elastic_modulus)
    return np.sqrt(3 * pi / 64 * elastic_modulus * shaft_diameter**4 / (mass * overhang**3))


def critical_speed(*, mass, overhang, span, shaft_diameter, elastic_modulus):
    """First bending critical speed of a mass overhung beyond two bearings.

    Parameters
    ----------
    mass : float or array
        Mass [kg], greater than 0
    overhang, span : float or array
        From the nearer bearing to the center of mass, and between the two [m], greater than 0
    shaft_diameter : float or array
        Shaft diameter [m], greater than 0
    elastic_modulus : float or array
        Modulus of elasticity of the shaft [Pa], greater than 0

    Returns
    -------
    speed : float or array
        Critical speed of rotation [rad/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Point mass, massless shaft of one diameter, bearings that let it tilt but not move.  Play
    and soft bearings lower it: below 70 % is common practice.  Source: overhanging beam.

    Examples
    --------
    >>> shaft = dict(span=0.020, shaft_diameter=0.002, elastic_modulus=200e9)
    >>> round(float(critical_speed(mass=0.020, overhang=0.012, **shaft)) / 2 / pi * 60)
    21593
    """
    check.positive(mass=mass, overhang=overhang, span=span)
    check.positive(shaft_diameter=shaft_diameter, elastic_modulus=elastic_modulus)
    bending_stiffness = pi / 64 * elastic_modulus * shaft_diameter**4
    return np.sqrt(3 * bending_stiffness / (mass * overhang**2 * (span + overhang)))


check.formulas(__name__)
