"""Motors: inverse pairs, what cannot start stands still, exact ripple against the usual formula."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import motor

some = settings(max_examples=50, deadline=None)
IRON = {"resistance": 13.0, "torque_constant": 0.007, "friction_torque": 0.0014}
DRIVE = {"resistance": 10.0, "inductance": 0.2e-3}
volts = st.floats(0.1, 16.0)
ohms = st.floats(1.0, 100.0)
constants = st.floats(0.001, 0.03)
torques = st.floats(1e-9, 0.01)
duties = st.floats(0.01, 0.99)


@some
@given(volts, ohms, st.floats(1e-6, 0.9), st.floats(50.0, 3000.0))
def test_constants_give_back_the_no_load_reading(voltage, resistance, share, no_load_speed):
    idle = share * voltage / resistance
    constant = motor.torque_constant(
        voltage=voltage, no_load_speed=no_load_speed, no_load_current=idle, resistance=resistance
    )
    friction = motor.friction_torque(torque_constant=constant, no_load_current=idle)
    again = motor.speed(
        voltage=voltage, torque=0.0, resistance=resistance, torque_constant=constant,
        friction_torque=friction,
    )  # fmt: skip
    np.testing.assert_allclose(again, no_load_speed, rtol=1e-9)
    np.testing.assert_allclose(motor.current(torque=friction, torque_constant=constant), idle)


@some
@given(volts, torques, torques, ohms, constants, st.floats(0.0, 1e-5))
def test_running_motor_balances_volts_and_torques(
    voltage, torque, friction, resistance, constant, damping
):
    turning = motor.speed(
        voltage=voltage, torque=torque, resistance=resistance, torque_constant=constant,
        friction_torque=friction, damping=damping,
    )  # fmt: skip
    start = motor.starting_voltage(
        torque=torque + friction, resistance=resistance, torque_constant=constant
    )
    if voltage <= start * (1 - 1e-12):
        assert turning == 0.0
    elif voltage > start * (1 + 1e-9):
        assert turning > 0
        carried = motor.current(
            torque=torque + friction + damping * turning, torque_constant=constant
        )
        np.testing.assert_allclose(carried * resistance + constant * turning, voltage, rtol=1e-9)


def test_the_heavy_load_stops_the_motor_in_an_array():
    loads = np.array([0.0, 0.002, 0.02])
    turning = motor.speed(voltage=12.0, torque=loads, **IRON)
    assert turning[0] > turning[1] > turning[2] == 0.0


@some
@given(st.floats(0.001, 0.2), st.floats(0.3, 3.0), st.floats(0.05, 0.95))
def test_no_current_is_better_than_the_best(idle, stall, share):
    current = idle + share * (stall - idle)
    there = (current - idle) / current * (stall - current) / stall
    best = motor.maximum_efficiency(no_load_current=idle, stall_current=stall)
    assert there <= best * (1 + 1e-12) < 1


@some
@given(st.floats(1e-9, 1e-5), ohms, constants)
def test_time_constant_is_inertia_over_shorted_damping(inertia, resistance, constant):
    own = {"resistance": resistance, "torque_constant": constant}
    np.testing.assert_allclose(
        motor.mechanical_time_constant(inertia=inertia, **own),
        inertia / motor.shorted_damping(**own),
    )


@some
@given(volts, duties, st.floats(100.0, 1e5), ohms, st.floats(1e-5, 1e-2))
def test_ripple_is_below_the_usual_formula_and_below_the_stall_current(
    voltage, duty, frequency, resistance, inductance
):
    exact = motor.ripple_current(
        voltage=voltage, duty=duty, frequency=frequency, resistance=resistance,
        inductance=inductance,
    )  # fmt: skip
    usual = voltage * duty * (1 - duty) / (inductance * frequency)
    assert 0 < exact <= usual * (1 + 1e-9)
    assert exact <= voltage / resistance * (1 + 1e-12)


@some
@given(duties)
def test_ripple_is_the_same_for_on_and_off_exchanged(duty):
    each = [
        motor.ripple_current(voltage=12.0, duty=share, frequency=16e3, **DRIVE)
        for share in (duty, 1 - duty)
    ]
    np.testing.assert_allclose(*each, rtol=1e-9)


def test_ripple_at_its_limits():
    always = motor.ripple_current(voltage=12.0, duty=np.array([0.0, 1.0]), frequency=16e3, **DRIVE)
    np.testing.assert_array_equal(always, [0.0, 0.0])
    fast = motor.ripple_current(voltage=12.0, duty=0.3, frequency=1e9, **DRIVE)
    np.testing.assert_allclose(fast, 12.0 * 0.3 * 0.7 / (0.2e-3 * 1e9), rtol=1e-6)
    slow = motor.ripple_current(voltage=12.0, duty=0.3, frequency=1.0, **DRIVE)
    np.testing.assert_allclose(slow, 12.0 / 10.0)


def test_the_usual_ripple_formula_reads_a_fifth_high_on_a_slow_pulse():
    exact = motor.ripple_current(voltage=12.0, duty=0.5, frequency=16e3, **DRIVE)
    usual = 12.0 * 0.5 * 0.5 / (0.2e-3 * 16e3)
    assert 1.19 < usual / exact < 1.20
