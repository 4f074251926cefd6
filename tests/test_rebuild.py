"""The whole job from one sheet: spread, layout, decisions, proof."""

import re

import numpy as np
import pytest

from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions import workshop
from mechkit.drive.decisions.rebuild import rebuild
from mechkit.drive.model import layout
from mechkit.drive.model.body import body_of
from mechkit.drive.model.spread import Band, Spread
from mechkit.units import Reading


@pytest.fixture(scope="module")
def demo():
    return rebuild(sheet.demo().data)


def changed(key, value):
    """The rebuild of the demo with one key changed."""
    return rebuild(sheet.demo().with_value(key, value).data)


# -- spread ---------------------------------------------------------------------------


def test_the_same_sheet_gives_the_same_numbers(demo):
    again = rebuild(sheet.demo().data)
    assert [line.planned for line in again.headlines] == [line.planned for line in demo.headlines]


def test_a_reading_without_spread_takes_the_instrument():
    spread = Spread()
    sharp = spread.reading("a", Reading(2.0, 0.1), finest=0.5)
    blunt = spread.reading("b", Reading(2.0), finest=0.5)
    assert sharp[0] == pytest.approx(2.0) and blunt[0] == pytest.approx(2.0)
    assert np.std(sharp[1:]) == pytest.approx(0.05, rel=0.05)
    assert np.std(blunt[1:]) == pytest.approx(0.25, rel=0.05)


def test_a_band_names_the_input_it_comes_from():
    spread = Spread()
    loud = spread.reading("loud", Reading(1.0, 0.5))
    soft = spread.reading("soft", Reading(1.0, 0.05))
    band = spread.band(loud * soft, "number")
    assert band.source == "loud"
    assert band.sources[0][1] > 0.9


def test_a_band_of_a_sum_is_that_of_statistics():
    spread = Spread()
    total = spread.reading("a", Reading(5.0, 0.3)) + spread.reading("b", Reading(7.0, 0.4))
    band = spread.band(total, "number")
    assert band.high - band.low == pytest.approx(2 * 1.96 / 2 * 0.5, rel=0.05)


def test_digits_follow_the_band():
    assert Band(0.14579, 0.1146, 0.1831, "length").say() == "146\u00a0mm (115 to 183\u00a0mm)"
    assert Band(2.702, 2.51, 2.90, "voltage").say() == "2.7\u00a0V (2.5 to 2.9\u00a0V)"
    assert Band(0.016, 0.016, 0.016, "length").say("inch") == "0.630\u00a0in"


# -- constants ------------------------------------------------------------------------


def test_constants_of_the_demo_motors(demo):
    """The constants that the demo was made from (tests/test_demo.py) are found again."""
    known = known_of(demo.sheet)
    for found, k, resistance in (
        (known.before.motor, 7.0e-3, 13.0),
        (known.motor_planned, 14.0e-3, 22.0),
    ):
        for values, truth in ((found.torque_constant, k), (found.resistance, resistance)):
            low, high = np.percentile(values[1:], [2.5, 97.5])
            assert low < truth < high


def test_friction_of_the_demo_drives(demo):
    for drive, running, damping, efficiency in (
        (demo.known.before, 1.15e-3, 0.18e-6, 0.33),
        (demo.known.after, 0.31e-3, 0.17e-6, 0.45),
    ):
        assert drive.running_friction[0] == pytest.approx(running, rel=0.02)
        assert drive.damping[0] == pytest.approx(damping, rel=0.15)
        assert drive.efficiency[0] == pytest.approx(efficiency, rel=0.05)


# -- what it says ---------------------------------------------------------------------


def test_every_fault_of_the_demo_is_found(demo):
    assert {one.key for one in demo.faults if one.verdict == "wrong"} == {
        "fast", "start", "hop", "stop", "wear", "end play", "contact", "insulation",
    }  # fmt: skip


def test_the_plan_cures_it(demo):
    wrong = {one.key for one in demo.decisions if one.verdict == "wrong"}
    assert wrong == {"press"}, "a press fit that these instruments cannot hold, and nothing else"


