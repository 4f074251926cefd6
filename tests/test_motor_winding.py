"""Windings: inverse pairs, run-away, what warmth does."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import motor

some = settings(max_examples=50, deadline=None)
PULSES = {"duty": 0.5, "frequency": 16e3, "resistance": 10.0, "inductance": 0.2e-3}
ohms = st.floats(1.0, 100.0)
rises = st.floats(0.1, 150.0)
ways_out = st.floats(1.0, 100.0)


def test_messages_name_value_unit_and_limit():
    with pytest.raises(ValueError) as error:
        motor.temperature_rise(current=1.0, resistance=10.0, thermal_resistance=30.0)
    assert str(error.value) == "current = 1 A: must be at least 0 and less than 0.920965 A"
    with pytest.raises(ValueError) as error:
        motor.pulse_heating(current=0.3, voltage=12.0, **PULSES)
    assert str(error.value) == "current = 0.3 A: must be at least 0.392054 A"
    with pytest.raises(ValueError, match=r"^current = 0 A: must be greater than 0$"):
        motor.pulse_heating(current=0.0, voltage=0.0, **PULSES)


def test_a_magnet_is_warm_up_to_where_nothing_is_left_of_it():
    magnet = {"torque_constant": 0.007, "magnet_coefficient": 0.0015}
    nearly = motor.warm_torque_constant(**magnet, temperature_rise=666.5)
    assert 0 < nearly < 2e-6
    for rise in (666.7, -0.5):
        with pytest.raises(
            ValueError, match=r"^temperature_rise = .*: must be at least 0 and less"
        ):
            motor.warm_torque_constant(**magnet, temperature_rise=rise)


@some
@given(st.floats(1e-6, 3.0), st.floats(0.001, 0.03))
def test_torque_and_current_are_inverse(current, constant):
    torque = motor.torque_from_current(current=current, torque_constant=constant)
    np.testing.assert_allclose(motor.current(torque=torque, torque_constant=constant), current)


@some
@given(rises, ohms, ways_out)
def test_continuous_current_settles_at_its_rise(rise, resistance, way_out):
    path = {"resistance": resistance, "thermal_resistance": way_out}
    current = motor.continuous_current(temperature_rise=rise, **path)
    np.testing.assert_allclose(motor.temperature_rise(current=current, **path), rise, rtol=1e-9)
    warm = motor.warm_resistance(resistance=resistance, temperature_rise=rise)
    heat = motor.copper_loss(current=current, resistance=warm)
    np.testing.assert_allclose(heat * way_out, rise, rtol=1e-9)


@some
@given(ohms, ways_out)
def test_no_current_below_run_away_is_refused_and_none_above_is_taken(resistance, way_out):
    path = {"resistance": resistance, "thermal_resistance": way_out}
    limit = 1 / np.sqrt(0.00393 * resistance * way_out)
    assert motor.temperature_rise(current=0.999 * limit, **path) > 100 / 0.00393
    with pytest.raises(ValueError, match=r"^current = "):
        motor.temperature_rise(current=1.001 * limit, **path)


def test_warm_copper_gains_two_fifths_of_a_percent_a_kelvin():
    rises = np.array([0.0, 1.0, 100.0])
    warm = motor.warm_resistance(resistance=10.0, temperature_rise=rises)
    np.testing.assert_allclose(warm, [10.0, 10.0393, 13.93])


@some
@given(rises)
def test_stalled_winding_lasts_longer_than_at_its_cold_heat(rise):
    own = {"voltage": 12.0, "resistance": 13.0, "heat_capacity": 1.2}
    cold = 1.2 * rise / (12.0**2 / 13.0)
    lasts = motor.stall_time(temperature_rise=rise, **own)
    assert cold < lasts < cold * (1 + 0.00393 * rise)
    half_voltage = motor.stall_time(temperature_rise=rise, **{**own, "voltage": 6.0})
    np.testing.assert_allclose(half_voltage, 4 * lasts)


@some
@given(st.floats(0.05, 0.95), st.floats(2e3, 1e5), st.floats(1e-5, 1e-2))
def test_pulses_never_cool_and_never_heat_more_than_a_square_wave(duty, frequency, inductance):
    heat = motor.pulse_heating(
        current=2.0, voltage=12.0, duty=duty, frequency=frequency, resistance=10.0,
        inductance=inductance,
    )  # fmt: skip
    assert 1 <= heat <= 1 + duty * (1 - duty) * (1.2 / 2.0) ** 2 + 1e-12


def test_fast_pulses_heat_by_a_twelfth_of_the_square_and_none_not_at_all():
    fast = {"voltage": 12.0, "duty": 0.3, "resistance": 10.0, "inductance": 2e-3}
    swing = motor.ripple_current(frequency=50e3, **fast)
    heat = motor.pulse_heating(current=0.3, frequency=50e3, **fast)
    np.testing.assert_allclose(heat - 1, (swing / 0.3) ** 2 / 12, rtol=1e-3)
    still = {**PULSES, "duty": np.array([0.0, 1.0])}
    np.testing.assert_allclose(motor.pulse_heating(current=0.5, voltage=12.0, **still), 1.0)


def test_a_slow_pulse_adds_a_third_to_the_heat_of_an_ironless_motor():
    heat = motor.pulse_heating(current=0.4, voltage=12.0, **PULSES)
    assert 1.36 < heat < 1.38


@some
@given(st.floats(0.0, 300.0))
def test_magnet_loss_is_linear_to_nothing(rise):
    warm = motor.warm_torque_constant(
        torque_constant=0.007, temperature_rise=rise, magnet_coefficient=0.002
    )
    np.testing.assert_allclose(warm, 0.007 - 0.007 * 0.002 * rise)
    assert warm > 0
