"""Knurls: what rolling one raises, and how far it throws a gear off center.

======================== ============================================================
sharp_height             most that a knurl can raise
raised_height            what a knurl of a given depth raises
bearing_share            share of the bore that its crests carry
knurl_eccentricity       how far uneven crests throw a gear off center
spoiling_height          raised height at which they throw it too far
======================== ============================================================

Straight knurls.  What one holds is in `mechkit.fits.knurl_joints`.
Caution: eye protection; rolling a knurl bends a thin shaft.
"""

from math import pi

import numpy as np

from mechkit import check


def sharp_height(*, knurl_pitch, crest_angle):
    """Most that a knurl can raise above the plain shaft: its crests are sharp then.

    Parameters
    ----------
    knurl_pitch : float or array
        Pitch of a straight knurl, from crest to crest around the shaft [m], greater than 0
    crest_angle : float or array
        Angle between the flanks of a crest [rad], greater than 0, less than pi

    Returns
    -------
    height : float or array
        Height of the crests above the plain shaft [m], half of what the diameter gains

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    What is pressed out of the roots stands up in the crests; nothing is cut away and the
    shaft does not grow longer.  So the smallest gain needs the finest wheel.
    Source: equal areas, derivation in `derivations/fits/knurls.py`.

    Examples
    --------
    A wheel of 80 teeth to the inch, crests of 90 degrees:

    >>> round(float(sharp_height(knurl_pitch=0.0254 / 80, crest_angle=pi / 2)) * 1e3, 3)   # mm
    0.079
    """
    check.positive(knurl_pitch=knurl_pitch)
    check.inside(0.0, pi, crest_angle=crest_angle)
    return knurl_pitch / (4 * np.tan(crest_angle / 2))


def raised_height(*, tooth_depth, knurl_pitch, crest_angle):
    """What a knurl raises above the plain shaft, by its depth.

    Parameters
    ----------
    tooth_depth : float or array
        Depth of the knurl, from crest to root [m], at least 0, at most that of sharp crests
    knurl_pitch : float or array
        Pitch of a straight knurl, from crest to crest around the shaft [m], greater than 0
    crest_angle : float or array
        Angle between the flanks of a crest [rad], greater than 0, less than pi

    Returns
    -------
    height : float or array
        Height of the crests above the plain shaft [m], half of what the diameter gains

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Blunt crests taken as flat; real ones have a lip at either side, so measure over them.
    The roots of a wheel are rounded, and a narrow knurl pushes metal out at its ends: the
    gain comes out less than this.
    Source: equal areas, derivation in `derivations/fits/knurls.py`.

    Examples
    --------
    >>> knurl = dict(knurl_pitch=0.0254 / 80, crest_angle=pi / 2)
    >>> round(float(raised_height(tooth_depth=0.1e-3, **knurl)) * 1e3, 3)   # mm
    0.031
    """
    sharp = 2 * sharp_height(knurl_pitch=knurl_pitch, crest_angle=crest_angle)
    check.up_to(0.0, sharp, tooth_depth=tooth_depth)
    return tooth_depth**2 * np.tan(crest_angle / 2) / knurl_pitch


def bearing_share(*, bite, knurl_pitch, crest_angle):
    """Share of the bore that sharp crests carry at a depth of bite.

    Parameters
    ----------
    bite : float or array
        Depth of the crests in the hub [m], at least 0, at most the depth of the knurl
    knurl_pitch : float or array
        Pitch of a straight knurl, from crest to crest around the shaft [m], greater than 0
    crest_angle : float or array
        Angle between the flanks of a crest [rad], greater than 0, less than pi

    Returns
    -------
    share : float or array
        Area that bears per area of the bore [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Metal that the crests push aside is not counted; it fills the roots.  Worn or blunt
    crests bear more and bite less.  Source: geometry of a wedge.

    Examples
    --------
    >>> knurl = dict(knurl_pitch=0.3e-3, crest_angle=pi / 2)
    >>> round(float(bearing_share(bite=0.01e-3, **knurl)), 3)
    0.067
    """
    deepest = 2 * sharp_height(knurl_pitch=knurl_pitch, crest_angle=crest_angle)
    check.up_to(0.0, deepest, bite=bite)
    return 2 * bite * np.tan(crest_angle / 2) / knurl_pitch


def knurl_eccentricity(*, raised_height, uneven_share):
    """How far a gear sits off center on uneven crests.

    Parameters
    ----------
    raised_height : float or array
        Mean height of the crests above the plain shaft [m], at least 0
    uneven_share : float or array
        Highest less lowest crest in a turn, per mean height [-], 0 to 2

    Returns
    -------
    eccentricity : float or array
        Offset of the center from the shaft's axis [m], half of the total runout

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Of the unevenness, the part that comes once a turn; a ripple of two or three does not
    move the gear.  The crests give alike on all sides, so the hub sits where they push it
    evenly.  Compare with `runout.binding_runout`.  Source: balance of the pressures,
    derivation in `derivations/fits/knurls.py`.

    Examples
    --------
    >>> round(knurl_eccentricity(raised_height=0.05e-3, uneven_share=0.5) * 1e6, 1)   # µm
    12.5
    """
    check.not_negative(raised_height=raised_height)
    check.up_to(0.0, 2.0, uneven_share=uneven_share)
    return raised_height * uneven_share / 2


def spoiling_height(*, eccentricity, uneven_share):
    """Raised height at which uneven crests throw a gear too far off center.

    Parameters
    ----------
    eccentricity : float or array
        Offset of the center that the mesh still allows [m], at least 0
    uneven_share : float or array
        Highest less lowest crest in a turn, per mean height [-], greater than 0, up to 2

    Returns
    -------
    height : float or array
        Mean height of the crests above the plain shaft [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    So a low knurl, which `fits.knurl_interference` shows to be enough, is also the true one.
    Source: `knurl_eccentricity`, solved.

    Examples
    --------
    >>> round(spoiling_height(eccentricity=0.02e-3, uneven_share=0.5) * 1e3, 2)   # mm
    0.08
    """
    check.not_negative(eccentricity=eccentricity)
    check.positive(uneven_share=uneven_share)
    check.up_to(0.0, 2.0, uneven_share=uneven_share)
    return 2 * eccentricity / uneven_share


check.formulas(__name__)
