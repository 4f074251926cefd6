"""The mesh: curvature, overrun of the tips, sliding."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import gears
from tests.independent import plane

some = settings(max_examples=50, deadline=None)
ALPHA = np.radians(20)
PAIR = {"module": 0.0004, "teeth_1": 14.0, "teeth_2": 28.0, "pressure_angle": ALPHA}
MESH = {**PAIR, "addendum": 0.0004, "center_distance": 0.0085}


def test_teeth_out_of_reach_do_not_slide():
    """The distance that is named is the one at which the contact ratio comes to nothing."""
    with pytest.raises(ValueError, match=r"^center_distance = 0\.0093 m: must be greater") as error:
        gears.sliding_distance(**{**MESH, "center_distance": 0.0093})
    limit = float(str(error.value).split()[-2])
    near, far = ({**MESH, "center_distance": limit + by} for by in (-1e-7, 1e-7))
    assert gears.contact_ratio(**near) > 0 == gears.contact_ratio(**far)
    assert gears.sliding_distance(**near) > 0


def test_radii_add_up_to_the_line_of_action():
    radius_1, radius_2 = gears.flank_radii(**PAIR, center_distance=0.0084)
    assert radius_1 == pytest.approx(0.0028 * np.sin(ALPHA))  # pitch radius times sine
    assert radius_2 == pytest.approx(2 * radius_1)


@some
@given(st.floats(10, 40), st.floats(10, 60), st.floats(0.2, 0.45), st.floats(0.0, 0.05))
def test_radii_at_the_pitch_point_are_the_legs_of_triangles(one, two, angle, opening):
    """Base radius, radius of curvature and working pitch radius; both together the line of action."""
    apart = 2e-4 * (one + two) * (1 + opening)
    pair = {"module": 4e-4, "pressure_angle": angle, "center_distance": apart}
    radii = gears.flank_radii(teeth_1=one, teeth_2=two, **pair)
    for radius, teeth in zip(radii, (one, two), strict=True):
        base = gears.base_diameter(module=4e-4, teeth=teeth, pressure_angle=angle) / 2
        assert np.hypot(radius, base) == pytest.approx(apart * teeth / (one + two), rel=1e-9)
    working = np.arccos(2e-4 * (one + two) * np.cos(angle) / apart)
    assert sum(radii) == pytest.approx(apart * np.sin(working), rel=1e-9)
    swapped = gears.flank_radii(teeth_1=two, teeth_2=one, **pair)
    assert swapped == pytest.approx(radii[::-1], rel=1e-12)


@some
@given(st.floats(1.01, 1.05), st.floats(1.1, 5.0))
def test_wider_centers_flatten_the_flanks_and_a_larger_module_scales_them(opening, times):
    near = gears.flank_radii(**PAIR, center_distance=0.0084)
    wide = gears.flank_radii(**PAIR, center_distance=0.0084 * opening)
    assert wide[0] > near[0] and wide[1] > near[1]
    large = {**PAIR, "module": times * 4e-4, "center_distance": times * 0.0084 * opening}
    assert gears.flank_radii(**large) == pytest.approx([times * one for one in wide], rel=1e-9)


@some
@given(st.floats(0.0, 0.3))
def test_opening_the_centers_clears_the_tips(opening):
    near = gears.tip_overrun(**{**MESH, "center_distance": 0.0084 + opening * 4e-4})
    far = gears.tip_overrun(**{**MESH, "center_distance": 0.0085 + opening * 4e-4})
    assert far[0] < near[0]
    assert far[1] < near[1]


def test_the_tip_of_a_rack_sized_gear_overruns_below_the_undercut_limit():
    limit = gears.minimum_teeth(pressure_angle=ALPHA)
    for teeth, fouls in ((limit - 0.1, True), (limit + 0.1, False)):
        pair = {"module": 1e-3, "teeth_1": teeth, "teeth_2": 1e5, "pressure_angle": ALPHA}
        distance = gears.center_distance(module=1e-3, teeth_1=teeth, teeth_2=1e5)
        _, overrun = gears.tip_overrun(**pair, addendum=1e-3, center_distance=distance)
        assert (overrun > 0) == fouls


@pytest.mark.parametrize(
    ("teeth", "ratio"),
    [
        (12.32, 1.0),  # T. Bevan, Theory of Machines, ch. 10, as transcribed by a third party
        (15.44, 4.0),  # J.E. Shigley, Mechanical Engineering Design, from memory
    ],
)
def test_the_least_pinion_of_the_books_just_clears(teeth, ratio):
    overruns = []
    for count in (teeth - 0.006, teeth + 0.006):
        pair = {"module": 1e-3, "teeth_1": count, "teeth_2": ratio * count, "pressure_angle": ALPHA}
        distance = gears.center_distance(module=1e-3, teeth_1=count, teeth_2=ratio * count)
        overruns.append(gears.tip_overrun(**pair, addendum=1e-3, center_distance=distance)[1])
    assert overruns[0] > 0 > overruns[1]


@some
@given(st.floats(12, 40), st.floats(12, 60), st.floats(1, 500), st.floats(1e-5, 1e-3))
def test_sliding_is_nothing_at_the_pitch_point_and_grows_evenly(one, two, speed, off):
    pair = {"teeth_1": one, "teeth_2": two, "speed": speed}
    assert gears.sliding_speed(**pair, pitch_point_distance=0.0) == 0
    slides = gears.sliding_speed(**pair, pitch_point_distance=np.array([off, 2 * off]))
    assert slides[1] == pytest.approx(2 * slides[0])
    # seen from the second gear, at its own speed, the flanks slide just as fast
    other = gears.sliding_speed(
        teeth_1=two, teeth_2=one, speed=speed * one / two, pitch_point_distance=off
    )
    assert other == pytest.approx(slides[0])


@settings(max_examples=10, deadline=None)
@given(st.floats(12, 30), st.floats(12, 60), st.floats(0.0, 0.3))
def test_sliding_distance_agrees_with_velocities_in_the_plane(one, two, opening):
    pair = {"module": 4e-4, "teeth_1": one, "teeth_2": two, "pressure_angle": ALPHA}
    wide = 2e-4 * (one + two) + opening * 4e-4
    whole = {**pair, "addendum": 4e-4, "center_distance": wide}
    assert gears.sliding_distance(**whole) == pytest.approx(
        plane.sliding_distance(**whole), rel=3e-6
    )


def test_sliding_where_one_tip_does_not_reach_the_pitch_point():
    # long and short addendum cannot be told apart here, so open the centers very wide
    far = {**MESH, "teeth_1": 10.0, "teeth_2": 60.0, "center_distance": 0.01455}
    approach, recess = gears.path_of_contact(**far)
    assert approach > 0 > recess or recess > 0 > approach
    assert gears.sliding_distance(**far) == pytest.approx(plane.sliding_distance(**far), rel=1e-5)
