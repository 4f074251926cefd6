"""Joints of a hub pressed over a knurl: local interference, and what it holds.

======================== ============================================================
knurl_pressure           mean pressure of a hub pressed over a knurl
knurl_interference       interference for a wanted pressure
knurl_window             interference that holds a torque and does not yield the hub
knurl_bite               how deep the crests then bite
crest_shear_torque       torque that shears the bitten crests off
======================== ============================================================

Straight knurls with sharp crests, harder than the hub.  Such a joint holds at least
`fits.slip_torque` of its pressure, and at most `crest_shear_torque` on top of that.
What rolling raises, and throws off center, is in `mechkit.fits.knurls`.
Caution: eye protection; a thin hub bursts.
"""

from math import pi

from mechkit import check
from mechkit.fits import joints, knurls, press


def knurl_pressure(
    *, diametral_interference, knurl_pitch, crest_angle, hardness, diameter, hub_outer,
    hub_modulus, hub_poisson, shaft_modulus, shaft_poisson,
):  # fmt: skip
    """Mean pressure of a hub pressed over a knurl, spread over the whole bore.

    Parameters
    ----------
    diametral_interference : float or array
        Diameter over the crests less bore [m], at least 0
    knurl_pitch : float or array
        Pitch of a straight knurl, from crest to crest around the shaft [m], greater than 0
    crest_angle : float or array
        Angle between the flanks of a crest [rad], greater than 0, less than pi
    hardness : float or array
        Indentation hardness of the hub [Pa], greater than 0
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

    Returns
    -------
    pressure : float or array
        Mean pressure in the joint [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Part of the interference is bitten away, where the hub flows under the crests at its
    hardness; the rest stretches hub and shaft.  Both give in proportion, so a knurl is a
    soft press fit: it forgives tens of micrometers where a plain one forgives two.  Holds
    until the hub yields as a whole (`fits.hub_von_mises_stress`) or the roots are full.
    Source: `fits.interference_pressure` and the hardness as pressure of flow under the
    crests (D. Tabor, The Hardness of Metals, from memory); for sharp ones see `knurl_bite`.

    Examples
    --------
    Two thousandths over a knurl of 0.3 mm in a half-hard brass gear, and the plain press fit:

    >>> from mechkit import fits
    >>> joint = dict(diametral_interference=0.05e-3, diameter=0.002, hub_outer=0.006,
    ...     hub_modulus=97e9, hub_poisson=0.31, shaft_modulus=207e9, shaft_poisson=0.292)
    >>> knurl = dict(knurl_pitch=0.3e-3, crest_angle=pi / 2, hardness=1.3e9)
    >>> round(float(knurl_pressure(**knurl, **joint)) / 1e6)   # MPa
    185
    >>> round(float(fits.interference_pressure(**joint)) / 1e6)
    1282
    """
    check.not_negative(diametral_interference=diametral_interference)
    return diametral_interference / _give(
        knurl_pitch, crest_angle, hardness, diameter, hub_outer,
        hub_modulus, hub_poisson, shaft_modulus, shaft_poisson,
    )  # fmt: skip


def _give(
    knurl_pitch, crest_angle, hardness, diameter, hub_outer,
    hub_modulus, hub_poisson, shaft_modulus, shaft_poisson,
):  # fmt: skip
    """Interference that each pascal takes up: what the joint stretches and twice the bite."""
    stretch = press.interference_pressure(
        diameter=diameter, hub_outer=hub_outer, diametral_interference=1.0,
        hub_modulus=hub_modulus, hub_poisson=hub_poisson,
        shaft_modulus=shaft_modulus, shaft_poisson=shaft_poisson,
    )  # fmt: skip
    bite = knurl_bite(
        pressure=1.0, knurl_pitch=knurl_pitch, crest_angle=crest_angle, hardness=hardness
    )
    return 1 / stretch + 2 * bite


