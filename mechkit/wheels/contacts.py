"""Contact of a wheel on its rail: what it drops, and what breaks its film.

======================== ============================================================
contact_spot             radius of the spot where metal touches metal
constriction_resistance  resistance of the current crowding into that spot
tarnish_resistance       resistance of a film over it
path_resistance          resistance from rail to rail, wheels side by side
contact_temperature      temperature of a spot by the voltage across it
softening_voltage        voltage across a spot at which its metal softens
punctured_film           thickest film that a voltage breaks through
======================== ============================================================

Why a crawl on a few volts loses contact where full track voltage does not: the drop is the
same for the same current but a larger share of what there is, and a film thicker than
`punctured_film` stays whole.  Under a pulsed supply the height of the pulse counts.
"""

from math import pi

import numpy as np

from mechkit import check
from mechkit.names import LORENZ_NUMBER


def contact_spot(*, force, hardness):
    """Radius of the spot where metal touches metal, all of it in one.

    Parameters
    ----------
    force : float or array
        Force of the wheel on the rail [N], at least 0
    hardness : float or array
        Indentation hardness of the softer member [Pa], greater than 0

    Returns
    -------
    radius : float or array
        Radius of the spot [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The peaks that touch flow until they carry the force; how many there are matters little
    while they lie close together.  The spot is far smaller than Hertz's ellipse.
    Source: R. Holm, Electric Contacts (from memory).

    Examples
    --------
    >>> round(float(contact_spot(force=0.5, hardness=1.3e9)) * 1e6, 1)   # µm
    11.1
    """
    check.not_negative(force=force)
    check.positive(hardness=hardness)
    return np.sqrt(force / (pi * hardness))


def constriction_resistance(*, force, hardness, resistivity_1, resistivity_2):
    """Resistance of the current crowding into the spot, both metals together.

    Parameters
    ----------
    force : float or array
        Force of the wheel on the rail [N], greater than 0
    hardness : float or array
        Indentation hardness of the softer member [Pa], greater than 0
    resistivity_1 : float or array
        Resistivity of the wheel's metal [ohm*m], at least 0
    resistivity_2 : float or array
        Resistivity of the rail's metal [ohm*m], at least 0

    Returns
    -------
    contact_resistance : float or array
        Resistance of one clean contact [ohm]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Clean metal: some milliohms, never what stops an engine.  Falls with the root of the
    force only.  Source: R. Holm (from memory); for one metal, resistivity over twice the
    radius, in R. Timsit, Connector TekNote, May 2001.

    Examples
    --------
    A brass tire on nickel silver rail:

    >>> clean = constriction_resistance(
    ...     force=0.5, hardness=1.3e9, resistivity_1=6.6e-8, resistivity_2=30e-8)
    >>> round(float(clean) * 1e3, 1)   # milliohm
    8.3
    """
    check.positive(force=force)
    check.not_negative(resistivity_1=resistivity_1, resistivity_2=resistivity_2)
    return (resistivity_1 + resistivity_2) / (4 * contact_spot(force=force, hardness=hardness))


def tarnish_resistance(*, force, hardness, film_resistance):
    """Resistance of a film over the spot.

    Parameters
    ----------
    force : float or array
        Force of the wheel on the rail [N], greater than 0
    hardness : float or array
        Indentation hardness of the softer member [Pa], greater than 0
    film_resistance : float or array
        Resistance of the film times its area [ohm*m^2], at least 0

    Returns
    -------
    contact_resistance : float or array
        Resistance of the film in one contact [ohm]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Comes on top of the constriction, falls with the force itself, and spreads over many
    decades: measure it.  From volts lost and amperes, with the engine held, it follows.
    Source: R. Holm, Electric Contacts (from memory).

    Examples
    --------
    >>> dirty = tarnish_resistance(force=0.5, hardness=1.3e9, film_resistance=1e-9)
    >>> round(float(dirty), 1)   # ohm
    2.6
    """
    check.positive(force=force)
    check.not_negative(film_resistance=film_resistance)
    return film_resistance / (pi * contact_spot(force=force, hardness=hardness) ** 2)


