"""Wear of rubbing pairs: rates, volume, depth, and which pair lasts longer.

========================== ==========================================================
wear_rate_from_archard     specific wear rate from K of V = K W s / H
wear_rate_from_rabinowicz  specific wear rate from K of V = K W s / (3 H)
wear_volume                volume worn off
wear_depth                 depth worn where a point slides all the time
pressure_speed             pressure times sliding speed, the limit of plain bearings
relative_life              life of one pair over that of another
========================== ==========================================================

Wear rates are known to a power of ten at best; compare pairs first, count hours last.  The table
``wear_pairs`` holds a band for each pair without grease and one for what starved or good
lubrication leaves of it, ``friction`` the friction of the same pairs.  Gears: `mechkit.wear.mesh`.
Caution: dust of leaded brass is poison; wipe it up wet, wash your hands.
"""

from mechkit import check


def wear_rate_from_archard(*, archard_coefficient, hardness):
    """Specific wear rate from a wear coefficient after Archard.

    Parameters
    ----------
    archard_coefficient : float or array
        Wear coefficient K of V = K W s / H [-], at least 0
    hardness : float or array
        Indentation hardness of the softer member [Pa], greater than 0

    Returns
    -------
    wear_rate : float or array
        Specific wear rate [m^3/(N*m)]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Books mix the two conventions, a factor of three: ask which one a table means.
    Source: J. F. Archard, W. Hirst 1956, whose coefficients are meant so (from memory).

    Examples
    --------
    >>> round(wear_rate_from_archard(archard_coefficient=6e-4, hardness=1e9) * 1e9, 6)   # mm3/(N m)
    0.0006
    """
    check.not_negative(archard_coefficient=archard_coefficient)
    check.positive(hardness=hardness)
    return archard_coefficient / hardness


def wear_rate_from_rabinowicz(*, rabinowicz_coefficient, hardness):
    """Specific wear rate from a wear coefficient after Rabinowicz.

    Parameters
    ----------
    rabinowicz_coefficient : float or array
        Wear coefficient K of V = K W s / (3 H) [-], at least 0
    hardness : float or array
        Indentation hardness of the softer member [Pa], greater than 0

    Returns
    -------
    wear_rate : float or array
        Specific wear rate [m^3/(N*m)]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Books mix the two conventions, a factor of three: ask which one a table means.
    Source: E. Rabinowicz, Friction and Wear of Materials (from memory).

    Examples
    --------
    >>> brass = wear_rate_from_rabinowicz(rabinowicz_coefficient=6e-4, hardness=1e9)
    >>> round(brass * 1e9, 6)   # mm3/(N m)
    0.0002
    """
    check.not_negative(rabinowicz_coefficient=rabinowicz_coefficient)
    check.positive(hardness=hardness)
    return rabinowicz_coefficient / (3 * hardness)


def wear_volume(*, wear_rate, force, sliding_distance):
    """Volume that wears off one member.

    Parameters
    ----------
    wear_rate : float or array
        Specific wear rate of this member [m^3/(N*m)], at least 0
    force : float or array
        Normal force between the flanks [N], at least 0
    sliding_distance : float or array
        Distance that the contact slides [m], at least 0

    Returns
    -------
    volume : float or array
        Volume [m^3]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Steady wear below the load where mild wear turns severe.  Source: Archard's law.

    Examples
    --------
    >>> round(wear_volume(wear_rate=6e-13, force=1.0, sliding_distance=1000.0) * 1e9, 3)   # mm3
    0.6
    """
    check.not_negative(wear_rate=wear_rate, force=force, sliding_distance=sliding_distance)
    return wear_rate * force * sliding_distance


def wear_depth(*, wear_rate, pressure, sliding_distance):
    """Depth worn at a point that slides under a pressure all the time.

    Parameters
    ----------
    wear_rate : float or array
        Specific wear rate of this member [m^3/(N*m)], at least 0
    pressure : float or array
        Pressure at that point [Pa], at least 0
    sliding_distance : float or array
        Distance that the point slides under that pressure [m], at least 0

    Returns
    -------
    depth : float or array
        Depth [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A bushing's or thrust face's form; at a mesh use `wear.mesh_wear_depth`.  Source: Archard's law.

    Examples
    --------
    >>> round(wear_depth(wear_rate=6e-15, pressure=2e6, sliding_distance=5000.0) * 1e6)   # um
    60
    """
    check.not_negative(wear_rate=wear_rate, pressure=pressure, sliding_distance=sliding_distance)
    return wear_rate * pressure * sliding_distance


def pressure_speed(*, pressure, sliding_speed):
    """Pressure times sliding speed, which limits plastic gears and plain bearings.

    Parameters
    ----------
    pressure : float or array
        Pressure over the projected or contact area [Pa], at least 0
    sliding_speed : float or array
        Sliding speed [m/s], at least 0

    Returns
    -------
    pressure_speed : float or array
        Pressure times speed [Pa*m/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Limits, as the material's sheet gives them, are for steady running and cool surroundings.
    Source: definition.

    Examples
    --------
    >>> round(pressure_speed(pressure=0.5e6, sliding_speed=0.2) / 1e6, 2)   # MPa m/s
    0.1
    """
    check.not_negative(pressure=pressure, sliding_speed=sliding_speed)
    return pressure * sliding_speed


def relative_life(*, wear_rate_1, wear_rate_2):
    """Life of one pair over that of another under the same load and sliding.

    Parameters
    ----------
    wear_rate_1 : float or array
        Specific wear rate of the first pair [m^3/(N*m)], greater than 0
    wear_rate_2 : float or array
        Specific wear rate of the second pair [m^3/(N*m)], greater than 0

    Returns
    -------
    ratio : float or array
        Life of the first over that of the second [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The ratio is safer than the hours: load, area and distance drop out.
    Source: Archard's law.

    Examples
    --------
    >>> round(relative_life(wear_rate_1=6e-14, wear_rate_2=1.5e-12))
    25
    """
    check.positive(wear_rate_1=wear_rate_1, wear_rate_2=wear_rate_2)
    return wear_rate_2 / wear_rate_1


check.formulas(__name__)
