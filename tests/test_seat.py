"""The axle gear's seat, against sums worked by hand."""

import math

import pytest

from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions.rebuild import changes_asked
from mechkit.drive.sheet import demo
from tests.decided import decided


def seat(key, **values):
    """One decision of the demo's seat with some of its sizes changed."""
    changes = {f"planned.seat.{name}": value for name, value in values.items()}
    return decided(demo().with_values(changes), "seat", key)


def test_what_a_bond_holds_is_its_area_at_the_axles_radius():
    """Half of pi d^2 L tau: 3.175 mm, 3 mm, 10 MPa."""
    held = seat("seat holds")
    by_hand = math.pi * 3.175e-3**2 * 3e-3 * 10e6 / 2
    assert held.value.value == pytest.approx(by_hand, rel=1e-3)
    assert held.verdict == "good"


def test_it_must_hold_five_times_what_slips_the_wheels():
    """Adhesion 0.20 of 328 g at the rim of 16.2 mm wheels, rolling of the train beside."""
    drive = known_of(demo().data).planned
    rim = float(drive.pull_at_slip[0] + drive.rolling_force[0])
    assert seat("seat holds").limit.value == pytest.approx(5 * rim * 16.2e-3 / 2, rel=0.02)


def test_a_coarse_knurl_throws_the_gear_off_and_the_cure_turns_it_down():
    coarse = seat("seat true", over_knurl="3.70 mm", bore="3.60 mm")
    assert coarse.verdict == "wrong"
    assert coarse.value.value == pytest.approx((3.70 - 3.175) / 2 * 1e-3, rel=1e-3)
    needed = coarse.numbers["needed"].value
    assert 3.175e-3 < needed < 3.70e-3
    turned = seat("seat true", over_knurl=f"{1e3 * needed:.3f} mm", bore="3.2 mm")
    assert turned.verdict == "good"


def test_what_the_knurl_must_not_throw_is_half_of_what_binds():
    """Backlash 0.060 mm at 20 degrees binds at 0.165 mm of swing; the middle of the band 0.25 to 0.7."""
    limit = seat("seat true").limit.value
    swing = 0.060e-3 / math.tan(math.radians(20))
    assert limit == pytest.approx(2 * (0.5 * swing / 2) / math.sqrt(0.25 * 0.7), rel=1e-3)


def test_a_pressed_gear_without_bite_slips_and_the_cure_bores_it_or_bonds_it():
    loose = seat("seat holds", hold="press", over_knurl="3.18 mm", bore="3.18 mm")
    assert loose.verdict == "wrong"
    assert "Bore the gear" in loose.todo() or "bond it" in loose.todo()


def test_engines_that_tell_no_seat_are_not_asked():
    bare = demo().with_value("planned.seat", None)
    assert "seat" not in changes_asked(known_of(bare.data))
