"""Flywheels: coasting with and without damping, two discs in one, which shaft whirls first."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import flywheel

some = settings(max_examples=50, deadline=None)
RPM = 2 * np.pi / 60
DISC = {"outer": 0.016, "width": 0.010, "density": 8490.0, "bore": 0.002}
SHAFT = {"shaft_diameter": 0.002, "elastic_modulus": 200e9}
outers = st.floats(0.005, 0.05)
inertias = st.floats(1e-9, 1e-5)
speeds = st.floats(10.0, 3000.0)
torques = st.floats(1e-5, 1e-2)
dampings = st.floats(0.0, 1e-4)


@some
@given(outers, st.floats(0.1, 0.9))
def test_a_ring_is_a_disc_less_the_disc_in_its_bore(outer, share):
    own = {"width": 0.01, "density": 8490.0}
    for formula in (flywheel.ring_inertia, flywheel.ring_mass):
        ring = formula(outer=outer, bore=share * outer, **own)
        rest = formula(outer=share * outer, **own)
        np.testing.assert_allclose(ring + rest, formula(outer=outer, **own))


@some
@given(outers, st.floats(0.0, 0.999))
def test_a_rings_mass_lies_between_bore_and_rim(outer, share):
    own = {"outer": outer, "bore": share * outer, "width": 0.01, "density": 8490.0}
    radius = np.sqrt(flywheel.ring_inertia(**own) / flywheel.ring_mass(**own))
    assert share * outer / 2 < radius < outer / 2


@some
@given(inertias, speeds, torques)
def test_without_damping_speed_falls_evenly(inertia, speed, torque):
    own = {"inertia": inertia, "speed": speed, "torque": torque}
    time, angle = flywheel.coast_time(**own), flywheel.coast_angle(**own)
    np.testing.assert_allclose(time, inertia * speed / torque)
    np.testing.assert_allclose(angle, speed * time / 2)
    twice = flywheel.coast_angle(**{**own, "speed": 2 * speed})
    np.testing.assert_allclose(twice, 4 * angle)


@some
@given(inertias, speeds, torques, dampings)
def test_damping_shortens_the_coast_and_bends_the_curve(inertia, speed, torque, damping):
    own = {"inertia": inertia, "speed": speed, "torque": torque}
    slack = 1 + 1e-12
    time = flywheel.coast_time(damping=damping, **own)
    angle = flywheel.coast_angle(damping=damping, **own)
    assert time <= flywheel.coast_time(**own) * slack
    assert angle <= speed * time / 2 * slack
    # Energy: dry friction alone cannot have taken more than there was.
    assert torque * angle <= inertia * speed**2 / 2 * slack
    # Momentum: what both frictions took in all.
    np.testing.assert_allclose(torque * time + damping * angle, inertia * speed, rtol=1e-8)


@pytest.mark.parametrize("formula", [flywheel.coast_time, flywheel.coast_angle])
def test_the_limit_of_no_damping_is_smooth(formula):
    own = {"inertia": 5.5e-7, "speed": 800.0, "torque": 0.3e-3}
    small = np.array([0.0, 1e-300, 1e-25, 1e-18, 1e-14])
    coast = formula(damping=small, **own)
    np.testing.assert_allclose(coast, formula(**own), rtol=1e-7)
    assert np.all(np.diff(coast) <= 0)
    # First-order fall, from the series by hand: x/2 of the time, 2x/3 of the angle.
    x = 1e-9
    tiny = formula(damping=x * 0.3e-3 / 800.0, **own)
    slope = {"coast_time": 1 / 2, "coast_angle": 2 / 3}[formula.__name__]
    np.testing.assert_allclose((1 - tiny / formula(**own)) / x, slope, rtol=1e-5)


def test_heavy_damping_leaves_the_viscous_angle():
    angle = flywheel.coast_angle(inertia=5.5e-7, speed=800.0, torque=1e-9, damping=1e-5)
    np.testing.assert_allclose(angle, 5.5e-7 * 800.0 / 1e-5, rtol=1e-4)


def test_no_speed_no_coast():
    assert flywheel.coast_time(inertia=5.5e-7, speed=0.0, torque=1e-3, damping=1e-6) == 0.0
    assert flywheel.coast_angle(inertia=5.5e-7, speed=0.0, torque=1e-3, damping=1e-6) == 0.0


@some
@given(inertias, st.floats(5.0, 80.0), st.floats(0.005, 0.05))
def test_equivalent_mass_and_reflected_inertia_are_inverse(inertia, ratio, wheel):
    gear = {"gear_ratio": ratio, "wheel_diameter": wheel}
    mass = flywheel.equivalent_mass(inertia=inertia, **gear)
    np.testing.assert_allclose(flywheel.reflected_inertia(mass=mass, **gear), inertia)


def test_twenty_micrometers_shake_with_three_times_the_weight():
    force = flywheel.unbalance_force(mass=0.017, eccentricity=20e-6, speed=12000 * RPM)
    assert 3.0 < force / (0.017 * 9.80665) < 3.5


@some
@given(st.floats(0.0001, 0.05), speeds)
def test_grade_holds_the_center_of_mass_to_its_speed(grade, speed):
    offset = flywheel.permissible_eccentricity(balance_grade=grade, speed=speed)
    np.testing.assert_allclose(offset * speed, grade)


@some
@given(st.floats(0.001, 0.1), st.floats(0.003, 0.05), st.floats(0.001, 0.1))
def test_a_second_bearing_always_lowers_the_critical_speed(mass, overhang, span):
    own = {"mass": mass, "overhang": overhang, **SHAFT}
    bound = flywheel.overhung_critical_speed(**own)
    real = flywheel.critical_speed(span=span, **own)
    assert real < bound
    np.testing.assert_allclose((bound / real) ** 2, 1 + span / overhang)
    np.testing.assert_allclose(flywheel.critical_speed(span=1e-12, **own), bound)


@some
@given(st.floats(0.001, 0.01), st.floats(1.1, 3.0))
def test_critical_speed_goes_with_the_square_of_the_shaft(diameter, factor):
    own = {"mass": 0.02, "overhang": 0.012, "span": 0.02, "elastic_modulus": 200e9}
    thin = flywheel.critical_speed(shaft_diameter=diameter, **own)
    thick = flywheel.critical_speed(shaft_diameter=factor * diameter, **own)
    np.testing.assert_allclose(thick / thin, factor**2)


def test_a_long_overhang_whirls_inside_the_running_range():
    near, far = (
        flywheel.overhung_critical_speed(mass=0.02, overhang=overhang, **SHAFT) / RPM
        for overhang in (0.012, 0.025)
    )
    assert 34_000 < near < 36_000
    assert 11_000 < far < 12_500


def test_stress_is_never_the_limit_in_a_small_wheel():
    stress = flywheel.disc_stress(outer=0.016, density=8490.0, poisson=0.34, speed=10000 * RPM)
    assert stress < 0.3e6


@pytest.mark.parametrize("function", [flywheel.ring_inertia, flywheel.ring_mass])
def test_a_disc_is_plain_until_a_bore_is_named(function):
    plain = {**DISC, "bore": 0.0}
    assert function(**plain) == function(**{k: v for k, v in DISC.items() if k != "bore"})
