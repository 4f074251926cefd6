"""Windings: the torque and the voltage that they make, and their heat.

========================== ==========================================================
torque_from_current        torque of a current
speed_from_back_emf        speed from the voltage a turned motor makes
warm_resistance            resistance of warm copper
warm_torque_constant       torque constant with a warm magnet
copper_loss                heat that a current makes
pulse_heating              how much more heat a pulsed voltage makes
temperature_rise           where a steady current settles
continuous_current         current for a settled temperature rise
stall_time                 how long a stalled winding lasts
========================== ==========================================================

Caution: a hot winding burns skin and its varnish smokes; let the maker's sheet set the limit.
"""

import numpy as np

from mechkit import check
from mechkit.motor.running import ripple_current


def torque_from_current(*, current, torque_constant):
    """Torque that a current makes, before the motor's own friction takes its share.

    Parameters
    ----------
    current : float or array
        Mean current [A], at least 0
    torque_constant : float or array
        Torque constant [N*m/A], greater than 0

    Returns
    -------
    torque : float or array
        Torque [N*m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Source: definition of the torque constant; holds below saturation of the iron.

    Examples
    --------
    >>> round(torque_from_current(current=0.3, torque_constant=0.007) * 1e3, 2)   # mN m
    2.1
    """
    check.not_negative(current=current)
    check.positive(torque_constant=torque_constant)
    return torque_constant * current


def speed_from_back_emf(*, back_emf, torque_constant):
    """Speed from the voltage that an unpowered, turning motor shows.

    Parameters
    ----------
    back_emf : float or array
        Voltage that the turning motor makes itself [V], at least 0
    torque_constant : float or array
        Torque constant [N*m/A], greater than 0

    Returns
    -------
    speed : float or array
        Speed of rotation [rad/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Holds with open leads and a meter of high resistance.  Source: Faraday's law.

    Examples
    --------
    >>> round(speed_from_back_emf(back_emf=2.1, torque_constant=0.007), 6)
    300.0
    """
    check.not_negative(back_emf=back_emf)
    check.positive(torque_constant=torque_constant)
    return back_emf / torque_constant


def warm_resistance(*, resistance, temperature_rise, temperature_coefficient=0.00393):
    """Resistance of a winding that has warmed.

    Parameters
    ----------
    resistance : float or array
        Winding resistance, cold [ohm], greater than 0
    temperature_rise : float or array
        Temperature rise above the cold reading [kelvin], at least 0
    temperature_coefficient : float or array
        Relative rise of resistance per kelvin [1/kelvin], greater than 0

    Returns
    -------
    resistance : float or array
        Winding resistance, warm [ohm]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The coefficient belongs to a cold reading at 20 degC; brushes and leads do not follow it.
    Source: standard annealed copper, IEC 60028.

    Examples
    --------
    >>> round(warm_resistance(resistance=13.0, temperature_rise=60.0), 1)
    16.1
    """
    check.positive(resistance=resistance, temperature_coefficient=temperature_coefficient)
    check.not_negative(temperature_rise=temperature_rise)
    return resistance * (1 + temperature_coefficient * temperature_rise)


def warm_torque_constant(*, torque_constant, temperature_rise, magnet_coefficient):
    """Torque constant with a warm magnet.

    Parameters
    ----------
    torque_constant : float or array
        Torque constant, cold [N*m/A], greater than 0
    temperature_rise : float or array
        Temperature rise of the magnet [kelvin], 0 <= temperature_rise < 1 / magnet_coefficient
    magnet_coefficient : float or array
        Relative loss of magnet strength per kelvin [1/kelvin], greater than 0

    Returns
    -------
    torque_constant : float or array
        Torque constant, warm [N*m/A]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    About 0.002 for ferrite, 0.0011 for neodymium, 0.0004 for samarium cobalt (from memory).
    Comes back on cooling, unless the magnet's limit was passed.
    Source: maker's data sheets of magnets give the coefficient.

    Examples
    --------
    >>> warm = warm_torque_constant(
    ...     torque_constant=0.007, temperature_rise=60.0, magnet_coefficient=0.002
    ... )
    >>> round(warm, 5)
    0.00616
    """
    check.positive(torque_constant=torque_constant, magnet_coefficient=magnet_coefficient)
    check.between(0.0, 1 / magnet_coefficient, temperature_rise=temperature_rise)
    return torque_constant * (1 - magnet_coefficient * temperature_rise)


def copper_loss(*, current, resistance):
    """Heat that a current makes in the winding.

    Parameters
    ----------
    current : float or array
        Current, effective (rms) value [A], at least 0
    resistance : float or array
        Winding resistance, warm [ohm], greater than 0

    Returns
    -------
    power : float or array
        Power [W]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Brush and iron losses not counted.  Source: Joule's law.

    Examples
    --------
    >>> round(copper_loss(current=0.3, resistance=13.0), 2)
    1.17
    """
    check.not_negative(current=current)
    check.positive(resistance=resistance)
    return current**2 * resistance


