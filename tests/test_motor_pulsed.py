"""Pulsed current with gaps: where it begins, and that both sides meet there."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from mechkit import motor
from mechkit.motor import pulsed

few = settings(max_examples=25, deadline=None)
DUTY, PERIOD, LEVEL = st.floats(0.05, 0.95), st.floats(0.05, 20.0), st.floats(0.02, 0.98)
VOLTS, OHMS, HERTZ = 12.0, 10.0, 1000.0
FIXED = {"voltage": VOLTS, "frequency": HERTZ, "resistance": OHMS}


def drive(duty, period):
    """A drive whose period lasts so many electrical time constants."""
    return {**FIXED, "duty": duty, "inductance": OHMS / (HERTZ * period)}


@few
@given(DUTY, PERIOD, st.floats(1.1, 5.0))
def test_faster_pulses_bring_the_limit_nearer_to_the_mean_voltage(duty, period, times):
    slow = motor.gapless_back_emf(**drive(duty, period))
    fast = motor.gapless_back_emf(**drive(duty, period / times))
    assert slow < fast < duty * VOLTS
    at_once = motor.gapless_back_emf(**drive(duty, 1e-6))
    assert np.isclose(at_once, duty * VOLTS, rtol=1e-5)


@few
@given(DUTY, LEVEL)
def test_the_needed_inductance_and_frequency_are_just_enough(duty, level):
    back = level * duty * VOLTS
    need = motor.gapless_inductance(duty=duty, back_emf=back, **FIXED)
    winding_only = {"voltage": VOLTS, "resistance": OHMS}
    often = motor.gapless_frequency(
        duty=duty, back_emf=back, inductance=float(need), **winding_only
    )
    assert np.isclose(often, HERTZ, rtol=1e-9)
    limit = motor.gapless_back_emf(duty=duty, inductance=float(need), **FIXED)
    assert np.isclose(limit, back, rtol=1e-9)


@few
@given(DUTY, PERIOD, LEVEL)
def test_below_the_limit_current_always_flows(duty, period, level):
    circuit = drive(duty, period)
    limit = motor.gapless_back_emf(**circuit)
    assume(limit > 1e-6)
    share = motor.conduction_share(**circuit, back_emf=level * limit)
    assert share == 1
    mean = motor.pulsed_current(**circuit, back_emf=level * limit)
    assert np.isclose(mean, (duty * VOLTS - level * limit) / OHMS, rtol=1e-9)


@few
@given(DUTY, PERIOD, LEVEL)
def test_above_it_the_current_gaps_and_the_mean_is_more_than_without(duty, period, level):
    circuit = drive(duty, period)
    limit = motor.gapless_back_emf(**circuit)
    back = limit + level * (VOLTS - limit)
    share = motor.conduction_share(**circuit, back_emf=back)
    assert duty < share < 1
    mean = motor.pulsed_current(**circuit, back_emf=back)
    assert mean > max(0.0, (duty * VOLTS - back) / OHMS)


@few
@given(DUTY, st.floats(0.3, 5.0))
def test_at_the_limit_both_sides_give_the_same_heat(duty, period):
    circuit = drive(duty, period)
    limit = motor.gapless_back_emf(**circuit) * (1 + 1e-12)
    gapped = motor.gapped_heating(**circuit, back_emf=limit)
    mean = (duty * VOLTS - limit) / OHMS * (1 + 1e-9)
    whole = motor.pulse_heating(current=mean, **circuit)
    assert np.isclose(gapped, whole, rtol=1e-5)
    low_to_high = motor.ripple_current(**circuit)
    assert mean < low_to_high, "a current that just touches zero swings by more than its mean"


@few
@given(DUTY, st.floats(0.6, 0.95))
def test_a_short_period_is_a_triangle(duty, level):
    """A triangle that fills a share s of the period heats 4/(3 s) times as much."""
    circuit = drive(duty, 0.002)
    back = VOLTS * (duty + level * (1 - duty))
    share = motor.conduction_share(**circuit, back_emf=back)
    heat = motor.gapped_heating(**circuit, back_emf=back)
    assert np.isclose(heat, 4 / (3 * share), rtol=5e-3)


def test_heat_never_falls_below_that_of_a_smooth_current():
    back = np.linspace(0.5, 11.5, 45)
    circuit = drive(0.3, 3.0)
    back = back[back > motor.gapless_back_emf(**circuit)]
    heat = motor.gapped_heating(**circuit, back_emf=back)
    assert np.all(np.diff(heat) > 0) and heat[0] > 1


def test_an_ironless_motor_gaps_at_the_mains_and_not_at_twenty_kilohertz_under_load():
    ironless = {"voltage": 12.0, "duty": 0.4, "resistance": 20.0, "inductance": 0.3e-3}
    slow, fast = (motor.gapless_back_emf(frequency=f, **ironless) for f in (120.0, 20e3))
    assert slow < 0.01 < 1.0 < fast


GIVEN = {**FIXED, "duty": 0.5, "inductance": 1e-2}
TURNING = {**GIVEN, "back_emf": 5.9}


@pytest.mark.parametrize(
    ("function", "known", "bad", "words"),
    [
        ("gapped_heating", TURNING, {"back_emf": 1.0}, "back_emf = 1 V: must be at least"),
    ],
)  # fmt: skip
def test_refusals_name_the_argument(function, known, bad, words):
    with pytest.raises(ValueError, match=words):
        getattr(pulsed, function)(**{**known, **bad})
