"""Bowed and waved washers as springs: the shim that takes up end play and keeps pushing.

======================== ============================================================
waved_washer_factor      deflection factor of a narrow ring, from its number of waves
waved_washer_rate        rate of a bowed or waved washer
bowed_washer_stress      bending stress of a bowed washer
======================== ============================================================
"""

from math import pi

import numpy as np

from mechkit import check


def waved_washer_factor(*, waves, poisson):
    """Deflection factor of a narrow waved ring pressed between flats.

    Parameters
    ----------
    waves : float or array
        Number of waves, 2 for a plain bow [-], at least 2
    poisson : float or array
        Poisson's ratio [-], 0 to 0.5

    Returns
    -------
    deflection_factor : float or array
        Deflection factor [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A ring of thin strip bends and twists between its crests and troughs: 4.0 for two waves,
    2.6 for three, 2.3 for four, towards pi^3/16 = 1.94 for many; straight strip hinged at
    the crests would give 7.8.  In print: 3.88 up to 4 waves, 2.90, 2.30, 2.13 above, or 2.4
    for all (from memory).  A flat ring pressed evenly across its width agrees within 4 % up
    to a width of 0.3 mean diameters (finite elements).  Source: bending and twisting of a
    curved strip, Fourier series.

    Examples
    --------
    >>> round(float(waved_washer_factor(waves=2, poisson=0.3)), 2)
    3.98
    """
    check.at_least(2.0, waves=waves)
    check.poisson(poisson=poisson)
    twist = 2 / (1 + poisson)  # torsion over bending stiffness of strip
    half = pi / (2 * waves)
    slope = (half**2 / np.cos(half) ** 2 - half * np.tan(half)) / 4
    return 6 / pi * waves**4 / twist * (half**2 / 2 - half * np.tan(half) / 2 + (1 + twist) * slope)


def waved_washer_rate(
    *, elastic_modulus, width, thickness, mean_diameter, waves, deflection_factor
):
    """Rate of a bowed or waved washer between flats, until it is nearly flat.

    Parameters
    ----------
    elastic_modulus : float or array
        Modulus of elasticity [Pa], greater than 0
    width : float or array
        Radial width of the washer [m], greater than 0
    thickness : float or array
        Thickness of the sheet [m], greater than 0
    mean_diameter : float or array
        Mean diameter of the washer [m], greater than width
    waves : float or array
        Number of waves, 2 for a plain bow [-], at least 2
    deflection_factor : float or array
        Deflection factor [-], greater than 0; 1.9 to 7.8 in print

    Returns
    -------
    rate : float or array
        Spring rate [N/m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Books differ by a factor of four in the deflection factor, with how the crests are held;
    `waved_washer_factor` gives it for a ring between flats, where 2.4, often printed (from
    memory), would make a plain bow 1.7 times too stiff.  One printed form multiplies the rate
    by outside over inside diameter, which finite elements do not bear out.  Take the band,
    and measure one: a weight on top, an indicator beside.  Source: beam over each wave.

    Examples
    --------
    >>> round(waved_washer_rate(elastic_modulus=103e9, width=0.0008, thickness=0.0001,
    ...     mean_diameter=0.0035, waves=2, deflection_factor=3.97) / 1000, 1)   # N/mm
    7.7
    """
    check.positive(elastic_modulus=elastic_modulus, width=width, thickness=thickness)
    check.above(width, mean_diameter=mean_diameter)
    check.at_least(2.0, waves=waves)
    check.positive(deflection_factor=deflection_factor)
    return (
        elastic_modulus * width * thickness**3 * waves**4 / (deflection_factor * mean_diameter**3)
    )


def bowed_washer_stress(*, elastic_modulus, deflection, thickness, outer):
    """Bending stress of a plain bowed washer that is pressed by some deflection.

    Parameters
    ----------
    elastic_modulus : float or array
        Modulus of elasticity [Pa], greater than 0
    deflection : float or array
        Deflection from the free height [m], at least 0
    thickness : float or array
        Thickness of the sheet [m], greater than 0
    outer : float or array
        Outside diameter [m], greater than 0

    Returns
    -------
    stress : float or array
        Bending stress [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    6 E f t / D^2, a rule that errs safe: bending of a narrow ring (`waved_washer_factor`) gives
    half of it with the mean diameter in place of the outside one, so it is 1.9 times the
    ring's stress for thin rings and 1.3 times where the width is a fifth of the outside
    diameter.  Across a wide ring stress is not even.  A shim bowed more than its yield allows takes a set at the first
    squeeze and keeps only the rest of its bow.  Source: curved washer, as reprinted from the
    Navy's Handbook of Reliability Prediction Procedures for Mechanical Equipment, ch. 4.

    Examples
    --------
    >>> round(bowed_washer_stress(elastic_modulus=103e9, deflection=0.0001,
    ...                           thickness=0.0001, outer=0.0043) / 1e6)   # MPa
    334
    """
    check.positive(elastic_modulus=elastic_modulus, thickness=thickness, outer=outer)
    check.not_negative(deflection=deflection)
    return 6 * elastic_modulus * deflection * thickness / outer**2


check.formulas(__name__)
