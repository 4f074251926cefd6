"""Wheelsets and track: how far a wheel that was pulled may lie off when it goes back.

======================== ============================================================
wheel_check_gauge        back of one wheel to the face of the other's flange
frog_flangeway           flangeway at the frog
check_flangeway          flangeway at the check rail
back_to_back_window      back-to-back that passes every frog of a track
press_freedom            how far off the middle of that window a wheel may lie
======================== ============================================================

Limits of the open standards are in the table ``track``; side play is `wheels.flange_play`.
A pulled wheel goes back on its own side: the insulated ones of all axles face one rail,
and a wheel turned round joins the rails through the frame.
"""

from mechkit import check


def wheel_check_gauge(*, back_to_back, flange_width):
    """Check gauge of a wheelset: back of one wheel to the face of the other's flange.

    Parameters
    ----------
    back_to_back : float or array
        Inside face to inside face of the wheels [m], greater than 0
    flange_width : float or array
        Width of one flange where it meets the railhead [m], greater than 0

    Returns
    -------
    check_gauge : float or array
        Check gauge of the wheelset [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    With one wheel's back on the check rail, the other's flange must miss the point of the
    frog: no more than the track's own check gauge.  Source: NEM 110/310 supplement, 2009.

    Examples
    --------
    >>> round(wheel_check_gauge(back_to_back=20.32e-3, flange_width=0.76e-3) * 1e3, 2)   # mm
    21.08
    """
    check.positive(back_to_back=back_to_back, flange_width=flange_width)
    return back_to_back + flange_width


def frog_flangeway(*, check_gauge, check_span):
    """Flangeway at the frog, between its point and the wing rail.

    Parameters
    ----------
    check_gauge : float or array
        Check rail's face to the gauge face of the frog [m], greater than 0
    check_span : float or array
        Check rail's face to the wing rail's face [m], greater than 0, less than check_gauge

    Returns
    -------
    flangeway : float or array
        Flangeway [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A wheel drops into a flangeway wider than its tread carries.  Source: NMRA S-3.2, where
    the span is derived from the other two.

    Examples
    --------
    >>> round(frog_flangeway(check_gauge=21.31e-3, check_span=20.04e-3) * 1e3, 2)   # mm
    1.27
    """
    check.positive(check_gauge=check_gauge)
    check.inside(0.0, check_gauge, check_span=check_span)
    return check_gauge - check_span


def check_flangeway(*, track_gauge, check_gauge):
    """Flangeway at the check rail.

    Parameters
    ----------
    track_gauge : float or array
        Inside to inside of the railheads [m], greater than 0
    check_gauge : float or array
        Check rail's face to the gauge face of the frog [m], greater than 0, less than
        track_gauge

    Returns
    -------
    flangeway : float or array
        Flangeway [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Wide gauge at the frog wants a wider one here: the check gauge rules, not the flangeway.
    Source: NEM 110, note 5.

    Examples
    --------
    >>> round(check_flangeway(track_gauge=22.43e-3, check_gauge=21.31e-3) * 1e3, 2)   # mm
    1.12
    """
    check.positive(track_gauge=track_gauge)
    check.inside(0.0, track_gauge, check_gauge=check_gauge)
    return track_gauge - check_gauge


def back_to_back_window(*, check_gauge, check_span, flange_width):
    """Least and most back-to-back of a wheelset that passes every frog of a track.

    Parameters
    ----------
    check_gauge : float or array
        Check rail's face to the gauge face of the frog, the least on the track [m],
        greater than 0
    check_span : float or array
        Check rail's face to the wing rail's face, the most on the track [m], greater than
        0, less than check_gauge
    flange_width : float or array
        Width of one flange where it meets the railhead, the thickest [m], greater than 0

    Returns
    -------
    least : float or array
        Least back-to-back, below which the wheels bind between check and wing rail [m]
    most : float or array
        Most back-to-back, above which a flange may pick the point of the frog [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Where most is below least, flange and track do not belong together.
    Source: NMRA S-3.2 and S-4.2; NEM 110/310 supplement, 2009, says both in words.

    Examples
    --------
    The limits of S, with a flange of 0.030 in:

    >>> window = back_to_back_window(
    ...     check_gauge=21.31e-3, check_span=20.27e-3, flange_width=0.76e-3)
    >>> [round(end * 1e3, 2) for end in window]   # mm
    [20.27, 20.55]
    """
    check.positive(check_gauge=check_gauge, flange_width=flange_width)
    check.inside(0.0, check_gauge, check_span=check_span)
    return check_span, check_gauge - flange_width


def press_freedom(*, check_gauge, check_span, flange_width, face_runout=0.0):
    """How far either way from the middle of its window a re-pressed wheel may lie.

    Parameters
    ----------
    check_gauge : float or array
        Check rail's face to the gauge face of the frog, the least on the track [m],
        greater than 0
    check_span : float or array
        Check rail's face to the wing rail's face, the most on the track [m], greater than
        0, less than check_gauge
    flange_width : float or array
        Width of one flange where it meets the railhead, the thickest [m], greater than 0
    face_runout : float or array
        Total indicated runout of the wheel's face at the flange [m], at least 0

    Returns
    -------
    freedom : float or array
        Distance from the middle [m]; negative where no place is right

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Two wheels pulled share it.  A wheel that wobbles passes through a whole range of
    back-to-backs in a turn, and that comes off.  Source: `back_to_back_window`.

    Examples
    --------
    >>> limits = dict(check_gauge=21.31e-3, check_span=20.27e-3, flange_width=0.76e-3)
    >>> round(press_freedom(**limits, face_runout=0.1e-3) * 1e3, 2)   # mm
    0.09
    """
    check.not_negative(face_runout=face_runout)
    least, most = back_to_back_window(
        check_gauge=check_gauge, check_span=check_span, flange_width=flange_width
    )
    return (most - least - face_runout) / 2


check.formulas(__name__)
