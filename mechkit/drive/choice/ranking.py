"""The front among the drives that fit, and what can be told apart on it.

Nothing is added up to a score.  He names what he cares about; the front keeps every drive that
no other beats in all of it, and what he could not tell apart on the track is said to be alike.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from mechkit.drive.choice import stock
from mechkit.drive.choice.aims import AIMS, check_aims, points
from mechkit.drive.choice.choose import Place, Stock
from mechkit.drive.choice.front import front


@dataclass(frozen=True)
class Front:
    """The front over some aims, sorted by them in the order named; a row for each drive.

    ``low`` and ``high`` are the ends of the 95 % bands; ``kept`` marks the drives that can
    be told apart: each other one is like one of these in everything named.
    """

    aims: tuple[str, ...]
    place: Place
    values: dict[str, np.ndarray]
    low: dict[str, np.ndarray]
    high: dict[str, np.ndarray]
    kept: np.ndarray

    def __len__(self):
        return len(self.kept)

    def at(self, row: int) -> Place:
        """One drive's place."""
        return Place(*(part[row] for part in self.place))

    def alike(self, one: int, other: int) -> list[str]:
        """The aims in which no difference between two drives could be measured."""
        return [
            aim
            for aim in self.aims
            if _alike(self.values[aim], self.low[aim], self.high[aim], one, other)
        ]


def _alike(values, low, high, one, others):
    """Whether a drive and others each lie in the other's band."""
    inside = (low[others] <= values[one]) & (values[one] <= high[others])
    return inside & (low[one] <= values[others]) & (values[others] <= high[one])


def front_of(found: Stock, aims: Sequence[str], place: Place | None = None, **asked) -> Front:
    """The front over the aims, of the candidates at some places or of all that fit.

    ``asked`` is ``speed`` and ``voltage`` as of `Stock.ask`.
    """
    aims = check_aims(aims)
    place = found.fitting if place is None else place
    if not len(place.motor):
        empty = dict.fromkeys(aims, np.zeros(0))
        return Front(aims, place, empty, empty, empty, np.zeros(0, bool))
    on = front(points(found.ask(aims, place, **asked)))
    place = _by_name(found, Place(*(part[on] for part in place)))
    asked_few = found.running(place, **asked).ask(aims)
    values = {
        aim: np.array(np.broadcast_to(each, len(place.motor))) for aim, each in asked_few.items()
    }
    low, high = {}, {}
    for aim, drawn in found.running(place, **asked, draws=True).ask(aims).items():
        drawn = np.broadcast_to(drawn, (len(place.motor), stock.DRAWS + 1))
        ends = np.percentile(drawn[:, 1:], [2.5, 97.5], axis=1)
        low[aim], high[aim] = np.minimum(ends[0], values[aim]), np.maximum(ends[1], values[aim])
    order = _ranked(aims, values, low, high, np.arange(len(place.motor)))
    place = Place(*(part[order] for part in place))
    values, low, high = ({aim: each[aim][order] for aim in aims} for each in (values, low, high))
    return Front(aims, place, values, low, high, _told_apart(aims, values, low, high))


def _by_name(found: Stock, place: Place) -> Place:
    """In the order of their names and sizes, so that a reshuffled sheet changes nothing."""
    stock_, cuts = found.sheet.stock, found.cuts
    names = [
        np.argsort(np.argsort([one.name for one in kind]))
        for kind in (stock_.motors, stock_.gear_sets, stock_.bars)
    ]
    bar = np.append(names[2], -1)[cuts.bar[place.cut]]  # no bar stands last, and counts as -1
    keys = (cuts.width[place.cut], cuts.outer[place.cut], bar,
            names[1][place.gears], names[0][place.motor])  # fmt: skip
    return Place(*(part[np.lexsort(keys)] for part in place))


def _ranked(aims, values, low, high, rows):
    """Rows in the order of the aims: what is alike in the first goes by the next."""
    if not aims or len(rows) < 2:
        return rows
    aim, *rest = aims
    sign = -1 if AIMS[aim].more else 1
    left = rows[np.argsort(sign * values[aim][rows], kind="stable")]
    order = []
    while len(left):
        same = _alike(values[aim], low[aim], high[aim], left[0], left)
        order.append(_ranked(rest, values, low, high, np.sort(left[same])))
        left = left[~same]
    return np.concatenate(order)


def _told_apart(aims, values, low, high):
    """Walk down the front; keep whoever differs measurably, in something, from all kept before."""
    count = len(values[aims[0]])
    kept, gone = np.zeros(count, bool), np.zeros(count, bool)
    every = np.arange(count)
    for row in range(count):
        if gone[row]:
            continue
        kept[row] = True
        same = np.ones(count, bool)
        for aim in aims:
            same &= _alike(values[aim], low[aim], high[aim], row, every)
        gone |= same
    return kept
