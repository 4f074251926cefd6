"""Joints of a hub on a shaft: what they stand, and what heat and adhesive do to them.

========================== ==========================================================
hub_von_mises_stress       equivalent stress at the bore of a pressed hub
interference_for_torque    interference that holds a wanted torque
yield_interference         interference at which the bore of the hub starts to yield
warm_interference          interference that is left when the joint has warmed up
release_temperature        rise in temperature that lets a joint go
shrink_temperature         rise in temperature that lets a hub slip on
bond_torque                torque that a film of retaining compound holds
========================== ==========================================================

The pressure itself, slip torque and press force are in `mechkit.fits`.
"""

from math import pi

import numpy as np

from mechkit import check
from mechkit.fits import press


def hub_von_mises_stress(*, pressure, diameter, hub_outer):
    """Equivalent (von Mises) stress at the bore of a pressed hub.

    Parameters
    ----------
    pressure : float or array
        Pressure in the joint [Pa], at least 0
    diameter : float or array
        Diameter of the joint [m], greater than 0
    hub_outer : float or array
        Outside diameter of the hub [m], greater than diameter

    Returns
    -------
    stress : float or array
        Equivalent stress at the bore [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Hoop tension and the pressure itself together; no stress along the axis.  The hub
    yields at the bore first.  Corners, keyways and set-screw holes raise it.
    Source: Budynas and Nisbett, Shigley's Mechanical Engineering Design, distortion
    energy, plane stress.

    Examples
    --------
    >>> round(hub_von_mises_stress(pressure=16e6, diameter=0.002, hub_outer=0.003175) / 1e6)
    47
    """
    hoop = press.hub_hoop_stress(pressure=pressure, diameter=diameter, hub_outer=hub_outer)
    return np.sqrt(hoop**2 + hoop * pressure + pressure**2)


def interference_for_torque(
    *, torque, length, friction, diameter, hub_outer,
    hub_modulus, hub_poisson, shaft_modulus, shaft_poisson, shaft_bore=0.0,
):  # fmt: skip
    """Interference, on the diameter, that holds a wanted torque.

    Parameters
    ----------
    torque : float or array
        Torque to hold [N*m], at least 0
    length : float or array
        Length in contact along the axis [m], greater than 0
    friction : float or array
        Coefficient of friction [-], greater than 0: the low end of its band
    diameter : float or array
        Diameter of the joint [m], greater than 0
    hub_outer : float or array
        Outside diameter of the hub [m], greater than diameter
    hub_modulus : float or array
        Modulus of elasticity of the hub [Pa], greater than 0
    hub_poisson : float or array
        Poisson's ratio of the hub [-], 0 to 0.5
    shaft_modulus : float or array
        Modulus of elasticity of the shaft [Pa], greater than 0
    shaft_poisson : float or array
        Poisson's ratio of the shaft [-], 0 to 0.5
    shaft_bore : float or array
        Bore of a hollow shaft [m], 0 <= shaft_bore < diameter

    Returns
    -------
    diametral_interference : float or array
        Shaft less bore, on the diameter [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Elastic; compare with `yield_interference`.  On small shafts the answer is often
    finer than any micrometer: then match to the part, or bond.
    Source: `fits.interference_pressure` and `fits.slip_torque`, solved.

    Examples
    --------
    >>> interference = interference_for_torque(
    ...     torque=0.005, length=0.004, friction=0.1, diameter=0.002, hub_outer=0.003175,
    ...     hub_modulus=97e9, hub_poisson=0.31, shaft_modulus=207e9, shaft_poisson=0.292)
    >>> round(interference * 1e6, 2)   # µm
    0.12
    """
    check.not_negative(torque=torque)
    check.positive(length=length, friction=friction)
    # Lamé's pressure and Coulomb's torque are both proportional to the interference
    per_meter = press.slip_torque(
        pressure=press.interference_pressure(
            diameter=diameter, hub_outer=hub_outer, diametral_interference=1.0,
            hub_modulus=hub_modulus, hub_poisson=hub_poisson,
            shaft_modulus=shaft_modulus, shaft_poisson=shaft_poisson, shaft_bore=shaft_bore,
        ),
        diameter=diameter, length=length, friction=friction,
    )  # fmt: skip
    return torque / per_meter


