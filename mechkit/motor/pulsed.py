"""Pulsed current with gaps: where it starts, what is left of the mean, how it heats.

======================== ============================================================
gapless_back_emf         highest back voltage at which the current never stops
gapless_inductance       winding inductance needed for that
gapless_frequency        pulse frequency needed for that
conduction_share         share of time in which current flows
pulsed_current           mean current, with gaps or without
gapped_heating           heat over that of the same mean current, smooth
======================== ============================================================

A diode or the pack carries the current on through the pause; switches and diodes without
drop.  Without gaps the ripple is `motor.ripple_current`, the heat `motor.pulse_heating`.
Gaps make a light-running motor race: at a duty its speed then no longer follows the mean
voltage.  Caution: a hot winding burns skin and its varnish smokes.
"""

import numpy as np

from mechkit import check


def gapless_back_emf(*, voltage, duty, frequency, resistance, inductance):
    """Highest back voltage at which the current just never stops.

    Parameters
    ----------
    voltage : float or array
        Height of the pulse [V], greater than 0
    duty : float or array
        Share of time that the pulse is on [-], greater than 0, less than 1
    frequency : float or array
        Pulse frequency [1/s], greater than 0
    resistance : float or array
        Winding resistance [ohm], greater than 0
    inductance : float or array
        Winding inductance [H], greater than 0

    Returns
    -------
    back_emf : float or array
        Back voltage [V], always below duty times voltage

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Between this and duty times voltage the current gaps.  At high frequency the two meet.
    Source: linear circuit with exponentials, any text on choppers.

    Examples
    --------
    An ironless motor of 10 ohm and 0.2 mH at 12 V and half duty, at 120 Hz and at 20 kHz:

    >>> winding = dict(voltage=12.0, duty=0.5, resistance=10.0, inductance=0.2e-3)
    >>> [round(float(gapless_back_emf(frequency=f, **winding)), 2) for f in (120.0, 20e3)]
    [0.0, 2.67]
    """
    check.positive(voltage=voltage, frequency=frequency)
    check.positive(resistance=resistance, inductance=inductance)
    check.inside(0.0, 1.0, duty=duty)
    return voltage * _boundary(duty, resistance / (inductance * frequency))


def _boundary(duty, period):
    """Back voltage per pulse height at which the low just touches zero.

    The period is counted in electrical time constants.
    """
    on, both = (np.expm1(-share * period) for share in (duty, 1.0))
    return np.exp(-(1 - duty) * period) * on / both


def _gapless_period(voltage, duty, back_emf, resistance):
    """Longest period without a gap, in electrical time constants, by halving its logarithm."""
    check.positive(voltage=voltage, resistance=resistance)
    check.inside(0.0, 1.0, duty=duty)
    check.inside(0.0, duty * voltage, back_emf=back_emf)
    level = back_emf / voltage
    low, high = (np.zeros(np.broadcast(duty, level).shape) + end for end in (-40.0, 40.0))
    for _ in range(60):  # down to the last digit
        middle = (low + high) / 2
        above = _boundary(duty, np.exp(middle)) > level
        low, high = np.where(above, middle, low), np.where(above, high, middle)
    return np.exp(low)


def gapless_inductance(*, voltage, duty, back_emf, frequency, resistance):
    """Winding inductance, choke included, from which on the current never stops.

    Parameters
    ----------
    voltage : float or array
        Height of the pulse [V], greater than 0
    duty : float or array
        Share of time that the pulse is on [-], greater than 0, less than 1
    back_emf : float or array
        Back voltage of the turning motor [V], greater than 0, less than duty * voltage
    frequency : float or array
        Pulse frequency [1/s], greater than 0
    resistance : float or array
        Winding resistance [ohm], greater than 0

    Returns
    -------
    inductance : float or array
        Inductance in the motor's circuit [H]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The lighter the load, the nearer the back voltage comes to duty times voltage, and the
    more it takes: no winding is gapless at no load.
    Source: `gapless_back_emf`, solved by halving.

    Examples
    --------
    >>> drive = dict(voltage=12.0, duty=0.5, back_emf=4.0, resistance=10.0)
    >>> round(float(gapless_inductance(frequency=20e3, **drive)) * 1e3, 2)   # mH
    0.36
    """
    check.positive(frequency=frequency)
    return resistance / (frequency * _gapless_period(voltage, duty, back_emf, resistance))


def gapless_frequency(*, voltage, duty, back_emf, resistance, inductance):
    """Pulse frequency from which on the current never stops.

    Parameters
    ----------
    voltage : float or array
        Height of the pulse [V], greater than 0
    duty : float or array
        Share of time that the pulse is on [-], greater than 0, less than 1
    back_emf : float or array
        Back voltage of the turning motor [V], greater than 0, less than duty * voltage
    resistance : float or array
        Winding resistance [ohm], greater than 0
    inductance : float or array
        Winding inductance [H], greater than 0

    Returns
    -------
    frequency : float or array
        Pulse frequency [1/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Source: `gapless_back_emf`, solved by halving.

    Examples
    --------
    >>> drive = dict(voltage=12.0, duty=0.5, back_emf=4.0, resistance=10.0)
    >>> round(float(gapless_frequency(inductance=0.2e-3, **drive)) / 1e3)   # kHz
    36
    """
    check.positive(inductance=inductance)
    return resistance / (inductance * _gapless_period(voltage, duty, back_emf, resistance))