def path_resistance(*, contact_resistance, wheels_1, wheels_2):
    """Resistance from rail to rail through the wheels, those of one rail side by side.

    Parameters
    ----------
    contact_resistance : float or array
        Resistance of one wheel on its rail [ohm], at least 0
    wheels_1 : int or array
        Wheels that collect from one rail [-], at least 1
    wheels_2 : int or array
        Wheels that collect from the other rail [-], at least 1

    Returns
    -------
    resistance : float or array
        Resistance in the motor's circuit [ohm]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    All wheels alike and carrying.  Add it to the winding's in `motor.speed` and
    `motor.starting_voltage`.  Source: resistances side by side and in a row.

    Examples
    --------
    >>> round(path_resistance(contact_resistance=2.6, wheels_1=4, wheels_2=2), 2)
    1.95
    """
    check.not_negative(contact_resistance=contact_resistance)
    check.whole(1, wheels_1=wheels_1, wheels_2=wheels_2)
    return contact_resistance * (1 / wheels_1 + 1 / wheels_2)


def contact_temperature(*, contact_voltage, ambient):
    """Temperature of a spot by the voltage across it.

    Parameters
    ----------
    contact_voltage : float or array
        Voltage across one contact [V], at least 0
    ambient : float or array
        Absolute temperature of the metal around [kelvin], greater than 0

    Returns
    -------
    temperature : float or array
        Absolute temperature of the spot [kelvin]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Metal on metal, both members alike, however large the spot and whatever the metal;
    steady, while a running wheel leaves its spots at once.
    Source: F. Kohlrausch, with the law of Wiedemann and Franz (from memory).

    Examples
    --------
    >>> round(float(contact_temperature(contact_voltage=0.1, ambient=293.0)))   # K
    434
    """
    check.not_negative(contact_voltage=contact_voltage)
    check.positive(ambient=ambient)
    return np.sqrt(ambient**2 + contact_voltage**2 / (4 * LORENZ_NUMBER))


def softening_voltage(*, temperature, ambient):
    """Voltage across a spot at which its metal reaches a temperature, as that of softening.

    Parameters
    ----------
    temperature : float or array
        Absolute temperature of the spot [kelvin], at least ambient
    ambient : float or array
        Absolute temperature of the metal around [kelvin], greater than 0

    Returns
    -------
    contact_voltage : float or array
        Voltage across one contact [V]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Above it a spot grows by itself until its drop is this again: so a clean contact never
    drops much more, and a volt lost at a wheel is a film, not the metal.
    Source: as `contact_temperature`, solved.

    Examples
    --------
    Copper softens at about 190 degC:

    >>> round(float(softening_voltage(temperature=463.0, ambient=293.0)), 2)
    0.11
    """
    check.positive(ambient=ambient)
    check.at_least(ambient, temperature=temperature)
    return 2 * np.sqrt(LORENZ_NUMBER * (temperature**2 - ambient**2))


def punctured_film(*, voltage, film_strength):
    """Thickest film that a voltage breaks through.

    Parameters
    ----------
    voltage : float or array
        Open voltage between wheel and rail [V], at least 0
    film_strength : float or array
        Field that breaks through a film [V/m], greater than 0

    Returns
    -------
    thickness : float or array
        Thickness of the film [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    With the circuit open the whole track voltage stands across the film.  Of the order of
    100 V/µm for tarnish; dust and oil take far more and must be wiped or crushed.
    Source: R. Holm on fritting (from memory).

    Examples
    --------
    A slow pass at 3 V and digital track at 16 V:

    >>> [round(punctured_film(voltage=u, film_strength=1e8) * 1e9) for u in (3.0, 16.0)]   # nm
    [30, 160]
    """
    check.not_negative(voltage=voltage)
    check.positive(film_strength=film_strength)
    return voltage / film_strength


check.formulas(__name__)
