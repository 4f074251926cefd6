"""Spring wire: strength and sizes."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import springs, tables

few = settings(max_examples=50, deadline=None)
MUSIC = st.floats(0.0001016, 0.0016002)


@few
@given(MUSIC, MUSIC)
def test_thinner_music_wire_is_stronger(one, two):
    thin, thick = sorted((one, two))
    strong = springs.music_wire_strength(wire_diameter=thin)
    weak = springs.music_wire_strength(wire_diameter=thick)
    assert strong >= weak * (1 - 1e-12), "thinner is stronger by area"
    assert strong * thin**2 <= weak * thick**2 * (1 + 1e-12), "but breaks under less"


def test_every_size_has_its_own_strength():
    for name in tables.names("wire"):
        if name.startswith("music wire"):
            diameter = tables.value("wire", name, "diameter")
            low, high = tables.band("wire", name, "tensile_strength")
            strength = springs.music_wire_strength(wire_diameter=diameter)
            assert np.isclose(strength, low)
            assert 1.08 < high / low < 1.13, f"{name}: least and greatest strength"
            assert springs.nearest_music_wire(wire_diameter=diameter) == diameter


@few
@given(MUSIC)
def test_the_nearest_size_is_no_further_than_half_a_step(wanted):
    near = springs.nearest_music_wire(wire_diameter=wanted)
    assert abs(near - wanted) <= 0.5 * 0.0042 * 0.0254 + 1e-12
    assert springs.nearest_music_wire(wire_diameter=near) == near


@few
@given(st.floats(0.0001, 0.003))
def test_bronze_is_weaker_than_music_wire_everywhere(wire):
    bronze = springs.phosphor_bronze_strength(wire_diameter=wire)
    assert 0.89e9 < bronze < 1.001e9
    if 0.00011 < wire < 0.0016:
        assert bronze < 0.5 * springs.music_wire_strength(wire_diameter=wire)


def test_bronze_falls_in_steps_that_hold_their_upper_end():
    edge = 0.025 * 0.0254
    strengths = springs.phosphor_bronze_strength(wire_diameter=[edge, edge + 1e-7])
    np.testing.assert_allclose(strengths[1] / strengths[0], 135 / 145)
    for name in tables.names("wire"):
        if name.startswith("phosphor bronze wire"):
            last = tables.band("wire", name, "diameter")[1]
            strength = springs.phosphor_bronze_strength(wire_diameter=last)
            assert strength == tables.value("wire", name, "tensile_strength")
            if last < 0.003175:  # a rounding error above is no thicker wire
                rounded = np.nextafter(last, 1.0)
                assert springs.phosphor_bronze_strength(wire_diameter=rounded) == strength


def test_a_bench_spring_may_be_closed():
    """0.006 in wire on a 1.85 mm coil stands four times the load of a driver axle's spring."""
    strength = springs.music_wire_strength(wire_diameter=0.0001524)
    allowed = springs.allowable_shear_stress(tensile_strength=strength)
    force = springs.force_at_stress(stress=allowed, wire_diameter=0.0001524, mean_diameter=0.00185)
    assert 0.6 < force < 1.2


def test_allowable_stress_takes_its_share():
    half = springs.allowable_shear_stress(tensile_strength=2e9, torsion_share=0.35)
    assert np.isclose(half, 0.7e9)


def test_lists_are_taken():
    sizes = springs.nearest_music_wire(wire_diameter=[[0.00015], [0.0002]])
    assert sizes.shape == (2, 1)
