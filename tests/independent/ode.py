"""The drive in time, by a general solver of differential equations (scipy)."""

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

TIGHT = {"rtol": 1e-10, "atol": 1e-14, "method": "LSODA"}


def _coast(inertia, speed, torque, damping):
    """Time and angle from the start to where the speed crosses zero."""

    def motion(_, state):
        return [state[1], -(torque + damping * state[1]) / inertia]

    def stopped(_, state):
        return state[1]

    stopped.terminal = True
    end = 1.01 * inertia * speed / torque
    run = solve_ivp(motion, (0, end), [0.0, speed], events=stopped, **TIGHT)
    return run.t_events[0][0], run.y_events[0][0][0]


def coast_time(*, inertia, speed, torque, damping=0.0):
    """Time to standstill [s]."""
    return _coast(inertia, speed, torque, damping)[0]


def coast_angle(*, inertia, speed, torque, damping=0.0):
    """Angle to standstill [rad]."""
    return _coast(inertia, speed, torque, damping)[1]


def inertia_to_coast(*, angle, speed, torque, damping=0.0):
    """Inertia that coasts through an angle [kg*m^2], by trial."""

    def off(log_inertia):
        return _coast(np.exp(log_inertia), speed, torque, damping)[1] / angle - 1

    return float(np.exp(brentq(off, np.log(1e-9), np.log(1e-4), xtol=1e-12)))


def _run_up(voltage, resistance, torque_constant, inertia, load, damping, end):
    """Speed of a motor against time from rest; dry friction holds it until it is overcome."""

    def motion(_, speed):
        drive = torque_constant * (voltage - torque_constant * speed[0]) / resistance
        held = speed[0] <= 0 and drive <= load
        return [0.0 if held else (drive - load - damping * speed[0]) / inertia]

    return solve_ivp(motion, (0, end), [0.0], dense_output=True, **TIGHT)


def speed(*, voltage, torque, resistance, torque_constant, friction_torque, damping=0.0):
    """Speed after a long run-up [rad/s]."""
    inertia = 1e-7
    end = 40 * inertia * resistance / torque_constant**2
    load = torque + friction_torque
    run = _run_up(voltage, resistance, torque_constant, inertia, load, damping, end)
    return float(run.y[0][-1])


def mechanical_time_constant(*, inertia, resistance, torque_constant):
    """Time in which a motor without load reaches 1 - 1/e of its speed [s]."""
    end = 40 * inertia * resistance / torque_constant**2
    run = _run_up(1.0, resistance, torque_constant, inertia, 0.0, 0.0, end)
    wanted = run.y[0][-1] * (1 - np.exp(-1))
    return float(brentq(lambda time: run.sol(time)[0] - wanted, 0, end))


def starting_voltage(*, torque, resistance, torque_constant):
    """Lowest voltage at which a motor at rest begins to turn [V], by trial."""
    low, high = 0.0, 100.0
    while high - low > 1e-6:
        middle = (low + high) / 2
        run = _run_up(middle, resistance, torque_constant, 1e-7, torque, 0.0, 1.0)
        low, high = (low, middle) if run.y[0][-1] > 0 else (middle, high)
    return high


def shorted_damping(*, resistance, torque_constant):
    """Braking torque over speed of a shorted motor that is turned at one speed [N*m*s/rad]."""
    turned, inductance = 100.0, 1e-3

    def circuit(_, current):
        return (-resistance * current - torque_constant * turned) / inductance

    run = solve_ivp(circuit, (0, 60 * inductance / resistance), [0.0], **TIGHT)
    return float(-torque_constant * run.y[0][-1] / turned)


def _pulses(mean, voltage, duty, frequency, resistance, inductance):
    """One period of the current after many, about a mean: two runs, on and off."""
    back = duty * voltage - resistance * mean
    current = mean
    periods = int(np.ceil(30 * inductance * frequency / resistance)) + 1

    def circuit(_, now, driving):
        return (driving - resistance * now - back) / inductance

    for _ in range(periods):
        runs = []
        for driving, share in ((voltage, duty), (0.0, 1 - duty)):
            span = (0, share / frequency)
            run = solve_ivp(circuit, span, [current], args=(driving,), dense_output=True, **TIGHT)
            current = run.y[0][-1]
            runs.append(run)
    return runs


