"""What the feeding wheels lose, against plain sums."""

import pytest

from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions.pick_up import contact, lost
from mechkit.drive.decisions.rebuild import changes_asked
from mechkit.drive.sheet import demo
from tests.decided import decided


def counted(first, other):
    return demo().with_value("locomotive.feeding_wheels", [first, other])


def test_wheels_of_a_rail_lie_side_by_side_and_the_rails_in_a_row():
    """Ohm's law, by hand, from one contact and the current of a slow pass."""
    known = known_of(counted(5, 3).data)
    path = float(contact(known)[0]) * (1 / 5 + 1 / 3)
    drop = float(known.planned.current_at(3.0)[0]) * path / 3.0
    assert decided(counted(5, 3), "pick-up").value.value == pytest.approx(drop, rel=1e-9)


def test_one_wheel_a_side_on_dirt_loses_more_than_many():
    known = known_of(counted(5, 3).data)
    assert (lost(known, [1, 1], "dirty rail") > lost(known, [5, 3], "dirty rail")).all()


def test_nobody_is_asked_who_did_not_count():
    bare = demo().with_value("locomotive.feeding_wheels", None)
    assert "pick-up" not in changes_asked(known_of(bare.data))
