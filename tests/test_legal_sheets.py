"""Every sheet that the schema lets in gets its page, or one line that names a key."""

import functools
import math
from pathlib import Path

import numpy as np
import pytest

from mechkit.drive.choice import stock
from mechkit.drive.constants import knowledge
from mechkit.drive.decisions import rebuild as whole
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet import demo
from mechkit.publish import page
from mechkit.units import Reading

#: Enough to see what draws do, and quick.
DRAWS = 40


@pytest.fixture(autouse=True)
def few_draws(monkeypatch):
    monkeypatch.setattr(knowledge, "Spread", functools.partial(Spread, draws=DRAWS))
    monkeypatch.setattr(stock, "DRAWS", DRAWS)
    monkeypatch.setattr(knowledge, "_kept", [])


@functools.cache
def figures():
    """The drawings of the page, left out here: they have tests of their own."""
    return {name: page.Figure(name, "") for name in ("elevation", "Adapter sleeve", "Flywheel")}


def built(changes):
    """The demo's sheet with some keys changed, worked, and its page."""
    sheet = demo().with_values(changes)
    done = whole.rebuild(sheet.data)
    for one in (*done.faults, *done.decisions):
        ends = (end for band in (one.value, one.limit) for end in (band.value, band.low, band.high))
        assert all(map(math.isfinite, ends)), one.key
    return done, page.render(sheet, done, figures(), Path("page.html"))


def test_what_reads_nothing_is_drawn_to_one_side():
    """A runout below what the indicator shows is some runout, and never a negative one."""
    drawn = Spread(draws=200).reading("runout", Reading(0.0), 12.7e-6)
    assert drawn[0] < 1e-12
    assert np.all(drawn >= 0)
    assert np.std(drawn[1:]) > 0


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("planned.gears[2].total_runout", "0 in"),
        ("as_is.gears[2].total_runout", "0 in"),
        ("planned.flywheel.off_center", "0 mm"),
    ],
)
def test_nothing_on_the_indicator_is_a_reading(key, value):
    done, _ = built({key: value})
    assert done.decision("backlash").kept > 0.5
