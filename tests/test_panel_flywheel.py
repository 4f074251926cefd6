"""The flywheel panel on other engines: one whirl with the page, a first wheel that fits, its copies."""

import re

import pytest

from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import plan
from mechkit.drive.model import layout
from mechkit.drive.model.spread import Spread
from mechkit.drive.questions import flywheel as coast
from mechkit.drive.questions.flywheel import case_of
from mechkit.panels import flywheel
from tests.strange_sheets import ENGINES, strange

BENCH = sheet.demo()
WITHOUT = [name for name, (_, _, changes) in ENGINES.items() if "planned.flywheel" in changes]


@pytest.fixture
def own(tmp_path):
    """A copy of the demo's sheet, bored 2.06 mm on its shaft of 2 mm."""
    path = tmp_path / "engine.toml"
    path.write_text(BENCH.text, encoding="utf-8")
    return sheet.load(path).with_value("planned.flywheel.bore", "2.06 mm")


def page(bench):
    """The first whirl that the page tells [rad/s], and how often full throttle goes into it."""
    known = Knowledge(bench.data, Spread(draws=20))
    decision = next(one for one in plan.wheel(known) if one.key == "whirl")
    whirl = decision.numbers["whirl"].value
    return whirl, whirl / decision.value.value


@pytest.mark.parametrize("bore", ["2 mm", "2.02 mm", "2.07 mm"])
def test_page_and_panel_name_one_whirl_whatever_the_bore(bore):
    """The shaft whirls, and not the hole around it."""
    bench = BENCH.with_value("planned.flywheel.bore", bore)
    state = flywheel.show(bench).state
    assert (state.whirl, state.whirl_margin) == pytest.approx(page(bench), rel=1e-6)


def test_another_shaft_goes_into_the_copy_with_its_bore(own):
    panel = flywheel.show(own)
    data = sheet.load(panel.write(dict(panel.values))).data.planned
    assert (data.motor.shaft_diameter.text, data.flywheel.bore.value) == ("2.0 mm", 2.06e-3)
    panel.set("bore", 2.6e-3)
    copy = sheet.load(panel.write(dict(panel.values)))
    assert copy.data.planned.motor.shaft_diameter.value == pytest.approx(2.54e-3)
    assert page(copy)[0] == pytest.approx(panel.state.whirl, rel=1e-6)


@pytest.mark.parametrize("name", WITHOUT)
def test_where_no_wheel_is_planned_it_starts_with_one_that_fits(name):
    data, panel = strange(name).data, flywheel.show(strange(name))
    state = panel.state
    assert state.fits and state.outer > 4 * state.bore and state.width > 0.2 * state.outer
    written = strange(name).with_value("planned.flywheel", {
        "material": "brass", "outside_diameter": f"{state.outer * 1e3} mm",
        "width": f"{state.width * 1e3} mm", "bore": f"{state.bore * 1e3} mm",
        "off_center": "0.01 mm", "bearing_span": f"{panel.setting.bearing_span * 1e3} mm",
        "overhang": f"{(panel.setting.gap + state.width / 2) * 1e3} mm",
    })  # fmt: skip
    best = Knowledge(written.data, Spread(draws=2)).layout
    wheel = next(item for item in best.items if item.name == "flywheel")
    assert wheel.clearance >= max(data.envelope.gap.value, coast.LEAST_ROOM) - 1e-9
    assert best.end_room >= 0 and isinstance(best, layout.Layout)


def test_a_box_is_as_wide_as_it_is_free_around_the_shaft():
    case = case_of(strange("no flywheel, boxes only").data)
    assert case.room_name == "side tanks" and case.shaft_above_boiler == 0
    assert case.free == pytest.approx(2 * (34.0 - 25.2) * 1e-3)  # the roof is nearest


def test_no_bore_is_ever_larger_than_its_rim():
    for name in ENGINES:
        panel = flywheel.show(strange(name))
        assert panel.controls["bore"].high < panel.controls["outer"].low


def test_an_engine_that_was_never_measured_is_asked_all_the_same():
    panel = flywheel.show(strange("worm straight on the axle gear, nothing measured"))
    low, high = re.search(r"Coasts \d+\u00a0mm \((\d+) to (\d+)\)", panel.words).groups()
    assert int(high) > 10 * int(low), "and the band says that nothing was read"
