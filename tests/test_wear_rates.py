"""Wear: the factor of three, and tables that say where each band comes from."""

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import tables, wear
from mechkit.drive.model import wearing

some = settings(max_examples=50, deadline=None)
METALS = ("brass", "steel", "hardened steel", "bronze", "nickel silver")
MATERIALS = (*METALS, "acetal")
STATES = ("dry", "starved", "greased")
_NUMBER = r"\d+(?:\.\d+)?(?:e-\d+)?"
_COEFFICIENT = re.compile(
    rf"^K (?P<low>{_NUMBER})(?:\.\.(?P<high>{_NUMBER}))? of V = K W s / (?P<law>\(3 H\)|H), "
    r"H of (?P<soft>[a-z ]+)"
)
rates = st.floats(1e-17, 1e-10)


@some
@given(st.floats(1e-8, 0.1), st.floats(1e8, 1e10))
def test_the_two_conventions_are_a_factor_of_three_apart(coefficient, hardness):
    plain = wear.wear_rate_from_archard(archard_coefficient=coefficient, hardness=hardness)
    third = wear.wear_rate_from_rabinowicz(rabinowicz_coefficient=coefficient, hardness=hardness)
    np.testing.assert_allclose(plain, 3 * third)


@some
@given(rates, st.floats(0.01, 100.0), st.floats(1.0, 1e6), st.floats(1e-7, 1e-3))
def test_depth_is_volume_over_area(rate, force, distance, area):
    volume = wear.wear_volume(wear_rate=rate, force=force, sliding_distance=distance)
    depth = wear.wear_depth(wear_rate=rate, pressure=force / area, sliding_distance=distance)
    np.testing.assert_allclose(depth, volume / area)


@some
@given(rates, rates, rates)
def test_relative_lives_chain(first, second, third):
    there = wear.relative_life(wear_rate_1=first, wear_rate_2=second)
    back = wear.relative_life(wear_rate_1=second, wear_rate_2=third)
    np.testing.assert_allclose(there * back, third / first)


@pytest.mark.parametrize("table", ["wear_pairs", "friction"])
def test_every_row_has_a_source_and_a_place(table):
    for row in tables.rows(table):
        assert row.source in tables.sources(), row
        assert row.where, row
        assert 0 < row.low <= row.high, row


@pytest.mark.parametrize("one", MATERIALS)
@pytest.mark.parametrize("other", MATERIALS)
def test_every_pair_of_the_bench_sheet_has_a_band(one, other):
    assert tables.band("wear_pairs", f"{one} on {other}", "dry")[0] > 0
    listed = set(tables.names("friction"))
    pair = f"{one} on {other}" if f"{one} on {other}" in listed else f"{other} on {one}"
    for state in STATES:
        low, high = tables.band("friction", pair, state)
        assert 0.03 < low <= high < 1.0
        low, high = wearing.grease_band(one, other, state)
        assert 0 < low <= high <= 1


def test_bands_follow_from_their_coefficient_and_the_hardness():
    """The rates in the table are the coefficients in the note over the materials' hardness."""
    worked = 0
    for row in tables.rows("wear_pairs"):
        found = _COEFFICIENT.match(row.note)
        if not found:
            assert row.source != "rabinowicz" or row.property in ("starved", "greased"), row
            continue
        low, high = float(found["low"]), float(found["high"] or found["low"])
        soft, hard = tables.band("materials", found["soft"], "hardness")
        three = 3 if found["law"] == "(3 H)" else 1
        band = (low / three / hard, high / three / soft)
        np.testing.assert_allclose((row.low, row.high), band, rtol=0.06, err_msg=str(row))
        worked += 1
    assert worked > 40


def test_like_metals_wear_faster_than_unlike_ones():
    dry = wear.relative_life(
        wear_rate_1=tables.band("wear_pairs", "bronze on steel", "dry")[1],
        wear_rate_2=tables.band("wear_pairs", "bronze on bronze", "dry")[1],
    )
    np.testing.assert_allclose(dry, 25, rtol=0.06)


#: Rabinowicz's coefficients of like and unlike metals and of a plastic, from memory, in his
#: states of lubrication: none, poor, good.
BOOK = {
    "like": ((5e-3, 5e-3), (2e-4, 5e-3), (2e-6, 2e-5)),
    "unlike": ((2e-4, 2e-4), (2e-4, 2e-4), (2e-6, 2e-5)),
    "plastic": ((5e-6, 5e-6), (5e-6, 5e-6), (2e-6, 5e-6)),
}


@pytest.mark.parametrize(
    ("kind", "pair"),
    [
        ("like", ("brass", "brass")),
        ("unlike", ("steel", "brass")),
        ("plastic", ("steel", "acetal")),
    ],
)
def test_one_grease_for_all_pairs_holds_what_the_book_says_of_each(kind, pair):
    dry = BOOK[kind][0]
    for state, (low, high) in zip(STATES, BOOK[kind], strict=True):
        least, most = wearing.grease_band(*pair, state)
        assert least <= low / dry[0] * (1 + 1e-9)
        assert most >= high / dry[1] * (1 - 1e-9)


def test_metals_of_brass_tell_the_same_story():
    zinc, copper, unlike = (
        tables.band("wear_pairs", pair, "dry")
        for pair in ("zinc on zinc", "copper on copper", "copper on steel")
    )
    assert zinc[0] > copper[0] > 10 * unlike[0]


def test_the_gap_is_shown():
    """No measured brass-on-brass rate was found: each such row says so."""
    rows = [row for row in tables.rows("wear_pairs") if row.name == "brass on brass"]
    assert rows
    assert all("GAP" in row.note for row in rows)
    assert {row.source for row in rows} == {"rabinowicz"}


def test_severe_wear_has_a_threshold_for_free_cutting_brass():
    load = tables.value("wear_pairs", "brass on steel", "severe_load")
    low, high = tables.band("wear_pairs", "brass on steel", "contact_temperature_rise")
    assert load == 11.0
    assert (low, high) == (74.0, 248.0)
