"""Creep: what is left of the grip of a plastic hub.

======================== ============================================================
creep_exponent           slope of the creep modulus, from two values of the data sheet
creep_modulus            modulus of a plastic under lasting load
relaxation_modulus       modulus of a plastic held at a lasting stretch, as a press fit is
grip_left                share of the first pressure that is left
holding_time             how long a joint holds a wanted torque
======================== ============================================================

The slope on log-log paper stays: the share that a hub loses from the first hour to the first
day it loses once more in the first month.  Heat, oil and (nylon) moisture come on top.
Two moduli a plastic, one hour and 1000 hours, are in the table ``plastics``.
"""

import numpy as np

from mechkit import check


def creep_exponent(*, modulus_1, modulus_2, time_1, time_2):
    """Slope of the creep modulus on log-log paper, from two values of a data sheet.

    Parameters
    ----------
    modulus_1 : float or array
        Creep modulus at the first time [Pa], greater than 0
    modulus_2 : float or array
        Creep modulus at the second time [Pa], greater than 0, at most modulus_1
    time_1 : float or array
        First time under load [s], greater than 0
    time_2 : float or array
        Second time under load [s], greater than time_1

    Returns
    -------
    exponent : float or array
        Slope, falling counted positive [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Sheets give one hour and 1000 hours, at a stress that they name: more stress, more creep.
    Source: power law of W. N. Findley without its instant part; ISO 899-1 for the moduli.

    Examples
    --------
    Acetal copolymer, 2500 MPa after an hour and 1300 after 1000:

    >>> slope = creep_exponent(modulus_1=2.5e9, modulus_2=1.3e9, time_1=3600.0, time_2=3.6e6)
    >>> round(float(slope), 3)
    0.095
    """
    check.positive(modulus_1=modulus_1, modulus_2=modulus_2, time_1=time_1)
    check.up_to(0.0, modulus_1, modulus_2=modulus_2)
    check.above(time_1, time_2=time_2)
    return np.log(modulus_1 / modulus_2) / np.log(time_2 / time_1)


def creep_modulus(*, modulus_1, time_1, time, creep_exponent):
    """Modulus of a plastic under lasting load: stress over all the strain by then.

    Parameters
    ----------
    modulus_1 : float or array
        Creep modulus at the first time [Pa], greater than 0
    time_1 : float or array
        First time under load [s], greater than 0
    time : float or array
        Time under load [s], greater than 0
    creep_exponent : float or array
        Slope of the creep modulus [-], at least 0, less than 1

    Returns
    -------
    modulus : float or array
        Creep modulus [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A year lies one decade beyond the sheets' last value; further is a guess.
    Source: as `creep_exponent`.

    Examples
    --------
    >>> acetal = dict(modulus_1=2.5e9, time_1=3600.0, creep_exponent=0.0947)
    >>> round(creep_modulus(time=3.156e7, **acetal) / 1e6)   # MPa after a year
    1058
    """
    check.positive(modulus_1=modulus_1, time_1=time_1, time=time)
    check.between(0.0, 1.0, creep_exponent=creep_exponent)
    return modulus_1 * (time / time_1) ** -creep_exponent


def relaxation_modulus(*, modulus_1, time_1, time, creep_exponent):
    """Modulus of a plastic held at a lasting stretch: stress by then over the strain.

    Parameters
    ----------
    modulus_1 : float or array
        Creep modulus at the first time [Pa], greater than 0
    time_1 : float or array
        First time under load [s], greater than 0
    time : float or array
        Time since it was stretched [s], greater than 0
    creep_exponent : float or array
        Slope of the creep modulus [-], at least 0, less than 1

    Returns
    -------
    modulus : float or array
        Relaxation modulus, the hub's in `fits.interference_pressure` [Pa]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A hub on a shaft keeps its stretch while its stress fades.  A little less than the creep
    modulus, as stress that has gone no longer creeps.  Strains up to about one in a hundred.
    Source: linear viscoelasticity, Boltzmann's superposition, any text.

    Examples
    --------
    A 6 mm acetal gear with 20 µm on a 2 mm steel shaft, after a year, 3 mm long:

    >>> from mechkit import fits
    >>> modulus = relaxation_modulus(
    ...     modulus_1=2.5e9, time_1=3600.0, creep_exponent=0.0947, time=3.156e7)
    >>> pressure = fits.interference_pressure(
    ...     diameter=2e-3, hub_outer=6e-3, diametral_interference=20e-6, hub_modulus=modulus,
    ...     hub_poisson=0.36, shaft_modulus=207e9, shaft_poisson=0.29)
    >>> torque = fits.slip_torque(pressure=pressure, diameter=2e-3, length=3e-3, friction=0.15)
    >>> round(float(torque) * 1e3, 1)   # mN m
    18.3
    """
    modulus = creep_modulus(
        modulus_1=modulus_1, time_1=time_1, time=time, creep_exponent=creep_exponent
    )
    return modulus * np.sinc(creep_exponent)


def grip_left(*, time_1, time, creep_exponent):
    """Share of a plastic hub's pressure, and slip torque, that is left.

    Parameters
    ----------
    time_1 : float or array
        First time, from which it is counted [s], greater than 0
    time : float or array
        Time since it was pressed on [s], greater than 0
    creep_exponent : float or array
        Slope of the creep modulus [-], at least 0, less than 1

    Returns
    -------
    share : float or array
        Pressure by then over pressure at the first time [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The shaft taken as rigid beside the plastic.  Source: `relaxation_modulus`, at two times.

    Examples
    --------
    Acetal from the first hour to the end of the first year:

    >>> round(grip_left(time_1=3600.0, time=3.156e7, creep_exponent=0.0947), 2)
    0.42
    """
    check.positive(time_1=time_1, time=time)
    check.between(0.0, 1.0, creep_exponent=creep_exponent)
    return (time / time_1) ** -creep_exponent


def holding_time(*, holding_torque, torque, time_1, creep_exponent):
    """How long a plastic hub holds a wanted torque.

    Parameters
    ----------
    holding_torque : float or array
        Torque that the joint holds at the first time [N*m], greater than 0
    torque : float or array
        Torque that it must hold [N*m], greater than 0
    time_1 : float or array
        First time under load [s], greater than 0
    creep_exponent : float or array
        Slope of the creep modulus [-], greater than 0, less than 1

    Returns
    -------
    time : float or array
        Time since it was pressed on [s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A tenth power: a fifth more torque at first buys years.  Beyond ten years it only says
    that creep is not what lets it go.  Source: `grip_left`, solved.

    Examples
    --------
    >>> lasts = holding_time(
    ...     holding_torque=0.040, torque=0.020, time_1=3600.0, creep_exponent=0.0947)
    >>> round(lasts / 86400)   # days
    63
    """
    check.positive(holding_torque=holding_torque, torque=torque, time_1=time_1)
    check.inside(0.0, 1.0, creep_exponent=creep_exponent)
    return time_1 * (holding_torque / torque) ** (1 / creep_exponent)


check.formulas(__name__)
