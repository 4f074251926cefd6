"""The wear panel: Archard by hand, and which pair lasts."""

from math import atan, cos, pi, radians

import pytest

from mechkit.drive import sheet
from mechkit.drive.questions.wear import Case, rub
from mechkit.panels import wear

CASE = Case(sheet.demo().data)
SETTING = {
    "worm_material": "brass",
    "gear_material": "brass",
    "lubrication": "starved",
    "hours": 2.0,
    "share": 0.25,
    "speed": 6.7,
}  # fmt: skip


def at(**changes):
    return rub(CASE, **(SETTING | changes))


def test_wear_grows_with_hours_and_with_nothing_else_hidden():
    once, twice = at(), at(hours=4.0)
    assert twice.gear_depth == pytest.approx(2 * once.gear_depth)
    assert twice.opening == pytest.approx(2 * once.opening)
    assert at(hours=0.0).gear_depth == 0.0


def test_depth_of_the_gear_by_hand():
    """Rate (middle of the table's band), force at the gear, circumference times turns."""
    pull = 0.25 * 0.20 * 0.328 * 9.80665 + 0.018 * 0.528 * 9.80665
    force = pull * 16.2 / 12.0 / cos(radians(20))
    lead = atan(0.4 / 6.0)
    turns = 6.7 / 64 / (pi * 16.2e-3) * 30 * 2 * 3600
    slid = pi * 6e-3 / cos(lead) * turns
    flank = 20 * 1.5e-3 / cos(lead) * 0.8e-3 / cos(radians(20))
    middle = (4.7e-14 * 2.6e-12) ** 0.5
    assert at().gear_depth == pytest.approx(middle * force * slid / flank, rel=0.03)


def test_no_band_is_narrower_than_a_factor_of_ten():
    for worm in ("brass", "steel", "hardened steel"):
        for gear in ("brass", "bronze", "acetal"):
            for grease in ("dry", "starved", "greased"):
                low, middle, high = at(
                    worm_material=worm, gear_material=gear, lubrication=grease
                ).life
                assert low < middle < high
                assert high / low > 9.9


def test_as_it_is_the_ratio_is_one():
    assert at().ratio[1] == pytest.approx(1.0)


def test_unlike_outlasts_like_where_grease_is_short():
    for grease in ("dry", "starved"):
        like = at(lubrication=grease).life[1]
        assert at(worm_material="steel", gear_material="acetal", lubrication=grease).life[1] > like


def test_the_sentence_leads_with_the_ratio():
    panel = wear.show()
    panel.set("worm_material", "steel")
    panel.set("gear_material", "acetal")
    assert panel.words.startswith("Steel worm on acetal gear, starved: lasts ")
    assert "times" in panel.words