def test_what_was_measured_meets_what_was_planned(demo):
    assert len(demo.proof) >= 15
    assert all(check.agrees for check in demo.proof)
    assert all(line.agrees for line in demo.headlines if line.after)
    assert sum(line.after is not None for line in demo.headlines) >= 9


def test_a_wrong_plan_is_not_proved():
    """The proof can fail: planned with a flywheel of half the size, the open coasts do not agree."""
    other = changed("planned.flywheel.outside_diameter", "8 mm")
    coasts = [check for check in other.proof if check.words.startswith("rolls on, rails open")]
    assert len(coasts) >= 2
    assert not any(check.agrees for check in coasts if check.voltage > 5)


def test_verdicts_turn_with_their_causes():
    assert changed("as_is.gears[2].total_runout", "0.0015 in").decision("hop").verdict == "good"
    assert changed("as_is.worm.end_play", "0.003 in").decision("end play").verdict == "good"
    assert changed("as_is.alignment.offset", "0.002 mm").decision("alignment").verdict == "good"
    assert changed("planned.flywheel.overhang", "60 mm").decision("whirl").verdict == "wrong"
    assert changed("planned.flywheel.outside_diameter", "19 mm").decision("axle").verdict == "wrong"
    assert changed("planned.motor.insulated", False).decision("electrics").verdict == "wrong"


def test_words_carry_both_systems(demo):
    for one in (*demo.faults, *demo.decisions):
        for system in ("metric", "inch"):
            text = one.words(system) + one.todo(system)
            assert "{" not in text
            assert not re.search(r"\bnan\b", text)
        assert one.reason
        assert 0.5 <= one.sure <= 1.0


def test_a_drive_that_nobody_measured_has_wide_bands(demo):
    bare = sheet.demo().data
    bare = bare.model_copy(update={"measured_before": type(bare.measured_before)()})
    unread, read = (rebuild(one).headline("friction").before for one in (bare, demo.sheet))
    assert unread.high / unread.low > 2 * read.high / read.low
    assert unread.low < read.value < unread.high


# -- layout ---------------------------------------------------------------------------


def test_layout_by_hand(demo):
    """Axle 1, motor behind: worm half 4, wall 2 and 1 free, 12 wide, gap 3, motor 24 long."""
    best = demo.layouts[0]
    assert best.words == "axle 1, motor behind it"
    wheel, motor = best.items
    assert (wheel.start, wheel.end) == pytest.approx((7e-3, 19e-3))
    assert (motor.start, motor.end) == pytest.approx((22e-3, 46e-3))
    assert best.end_room == pytest.approx(22e-3)
    assert best.least == pytest.approx(10.5e-3 - 1.1e-3 - 8e-3)


def test_a_part_that_sticks_out_has_no_room(demo):
    stuck = layout.lay(demo.sheet.planned, body_of(demo.sheet), 2, forward=False)
    assert stuck.least < 0


# -- sizes ----------------------------------------------------------------------------


@pytest.mark.parametrize("lathe", ["0.005 mm", "0.02 mm", "0.1 mm"])
@pytest.mark.parametrize("caliper", ["0.02 mm", "0.1 mm"])
def test_no_tolerance_is_finer_than_the_instruments(lathe, caliper):
    found = sheet.demo().with_value("instruments.lathe", lathe)
    found = found.with_value("instruments.caliper", caliper).data
    for part in (workshop.adapter(found), workshop.flywheel(found)):
        for size in part.sizes.values():
            assert size.matched or size.tolerance >= max(
                found.instruments.lathe.value, found.instruments.micrometer.value
            )


def test_what_cannot_be_held_is_matched(demo):
    coarse = sheet.demo().with_value("instruments.lathe", "0.1 mm").data
    assert workshop.adapter(coarse).sizes["bore"].matched
    assert "match to the part" in workshop.adapter(coarse).sizes["bore"].say()
    assert not workshop.adapter(demo.sheet).sizes["bore"].matched
