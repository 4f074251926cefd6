"""Knurls: what they raise, where the hub sits on them."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import fits

few = settings(max_examples=25, deadline=None)
PITCH, ANGLE = st.floats(1e-4, 1e-3), st.floats(0.6, 2.4)
SHARE = st.floats(0.01, 1.0)


@few
@given(PITCH, ANGLE)
def test_at_full_depth_the_crests_are_sharp_and_half_above(pitch, angle):
    knurl = {"knurl_pitch": pitch, "crest_angle": angle}
    sharp = fits.sharp_height(**knurl)
    assert np.isclose(fits.raised_height(tooth_depth=2 * sharp * (1 - 1e-15), **knurl), sharp)


@few
@given(PITCH, ANGLE, SHARE)
def test_a_shallow_knurl_raises_by_the_square_of_its_depth(pitch, angle, share):
    knurl = {"knurl_pitch": pitch, "crest_angle": angle}
    sharp = fits.sharp_height(**knurl)
    raised = fits.raised_height(tooth_depth=share * 2 * sharp, **knurl)
    assert np.isclose(raised, share**2 * sharp, rtol=1e-9)
    assert raised <= share * sharp * (1 + 1e-12), "more above the line than below"


@few
@given(PITCH, ANGLE, SHARE)
def test_sharp_crests_pressed_in_to_the_root_bear_everywhere(pitch, angle, share):
    knurl = {"knurl_pitch": pitch, "crest_angle": angle}
    depth = 2 * fits.sharp_height(**knurl)
    assert np.isclose(fits.bearing_share(bite=share * depth, **knurl), share, rtol=1e-9)
    assert fits.bearing_share(bite=0.0, **knurl) == 0


@few
@given(st.floats(1e-6, 1e-4), st.floats(0.01, 2.0))
def test_either_way_round(height, share):
    off = fits.knurl_eccentricity(raised_height=height, uneven_share=share)
    assert off <= height * (1 + 1e-12), "cannot sit further off than the crests are high"
    back = fits.spoiling_height(eccentricity=off, uneven_share=share)
    assert np.isclose(back, height, rtol=1e-12)


def test_even_crests_and_a_plain_shaft_spoil_nothing():
    assert fits.knurl_eccentricity(raised_height=5e-5, uneven_share=0.0) == 0
    assert fits.knurl_eccentricity(raised_height=0.0, uneven_share=1.0) == 0
    assert fits.spoiling_height(eccentricity=0.0, uneven_share=1.0) == 0


def test_a_finer_wheel_raises_less():
    """80 teeth to the inch gain six thousandths of the diameter, 40 twice that."""
    fine, coarse = (
        2 * fits.sharp_height(knurl_pitch=0.0254 / teeth, crest_angle=np.pi / 2) / 25.4e-6
        for teeth in (80, 40)
    )
    assert np.isclose(fine, 6.25) and np.isclose(coarse, 12.5)


KNURL = {"knurl_pitch": 3e-4, "crest_angle": 1.5}


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: fits.raised_height(tooth_depth=2e-4, **KNURL), "tooth_depth = 0.0002 m: must be at least 0 and at most"),
        (lambda: fits.bearing_share(bite=2e-4, **KNURL), "bite"),
    ],
)  # fmt: skip
def test_refusals_name_the_argument(call, words):
    with pytest.raises(ValueError, match=words):
        call()


def test_the_limits_themselves_are_allowed():
    sharp = fits.sharp_height(**KNURL)
    assert fits.raised_height(tooth_depth=0.0, **KNURL) == 0
    assert np.isclose(fits.bearing_share(bite=2 * sharp, **KNURL), 1)
    assert fits.knurl_eccentricity(raised_height=1e-5, uneven_share=2.0) == 1e-5
    assert fits.spoiling_height(eccentricity=1e-5, uneven_share=2.0) == 1e-5
