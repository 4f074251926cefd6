"""The side elevation on its axes: body, wheels and drive, cut on the center line."""

import itertools

import numpy as np
import scipy
from matplotlib.colors import to_rgba
from matplotlib.patches import PathPatch

from mechkit.drawings import gearing, shapes
from mechkit.drawings.layout import per_pixel
from mechkit.drawings.lettering import text_width
from mechkit.drawings.lining import section_lines
from mechkit.drawings.scene import Scene, reach
from mechkit.drawings.shop import CenterLine, Outline, Section
from mechkit.drawings.style import Lining
from mechkit.drive.model.layout import WALL, Item

#: Free space drawn around gears and worm for the gearbox's walls, for the eye only.
SKIN = 1.2e-3
RAIL = 5  # depth of the rail's head [px]
#: Lines both ways, closer than any material's, where two things want the same room.
CROSSED = (Lining(45, (5,), (None,)), Lining(-45, (5,), (None,)))
COLLISION = "collision"


class Side:
    """The thing itself, without dimensions; what it draws in front lies higher."""

    def __init__(self, axes, view: Scene):
        self.axes, self.view, self.look = axes, view, view.look
        self.px = per_pixel(axes)[0]

    def draw(self):
        """Everything, from behind to before."""
        self.body()
        self.rail()
        self.drivers()
        self.gearbox()
        self.worm()
        self.shaft()
        self.flywheel()
        self.motor()
        for item in self.view.layout.items:
            self.strike(item)

    def outline(self, points, **more):
        """A closed outline of plain points."""
        return Outline(self.axes, self.look, shapes.path(points), **more)

    def section(self, material, *outlines, zorder, weight="thin"):
        """A cut part of one or more pieces."""
        path = shapes.path(*outlines)
        return Section(self.axes, self.look, material, path, weight=weight, zorder=zorder)

    def body(self):
        """The rooms of the body as section outlines."""
        ground = to_rgba(self.look.color("ruling"), 0.4)
        for room in self.view.rooms:
            low, high = reach(room)
            bar = shapes.bar(room.start.value, low, room.end.value, high)
            self.outline(bar, fill=ground, zorder=1)
            self.name(room)
            if room.height:
                CenterLine(self.axes, self.look, meaning="quiet", zorder=1.5).set(
                    (room.start.value, room.height.value), (room.end.value, room.height.value)
                )

    def name(self, room):
        """The room's name in the upper corner that leaders and extension lines leave free."""
        left, right = room.start.value + 8 * self.px, room.end.value - 8 * self.px
        wide = text_width(room.name, self.look.type("note")) * self.px
        busy = [x for i in self.view.layout.items for x in (i.start, i.end, (i.start + i.end) / 2)]
        ha = "right" if any(left <= x <= left + wide for x in busy) else "left"
        at = left if ha == "left" else right
        self.axes.text(at, reach(room)[1] - 7 * self.px, room.name, ha=ha, va="top", zorder=2,
                       **self.look.words("note", "quiet"))  # fmt: skip

    def rail(self):
        """The rail's head from the side, as far as the sheet is drawn."""
        left, right = self.axes.get_xlim()
        edge = 70 * self.px
        self.outline(shapes.bar(left + edge, -RAIL * self.px, right - edge, 0),
                     fill=self.look.tint("steel"), weight="thin", zorder=2)  # fmt: skip

    def drivers(self):
        """Spoked drivers on the rail; the driven one as a phantom, so that its gears are seen."""
        steel, axle_size = self.look.tint("steel"), self.view.sheet.locomotive.axle_diameter.value
        for axle in self.view.axles:
            center = (axle, self.view.tread / 2)
            if axle == self.view.layout.at:
                self.outline(shapes.circle(center, self.view.tread), weight="center", zorder=4.5)
                continue
            outer, holes = shapes.wheel(center, self.view.tread)
            Outline(self.axes, self.look, shapes.path(*outer, holes=holes), weight="thin",
                    fill=self.look.color("ruling"), zorder=2.2)  # fmt: skip
            self.outline(shapes.circle(center, axle_size), weight="thin", fill=steel, zorder=2.3)

    @property
    def box(self):
        """The gearbox around worm and gears, as an outline."""
        view, worm = self.view, self.view.state.worm
        half, high = worm.length.value / 2 + WALL, worm.outside_diameter.value / 2 + SKIN
        at, shaft = view.layout.worm_at, view.shaft
        around = [shapes.bar(at - half, shaft - high, at + half, shaft + high)]
        around += [shapes.circle(gear.center, gear.outside + 2 * SKIN) for gear in view.stack.gears]
        points = np.maximum(np.concatenate(around), (-np.inf, 2 * self.px))  # clear of the rail
        return points[scipy.spatial.ConvexHull(points).vertices]

    def gearbox(self):
        """The gearbox, the gears in it and the driven axle."""
        view, steel = self.view, self.look.tint("steel")
        self.outline(self.box, weight="thin", fill=self.look.color("sheet"), zorder=2.5)
        for gear in view.stack.gears:
            self.section(gear.material, gear.outline, zorder=3)
            CenterLine(self.axes, self.look, zorder=5).cross(gear.center, gear.outside)
            last = gear is view.stack.gears[-1]
            size = view.sheet.locomotive.axle_diameter.value if last else gear.pitch / 4
            self.outline(shapes.circle(gear.center, size), weight="thin", fill=steel, zorder=3.5)

    def worm(self):
        """The worm in axial section, and the sleeve in its bore."""
        state, at, height = self.view.state, self.view.layout.worm_at, self.view.shaft
        halves = gearing.worm_halves(state, (at, height), self.view.stack.gears[0].center[0])
        self.section(state.worm.material, *halves, zorder=3.2)
        if state.adapter:
            half = state.adapter.length.value / 2
            self.ring(state.adapter.material, at - half, at + half, state.worm.bore.value, 3.3)

    def ring(self, material, start, end, outer, zorder, weight="thin"):
        """A turned ring on the shaft, cut."""
        height, radius = self.view.shaft, self.view.state.motor.shaft_diameter.value / 2
        bars = [
            shapes.bar(start, height + sign * radius, end, height + sign * outer / 2)
            for sign in (-1, 1)
        ]
        self.section(material, *bars, zorder=zorder, weight=weight)

    @property
    def ends(self):
        """Both ends of the drive's line: beyond the gearbox, and at the motor's far end."""
        away = self.view.away
        free = self.view.layout.worm_at - away * (self.view.state.worm.length.value / 2 + WALL)
        last = self.view.layout.items[-1]
        return free, (last.end if away > 0 else last.start)

    def shaft(self):
        """The shaft from the gearbox's far wall to the motor, uncut, with its center line."""
        height, radius = self.view.shaft, self.view.state.motor.shaft_diameter.value / 2
        free, far = self.ends
        left, right = min(free, far), max(free, far)
        self.outline(shapes.bar(left, height - radius, right, height + radius),
                     weight="thin", fill=self.look.tint("steel"), zorder=3.6)  # fmt: skip
        CenterLine(self.axes, self.look, zorder=5).set((left, height), (right, height))

    def flywheel(self):
        """The flywheel, cut."""
        wheel, table = self.view.item("flywheel"), self.view.state.flywheel
        if wheel and table:
            self.ring(table.material, wheel.start, wheel.end, wheel.diameter, 3.2, "visible")

    def motor(self):
        """The motor from outside, its rotor in hidden lines where the sheet gives it."""
        motor, table, height = self.view.motor, self.view.state.motor, self.view.shaft
        half = motor.diameter / 2
        self.outline(shapes.bar(motor.start, height - half, motor.end, height + half),
                     fill=self.look.color("sheet"), zorder=3.8)  # fmt: skip
        if table.rotor_diameter and table.rotor_length:
            middle = (motor.start + motor.end) / 2
            long, tall = table.rotor_length.value / 2, table.rotor_diameter.value / 2
            self.outline(shapes.bar(middle - long, height - tall, middle + long, height + tall),
                         weight="hidden", zorder=3.9)  # fmt: skip

    def strike(self, item: Item):
        """What of a part lies outside the rooms, in the color of danger."""
        inside = [(r.start.value, r.end.value, *reach(r)) for r in self.view.rooms]
        low, high = self.view.shaft - item.diameter / 2, self.view.shaft + item.diameter / 2
        cuts = {item.start, item.end}
        cuts |= {x for room in inside for x in room[:2] if item.start < x < item.end}
        edges = sorted(cuts)
        for start, end in itertools.pairwise(edges):
            free = [(b, t) for a, e, b, t in inside if a <= start and end <= e]
            floor = max(min((b for b, _ in free), default=high), low)
            ceiling = max(min(max((t for _, t in free), default=high), high), floor)
            for bottom, top in ((low, floor), (ceiling, high)):
                if top > bottom + 1e-9:
                    danger(self.axes, self.look, shapes.path(shapes.bar(start, bottom, end, top)))
        if struck := self.view.struck(item):
            part = shapes.path(shapes.bar(item.start, low, item.end, high))
            danger(self.axes, self.look, shapes.path(shapes.circle(*struck)), around=part)


def danger(axes, look, path, around=None):
    """A place where two things want the same room; ``around`` limits it to a path."""
    color, pixel = look.color("danger"), per_pixel(axes)
    lines = section_lines(path, CROSSED, pixel, look.spread(1))
    for part, more in (
        (path, {"fc": to_rgba(color, 0.3), "lw": look.line("visible"), "label": COLLISION}),
        (lines, {"fc": "none", "lw": look.line("hidden")}),
    ):
        patch = PathPatch(part, ec=color, zorder=6, **more)
        axes.add_patch(patch)
        if around is not None:
            patch.set_clip_path(around, axes.transData)
