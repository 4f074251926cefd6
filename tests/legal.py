"""A legal sheet worked quickly: few draws, no drawings, every number looked at."""

import collections
import functools
import math
from pathlib import Path

from mechkit.drive.choice import choose, chosen, stock
from mechkit.drive.choice.aims import AIMS
from mechkit.drive.constants import knowledge
from mechkit.drive.decisions import rebuild as whole
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet import demo
from mechkit.publish import page

#: Enough to see what draws do, and quick.
DRAWS = 40


def quick(put):
    """Few draws for whatever is asked next; ``put`` sets an attribute, as `setattr` does."""
    put(knowledge, "Spread", functools.partial(Spread, draws=DRAWS))
    put(stock, "DRAWS", DRAWS)
    put(knowledge, "_kept", [])


@functools.cache
def figures():
    """The drawings of the page, left out here: they have tests of their own."""
    return collections.defaultdict(lambda: page.Figure("", ""))


def worked(data):
    """A sheet worked to the last number, each of them finite, and the words that say it."""
    done = whole.rebuild(data)
    answers = [band for one in (*done.faults, *done.decisions) for band in (one.value, one.limit)]
    answers += [band for one in done.headlines for band in (one.before, one.planned, one.after)]
    for band in filter(None, answers):
        assert all(map(math.isfinite, (band.value, band.low, band.high))), band
    for one in (*done.faults, *done.decisions):
        assert one.words("inch") and one.todo("metric"), one.key
    return done


def picked(data):
    """What the drawer of a sheet gives, or the line why it gives nothing."""
    try:
        found = choose.choose(data, step=8e-3)
        if not len(found.fitting.motor):
            return chosen.nothing_fits(found)
        return "\n".join(chosen.report(chosen.look(found, tuple(AIMS))))
    except stock.NothingToChoose as nothing:
        return str(nothing)


def built(changes):
    """The demo's sheet with some keys changed, worked, and its page."""
    sheet = demo().with_values(changes)
    done = worked(sheet.data)
    return done, page.render(sheet, done, figures(), Path("page.html"))
