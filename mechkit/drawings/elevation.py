"""The drive in its envelope: side elevation on the center line, and cross sections of the rooms."""

from dataclasses import dataclass

import numpy as np
from scipy.spatial import ConvexHull

from mechkit.drawings import gearing, paper, shapes
from mechkit.drawings.chain import Chain, Gap
from mechkit.drawings.layout import drawing, note, scale_bar, title_block
from mechkit.drawings.shop import Balloon, CenterLine, Dimension, Outline, Section
from mechkit.drawings.style import MATERIALS, Look
from mechkit.drive import layout as placing
from mechkit.drive.layout import WALL, Item, Layout
from mechkit.drive.schema import BenchSheet, State

#: Free space drawn around gears and worm for the gearbox's walls, for the eye only.
SKIN = 1.2e-3
#: Words of the two states, and the meaning of their color.
STATES = {"as_is": ("as it is", "before"), "planned": ("as planned", "after")}
EDGE = 16  # margin of the sheet [px]


@dataclass(frozen=True)
class Scene:
    """What is drawn: one state of one sheet, laid out from one axle."""

    sheet: BenchSheet
    look: Look
    name: str
    state: State
    layout: Layout

    @property
    def rooms(self):
        """The stretches of the body."""
        return self.sheet.envelope.rooms

    @property
    def shaft(self):
        """Height of the drive shaft over the rail [m]."""
        return self.sheet.envelope.shaft_height.value

    @property
    def axles(self):
        """Places of the driven axles [m]."""
        return [at.value for at in self.sheet.locomotive.driver_axles]

    @property
    def tread(self):
        """Driver diameter [m]."""
        return self.sheet.locomotive.driver_diameter.value

    @property
    def away(self):
        """1 where the motor lies behind the driven axle, -1 ahead of it."""
        return -1 if self.layout.forward else 1

    @property
    def stack(self):
        """The gears in mesh."""
        axle = (self.layout.worm_at, self.tread / 2)
        return gearing.stack(self.state, axle, self.shaft, -self.away)

    def item(self, name):
        """A part in line by its name, or None."""
        return next((item for item in self.layout.items if item.name == name), None)


def scene(sheet: BenchSheet, look: Look, state="planned", layout: Layout | None = None) -> Scene:
    """Take one state of the sheet, on the roomiest axle unless a layout is given."""
    drive: State = getattr(sheet, state)
    room = sheet.envelope
    axles = [at.value for at in sheet.locomotive.driver_axles]
    height = room.shaft_height.value
    layout = layout or placing.candidates(drive, room.rooms, height, axles)[0]
    return Scene(sheet, look, state, drive, layout)


def reach(room):
    """Lowest and highest point of a room over the rail [m]."""
    if room.shape == "round":
        return (
            room.height.value - room.diameter.value / 2,
            room.height.value + room.diameter.value / 2,
        )
    return room.bottom.value, room.top.value


