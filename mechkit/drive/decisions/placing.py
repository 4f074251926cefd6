"""Where the planned drive lies in its body, whether its gears reach, and what metal is left around bores."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np

from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions.decision import Cure, Decision, Exact, fixed, judge
from mechkit.drive.model import layout
from mechkit.drive.model.body import OUTSIDE, Body, body_of
from mechkit.drive.model.parts import Amount
from mechkit.drive.model.read import nominal_train
from mechkit.drive.model.stack import allowed, down_of, links_of, off_place

#: A sleeve whose wall is thinner folds at parting; common practice, no source.
SLEEVE_WALL = 0.35e-3
#: Metal under the root of a thread or tooth, as a part of its module; common practice, no source.
ROOT_WALL = 1.0
#: A tooth's root lies so many modules under its top.
DEEP = 2.25
#: The shaft of a drive is moved by no more than this to make it fit [m].
FARTHEST, COARSE = 8e-3, 0.5e-3


def axle(known: Knowledge) -> list[Decision]:
    """Which axle to drive, and the room that is left."""
    best, second = known.layouts[:2]
    left = left_by(known, best)
    gap = known.spread.reading("gap that is wanted", known.sheet.envelope.gap)
    tightest = best.tightest
    case = "fits" if tightest.clearance >= 0 else "strikes"
    if case == "strikes" and tightest.room == OUTSIDE:
        case = "sticks out"
    return [
        judge(
            known.spread,
            "axle",
            case=case,
            value=left.least,
            limit=gap,
            cure=lambda: freed(known, best),
            words=best.words,
            part=tightest.name,
            room=tightest.room,
            second=second.words,
            second_least=known.spread.band(left_by(known, second).least, "length"),
        ),
        judge(
            known.spread,
            "length",
            value=left.end_room,
            limit=gap,
            cure=lambda: ("shorter", {"needed": Exact(_lack(left.end_room, gap), "length")}),
            length=known.spread.band(left.length, "length"),
        ),
    ]


def left_by(known: Knowledge, chosen: layout.Layout) -> layout.Left:
    """What a layout of the planned drive leaves, with its draws."""
    return layout.left(chosen, known.sheet.planned, known.body)


def _lack(value: Amount, limit: Amount) -> float:
    """How much is missing where nine draws of ten are to keep a limit, rounded up [m]."""
    lack = float(np.quantile(np.asarray(limit) - np.asarray(value), 0.9))
    return np.ceil(max(lack, 0.0) * 1e4 - 1e-6) / 1e4


def freed(known: Knowledge, best: layout.Layout) -> Cure:
    """Another height of the shaft, or a smaller or shorter part, that frees the tightest one."""
    state, gap = known.sheet.planned, known.sheet.envelope.gap.value
    body, part = body_of(known.sheet), best.tightest
    numbers: dict[str, Any] = {"part": part.name}

    def clears(height: float) -> float:
        moved = replace(body, shaft_height=height)
        return float(max(one.least for one in layout.candidates(state, moved)) >= gap)

    found = _moved(body, clears)
    if found is not None:
        way = "higher" if found > 0 else "lower"
        return "shaft", numbers | {"needed": Exact(abs(found), "length"), "way": way}
    lack = _lack(left_by(known, best).least, gap)
    if part.room == OUTSIDE:
        return "shorter", numbers | {"needed": Exact(lack, "length")}
    if part.room in {room.name for room in known.sheet.envelope.rooms}:
        return "notch", numbers | {
            "needed": Exact(2 * lack, "length"),
            "deep": Exact(lack, "length"),
            "start": Exact(part.start, "length"),
            "end": Exact(part.end, "length"),
        }
    if 2 * lack < part.diameter:
        return "smaller", numbers | {"needed": Exact(2 * lack, "length")}
    return "nothing", numbers


def _moved(body: Body, clears) -> float | None:
    """The least move of the shaft at which all is clear, up or down, in tenths of a millimeter [m]."""
    now = float(body.shaft_height)
    for step in range(1, round(FARTHEST / COARSE) + 1):
        for way in (1, -1):
            far = way * step * COARSE
            if clears(now + far):
                finer = (far - way * tenths * 1e-4 for tenths in (4, 3, 2, 1))
                return next((move for move in finer if clears(now + move)), far)
    return None


def reach(known: Knowledge) -> Decision:
    """Whether worm, idlers and axle gear meet with the shaft as high as it is."""
    state, body = known.sheet.planned, known.body
    train = nominal_train(state)
    height = body.shaft_height - body.tread / 2
    off, limit = off_place(train, height), allowed(state)
    laid = known.layout
    down, links = down_of(train), sum(links_of(train))
    low, high = (
        float(np.ravel(known.body.tread)[0]) / 2 + down + way * (links + limit) for way in (-1, 1)
    )
    return judge(
        known.spread,
        "reach",
        case="leans" if laid.stack.aside > limit else "upright",
        value=off,
        limit=limit,
        cure=lambda: _reached(low, high, float(np.ravel(body.shaft_height)[0])),
        aside=fixed(laid.stack.aside, "length"),
        under=known.gears_planned[0].name,
    )


def _reached(low: float, high: float, now: float) -> Cure:
    """The height at which the gears meet."""
    needed = high if now > high else low
    return "shaft", {"needed": Exact(needed, "length"), "now": Exact(now, "length")}


class Wall(NamedTuple):
    """Metal around a bore: of which part, how much there is, how much there should be [m]."""

    part: str
    wall: Amount
    least: float
    bore: Amount


def walls_of(known: Knowledge) -> Iterator[Wall]:
    """The walls of worm, axle gear and sleeve."""
    state = known.sheet.planned
    module = state.worm.module.value
    root = ROOT_WALL * module

    def size(name: str, reading):
        return known.size(name, reading)

    shaft = size("shaft of the motor", state.motor.shaft_diameter)
    bore = size("bore of the worm", state.worm.bore)
    tops = size("outside of the worm", state.worm.outside_diameter)
    yield Wall("worm", (tops - 2 * DEEP * module - bore) / 2, root, bore)
    gear = state.gears[-1]
    through = size("diameter of the driver axles", known.sheet.locomotive.axle_diameter)
    over = size(f"outside of the {gear.name}", gear.outside_diameter)
    yield Wall(gear.name, (over - 2 * DEEP * module - through) / 2, root, through)
    if state.adapter:
        yield Wall("sleeve", (bore - shaft) / 2, SLEEVE_WALL, shaft)


def walls(known: Knowledge) -> Decision:
    """The thinnest wall around a bore, against what can be turned and holds."""
    worst = min(walls_of(known), key=lambda one: float(np.ravel(one.wall)[0]) / one.least)
    lack = 2 * _lack(worst.wall, worst.least)
    return judge(
        known.spread,
        "walls",
        case="sleeve" if worst.part == "sleeve" else "root",
        value=worst.wall,
        limit=worst.least,
        cure=lambda: _thicker(worst, lack),
        part=worst.part,
        bore=known.spread.band(worst.bore, "length"),
    )


def _thicker(worst: Wall, lack: float) -> Cure:
    """A bore that leaves enough: of the worm larger for a sleeve, else smaller."""
    bore = float(np.ravel(worst.bore)[0])
    if worst.part == "sleeve":
        around = bore + 2 * float(np.ravel(worst.wall)[0])
        return "sleeve", {"needed": Exact(around + lack, "length")}
    needed = bore - lack
    if needed <= 0.5 * bore:
        return "nothing", {"needed": Exact(lack, "length")}
    return "bore", {"needed": Exact(needed, "length")}
