"""What each change of the plan gains, gathered for the template: alone, and in order."""

from collections.abc import Iterator
from typing import NamedTuple

from markupsafe import Markup

from mechkit.drive.decisions.gains import Gain, Gains
from mechkit.drive.decisions.rebuild import Rebuild
from mechkit.publish import verdict
from mechkit.publish.partial import minutes
from mechkit.publish.twice import both

#: The sign that tells how a change came out.
SIGNS = {"better": "good", "open": "watch", "worse": "wrong"}


class Cell(NamedTuple):
    """A number after a change; empty where it has not moved."""

    value: Markup
    sign: str
    words: str


class Row(NamedTuple):
    """One change."""

    words: str
    minutes: str
    cells: list[Cell]


class Table(NamedTuple):
    """The changes in one way of asking."""

    words: str
    rows: list[Row]


class Gained(NamedTuple):
    """Both tables, what stands over and before them, and the changes that move nothing there."""

    heads: list[str]
    before: list[Markup]
    tables: list[Table]
    still: str


def gained(done: Rebuild) -> Gained | None:
    """What each change gains; None where there are no two to tell apart."""
    if not done.plans or len(done.gains.moving) < 2:
        return None
    found = done.gains
    return Gained(
        heads=[one.words for one in found.quantities],
        before=[both(band.plain) for band in found.before.values()],
        tables=[
            Table("Each alone, on the engine as it is", list(_rows(found, "alone"))),
            Table("One after the other", list(_rows(found, "in_order"))),
        ],
        still=verdict.joined(step.change.words for step in found.still),
    )


def _rows(found: Gains, which: str) -> Iterator[Row]:
    for step in found.moving:
        gains = getattr(step, which)
        cells = [_cell(gains[one.key]) for one in found.quantities]
        yield Row(step.change.words, minutes(step.change.minutes), cells)


def _cell(gain: Gain) -> Cell:
    words = both(gain.value.plain) if gain.moved else Markup("")
    return Cell(words, SIGNS.get(gain.sign, ""), gain.sign)
