"""The drive in its envelope on one sheet: side elevation, cross sections, numbered parts."""

import itertools
from typing import NamedTuple

import numpy as np

from mechkit.drawings import paper
from mechkit.drawings.across import across, outline
from mechkit.drawings.chain import Chain, Gap
from mechkit.drawings.layout import drawing, note, rule, scale_bar, title_block
from mechkit.drawings.lettering import text_width
from mechkit.drawings.scene import Scene, reach, scene
from mechkit.drawings.shop import Balloon, CenterLine, Dimension, Leader, Outline
from mechkit.drawings.side import RAIL, Side
from mechkit.drawings.style import Look
from mechkit.drive.model.layout import WALL, Layout
from mechkit.drive.sheet.schema import BenchSheet

#: Words of the two states, and the meaning of their color.
STATES = {"as_is": ("as it is", "before"), "planned": ("as planned", "after")}
EDGE = 16  # margin of the sheet [px]
LETTERS = "ABCD"
#: The scale bar in either system.
BARS = {"metric": (10e-3, "10 mm"), "inch": (12.7e-3, "1/2 in")}
#: Room beside a leaning gearbox for the balloons of its parts [m].
BALLOONS = 9e-3
#: Teeth out of mesh by more than this share of a module are worth a word.
SHORT = 0.3


class Numbered(NamedTuple):
    """A part with a balloon: what it is, and where its dot and its balloon lie."""

    words: str
    dot: tuple[float, float]
    beside: bool  # in the column beside the gears, else in the row over the body


def elevation(
    sheet: BenchSheet, look: Look | None = None, state="planned", layout: Layout | None = None
):
    """Draw one state of the drive in its body, to scale, with every clearance.

    Parameters
    ----------
    sheet : BenchSheet
        What is drawn.
    look : Look
        Paper or slate, desk or print, metric or inch.
    state : "planned" or "as_is"
        Which drive.
    layout : Layout
        Where it lies; the roomiest of all axles and directions unless given.

    Returns
    -------
    figure : matplotlib Figure
        A sheet 900 px wide, 180 mm on paper.
    """
    view = scene(sheet, look or Look(), state, layout)
    spread = view.look.spread
    left, right, top = extent(view)
    scale = paper.scale_for(right - left, paper.WIDTH - 2 * EDGE - spread(150))
    pixel = paper.PIXEL / scale  # of the locomotive in a pixel of the sheet
    under, above, strip = spread(74), spread(200), spread(40)
    parts_scale, foot = below(view)
    high = round(under + top / pixel + above)
    figure = paper.fresh(view.look, round(strip + foot + high))
    center = ((left + right) / 2, (high / 2 - under) * pixel)
    box = (0, strip + foot, paper.WIDTH, high)
    axes = drawing(figure, view.look, box, center=center, scale=pixel)
    side = Side(axes, view)
    side.draw()
    parts = numbered(side)
    balloons(side, parts, top)
    lengths(side, top)
    heights(side, left, right)
    gaps(side)
    bar, words = BARS[view.look.system]
    level = -spread(58) * pixel
    scale_bar(axes, view.look, (right - bar, level), bar, words)
    axes.text(left, -spread(30) * pixel, "← front", va="center_baseline",
              **view.look.words("note", "quiet"))  # fmt: skip
    cuts(figure, side, (EDGE, strip, paper.WIDTH - 2 * EDGE, foot), parts_scale)
    legend(figure, view, parts, legend_place(view, strip + foot))
    heading(figure, view)
    block(figure, view, scale)
    return figure


def extent(view: Scene):
    """Left, right and top of everything that is drawn to scale [m]."""
    ends = [x for room in view.rooms for x in (room.start.value, room.end.value)]
    ends += [x for item in view.layout.items for x in (item.start, item.end)]
    ends += [view.axles[0] - view.tread / 2, view.axles[-1] + view.tread / 2]
    if abs(view.layout.worm_at - view.layout.at) > WALL:  # the gearbox leans out of the way
        half = view.state.worm.length.value / 2 + WALL
        ends.append(view.layout.worm_at - view.away * (half + BALLOONS))
    tops = [reach(room)[1] for room in view.rooms]
    tops += [view.shaft + item.diameter / 2 for item in view.layout.items]
    return min(ends), max(ends), max(tops)


