"""Runout: an off-center gear, what it does to the mesh, and how to true it.

============================ ========================================================
eccentricity                 offset of the center from a dial reading
truing_stock                 least stock on the diameter that trues an off-center bore
transmission_error           how far the driven gear runs ahead and behind
speed_ripple                 how much the speed of the driven gear swings
felt_ripple                  how much of that the train feels, the motor giving way
idler_swing                  how an idler's offset counts at both of its meshes
eccentricity_from_ripple     offset of a gear from the speed ripple it makes
backlash_swing               how much the backlash opens and closes in a turn
tight_spot_backlash          backlash left at the tight spot
binding_runout               runout at which the mesh binds at the tight spot
============================ ========================================================

How the offsets of a stack of parts add up, and wobble, is in `mechkit.runout.stackup`.
"""

import numpy as np

from mechkit import check


def eccentricity(*, total_runout):
    """Offset of a gear's center from the axis it turns on, from a dial reading.

    Parameters
    ----------
    total_runout : float or array
        Total indicated runout over one turn [m], at least 0

    Returns
    -------
    eccentricity : float or array
        Offset of the center [m]

    Raises
    ------
    ValueError
        total_runout is negative, NaN or infinite.

    Notes
    -----
    On round teeth read over a pin in each space; on the tips only if they were turned with
    the teeth.  The reading holds the runout of the arbor too.  Source: Machinery's Handbook,
    runout (from memory).

    Examples
    --------
    >>> eccentricity(total_runout=40e-6)
    2e-05
    """
    check.not_negative(total_runout=total_runout)
    return total_runout / 2


def truing_stock(*, eccentricity):
    """Least stock, on the diameter, that must come off to true a round surface.

    Parameters
    ----------
    eccentricity : float or array
        Offset of the center from the axis wanted [m], at least 0

    Returns
    -------
    stock : float or array
        Difference of the diameters before and after [m]

    Raises
    ------
    ValueError
        eccentricity is negative, NaN or infinite.

    Notes
    -----
    Just cleans up, with nothing left for finish; a bore grows by it, a skimmed outside
    shrinks by it.  What sits in the axle's seat no skim of the gear will cure.  Spinning
    work: goggles on, no loose sleeve, key out of the chuck.  Source: geometry of two
    circles that touch.

    Examples
    --------
    >>> truing_stock(eccentricity=20e-6)
    4e-05
    """
    check.not_negative(eccentricity=eccentricity)
    return 2 * eccentricity


def transmission_error(*, eccentricity, pressure_angle):
    """How far the driven gear runs ahead and behind, peak to peak, at its pitch circle.

    Parameters
    ----------
    eccentricity : float or array
        Offset of one of the two gears [m], at least 0
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2

    Returns
    -------
    transmission_error : float or array
        Peak to peak, along the pitch circle [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Once per turn of the off-center gear.  Offsets small against the tooth; two off-center
    gears add up to the sum when their teeth meet in every phase.  Source: ISO/TR 10064-1,
    index deviation from eccentricity (from memory).

    Examples
    --------
    >>> round(float(transmission_error(eccentricity=20e-6, pressure_angle=0.349066) * 1e6), 1)
    42.6
    """
    check.not_negative(eccentricity=eccentricity)
    check.acute(pressure_angle=pressure_angle)
    return 2 * eccentricity / np.cos(pressure_angle)


def speed_ripple(*, eccentricity, base_diameter):
    """How much the speed of the driven gear swings about its mean, mean to peak.

    Parameters
    ----------
    eccentricity : float or array
        Offset of the off-center gear [m], at least 0
    base_diameter : float or array
        Base circle diameter of the off-center gear [m], greater than 0

    Returns
    -------
    speed_ripple : float or array
        Swing of the speed, mean to peak, per mean speed [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The same whether the off-center gear drives or is driven; once per its turn.  The driving
    shaft is held at constant speed, as a heavy flywheel does; how a motor gives way is in
    `felt_ripple`.  Source: the slope of `transmission_error`.

    Examples
    --------
    >>> round(speed_ripple(eccentricity=20e-6, base_diameter=0.010525) * 100, 2)   # percent
    0.38
    """
    check.not_negative(eccentricity=eccentricity)
    check.positive(base_diameter=base_diameter)
    return 2 * eccentricity / base_diameter


