"""A clock that parts from the computed speed stands in the page's first lines."""

import re
from collections import defaultdict

import pytest
from markupsafe import Markup

from mechkit.drive import sheet
from mechkit.drive.decisions.rebuild import rebuild
from mechkit.publish import page, verdict


def said(changes):
    return verdict.what_disagrees(rebuild(sheet.demo().with_values(changes).data), "metric")


def test_the_demo_agrees_with_itself():
    assert said({}) == ""


def test_a_run_that_does_not_belong_is_named_first():
    """4.2 s at full throttle clocked as 5.4 s: a fifth slower than every other reading says."""
    words = said({"measured_before.runs[5].time": "5.4 s"})
    assert re.search(r"[Rr]un 5 of the readings taken before the work does not belong", words)
    assert "it was clocked at 64" in words  # 1.5 m in 5.4 s, 64 times, is 64 km/h
    assert "Settle this first" in words


def test_it_stands_above_what_is_wrong():
    bench = sheet.demo().with_values({"measured_before.runs[5].time": "5.4 s"})
    done = rebuild(bench.data)
    text = str(
        page.render(
            bench,
            done,
            defaultdict(lambda: page.Figure("", Markup(""))),
            bench.path.with_name("x.html"),
        )
    )
    assert text.index("What disagrees") < text.index("What is wrong") < text.index("What it gains")


@pytest.mark.parametrize("time", ["4.1 s", "4.3 s"])
def test_what_the_watch_cannot_tell_is_no_disagreement(time):
    assert said({"measured_before.runs[5].time": time}) == ""
