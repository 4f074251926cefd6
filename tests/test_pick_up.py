"""What the feeding wheels lose, against plain sums."""

import math

import pytest

from mechkit.drive.constants.knowledge import known_of
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
    path = float(contact(known, [5, 3], "dirty rail")[0]) * (1 / 5 + 1 / 3)
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
    assert float(contact(known, [5, 3])[0]) == pytest.approx(by_hand, rel=0.02)
    dirty = math.sqrt(10.0 * 10000.0) * 1e-12 / (math.pi * spot**2)
    more = float(contact(known, [5, 3], "dirty rail")[0]) - float(contact(known, [5, 3])[0])
    assert more == pytest.approx(dirty - film / (math.pi * spot**2), rel=0.02)


@pytest.mark.parametrize("feeding", [(5, 3), (3, 5)])
def test_a_wheel_off_the_rail_that_misses_it_most_leaves_the_others(feeding):
    """Of five and three, five and two are left, whichever rail is written first."""
    found = decided(counted(*feeding), "pick-up")
    ratio = (1 / 5 + 1 / 2) / (1 / 5 + 1 / 3)
    assert found.numbers["lifted"].value == pytest.approx(found.value.value * ratio, rel=1e-9)


def test_the_only_wheel_of_a_rail_off_it_loses_all():
    found = decided(counted(4, 1), "pick-up")
    assert (found.numbers["lifted"].value, found.numbers["lifted"].low) == (1.0, 1.0)
    assert "stops the engine" in found.words()


def hungry(ohms, amps):
    """The engine with another motor, on one wheel a side."""
    return demo().with_values(
        {
            "locomotive.feeding_wheels": [1, 1], "measured_after": None, "planned.flywheel": None,
            "planned.motor.resistance": [ohms, ohms], "planned.motor.stall": None,
            "planned.motor.no_load.current": amps,
        }
    )  # fmt: skip


def test_a_hungry_motor_on_one_wheel_a_side_is_no_go_and_a_wiped_rail_passes():
    """What is told of a clean rail lies within the limit that the dirty one breaks."""
    found = decided(hungry("1.5 ohm", "900 mA"), "pick-up")
    assert found.limit.value == 0.05
    assert found.verdict == "wrong"
    assert "Wipe rails" in found.todo()
    assert found.numbers["clean"].high < found.limit.value < found.value.value


def test_all_wheels_that_carry_share_the_weight_and_so_the_film():
    """Twice the wheels on half the load each: the film's part stays, by hand."""
    known = known_of(hungry("1.5 ohm", "900 mA").data)
    few, many = (float(contact(known, [n, n], "dirty rail")[0]) / n for n in (5, 10))
    assert many == pytest.approx(few, rel=0.01)
