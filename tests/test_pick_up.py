"""What the feeding wheels lose, against plain sums."""

import pytest

from mechkit.drive.decisions.pick_up import contact, lost
from mechkit.drive.decisions.rebuild import rebuild
from mechkit.drive.sheet import demo


def counted(first, other):
    return rebuild(demo().with_value("locomotive.feeding_wheels", [first, other]).data)


def test_wheels_of_a_rail_lie_side_by_side_and_the_rails_in_a_row():
    """Ohm's law, by hand, from one contact and the current of a slow pass."""
    job = counted(5, 3)
    known = job.known
    path = float(contact(known)[0]) * (1 / 5 + 1 / 3)
    drop = float(known.planned.current_at(3.0)[0]) * path / 3.0
    assert job.decision("pick-up").value.value == pytest.approx(drop, rel=1e-9)


def test_one_wheel_a_side_on_dirt_loses_more_than_many():
    known = counted(5, 3).known
    assert (lost(known, [1, 1], "dirty rail") > lost(known, [5, 3], "dirty rail")).all()


def test_nobody_is_asked_who_did_not_count():
    bare = demo().with_value("locomotive.feeding_wheels", None)
    with pytest.raises(LookupError):
        rebuild(bare.data).decision("pick-up")
