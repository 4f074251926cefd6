"""Spring stock: how strong spring wire is, and which sizes lie on the shelf.

======================== ============================================================
music_wire_strength      least tensile strength of music wire
phosphor_bronze_strength least tensile strength of phosphor bronze spring wire
allowable_shear_stress   shear stress that spring wire may carry at rest
nearest_music_wire       nearest size on the shelf
======================== ============================================================

Caution: spring wire under load stores enough to reach an eye; wear glasses when winding,
cutting or trying springs.
"""

from functools import cache

import numpy as np

from mechkit import check, tables


@cache
def _sizes(kind):
    """Diameters [m] and least strengths [Pa] of one kind of wire, thin to thick."""
    named = [name for name in tables.names("wire") if name.startswith(kind)]
    return tuple(
        np.array([tables.band("wire", name, wanted)[end] for name in named])
        for wanted, end in (("diameter", 1), ("tensile_strength", 0))
    )


def music_wire_strength(*, wire_diameter):
    """Least tensile strength of music wire: the thinner, the stronger.

    Parameters
    ----------
    wire_diameter : float or array
        Wire diameter [m], 0.0001016 (0.004 in) to 0.0016002 (0.063 in)

    Returns
    -------
    tensile_strength : float or array
        Least tensile strength [Pa]

    Raises
    ------
    ValueError
        The diameter is outside the table, NaN or infinite.

    Notes
    -----
    Between two sizes of the table the strength runs straight on log paper.  The textbooks'
    A / d^m (201 ksi, 0.145) lies 1 to 3 % above this minimum.  Wire of unknown origin may be
    weaker.  Source: ASTM A228, tensile requirements by diameter.

    Examples
    --------
    >>> round(float(music_wire_strength(wire_diameter=0.00015)) / 1e6)   # MPa
    2868
    """
    diameters, strengths = _sizes("music wire")
    check.up_to(diameters[0], diameters[-1], wire_diameter=wire_diameter)
    return np.exp(np.interp(np.log(wire_diameter), np.log(diameters), np.log(strengths)))


def phosphor_bronze_strength(*, wire_diameter):
    """Least tensile strength of phosphor bronze wire, spring temper.

    Parameters
    ----------
    wire_diameter : float or array
        Wire diameter [m], greater than 0, at most 0.003175 (1/8 in)

    Returns
    -------
    tensile_strength : float or array
        Least tensile strength [Pa]

    Raises
    ------
    ValueError
        The diameter is outside the table, NaN or infinite.

    Notes
    -----
    Falls in steps with the diameter.  Softer and weaker than music wire, but does not rust
    and carries current.  Source: ASTM B159, alloy C51000, temper H08.

    Examples
    --------
    >>> round(float(phosphor_bronze_strength(wire_diameter=0.00015)) / 1e6)   # MPa
    1000
    """
    diameters, strengths = _sizes("phosphor bronze wire")
    check.positive(wire_diameter=wire_diameter)
    check.up_to(0.0, diameters[-1], wire_diameter=wire_diameter)
    return strengths[np.searchsorted(diameters, wire_diameter * (1 - 1e-12))]


def allowable_shear_stress(*, tensile_strength, torsion_share=0.45):
    """Shear stress that spring wire may carry at rest without taking a set.

    Parameters
    ----------
    tensile_strength : float or array
        Tensile strength [Pa], greater than 0
    torsion_share : float or array
        Elastic limit in torsion over tensile strength [-], greater than 0, less than 1

    Returns
    -------
    stress : float or array
        Allowable shear stress [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    0.45 to 0.60 for music wire, take 0.45; 0.35 for bronze and stainless (from memory).
    Compare with `springs.coil_shear_stress` at the force that closes the spring: what is
    safe there cannot be overloaded.  Source: Shigley's Mechanical Engineering Design, 9th
    ed., table 10-5.

    Examples
    --------
    >>> round(allowable_shear_stress(tensile_strength=2868e6) / 1e6)   # MPa
    1291
    """
    check.positive(tensile_strength=tensile_strength)
    check.inside(0.0, 1.0, torsion_share=torsion_share)
    return torsion_share * tensile_strength


def nearest_music_wire(*, wire_diameter):
    """Nearest size of music wire on the shelf.

    Parameters
    ----------
    wire_diameter : float or array
        Wanted wire diameter [m], 0.0001016 (0.004 in) to 0.0016002 (0.063 in)

    Returns
    -------
    wire_diameter : float or array
        Nearest standard diameter [m]

    Raises
    ------
    ValueError
        The diameter is outside the table, NaN or infinite.

    Notes
    -----
    Wire is sold to 0.005 mm (0.0002 in) at these sizes: 3 % of a 0.15 mm wire, 13 % of the
    rate.  Source: ASTM A228, preferred diameters.

    Examples
    --------
    >>> round(float(nearest_music_wire(wire_diameter=0.00015)) * 1000, 4)   # mm
    0.1524
    """
    diameters, _ = _sizes("music wire")
    check.up_to(diameters[0], diameters[-1], wire_diameter=wire_diameter)
    away = abs(np.asarray(wire_diameter)[..., None] - diameters)
    return diameters[np.argmin(away, axis=-1)]


check.formulas(__name__)
