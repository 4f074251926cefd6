"""What more weight does, against plain sums."""

import numpy as np
import pytest

from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions.ballast import heavier
from mechkit.drive.sheet import demo
from tests.decided import decided


def test_ten_grams_pull_their_weight_times_adhesion():
    adhesion = float(known_of(demo().data).planned.adhesion[0])
    more = decided(demo(), "ballast").numbers["pull"].value
    assert more == pytest.approx(0.010 * 9.80665 * adhesion, rel=1e-6)


def test_a_heavier_engine_rolls_harder_and_stalls_nearer():
    drive = known_of(demo().data).planned
    more = heavier(drive, 0.1)
    assert np.all(more.rolling_force > drive.rolling_force)
    assert np.all(more.pull_at_slip > drive.pull_at_slip)
    assert np.all(more.stall_margin(12.0) < drive.stall_margin(12.0))


def test_what_the_motor_takes_is_the_weight_at_which_it_just_slips_in_time():
    """At that weight nine draws of ten keep the margin, a tenth beyond fewer do."""
    weak = {"planned.motor.resistance": ["75 ohm", "75 ohm"], "planned.motor.stall": None}
    engine = demo().with_values(weak)
    room, drive = decided(engine, "ballast").value.value, known_of(engine.data).planned
    assert 0 < room < 0.99 * 0.410
    kept = [np.mean(heavier(drive, room * part).stall_margin(12.0)[1:] >= 1.5) for part in (1, 1.1)]
    assert kept[0] >= 0.9 > kept[1]


def test_where_it_lies_brings_the_center_between_the_drivers():
    """The sum of moments: what the drivers carry and the weight, about the middle axle."""
    found = decided(demo().with_value("locomotive.center_of_gravity", "18 mm"), "ballast")
    at, room = found.numbers["at"].value, found.value.value
    moment = 0.328 * (18e-3 - 22e-3) + room * (at - 22e-3)
    assert moment == pytest.approx(0.0, abs=1e-6)


def test_ten_grams_take_the_current_that_their_pull_asks_of_the_motor():
    """Torque at slip grows by adhesion and rolling of the weight, over ratio and losses at a crawl."""
    drive = known_of(demo().data).planned
    own = {name: float(np.ravel(getattr(drive, name))[0]) for name in
           ("adhesion", "rolling_force", "train_mass", "gear_ratio", "wheel_diameter")}  # fmt: skip
    at_crawl, constant = float(drive.at_crawl[0]), float(drive.motor.torque_constant[0])
    grip = 0.010 * 9.80665 * own["adhesion"] + 0.010 * own["rolling_force"] / own["train_mass"]
    by_hand = grip * own["wheel_diameter"] / 2 / own["gear_ratio"] / at_crawl / constant
    told = decided(demo(), "ballast").numbers["amps"].value
    # rolling is counted in the friction of motor and train too, at the efficiency of a run
    assert told == pytest.approx(by_hand, rel=0.1)


def test_a_twentieth_of_its_weight_is_worth_the_trouble():
    assert decided(demo(), "ballast").limit.value == pytest.approx(0.05 * 0.410)


def test_no_more_than_the_engines_own_weight_is_looked_for():
    found = decided(demo(), "ballast")
    assert found.value.value == pytest.approx(0.410, rel=1e-2)
    assert "and more" in found.words()


def test_a_motor_without_torque_to_spare_takes_none():
    weak = {
        "planned.motor.resistance": ["150 ohm", "150 ohm"],
        "planned.motor.stall": None,
        "measured_after": None,
    }
    found = decided(demo().with_values(weak), "ballast")
    assert found.verdict == "wrong"
    assert found.value.value == 0.0
    assert "none to spare" in found.words()


def test_where_no_place_between_the_axles_balances_it_the_page_says_where_the_center_stays():
    """By moments: all of it over the last axle, with the drivers' own weight far ahead."""
    nose = demo().with_values(
        {
            "locomotive.center_of_gravity": "6 mm",
            "planned.motor.resistance": ["75 ohm", "75 ohm"],
            "planned.motor.stall": None,
        }
    )
    found = decided(nose, "ballast")
    room = found.value.value
    assert found.numbers["at"].value == 44e-3
    assert found.numbers["center"].value == pytest.approx(
        (0.328 * 6e-3 + room * 44e-3) / (0.328 + room)
    )
    assert found.numbers["middle"].value == pytest.approx(22e-3)
    assert found.numbers["center"].value < 20e-3
