"""Sizing a flywheel: from the wanted coast to a part that fits.

========================== ==========================================================
inertia_to_coast           inertia for a wanted angle of coasting
width_for_inertia          width of a disc for a wanted inertia
stepped_inertia            inertia of a wheel turned in steps
bored_disc_stress          stress in a turning disc with a bore
stored_energy              energy in a turning body
reflected_inertia          what the engine's mass feels like at the motor
coast_distance             distance along the track for an angle of the motor
========================== ==========================================================
"""

import numpy as np

from mechkit import check
from mechkit.flywheel.wheel import coast_angle, ring_inertia


def inertia_to_coast(*, angle, speed, torque, damping=0.0):
    """Moment of inertia for a wanted angle of coasting.

    Parameters
    ----------
    angle : float or array
        Angle to be turned from power off to standstill [rad], at least 0
    speed : float or array
        Speed of rotation at the start [rad/s], greater than 0
    torque : float or array
        Friction torque that does not change with speed [N*m], greater than 0
    damping : float or array
        Friction torque per unit of speed [N*m*s/rad], at least 0

    Returns
    -------
    inertia : float or array
        Moment of inertia of all that turns, seen at the motor [kg*m^2]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Take off what the rotor and the engine's own mass (`reflected_inertia`) already give.
    Source: `flywheel.coast_angle`, to which the inertia is proportional.

    Examples
    --------
    >>> friction = dict(torque=0.3e-3, damping=0.2e-6)
    >>> round(float(inertia_to_coast(angle=437.0, speed=800.0, **friction)) * 1e9)   # g mm^2
    550
    """
    check.not_negative(angle=angle)
    check.positive(speed=speed)
    return angle / coast_angle(inertia=1.0, speed=speed, torque=torque, damping=damping)


def width_for_inertia(*, inertia, outer, density, bore=0.0):
    """Width of a plain or bored disc for a wanted moment of inertia.

    Parameters
    ----------
    inertia : float or array
        Moment of inertia about the shaft [kg*m^2], greater than 0
    outer : float or array
        Outside diameter [m], greater than 0
    density : float or array
        Density [kg/m^3], greater than 0
    bore : float or array
        Bore diameter [m], 0 <= bore < outer

    Returns
    -------
    width : float or array
        Width along the axis [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The largest diameter that clears the boiler needs the least width and weight.
    Source: `flywheel.ring_inertia`, to which the width is proportional.

    Examples
    --------
    >>> round(width_for_inertia(inertia=5.46e-7, outer=0.016, density=8490), 4)
    0.01
    """
    check.positive(inertia=inertia)
    return inertia / ring_inertia(outer=outer, width=1.0, density=density, bore=bore)


def stepped_inertia(*, outers, widths, density, bore=0.0):
    """Moment of inertia of a wheel turned in steps, all on one bore.

    Parameters
    ----------
    outers, widths : float or array
        Outside diameters and widths of the steps [m], along the last axis, greater than 0
    density : float or array
        Density [kg/m^3], greater than 0
    bore : float or array
        Bore diameter [m], at least 0, less than every outer

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
    Fillets and chamfers are not counted.  Source: rings on one axis add up.

    Examples
    --------
    >>> steps = dict(outers=np.array([0.016, 0.010]), widths=np.array([0.010, 0.004]))
    >>> round(float(stepped_inertia(density=8490, bore=0.002, **steps)) * 1e9)   # g mm^2
    579
    """
    check.positive(outers=outers, widths=widths, density=density)
    bore = np.expand_dims(bore, -1)
    density = np.expand_dims(density, -1)
    rings = ring_inertia(outer=outers, width=widths, density=density, bore=bore)
    return np.sum(rings, axis=-1)


def bored_disc_stress(*, outer, bore, density, poisson, speed):
    """Hoop stress at the bore of a turning disc, its greatest stress.

    Parameters
    ----------
    outer : float or array
        Outside diameter [m], greater than 0
    bore : float or array
        Bore diameter [m], 0 < bore < outer
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
    As `flywheel.disc_stress`; the pressure of a press fit comes on top.  Source: as there.

    Examples
    --------
    >>> disc = dict(outer=0.016, bore=0.002, density=8490, poisson=0.34)
    >>> round(bored_disc_stress(speed=1047.2, **disc) / 1e6, 2)   # MPa
    0.5
    """
    check.positive(outer=outer, density=density)
    check.inside(0.0, outer, bore=bore)
    check.poisson(poisson=poisson)
    check.not_negative(speed=speed)
    return density * speed**2 / 16 * ((3 + poisson) * outer**2 + (1 - poisson) * bore**2)


def stored_energy(*, inertia, speed):
    """Energy stored in a turning body.

    Parameters
    ----------
    inertia : float or array
        Moment of inertia about the shaft [kg*m^2], greater than 0
    speed : float or array
        Speed of rotation [rad/s], at least 0

    Returns
    -------
    energy : float or array
        Energy [J]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Source: any mechanics text, kinetic energy of rotation.

    Examples
    --------
    >>> round(stored_energy(inertia=5.46e-7, speed=838.0), 2)
    0.19
    """
    check.positive(inertia=inertia)
    check.not_negative(speed=speed)
    return inertia * speed**2 / 2


def reflected_inertia(*, mass, gear_ratio, wheel_diameter):
    """Moment of inertia at the motor that stands for a mass at the rail.

    Parameters
    ----------
    mass : float or array
        Mass of engine and train [kg], greater than 0
    gear_ratio : float or array
        Turns of the motor for one of the axle [-], greater than 0
    wheel_diameter : float or array
        Diameter of the driver over the tread [m], greater than 0

    Returns
    -------
    inertia : float or array
        Moment of inertia seen at the motor [kg*m^2]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Counts only while the mesh back-drives; a locked worm leaves the mass to adhesion.
    Source: equal kinetic energy.

    Examples
    --------
    >>> round(reflected_inertia(mass=0.4, gear_ratio=30.0, wheel_diameter=0.016) * 1e9)   # g mm^2
    28
    """
    check.positive(mass=mass, gear_ratio=gear_ratio, wheel_diameter=wheel_diameter)
    return mass * (wheel_diameter / (2 * gear_ratio)) ** 2


def coast_distance(*, angle, gear_ratio, wheel_diameter):
    """Distance along the track while the motor turns by an angle.

    Parameters
    ----------
    angle : float or array
        Angle turned by the motor [rad], at least 0
    gear_ratio : float or array
        Turns of the motor for one of the axle [-], greater than 0
    wheel_diameter : float or array
        Diameter of the driver over the tread [m], greater than 0

    Returns
    -------
    distance : float or array
        Distance along the track [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Wheels roll without slip; where the drive locks, `traction.stopping_distance` rules.
    Source: rolling of a wheel.

    Examples
    --------
    >>> round(coast_distance(angle=437.0, gear_ratio=30.0, wheel_diameter=0.016) * 1e3)   # mm
    117
    """
    check.not_negative(angle=angle)
    check.positive(gear_ratio=gear_ratio, wheel_diameter=wheel_diameter)
    return angle * wheel_diameter / (2 * gear_ratio)


check.formulas(__name__)