def heading(figure, view: Scene):
    """What the sheet shows, over it."""
    words, meaning = STATES[view.name]
    level = figure.get_size_inches()[1] * 72 - EDGE
    note(figure, view.look, (EDGE, level), "Side elevation", kind="title", strong=True, va="top")
    offset = text_width("Side elevation", view.look.type("title"), True) + view.look.spread(10)
    note(figure, view.look, (EDGE + offset, level), f"{words}, cut on the center line",
         kind="title", meaning=meaning, va="top")  # fmt: skip


def block(figure, view: Scene, scale):
    """The title block along the foot."""
    look = view.look
    scale_cell = [] if look.size == "hall" else [f"{paper.scale_words(scale)} on paper"]
    cells = [view.place, *scale_cell, paper.unit_words(look), "not to be scaled from a screen"]
    size, gap = look.type("note"), look.spread(20)
    room = paper.WIDTH - 2 * EDGE - sum(text_width(cell, size) + gap for cell in cells) - gap
    title_block(figure, look, [paper.shorten(view.sheet.title, room, size * 1.06), *cells])


def numbered(side: Side) -> list[Numbered]:
    """The parts in the order of the drive, from the motor to the axle."""
    view, number = side.view, side.view.number
    motor, state, wheel = view.motor, view.state, view.item("flywheel")
    parts = [Numbered(
        f"motor, {state.motor.kind}, ⌀ {number(motor.diameter)} × {number(motor.end - motor.start)}; "
        f"{view.clears(motor)}",
        ((motor.start + motor.end) / 2, view.shaft + 0.3 * motor.diameter), False,
    )]  # fmt: skip
    if wheel and state.flywheel:
        parts.append(Numbered(
            f"flywheel, {state.flywheel.material}, ⌀ {number(wheel.diameter)} × "
            f"{number(wheel.end - wheel.start)}; {view.clears(wheel)}",
            ((wheel.start + wheel.end) / 2, view.shaft + 0.3 * wheel.diameter), False,
        ))  # fmt: skip
    at, worm, away = view.layout.worm_at, state.worm, view.away
    end = at - away * (worm.length.value / 2 + 0.4 * WALL)
    parts.append(Numbered(f"drive shaft, ⌀ {number(state.motor.shaft_diameter.value)}",
                          (end, view.shaft), True))  # fmt: skip
    beside = at - away * worm.length.value / 4
    size = f"⌀ {number(worm.outside_diameter.value)}, {paper.teeth_size(worm.module)}"
    parts.append(Numbered(
        f"worm, {worm.material}, {size}, {worm.starts} start{'s' if worm.starts > 1 else ''}",
        (beside, view.shaft + 0.36 * worm.outside_diameter.value), True,
    ))  # fmt: skip
    if state.adapter:
        middle = (state.motor.shaft_diameter.value + worm.bore.value) / 4
        parts.append(Numbered(f"adapter sleeve, {state.adapter.material}",
                              (beside, view.shaft - middle), True))  # fmt: skip
    for gear in view.stack.gears:
        x, y = gear.center
        words = f"{gear.name}, {gear.material}, {gear.teeth} teeth, ⌀ {number(gear.outside)}"
        if gear is view.stack.gears[-1]:
            words += f"; tips {number(y - gear.outside / 2)} over the rail"
        if gear is view.stack.gears[0] and abs(view.stack.short) > SHORT * gear.module:
            words += f"; {number(abs(view.stack.short))} too {'low' if view.stack.short > 0 else 'high'} for the worm"
        dot = (x - away * 0.3 * gear.outside, y + 0.1 * gear.outside)
        parts.append(Numbered(words, dot, True))
    corner = side.box[np.argmin(side.box @ np.array([away, 0.5]))]
    parts.append(Numbered("gearbox, rides on the axle", tuple(corner), True))
    return parts