def pulse_heating(*, current, voltage, duty, frequency, resistance, inductance):
    """Heat under a pulsed voltage over the heat of the same mean current, smooth.

    Parameters
    ----------
    current : float or array
        Mean current [A], so large that the lowest current stays above 0
    voltage : float or array
        Height of the pulse [V], at least 0
    duty : float or array
        Share of time that the pulse is on [-], 0 <= duty <= 1
    frequency : float or array
        Pulse frequency [1/s], greater than 0
    resistance : float or array
        Winding resistance [ohm], greater than 0
    inductance : float or array
        Winding inductance [H], greater than 0

    Returns
    -------
    factor : float or array
        Ratio of the two heats [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    As `motor.ripple_current`: torque follows the mean, heat the mean square.
    Source: mean power that a pulsed voltage puts into the ripple, any circuits text.

    Examples
    --------
    >>> drive = dict(duty=0.5, frequency=16e3, resistance=10.0, inductance=0.2e-3)
    >>> round(float(pulse_heating(current=0.4, voltage=12.0, **drive)), 2)
    1.37
    """
    circuit = {"frequency": frequency, "resistance": resistance, "inductance": inductance}
    swing = ripple_current(voltage=voltage, duty=duty, **circuit)
    period = resistance / (inductance * frequency)  # in electrical time constants
    fall = np.expm1(-(1 - duty) * period) / np.expm1(-period)
    check.positive(current=current)
    check.at_least(voltage / resistance * (fall - (1 - duty)), current=current)
    mean_square = voltage / resistance * (voltage / resistance * duty * (1 - duty) - swing / period)
    return 1 + mean_square / current**2


def temperature_rise(*, current, resistance, thermal_resistance, temperature_coefficient=0.00393):
    """Temperature rise at which a steady current settles.

    Parameters
    ----------
    current : float or array
        Current, effective (rms) value [A], at least 0 and below run-away
    resistance : float or array
        Winding resistance, cold [ohm], greater than 0
    thermal_resistance : float or array
        Temperature rise per power [kelvin/W], greater than 0
    temperature_coefficient : float or array
        Relative rise of resistance per kelvin [1/kelvin], greater than 0

    Returns
    -------
    temperature_rise : float or array
        Temperature rise of the winding [kelvin]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The warm copper makes more heat; at 1 / sqrt(coefficient * resistance * thermal
    resistance) it never settles.  Measure the thermal resistance in the closed boiler.
    Source: heat balance; maker's data sheets of small motors print the same relation.

    Examples
    --------
    >>> round(temperature_rise(current=0.3, resistance=13.0, thermal_resistance=30.0), 1)
    40.7
    """
    check.positive(resistance=resistance, thermal_resistance=thermal_resistance)
    check.positive(temperature_coefficient=temperature_coefficient)
    cold_rise_per_square = resistance * thermal_resistance
    runaway = 1 / np.sqrt(temperature_coefficient * cold_rise_per_square)
    check.between(0.0, runaway, current=current)
    cold_rise = cold_rise_per_square * current**2
    return cold_rise / (1 - temperature_coefficient * cold_rise)


def continuous_current(
    *, temperature_rise, resistance, thermal_resistance, temperature_coefficient=0.00393
):
    """Current that the winding can carry for ever within a temperature rise.

    Parameters
    ----------
    temperature_rise : float or array
        Temperature rise allowed [kelvin], at least 0
    resistance : float or array
        Winding resistance, cold [ohm], greater than 0
    thermal_resistance : float or array
        Temperature rise per power [kelvin/W], greater than 0
    temperature_coefficient : float or array
        Relative rise of resistance per kelvin [1/kelvin], greater than 0

    Returns
    -------
    current : float or array
        Current, effective (rms) value [A]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    As `temperature_rise`, solved for the current.  Source: as there.

    Examples
    --------
    >>> motor = dict(resistance=13.0, thermal_resistance=30.0)
    >>> round(float(continuous_current(temperature_rise=60.0, **motor)), 2)
    0.35
    """
    check.not_negative(temperature_rise=temperature_rise)
    check.positive(resistance=resistance, thermal_resistance=thermal_resistance)
    check.positive(temperature_coefficient=temperature_coefficient)
    warm = resistance * (1 + temperature_coefficient * temperature_rise)
    return np.sqrt(temperature_rise / (thermal_resistance * warm))


def stall_time(
    *, voltage, resistance, heat_capacity, temperature_rise, temperature_coefficient=0.00393
):
    """How long a stalled winding takes to warm by a given rise.

    Parameters
    ----------
    voltage : float or array
        Voltage at the motor [V], greater than 0
    resistance : float or array
        Winding resistance, cold [ohm], greater than 0
    heat_capacity : float or array
        Heat that warms the winding by one kelvin [J/kelvin], greater than 0
    temperature_rise : float or array
        Temperature rise allowed [kelvin], at least 0
    temperature_coefficient : float or array
        Relative rise of resistance per kelvin [1/kelvin], greater than 0

    Returns
    -------
    time : float or array
        Time [s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    No heat leaves the copper, which errs on the safe side; copper holds 385 J/(kg K).
    Source: heat balance of the copper at constant voltage.

    Examples
    --------
    >>> winding = dict(resistance=13.0, heat_capacity=1.2)
    >>> round(stall_time(voltage=12.0, temperature_rise=80.0, **winding), 1)
    10.0
    """
    check.positive(voltage=voltage, resistance=resistance, heat_capacity=heat_capacity)
    check.not_negative(temperature_rise=temperature_rise)
    check.positive(temperature_coefficient=temperature_coefficient)
    cold_power = voltage**2 / resistance
    warming = temperature_rise + temperature_coefficient * temperature_rise**2 / 2
    return heat_capacity * warming / cold_power


check.formulas(__name__)
