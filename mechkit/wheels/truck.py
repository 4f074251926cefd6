"""The leading truck: what a curve asks of it, and what keeps a wheel from climbing.

======================== ============================================================
curve_offset             how far a curve pulls the truck out of the middle
derailment_quotient      side force on a flange over the load of its wheel
climbing_limit           quotient at which the flange climbs the rail
least_wheel_load         load that holds a wheel down against a side force
======================== ============================================================
"""

import numpy as np

from mechkit import check


def curve_offset(*, overhang, wheelbase, curve_radius):
    """How far a curve pulls the truck sideways out of the frame's middle.

    Parameters
    ----------
    overhang : float or array
        Truck's center ahead of the first fixed axle [m], greater than 0
    wheelbase : float or array
        First to last fixed axle [m], greater than 0
    curve_radius : float or array
        Radius of the track's center line [m], greater than overhang and wheelbase together

    Returns
    -------
    offset : float or array
        Sideways travel that the truck needs to either side [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    End axles and truck in the middle of the track; what play the wheels have in the gauge
    comes off it.  A centering spring's rate times this is the side force that guides the
    engine's front.  Exact for a circle.  Source: Pythagoras, derivation in
    `derivations/wheels/truck.py`.

    Examples
    --------
    >>> round(curve_offset(overhang=25e-3, wheelbase=44e-3, curve_radius=0.6) * 1e3, 2)
    np.float64(1.44)
    """
    check.positive(overhang=overhang, wheelbase=wheelbase)
    check.above(overhang + wheelbase, curve_radius=curve_radius)
    half = wheelbase / 2
    rises = [np.sqrt(curve_radius**2 - x**2) for x in (half, half + overhang)]
    return rises[0] - rises[1]


def derailment_quotient(*, side_force, wheel_load):
    """Side force on a flange over the load of its wheel.

    Parameters
    ----------
    side_force : float or array
        Force of the flange against the rail [N], at least 0
    wheel_load : float or array
        Load of that wheel on the rail [N], greater than 0

    Returns
    -------
    quotient : float or array
        Quotient [-]; compare with `climbing_limit`

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A wheel that unloads on a low joint doubles its quotient when it has lost half its load.
    Source: definition; any text on the running of railway vehicles.

    Examples
    --------
    >>> derailment_quotient(side_force=0.2, wheel_load=0.4)
    0.5
    """
    check.not_negative(side_force=side_force)
    check.positive(wheel_load=wheel_load)
    return side_force / wheel_load


def climbing_limit(*, flange_angle, friction):
    """Quotient at which a flange climbs the rail: Nadal's limit.

    Parameters
    ----------
    flange_angle : float or array
        Flange's flank from the axle's line at the point of contact [rad], between the angle of
        friction and a quarter turn
    friction : float or array
        Coefficient of friction of flange on rail [-], at least 0

    Returns
    -------
    quotient : float or array
        Quotient [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    On the safe side: a wheel must be at an angle to the rail and keep it for some distance
    before it climbs.  Model flanges are blunter than the full-size one's 60 to 75 degrees;
    measure the angle on a profile.  Source: M. J. Nadal (1908), derivation in
    `derivations/wheels/truck.py`.

    Examples
    --------
    >>> round(climbing_limit(flange_angle=np.radians(70), friction=0.3), 2)
    np.float64(1.34)
    """
    check.not_negative(friction=friction)
    check.inside(np.arctan(friction), np.pi / 2, flange_angle=flange_angle)
    steep = np.tan(flange_angle)
    return (steep - friction) / (1 + friction * steep)


def least_wheel_load(*, side_force, flange_angle, friction):
    """Load that holds a wheel down against a side force.

    Parameters
    ----------
    side_force : float or array
        Force of the flange against the rail [N], at least 0
    flange_angle : float or array
        Flange's flank from the axle's line at the point of contact [rad], between the angle of
        friction and a quarter turn
    friction : float or array
        Coefficient of friction of flange on rail [-], at least 0

    Returns
    -------
    load : float or array
        Load of that wheel [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    What the truck's spring must put on each guiding wheel; the drivers go without it.  Source:
    `climbing_limit` solved for the load.

    Examples
    --------
    >>> round(least_wheel_load(side_force=0.2, flange_angle=np.radians(60), friction=0.3), 3)
    np.float64(0.212)
    """
    check.not_negative(side_force=side_force)
    return side_force / climbing_limit(flange_angle=flange_angle, friction=friction)


check.formulas(__name__)
