"""How a sprung engine rides: bounce, how deep a wheel follows, contact on rough rail.

======================== ============================================================
bounce_speed             wheel speed at which the engine bounces on its springs
lift_off_depths          how deep a dip each axle follows before its spring is slack
contact_shares           share of random rail on which the axles keep a least load
======================== ============================================================
"""

import numpy as np

from mechkit import check
from mechkit.suspension import axles, stance


def bounce_speed(*, rate, mass):
    """Speed of rotation at which the engine bounces on its springs by itself.

    Parameters
    ----------
    rate : float or array
        Spring rate of all axles together [N/m], greater than 0
    mass : float or array
        Mass carried by the springs [kg], greater than 0

    Returns
    -------
    speed : float or array
        Bounce, as a speed of rotation [rad/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Straight up and down, without damping.  A wheel, rod or axle gear that is off center and
    turns at this speed makes the engine hop; stiffer or softer springs move the speed.
    Friction of axleboxes in their slots damps it.  Source: mass on a spring, any vibration
    text.

    Examples
    --------
    >>> from math import pi
    >>> round(bounce_speed(rate=1000.0, mass=0.4) * 60 / (2 * pi))   # turns a minute
    477
    """
    check.positive(rate=rate, mass=mass)
    return (rate / mass) ** 0.5


def lift_off_depths(*, positions, rates, mass, center_of_gravity):
    """How deep a dip each axle follows, the others on level rail, before its spring is slack.

    Parameters
    ----------
    positions : array
        Positions of the axles along the frame, one an axle [m]
    rates : float or array
        Spring rates, both springs of an axle together, one an axle [N/m], greater than 0
    mass : float or array
        Mass carried by the springs [kg], greater than 0
    center_of_gravity : float or array
        Position of the center of gravity along the frame [m], between the end axles

    Returns
    -------
    depths : array
        Depth for each axle, infinite where the frame cannot stand without it; below 0 the
        axle needs a hump of that height to carry at all [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite, or the frame cannot stand.

    Notes
    -----
    The frame settles as if the axle were not there; how far it sinks over the empty place is
    the depth.  Right also where another wheel lifts meanwhile.  With a slot that ends
    sooner, the slot decides.  Source: equilibrium of a rigid frame on one-sided springs.

    Examples
    --------
    >>> lift_off_depths(positions=[0, 0.02, 0.04, 0.06], rates=400, mass=0.3,
    ...                 center_of_gravity=0.03).round(4)
    array([0.0061, 0.0026, 0.0026, 0.0061])
    """
    check.positive(rates=rates)
    positions, rates = stance.per_axle(positions, rates)
    mass, center = (np.asarray(each)[..., None] for each in (mass, center_of_gravity))
    gone = np.eye(positions.shape[-1], dtype=bool)
    rear, front = (
        pick(np.where(gone, away, positions[..., None, :]), axis=-1)
        for pick, away in ((np.min, np.inf), (np.max, -np.inf))
    )
    stands = (center >= rear) & (center <= front)
    # a place on the track for each axle, under a spring that hardly pushes
    rises = axles.spring_compressions(
        positions=positions[..., None, :],
        rates=np.where(gone, 1e-9, 1.0) * rates[..., None, :],
        rail_heights=0.0,
        mass=mass,
        center_of_gravity=center,
    )
    return np.where(stands, np.diagonal(rises, axis1=-2, axis2=-1), np.inf)


def contact_shares(
    *,
    positions,
    rates,
    unevenness,
    minimum_load,
    mass,
    center_of_gravity,
    samples=2000,
    seed=1,
):
    """Share of random rail on which the axles keep a least load.

    Parameters
    ----------
    positions : array
        Positions of the axles along the frame, one an axle [m]
    rates : float or array
        Spring rates, both springs of an axle together, one an axle [N/m], greater than 0
    unevenness : float or array
        Root mean square unevenness of the rail, several for a curve [m], at least 0
    minimum_load : float or array
        Least load of an axle for sure contact [N], at least 0
    mass : float or array
        Mass carried by the springs [kg], greater than 0
    center_of_gravity : float or array
        Position of the center of gravity along the frame [m], between the end axles
    samples : int
        Number of places on the track [-], at least 1
    seed : int
        Start of the random numbers; the same seed, the same rail [-], at least 0

    Returns
    -------
    all_axles : float or array
        Share of places where every axle carries the least load [-]
    each_axle : array
        The same for each axle by itself, axles in the last place [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite, or the frame cannot stand.

    Notes
    -----
    Rail heights under the axles are drawn independent and normal; real rail is smoother from
    axle to axle than that, so the share errs low.  The share of N places is sure to about
    1 / sqrt(N).  A wheel that carries nothing may still touch, but dirt stops its current.
    Source: Monte Carlo with `suspension.axle_loads`.

    Examples
    --------
    Rail uneven by 0.1 mm, springs soft and stiff:

    >>> round(float(contact_shares(positions=[0, 0.03, 0.06], rates=400, unevenness=0.0001,
    ...     minimum_load=0.2, mass=0.3, center_of_gravity=0.03)[0]), 2)
    1.0
    >>> round(float(contact_shares(positions=[0, 0.03, 0.06], rates=20000, unevenness=0.0001,
    ...     minimum_load=0.2, mass=0.3, center_of_gravity=0.03)[0]), 1)
    0.5
    """
    check.not_negative(unevenness=unevenness, minimum_load=minimum_load)
    check.single(samples=samples, seed=seed)
    check.whole(1, samples=samples)
    check.whole(0, seed=seed)
    check.finite(positions=positions)
    positions, rates = stance.per_axle(positions, rates)
    draw = np.random.default_rng(int(seed)).standard_normal((int(samples), positions.shape[-1]))
    loads = axles.axle_loads(
        positions=positions[..., None, :],
        rates=rates[..., None, :],
        rail_heights=np.asarray(unevenness)[..., None, None] * draw,
        mass=np.asarray(mass)[..., None],
        center_of_gravity=np.asarray(center_of_gravity)[..., None],
    )
    held = loads >= np.asarray(minimum_load)[..., None, None]
    return held.all(-1).mean(-1), held.mean(-2)


check.formulas(__name__)
