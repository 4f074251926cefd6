"""Sizing: inverse pairs, steps that add up, a bore that doubles the stress."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import flywheel

some = settings(max_examples=50, deadline=None)
STEPS = {
    "outers": np.array([0.016, 0.010]), "widths": np.array([0.010, 0.004]),
    "density": 8490.0, "bore": 0.002,
}  # fmt: skip
RAIL = {"gear_ratio": 30.0, "wheel_diameter": 0.016}


def test_messages_name_value_unit_and_limit():
    with pytest.raises(ValueError) as error:
        flywheel.stepped_inertia(**{**STEPS, "bore": 0.012})
    assert str(error.value) == "bore = 0.012 m: must be at least 0 and less than 0.01 m"


@some
@given(st.floats(1.0, 1e4), st.floats(10.0, 2000.0), st.floats(1e-5, 1e-2), st.floats(0.0, 1e-5))
def test_the_inertia_coasts_as_far_as_asked(angle, speed, torque, damping):
    own = {"speed": speed, "torque": torque, "damping": damping}
    inertia = flywheel.inertia_to_coast(angle=angle, **own)
    np.testing.assert_allclose(flywheel.coast_angle(inertia=inertia, **own), angle)


@some
@given(st.floats(1e-9, 1e-5), st.floats(0.008, 0.04), st.floats(0.0, 0.9))
def test_the_width_has_the_inertia_asked(inertia, outer, share):
    own = {"outer": outer, "density": 8490.0, "bore": share * outer}
    width = flywheel.width_for_inertia(inertia=inertia, **own)
    np.testing.assert_allclose(flywheel.ring_inertia(width=width, **own), inertia)


@some
@given(st.floats(0.005, 0.03), st.floats(0.05, 0.95))
def test_a_cut_across_changes_nothing(outer, share):
    whole = flywheel.ring_inertia(outer=outer, width=0.01, density=8490.0, bore=0.002)
    cut = flywheel.stepped_inertia(
        outers=np.array([outer, outer]), widths=0.01 * np.array([share, 1 - share]),
        density=8490.0, bore=0.002,
    )  # fmt: skip
    np.testing.assert_allclose(cut, whole)


def test_steps_in_any_order_and_many_wheels_at_once():
    turned = {key: value[::-1] for key, value in STEPS.items() if key in ("outers", "widths")}
    forward = flywheel.stepped_inertia(**STEPS)
    np.testing.assert_allclose(flywheel.stepped_inertia(**{**STEPS, **turned}), forward)
    wheels = flywheel.stepped_inertia(
        **{**STEPS, "outers": np.tile(STEPS["outers"], (3, 1)), "density": np.full(3, 8490.0)}
    )
    np.testing.assert_allclose(wheels, [forward] * 3)


def test_a_wheel_has_no_bore_unless_told():
    plain = {key: value for key, value in STEPS.items() if key != "bore"}
    assert flywheel.stepped_inertia(**plain) == flywheel.stepped_inertia(**plain, bore=0.0)
    wide = {"inertia": 5e-7, "outer": 0.016, "density": 8490.0}
    assert flywheel.width_for_inertia(**wide) == flywheel.width_for_inertia(**wide, bore=0.0)


def test_a_tenth_more_diameter_is_worth_nearly_half_more_inertia():
    small, large = (
        flywheel.ring_inertia(outer=outer, width=0.01, density=8490.0) for outer in (0.016, 0.0176)
    )
    assert 1.46 < large / small < 1.47


@some
@given(st.floats(0.008, 0.04), st.floats(0.0, 0.5), st.floats(10.0, 3000.0))
def test_the_smallest_bore_doubles_the_stress(outer, poisson, speed):
    own = {"outer": outer, "density": 8490.0, "poisson": poisson, "speed": speed}
    solid = flywheel.disc_stress(**own)
    pierced = flywheel.bored_disc_stress(bore=1e-9, **own)
    np.testing.assert_allclose(pierced, 2 * solid)
    assert flywheel.bored_disc_stress(bore=0.5 * outer, **own) > pierced


@some
@given(st.floats(0.008, 0.04), st.floats(0.0, 0.5))
def test_a_thin_rim_has_the_stress_of_a_hoop(outer, poisson):
    thin = flywheel.bored_disc_stress(
        outer=outer, bore=outer * (1 - 1e-9), density=8490.0, poisson=poisson, speed=1000.0
    )
    np.testing.assert_allclose(thin, 8490.0 * (1000.0 * outer / 2) ** 2, rtol=1e-6)


def test_the_wheel_holds_twenty_times_what_the_engine_holds():
    energy = flywheel.stored_energy(inertia=5.46e-7, speed=8000 * 2 * np.pi / 60)
    engine = flywheel.reflected_inertia(mass=0.4, **RAIL)
    ratio = energy / flywheel.stored_energy(inertia=engine, speed=8000 * 2 * np.pi / 60)
    assert 0.18 < energy < 0.20
    assert 15 < ratio < 25


@some
@given(st.floats(1e-3, 1e4), st.floats(5.0, 60.0), st.floats(0.008, 0.05))
def test_a_turn_of_the_axle_lays_off_the_circumference(turns, ratio, wheel):
    way = flywheel.coast_distance(
        angle=turns * ratio * 2 * np.pi, gear_ratio=ratio, wheel_diameter=wheel
    )
    np.testing.assert_allclose(way, turns * np.pi * wheel)