def balloons(side: Side, parts, top):
    """A row over the body, a column beside the gears."""
    step = side.look.spread(27) * side.px
    row = [n for n, part in enumerate(parts) if not part.beside]
    column = [n for n, part in enumerate(parts) if part.beside]
    level = top + side.look.spread(30) * side.px
    for n, x in zip(row, apart([parts[n].dot[0] for n in row], step), strict=True):
        Balloon(side.axes, side.look, n + 1).set((x, level), parts[n].dot)
    edge = side.box[:, 0].min() if side.view.away > 0 else side.box[:, 0].max()
    x = edge - side.view.away * side.look.spread(28) * side.px
    for n, y in zip(column, apart([parts[n].dot[1] for n in column], step), strict=True):
        Balloon(side.axes, side.look, n + 1).set((x, max(y, step / 2)), parts[n].dot)


def apart(places, step):
    """Places moved as little as may be until they stand a step apart, in their order.

    >>> apart([0.0, 1.0, 10.0], 4.0)
    [-1.5, 2.5, 10.0]
    """
    order = sorted(range(len(places)), key=places.__getitem__)
    groups: list[tuple[float, int]] = []  # middle and count of places that touch
    for n in order:
        groups.append((places[n], 1))
        while len(groups) > 1:
            (first, many), (second, more) = groups[-2:]
            if second - first >= (many + more) / 2 * step - 1e-12:
                break
            groups[-2:] = [((first * many + second * more) / (many + more), many + more)]
    moved = [mid + (k - (count - 1) / 2) * step for mid, count in groups for k in range(count)]
    return [moved[order.index(n)] for n in range(len(places))]


def lengths(side: Side, top):
    """The length budget over the body, the axles under the rail."""
    view, px, number = side.view, side.px, side.view.number
    away, at, worm = view.away, view.layout.worm_at, view.state.worm
    marks = [(at, view.shaft), (at + away * worm.length.value / 2, view.shaft)]
    for item in view.layout.items:
        ends = (item.start, item.end) if away > 0 else (item.end, item.start)
        marks += [(x, view.shaft + item.diameter / 2) for x in ends]
    last = marks[-1][0]
    if abs(view.layout.end_room) > 1e-6:
        marks.append((last + away * view.layout.end_room, top))
    line = top + side.look.spread(66) * px
    marks.sort()
    texts = [number(two[0] - one[0]) for one, two in itertools.pairwise(marks)]
    free = Chain(side.axes, side.look).set(marks, line, texts)
    Dimension(side.axes, side.look).set(
        (at, line), (last, line), free + 4 * px, f"whole drive {number(abs(last - at))}"
    )
    for one, two in itertools.pairwise(view.axles):
        under = -RAIL * px
        Dimension(side.axes, side.look).set(
            (one, under), (two, under), -side.look.spread(36) * px, number(two - one)
        )


def heights(side: Side, left, right):
    """Sizes of driver and rooms on the left, heights over the rail on the right."""
    view, number, step = side.view, side.view.number, side.look.spread(24) * side.px

    def upright(low, high, at, text):
        Dimension(side.axes, side.look, upright=True, clear=True).set(low, high, at, text)

    first = view.axles[0]
    edge = first - view.tread / 2
    upright((edge, 0), (edge, view.tread), left - step, f"⌀ {number(view.tread)}")
    upright((right, 0), (right, view.shaft), right + step, f"shaft {number(view.shaft)}")
    front, rear = view.rooms[0], view.rooms[-1]
    shown = {reach(front): (front, front.start.value, left - 2 * step)}
    shown.setdefault(reach(rear), (rear, rear.end.value, right + 2 * step))
    for (low, high), (room, edge, at) in shown.items():
        mark = "⌀ " if room.shape == "round" else ""
        upright((edge, low), (edge, high), at, mark + number(high - low))


def gaps(side: Side):
    """The clearance over or under each part in line, whichever is less."""
    view = side.view
    for item in view.layout.items:
        low, high = reach(view.room_of(item))
        bottom, top = view.shaft - item.diameter / 2, view.shaft + item.diameter / 2
        x = item.start + 0.25 * (item.end - item.start)
        start, end = (bottom, low) if bottom - low <= high - top else (top, high)
        free = (start - end) * (1 if start == bottom else -1)
        gap = Gap(side.axes, side.look, meaning="danger" if free < view.gap else "ink")
        gap.set((x, max(start, end)), (x, min(start, end)), view.number(free), side=1)


