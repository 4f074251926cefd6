"""Coil springs."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import springs

few = settings(max_examples=50, deadline=None)
wires = st.floats(0.0001, 0.0008)
indexes = st.floats(3.0, 20.0)
BENCH = {"wire_diameter": 0.00015, "mean_diameter": 0.00185}


@few
@given(wires, indexes, st.floats(2.0, 15.0), st.floats(1.1, 3.0))
def test_rate_follows_the_fourth_and_the_third_power(wire, index, coils, factor):
    def rate(wire_diameter=wire, mean_diameter=index * wire, active_coils=coils):
        return springs.coil_spring_rate(
            wire_diameter=wire_diameter, mean_diameter=mean_diameter, active_coils=active_coils,
            shear_modulus=8e10,
        )  # fmt: skip

    thin = wire / factor
    assert np.isclose(rate() / rate(wire_diameter=thin), factor**4)
    assert np.isclose(rate() / rate(mean_diameter=factor * index * wire), factor**3)
    assert np.isclose(rate() / rate(active_coils=factor * coils), factor)


@few
@given(wires, indexes, st.floats(50.0, 3000.0))
def test_coils_and_rate_are_inverse(wire, index, rate):
    coil = {"wire_diameter": wire, "mean_diameter": index * wire, "shear_modulus": 8e10}
    coils = springs.active_coils_for_rate(**coil, rate=rate)
    assert np.isclose(springs.coil_spring_rate(**coil, active_coils=coils), rate, rtol=1e-12)


@few
@given(wires, indexes, st.floats(0.01, 5.0))
def test_stress_and_force_are_inverse(wire, index, force):
    coil = {"wire_diameter": wire, "mean_diameter": index * wire}
    stress = springs.coil_shear_stress(**coil, force=force)
    assert np.isclose(springs.force_at_stress(**coil, stress=stress), force, rtol=1e-12)


@few
@given(wires, st.floats(2.0, 30.0))
def test_wahl_is_on_the_safe_side_of_bergstraesser(wire, index):
    coil = {"wire_diameter": wire, "mean_diameter": index * wire}
    wahl, other = springs.wahl_factor(**coil), springs.bergstraesser_factor(**coil)
    assert 1 < other < wahl < 1.04 * other


def test_the_two_factors_differ_as_printed():
    """Shigley's Mechanical Engineering Design, 10th ed., solutions: 1.36 and 0.743 %."""
    coil = {"wire_diameter": 1.0, "mean_diameter": np.array([4.0, 12.0])}
    wahl, other = springs.wahl_factor(**coil), springs.bergstraesser_factor(**coil)
    np.testing.assert_array_less(abs(100 * (wahl - other) / wahl - [1.36, 0.743]), [0.005, 0.0005])


def test_a_large_coil_needs_no_correction():
    coil = {"wire_diameter": 1.0, "mean_diameter": 1e6}
    assert np.isclose(springs.wahl_factor(**coil), 1, atol=1e-5)
    assert np.isclose(springs.bergstraesser_factor(**coil), 1, atol=1e-5)


@few
@given(wires, indexes, st.floats(2.0, 15.0))
def test_two_springs_end_to_end_are_half_as_stiff(wire, index, coils):
    coil = {"wire_diameter": wire, "mean_diameter": index * wire, "shear_modulus": 8e10}
    one = springs.coil_spring_rate(**coil, active_coils=coils)
    both = springs.coil_spring_rate(**coil, active_coils=2 * coils)
    sunk = springs.deflection(force=1.0, rate=both)
    assert np.isclose(sunk, 2 * springs.deflection(force=1.0, rate=one))


@few
@given(st.floats(0.5, 2.0), st.floats(0.001, 0.006))
def test_the_spring_between_flat_seats_may_be_longest(end, coil):
    steel = {"mean_diameter": coil, "elastic_modulus": 203.4e9, "shear_modulus": 82.7e9}
    free = springs.critical_free_length(**steel, end_condition=end)
    assert free <= springs.critical_free_length(**steel) * (1 + 1e-12)
    assert np.isclose(free * end / coil, 2.54, atol=0.005)


def test_arrays_broadcast():
    rate = springs.coil_spring_rate(
        wire_diameter=np.array([[0.0001], [0.00015]]), mean_diameter=0.00185,
        active_coils=np.array([4.0, 5.0, 6.0]), shear_modulus=82.7e9,
    )  # fmt: skip
    assert rate.shape == (2, 3)
    assert np.isclose(
        rate[1, 1],
        springs.coil_spring_rate(**BENCH, active_coils=5.0, shear_modulus=82.7e9),
    )


GOOD = {
    "wire_diameter": 0.00015, "mean_diameter": 0.00185, "active_coils": 5.0, "rate": 165.0,
    "shear_modulus": 82.7e9, "elastic_modulus": 203e9, "force": 0.3, "stress": 5e8,
    "total_coils": 7.0, "end_condition": 0.5,
}  # fmt: skip
ARGUMENTS = {
    "spring_index": ("wire_diameter", "mean_diameter"),
    "wahl_factor": ("wire_diameter", "mean_diameter"),
    "bergstraesser_factor": ("wire_diameter", "mean_diameter"),
    "coil_spring_rate": ("wire_diameter", "mean_diameter", "active_coils", "shear_modulus"),
    "active_coils_for_rate": ("wire_diameter", "mean_diameter", "rate", "shear_modulus"),
    "coil_shear_stress": ("force", "wire_diameter", "mean_diameter"),
    "force_at_stress": ("stress", "wire_diameter", "mean_diameter"),
    "deflection": ("force", "rate"),
    "solid_length": ("wire_diameter", "total_coils"),
    "critical_free_length": (
        "mean_diameter", "elastic_modulus", "shear_modulus", "end_condition",
    ),
}  # fmt: skip


@pytest.mark.parametrize("bad", [-1.0, np.nan, np.inf, "0.2 mm", None, True])
@pytest.mark.parametrize(
    ("name", "argument"), [(name, each) for name, own in ARGUMENTS.items() for each in own]
)
def test_bad_input_is_refused_by_name(name, argument, bad):
    good = {each: GOOD[each] for each in ARGUMENTS[name]}
    getattr(springs, name)(**good)
    with pytest.raises(ValueError, match=f"^{argument} = "):
        getattr(springs, name)(**{**good, argument: bad})


def test_the_refusal_names_the_limit():
    with pytest.raises(ValueError) as refused:
        springs.spring_index(wire_diameter=0.002, mean_diameter=0.001)
    assert str(refused.value) == "mean_diameter = 0.001 m: must be greater than 0.002 m"
    with pytest.raises(ValueError) as refused:
        springs.solid_length(wire_diameter=0.00015, total_coils=0.5)
    assert str(refused.value) == "total_coils = 0.5: must be at least 1"
