"""Bounce, dips and rough rail."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from mechkit import suspension
from mechkit.names import STANDARD_GRAVITY

few = settings(max_examples=50, deadline=None)
fewer = settings(max_examples=20, deadline=None)
THREE = {"positions": [0, 0.03, 0.06], "rates": 400.0, "mass": 0.3, "center_of_gravity": 0.03}
ROUGH = {**THREE, "unevenness": 0.001, "minimum_load": 0.2}


@few
@given(st.floats(100.0, 5000.0), st.floats(0.1, 1.0))
def test_bounce_is_a_pendulum_as_long_as_the_springs_sink(rate, mass):
    """The old shop rule: bounce from the static deflection alone."""
    sunk = mass * STANDARD_GRAVITY / rate
    expected = np.sqrt(STANDARD_GRAVITY / sunk)
    assert np.isclose(suspension.bounce_speed(rate=rate, mass=mass), expected)


def test_the_middle_wheel_follows_half_the_weight_over_the_rate():
    depths = suspension.lift_off_depths(**THREE)
    heavy = 0.3 * STANDARD_GRAVITY
    np.testing.assert_allclose(depths, heavy / 400 * np.array([2, 0.5, 2]), rtol=1e-6)


def test_two_axles_follow_every_dip():
    depths = suspension.lift_off_depths(
        positions=[0, 0.03], rates=[400, 300], mass=0.3, center_of_gravity=0.01
    )
    assert np.all(np.isinf(depths))


@st.composite
def frames(draw):
    axles = draw(st.integers(3, 6))

    def numbers(low, high):
        return np.array(draw(st.lists(st.floats(low, high), min_size=axles, max_size=axles)))

    positions = np.cumsum(numbers(0.004, 0.03))
    return {
        "positions": positions,
        "rates": numbers(100.0, 2000.0),
        "mass": draw(st.floats(0.1, 1.0)),
        "center_of_gravity": positions[0] + np.ptp(positions) * draw(st.floats(0.05, 0.95)),
    }


@few
@given(frames())
def test_at_its_depth_an_axle_just_lets_go(frame):
    depths = suspension.lift_off_depths(**frame)
    heavy = frame["mass"] * STANDARD_GRAVITY
    for axle, depth in enumerate(depths):
        if np.isfinite(depth) and depth < 10:
            rail = np.where(np.arange(len(depths)) == axle, -depth, 0.0)
            step = np.where(np.arange(len(depths)) == axle, 1e-4 * abs(depth) + 1e-7, 0.0)
            above = suspension.axle_loads(**frame, rail_heights=rail + step)[axle]
            below = suspension.axle_loads(**frame, rail_heights=rail - step)[axle]
            assert below < 1e-9 * heavy < above


@few
@given(frames())
def test_an_axle_that_cannot_be_spared_never_lets_go(frame):
    depths = suspension.lift_off_depths(**frame)
    places, center = frame["positions"], frame["center_of_gravity"]
    for axle in range(len(places)):
        left = np.delete(places, axle)
        if not left.min() <= center <= left.max():
            assert np.isinf(depths[axle])


@pytest.mark.parametrize("center", [-0.02, -0.05])
def test_nor_does_one_before_the_ruler_begins(center):
    depths = suspension.lift_off_depths(
        positions=[-0.06, -0.04, -0.01], rates=400, mass=0.3, center_of_gravity=center
    )
    np.testing.assert_array_equal(np.isinf(depths), [center < -0.04, False, center > -0.04])


@fewer
@given(frames(), st.floats(-0.2, 0.2))
def test_depths_do_not_ask_where_the_ruler_begins(frame, shift):
    there = suspension.lift_off_depths(**frame)
    moved = {
        **frame,
        "positions": frame["positions"] + shift,
        "center_of_gravity": frame["center_of_gravity"] + shift,
    }
    np.testing.assert_allclose(suspension.lift_off_depths(**moved), there, rtol=1e-5, atol=1e-9)


@pytest.mark.parametrize("shift", [0.0, -0.2])
def test_a_frame_balanced_on_one_axle_stands_without_its_neighbor(shift):
    """Above the second axle: without the first the second carries all, and neighbors just touch."""
    depths = suspension.lift_off_depths(
        positions=np.array([0, 0.02, 0.05]) + shift, rates=400.0, mass=0.3,
        center_of_gravity=0.02 + shift,
    )  # fmt: skip
    sunk = 0.3 * STANDARD_GRAVITY / 400
    assert np.isclose(depths[0], sunk * 5 / 3, rtol=1e-6)
    assert np.isclose(depths[2], sunk * 5 / 2, rtol=1e-6)


def test_several_frames_at_once_are_each_alone():
    places = np.array([[0.0, 0.02, 0.06], [0.0, 0.03, 0.05]])
    together = suspension.lift_off_depths(**{**THREE, "positions": places})
    shares, each = suspension.contact_shares(**{**ROUGH, "positions": places})
    for row in range(2):
        alone = {**THREE, "positions": places[row]}
        np.testing.assert_allclose(together[row], suspension.lift_off_depths(**alone), rtol=1e-9)
        one, axles = suspension.contact_shares(**{**ROUGH, "positions": places[row]})
        assert one == shares[row]
        np.testing.assert_array_equal(axles, each[row])


def test_depths_sweep_over_mass_and_rates():
    depths = suspension.lift_off_depths(
        positions=[0, 0.02, 0.04, 0.06], rates=np.full((2, 1, 4), 400.0),
        mass=np.array([0.2, 0.4, 0.6]), center_of_gravity=0.03,
    )  # fmt: skip
    assert depths.shape == (2, 3, 4)
    np.testing.assert_allclose(depths[:, 2], 3 * depths[:, 0])


def test_level_rail_keeps_all_wheels_and_the_same_seed_the_same_rail():
    level = suspension.contact_shares(**{**ROUGH, "unevenness": 0.0})
    assert level[0] == 1
    np.testing.assert_array_equal(level[1], 1)
    once, again = suspension.contact_shares(**ROUGH), suspension.contact_shares(**ROUGH)
    other = suspension.contact_shares(**ROUGH, seed=2)
    np.testing.assert_array_equal(once[1], again[1])
    assert not np.array_equal(once[1], other[1])


@fewer
@given(frames(), st.floats(0.0, 5e-4), st.floats(0.0, 0.3), st.floats(0.1, 10.0))
def test_shares_go_by_force_alone(frame, unevenness, least, times):
    """Weight, springs and least load in one proportion; or rail rougher as springs are softer."""
    few_places = {"samples": 50}
    there = suspension.contact_shares(
        **frame, unevenness=unevenness, minimum_load=least, **few_places
    )
    heavier = {**frame, "mass": times * frame["mass"], "rates": times * frame["rates"]}
    alike = suspension.contact_shares(
        **heavier, unevenness=unevenness, minimum_load=times * least, **few_places
    )
    softer = {**frame, "rates": frame["rates"] / times}
    rough = suspension.contact_shares(
        **softer, unevenness=times * unevenness, minimum_load=least, **few_places
    )
    for other in (alike, rough):
        # a place on the edge may fall to either side by rounding
        assert abs(other[0] - there[0]) <= 1 / 50
        assert np.all(abs(other[1] - there[1]) <= 1 / 50)


@fewer
@given(frames(), st.floats(0.0, 2e-3), st.floats(0.0, 0.5), st.floats(0.0, 0.5))
def test_asking_for_more_is_met_less_often(frame, unevenness, one, other):
    low, high = sorted((one, other))
    rail = {**frame, "unevenness": unevenness, "samples": 60}
    often, each_often = suspension.contact_shares(**rail, minimum_load=low)
    seldom, each_seldom = suspension.contact_shares(**rail, minimum_load=high)
    assert 0 <= seldom <= often <= each_often.min() <= 1
    assert np.all(each_seldom <= each_often)
    anything, _ = suspension.contact_shares(**rail, minimum_load=0.0)
    assert anything == 1, "nothing asked for is always met, also by a wheel that hangs"


def test_a_little_roughness_is_met_as_the_normal_curve_says():
    """The middle wheel, springs never slack: its load is normal, from the line that it follows."""
    rail, weight = 0.3e-3, 0.3 * STANDARD_GRAVITY
    spread = 400 / 3 * 2 * rail * np.sqrt(1.5)  # its own rail, and the mean of both others
    least = weight / 3 - 0.5 * spread
    _, each = suspension.contact_shares(**{**ROUGH, "unevenness": rail, "minimum_load": least})
    assert abs(each[1] - norm.cdf(0.5)) < 4 * np.sqrt(0.25 / 2000)


def test_two_thousand_places_of_the_first_rail_unless_told():
    told = suspension.contact_shares(**ROUGH, samples=2000, seed=1)
    np.testing.assert_array_equal(suspension.contact_shares(**ROUGH)[1], told[1])


def test_rougher_rail_and_stiffer_springs_lose_wheels():
    rougher, _ = suspension.contact_shares(**{**ROUGH, "unevenness": [0.0005, 0.001, 0.002, 0.004]})
    assert rougher.shape == (4,)
    assert np.all(np.diff(rougher) < 0)
    stiff = np.array([[200.0], [400.0], [800.0], [1600.0]]) * np.ones(3)
    stiffer, each = suspension.contact_shares(**{**ROUGH, "rates": stiff})
    assert np.all(np.diff(stiffer) < 0)
    assert each.shape == (4, 3)


def test_all_axles_hold_less_often_than_any_one():
    together, each = suspension.contact_shares(**{**ROUGH, "unevenness": 0.003})
    assert each.sum() - 2 - 1e-12 <= together < each.min()
    assert each[1] < min(each[0], each[2]), "the middle wheel is the first to let go"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"center_of_gravity": 0.07}, "center_of_gravity = 0.07 m: must be greater than 0 and"),
    ],
)
def test_bad_rail_is_refused(change, message):
    with pytest.raises(ValueError) as refused:
        suspension.contact_shares(**{**ROUGH, **change})
    assert str(refused.value).startswith(message)
