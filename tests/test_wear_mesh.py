"""Worm mesh: the sliding dwarfs everything, and the softer or shorter flank goes first."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import wear

some = settings(max_examples=50, deadline=None)
ANGLES = {"lead_angle": 0.067, "pressure_angle": 0.349}
LIFE = {
    "backlash": 1e-4, "wear_rate_1": 1e-15, "area_1": 51e-6, "wear_rate_2": 6e-14,
    "area_2": 38e-6, "force": 1.2, "sliding_speed": 3.0, **ANGLES,
}  # fmt: skip
leads = st.floats(0.02, 0.6)
flanks = st.floats(0.1, 0.6)
rates = st.floats(1e-17, 1e-11)
areas = st.floats(1e-6, 1e-3)


@some
@given(st.floats(0.002, 0.02), leads, st.floats(1.0, 1e6))
def test_sliding_is_a_little_more_than_the_circumference(diameter, lead, turns):
    way = wear.worm_sliding_distance(pitch_diameter=diameter, lead_angle=lead, turns=turns)
    around = np.pi * diameter * turns
    assert way > around
    np.testing.assert_allclose(way**2, around**2 * (1 + np.tan(lead) ** 2))


@some
@given(leads, flanks, st.floats(1.0, 4.0))
def test_a_worm_of_more_starts_has_more_flank(lead, flank, starts):
    own = {"length": 0.004, "working_depth": 8e-4, "lead_angle": lead, "pressure_angle": flank}
    one = wear.worm_swept_area(starts=1.0, **own)
    np.testing.assert_allclose(wear.worm_swept_area(starts=starts, **own), starts * one)
    assert one > 0.004 * 8e-4


@some
@given(rates, rates, areas, areas, leads, flanks, st.floats(1e-6, 1e-3))
def test_after_that_time_the_worn_depths_make_the_backlash(
    rate_1, rate_2, area_1, area_2, lead, flank, backlash
):
    load = {"force": 1.2, "lead_angle": lead, "pressure_angle": flank}
    time = wear.time_to_backlash(
        backlash=backlash, wear_rate_1=rate_1, area_1=area_1, wear_rate_2=rate_2, area_2=area_2,
        sliding_speed=3.0, **load,
    )  # fmt: skip
    worn = sum(
        wear.mesh_wear_depth(
            wear_rate=rate, force=1.2, sliding_distance=3.0 * time, swept_area=area
        )
        for rate, area in ((rate_1, area_1), (rate_2, area_2))
    )
    np.testing.assert_allclose(worn / (np.cos(lead) * np.cos(flank)), backlash)


def test_time_halves_with_twice_the_force_the_speed_or_the_rate():
    whole = wear.time_to_backlash(**LIFE)
    for name in ("force", "sliding_speed"):
        half = wear.time_to_backlash(**{**LIFE, name: 2 * LIFE[name]})
        np.testing.assert_allclose(half, whole / 2)
    both = {key: 2 * LIFE[key] for key in ("wear_rate_1", "wear_rate_2")}
    np.testing.assert_allclose(wear.time_to_backlash(**{**LIFE, **both}), whole / 2)


def test_the_member_that_wears_fastest_decides():
    whole = wear.time_to_backlash(**LIFE)
    hard_worm = wear.time_to_backlash(**{**LIFE, "wear_rate_1": 1e-20})
    hard_wheel = wear.time_to_backlash(**{**LIFE, "wear_rate_2": 1e-20})
    assert hard_worm < 1.02 * whole
    assert hard_wheel > 50 * whole


def test_equal_metals_wear_the_worm_more_where_its_flank_is_shorter():
    worm = wear.worm_swept_area(length=0.0012, working_depth=8e-4, starts=1.0, **ANGLES)
    wheel = wear.wheel_swept_area(teeth=30.0, face_width=0.003, working_depth=8e-4, **ANGLES)
    assert worm < wheel
