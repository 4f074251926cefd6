"""Bounce, dips and rough rail."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import ride, suspension
from mechkit.names import STANDARD_GRAVITY

few = settings(max_examples=50, deadline=None)
THREE = {"positions": [0, 0.03, 0.06], "rates": 400.0, "mass": 0.3, "center_of_gravity": 0.03}
ROUGH = {**THREE, "unevenness": 0.001, "minimum_load": 0.2}


@few
@given(st.floats(100.0, 5000.0), st.floats(0.1, 1.0))
def test_bounce_is_a_pendulum_as_long_as_the_springs_sink(rate, mass):
    """The old shop rule: bounce from the static deflection alone."""
    sunk = mass * STANDARD_GRAVITY / rate
    expected = np.sqrt(STANDARD_GRAVITY / sunk)
    assert np.isclose(ride.bounce_speed(rate=rate, mass=mass), expected)


def test_the_middle_wheel_follows_half_the_weight_over_the_rate():
    depths = ride.lift_off_depths(**THREE)
    heavy = 0.3 * STANDARD_GRAVITY
    np.testing.assert_allclose(depths, heavy / 400 * np.array([2, 0.5, 2]), rtol=1e-6)


def test_two_axles_follow_every_dip():
    depths = ride.lift_off_depths(
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
    depths = ride.lift_off_depths(**frame)
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
    depths = ride.lift_off_depths(**frame)
    places, center = frame["positions"], frame["center_of_gravity"]
    for axle in range(len(places)):
        left = np.delete(places, axle)
        if not left.min() <= center <= left.max():
            assert np.isinf(depths[axle])


def test_depths_sweep_over_mass_and_rates():
    depths = ride.lift_off_depths(
        positions=[0, 0.02, 0.04, 0.06], rates=np.full((2, 1, 4), 400.0),
        mass=np.array([0.2, 0.4, 0.6]), center_of_gravity=0.03,
    )  # fmt: skip
    assert depths.shape == (2, 3, 4)
    np.testing.assert_allclose(depths[:, 2], 3 * depths[:, 0])


def test_level_rail_keeps_all_wheels_and_the_same_seed_the_same_rail():
    level = ride.contact_shares(**{**ROUGH, "unevenness": 0.0})
    assert level[0] == 1
    np.testing.assert_array_equal(level[1], 1)
    once, again = ride.contact_shares(**ROUGH), ride.contact_shares(**ROUGH)
    other = ride.contact_shares(**ROUGH, seed=2)
    np.testing.assert_array_equal(once[1], again[1])
    assert not np.array_equal(once[1], other[1])


def test_rougher_rail_and_stiffer_springs_lose_wheels():
    rougher, _ = ride.contact_shares(**{**ROUGH, "unevenness": [0.0005, 0.001, 0.002, 0.004]})
    assert rougher.shape == (4,)
    assert np.all(np.diff(rougher) < 0)
    stiff = np.array([[200.0], [400.0], [800.0], [1600.0]]) * np.ones(3)
    stiffer, each = ride.contact_shares(**{**ROUGH, "rates": stiff})
    assert np.all(np.diff(stiffer) < 0)
    assert each.shape == (4, 3)


def test_all_axles_hold_less_often_than_any_one():
    together, each = ride.contact_shares(**{**ROUGH, "unevenness": 0.003})
    assert each.sum() - 2 - 1e-12 <= together < each.min()
    assert each[1] < min(each[0], each[2]), "the middle wheel is the first to let go"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"unevenness": -0.001}, "unevenness = -0.001 m: must be at least 0"),
        ({"minimum_load": np.nan}, "minimum_load = nan N: must be finite"),
        ({"samples": 0}, "samples = 0: must be a whole number of at least 1"),
        ({"samples": 2.5}, "samples = 2.5: must be a whole number of at least 1"),
        ({"seed": -1}, "seed = -1: must be a whole number of at least 0"),
        ({"mass": 0.0}, "mass = 0 kg: must be greater than 0"),
        ({"rates": [400, 400]}, "rates = 2 values: must be one an axle, 3"),
        ({"center_of_gravity": 0.07}, "center_of_gravity = 0.07 m: must be greater than 0 and"),
        ({"positions": "left"}, "positions = 'left': must be a plain number"),
    ],
)
def test_bad_rail_is_refused(change, message):
    with pytest.raises(ValueError) as refused:
        ride.contact_shares(**{**ROUGH, **change})
    assert str(refused.value).startswith(message)


@pytest.mark.parametrize(
    ("change", "argument"),
    [
        ({"mass": -1.0}, "mass"),
        ({"rates": 0.0}, "rates"),
        ({"positions": [0.0]}, "positions"),
        ({"center_of_gravity": -0.1}, "center_of_gravity"),
    ],
)
def test_bad_frames_are_refused(change, argument):
    with pytest.raises(ValueError, match=f"^{argument} = "):
        ride.lift_off_depths(**{**THREE, **change})


@pytest.mark.parametrize("bad", [{"rate": 0.0}, {"mass": np.inf}])
def test_bad_bounce_is_refused(bad):
    with pytest.raises(ValueError, match=f"^{next(iter(bad))} = "):
        ride.bounce_speed(**{"rate": 1000.0, "mass": 0.4, **bad})
