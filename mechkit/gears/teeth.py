"""Gear teeth: the force they carry, bending at the root, pressure on the flank.

========================== ==========================================================
tangential_force           force at the pitch circle from the torque
tooth_force                force square to the flank from the torque
lewis_form_factor          Lewis form factor, 20 degrees full depth
bending_stress             static bending stress at the root of one tooth
line_contact_pressure      peak pressure where two flanks, or two cylinders, touch
========================== ==========================================================
"""

from functools import cache
from math import pi

import numpy as np

from mechkit import check, tables


def tangential_force(*, torque, pitch_diameter):
    """Tangential force at the pitch circle from the torque on the gear.

    Parameters
    ----------
    torque : float or array
        Torque on the gear [N*m], at least 0
    pitch_diameter : float or array
        Pitch diameter of the gear [m], greater than 0

    Returns
    -------
    tangential_force : float or array
        Tangential force at the pitch circle [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    At a worm wheel it is also the thrust on the worm.  Source: any mechanics text.

    Examples
    --------
    >>> round(tangential_force(torque=0.005, pitch_diameter=0.0112), 2)
    0.89
    """
    check.not_negative(torque=torque)
    check.positive(pitch_diameter=pitch_diameter)
    return 2 * torque / pitch_diameter


def tooth_force(*, torque, base_diameter):
    """Force square to the flank, along the line of action, from the torque on the gear.

    Parameters
    ----------
    torque : float or array
        Torque on the gear [N*m], at least 0
    base_diameter : float or array
        Base circle diameter of the gear [m], greater than 0

    Returns
    -------
    force : float or array
        Force square to the flank [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Friction left out; the whole force on one pair of teeth.  It is this force that wears
    the flank.  Source: J.E. Shigley, Mechanical Engineering Design, spur gear force
    analysis (from memory).

    Examples
    --------
    >>> round(tooth_force(torque=0.005, base_diameter=0.010525), 2)
    0.95
    """
    check.not_negative(torque=torque)
    check.positive(base_diameter=base_diameter)
    return 2 * torque / base_diameter


@cache
def _lewis_table():
    """Numbers of teeth and their Lewis factors, and the factor of the rack."""
    rows = [row for row in tables.rows("lewis") if row.name != "rack"]
    rack = tables.value("lewis", "rack", "lewis_form_factor")
    return np.array([float(row.name) for row in rows]), np.array([row.low for row in rows]), rack


def lewis_form_factor(*, teeth):
    """Lewis form factor of a 20 degree full-depth tooth, from the table.

    Parameters
    ----------
    teeth : float or array
        Number of teeth [-], at least 12

    Returns
    -------
    lewis_form_factor : float or array
        Lewis form factor Y, load at the tip [-]

    Raises
    ------
    ValueError
        teeth is below 12, where the table ends, NaN or infinite.

    Notes
    -----
    Between the rows of the table straight lines; above its last row, 400 teeth, straight
    in 1/teeth to the rack.  The closed form pi (0.154 - 0.912/z) of some books is 4 %
    high at 17 teeth and 8 % at 30.  Undercut below 17 teeth is in the table; shifted,
    stub or 14.5 degree teeth are not.  Source: J.E. Shigley, Mechanical Engineering
    Design, Table 14-2.

    Examples
    --------
    >>> round(float(lewis_form_factor(teeth=29)), 3)
    0.356
    """
    check.at_least(12.0, teeth=teeth)
    counts, factors, rack = _lewis_table()
    beyond = rack - (rack - factors[-1]) * counts[-1] / teeth
    return np.where(teeth > counts[-1], beyond, np.interp(teeth, counts, factors))[()]


def bending_stress(*, tangential_force, face_width, module, lewis_form_factor):
    """Static bending stress at the root of one tooth that carries the whole force.

    Parameters
    ----------
    tangential_force : float or array
        Tangential force at the pitch circle [N], at least 0
    face_width : float or array
        Face width in contact, the narrower gear's [m], greater than 0
    module : float or array
        Module [m], greater than 0
    lewis_form_factor : float or array
        Lewis form factor Y [-], greater than 0

    Returns
    -------
    stress : float or array
        Bending stress at the root [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    No stress concentration at the fillet, no shock, no fatigue, no share of a second
    pair of teeth.  A gear that sits askew bears on one end of its face: take the width
    that shows contact.  Source: W. Lewis, 1892, in J.E. Shigley, Mechanical Engineering
    Design, eq. 14-2 (from memory).

    Examples
    --------
    >>> stress = bending_stress(
    ...     tangential_force=0.9, face_width=0.002, module=0.0004, lewis_form_factor=0.353
    ... )
    >>> round(stress / 1e6, 1)
    3.2
    """
    check.not_negative(tangential_force=tangential_force)
    check.positive(face_width=face_width, module=module, lewis_form_factor=lewis_form_factor)
    return tangential_force / (face_width * module * lewis_form_factor)


def line_contact_pressure(
    *, force, length, radius_1, radius_2, modulus_1, poisson_1, modulus_2, poisson_2
):
    """Peak pressure where two cylinders, or two tooth flanks, touch along a line.

    Parameters
    ----------
    force : float or array
        Force square to the flanks [N], at least 0
    length : float or array
        Length of the line of contact [m], greater than 0
    radius_1, radius_2 : float or array
        Radii of curvature at the contact, both convex [m], greater than 0
    modulus_1 : float or array
        Modulus of elasticity of the first body [Pa], greater than 0
    poisson_1 : float or array
        Poisson's ratio of the first body [-], 0 to 0.5
    modulus_2 : float or array
        Modulus of elasticity of the second body [Pa], greater than 0
    poisson_2 : float or array
        Poisson's ratio of the second body [-], 0 to 0.5

    Returns
    -------
    pressure : float or array
        Peak pressure in the middle of the contact strip [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Smooth elastic bodies, a strip that is narrow against both radii, no friction; the
    mean pressure is pi/4 of the peak.  Source: H. Hertz, in K.L. Johnson, Contact
    Mechanics, sec. 4.2 (from memory).

    Examples
    --------
    >>> pressure = line_contact_pressure(
    ...     force=1.0, length=0.002, radius_1=0.0010, radius_2=0.0019,
    ...     modulus_1=100e9, poisson_1=0.34, modulus_2=100e9, poisson_2=0.34,
    ... )
    >>> round(pressure / 1e6)
    117
    """
    check.not_negative(force=force)
    check.positive(length=length, radius_1=radius_1, radius_2=radius_2)
    check.positive(modulus_1=modulus_1, modulus_2=modulus_2)
    check.poisson(poisson_1=poisson_1, poisson_2=poisson_2)
    compliance = (1 - poisson_1**2) / modulus_1 + (1 - poisson_2**2) / modulus_2
    return np.sqrt(force * (1 / radius_1 + 1 / radius_2) / (pi * length * compliance))


check.formulas(__name__)