def knurl_interference(
    *, pressure, knurl_pitch, crest_angle, hardness, diameter, hub_outer,
    hub_modulus, hub_poisson, shaft_modulus, shaft_poisson,
):  # fmt: skip
    """Interference over the crests for a wanted mean pressure: the least that holds a torque,
    or the most before the hub yields.

    Parameters
    ----------
    pressure : float or array
        Mean pressure in the joint [Pa], at least 0
    knurl_pitch : float or array
        Pitch of a straight knurl, from crest to crest around the shaft [m], greater than 0
    crest_angle : float or array
        Angle between the flanks of a crest [rad], greater than 0, less than pi
    hardness : float or array
        Indentation hardness of the hub [Pa], greater than 0
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

    Returns
    -------
    diametral_interference : float or array
        Diameter over the crests less bore [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Pressure for a torque from `fits.slip_torque`, pressure at first yield from
    `fits.hub_von_mises_stress`.  Past first yield a thick hub still holds, but its bore
    has opened for good.  Source: `knurl_pressure`, solved.

    Examples
    --------
    A 6 mm brass gear on a 2 mm shaft, 3 mm long, friction 0.12, is to hold 20 mN m:

    >>> from mechkit import fits
    >>> pressure = 0.020 / fits.slip_torque(pressure=1, diameter=2e-3, length=3e-3, friction=0.12)
    >>> least = knurl_interference(
    ...     pressure=pressure, knurl_pitch=0.3e-3, crest_angle=pi / 2, hardness=1.3e9,
    ...     diameter=2e-3, hub_outer=6e-3,
    ...     hub_modulus=97e9, hub_poisson=0.31, shaft_modulus=207e9, shaft_poisson=0.292)
    >>> round(float(least) * 1e3, 4)   # mm
    0.0024
    """
    check.not_negative(pressure=pressure)
    return pressure * _give(
        knurl_pitch, crest_angle, hardness, diameter, hub_outer,
        hub_modulus, hub_poisson, shaft_modulus, shaft_poisson,
    )  # fmt: skip


def knurl_window(
    *, torque, length, friction, yield_strength, knurl_pitch, crest_angle, hardness,
    diameter, hub_outer, hub_modulus, hub_poisson, shaft_modulus, shaft_poisson,
):  # fmt: skip
    """Interference over the crests that holds a torque and does not yield the hub.

    Parameters
    ----------
    torque : float or array
        Torque to hold [N*m], at least 0
    length : float or array
        Length in contact along the axis [m], greater than 0
    friction : float or array
        Coefficient of friction [-], greater than 0: the low end of its band
    yield_strength : float or array
        Yield strength of the hub [Pa], at least 0
    knurl_pitch : float or array
        Pitch of a straight knurl, from crest to crest around the shaft [m], greater than 0
    crest_angle : float or array
        Angle between the flanks of a crest [rad], greater than 0, less than pi
    hardness : float or array
        Indentation hardness of the hub [Pa], greater than 0
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

    Returns
    -------
    least : float or array
        Diameter over the crests less bore that holds by friction alone [m]
    most : float or array
        Diameter over the crests less bore at which the hub starts to yield [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Where most is below least, bond.  A gear must also run true: the raised height stays below
    `fits.spoiling_height`.  The trade's knurl of a few thousandths of an inch (common
    practice) lies past most in a brass gear: the hub has yielded around its bore and
    holds all the same, but a thin sleeve opens and a gear is thrown off center the farther.
    Source: `fits.slip_torque` and `fits.hub_von_mises_stress` at `knurl_interference`.

    Examples
    --------
    A half-hard brass gear, 6 mm over a 2 mm shaft, 3 mm long, is to hold 20 mN m:

    >>> window = knurl_window(
    ...     torque=0.020, length=3e-3, friction=0.12, yield_strength=310e6,
    ...     knurl_pitch=0.3e-3, crest_angle=pi / 2, hardness=1.3e9, diameter=2e-3, hub_outer=6e-3,
    ...     hub_modulus=97e9, hub_poisson=0.31, shaft_modulus=207e9, shaft_poisson=0.292)
    >>> [round(float(end) * 1e3, 4) for end in window]   # mm
    [0.0024, 0.0428]
    """
    check.not_negative(torque=torque, yield_strength=yield_strength)
    check.positive(friction=friction)
    give = _give(
        knurl_pitch, crest_angle, hardness, diameter, hub_outer,
        hub_modulus, hub_poisson, shaft_modulus, shaft_poisson,
    )  # fmt: skip
    grip = press.slip_torque(pressure=1.0, diameter=diameter, length=length, friction=friction)
    stress = joints.hub_von_mises_stress(pressure=1.0, diameter=diameter, hub_outer=hub_outer)
    return torque / grip * give, yield_strength / stress * give