def ripple_current(*, voltage, duty, frequency, resistance, inductance):
    """Current ripple after many pulses [A]."""
    mean = 0.7 * duty * voltage / resistance
    on, off = _pulses(mean, voltage, duty, frequency, resistance, inductance)
    return float(on.y[0][-1] - off.y[0][-1])


def pulse_heating(*, current, voltage, duty, frequency, resistance, inductance):
    """Mean square of the current over the square of its mean, sampled after many pulses [-]."""
    mean, square = 0.0, 0.0
    for run in _pulses(current, voltage, duty, frequency, resistance, inductance):
        end = run.t[-1]
        middles = (np.arange(100_000) + 0.5) / 100_000 * end
        samples = run.sol(middles)[0]
        mean += samples.mean() * end * frequency
        square += (samples**2).mean() * end * frequency
    return float(square / mean**2)


def stall_time(*, voltage, resistance, heat_capacity, temperature_rise, temperature_coefficient):
    """Time in which a stalled winding warms by a rise [s]."""

    def warming(_, rise):
        warm = resistance * (1 + temperature_coefficient * rise[0])
        return [voltage**2 / warm / heat_capacity]

    def reached(_, rise):
        return rise[0] - temperature_rise

    reached.terminal = True
    long = 10 * heat_capacity * temperature_rise * resistance / voltage**2
    return solve_ivp(warming, (0, long), [0.0], events=reached, **TIGHT).t_events[0][0]


def _settled_rise(current, resistance, thermal_resistance, temperature_coefficient):
    """Rise after a long time; one joule per kelvin, since only the end counts."""

    def warming(_, rise):
        warm = resistance * (1 + temperature_coefficient * rise[0])
        return [current**2 * warm - rise[0] / thermal_resistance]

    return float(solve_ivp(warming, (0, 150 * thermal_resistance), [0.0], **TIGHT).y[0][-1])


def temperature_rise(*, current, resistance, thermal_resistance, temperature_coefficient):
    """Rise of a winding that has carried a current for a long time [kelvin]."""
    return _settled_rise(current, resistance, thermal_resistance, temperature_coefficient)


def continuous_current(
    *, temperature_rise, resistance, thermal_resistance, temperature_coefficient
):
    """Current that in the long run warms a winding by a rise [A], by trial."""

    def off(current):
        settled = _settled_rise(current, resistance, thermal_resistance, temperature_coefficient)
        return settled - temperature_rise

    runaway = 1 / np.sqrt(temperature_coefficient * resistance * thermal_resistance)
    return float(brentq(off, 1e-6, 0.8 * runaway, xtol=1e-10))


def felt_ripple(*, speed_ripple, turns, speed, inertia, mass, lever, efficiency, force, damping):
    """First harmonic of the train's speed, per mean, on the course that repeats every turn."""
    drives = force * lever / efficiency + damping * speed
    order, around = turns, 2 * np.pi / turns

    def rates(angle, state):
        turning = state[0]
        rim = lever * (1 + speed_ripple * np.cos(order * angle))
        change = -lever * speed_ripple * order * np.sin(order * angle)
        # J w' + c w = T - L f / efficiency and m (L w)' = f - F, both at once
        matrix = [[inertia, rim / efficiency], [mass * rim, -1.0]]
        left = [drives - damping * turning, -force - mass * change * turning**2]
        return [np.linalg.solve(matrix, left)[0] / turning, 1 / turning]

    def course(start):
        return solve_ivp(
            rates, (0, around), [start, 0.0], "DOP853", rtol=1e-11, atol=1e-13, dense_output=True
        )

    first = brentq(lambda w: course(w).y[0, -1] - w, 0.5 * speed, 1.5 * speed, xtol=1e-11 * speed)
    angle = np.linspace(0, around, 2000, endpoint=False)
    turning, time = course(first).sol(angle)
    train = lever * (1 + speed_ripple * np.cos(order * angle)) * turning
    period = course(first).y[1, -1]
    share = 1 / turning / np.sum(1 / turning)  # of the period that each step of angle takes
    wave = np.exp(-2j * np.pi * time / period)
    return 2 * abs(np.sum(train * wave * share)) / np.sum(train * share)