def felt_ripple(*, speed_ripple, turns, speed, inertia, mass, lever, efficiency, force, damping):
    """How much the train's speed swings with an off-center gear, mean to peak.

    Parameters
    ----------
    speed_ripple : float or array
        Swing with the motor held at one speed, per mean speed [-], 0 to 1
    turns : float or array
        Turns of the off-center gear for one of the motor [-], greater than 0
    speed : float or array
        Mean speed of the motor [rad/s], greater than 0
    inertia : float or array
        Rotor and flywheel [kg*m^2], greater than 0
    mass : float or array
        Engine and train [kg], at least 0
    lever : float or array
        Travel at the rim per angle of the motor [m], greater than 0
    efficiency : float or array
        Motor to rim [-], greater than 0 and at most 1
    force : float or array
        What holds the train back [N], at least 0
    damping : float or array
        Torque that the motor loses per speed [N*m*s/rad], at least 0

    Returns
    -------
    speed_ripple : float or array
        Swing of the train's speed, mean to peak, per mean speed [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The motor slows where its gear is hard to turn, by less the heavier its flywheel.  On a
    stiff voltage damping holds `mechkit.motor.shorted_damping` too.  Small swings, while the
    motor pushes throughout.  Source: the two bodies' equations of motion, made linear.

    Examples
    --------
    >>> turning = dict(turns=1 / 30, speed=600.0, inertia=7.3e-7, damping=9e-6)
    >>> train = dict(mass=0.4, lever=2.67e-4, efficiency=0.42, force=0.08)
    >>> round(float(felt_ripple(speed_ripple=0.01, **turning, **train)) * 100, 2)   # percent
    0.93
    """
    check.positive(turns=turns, speed=speed, inertia=inertia, lever=lever, efficiency=efficiency)
    check.up_to(0.0, 1.0, speed_ripple=speed_ripple, efficiency=efficiency)
    check.not_negative(mass=mass, force=force, damping=damping)
    motor = 1j * turns * speed * inertia + damping
    whole = motor + 1j * turns * speed * mass * lever**2 / efficiency
    return speed_ripple * np.abs((motor - force * lever / (efficiency * speed)) / whole)


def idler_swing(*, pressure_angle, around=np.pi):
    """What an idler's offset does at both of its meshes together, over what it does at one.

    Parameters
    ----------
    pressure_angle : float or array
        Pressure angle [rad], greater than 0 and less than pi/2
    around : float or array
        Turned from the mesh that drives the idler to the one that it drives, the way it
        turns [rad], 0 to 2 pi; on opposite sides where left out

    Returns
    -------
    idler_swing : float or array
        Swing of the speed by both meshes over the swing by one, 0 to 2 [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Off center, a gear carries its flanks along each line of action by its share of the offset
    there: a sine at each mesh.  The two lines stand at ``around - 2 pressure_angle`` to one
    another; in at one mesh and out at the other, what is left is the difference of the sines.
    For one `speed_ripple` of the idler, and offsets small beside its radius.  Source: the
    geometry of involutes.

    Examples
    --------
    >>> round(float(idler_swing(pressure_angle=0.349066)), 3)   # on opposite sides: 2 cos(20 deg)
    1.879
    """
    check.acute(pressure_angle=pressure_angle)
    check.up_to(0.0, 2 * np.pi, around=around)
    return 2 * np.abs(np.sin(around / 2 - pressure_angle))


