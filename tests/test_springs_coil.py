"""Coil springs."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import springs

few = settings(max_examples=50, deadline=None)
wires = st.floats(0.0001, 0.0008)
indexes = st.floats(3.0, 20.0)


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
