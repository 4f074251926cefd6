"""Teeth: the Lewis table, bending, Hertz; what each depends on."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import gears, tables

some = settings(max_examples=50, deadline=None)
BENCH = {
    gears.tangential_force: {"torque": 0.005, "pitch_diameter": 0.0112},
    gears.tooth_force: {"torque": 0.005, "base_diameter": 0.0105},
    gears.lewis_form_factor: {"teeth": 28.0},
    gears.bending_stress: {
        "tangential_force": 0.9, "face_width": 0.002, "module": 0.0004, "lewis_form_factor": 0.353,
    },
    gears.line_contact_pressure: {
        "force": 1.0, "length": 0.002, "radius_1": 0.001, "radius_2": 0.0019,
        "modulus_1": 100e9, "poisson_1": 0.34, "modulus_2": 3e9, "poisson_2": 0.38,
    },
}  # fmt: skip


def test_lewis_table_is_whole_and_sourced():
    rows = tables.rows("lewis")
    assert len(rows) == 26
    counts = [float(row.name) for row in rows[:-1]]
    assert counts == sorted(counts)
    assert (counts[0], counts[-1], rows[-1].name) == (12, 400, "rack")
    assert all(row.source in tables.sources() and row.where for row in rows)


@some
@given(st.floats(12, 5000))
def test_more_teeth_are_stronger_up_to_the_rack(count):
    factor, next_one = (gears.lewis_form_factor(teeth=z) for z in (count, count * 1.01))
    assert 0.245 <= factor < next_one < 0.485


def test_lewis_factor_has_no_step_at_the_end_of_the_table():
    below, above = gears.lewis_form_factor(teeth=np.array([399.999, 400.001]))
    assert above - below < 1e-6
    assert gears.lewis_form_factor(teeth=1e9) == pytest.approx(0.485)
    last = gears.lewis_form_factor(teeth=400)
    half = gears.lewis_form_factor(teeth=800)
    assert half == pytest.approx((last + 0.485) / 2), "half way to the rack at twice the teeth"
    between = gears.lewis_form_factor(teeth=[300, 350, 400])
    assert between[1] == pytest.approx((between[0] + between[2]) / 2), "a straight line below it"


def test_the_closed_form_of_some_books_is_high():
    count = np.array([17, 30])
    closed = np.pi * (0.154 - 0.912 / count)
    high = closed / gears.lewis_form_factor(teeth=count) - 1
    np.testing.assert_allclose(high, [0.04, 0.08], atol=0.005)


def test_force_along_the_line_of_action_is_the_larger():
    angle = np.radians(20)
    around = gears.tangential_force(torque=0.005, pitch_diameter=0.0112)
    along = gears.tooth_force(torque=0.005, base_diameter=0.0112 * np.cos(angle))
    assert along * np.cos(angle) == pytest.approx(around)


@some
@given(st.floats(0.1, 10), st.floats(0.5, 4))
def test_bending_goes_with_force_and_pressure_with_its_root(force, times):
    bench, contact = BENCH[gears.bending_stress], BENCH[gears.line_contact_pressure]
    bent = gears.bending_stress(**{**bench, "tangential_force": np.array([force, times * force])})
    assert bent[1] == pytest.approx(times * bent[0])
    pressed = gears.line_contact_pressure(**{**contact, "force": np.array([force, times * force])})
    assert pressed[1] == pytest.approx(np.sqrt(times) * pressed[0])


def test_two_bodies_may_change_places():
    bench = {**BENCH[gears.line_contact_pressure], "radius_1": 0.0013, "radius_2": 0.0019}
    swap = {"_1": "_2", "_2": "_1"}
    swapped = {name[:-2] + swap.get(name[-2:], name[-2:]): value for name, value in bench.items()}
    assert gears.line_contact_pressure(**swapped) == pytest.approx(
        gears.line_contact_pressure(**bench)
    )


def test_a_plastic_mate_presses_less():
    bench = BENCH[gears.line_contact_pressure]
    metal = {**bench, "modulus_2": 100e9, "poisson_2": 0.34}
    assert gears.line_contact_pressure(**bench) < 0.4 * gears.line_contact_pressure(**metal)


def test_against_a_flat_only_one_radius_counts():
    bench = {**BENCH[gears.line_contact_pressure], "radius_2": 1e6}
    halved = {**bench, "radius_1": bench["radius_1"] / 2}
    ratio = gears.line_contact_pressure(**halved) / gears.line_contact_pressure(**bench)
    assert ratio == pytest.approx(np.sqrt(2))
