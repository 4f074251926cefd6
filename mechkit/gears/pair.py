"""A pair of spur gears at its center distance.

============================ ========================================================
center_distance              center distance of a pair without backlash
working_pressure_angle       pressure angle at the center distance as built
path_of_contact              approach and recess along the line of action
contact_ratio                pairs of teeth in contact, on the average
backlash                     circumferential backlash at the center distance as built
backlash_approximate         the same by the rule of thumb
center_distance_for_backlash center distance that gives a wanted backlash
============================ ========================================================
"""

from math import pi

import numpy as np
import scipy

from mechkit import check
from mechkit.gears.sizes import FEWEST, involute


def center_distance(*, module, teeth_1, teeth_2):
    """Center distance at which a pair of standard gears runs without backlash.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth_1, teeth_2 : float or array
        Numbers of teeth of the two gears [-], at least 3

    Returns
    -------
    center_distance : float or array
        Center distance [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Two external gears with teeth of nominal thickness; build it a little larger, or the
    first speck of dirt jams it.  Source: ISO 21771, reference center distance (from
    memory).

    Examples
    --------
    >>> round(center_distance(module=0.0004, teeth_1=14, teeth_2=28) * 1e3, 3)   # mm
    8.4
    """
    return _nominal(module, teeth_1, teeth_2)


def _nominal(module, teeth_1, teeth_2):
    """Nominal center distance, for formulas that have an argument of that name."""
    check.positive(module=module)
    check.at_least(FEWEST, teeth_1=teeth_1, teeth_2=teeth_2)
    return module * (teeth_1 + teeth_2) / 2


def working_pressure_angle(*, module, teeth_1, teeth_2, pressure_angle, center_distance):
    """Pressure angle of a pair at the center distance as built.

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
    working_pressure_angle : float or array
        Pressure angle at which the pair works [rad]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Wider centers mean a steeper line of action; the ratio of speeds stays.  Source:
    ISO 21771, working transverse pressure angle (from memory).

    Examples
    --------
    >>> float(np.degrees(working_pressure_angle(
    ...     module=0.0004, teeth_1=14, teeth_2=28, pressure_angle=0.349066,
    ...     center_distance=0.00845,
    ... )).round(2))
    20.91
    """
    check.acute(pressure_angle=pressure_angle)
    base_radii = _nominal(module, teeth_1, teeth_2) * np.cos(pressure_angle)
    check.above(base_radii, center_distance=center_distance)
    return np.arccos(base_radii / center_distance)


def path_of_contact(*, module, teeth_1, teeth_2, pressure_angle, addendum, center_distance):
    """Approach and recess: how far along the line of action a pair of teeth stays in contact.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth_1, teeth_2 : float or array
        Numbers of teeth of the driving and the driven gear [-], at least 3
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2
    addendum : float or array
        Addendum of both gears [m], greater than 0
    center_distance : float or array
        Center distance as built [m], greater than the two base radii together

    Returns
    -------
    approach : float or array
        From first contact to the pitch point, bounded by the driven gear's tips [m]
    recess : float or array
        From the pitch point to last contact, bounded by the driving gear's tips [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Each end is clipped at the interference point, where the line of action leaves the mate's
    base circle: beyond it there is no flank to touch (`mechkit.gears.tip_overrun` says by how
    much a tip overruns).  What undercutting takes off the flank is not subtracted.  Negative
    where a tip circle does not reach the pitch point.  Source: J.E. Shigley, Mechanical
    Engineering Design, contact ratio (from memory).

    Examples
    --------
    >>> approach, recess = path_of_contact(
    ...     module=0.0004, teeth_1=14, teeth_2=28, pressure_angle=0.349066,
    ...     addendum=0.0004, center_distance=0.0085,
    ... )
    >>> float(round(approach * 1e3, 3)), float(round(recess * 1e3, 3))   # mm
    (0.78, 0.77)
    """
    check.positive(addendum=addendum)
    working = working_pressure_angle(
        module=module, teeth_1=teeth_1, teeth_2=teeth_2,
        pressure_angle=pressure_angle, center_distance=center_distance,
    )  # fmt: skip
    line = center_distance * np.sin(working)
    sides = []
    for mine, mate in ((teeth_2, teeth_1), (teeth_1, teeth_2)):
        base = module * mine * np.cos(pressure_angle) / 2
        flank = np.sqrt((module * mine / 2 + addendum) ** 2 - base**2)
        sides.append(np.minimum(flank, line) - line * mine / (mine + mate))
    return tuple(sides)


