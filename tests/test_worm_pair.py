"""The worm: wedge and friction, locking at rest and while it slows down."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import worm
from tests.independent import thread

some = settings(max_examples=50, deadline=None)
meshes = st.fixed_dictionaries(
    {
        "lead_angle": st.floats(0.02, 0.7),
        "friction": st.floats(0.001, 0.3),
        "pressure_angle": st.floats(0.2, 0.5),
    }
)


def test_messages_name_value_unit_and_limit():
    with pytest.raises(ValueError) as error:
        worm.locking_speed(lead_angle=0.01, pressure_angle=0.349)
    assert str(error.value) == (
        "lead_angle = 0.01 rad: must be greater than 0.0127691 rad and less than 1.5708 rad"
    )


@some
@given(st.floats(1, 4), st.floats(2e-4, 1e-3), st.floats(0.003, 0.02))
def test_lead_angle_unrolls_the_lead(starts, module, diameter):
    angle = worm.lead_angle(starts=starts, module=module, pitch_diameter=diameter)
    climb = np.pi * diameter * np.tan(angle)
    assert climb == pytest.approx(worm.lead(starts=starts, module=module))


@some
@given(meshes)
def test_without_friction_nothing_is_lost(mesh):
    smooth = {**mesh, "friction": 0.0}
    assert worm.efficiency(**smooth) == pytest.approx(1)
    assert worm.back_driving_efficiency(**smooth) == pytest.approx(1)


@some
@given(meshes)
def test_friction_costs_both_ways_and_more_backward(mesh):
    rougher = {**mesh, "friction": mesh["friction"] * 1.1}
    for function in (worm.efficiency, worm.back_driving_efficiency):
        assert function(**rougher) < function(**mesh) < 1
    if mesh["lead_angle"] < np.pi / 4:
        assert worm.back_driving_efficiency(**mesh) < worm.efficiency(**mesh)


@some
@given(meshes)
def test_efficiencies_agree_with_vectors_on_a_helicoid(mesh):
    assert worm.efficiency(**mesh) == pytest.approx(thread.efficiency(**mesh), abs=1e-6)
    back = worm.back_driving_efficiency(**mesh)
    assert back == pytest.approx(thread.back_driving_efficiency(**mesh), rel=1e-6, abs=1e-6)


@some
@given(st.floats(0.02, 0.7), st.floats(0.2, 0.5), st.floats(0.9, 1.1))
def test_it_locks_exactly_above_the_locking_friction(lead_angle, pressure_angle, times):
    angles = {"lead_angle": lead_angle, "pressure_angle": pressure_angle}
    limit = worm.locking_friction(**angles)
    back = worm.back_driving_efficiency(**angles, friction=limit * times)
    assert back == pytest.approx(0, abs=1e-9) if times == 1 else (back < 0) == (times > 1)


def test_a_mesh_at_the_limit_wastes_about_half():
    limit = worm.locking_friction(lead_angle=0.0666, pressure_angle=0.349)
    at_limit = worm.efficiency(lead_angle=0.0666, pressure_angle=0.349, friction=limit)
    assert at_limit == pytest.approx((1 - np.tan(0.0666) ** 2) / 2)


def test_efficiency_of_a_small_single_start_worm():
    angle = worm.lead_angle(starts=1, module=0.0004, pitch_diameter=0.006)
    friction = np.array([0.05, 0.08, 0.12])
    ours = worm.efficiency(lead_angle=angle, friction=friction, pressure_angle=np.radians(20))
    np.testing.assert_allclose(ours, [0.55, 0.44, 0.34], atol=0.006)


def test_friction_falls_with_speed_and_steps_a_little_at_ten_feet_a_minute():
    feet = np.array([0.0, 1e-3, 1, 5, 9.999, 10.001, 50, 500, 5000])
    friction = worm.friction_coefficient(sliding_speed=feet * worm.FOOT_PER_MINUTE)
    assert np.all(np.diff(friction) < 0)
    assert 1 - friction[5] / friction[4] == pytest.approx(0.022, abs=0.001)
    assert friction[-1] > worm.CURVE_FLOOR
    assert isinstance(worm.friction_coefficient(sliding_speed=1.0), float)


@some
@given(st.floats(0.015, 0.148), st.floats(0.5, 3.0))
def test_locking_speed_is_where_the_curve_crosses_the_limit(limit, ratio):
    pressure_angle = np.radians(20)
    lead_angle = np.arctan(limit * ratio / np.cos(pressure_angle))
    angles = {"lead_angle": lead_angle, "pressure_angle": pressure_angle}
    speed = worm.locking_speed(**angles, friction_ratio=ratio)
    slower, faster = (
        ratio * worm.friction_coefficient(sliding_speed=speed * near) for near in (0.999, 1.001)
    )
    if limit < 0.124:
        assert faster < limit * ratio < slower
    else:
        assert speed < 1e-12  # at rest only


def test_inside_the_step_of_the_curve_it_locks_at_ten_feet_a_minute():
    pressure_angle = np.radians(20)
    lead_angle = np.arctan(0.0885 / np.cos(pressure_angle))
    speed = worm.locking_speed(lead_angle=lead_angle, pressure_angle=pressure_angle)
    assert speed == pytest.approx(10 * worm.FOOT_PER_MINUTE)


def test_a_small_drive_crosses_the_limit_while_it_slows_down():
    angle = worm.lead_angle(starts=1, module=0.0004, pitch_diameter=0.006)
    limit = worm.locking_friction(lead_angle=angle, pressure_angle=np.radians(20))
    assert limit == pytest.approx(0.0626, abs=5e-5)
    rpm = np.array([1000, 10000]) * np.pi / 30
    slides = worm.sliding_speed(pitch_diameter=0.006, speed=rpm, lead_angle=angle)
    slow, fast = worm.friction_coefficient(sliding_speed=slides)
    assert slow > limit > fast
    assert (slow, fast) == pytest.approx((0.063, 0.026), abs=0.0005)
    locks = worm.locking_speed(lead_angle=angle, pressure_angle=np.radians(20))
    assert slides[0] < locks < slides[1]


@some
@given(st.floats(0.02, 0.5), st.floats(0.2, 0.5))
def test_normal_angle_is_the_smaller_one(lead_angle, axial):
    normal = worm.normal_pressure_angle(axial_pressure_angle=axial, lead_angle=lead_angle)
    assert normal < axial
    vectors = thread.normal_pressure_angle(axial_pressure_angle=axial, lead_angle=lead_angle)
    assert normal == pytest.approx(vectors, rel=1e-7)