def below(view: Scene):
    """Scale of the cross sections, and the height that they and the legend take [px]."""
    spread, rooms = view.look.spread, [view.room_of(item) for item in view.layout.items]
    tall = max(np.ptp(reach(room)) for room in rooms)
    wide = max(np.ptp(outline(room)[:, 0]) for room in rooms)
    across_room = share(view) - spread(60)
    scale = min(paper.scale_for(tall, spread(240)), paper.scale_for(wide, across_room))
    return scale, max(tall * scale / paper.PIXEL + spread(130), spread(290))


def share(view: Scene):
    """Width of one cross section on the sheet [px]; the legend takes a little more."""
    return (paper.WIDTH - 2 * EDGE) / (len(view.layout.items) + 1.15)


def cuts(figure, side: Side, box, scale):
    """Cross sections through the parts in line, and their cutting planes in the elevation."""
    view, look, wide = side.view, side.look, share(side.view)
    left, bottom, _, height = box
    pixel = paper.PIXEL / scale
    for k, (item, letter) in enumerate(zip(view.layout.items, LETTERS, strict=False)):
        low, high = reach(view.room_of(item))
        center = (0.0, (low + high) / 2 - look.spread(4) * pixel)
        place = (left + k * wide, bottom, wide, height - look.spread(50))
        across(drawing(figure, look, place, center=center, scale=pixel), view, item)
        middle, title = left + (k + 0.5) * wide, bottom + height - look.spread(16)
        note(figure, look, (middle, title), f"{letter}–{letter}", kind="label", strong=True,
             ha="center", va="top")  # fmt: skip
        words = f"{item.name} in the {view.room_of(item).name}, {paper.scale_words(scale)}"
        note(figure, look, (middle, title - look.spread(19)), words, ha="center", va="top")
        plane(side, item, letter)


def plane(side: Side, item, letter):
    """The cutting plane of a section: heavy ends with arrows along the view, and its letter."""
    view, px, look = side.view, side.px, side.look
    low, high = reach(view.room_of(item))
    x = item.start + 0.62 * (item.end - item.start)
    CenterLine(side.axes, look, zorder=5.5).set((x, low - 4 * px), (x, high + 4 * px))
    for y in (low - look.spread(15) * px, high + look.spread(15) * px):
        Outline(side.axes, look, [(x, y - 7 * px), (x, y + 7 * px)], zorder=6)
        Leader(side.axes, look, kind="label", zorder=6).set((x, y), (x + 16 * px, y), "")
        side.axes.text(x + 20 * px, y, letter, ha="left", va="center_baseline", zorder=6,
                       bbox={"boxstyle": "square,pad=0.05", "fc": look.color("sheet"), "ec": "none"},
                       **look.words("label", strong=True))  # fmt: skip


def legend_place(view: Scene, top):
    """Left, top and width of the legend [px]."""
    left = EDGE + len(view.layout.items) * share(view) + view.look.spread(12)
    return left, top - view.look.spread(16), paper.WIDTH - EDGE - left


def legend(figure, view: Scene, parts, place):
    """The numbered parts in words, and what the broken line means."""
    look = view.look
    x, y, width = place
    size, indent = look.type("note"), look.spread(24)
    for n, part in enumerate(parts, 1):
        note(
            figure,
            look,
            (x + indent - look.spread(8), y),
            str(n),
            strong=True,
            ha="right",
            va="top",
        )
        for line in paper.wrap(part.words, width - indent, size):
            note(figure, look, (x + indent, y), line, va="top")
            y -= size * 1.3
        y -= size * 0.45
    if view.gap:
        rule(figure, look, (x, y - size * 0.6), (x + indent - 4, y - size * 0.6), meaning="limit")
        words = f"free space wanted all round, {view.number(view.gap)}"
        note(figure, look, (x + indent, y), words, va="top", meaning="quiet")
