"""Side rods: what forgives, what binds, and the play of a wheelset."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import wheels

few = settings(max_examples=40, deadline=None)
CLEARANCE, THROW = st.floats(1e-5, 3e-4), st.floats(2e-3, 1e-2)


@few
@given(CLEARANCE, THROW, st.floats(-0.99, 0.99))
def test_either_error_undoes_the_other(clearance, throw, share):
    known = {"crankpin_clearance": clearance, "crank_throw": throw}
    angle = wheels.forgiven_quartering(**known, rod_error=share * clearance)
    left = wheels.forgiven_rod_error(**known, quartering_error=angle)
    assert np.isclose(left, abs(share) * clearance, rtol=1e-9, atol=1e-18)


@few
@given(CLEARANCE, THROW, st.floats(1.1, 3.0))
def test_more_clearance_forgives_more_and_a_longer_throw_less(clearance, throw, times):
    angle = wheels.forgiven_quartering(crankpin_clearance=clearance, crank_throw=throw)
    assert (
        wheels.forgiven_quartering(crankpin_clearance=times * clearance, crank_throw=throw) > angle
    )
    assert (
        wheels.forgiven_quartering(crankpin_clearance=clearance, crank_throw=times * throw) < angle
    )


@few
@given(CLEARANCE, THROW, st.floats(0.0, 1.0))
def test_the_sign_of_an_error_does_not_matter(clearance, throw, share):
    known = {"crankpin_clearance": clearance, "crank_throw": throw}
    error = share * clearance
    assert wheels.forgiven_quartering(**known, rod_error=error) == wheels.forgiven_quartering(
        **known, rod_error=-error
    )
    angle = share * wheels.forgiven_quartering(**known)
    assert wheels.forgiven_rod_error(**known, quartering_error=angle) == wheels.forgiven_rod_error(
        **known, quartering_error=-angle
    )


@few
@given(CLEARANCE, THROW, st.floats(-0.9, 0.9))
def test_at_45_degrees_either_rod_takes_half_of_the_error(clearance, throw, share):
    """The axle stands in the middle: each pin is off by half of it, along the rod by the sine."""
    error = share * clearance
    angle = wheels.forgiven_quartering(
        crankpin_clearance=clearance, crank_throw=throw, rod_error=error
    )
    along = throw * angle / 2 * np.sin(np.pi / 4)
    assert np.isclose(along + abs(error), clearance)


def test_without_clearance_nothing_is_forgiven():
    assert wheels.forgiven_quartering(crankpin_clearance=0.0, crank_throw=4e-3) == 0.0
    assert wheels.forgiven_rod_error(crankpin_clearance=0.0, crank_throw=4e-3) == 0.0


@few
@given(st.floats(15e-3, 35e-3), st.floats(0.3e-3, 1.2e-3), st.floats(-1e-3, 1e-3))
def test_play_is_what_the_gauge_has_over_the_flanges(gauge, flange, play):
    between = gauge - 2 * flange - play
    found = wheels.flange_play(track_gauge=gauge, back_to_back=between, flange_width=flange)
    assert np.isclose(found, play, atol=1e-15)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: wheels.forgiven_quartering(crankpin_clearance=1e-4, crank_throw=4e-3, rod_error=2e-4), "rod_error"),
        (lambda: wheels.forgiven_rod_error(crankpin_clearance=1e-4, crank_throw=4e-3, quartering_error=0.2), "quartering_error"),
    ],
)  # fmt: skip
def test_refusals_name_the_argument(call, words):
    with pytest.raises(ValueError, match=words):
        call()