def contact_ratio(*, module, teeth_1, teeth_2, pressure_angle, addendum, center_distance):
    """Transverse contact ratio: how many pairs of teeth touch, on the average.

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
    contact_ratio : float or array
        Contact ratio [-], 0 where the teeth no longer reach each other

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Below 1 the drive is handed from tooth to tooth with a knock; keep above 1.2.  Each end of
    the path of contact is clipped at the interference point, so a pinion with few teeth
    gives less than the textbook formula; undercutting takes off more still.  Source:
    J.E. Shigley, Mechanical Engineering Design, contact ratio (from memory).

    Examples
    --------
    >>> round(float(contact_ratio(
    ...     module=0.0004, teeth_1=14, teeth_2=28, pressure_angle=0.349066,
    ...     addendum=0.0004, center_distance=0.0085,
    ... )), 3)
    1.313
    """
    approach, recess = path_of_contact(
        module=module, teeth_1=teeth_1, teeth_2=teeth_2,
        pressure_angle=pressure_angle, addendum=addendum, center_distance=center_distance,
    )  # fmt: skip
    return np.maximum(approach + recess, 0.0) / (pi * module * np.cos(pressure_angle))


def backlash(*, module, teeth_1, teeth_2, pressure_angle, center_distance):
    """Circumferential backlash at the working pitch circle, exact.

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
    backlash : float or array
        Circumferential backlash [m], negative where the teeth would jam

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Teeth of nominal thickness; what the cutter took off their thickness, or wear, comes on
    top.  Source: ISO 21771, tooth thicknesses at the working pitch circle against the pitch
    (from memory).

    Examples
    --------
    >>> round(float(backlash(
    ...     module=0.0004, teeth_1=14, teeth_2=28, pressure_angle=0.349066,
    ...     center_distance=0.00845,
    ... ) * 1e6), 1)   # micrometers
    37.4
    """
    working = working_pressure_angle(
        module=module, teeth_1=teeth_1, teeth_2=teeth_2,
        pressure_angle=pressure_angle, center_distance=center_distance,
    )  # fmt: skip
    opened = involute(pressure_angle=working) - involute(pressure_angle=pressure_angle)
    return 2 * center_distance * opened


def backlash_approximate(*, module, teeth_1, teeth_2, pressure_angle, center_distance):
    """Circumferential backlash by the rule of thumb, twice the opening times the tangent.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth_1, teeth_2 : float or array
        Numbers of teeth of the two gears [-], at least 3
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2
    center_distance : float or array
        Center distance as built [m], greater than 0

    Returns
    -------
    backlash : float or array
        Circumferential backlash [m], negative where the teeth would jam

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Low, at 20 degrees by some 9 times the opening in modules over the sum of the teeth, at
    14.5 by 15 times: 14 and 28 teeth, an eighth and a quarter of a module wide, 3 and 5 %, at
    14.5 degrees 5 and 9 %; two of 12 teeth 5 and 9 %, at 14.5 degrees 8 and 14 %.  Source:
    Machinery's Handbook, backlash and center distance (from memory).

    Examples
    --------
    >>> round(float(backlash_approximate(
    ...     module=0.0004, teeth_1=14, teeth_2=28, pressure_angle=0.349066,
    ...     center_distance=0.00845,
    ... ) * 1e6), 1)   # micrometers
    36.4
    """
    check.acute(pressure_angle=pressure_angle)
    check.positive(center_distance=center_distance)
    nominal = _nominal(module, teeth_1, teeth_2)
    return 2 * (center_distance - nominal) * np.tan(pressure_angle)


def center_distance_for_backlash(*, module, teeth_1, teeth_2, pressure_angle, backlash):
    """Center distance that gives a wanted circumferential backlash.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth_1, teeth_2 : float or array
        Numbers of teeth of the two gears [-], at least 3
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2
    backlash : float or array
        Circumferential backlash [m], at least 0 and less than pi * module / 2

    Returns
    -------
    center_distance : float or array
        Center distance to bore the housing to [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The inverse of `backlash`, solved by Newton's method; teeth of nominal thickness.
    Source: as `backlash`.

    Examples
    --------
    >>> round(float(center_distance_for_backlash(
    ...     module=0.0004, teeth_1=14, teeth_2=28, pressure_angle=0.349066, backlash=40e-6
    ... ) * 1e3), 3)   # mm
    8.453
    """
    nominal = _nominal(module, teeth_1, teeth_2)
    check.acute(pressure_angle=pressure_angle)
    check.between(0.0, pi * module / 2, backlash=backlash)
    base_radii, start = nominal * np.cos(pressure_angle), involute(pressure_angle=pressure_angle)

    def excess(working):
        return 2 * base_radii * (np.tan(working) - working - start) / np.cos(working) - backlash

    def slope(working):
        opened = np.tan(working) - working - start
        return 2 * base_radii * np.tan(working) * (np.tan(working) + opened) / np.cos(working)

    first = np.arccos(base_radii / (nominal + backlash))  # near enough
    return base_radii / np.cos(scipy.optimize.newton(excess, first, slope))


check.formulas(__name__)
