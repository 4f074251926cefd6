"""Bowed and waved washers."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import springs
from tests.independent import ring_beam

few = settings(max_examples=50, deadline=None)
SHIM = {
    "elastic_modulus": 103e9, "width": 0.0008, "thickness": 0.0001, "mean_diameter": 0.0035,
    "waves": 2, "deflection_factor": 3.98,
}  # fmt: skip


def test_many_waves_are_straight_beams_held_level():
    many = springs.waved_washer_factor(waves=60.0, poisson=0.3)
    assert np.isclose(many, np.pi**3 / 16, rtol=2e-3)


@few
@given(st.floats(2.0, 20.0), st.floats(0.0, 0.5))
def test_factor_falls_with_the_waves_and_stays_in_the_printed_band(waves, poisson):
    factor = springs.waved_washer_factor(waves=waves, poisson=poisson)
    more = springs.waved_washer_factor(waves=waves + 1, poisson=poisson)
    assert 1.9 < more < factor < 7.8


@few
@given(st.floats(2.0, 6.0), st.floats(0.0, 0.5))
def test_closed_form_is_the_sum_over_odd_waves(waves, poisson):
    ratio = 2 / (1 + poisson)
    square = (waves * np.arange(1, 20001, 2.0)) ** 2
    terms = (1 + ratio * square) / (ratio * square * (square - 1) ** 2)
    expected = 6 / np.pi * waves**4 * terms.sum()
    assert np.isclose(springs.waved_washer_factor(waves=waves, poisson=poisson), expected)


@few
@given(st.floats(1.1, 3.0))
def test_rate_follows_the_powers_of_a_beam(factor):
    rate = springs.waved_washer_rate(**SHIM)
    thick = springs.waved_washer_rate(**{**SHIM, "thickness": factor * SHIM["thickness"]})
    large = springs.waved_washer_rate(**{**SHIM, "mean_diameter": factor * 0.0035})
    assert np.isclose(thick / rate, factor**3)
    assert np.isclose(rate / large, factor**3)


def test_bow_and_stress_grow_together():
    bow = np.array([0.0, 0.0001, 0.0002])
    stress = springs.bowed_washer_stress(
        elastic_modulus=103e9, deflection=bow, thickness=0.0001, outer=0.0043
    )
    assert stress[0] == 0
    assert np.isclose(stress[2], 2 * stress[1])


@pytest.mark.parametrize(("width", "times"), [(0.02, 1.9), (0.2, 1.3)])
def test_how_far_the_rule_for_a_bow_lies_above_the_ring(width, times):
    """Width over outside diameter; the bending moment at the crest of a ring of beams."""
    bow = {"elastic_modulus": 103e9, "deflection": 1e-4, "thickness": 1e-4}
    rule = springs.bowed_washer_stress(**bow, outer=0.004)
    ring = ring_beam.bowed_washer_stress(**bow, mean_diameter=0.004 * (1 - width), poisson=0.3)
    assert rule / ring == pytest.approx(times, abs=0.05)
    # a quarter of the load at a radius from the crest, and the rate of the same file
    shim = {**SHIM, "mean_diameter": 0.004 * (1 - width), "width": 0.004 * width}
    shim["deflection_factor"] = springs.waved_washer_factor(waves=2, poisson=0.3)
    load = springs.waved_washer_rate(**shim) * bow["deflection"]
    stress = 6 * load / 4 * shim["mean_diameter"] / 2 / (shim["width"] * shim["thickness"] ** 2)
    assert ring == pytest.approx(stress, rel=2e-3)
