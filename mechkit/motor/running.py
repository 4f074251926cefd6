"""Permanent-magnet motors: constants from the bench, speed, current, start, ripple.

========================== ==========================================================
torque_constant            from no-load speed and current
friction_torque            the motor's own, from the no-load current
stall_current              current at standstill
current                    current for a torque
speed                      running speed under a load
starting_voltage           voltage at which it breaks away
maximum_efficiency         best efficiency, from no-load and stall current
mechanical_time_constant   time to 63 % of the speed
shorted_damping            braking with the leads shorted
ripple_current             current ripple under a pulsed voltage
========================== ==========================================================

The torque constant [N*m/A] is also the voltage per speed [V*s/rad].  Heat: `mechkit.motor.winding`.
Caution: a stalled motor burns its winding in seconds; keep stall readings short.
"""

import numpy as np

from mechkit import check


def torque_constant(*, voltage, no_load_speed, no_load_current, resistance):
    """Torque constant from a no-load reading and the winding resistance.

    Parameters
    ----------
    voltage : float or array
        Voltage at the motor [V], greater than 0
    no_load_speed : float or array
        No-load speed [rad/s], greater than 0
    no_load_current : float or array
        No-load current [A], at least 0 and less than voltage / resistance
    resistance : float or array
        Winding resistance [ohm], greater than 0

    Returns
    -------
    torque_constant : float or array
        Torque constant [N*m/A], the same number as V*s/rad

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Holds on smooth direct current with a cold winding; brush drop counts as resistance.
    Source: maker's data sheets of small direct-current motors use this relation.

    Examples
    --------
    >>> reading = dict(voltage=12.0, no_load_speed=1400.0, no_load_current=0.2)
    >>> round(torque_constant(resistance=13.0, **reading), 4)
    0.0067
    """
    check.positive(voltage=voltage, no_load_speed=no_load_speed, resistance=resistance)
    check.between(0.0, voltage / resistance, no_load_current=no_load_current)
    return (voltage - no_load_current * resistance) / no_load_speed


def friction_torque(*, torque_constant, no_load_current):
    """Friction torque of the motor itself, from its no-load current.

    Parameters
    ----------
    torque_constant : float or array
        Torque constant [N*m/A], greater than 0
    no_load_current : float or array
        No-load current [A], at least 0

    Returns
    -------
    friction_torque : float or array
        Friction torque [N*m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Brushes, bearings, iron and air together, at the speed of the reading; readings at two
    voltages part the speed-dependent share.  Source: torque balance at no load.

    Examples
    --------
    >>> round(friction_torque(torque_constant=0.007, no_load_current=0.2) * 1e3, 2)   # mN m
    1.4
    """
    check.positive(torque_constant=torque_constant)
    check.not_negative(no_load_current=no_load_current)
    return torque_constant * no_load_current


def stall_current(*, voltage, resistance):
    """Current at standstill.

    Parameters
    ----------
    voltage : float or array
        Voltage at the motor [V], at least 0
    resistance : float or array
        Winding resistance [ohm], greater than 0

    Returns
    -------
    stall_current : float or array
        Stall current [A]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Source: Ohm's law.  Holds for the first second; then the copper warms and it falls.

    Examples
    --------
    >>> round(stall_current(voltage=12.0, resistance=13.0), 2)
    0.92
    """
    check.not_negative(voltage=voltage)
    check.positive(resistance=resistance)
    return voltage / resistance


def current(*, torque, torque_constant):
    """Current that a torque takes, the motor's own friction included in the torque.

    Parameters
    ----------
    torque : float or array
        Torque of load and friction together [N*m], at least 0
    torque_constant : float or array
        Torque constant [N*m/A], greater than 0

    Returns
    -------
    current : float or array
        Current [A]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Mean current; ripple adds heat but no torque.  Source: definition of the torque constant.

    Examples
    --------
    >>> round(current(torque=0.0021, torque_constant=0.007), 2)
    0.3
    """
    check.not_negative(torque=torque)
    check.positive(torque_constant=torque_constant)
    return torque / torque_constant


def speed(*, voltage, torque, resistance, torque_constant, friction_torque, damping=0.0):
    """Running speed under a load; 0 where the motor cannot start.

    Parameters
    ----------
    voltage : float or array
        Voltage at the motor [V], at least 0
    torque : float or array
        Load torque at the shaft [N*m], at least 0
    resistance : float or array
        Winding resistance [ohm], greater than 0
    torque_constant : float or array
        Torque constant [N*m/A], greater than 0
    friction_torque : float or array
        Friction torque of the motor itself [N*m], at least 0
    damping : float or array
        Friction torque per unit of speed [N*m*s/rad], at least 0

    Returns
    -------
    speed : float or array
        Speed of rotation [rad/s], never negative

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Steady speed; friction at rest may hold it longer.  Source: voltage and torque balance of the permanent-magnet motor.

    Examples
    --------
    >>> motor = dict(resistance=13.0, torque_constant=0.007, friction_torque=0.0014)
    >>> round(float(speed(voltage=12.0, torque=0.0005, **motor)))
    1210
    """
    check.not_negative(voltage=voltage, torque=torque)
    check.positive(resistance=resistance, torque_constant=torque_constant)
    check.not_negative(friction_torque=friction_torque, damping=damping)
    surplus = voltage * torque_constant - resistance * (torque + friction_torque)
    return np.maximum(0.0, surplus / (torque_constant**2 + resistance * damping))


