"""Fits as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mechkit.drive.decisions.fit_names import read_fit


@pytest.mark.parametrize(
    ("text", "least", "most"),
    [
        # ISO 286-2 limits at 6 mm, from memory: H7 +12/0, p6 +20/+12, k6 +9/+1, g6 -4/-12
        ("6 H7/p6", 0, 20),
        ("6 H7/k6", -11, 9),
        ("⌀6 H7/g6", -24, -4),
        ("6mm H7-g6", -24, -4),
        ("6.0 H7 / p6", 0, 20),
    ],
)
def test_what_a_fit_holds(text, least, most):
    ends = [round(end * 1e6) for end in read_fit(text).interference()]
    assert ends == [least, most]


@pytest.mark.parametrize(
    ("text", "millimeters"),
    [("1/4 in H7/p6", 6.35), ('1 1/4" H7/p6', 31.75), ("0.25 inch H7/p6", 6.35), ("1/4 FN1", 6.35),
     ("6 H7/p6", 6.0)],
)  # fmt: skip
def test_sizes_in_both_units(text, millimeters):
    assert read_fit(text).diameter == pytest.approx(millimeters * 1e-3)


@given(st.decimals(1, 30, places=2), st.sampled_from(["", " ", "  "]))
def test_spaces_do_not_matter(size, space):
    fit = read_fit(f"{space}{size}{space}mm{space}H7{space}/{space}p6{space}")
    assert fit.diameter == pytest.approx(float(size) * 1e-3)
    assert (fit.hole, fit.shaft) == ("H7", "p6")


@pytest.mark.parametrize(
    "text", ["", "H7/p6", "6 p6/H7", "6 H7", "six H7/p6", "6,0 H7/p6", "6 H7/p6 x"]
)
def test_what_is_no_fit_is_told_how_to_write_one(text):
    with pytest.raises(ValueError, match=r"as '6 H7/p6'"):
        read_fit(text)


def test_a_class_that_is_not_in_the_table_is_refused_by_name():
    with pytest.raises(ValueError, match="shaft_class"):
        read_fit("6 H7/zz9").interference()