def elevation(
    sheet: BenchSheet, look: Look | None = None, state="planned", layout: Layout | None = None
):
    """The whole drawing: side elevation above, cross sections and legend below.

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
    ends = [room.start.value for room in view.rooms] + [room.end.value for room in view.rooms]
    for item in view.layout.items:
        ends += [item.start, item.end]
    ends += [view.axles[0] - view.tread / 2, view.axles[-1] + view.tread / 2]
    left, right = min(ends), max(ends)
    top = max(reach(room)[1] for room in view.rooms)
    scale = paper.scale_for(right - left, paper.WIDTH - 2 * EDGE - spread(150))
    meters = paper.PIXEL / scale  # of the locomotive in a pixel of the sheet
    above, under, foot, below = spread(196), spread(70), spread(310), spread(36)
    high = round(above + (top / meters) + under)
    figure = paper.fresh(view.look, round(high + foot + below))
    box = (0, foot + below, paper.WIDTH, high)
    center = ((left + right) / 2, (high / 2 - under) * meters)
    axes = drawing(figure, view.look, box, center=center, scale=meters)
    Side(axes, view, (left, right, top)).draw()
    sections(figure, view, (EDGE, below, paper.WIDTH - 2 * EDGE, foot - spread(20)))
    words, meaning = STATES[state]
    level = figure.get_size_inches()[1] * 72 - EDGE
    note(figure, view.look, (EDGE, level), "Side elevation", kind="title", strong=True, va="top")
    offset = paper.text_width("Side elevation", view.look.type("title")) + spread(20)
    note(figure, view.look, (EDGE + offset, level), f"{words}, cut on the center line", kind="title",
         meaning=meaning, va="top")  # fmt: skip
    cells = [
        view.layout.words[0].upper() + view.layout.words[1:],
        f"{paper.scale_words(scale)} on paper",
        paper.unit_words(view.look),
        "not to be scaled from a screen",
    ]
    room = (
        paper.WIDTH
        - 2 * EDGE
        - sum(paper.text_width(cell, view.look.type("note")) + spread(20) for cell in cells)
    )
    size = view.look.type("note") * 1.06  # the strong first cell runs a little wider
    title_block(figure, view.look, [paper.shorten(sheet.title, room - spread(10), size), *cells])
    return figure


class Side:
    """The side elevation on its axes: body, wheels, gears, drive, dimensions, balloons."""

    def __init__(self, axes, view: Scene, extent):
        self.axes, self.view, self.look = axes, view, view.look
        self.left, self.right, self.top = extent
        self.px = paper.PIXEL * np.ptp(axes.get_xlim()) / paper.WIDTH / paper.PIXEL
        self.balloons: list[tuple[str, tuple[float, float]]] = []

    def outline(self, points, **more):
        """A closed outline of plain points, or a ready path."""
        return Outline(
            self.axes, self.look, points if hasattr(points, "vertices") else shapes.path(points),
            **more,
        )  # fmt: skip

    def draw(self):
        """Everything, from behind to before."""
        self.body()
        self.rail()
        self.drivers()
        self.gearbox()
        self.drive()
        self.lengths()
        self.heights()
        self.clearances()
        self.number()

    def body(self):
        """The rooms of the body as section outlines, each with its name and size."""
        for room in self.view.rooms:
            low, high = reach(room)
            self.outline(
                shapes.bar(room.start.value, low, room.end.value, high),
                fill=self.look.color("glass"), zorder=1,
            )  # fmt: skip
            if room.shape == "round":
                CenterLine(self.axes, self.look, meaning="quiet", zorder=1.5).set(
                    (room.start.value, room.height.value), (room.end.value, room.height.value)
                )

    def rail(self):
        """The rail from the side."""
        ends = self.left - 40 * self.px, self.right + 40 * self.px
        self.outline([(ends[0], 0), (ends[1], 0)] if False else shapes.bar(ends[0], -4 * self.px, ends[1], 0),
                     fill=self.look.tint("steel"), weight="thin", zorder=2)  # fmt: skip

    def drivers(self):
        """Spoked drivers on the rail; the driven one as a phantom, so that its gears are seen."""
        for axle in self.view.axles:
            center = (axle, self.view.tread / 2)
            if axle == self.view.layout.worm_at:
                self.outline(shapes.circle(center, self.view.tread), weight="center", zorder=4.5)
                continue
            outer, holes = shapes.wheel(center, self.view.tread)
            self.outline(shapes.path(*outer, holes=holes), weight="thin",
                         fill=self.look.color("ruling"), zorder=2.2)  # fmt: skip
            axle_size = self.view.sheet.locomotive.axle_diameter.value
            self.outline(shapes.circle(center, axle_size), weight="thin",
                         fill=self.look.tint("steel"), zorder=2.3)  # fmt: skip

    def gearbox(self):
        """The gearbox around worm and gears, and the gears themselves."""
        state, at, stack = self.view.state, self.view.layout.worm_at, self.view.stack
        half = state.worm.length.value / 2 + WALL
        high = state.worm.outside_diameter.value / 2 + SKIN
        around = [shapes.bar(at - half, self.view.shaft - high, at + half, self.view.shaft + high)]
        around += [shapes.circle(gear.center, gear.outside + 2 * SKIN) for gear in stack.gears]
        points = np.maximum(np.concatenate(around), (-np.inf, 2 * self.px))
        hull = points[ConvexHull(points).vertices]
        self.outline(hull, weight="thin", fill=self.look.color("sheet"), zorder=2.5)
        corner = hull[np.argmin(hull @ np.array([self.view.away, 0.35]))]
        self.box_at = tuple(corner + np.array([self.view.away * 4, 0]) * self.px)
        for gear in stack.gears:
            Section(self.axes, self.look, shaped(gear.material), shapes.path(gear.outline),
                    weight="thin", zorder=3)  # fmt: skip
            CenterLine(self.axes, self.look, zorder=5).cross(gear.center, gear.outside)
        axle = stack.gears[-1].center
        self.outline(
            shapes.circle(axle, self.view.sheet.locomotive.axle_diameter.value),
            fill=self.look.tint("steel"), zorder=3.5,
        )  # fmt: skip
        for gear in stack.gears[:-1]:
            self.outline(shapes.circle(gear.center, 0.22 * gear.module * gear.teeth),
                         fill=self.look.tint("steel"), weight="thin", zorder=3.5)  # fmt: skip

    def drive(self):
        """Worm, sleeve, shaft, flywheel and motor."""
        state, at, height = self.view.state, self.view.layout.worm_at, self.view.shaft
        halves = gearing.worm_halves(state, (at, height), self.view.stack.gears[0].center[0])
        Section(self.axes, self.look, shaped(state.worm.material), shapes.path(*halves),
                weight="thin", zorder=3.2)  # fmt: skip
        radius = state.motor.shaft_diameter.value / 2
        if state.adapter:
            half = state.adapter.length.value / 2
            bars = [
                shapes.bar(at - half, sign * radius + height, at + half,
                           sign * state.worm.bore.value / 2 + height)
                for sign in (-1, 1)
            ]  # fmt: skip
            Section(self.axes, self.look, shaped(state.adapter.material), shapes.path(*bars),
                    weight="thin", zorder=3.3)  # fmt: skip
        motor, wheel = self.view.item("motor"), self.view.item("flywheel")
        near = motor.start if self.view.away > 0 else motor.end
        outer = at - self.view.away * (state.worm.length.value / 2 + WALL)
        self.outline(
            shapes.bar(*sorted((outer, near))[:1], height - radius, max(outer, near), height + radius),
            weight="thin", fill=self.look.tint("steel"), zorder=3.6,
        )  # fmt: skip
        if wheel:
            bars = [
                shapes.bar(wheel.start, height + sign * radius, wheel.end,
                           height + sign * wheel.diameter / 2)
                for sign in (-1, 1)
            ]  # fmt: skip
            Section(
                self.axes,
                self.look,
                shaped(state.flywheel.material),
                shapes.path(*bars),
                zorder=3.2,
            )
        self.motor(motor)
        far = motor.end if self.view.away > 0 else motor.start
        CenterLine(self.axes, self.look, zorder=5).set((outer, height), (far, height))
        for item in (motor, wheel):
            if item:
                self.strike(item)

    def motor(self, motor):
        """The motor from outside, its rotor as hidden lines where the sheet gives it."""
        table, height = self.view.state.motor, self.view.shaft
        half = motor.diameter / 2
        self.outline(
            shapes.bar(motor.start, height - half, motor.end, height + half),
            fill=self.look.color("sheet"), zorder=3.1,
        )  # fmt: skip
        if table.rotor_diameter and table.rotor_length:
            middle, reach_ = (motor.start + motor.end) / 2, table.rotor_length.value / 2
            tall = table.rotor_diameter.value / 2
            self.outline(
                shapes.bar(middle - reach_, height - tall, middle + reach_, height + tall),
                weight="hidden", zorder=3.15,
            )  # fmt: skip

    def strike(self, item: Item):
        """What lies outside the rooms, in the color of danger."""
        inside = [
            (max(room.start.value, item.start), min(room.end.value, item.end), *reach(room))
            for room in self.view.rooms
        ]
        height = self.view.shaft
        low, high = height - item.diameter / 2, height + item.diameter / 2
        edges = sorted({item.start, item.end, *(x for a, b, *_ in inside if a < b for x in (a, b))})
        for start, end in zip(edges, edges[1:], strict=False):
            here = [(b, t) for a, e, b, t in inside if a <= start and end <= e]
            free = (min(b for b, _ in here), max(t for _, t in here)) if here else (high, high)
            for bottom, top in ((low, min(free[0], high)), (max(free[1], low), high)):
                if top > bottom + 1e-9:
                    danger(self.axes, self.look, shapes.path(shapes.bar(start, bottom, end, top)))

    def lengths(self):
        """The length budget over the body, the axles under the rail."""
        view, px = self.view, self.px
        away, at = view.away, view.layout.worm_at
        half = view.state.worm.length.value / 2
        marks = [
            (at, view.shaft),
            (at + away * half, view.shaft + view.state.worm.outside_diameter.value / 2),
        ]
        for item in view.layout.items:
            ends = (item.start, item.end) if away > 0 else (item.end, item.start)
            marks += [(x, view.shaft + item.diameter / 2) for x in ends]
        last = marks[-1][0]
        edge = last + away * view.layout.end_room
        line = self.top + self.look.spread(74) * px
        stations = [*marks, (edge, self.top)] if view.layout.end_room > 1e-6 else marks
        stations = sorted(stations)
        texts = [
            paper.number(two[0] - one[0], self.look)
            for one, two in zip(stations, stations[1:], strict=False)
        ]
        chain = Chain(self.axes, self.look)
        free = chain.set([x for x, _ in stations], [y for _, y in stations], line, texts)
        total = Dimension(self.axes, self.look)
        total.set((at, line), (last, line), free + 6 * px,
                  f"drive {paper.number(abs(last - at), self.look)}")  # fmt: skip
        under = -self.look.spread(40) * px
        for one, two in zip(view.axles, view.axles[1:], strict=False):
            Dimension(self.axes, self.look).set(
                (one, -4 * px), (two, -4 * px), under, paper.number(two - one, self.look)
            )

    def heights(self):
        """Driver and room sizes on the left, heights over the rail on the right."""
        view, px, step = self.view, self.px, self.look.spread(26) * self.px
        first = view.axles[0]
        upright = lambda: Dimension(self.axes, self.look, upright=True)  # noqa: E731
        low = min(view.axles[0] - view.tread / 2, self.left)
        upright().set((first, 0), (first, view.tread), low - step,
                      f"⌀ {paper.number(view.tread, self.look)}")  # fmt: skip
        for room, x, sign in ((view.rooms[0], self.left, -1),):
            bottom, top = reach(room)
            mark = "⌀ " if room.shape == "round" else ""
            upright().set((x, bottom), (x, top), x + sign * 2 * step,
                          mark + paper.number(top - bottom, self.look))  # fmt: skip
        upright().set((self.right, 0), (self.right, view.shaft), self.right + step,
                      f"shaft {paper.number(view.shaft, self.look)}")  # fmt: skip
        del px

    def clearances(self):
        """The gap over or under each part in line."""

    def number(self):
        """Balloons."""


def shaped(material):
    """The material that the house style knows how to line."""
    return material if material in MATERIALS else material.split()[-1]


def danger(axes, look, path):
    """A place where two things want the same room."""
    color = look.color("danger")
    patch = Outline(axes, look, path, meaning="danger", zorder=6)
    patch.patch.set(facecolor=color, alpha=0.55, hatch="xx")


def sections(figure, view: Scene, box):
    """Cross sections through the parts in line, and the legend."""