def conduction_share(*, voltage, duty, frequency, resistance, inductance, back_emf):
    """Share of time in which current flows; 1 without gaps.

    Parameters
    ----------
    voltage : float or array
        Height of the pulse [V], greater than 0
    duty : float or array
        Share of time that the pulse is on [-], greater than 0, less than 1
    frequency : float or array
        Pulse frequency [1/s], greater than 0
    resistance : float or array
        Winding resistance [ohm], greater than 0
    inductance : float or array
        Winding inductance [H], greater than 0
    back_emf : float or array
        Back voltage of the turning motor [V], greater than 0, less than voltage

    Returns
    -------
    share : float or array
        Share of the period [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Between the pulses of a gapped current the motor shows its back voltage: some packs
    measure it there.  Source: linear circuit with exponentials, any text on choppers.

    Examples
    --------
    >>> drive = dict(voltage=12.0, duty=0.5, resistance=10.0, inductance=0.2e-3)
    >>> round(float(conduction_share(frequency=2e3, back_emf=5.0, **drive)), 3)
    0.535
    """
    check.positive(voltage=voltage, frequency=frequency)
    check.positive(resistance=resistance, inductance=inductance)
    check.inside(0.0, 1.0, duty=duty)
    check.inside(0.0, voltage, back_emf=back_emf)
    period = resistance / (inductance * frequency)
    peak = (voltage / back_emf - 1) * -np.expm1(-duty * period)  # in back voltage / resistance
    return np.minimum(duty + np.log1p(peak) / period, 1.0)


def pulsed_current(*, voltage, duty, frequency, resistance, inductance, back_emf):
    """Mean current under a pulsed voltage, with gaps or without.

    Parameters
    ----------
    voltage : float or array
        Height of the pulse [V], greater than 0
    duty : float or array
        Share of time that the pulse is on [-], greater than 0, less than 1
    frequency : float or array
        Pulse frequency [1/s], greater than 0
    resistance : float or array
        Winding resistance [ohm], greater than 0
    inductance : float or array
        Winding inductance [H], greater than 0
    back_emf : float or array
        Back voltage of the turning motor [V], greater than 0, less than voltage

    Returns
    -------
    current : float or array
        Mean current, which makes the torque [A]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Over a period the inductance takes nothing; the back voltage counts only while current
    flows.  With gaps the mean is more than mean voltage less back voltage would give.
    Source: balance of the voltages over a period.

    Examples
    --------
    >>> drive = dict(voltage=12.0, duty=0.5, resistance=10.0, inductance=0.2e-3)
    >>> round(float(pulsed_current(frequency=120.0, back_emf=6.0, **drive)), 3)
    0.299
    """
    share = conduction_share(
        voltage=voltage, duty=duty, frequency=frequency,
        resistance=resistance, inductance=inductance, back_emf=back_emf,
    )  # fmt: skip
    return (voltage * duty - back_emf * share) / resistance


def gapped_heating(*, voltage, duty, frequency, resistance, inductance, back_emf):
    """Heat of a current with gaps over the heat of the same mean current, smooth.

    Parameters
    ----------
    voltage : float or array
        Height of the pulse [V], greater than 0
    duty : float or array
        Share of time that the pulse is on [-], greater than 0, less than 1
    frequency : float or array
        Pulse frequency [1/s], greater than 0
    resistance : float or array
        Winding resistance [ohm], greater than 0
    inductance : float or array
        Winding inductance [H], greater than 0
    back_emf : float or array
        Back voltage of the turning motor [V], at least `gapless_back_emf`, less than voltage

    Returns
    -------
    factor : float or array
        Ratio of the two heats [-], its root that of effective to mean current

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Torque follows the mean, heat the mean square: short tall pulses heat most.  A triangle
    that fills a share s of the period has 4 / (3 s).
    Source: balance of the power over a period.

    Examples
    --------
    >>> drive = dict(voltage=12.0, duty=0.5, resistance=10.0, inductance=0.2e-3)
    >>> round(float(gapped_heating(frequency=120.0, back_emf=6.0, **drive)), 2)
    2.0
    """
    circuit = {
        "voltage": voltage, "duty": duty, "frequency": frequency,
        "resistance": resistance, "inductance": inductance,
    }  # fmt: skip
    check.between(gapless_back_emf(**circuit), voltage, back_emf=back_emf)
    mean = pulsed_current(**circuit, back_emf=back_emf)
    rest = np.expm1(-duty * resistance / (inductance * frequency)) * inductance * frequency
    in_pulse = (voltage - back_emf) / resistance * (duty + rest / resistance)
    return (voltage * in_pulse - back_emf * mean) / (resistance * mean**2)


check.formulas(__name__)
