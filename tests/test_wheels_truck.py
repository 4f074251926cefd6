"""The leading truck: travel in a curve, and the flange that must not climb."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import wheels

few = settings(max_examples=40, deadline=None)
ANGLE, FRICTION = st.floats(0.8, 1.4), st.floats(0.05, 0.6)


@few
@given(st.floats(0.01, 0.05), st.floats(0.02, 0.1), st.floats(0.4, 3.0))
def test_in_a_wide_curve_travel_is_the_versine(overhang, wheelbase, radius):
    exact = wheels.curve_offset(overhang=overhang, wheelbase=wheelbase, curve_radius=radius)
    versine = overhang * (overhang + wheelbase) / (2 * radius)
    assert versine < exact < 1.1 * versine


@few
@given(st.floats(0.01, 0.05), st.floats(0.02, 0.1), st.floats(0.4, 3.0), st.floats(1.1, 3))
def test_a_wider_curve_asks_less_and_a_longer_overhang_more(overhang, wheelbase, radius, times):
    one = wheels.curve_offset(overhang=overhang, wheelbase=wheelbase, curve_radius=radius)
    wide = wheels.curve_offset(overhang=overhang, wheelbase=wheelbase, curve_radius=times * radius)
    far = wheels.curve_offset(overhang=1.05 * overhang, wheelbase=wheelbase, curve_radius=radius)
    assert wide < one < far


def test_a_truck_far_ahead_in_a_tight_curve():
    """Far past what an engine has: the places on the circle by their angles."""
    found = wheels.curve_offset(overhang=4.8, wheelbase=0.1, curve_radius=5.0)
    axle, center = np.arcsin([0.05 / 5.0, 4.85 / 5.0])
    assert np.isclose(found, 5.0 * (np.cos(axle) - np.cos(center)))
    assert found > 3.5


@few
@given(ANGLE, FRICTION)
def test_a_steeper_or_slicker_flange_climbs_later(angle, friction):
    limit = wheels.climbing_limit(flange_angle=angle, friction=friction)
    assert wheels.climbing_limit(flange_angle=angle + 0.05, friction=friction) > limit
    assert wheels.climbing_limit(flange_angle=angle, friction=friction / 2) > limit
    assert np.isclose(wheels.climbing_limit(flange_angle=angle, friction=0.0), np.tan(angle))


@few
@given(st.floats(0.01, 1.0), ANGLE, FRICTION)
def test_under_the_least_load_the_quotient_is_the_limit(force, angle, friction):
    flange = {"flange_angle": angle, "friction": friction}
    load = wheels.least_wheel_load(side_force=force, **flange)
    quotient = wheels.derailment_quotient(side_force=force, wheel_load=load)
    assert np.isclose(quotient, wheels.climbing_limit(**flange))


@few
@given(st.floats(1e-3, 1.0), st.floats(0.1, 2.0))
def test_half_the_load_doubles_the_quotient(force, load):
    whole = wheels.derailment_quotient(side_force=force, wheel_load=load)
    assert wheels.derailment_quotient(side_force=force, wheel_load=load / 2) == 2 * whole


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: wheels.climbing_limit(flange_angle=np.pi / 2, friction=0.4), "flange_angle"),
        (lambda: wheels.climbing_limit(flange_angle=1.58, friction=0.4), "flange_angle"),
        (lambda: wheels.climbing_limit(flange_angle=0.2, friction=0.4), "flange_angle"),
    ],
)  # fmt: skip
def test_refusals_name_the_argument(call, words):
    with pytest.raises(ValueError, match=words):
        call()
