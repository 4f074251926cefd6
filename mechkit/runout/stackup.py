"""Stack-up: how the offsets of bore, bushing, seat and axle add up, and what wobble adds.

============================ ========================================================
worst_case_stack             offset of a stack of parts, all to the same side
root_sum_square_stack        offset of a stack of parts, as a root mean square
face_wobble                  runout of the face of a gear that tilts in its clearance
wobble_eccentricity          offset of the ends of the teeth of a gear that wobbles
============================ ========================================================

What an offset does to a mesh is in `mechkit.runout`.
"""

import numpy as np

from mechkit import check


def worst_case_stack(*, eccentricities):
    """Offset of a stack of parts when every part points to the same side.

    Parameters
    ----------
    eccentricities : array
        Offsets, one a part, along the last axis [m], at least 0

    Returns
    -------
    eccentricity : float or array
        Offset of the stack [m]

    Raises
    ------
    ValueError
        An offset is negative, NaN or infinite.

    Notes
    -----
    The bound that nothing passes.  Turn parts on one another and dial: opposite sides
    subtract, so marking the high spots is the cheapest repair.  Source: tolerance analysis,
    worst case.

    Examples
    --------
    >>> round(float(worst_case_stack(eccentricities=[10e-6, 15e-6, 8e-6]) * 1e6), 1)
    33.0
    """
    check.not_negative(eccentricities=eccentricities)
    return np.sum(eccentricities, axis=-1)


def root_sum_square_stack(*, eccentricities):
    """Offset of a stack of parts put together blindly, as a root mean square.

    Parameters
    ----------
    eccentricities : array
        Offsets, one a part, along the last axis [m], at least 0

    Returns
    -------
    eccentricity : float or array
        Root mean square of the offset of the stack [m]

    Raises
    ------
    ValueError
        An offset is negative, NaN or infinite.

    Notes
    -----
    Every part at an angle of its own, all angles alike probable.  Not a bound: with several
    parts about a third of the assemblies lie above it.  Source: tolerance analysis, root sum
    square.

    Examples
    --------
    >>> round(float(root_sum_square_stack(eccentricities=[10e-6, 15e-6, 8e-6]) * 1e6), 1)
    19.7
    """
    check.not_negative(eccentricities=eccentricities)
    return np.sqrt(np.sum(eccentricities**2, axis=-1))


def face_wobble(*, clearance, length, diameter):
    """Runout of the face of a gear that tilts as far as its clearance lets it.

    Parameters
    ----------
    clearance : float or array
        Clearance of the bore on its axle, on the diameter [m], at least 0
    length : float or array
        Length of the bore that guides the gear [m], greater than 0
    diameter : float or array
        Diameter at which the face is dialed [m], greater than 0

    Returns
    -------
    face_runout : float or array
        Total indicated runout of the face [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Small angles.  A narrow gear without a hub is a poor guide to itself: twice the length
    of bore halves the wobble.  Source: geometry of a bore askew on a shaft.

    Examples
    --------
    >>> round(face_wobble(clearance=10e-6, length=0.002, diameter=0.012) * 1e6)
    60
    """
    check.not_negative(clearance=clearance)
    check.positive(length=length, diameter=diameter)
    return clearance * diameter / length


def wobble_eccentricity(*, face_runout, diameter, face_width):
    """Offset of either end of the teeth of a gear whose middle runs true but wobbles.

    Parameters
    ----------
    face_runout : float or array
        Total indicated runout of the face [m], at least 0
    diameter : float or array
        Diameter at which the face was dialed [m], greater than 0
    face_width : float or array
        Face width of the gear [m], greater than 0

    Returns
    -------
    eccentricity : float or array
        Offset of the teeth at each face, to opposite sides [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Small angles.  The offset is small beside the bearing of the teeth on one end of the
    face, which wobble brings too.  Source: geometry of a disc askew on a shaft.

    Examples
    --------
    >>> round(wobble_eccentricity(face_runout=60e-6, diameter=0.012, face_width=0.002) * 1e6, 1)
    5.0
    """
    check.not_negative(face_runout=face_runout)
    check.positive(diameter=diameter, face_width=face_width)
    return face_runout / diameter * face_width / 2


check.formulas(__name__)
