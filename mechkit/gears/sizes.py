"""Sizes of one spur gear: external, involute, no profile shift.

============================ ========================================================
module_from_diametral_pitch  module of an inch gear
pitch_diameter               pitch diameter
outside_diameter             outside diameter
root_diameter                root diameter
base_diameter                base circle diameter
tooth_thickness              thickness of a tooth along any circle
involute                     how far a flank has swung round
minimum_teeth                number of teeth below which a rack undercuts
============================ ========================================================
"""

from math import pi

import numpy as np

from mechkit import check

#: No gear has fewer teeth.
FEWEST = 3.0


def module_from_diametral_pitch(*, diametral_pitch):
    """Module of a gear that is known by its diametral pitch.

    Parameters
    ----------
    diametral_pitch : float or array
        Teeth per length of pitch diameter [1/m], greater than 0

    Returns
    -------
    module : float or array
        Module [m]

    Raises
    ------
    ValueError
        diametral_pitch is not positive, NaN or infinite.

    Notes
    -----
    64 to the inch is 64 / 0.0254 = 2519.7 per meter.  Inch and metric gears of nearly
    equal module still do not run together.  Source: Machinery's Handbook, 31st ed.,
    p. 2299.

    Examples
    --------
    >>> round(module_from_diametral_pitch(diametral_pitch=64 / 0.0254) * 1e3, 4)   # mm
    0.3969
    """
    check.positive(diametral_pitch=diametral_pitch)
    return 1 / diametral_pitch


def pitch_diameter(*, module, teeth):
    """Pitch diameter of a gear.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth : float or array
        Number of teeth [-], at least 3

    Returns
    -------
    pitch_diameter : float or array
        Pitch diameter [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The circle on which teeth are counted off; where two gears roll on one another only
    at the nominal center distance.  Source: ISO 21771, reference diameter (from memory).

    Examples
    --------
    >>> round(pitch_diameter(module=0.0004, teeth=28) * 1e3, 3)   # mm
    11.2
    """
    check.positive(module=module)
    check.at_least(FEWEST, teeth=teeth)
    return module * teeth


def outside_diameter(*, module, teeth, addendum_coefficient=1.0):
    """Outside diameter of a gear, over the tips of its teeth.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth : float or array
        Number of teeth [-], at least 3
    addendum_coefficient : float or array
        Addendum in modules [-], greater than 0

    Returns
    -------
    outside_diameter : float or array
        Outside diameter [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Teeth without profile shift.  Turned gears run up to a few hundredths of a millimeter
    under.  Source: ISO 53, basic rack (from memory).

    Examples
    --------
    >>> round(outside_diameter(module=0.0004, teeth=28) * 1e3, 3)   # mm
    12.0
    """
    check.positive(module=module, addendum_coefficient=addendum_coefficient)
    check.at_least(FEWEST, teeth=teeth)
    return module * (teeth + 2 * addendum_coefficient)


def root_diameter(*, module, teeth, dedendum_coefficient=1.25):
    """Root diameter of a gear, at the bottom of the tooth spaces.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth : float or array
        Number of teeth [-], at least 3
    dedendum_coefficient : float or array
        Dedendum in modules [-], greater than 0 and less than teeth / 2

    Returns
    -------
    root_diameter : float or array
        Root diameter [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Fine-pitch and clock-style cutters go deeper, to 1.35 or 1.4 modules.  Source: ISO 53,
    basic rack, dedendum 1.25 modules (from memory).

    Examples
    --------
    >>> round(root_diameter(module=0.0004, teeth=28) * 1e3, 3)   # mm
    10.2
    """
    check.positive(module=module)
    check.at_least(FEWEST, teeth=teeth)
    check.inside(0.0, teeth / 2, dedendum_coefficient=dedendum_coefficient)
    return module * (teeth - 2 * dedendum_coefficient)


def base_diameter(*, module, teeth, pressure_angle):
    """Base circle diameter, from which the involute flanks unwind.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth : float or array
        Number of teeth [-], at least 3
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2

    Returns
    -------
    base_diameter : float or array
        Base circle diameter [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The base circle is what the cutter left in the gear: it does not change with the center
    distance.  Source: ISO 21771, base diameter (from memory).

    Examples
    --------
    >>> round(float(base_diameter(module=0.0004, teeth=28, pressure_angle=0.349066)) * 1e3, 3)   # mm
    10.525
    """
    check.acute(pressure_angle=pressure_angle)
    return pitch_diameter(module=module, teeth=teeth) * np.cos(pressure_angle)


def involute(*, pressure_angle):
    """Involute function: the angle by which a flank has swung round since the base circle.

    Parameters
    ----------
    pressure_angle : float or array
        Pressure angle at the circle in question [rad], greater than 0 and less than pi/2

    Returns
    -------
    angle : float or array
        Polar angle from the start of the flank on the base circle [rad]

    Raises
    ------
    ValueError
        pressure_angle is outside its range, NaN or infinite.

    Notes
    -----
    At the circle of diameter d the pressure angle has the cosine base diameter / d.
    Source: ISO 21771, involute function (from memory).

    Examples
    --------
    >>> round(float(involute(pressure_angle=0.349066)), 6)
    0.014904
    """
    check.acute(pressure_angle=pressure_angle)
    return np.tan(pressure_angle) - pressure_angle


def tooth_thickness(*, module, teeth, pressure_angle, diameter):
    """Thickness of a tooth along the circle of a given diameter.

    Parameters
    ----------
    module : float or array
        Module [m], greater than 0
    teeth : float or array
        Number of teeth [-], at least 3
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2
    diameter : float or array
        Diameter of the circle [m], at least the base circle diameter

    Returns
    -------
    thickness : float or array
        Thickness of the tooth along the arc [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Nominal teeth, half the pitch thick at the pitch circle.  Half of it, divided by the
    radius, is the angle by which a flank is drawn off the middle of the tooth.  Negative
    beyond the point where the flanks meet.  Source: ISO 21771, transverse tooth thickness
    (from memory).

    Examples
    --------
    >>> round(float(tooth_thickness(
    ...     module=0.0004, teeth=28, pressure_angle=0.349066, diameter=0.012
    ... )) * 1e3, 3)   # mm, at the tip
    0.292
    """
    base = base_diameter(module=module, teeth=teeth, pressure_angle=pressure_angle)
    check.at_least(base, diameter=diameter)
    at_circle = np.arccos(base / diameter)
    swung = np.tan(at_circle) - at_circle  # 0 at the base circle, which `involute` refuses
    return diameter * (pi / (2 * teeth) + involute(pressure_angle=pressure_angle) - swung)


def minimum_teeth(*, pressure_angle, addendum_coefficient=1.0):
    """Number of teeth below which a rack-shaped cutter undercuts the flank.

    Parameters
    ----------
    pressure_angle : float or array
        Pressure angle of the cutter [rad], greater than 0 and less than pi/2
    addendum_coefficient : float or array
        Addendum of the mating teeth in modules [-], greater than 0

    Returns
    -------
    teeth : float or array
        Limit as a real number [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    17.097 at 20 degrees: 18 teeth strictly, 17 in practice.  Teeth without profile shift.
    Source: T. Bevan, Theory of Machines, ch. 10.

    Examples
    --------
    >>> round(float(minimum_teeth(pressure_angle=0.349066)), 2)
    17.1
    """
    check.acute(pressure_angle=pressure_angle)
    check.positive(addendum_coefficient=addendum_coefficient)
    return 2 * addendum_coefficient / np.sin(pressure_angle) ** 2


check.formulas(__name__)
