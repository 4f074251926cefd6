"""The gear panel: the mesh over a turn of the wheel, and the gear on the caliper."""

from math import pi, radians, sin, sqrt, tan

import pytest

from mechkit.drive import sheet
from mechkit.drive.questions.gears import Case, mesh
from mechkit.panels import gears

CASE = Case(sheet.demo().data)
SETTING = {
    "teeth": 30,
    "outside": 12.8e-3,
    "distance": 10.1e-3,
    "total_runout": 0.1e-3,
    "turn": 0.0,
    "pressure_angle": radians(20),
}  # fmt: skip


def at(**changes):
    return mesh(CASE, **(SETTING | changes))


def test_the_mesh_is_tight_at_the_start_of_the_turn_and_wide_half_a_turn_on():
    tight, wide = at(), at(turn=pi)
    assert tight.backlash == pytest.approx(tight.tightest)
    assert wide.backlash == pytest.approx(tight.loosest)
    assert tight.tightest < tight.mean < tight.loosest


def test_backlash_follows_the_rule_of_thumb_within_its_few_percent():
    state = at(total_runout=0.0)
    assert state.mean == pytest.approx(2 * 0.1e-3 * tan(radians(20)), rel=0.06)


def test_distance_of_the_centers_by_the_cosine_rule():
    state = at(turn=1.0)
    across, along = 0.05e-3 * sin(1.0), 10.1e-3 - 0.05e-3 * sqrt(1 - sin(1.0) ** 2)
    assert state.near == pytest.approx(sqrt(across**2 + along**2), rel=1e-12)


def test_contact_is_the_least_of_the_turn():
    """20 and 30 teeth, addendum one module, by circles: at the widest place of the turn."""
    widest = 10.1e-3 + 0.05e-3
    base = [0.4e-3 * z / 2 * sqrt(1 - sin(radians(20)) ** 2) for z in (20, 30)]
    tips = [0.4e-3 * (z + 2) / 2 for z in (20, 30)]
    line = sqrt(widest**2 - sum(base) ** 2)
    path = sum(sqrt(t**2 - b**2) for t, b in zip(tips, base, strict=True)) - line
    expected = path / (2 * pi * base[0] / 20)
    assert at().contact_ratio == pytest.approx(expected, rel=1e-9)


def test_it_binds_where_the_runout_is_more_than_the_backlash_forgives():
    assert at(distance=10.05e-3, total_runout=0.152e-3).binds
    assert not at(distance=10.05e-3, total_runout=0.05e-3).binds


def test_the_caliper_tells_module_04_from_64_to_the_inch():
    assert at().candidates[0].designation == "module 0.4"
    inch = 32 * 25.4e-3 / 64
    assert at(outside=inch).candidates[0].designation == "64 DP"


def test_the_sentence_in_both_systems():
    panel = gears.show()
    assert "module 0.4" in panel.words and "µm" in panel.words
    panel.wear(system="inch")
    assert "thou" in panel.words and "mm" not in panel.words


def test_write_goes_into_a_copy(tmp_path):
    path = tmp_path / "engine.toml"
    path.write_text(sheet.DEMO.read_text("utf-8"), "utf-8")
    before = path.read_bytes()
    panel = gears.show(sheet.load(path))
    panel.set("total_runout", 20e-6)
    copy = panel.write(panel.values)
    assert path.read_bytes() == before
    assert sheet.load(copy).data.planned.gears[-1].total_runout.value == pytest.approx(20e-6)


def test_a_gear_of_no_standard_has_no_bar():
    panel = gears.show()
    panel.set("teeth", 8.0)
    picture = panel.picture(panel.look, panel.setting, 1.0)
    picture.frame(panel.state)
    assert "no standard gear" in panel.words and picture.none.text.get_visible()
    assert not any(bar.patch.get_visible() for _, bar in picture.bars)
    panel.reset()
    picture.frame(panel.state)
    assert picture.bars[0][1].patch.get_visible() and not picture.none.text.get_visible()


def test_gears_that_cannot_reach_each_other_are_told():
    case = Case(sheet.demo().with_value("planned.mesh.pressure_angle", "30 deg").data)
    state = mesh(case, **(SETTING | {"pressure_angle": radians(30), "distance": 11e-3}))
    assert state.contact_ratio == 0
    assert "no longer reach each other" in gears.sentence(state, "metric")
    panel = gears.show(sheet.demo().with_value("planned.mesh.pressure_angle", "30 deg"))
    assert panel.values["angle"] == "30°" and panel.state.mean == pytest.approx(50e-6, abs=1e-7)


def test_deeper_than_its_base_circles_a_mesh_is_jammed_and_no_deeper():
    deep, deeper = at(distance=9.3e-3), at(distance=9.0e-3)
    assert deep.mean == deeper.mean < 0 and deep.binds
