"""Scale: inverse pairs, and the three that are all called O."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import scale, tables

some = settings(max_examples=50, deadline=None)
ratios = st.floats(1.0, 450.0)


@some
@given(st.floats(0.01, 100.0), ratios)
def test_speeds_are_inverse_and_the_time_is_the_same(speed, ratio):
    model = scale.model_speed(prototype_speed=speed, ratio=ratio)
    np.testing.assert_allclose(scale.prototype_speed(model_speed=model, ratio=ratio), speed)
    way = scale.model_length(prototype_length=speed * 60.0, ratio=ratio)
    np.testing.assert_allclose(way / model, 60.0)


@some
@given(st.floats(0.001, 100.0), ratios)
def test_two_lengths_give_back_the_ratio(length, ratio):
    model = scale.model_length(prototype_length=length, ratio=ratio)
    found = scale.scale_ratio(model_length=model, prototype_length=length)
    np.testing.assert_allclose(found, ratio)


def test_all_three_that_are_called_o_are_offered():
    offered = {row.low for row in tables.rows("scales") if row.name.startswith("O")}
    assert offered == {48.0, 45.0, 43.5}


def test_every_scale_has_its_source():
    for row in tables.rows("scales"):
        assert row.property == "ratio"
        assert row.unit == "-"
        assert row.source in tables.sources()
        assert row.where


def test_names_by_the_foot_are_near_their_ratio():
    for name, to_the_foot in (
        ("HO 1:87.1", 0.0035), ("S", 0.0047625), ("O 1:48", 0.00635), ("O 1:43.5", 0.007),
    ):  # fmt: skip
        by_foot = scale.scale_ratio(model_length=to_the_foot, prototype_length=0.3048)
        np.testing.assert_allclose(tables.value("scales", name, "ratio"), by_foot, rtol=1e-3)
