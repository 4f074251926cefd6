"""Springs: coil springs of round wire.

======================== ============================================================
spring_index             mean coil diameter in wire diameters
wahl_factor              stress correction for curvature and direct shear, Wahl
bergstraesser_factor     the same, Bergsträsser
coil_spring_rate         rate from wire, coil and number of active coils
active_coils_for_rate    how many active coils give a wanted rate
coil_shear_stress        shear stress in the wire under a force
force_at_stress          force that brings the wire to a stress
deflection               how far a force compresses a spring
solid_length             length when all coils touch
critical_free_length     free length above which a spring may buckle
======================== ============================================================

What the wire can carry and which sizes there are: `mechkit.springs.stock`.
"""

from math import pi

from mechkit import check


def spring_index(*, wire_diameter, mean_diameter):
    """Spring index: mean coil diameter in wire diameters.

    Parameters
    ----------
    wire_diameter, mean_diameter : float or array
        Diameter of the wire, mean diameter of the coil [m], 0 < wire_diameter < mean_diameter

    Returns
    -------
    index : float or array
        Spring index [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Below 4 a spring is hard to wind, above 12 it tangles and buckles.  Outside diameter
    is mean diameter plus one wire, inside diameter mean diameter less one wire.
    Source: Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th ed., ch. 10.

    Examples
    --------
    >>> round(spring_index(wire_diameter=0.00015, mean_diameter=0.00185), 1)
    12.3
    """
    check.positive(wire_diameter=wire_diameter)
    check.above(wire_diameter, mean_diameter=mean_diameter)
    return mean_diameter / wire_diameter


def wahl_factor(*, wire_diameter, mean_diameter):
    """Wahl's stress correction for curvature and direct shear.

    Parameters
    ----------
    wire_diameter, mean_diameter : float or array
        Diameter of the wire, mean diameter of the coil [m], 0 < wire_diameter < mean_diameter

    Returns
    -------
    factor : float or array
        Stress correction factor [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    (4C - 1)/(4C - 4) + 0.615/C with the spring index C.  Round wire, close coils; 0.8 to
    1.6 % above elasticity at an index of 12 to 3.  Source: A. M. Wahl, Mechanical Springs; Shigley's
    Mechanical Engineering Design, 9th ed., eq. 10-4.

    Examples
    --------
    >>> round(wahl_factor(wire_diameter=0.00015, mean_diameter=0.00185), 3)
    1.116
    """
    index = spring_index(wire_diameter=wire_diameter, mean_diameter=mean_diameter)
    return (4 * index - 1) / (4 * index - 4) + 0.615 / index


def bergstraesser_factor(*, wire_diameter, mean_diameter):
    """Bergsträsser's stress correction for curvature and direct shear.

    Parameters
    ----------
    wire_diameter, mean_diameter : float or array
        Diameter of the wire, mean diameter of the coil [m], 0 < wire_diameter < mean_diameter

    Returns
    -------
    factor : float or array
        Stress correction factor [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    (4C + 2)/(4C - 3) with the spring index C.  Round wire, close coils; within 0.2 % of
    elasticity at an index of 3 to 12.  Source: Shigley's
    Mechanical Engineering Design, 9th ed., eq. 10-5.

    Examples
    --------
    >>> round(bergstraesser_factor(wire_diameter=0.00015, mean_diameter=0.00185), 3)
    1.108
    """
    index = spring_index(wire_diameter=wire_diameter, mean_diameter=mean_diameter)
    return (4 * index + 2) / (4 * index - 3)


def coil_spring_rate(*, wire_diameter, mean_diameter, active_coils, shear_modulus):
    """Rate of a helical compression spring of round wire.

    Parameters
    ----------
    wire_diameter, mean_diameter : float or array
        Diameter of the wire, mean diameter of the coil [m], 0 < wire_diameter < mean_diameter
    active_coils : float or array
        Number of active coils [-], greater than 0
    shear_modulus : float or array
        Modulus of rigidity [Pa], greater than 0

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
    The wire twists only: bending and direct shear, below 2 % at an index above 5, are left
    out.  The wire counts to the fourth power, the coil to the third: a wire 5 % over size
    gives 22 % more rate, so measure the rate of the finished spring.  Active coils: all
    but the two that lie flat on their seats.  Source: Shigley's Mechanical Engineering
    Design, 9th ed., eq. 10-9.

    Examples
    --------
    >>> round(coil_spring_rate(wire_diameter=0.00015, mean_diameter=0.00185,
    ...                        active_coils=5, shear_modulus=82.7e9))
    165
    """
    check.positive(wire_diameter=wire_diameter)
    check.above(wire_diameter, mean_diameter=mean_diameter)
    check.positive(active_coils=active_coils, shear_modulus=shear_modulus)
    return shear_modulus * wire_diameter**4 / (8 * mean_diameter**3 * active_coils)


def active_coils_for_rate(*, wire_diameter, mean_diameter, rate, shear_modulus):
    """Number of active coils that gives a wanted rate.

    Parameters
    ----------
    wire_diameter, mean_diameter : float or array
        Diameter of the wire, mean diameter of the coil [m], 0 < wire_diameter < mean_diameter
    rate : float or array
        Spring rate [N/m], greater than 0
    shear_modulus : float or array
        Modulus of rigidity [Pa], greater than 0

    Returns
    -------
    active_coils : float or array
        Number of active coils, not rounded [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    `coil_spring_rate` solved for the coils.  Below 2 active coils the ends decide and the
    formula stops holding; above about 15 a small spring buckles unless guided.  Source:
    Shigley's Mechanical Engineering Design, 9th ed., eq. 10-9.

    Examples
    --------
    >>> round(active_coils_for_rate(wire_diameter=0.00015, mean_diameter=0.00185,
    ...                             rate=150.0, shear_modulus=82.7e9), 1)
    5.5
    """
    check.positive(wire_diameter=wire_diameter)
    check.above(wire_diameter, mean_diameter=mean_diameter)
    check.positive(rate=rate, shear_modulus=shear_modulus)
    return shear_modulus * wire_diameter**4 / (8 * mean_diameter**3 * rate)


