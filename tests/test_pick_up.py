"""What the feeding wheels lose, against plain sums."""

import math

import numpy as np
import pytest

from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions import pick_up
from mechkit.drive.decisions.pick_up import contact, lost
from mechkit.drive.decisions.rebuild import changes_asked
from mechkit.drive.model.parts import Material
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


def test_one_contact_is_metal_crowding_and_film_over_the_spot():
    """By hand: 528 g on ten wheels, a spot of F over pi H, two metals, a film of 0.1 ohm um^2."""
    known = known_of(counted(5, 3).data)
    force, hard = 0.528 * 9.80665 / 10, Material("brass").hardness
    spot = math.sqrt(force / (math.pi * hard))
    film = math.sqrt(0.01 * 1.0) * 1e-12
    by_hand = (66e-9 + 300e-9) / (4 * spot) + film / (math.pi * spot**2)
    assert float(contact(known)[0]) == pytest.approx(by_hand, rel=0.02)
    dirty = math.sqrt(10.0 * 10000.0) * 1e-12 / (math.pi * spot**2)
    more = float(contact(known, "dirty rail")[0]) - float(contact(known)[0])
    assert more == pytest.approx(dirty - film / (math.pi * spot**2), rel=0.02)


def test_a_wheel_off_the_rail_leaves_the_others():
    """Of five and three, four and three are left."""
    found = decided(counted(5, 3), "pick-up")
    ratio = (1 / 4 + 1 / 3) / (1 / 5 + 1 / 3)
    assert found.numbers["lifted"].value == pytest.approx(found.value.value * ratio, rel=1e-9)
    alone = decided(counted(1, 2), "pick-up")
    assert alone.numbers["lifted"].value == pytest.approx(alone.value.value, rel=1e-9)


def test_a_twentieth_is_the_limit_and_more_wheels_the_cure(monkeypatch):
    assert decided(counted(5, 3), "pick-up").limit.value == 0.05
    known = known_of(counted(1, 1).data)
    worst = [np.quantile(lost(known, [n, n])[1:], 0.9) for n in (3, 4)]
    monkeypatch.setattr(pick_up, "LOST", float(np.mean(worst)))
    one = decided(counted(1, 1), "pick-up")
    assert one.verdict == "wrong"
    assert one.numbers["needed"] == 4
    monkeypatch.setattr(pick_up, "LOST", 1e-12)
    assert "Not even 12" in decided(counted(1, 1), "pick-up").todo()
