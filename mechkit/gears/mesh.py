"""Mesh: how two spur gears touch, slide and get in each other's way.

========================== ==========================================================
flank_radii                radii of curvature of both flanks at the pitch point
tip_overrun                how far the tips run past the mate's last point of flank
sliding_speed              speed at which flanks slide, off the pitch point
sliding_distance           how far the tooth force slides in a turn of the first gear
========================== ==========================================================

The path along which they touch is in `mechkit.gears`.
"""

from math import pi

import numpy as np

from mechkit import check
from mechkit.gears import pair, sizes


def flank_radii(*, module, teeth_1, teeth_2, pressure_angle, center_distance):
    """Radii of curvature of both flanks where they touch at the pitch point.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth_1, teeth_2 : float or array
        Numbers of teeth of the two gears [-], at least 3
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2
    center_distance : float or array
        Center distance as built [m], greater than the two base radii together

    Returns
    -------
    radius_1 : float or array
        Radius of curvature of the first gear's flank [m]
    radius_2 : float or array
        Radius of curvature of the second gear's flank [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    What `mechkit.gears.line_contact_pressure` asks for; one pair of teeth carries the force
    there.  Source: J.E. Shigley, Mechanical Engineering Design, surface durability (from
    memory).

    Examples
    --------
    >>> radius_1, radius_2 = flank_radii(
    ...     module=0.0004, teeth_1=14, teeth_2=28, pressure_angle=0.349066,
    ...     center_distance=0.0084,
    ... )
    >>> float(round(radius_1 * 1e3, 2)), float(round(radius_2 * 1e3, 2))   # mm
    (0.96, 1.92)
    """
    line = _line_of_action(module, teeth_1, teeth_2, pressure_angle, center_distance)
    return line * teeth_1 / (teeth_1 + teeth_2), line * teeth_2 / (teeth_1 + teeth_2)


def _line_of_action(module, teeth_1, teeth_2, pressure_angle, center_distance):
    """Length of the line of action between the two base circles."""
    working = pair.working_pressure_angle(
        module=module, teeth_1=teeth_1, teeth_2=teeth_2,
        pressure_angle=pressure_angle, center_distance=center_distance,
    )  # fmt: skip
    return center_distance * np.sin(working)


def tip_overrun(*, module, teeth_1, teeth_2, pressure_angle, addendum, center_distance):
    """How far the tips of each gear run past the last point of the mate's involute flank.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth_1, teeth_2 : float or array
        Numbers of teeth of the two gears [-], at least 3
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2
    addendum : float or array
        Addendum of both gears [m], greater than 0
    center_distance : float or array
        Center distance as built [m], greater than the two base radii together

    Returns
    -------
    overrun_1 : float or array
        Of the first gear's tips past the second's base circle [m], negative: clear
    overrun_2 : float or array
        Of the second gear's tips past the first's base circle [m], negative: clear

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Measured along the line of action.  Where it is positive the tip would foul the root of
    the mate unless the cutter has undercut it.  Source: T. Bevan, Theory of Machines, ch. 10,
    interference.

    Examples
    --------
    >>> overrun_1, overrun_2 = tip_overrun(
    ...     module=0.0004, teeth_1=14, teeth_2=28, pressure_angle=0.349066,
    ...     addendum=0.0004, center_distance=0.0084,
    ... )
    >>> float(round(overrun_1 * 1e6)), float(round(overrun_2 * 1e6))   # micrometers
    (-1052.0, 9.0)
    """
    check.positive(addendum=addendum)
    line = _line_of_action(module, teeth_1, teeth_2, pressure_angle, center_distance)
    overruns = []
    for teeth in (teeth_1, teeth_2):
        base = module * teeth * np.cos(pressure_angle) / 2
        overruns.append(np.sqrt((module * teeth / 2 + addendum) ** 2 - base**2) - line)
    return tuple(overruns)


def sliding_speed(*, teeth_1, teeth_2, speed, pitch_point_distance):
    """Speed at which the flanks of two gears slide on one another.

    Parameters
    ----------
    teeth_1, teeth_2 : float or array
        Numbers of teeth of the two gears [-], at least 3
    speed : float or array
        Speed of the first gear [rad/s], at least 0
    pitch_point_distance : float or array
        Distance of the contact from the pitch point, along the line of action [m], at least 0

    Returns
    -------
    sliding_speed : float or array
        Sliding speed [m/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    External gears.  Zero at the pitch point, where flanks only roll; most at the end of
    approach or recess.  Source: T. Bevan, Theory of Machines, ch. 10 (from memory).

    Examples
    --------
    >>> round(sliding_speed(teeth_1=14, teeth_2=28, speed=35.0, pitch_point_distance=0.9e-3), 3)
    0.047
    """
    check.at_least(sizes.FEWEST, teeth_1=teeth_1, teeth_2=teeth_2)
    check.not_negative(speed=speed, pitch_point_distance=pitch_point_distance)
    return pitch_point_distance * speed * (1 + teeth_1 / teeth_2)


def sliding_distance(*, module, teeth_1, teeth_2, pressure_angle, addendum, center_distance):
    """How far the whole tooth force slides in one turn of the first gear.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth_1, teeth_2 : float or array
        Numbers of teeth of the two gears [-], at least 3
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2
    addendum : float or array
        Addendum of both gears [m], greater than 0
    center_distance : float or array
        Center distance as built [m], greater than the two base radii together, and so small
        that the teeth reach each other

    Returns
    -------
    sliding_distance : float or array
        Sliding distance in a turn of the first gear [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Times `mechkit.gears.tooth_force` and the wear rate it is the volume worn off a gear in
    that turn, to be spread over all its flanks.  Pairs in contact share the force evenly, so
    it is the mean sliding over the path of contact.  Source: mean of `sliding_speed`.

    Examples
    --------
    >>> round(float(sliding_distance(
    ...     module=0.0004, teeth_1=14, teeth_2=28, pressure_angle=0.349066,
    ...     addendum=0.0004, center_distance=0.0085,
    ... ) * 1e3), 2)   # mm
    3.65
    """
    whole = {
        "module": module, "teeth_1": teeth_1, "teeth_2": teeth_2,
        "pressure_angle": pressure_angle, "addendum": addendum,
        "center_distance": center_distance,
    }  # fmt: skip
    approach, recess = pair.path_of_contact(**whole)
    out_of_reach = _out_of_reach(module, teeth_1, teeth_2, pressure_angle, addendum)
    check.inside(0.0, out_of_reach, center_distance=center_distance)
    mean = (approach * abs(approach) + recess * abs(recess)) / (2 * (approach + recess))
    return 2 * pi * (1 + teeth_1 / teeth_2) * mean


def _out_of_reach(module, teeth_1, teeth_2, pressure_angle, addendum):
    """Center distance at which the tips have just lost each other."""
    radii = [module * teeth / 2 for teeth in (teeth_1, teeth_2)]
    bases = [radius * np.cos(pressure_angle) for radius in radii]
    flanks = (np.sqrt((r + addendum) ** 2 - b**2) for r, b in zip(radii, bases, strict=True))
    return np.hypot(sum(flanks), sum(bases))


check.formulas(__name__)
