"""The standard that wheels are held against, and what the sheet says of wheels and rods."""

import pytest

from mechkit import units
from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import findings
from mechkit.drive.decisions.rebuild import rebuild
from mechkit.drive.model import frogs
from mechkit.drive.model.spread import Spread
from mechkit.publish import unknowns, verdict, worklist


def changed(**values):
    """The demo's sheet with keys changed; dots are written as double underscores."""
    wanted = {key.replace("__", "."): value for key, value in values.items()}
    return sheet.demo().with_values(wanted).data


def asked(**values):
    """What is known of such a sheet, before anything is computed."""
    return Knowledge(changed(**values), Spread())


@pytest.mark.parametrize(
    ("gauge", "standard", "name"),
    [
        ("0.570 in", None, "NMRA Sn3"),
        ("9.0 mm", None, "NEM 9 mm"),
        ("12.1 mm", None, "NEM 12 mm"),
        ("12.9 mm", None, "NMRA On2"),
        ("16.6 mm", None, "NMRA HO"),
        ("16.6 mm", "NEM", "NEM 16.5 mm"),
        ("22.6 mm", None, "NMRA S"),
        ("32.0 mm", None, "NMRA O"),
        ("32.0 mm", "NEM", None),
        ("10.5 mm", None, None),
    ],
)
def test_a_standard_is_known_by_the_gauge(gauge, standard, name):
    """Whatever the scale: narrow gauges run in every one."""
    read = {"gauge": units.read(gauge, "m"), "standard": standard}
    found = frogs.of(sheet.demo().data.track.model_copy(update=read))
    assert (found and found.name) == name


def test_no_gauge_no_standard():
    assert frogs.of(changed(track__gauge=None).track) is None


def test_a_wheelsets_standard_serves_where_that_of_the_track_is_not_in_the_table():
    """Printed limits by hand, in millimeters: NEM 16.5, backs 14.4 at least, check gauge 15.3."""
    nem = frogs.Frog("NEM 16.5 mm")
    assert (nem.check_span, nem.check_gauge) == pytest.approx((14.4e-3, 15.3e-3))
    nmra = frogs.Frog("NMRA HO")
    assert (nmra.check_span, nmra.check_gauge) == pytest.approx((0.564 * 25.4e-3, 0.605 * 25.4e-3))


@pytest.mark.parametrize(
    ("apart", "found"), [("12.28 mm", "good"), ("11.90 mm", "wrong"), ("12.60 mm", "wrong")]
)
def test_too_near_and_too_far_are_both_wrong(apart, found):
    known = asked(locomotive__back_to_back=[apart, "12.28 mm"])
    assert findings.back_to_back(known).verdict == found


def test_a_flange_too_thick_for_the_frog_fits_nowhere():
    known = asked(locomotive__flange_width="1.1 mm", track__gauge="0.585 in")
    one = findings.back_to_back(known)
    assert one.limit.value < 0
    assert one.verdict == "wrong"


@pytest.mark.parametrize(
    ("read", "found"), [("0 deg", "good"), ("6.0 +/- 1 deg", "watch"), ("9 deg", "wrong")]
)
def test_out_of_quarter(read, found):
    assert findings.quartering(asked(locomotive__quartering_error=read)).verdict == found


def test_a_quartering_error_without_a_spread_is_as_good_as_the_caliper():
    """A pin off level by 0.02 mm at 4 mm: 0.29 degrees."""
    band = findings.quartering(asked(locomotive__quartering_error="2 deg")).value
    assert (band.high - band.low) / 2 == pytest.approx(0.005, rel=0.1)


def test_the_verdict_names_wheels_and_rods():
    wrong = {"locomotive__quartering_error": "9 deg", "locomotive__back_to_back": ["11.9 mm"]}
    said = verdict.what_is_wrong(rebuild(changed(**wrong)), "metric")
    assert "binds its rods twice a wheel turn" in said
    assert "do not pass every frog" in said


def test_what_was_not_read_is_not_judged_and_said():
    bare = {"locomotive__quartering_error": None, "locomotive__flange_width": None}
    job = rebuild(changed(**bare))
    assert not {"quartering", "back-to-back"} & {one.key for one in job.faults}
    said = {one.words for one in unknowns.unknowns(job)}
    assert {"the quartering error", "the width of their flanges"} <= said
    assert "Put the pulled wheel back" not in {one.words for one in worklist.do(job, "metric")}


def test_a_gauge_without_a_standard_is_said_plainly():
    """The scale has no part in it."""
    job = rebuild(changed(track__gauge="20.5 mm"))
    assert "back-to-back" not in {one.key for one in job.faults}
    said = [one.words for one in unknowns.unknowns(job)]
    assert "a standard in the table for a gauge of 20.50\u00a0mm" in said


def test_the_work_list_puts_the_wheel_back():
    steps = {one.words: one.detail for one in worklist.do(rebuild(sheet.demo().data), "metric")}
    assert "12.28\u00a0mm" in steps["Put the pulled wheel back"]
    assert "Quarter a wheel in a jig" in steps["Put the pulled wheel back"]
