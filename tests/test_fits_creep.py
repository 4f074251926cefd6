"""Creep of a plastic hub: what a year leaves."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import fits, tables

few = settings(max_examples=25, deadline=None)
HOUR, YEAR = 3600.0, 3.156e7
SLOPE, TIME, MODULUS = st.floats(0.01, 0.3), st.floats(1e2, 1e9), st.floats(1e8, 5e9)


def plastic(name):
    """Modulus after an hour and slope of a plastic in the table."""
    hour, later = (
        tables.value("plastics", name, f"creep_modulus_{time}") for time in ("1h", "1000h")
    )
    slope = fits.creep_exponent(modulus_1=hour, modulus_2=later, time_1=HOUR, time_2=1000 * HOUR)
    return {"modulus_1": hour, "time_1": HOUR, "creep_exponent": slope}


@few
@given(MODULUS, TIME, st.floats(1.1, 1e5), SLOPE)
def test_the_slope_of_two_values_is_read_back(modulus, time, times, slope):
    law = {"modulus_1": modulus, "time_1": time, "creep_exponent": slope}
    later = fits.creep_modulus(**law, time=times * time)
    back = fits.creep_exponent(modulus_1=modulus, modulus_2=later, time_1=time, time_2=times * time)
    assert np.isclose(back, slope, rtol=1e-6)
    assert fits.creep_modulus(**law, time=time) == modulus


@few
@given(MODULUS, TIME, TIME, SLOPE)
def test_stress_that_is_gone_no_longer_creeps(modulus, time, later, slope):
    law = {"modulus_1": modulus, "time_1": time, "creep_exponent": slope, "time": later}
    relaxed, crept = fits.relaxation_modulus(**law), fits.creep_modulus(**law)
    assert crept * (1 - 1.65 * slope**2) < relaxed < crept
    assert np.isclose(
        fits.relaxation_modulus(**{**law, "creep_exponent": 1e-6}), modulus, rtol=1e-4
    )


@few
@given(TIME, TIME, TIME, SLOPE)
def test_losses_follow_one_another(first, second, third, slope):
    def left(start, end):
        return fits.grip_left(time_1=start, time=end, creep_exponent=slope)

    assert np.isclose(left(first, second) * left(second, third), left(first, third), rtol=1e-9)
    assert left(first, first) == 1


@few
@given(st.floats(1e-3, 1e-1), st.floats(0.3, 0.99), TIME, st.floats(0.05, 0.3))
def test_it_slips_when_the_grip_that_is_left_is_the_torque(holds, share, time, slope):
    lasts = fits.holding_time(
        holding_torque=holds, torque=share * holds, time_1=time, creep_exponent=slope
    )
    left = fits.grip_left(time_1=time, time=lasts, creep_exponent=slope)
    assert np.isclose(left, share, rtol=1e-9)
    assert lasts > time


@pytest.mark.parametrize("name", ["acetal", "dry nylon", "moist nylon"])
def test_a_year_leaves_a_third_to_a_half(name):
    law = plastic(name)
    left = fits.grip_left(time_1=HOUR, time=YEAR, creep_exponent=law["creep_exponent"])
    assert 0.33 < left < 0.6


def test_a_plastic_gear_that_is_pressed_on_true_still_holds_after_a_year():
    """6 mm acetal on 2 mm steel, 1 % stretch of the bore, 3 mm long; the axle asks some 5 mN m."""
    law = plastic("acetal")
    joint = {
        "diameter": 2e-3, "hub_outer": 6e-3, "diametral_interference": 20e-6,
        "hub_poisson": 0.36, "shaft_modulus": 207e9, "shaft_poisson": 0.29,
    }  # fmt: skip

    def torque(time):
        modulus = fits.relaxation_modulus(**law, time=time)
        pressure = fits.interference_pressure(hub_modulus=modulus, **joint)
        return fits.slip_torque(pressure=pressure, diameter=2e-3, length=3e-3, friction=0.15)

    assert torque(YEAR) > 3 * 5e-3
    left = fits.grip_left(time_1=HOUR, time=YEAR, creep_exponent=law["creep_exponent"])
    assert np.isclose(torque(YEAR) / torque(HOUR), left, rtol=0.01), "steel is not quite rigid"


TWO = {"modulus_1": 2.5e9, "modulus_2": 1.3e9, "time_1": HOUR, "time_2": 1000 * HOUR}
LAW = {"modulus_1": 2.5e9, "time_1": HOUR, "time": YEAR, "creep_exponent": 0.1}
LEFT = {"time_1": HOUR, "time": YEAR, "creep_exponent": 0.1}


def test_a_plastic_that_does_not_creep():
    assert fits.creep_exponent(**{**TWO, "modulus_2": 2.5e9}) == 0
    assert fits.creep_modulus(**{**LAW, "creep_exponent": 0.0}) == 2.5e9
    assert fits.relaxation_modulus(**{**LAW, "creep_exponent": 0.0}) == 2.5e9
    assert fits.grip_left(**{**LEFT, "creep_exponent": 0.0}) == 1
