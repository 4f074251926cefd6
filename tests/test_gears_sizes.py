"""Sizes of one gear: circles in their order, the undercut limit, the shape of a tooth."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import gears

some = settings(max_examples=50, deadline=None)
modules, teeth = st.floats(1e-4, 2e-3), st.floats(12.0, 80.0)
angles = st.floats(0.2, 0.5)


@some
@given(modules, teeth, angles)
def test_circles_lie_in_their_order(module, count, angle):
    root, pitch, outside = (
        size(module=module, teeth=count)
        for size in (gears.root_diameter, gears.pitch_diameter, gears.outside_diameter)
    )
    assert root < pitch < outside
    assert gears.base_diameter(module=module, teeth=count, pressure_angle=angle) < pitch


@some
@given(st.floats(500.0, 1e4), teeth)
def test_an_inch_gear_has_its_teeth_over_its_pitch(diametral_pitch, count):
    module = gears.module_from_diametral_pitch(diametral_pitch=diametral_pitch)
    diameter = gears.pitch_diameter(module=module, teeth=count)
    assert diameter * diametral_pitch == pytest.approx(count)


@some
@given(modules, teeth, angles)
def test_a_tooth_is_half_a_pitch_thick_at_the_pitch_circle(module, count, angle):
    gear = {"module": module, "teeth": count, "pressure_angle": angle}
    pitch_circle = gears.pitch_diameter(module=module, teeth=count)
    at_pitch = gears.tooth_thickness(**gear, diameter=pitch_circle)
    assert at_pitch == pytest.approx(np.pi * module / 2, rel=1e-9)
    at_base = gears.tooth_thickness(**gear, diameter=gears.base_diameter(**gear))
    at_tip = gears.tooth_thickness(
        **gear, diameter=gears.outside_diameter(module=module, teeth=count)
    )
    assert at_tip < at_pitch < at_base


def test_below_the_base_circle_there_is_no_flank():
    gear = {"module": 0.0004, "teeth": 28, "pressure_angle": np.radians(20)}
    with pytest.raises(ValueError, match=r"^diameter = 0.0105 m: must be at least 0.0105246 m$"):
        gears.tooth_thickness(**gear, diameter=0.0105)


@some
@given(angles, st.floats(0.6, 1.3))
def test_a_rack_tooth_at_the_limit_just_reaches_the_flank(angle, coefficient):
    count = gears.minimum_teeth(pressure_angle=angle, addendum_coefficient=coefficient)
    base = count / 2 * np.cos(angle)
    depth = count / 2 - base * np.cos(angle)  # of the point of tangency below the pitch line
    assert depth == pytest.approx(coefficient)


def test_eighteen_teeth_strictly():
    assert 17 < gears.minimum_teeth(pressure_angle=np.radians(20)) < 18
    assert gears.minimum_teeth(pressure_angle=np.radians(25)) < 12
    stub = gears.minimum_teeth(pressure_angle=np.radians(20), addendum_coefficient=0.8)
    assert stub == pytest.approx(0.8 * gears.minimum_teeth(pressure_angle=np.radians(20)))


@some
@given(angles)
def test_the_involute_grows_with_the_square_of_the_tangent(angle):
    step = 1e-6
    slope = (
        gears.involute(pressure_angle=angle + step) - gears.involute(pressure_angle=angle - step)
    ) / (2 * step)
    assert slope == pytest.approx(np.tan(angle) ** 2, rel=1e-6)


def test_the_involute_of_a_steep_angle_is_more_than_the_angle():
    """Printed tables end well below; tan 1.3 is 3.6021 to five digits."""
    assert gears.involute(pressure_angle=1.3) == pytest.approx(3.6021 - 1.3, abs=5e-5)
