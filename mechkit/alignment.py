"""Alignment: what a bearing out of line costs, and what a soft bed forgives.

========================== ==========================================================
shaft_rate                 stiffness of a shaft held firmly at one end
side_load                  side load where a third bearing pulls a shaft out of line
third_bearing_load         the same where the other two bearings let the shaft tilt
bearing_loads              side loads in any row of bearings out of line
friction_torque            friction torque that a third bearing out of line adds
soft_side_load             side load that is left with the motor on a soft bed
bed_resonance              speed at which a motor shakes on its bed
transmitted_share          share of a shaking force that a soft bed lets through
========================== ==========================================================
"""

from math import pi

import numpy as np
import scipy

from mechkit import bearings, check


def shaft_rate(*, span, shaft_diameter, elastic_modulus):
    """Stiffness of a shaft held firmly at one end and pushed sideways at the other.

    Parameters
    ----------
    span : float or array
        Length from the firm end to the push [m], greater than 0
    shaft_diameter : float or array
        Shaft diameter [m], greater than 0
    elastic_modulus : float or array
        Modulus of elasticity [Pa], greater than 0

    Returns
    -------
    shaft_rate : float or array
        Force per sideways travel [N/m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A slender beam of one diameter, longer than about ten diameters; shorter ones give
    a little by shear.  Source: Budynas and Nisbett, Shigley's Mechanical Engineering
    Design, Table A-9, cantilever with end load.

    Examples
    --------
    >>> round(shaft_rate(span=0.020, shaft_diameter=0.002, elastic_modulus=207e9) / 1e3)
    61
    """
    check.positive(span=span, shaft_diameter=shaft_diameter, elastic_modulus=elastic_modulus)
    second_moment = pi * shaft_diameter**4 / 64
    return 3 * elastic_modulus * second_moment / span**3


def side_load(*, offset, span, shaft_diameter, elastic_modulus):
    """Side load where a bearing out of line bends a shaft that is held firmly elsewhere.

    Parameters
    ----------
    offset : float or array
        How far the bearing is out of line [m], at least 0
    span : float or array
        Length from the firm end to that bearing [m], greater than 0
    shaft_diameter : float or array
        Shaft diameter [m], greater than 0
    elastic_modulus : float or array
        Modulus of elasticity [Pa], greater than 0

    Returns
    -------
    load : float or array
        Side load in that bearing [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The firm end may not tilt: a long bearing, or two close together.  It is the most
    that the offset can cost; where the two other bearings stand apart take
    `third_bearing_load`.  Clearance in the bearings comes off the offset first.  An axis
    that is tilted by an angle is out by angle times span.
    Source: Budynas and Nisbett, Shigley's Mechanical Engineering Design, Table A-9,
    cantilever with end load.

    Examples
    --------
    >>> load = side_load(
    ...     offset=0.05e-3, span=0.020, shaft_diameter=0.002, elastic_modulus=207e9)
    >>> round(load, 1)
    3.0
    """
    check.not_negative(offset=offset)
    return offset * shaft_rate(
        span=span, shaft_diameter=shaft_diameter, elastic_modulus=elastic_modulus
    )


def third_bearing_load(*, offset, bearing_span, span, shaft_diameter, elastic_modulus):
    """Side load in a third bearing out of line, the other two letting the shaft tilt.

    Parameters
    ----------
    offset : float or array
        How far the third bearing is out of line with the other two [m], at least 0
    bearing_span : float or array
        Distance between the two bearings in line [m], greater than 0
    span : float or array
        Distance from the nearer of them to the third [m], greater than 0
    shaft_diameter : float or array
        Shaft diameter [m], greater than 0
    elastic_modulus : float or array
        Modulus of elasticity [Pa], greater than 0

    Returns
    -------
    load : float or array
        Side load in the third bearing [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Short bearings that do not hold the shaft's direction, one shaft diameter throughout,
    no clearance.  The nearer bearing carries more than the third, see `bearing_loads`.
    Source: Budynas and Nisbett, Shigley's Mechanical Engineering Design, Table A-9,
    overhanging load on two simple supports.

    Examples
    --------
    >>> load = third_bearing_load(
    ...     offset=0.05e-3, bearing_span=0.020, span=0.020, shaft_diameter=0.002,
    ...     elastic_modulus=207e9)
    >>> round(load, 1)
    1.5
    """
    check.not_negative(offset=offset)
    check.positive(bearing_span=bearing_span, span=span)
    check.positive(shaft_diameter=shaft_diameter, elastic_modulus=elastic_modulus)
    second_moment = pi * shaft_diameter**4 / 64
    return 3 * elastic_modulus * second_moment * offset / (span**2 * (bearing_span + span))