def starting_voltage(*, torque, resistance, torque_constant):
    """Voltage at which a motor at rest breaks away.

    Parameters
    ----------
    torque : float or array
        Friction and load at rest, together, at the shaft [N*m], at least 0
    resistance : float or array
        Winding resistance [ohm], greater than 0
    torque_constant : float or array
        Torque constant [N*m/A], greater than 0

    Returns
    -------
    voltage : float or array
        Voltage at the motor [V]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Smooth direct current; cogging of an iron core adds its peak torque to the friction.
    Source: voltage and torque balance at standstill.

    Examples
    --------
    >>> round(starting_voltage(torque=0.00145, resistance=13.0, torque_constant=0.007), 2)
    2.69
    """
    check.not_negative(torque=torque)
    check.positive(resistance=resistance, torque_constant=torque_constant)
    return torque * resistance / torque_constant


def maximum_efficiency(*, no_load_current, stall_current):
    """Best efficiency that the motor reaches at one voltage.

    Parameters
    ----------
    no_load_current, stall_current : float or array
        Currents at that voltage [A], 0 <= no_load_current < stall_current

    Returns
    -------
    efficiency : float or array
        Efficiency [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Holds for friction that does not change with speed; reached at the current that is the
    geometric mean of the two.  Source: maker's data sheets of small motors print it so.

    Examples
    --------
    >>> round(float(maximum_efficiency(no_load_current=0.2, stall_current=0.92)), 2)
    0.28
    """
    check.positive(stall_current=stall_current)
    check.between(0.0, stall_current, no_load_current=no_load_current)
    return (1 - np.sqrt(no_load_current / stall_current)) ** 2


def mechanical_time_constant(*, inertia, resistance, torque_constant):
    """Time in which the motor reaches 63 % of its speed after a step of voltage.

    Parameters
    ----------
    inertia : float or array
        Moment of inertia on the motor shaft, rotor and flywheel [kg*m^2], greater than 0
    resistance : float or array
        Winding resistance [ohm], greater than 0
    torque_constant : float or array
        Torque constant [N*m/A], greater than 0

    Returns
    -------
    time : float or array
        Time constant [s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Holds while L/R is much shorter.  Source: maker's data sheets of small motors.

    Examples
    --------
    >>> round(mechanical_time_constant(inertia=5.5e-7, resistance=22.0, torque_constant=0.014), 3)
    0.062
    """
    check.positive(inertia=inertia, resistance=resistance, torque_constant=torque_constant)
    return inertia * resistance / torque_constant**2


def shorted_damping(*, resistance, torque_constant):
    """Braking torque per unit of speed of a motor with its leads shorted.

    Parameters
    ----------
    resistance : float or array
        Resistance of winding and short together [ohm], greater than 0
    torque_constant : float or array
        Torque constant [N*m/A], greater than 0

    Returns
    -------
    damping : float or array
        Friction torque per unit of speed [N*m*s/rad]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Adds to the friction's.  A power pack at zero volts is nearly a short, a dead track is
    open.  Source: voltage balance without a voltage outside.

    Examples
    --------
    >>> round(shorted_damping(resistance=22.0, torque_constant=0.014) * 1e6, 1)   # uN m s/rad
    8.9
    """
    check.positive(resistance=resistance, torque_constant=torque_constant)
    return torque_constant**2 / resistance


def ripple_current(*, voltage, duty, frequency, resistance, inductance):
    """Current ripple, peak to peak, under a pulsed voltage.

    Parameters
    ----------
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
    ripple_current : float or array
        Current ripple, peak to peak [A]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Holds while the current never falls to zero, with switches and diodes without drop; the
    back voltage, being steady, cancels.  U D (1 - D) / (L f), its limit at high frequency,
    reads 20 % high where L/R is a third of the period.
    Source: linear circuit with exponentials, any circuits text.

    Examples
    --------
    >>> drive = dict(duty=0.5, frequency=16e3, resistance=10.0, inductance=0.2e-3)
    >>> round(float(ripple_current(voltage=12.0, **drive)), 3)
    0.784
    """
    check.not_negative(voltage=voltage)
    check.up_to(0.0, 1.0, duty=duty)
    check.positive(frequency=frequency, resistance=resistance, inductance=inductance)
    period = resistance / (inductance * frequency)  # in electrical time constants
    on, off, both = (-np.expm1(-share * period) for share in (duty, 1 - duty, 1.0))
    return voltage / resistance * on * off / both


check.formulas(__name__)
