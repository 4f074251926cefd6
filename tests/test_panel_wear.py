"""The wear panel: Archard by hand, and which pair lasts."""

import re
from math import atan, cos, pi, radians

import numpy as np
import pytest

from mechkit.drawings.wear import WearPicture
from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions.rebuild import rebuild
from mechkit.drive.model import wearing
from mechkit.drive.model.spread import Spread
from mechkit.drive.questions.wear import PAIRS, Case, rub
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
            for low, high in wearing.metal_bands(worm, gear):
                assert high / low > 9.9
            low, middle, high = at(worm_material=worm, gear_material=gear).life
            assert low < middle < high


def test_grease_alone_is_the_work_of_the_grease():
    """Two pairs of metals in one grease compare as without any, in every draw."""
    spread = Spread()
    for grease in ("starved", "greased"):
        like, unlike = (wearing.rates((*pair, grease), spread)[1] for pair in PAIRS[:2])
        bare = [wearing.rates((*pair, "dry"), spread)[1] for pair in PAIRS[:2]]
        assert like / unlike == pytest.approx(bare[0] / bare[1])
    wear = known_of(sheet.demo().with_value("planned.worm.material", "brass").with_value(
        "planned.gears[1].material", "brass").data).wear  # fmt: skip
    assert wear.ratio == pytest.approx(wear.grease)
    assert wear.materials == pytest.approx(1.0)


def test_the_page_says_whose_work_a_longer_life_is():
    hours = rebuild(sheet.demo().data).decision("hours").words()
    assert "greasing the old pair alone gives 32\u00a0times" in hours
    assert "cannot be told" in hours
    alike = sheet.demo().with_value("planned.mesh.lubrication", "starved")
    assert "all of it by its materials" in rebuild(alike.data).decision("hours").words()


def test_worn_out_is_a_quarter_of_the_module():
    small = sheet.demo().with_values({
        "planned.worm.module": "0.2 mm",
        "planned.gears[1].outside_diameter": "4.4 mm",
        "planned.gears[2].outside_diameter": "6.4 mm",
    })  # fmt: skip
    assert rub(Case(small.data), **SETTING).limit == pytest.approx(0.05e-3)
    assert at().limit == pytest.approx(0.10e-3)


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


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"as_is.gears[1].face_width": "1 mm"},
        {"as_is.worm.length": "2 mm", "as_is.gears[2].outside_diameter": "12.90 mm"},
    ],
    ids=["the demo", "an old gear 1 mm wide", "an old worm 2 mm long"],
)
def test_the_page_and_the_panel_name_one_ratio(changes):
    """Each pair wears in its own size, wherever the question is asked."""
    bench = sheet.demo().with_values(changes)
    panel = wear.show(bench)
    for name, value in zip(("worm_material", "gear_material", "lubrication"), panel.setting.planned, strict=True):  # fmt: skip
        panel.set(name, value)
    page = rebuild(bench.data).decision("hours")
    ratio, life = page.numbers["ratio"], page.value
    assert panel.state.ratio == pytest.approx((ratio.low, ratio.value, ratio.high))
    case = Case(bench.data)
    pair = dict(zip(("worm_material", "gear_material", "lubrication"), case.planned, strict=True))
    there = rub(case, **pair, hours=2.0, share=wearing.DUTY, speed=case.speed.start)
    assert there.life == pytest.approx((life.low, life.value, life.high), rel=1e-6)


def test_the_same_pair_in_another_size_is_told():
    panel = wear.show(sheet.demo().with_value("as_is.gears[1].face_width", "1 mm"))
    assert re.search(
        "this is the pair as it is, which in the planned size lasts 2 times", panel.words
    )


@pytest.mark.parametrize("depth", [0.1, 0.5, 0.8])
def test_flanks_that_are_worn_away_never_cross(depth):
    """Right flank before left one on every tooth, seen from the gear's center."""
    picture = WearPicture(setting=CASE, density=1.0)
    teeth = picture._gear_outline(depth * np.pi / 2 * picture.module)[:-2]
    tooth = teeth.reshape(-1, 20, 2)
    arms = tooth[tooth[..., 1].min(axis=1) > picture.bottom] + (0.0, picture.pitch)
    turn = np.arctan2(arms[..., 0], arms[..., 1])
    assert len(arms) and np.all(turn[:, :10] >= turn[:, :9:-1] - 1e-12)