def coil_shear_stress(*, force, wire_diameter, mean_diameter):
    """Greatest shear stress in the wire of a coil spring, at the inside of the coil.

    Parameters
    ----------
    force : float or array
        Force [N], at least 0
    wire_diameter, mean_diameter : float or array
        Diameter of the wire, mean diameter of the coil [m], 0 < wire_diameter < mean_diameter

    Returns
    -------
    stress : float or array
        Shear stress, with the Bergsträsser factor [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Compare with `allowable_shear_stress` at the force that closes the spring: what is
    safe there cannot be overloaded.  Source: Shigley's Mechanical Engineering Design,
    9th ed., eq. 10-7.

    Examples
    --------
    >>> round(coil_shear_stress(force=0.25, wire_diameter=0.00015,
    ...                         mean_diameter=0.00185) / 1e6)   # MPa
    387
    """
    check.not_negative(force=force)
    factor = bergstraesser_factor(wire_diameter=wire_diameter, mean_diameter=mean_diameter)
    return factor * 8 * force * mean_diameter / (pi * wire_diameter**3)


def force_at_stress(*, stress, wire_diameter, mean_diameter):
    """Force that brings the wire of a coil spring to a shear stress.

    Parameters
    ----------
    stress : float or array
        Shear stress [Pa], at least 0
    wire_diameter, mean_diameter : float or array
        Diameter of the wire, mean diameter of the coil [m], 0 < wire_diameter < mean_diameter

    Returns
    -------
    force : float or array
        Force [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    `coil_shear_stress` solved for the force.  Source: Shigley's Mechanical Engineering
    Design, 9th ed., eq. 10-7.

    Examples
    --------
    >>> round(force_at_stress(stress=1300e6, wire_diameter=0.00015,
    ...                       mean_diameter=0.00185), 2)
    0.84
    """
    check.not_negative(stress=stress)
    factor = bergstraesser_factor(wire_diameter=wire_diameter, mean_diameter=mean_diameter)
    return pi * wire_diameter**3 * stress / (8 * factor * mean_diameter)


def deflection(*, force, rate):
    """How far a force compresses a spring.

    Parameters
    ----------
    force : float or array
        Force [N], at least 0
    rate : float or array
        Spring rate [N/m], greater than 0

    Returns
    -------
    deflection : float or array
        Compression from the free length [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Holds until the coils touch: compare with free length less `solid_length`.  Source:
    Hooke's law, any mechanics text.

    Examples
    --------
    >>> round(deflection(force=0.25, rate=165.0) * 1000, 2)   # mm
    1.52
    """
    check.not_negative(force=force)
    check.positive(rate=rate)
    return force / rate


def solid_length(*, wire_diameter, total_coils):
    """Length of a coil spring when all coils touch, ends squared and ground.

    Parameters
    ----------
    wire_diameter : float or array
        Wire diameter [m], greater than 0
    total_coils : float or array
        Number of coils, end coils counted [-], at least 1

    Returns
    -------
    solid_length : float or array
        Length closed solid [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Squared ends left unground, the rule with thin wire, add one wire diameter: pass one
    coil more.  Total coils are the active coils and two for squared ends.  Source:
    Shigley's Mechanical Engineering Design, 9th ed., table 10-1.

    Examples
    --------
    >>> round(solid_length(wire_diameter=0.00015, total_coils=7) * 1000, 2)   # mm
    1.05
    """
    check.positive(wire_diameter=wire_diameter)
    check.at_least(1.0, total_coils=total_coils)
    return wire_diameter * total_coils


def critical_free_length(*, mean_diameter, elastic_modulus, shear_modulus, end_condition=0.5):
    """Free length up to which a coil spring cannot buckle, whatever its compression.

    Parameters
    ----------
    mean_diameter : float or array
        Mean coil diameter [m], greater than 0
    elastic_modulus, shear_modulus : float or array
        Moduli of elasticity and of rigidity [Pa], 0 < shear_modulus < elastic_modulus
    end_condition : float or array
        0.5 between flat seats, 0.707 one end pivoted, 1 both, 2 one end free [-], greater than 0

    Returns
    -------
    free_length : float or array
        Greatest free length that is stable everywhere [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    2.5 to 2.6 coil diameters over the end condition for steel.  A longer spring may still stand
    if it is little compressed, or in a pocket or over a pin.  Source: Shigley's Mechanical
    Engineering Design, 9th ed., eq. 10-12.

    Examples
    --------
    >>> round(critical_free_length(mean_diameter=0.00185, elastic_modulus=203.4e9,
    ...                            shear_modulus=82.7e9) * 1000, 1)   # mm
    9.4
    """
    check.positive(mean_diameter=mean_diameter, end_condition=end_condition)
    check.positive(shear_modulus=shear_modulus)
    check.above(shear_modulus, elastic_modulus=elastic_modulus)
    slack = 2 * (elastic_modulus - shear_modulus) / (2 * shear_modulus + elastic_modulus)
    return pi * mean_diameter / end_condition * slack**0.5


check.formulas(__name__)
