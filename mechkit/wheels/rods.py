"""Side rods: what their holes forgive, and what a wheelset has in the track.

======================== ============================================================
forgiven_quartering      quartering error at which the rods begin to bind
forgiven_rod_error       rod length error at which they begin to bind
flange_play              side play of a wheelset between the rails
======================== ============================================================
"""

import numpy as np

from mechkit import check


def forgiven_quartering(*, crankpin_clearance, crank_throw, rod_error=0.0):
    """Quartering error between two coupled axles at which the rods begin to bind.

    Parameters
    ----------
    crankpin_clearance : float or array
        Rod hole less crankpin, on the diameter, the same at both ends [m], at least 0
    crank_throw : float or array
        Crankpin's center off the axle's [m], greater than 0
    rod_error : float or array
        Distance of the rod's holes less the distance of the axles, either sign [m], no more
        than the clearance

    Returns
    -------
    angle : float or array
        Error of one crank on one axle [rad]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Tightest twice a turn, with both rods at 45 degrees: the sign by which a bind of the rods
    is told from an eccentric gear, which comes once.  Small angles; the holes round and their
    axles straight.  Source: derivation in `derivations/wheels/rods.py`.

    Examples
    --------
    >>> round(np.degrees(forgiven_quartering(crankpin_clearance=0.1e-3, crank_throw=4e-3)), 2)
    np.float64(4.05)
    """
    check.positive(crank_throw=crank_throw)
    check.not_negative(crankpin_clearance=crankpin_clearance)
    check.up_to(-crankpin_clearance, crankpin_clearance, rod_error=rod_error)
    return 2 * np.sqrt(2) * (crankpin_clearance - np.abs(rod_error)) / crank_throw


def forgiven_rod_error(*, crankpin_clearance, crank_throw, quartering_error=0.0):
    """Error of the rod's length at which the rods begin to bind, either sign.

    Parameters
    ----------
    crankpin_clearance : float or array
        Rod hole less crankpin, on the diameter, the same at both ends [m], at least 0
    crank_throw : float or array
        Crankpin's center off the axle's [m], greater than 0
    quartering_error : float or array
        Error of one crank on one axle, either sign [rad], no more than the clearance forgives

    Returns
    -------
    error : float or array
        Distance of the rod's holes less the distance of the axles [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The inverse of `forgiven_quartering`: clearance serves one or the other.  Source:
    derivation in `derivations/wheels/rods.py`.

    Examples
    --------
    >>> round(forgiven_rod_error(crankpin_clearance=0.1e-3, crank_throw=4e-3,
    ...                          quartering_error=np.radians(2)) * 1e6, 1)
    np.float64(50.6)
    """
    most = forgiven_quartering(crankpin_clearance=crankpin_clearance, crank_throw=crank_throw)
    check.up_to(-most, most, quartering_error=quartering_error)
    return crankpin_clearance - np.abs(quartering_error) * crank_throw / (2 * np.sqrt(2))


def flange_play(*, track_gauge, back_to_back, flange_width):
    """Side play of a wheelset between the rails, from stop to stop.

    Parameters
    ----------
    track_gauge : float or array
        Inside to inside of the railheads [m], greater than 0
    back_to_back : float or array
        Inside face to inside face of the wheels [m], greater than 0
    flange_width : float or array
        Width of one flange where it meets the railhead [m], greater than 0

    Returns
    -------
    play : float or array
        Side play [m]; negative where the wheelset is wider than the track

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    What stands in the way of the check rails is the other side of the same sum: the
    distance over one flange and to the back of the other wheel.  Limits are the standard's
    of the track in hand.  Source: geometry.

    Examples
    --------
    >>> round(flange_play(track_gauge=22.5e-3, back_to_back=20.3e-3, flange_width=0.8e-3) * 1e3, 2)
    0.6
    """
    check.positive(track_gauge=track_gauge, back_to_back=back_to_back, flange_width=flange_width)
    return track_gauge - back_to_back - 2 * flange_width


check.formulas(__name__)