def yield_interference(
    *, yield_strength, diameter, hub_outer,
    hub_modulus, hub_poisson, shaft_modulus, shaft_poisson, shaft_bore=0.0,
):  # fmt: skip
    """Interference, on the diameter, at which the bore of the hub starts to yield.

    Parameters
    ----------
    yield_strength : float or array
        Yield strength of the hub [Pa], at least 0
    diameter : float or array
        Diameter of the joint [m], greater than 0
    hub_outer : float or array
        Outside diameter of the hub [m], greater than diameter
    hub_modulus : float or array
        Modulus of elasticity of the hub [Pa], greater than 0
    hub_poisson : float or array
        Poisson's ratio of the hub [-], 0 to 0.5
    shaft_modulus : float or array
        Modulus of elasticity of the shaft [Pa], greater than 0
    shaft_poisson : float or array
        Poisson's ratio of the shaft [-], 0 to 0.5
    shaft_bore : float or array
        Bore of a hollow shaft [m], 0 <= shaft_bore < diameter

    Returns
    -------
    diametral_interference : float or array
        Shaft less bore, on the diameter [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    First yield, by von Mises, of the hub alone; a little more still holds, but the bore
    has opened for good.  Ask for the temper of brass: it decides by a factor of two.
    Source: `fits.interference_pressure` and `hub_von_mises_stress`, solved.

    Examples
    --------
    >>> interference = yield_interference(
    ...     yield_strength=124e6, diameter=0.002, hub_outer=0.003175,
    ...     hub_modulus=97e9, hub_poisson=0.31, shaft_modulus=207e9, shaft_poisson=0.292)
    >>> round(float(interference) * 1e6, 1)   # µm, soft brass
    2.6
    """
    check.not_negative(yield_strength=yield_strength)
    per_meter = hub_von_mises_stress(
        pressure=press.interference_pressure(
            diameter=diameter, hub_outer=hub_outer, diametral_interference=1.0,
            hub_modulus=hub_modulus, hub_poisson=hub_poisson,
            shaft_modulus=shaft_modulus, shaft_poisson=shaft_poisson, shaft_bore=shaft_bore,
        ),
        diameter=diameter, hub_outer=hub_outer,
    )  # fmt: skip
    return yield_strength / per_meter


def warm_interference(
    *, diametral_interference, diameter, temperature_rise, hub_expansion, shaft_expansion
):
    """Interference, on the diameter, that is left when the whole joint has warmed up.

    Parameters
    ----------
    diametral_interference : float or array
        Shaft less bore when cold, on the diameter [m]
    diameter : float or array
        Diameter of the joint [m], greater than 0
    temperature_rise : float or array
        Rise in temperature [kelvin], negative when it cools
    hub_expansion : float or array
        Thermal expansion coefficient of the hub [1/kelvin], at least 0
    shaft_expansion : float or array
        Thermal expansion coefficient of the shaft [1/kelvin], at least 0

    Returns
    -------
    diametral_interference : float or array
        Shaft less bore when warm, negative when it is loose [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Hub and shaft at one temperature; to first order in the expansion.  A brass hub on a
    steel shaft loosens when warm, a tungsten one tightens.
    Source: definition of the expansion coefficient.

    Examples
    --------
    >>> left = warm_interference(
    ...     diametral_interference=1.5e-6, diameter=0.002, temperature_rise=50.0,
    ...     hub_expansion=20.5e-6, shaft_expansion=11.5e-6)
    >>> round(left * 1e6, 1)   # µm
    0.6
    """
    check.finite(diametral_interference=diametral_interference, temperature_rise=temperature_rise)
    check.positive(diameter=diameter)
    check.not_negative(hub_expansion=hub_expansion, shaft_expansion=shaft_expansion)
    return diametral_interference - diameter * temperature_rise * (hub_expansion - shaft_expansion)