def knurl_bite(*, pressure, knurl_pitch, crest_angle, hardness):
    """How deep sharp crests bite under a mean pressure.

    Parameters
    ----------
    pressure : float or array
        Mean pressure in the joint [Pa], at least 0, less than hardness
    knurl_pitch : float or array
        Pitch of a straight knurl, from crest to crest around the shaft [m], greater than 0
    crest_angle : float or array
        Angle between the flanks of a crest [rad], greater than 0, less than pi
    hardness : float or array
        Indentation hardness of the hub [Pa], greater than 0

    Returns
    -------
    bite : float or array
        Depth of the crests in the hub [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The area that bears times the hardness carries the pressure, as under a blunt tool.  Sharp
    crests cut: a smooth wedge in metal that flows by slip lines, the lip beside it counted,
    bites 15 % deeper at 90 degrees, 47 % at 60, as deep at 109 and less where blunter.  A bite
    deeper than the raised height brings the plain shaft into the bore: then it is a plain
    press fit too.  Source: hardness as pressure of flow, as `knurl_pressure`; the wedge:
    R. Hill, The Mathematical Theory of Plasticity (from memory).

    Examples
    --------
    >>> knurl = dict(knurl_pitch=0.3e-3, crest_angle=pi / 2, hardness=1.3e9)
    >>> round(float(knurl_bite(pressure=60e6, **knurl)) * 1e6, 1)   # µm
    6.9
    """
    check.positive(hardness=hardness)
    check.between(0.0, hardness, pressure=pressure)
    deepest = 2 * knurls.sharp_height(knurl_pitch=knurl_pitch, crest_angle=crest_angle)
    return pressure / hardness * deepest


def crest_shear_torque(*, bite, knurl_pitch, crest_angle, shear_strength, diameter, length):
    """Torque that shears the bitten crests off where they enter the bore.

    Parameters
    ----------
    bite : float or array
        Depth of the crests in the hub [m], at least 0, at most the depth of the knurl
    knurl_pitch : float or array
        Pitch of a straight knurl, from crest to crest around the shaft [m], greater than 0
    crest_angle : float or array
        Angle between the flanks of a crest [rad], greater than 0, less than pi
    shear_strength : float or array
        Shear strength of the weaker member [Pa], at least 0
    diameter : float or array
        Diameter of the joint [m], greater than 0
    length : float or array
        Length in contact along the axis [m], greater than 0

    Returns
    -------
    torque : float or array
        Torque that shears them, friction not counted [N*m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    With the strength of the hub it errs low while less than half of the bore bears.  Blunt
    flanks may ride up and out before they shear: then friction alone holds.
    Source: stress times area times radius, any mechanics text.

    Examples
    --------
    >>> knurl = dict(knurl_pitch=0.3e-3, crest_angle=pi / 2)
    >>> torque = crest_shear_torque(
    ...     bite=7e-6, shear_strength=180e6, diameter=2e-3, length=3e-3, **knurl)
    >>> round(float(torque) * 1e3)   # mN m
    158
    """
    check.not_negative(shear_strength=shear_strength)
    check.positive(diameter=diameter, length=length)
    share = knurls.bearing_share(bite=bite, knurl_pitch=knurl_pitch, crest_angle=crest_angle)
    return shear_strength * share * pi * diameter * length * diameter / 2


check.formulas(__name__)