def bearing_loads(*, positions, offsets, shaft_diameter, elastic_modulus):
    """Side loads of a shaft forced through a row of bearings out of line.

    Parameters
    ----------
    positions : array
        Positions of the bearings along the shaft, in order [m], two or more
    offsets : array
        Sideways offset of each bearing from any straight line [m]
    shaft_diameter : float or array
        Shaft diameter [m], greater than 0
    elastic_modulus : float or array
        Modulus of elasticity [Pa], greater than 0

    Returns
    -------
    loads : array
        Force of each bearing on the shaft, along positive offset [N]

    Raises
    ------
    ValueError
        positions do not rise, or offsets are not one for each; another argument is
        outside its range, NaN or infinite.

    Notes
    -----
    A slender shaft takes the curve of a draftsman's spline; its bearings push where the
    third derivative of that curve jumps.  Short bearings, one shaft diameter, no
    clearance: two shafts in a rigid sleeve count as one.
    Source: natural cubic spline as an elastic beam (any text on splines).

    Examples
    --------
    >>> loads = bearing_loads(
    ...     positions=[0.0, 0.020, 0.040], offsets=[0.0, 0.0, 0.05e-3],
    ...     shaft_diameter=0.002, elastic_modulus=207e9)
    >>> [round(float(load), 1) for load in loads]
    [1.5, -3.0, 1.5]
    """
    check.positive(shaft_diameter=shaft_diameter, elastic_modulus=elastic_modulus)
    check.finite(positions=positions, offsets=offsets)
    places, heights = np.atleast_1d(positions, offsets)
    if places.ndim != 1 or len(places) < 2 or np.any(np.diff(places) <= 0):
        check.refuse("positions", positions, "rising from bearing to bearing, two or more")
    if heights.shape != places.shape:
        check.refuse("offsets", offsets, f"one for each of {len(places)} positions")
    curve = scipy.interpolate.CubicSpline(places, heights, bc_type="natural")
    stiffness = np.expand_dims(elastic_modulus * pi * shaft_diameter**4 / 64, -1)
    shear = stiffness * 6 * np.pad(curve.c[0], 1)
    return np.diff(shear)


def friction_torque(*, friction, offset, bearing_span, span, shaft_diameter, elastic_modulus):
    """Friction torque that a third bearing out of line adds, all three together.

    Parameters
    ----------
    friction : float or array
        Coefficient of friction in the bearings [-], at least 0
    offset : float or array
        How far the third bearing is out of line with the other two [m], at least 0
    bearing_span : float or array
        Distance between the two bearings in line [m], greater than 0
    span : float or array
        Distance from the nearer of them to the third [m], greater than 0
    shaft_diameter : float or array
        Shaft diameter [m], greater than 0
    elastic_modulus : float or array
        Modulus of elasticity [Pa], greater than 0

    Returns
    -------
    friction_torque : float or array
        Added friction torque [N*m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    As `third_bearing_load`; side loads that are there anyway are not counted.
    Source: statics of three bearings, and Coulomb friction at the shaft's surface.

    Examples
    --------
    >>> torque = friction_torque(
    ...     friction=0.1, offset=0.05e-3, bearing_span=0.020, span=0.020,
    ...     shaft_diameter=0.002, elastic_modulus=207e9)
    >>> round(torque * 1e3, 2)   # mN m
    0.61
    """
    third = third_bearing_load(
        offset=offset, bearing_span=bearing_span, span=span,
        shaft_diameter=shaft_diameter, elastic_modulus=elastic_modulus,
    )  # fmt: skip
    all_three = 2 * third * (bearing_span + span) / bearing_span
    return bearings.friction_torque(friction=friction, load=all_three, diameter=shaft_diameter)


def soft_side_load(*, offset, shaft_rate, bed_rate):
    """Side load that an offset leaves when the motor sits on a soft bed.

    Parameters
    ----------
    offset : float or array
        How far the bearing is out of line [m], at least 0
    shaft_rate : float or array
        Stiffness of the shaft against sideways push [N/m], greater than 0
    bed_rate : float or array
        Stiffness of the bed against sideways push [N/m], greater than 0

    Returns
    -------
    load : float or array
        Side load [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Shaft and bed give one after the other, as two springs in series.  A bed far softer
    than the shaft takes up almost the whole offset.
    Source: springs in series, any mechanics text.

    Examples
    --------
    >>> round(soft_side_load(offset=0.05e-3, shaft_rate=61e3, bed_rate=5e3), 2)   # not 3 N
    0.23
    """
    check.not_negative(offset=offset)
    check.positive(shaft_rate=shaft_rate, bed_rate=bed_rate)
    return offset / (1 / shaft_rate + 1 / bed_rate)


def bed_resonance(*, mass, bed_rate):
    """Speed of rotation at which a motor shakes most on its soft bed.

    Parameters
    ----------
    mass : float or array
        Mass of what the bed carries [kg], greater than 0
    bed_rate : float or array
        Stiffness of the bed [N/m], greater than 0

    Returns
    -------
    resonance : float or array
        Resonance [rad/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    One direction, no damping, a frame heavier than the motor.  Rubber is stiffer when
    shaken than when pressed: the real resonance lies higher.
    Source: mass on a spring, any text on vibration.

    Examples
    --------
    >>> from math import pi
    >>> round(bed_resonance(mass=0.030, bed_rate=5e3) * 30 / pi)   # rpm
    3898
    """
    check.positive(mass=mass, bed_rate=bed_rate)
    return np.sqrt(bed_rate / mass)


def transmitted_share(*, speed, resonance, damping_ratio):
    """Share of a shaking force that a soft bed passes on to the frame.

    Parameters
    ----------
    speed : float or array
        Speed of rotation at which the force shakes [rad/s], at least 0
    resonance : float or array
        Resonance of the motor on its bed [rad/s], greater than 0
    damping_ratio : float or array
        Damping over critical damping [-], greater than 0; rubber about 0.05

    Returns
    -------
    share : float or array
        Force into the frame per shaking force [-]; 1 is a rigid bed

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Less than 1 only above 1.41 times the resonance.
    Source: Den Hartog, Mechanical Vibrations, isolation of vibration.

    Examples
    --------
    >>> share = transmitted_share(speed=1047.0, resonance=408.0, damping_ratio=0.05)
    >>> round(float(share), 2)   # at 10 000 rpm
    0.18
    """
    check.not_negative(speed=speed)
    check.positive(resonance=resonance, damping_ratio=damping_ratio)
    tuning = speed / resonance
    damped = (2 * damping_ratio * tuning) ** 2
    return np.sqrt((1 + damped) / ((1 - tuning**2) ** 2 + damped))


check.formulas(__name__)
