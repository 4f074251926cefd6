"""Alignment: bending limits, statics of any row of bearings, what a soft bed does."""

from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import alignment, bearings

some = settings(max_examples=50, deadline=None)
SHAFT = {"shaft_diameter": 0.002, "elastic_modulus": 207e9}
THREE = {"offset": 5e-5, "bearing_span": 0.012, "span": 0.02, **SHAFT}
rows = st.lists(st.tuples(st.floats(0.002, 0.03), st.floats(-1e-4, 1e-4)), min_size=2, max_size=6)


def bearings_in_a_row(gaps):
    """Positions and offsets from gaps and offsets."""
    return np.cumsum([gap for gap, _ in gaps]), np.array([offset for _, offset in gaps])


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (
            {"positions": [0.0, 0.02, 0.01]},
            "positions = .*: must be rising from bearing to bearing",
        ),
        ({"positions": [0.0]}, "positions = .*: must be rising from bearing to bearing"),
        (
            {"positions": [0.0, 0.01, 0.01]},
            "positions = .*: must be rising from bearing to bearing",
        ),
        ({"offsets": [1e-5]}, "offsets = .*: must be one for each of 3 positions"),
    ],
)
def test_rows_of_bearings_that_cannot_be_are_refused(wrong, message):
    bench = {"positions": [0.0, 0.01, 0.02], "offsets": [0.0, 0.0, 1e-5], **SHAFT}
    with pytest.raises(ValueError, match=f"^{message}"):
        alignment.bearing_loads(**{**bench, **wrong})


@some
@given(rows)
def test_bearings_neither_push_nor_turn_the_shaft_as_a_whole(gaps):
    positions, offsets = bearings_in_a_row(gaps)
    loads = alignment.bearing_loads(positions=positions, offsets=offsets, **SHAFT)
    scale = max(np.abs(loads).max(), 1.0)  # two bearings carry nothing but rounding
    assert abs(loads.sum()) < 1e-9 * scale
    assert abs((loads * positions).sum()) < 1e-9 * scale * positions.max()


@some
@given(rows, st.floats(-1e-3, 1e-3), st.floats(-0.01, 0.01))
def test_a_straight_line_costs_nothing(gaps, height, tilt):
    positions, offsets = bearings_in_a_row(gaps)
    straight = alignment.bearing_loads(
        positions=positions, offsets=height + tilt * positions, **SHAFT
    )
    bent = alignment.bearing_loads(positions=positions, offsets=offsets, **SHAFT)
    lifted = alignment.bearing_loads(
        positions=positions, offsets=offsets + height + tilt * positions, **SHAFT
    )
    assert np.all(np.abs(straight) < 1e-5)
    np.testing.assert_allclose(lifted, bent, rtol=1e-6, atol=1e-5)


@some
@given(st.floats(0.003, 0.05), st.floats(0.003, 0.05), st.floats(1e-6, 2e-4))
def test_three_bearings_by_both_ways(apart, span, offset):
    loads = alignment.bearing_loads(
        positions=[0.0, apart, apart + span], offsets=[0.0, 0.0, offset], **SHAFT
    )
    third = alignment.third_bearing_load(offset=offset, bearing_span=apart, span=span, **SHAFT)
    assert np.isclose(loads[2], third, rtol=1e-9)
    torque = alignment.friction_torque(
        friction=0.1, offset=offset, bearing_span=apart, span=span, **SHAFT
    )
    together = bearings.friction_torque(friction=0.1, load=np.abs(loads).sum(), diameter=0.002)
    assert np.isclose(torque, together, rtol=1e-9)


def test_bearings_close_together_hold_the_direction():
    firm = alignment.side_load(offset=5e-5, span=0.02, **SHAFT)
    close = alignment.third_bearing_load(offset=5e-5, bearing_span=1e-6, span=0.02, **SHAFT)
    assert np.isclose(close, firm, rtol=1e-3)
    assert alignment.third_bearing_load(**THREE) < firm


@some
@given(st.floats(0.004, 0.06), st.floats(0.0005, 0.004))
def test_twice_the_span_costs_an_eighth_and_twice_the_diameter_sixteen_fold(span, diameter):
    def load(span, diameter):
        return alignment.side_load(
            offset=5e-5, span=span, shaft_diameter=diameter, elastic_modulus=207e9
        )

    assert np.isclose(load(span, diameter), 8 * load(2 * span, diameter))
    assert np.isclose(load(span, 2 * diameter), 16 * load(span, diameter))


def test_second_opinion_on_a_twentieth_of_a_millimeter():
    """3 N and 0.4 mN m, worked out with the firm-end formula before: no outside value."""
    load = alignment.side_load(offset=5e-5, span=0.02, **SHAFT)
    assert round(load) == 3
    torque = bearings.friction_torque(friction=0.13, load=load, diameter=0.002)
    assert round(torque * 1e3, 1) == 0.4


@some
@given(st.floats(1e3, 1e6), st.floats(1e3, 1e6))
def test_the_softer_of_shaft_and_bed_rules(shaft, bed):
    load = alignment.soft_side_load(offset=5e-5, shaft_rate=shaft, bed_rate=bed)
    softer = 5e-5 * min(shaft, bed)
    assert softer / 2 <= load * (1 + 1e-12) and load < softer
    other_way = alignment.soft_side_load(offset=5e-5, shaft_rate=bed, bed_rate=shaft)
    assert np.isclose(load, other_way)


@some
@given(st.floats(10.0, 1000.0), st.floats(0.01, 0.5))
def test_a_bed_helps_only_above_root_two_times_its_resonance(resonance, damping):
    bed = {"resonance": resonance, "damping_ratio": damping}
    at, above, below, still = (
        alignment.transmitted_share(speed=ratio * resonance, **bed)
        for ratio in (np.sqrt(2), 1.5, 1.3, 0.0)
    )
    assert np.isclose(at, 1.0)
    assert above < 1 < below
    assert still == 1


def test_a_heavier_motor_shakes_slower():
    light, heavy = (alignment.bed_resonance(mass=m, bed_rate=5e3) for m in (0.02, 0.08))
    assert np.isclose(light, 2 * heavy)
    assert heavy * 30 / pi > 1000  # inside the running range of a small motor