def release_temperature(*, diametral_interference, diameter, hub_expansion, shaft_expansion):
    """Rise in temperature, of hub and shaft together, that lets a joint go.

    Parameters
    ----------
    diametral_interference : float or array
        Shaft less bore when cold, on the diameter [m], at least 0
    diameter : float or array
        Diameter of the joint [m], greater than 0
    hub_expansion : float or array
        Thermal expansion coefficient of the hub [1/kelvin], greater than shaft_expansion
    shaft_expansion : float or array
        Thermal expansion coefficient of the shaft [1/kelvin], at least 0

    Returns
    -------
    temperature_rise : float or array
        Rise in temperature [kelvin]

    Raises
    ------
    ValueError
        The hub expands no more than the shaft (heat never lets it go), or an argument is
        outside its range, NaN or infinite.

    Notes
    -----
    To first order in the expansion.  Caution: heat drives off bonded magnets, softens
    solder and plastic, and makes hot adhesive fume; ventilate.
    Source: definition of the expansion coefficient.

    Examples
    --------
    >>> rise = release_temperature(
    ...     diametral_interference=1.5e-6, diameter=0.002,
    ...     hub_expansion=20.5e-6, shaft_expansion=11.5e-6)
    >>> round(rise)   # K
    83
    """
    check.not_negative(diametral_interference=diametral_interference)
    check.positive(diameter=diameter)
    check.not_negative(shaft_expansion=shaft_expansion)
    check.above(shaft_expansion, hub_expansion=hub_expansion)
    return diametral_interference / (diameter * (hub_expansion - shaft_expansion))


def shrink_temperature(*, diametral_interference, assembly_clearance, diameter, hub_expansion):
    """Rise in temperature, of the hub alone, that lets it slip on a cold shaft.

    Parameters
    ----------
    diametral_interference : float or array
        Shaft less bore when cold, on the diameter [m], at least 0
    assembly_clearance : float or array
        Clearance wanted while slipping it on, on the diameter [m], at least 0
    diameter : float or array
        Diameter of the joint [m], greater than 0
    hub_expansion : float or array
        Thermal expansion coefficient of the hub [1/kelvin], greater than 0

    Returns
    -------
    temperature_rise : float or array
        Rise in temperature [kelvin]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    To first order.  A small hub cools in seconds and grips at once where it stands: use
    a stop.  Caution: hot parts, gloves.  Source: definition of the expansion coefficient.

    Examples
    --------
    >>> rise = shrink_temperature(
    ...     diametral_interference=2e-6, assembly_clearance=3e-6, diameter=0.002,
    ...     hub_expansion=20.5e-6)
    >>> round(rise)   # K
    122
    """
    check.not_negative(diametral_interference=diametral_interference)
    check.not_negative(assembly_clearance=assembly_clearance)
    check.positive(diameter=diameter, hub_expansion=hub_expansion)
    return (diametral_interference + assembly_clearance) / (diameter * hub_expansion)


def bond_torque(*, shear_strength, diameter, length):
    """Torque that a film of retaining compound holds.

    Parameters
    ----------
    shear_strength : float or array
        Shear strength of the film [Pa], at least 0: hot, and on these two metals
    diameter : float or array
        Diameter of the joint [m], greater than 0
    length : float or array
        Length in contact along the axis [m], greater than 0

    Returns
    -------
    torque : float or array
        Torque at which the film shears [N*m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Full, even film, stressed evenly: for joints about as long as their diameter.  Take
    the compound's sheet for the gap, the cure and the strength when hot, and a third
    of it for shocks and poor cleaning.
    Source: shear stress times area times radius, any mechanics text.

    Examples
    --------
    >>> round(bond_torque(shear_strength=5e6, diameter=0.002, length=0.004) * 1e3)   # mN m
    126
    """
    check.not_negative(shear_strength=shear_strength)
    check.positive(diameter=diameter, length=length)
    return shear_strength * pi * diameter * length * diameter / 2


check.formulas(__name__)