def eccentricity_from_ripple(*, speed_ripple, base_diameter):
    """Offset of a gear from the speed ripple that it makes once per its turn.

    Parameters
    ----------
    speed_ripple : float or array
        Swing of the speed, mean to peak, per mean speed [-], 0 to 1
    base_diameter : float or array
        Base circle diameter of the off-center gear [m], greater than 0

    Returns
    -------
    eccentricity : float or array
        Offset of the center [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The inverse of `speed_ripple`.  Rods, quartering and the track make ripple at the wheel's
    turn too: take the rods off before blaming the gear.  Source: as `speed_ripple`.

    Examples
    --------
    >>> round(eccentricity_from_ripple(speed_ripple=0.004, base_diameter=0.010525) * 1e6)
    21
    """
    check.up_to(0.0, 1.0, speed_ripple=speed_ripple)
    check.positive(base_diameter=base_diameter)
    return speed_ripple * base_diameter / 2


def backlash_swing(*, eccentricity, pressure_angle):
    """How much the backlash opens and closes in one turn of an off-center gear.

    Parameters
    ----------
    eccentricity : float or array
        Offset of the center [m], at least 0
    pressure_angle : float or array
        Working pressure angle of the mesh [rad], greater than 0 and less than pi/2

    Returns
    -------
    backlash : float or array
        Most less least circumferential backlash [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The center distance goes up and down by the eccentricity; twice the change times the
    tangent, `mechkit.gears.backlash_approximate`.  With `mechkit.gears.working_pressure_angle`
    at the mean center distance within 2 %; the cutter's angle reads 5 to 10 % low where 14
    and 28 teeth stand an eighth to a quarter of a module wide.  Source: Machinery's
    Handbook, backlash and center distance (from memory).

    Examples
    --------
    >>> round(float(backlash_swing(eccentricity=20e-6, pressure_angle=0.349066) * 1e6), 1)
    29.1
    """
    check.not_negative(eccentricity=eccentricity)
    check.acute(pressure_angle=pressure_angle)
    return 4 * eccentricity * np.tan(pressure_angle)


def tight_spot_backlash(*, backlash, eccentricity, pressure_angle):
    """Backlash that is left at the tight spot of an off-center gear; negative where it binds.

    Parameters
    ----------
    backlash : float or array
        Backlash at the mean center distance [m], at least 0
    eccentricity : float or array
        Offset of the center [m], at least 0; of two off-center gears the sum
    pressure_angle : float or array
        Working pressure angle of the mesh [rad], greater than 0 and less than pi/2

    Returns
    -------
    backlash : float or array
        Backlash at the tight spot [m], negative where it binds

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A small change of center distance; the working pressure angle at the mean one errs safe,
    the cutter's does not.  Two gears are tight together only where their tight spots meet.
    Source: as `backlash_swing`, half of which closes the mesh.

    Examples
    --------
    >>> round(float(tight_spot_backlash(
    ...     backlash=40e-6, eccentricity=30e-6, pressure_angle=0.349066
    ... ) * 1e6), 1)
    18.2
    """
    check.not_negative(backlash=backlash)
    return backlash - backlash_swing(eccentricity=eccentricity, pressure_angle=pressure_angle) / 2


def binding_runout(*, backlash, pressure_angle):
    """Total indicated runout of one gear at which the mesh binds at its tight spot.

    Parameters
    ----------
    backlash : float or array
        Circumferential backlash at the mean center distance [m], at least 0
    pressure_angle : float or array
        Working pressure angle of the mesh [rad], greater than 0 and less than pi/2

    Returns
    -------
    total_runout : float or array
        Total indicated runout, twice the eccentricity [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    One eccentric gear.  The working pressure angle at the mean center distance errs 2 to 4 %
    safe where 14 and 28 teeth stand an eighth to a quarter of a module wide; the cutter's
    would allow 3 to 6 % too much, at 14.5 degrees 5 to 10 %.  Feel the backlash in several places of the turn and take the mean:
    the tight spot alone would count the runout twice.  Source: where `tight_spot_backlash`
    is zero.

    Examples
    --------
    >>> round(binding_runout(backlash=40e-6, pressure_angle=0.349066) * 1e6)
    110
    """
    check.not_negative(backlash=backlash)
    check.acute(pressure_angle=pressure_angle)
    return backlash / np.tan(pressure_angle)


check.formulas(__name__)
