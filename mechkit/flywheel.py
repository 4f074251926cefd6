"""Flywheels: inertia against envelope, coasting, balance, whirl and stress.

========================== ==========================================================
ring_inertia               moment of inertia of a plain or bored disc
========================== ==========================================================
"""

from math import pi

from mechkit import check


def ring_inertia(*, outer, width, density, bore=0.0):
    """Moment of inertia of a plain or bored disc about its axis.

    Parameters
    ----------
    outer : float or array
        Outside diameter [m], greater than 0
    width : float or array
        Width along the axis [m], greater than 0
    density : float or array
        Density [kg/m^3], greater than 0
    bore : float or array
        Bore diameter [m], 0 <= bore < outer

    Returns
    -------
    inertia : float or array
        Moment of inertia about the shaft [kg*m^2]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Holds for one material with square edges; crowned rims and set-screw holes are not
    counted.  Source: any mechanics text, mass moment of inertia of a hollow cylinder.

    Examples
    --------
    >>> round(ring_inertia(outer=0.016, width=0.010, density=8490) * 1e9)   # g mm^2
    546
    """
    check.positive(outer=outer, width=width, density=density)
    check.between(0.0, outer, bore=bore)
    return pi * density * width / 32 * (outer**4 - bore**4)
