"""Drives from stock: those that nothing else beats as points, and the picked one to scale."""

from collections.abc import Sequence

import numpy as np

from mechkit import units
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.picture import Picture
from mechkit.drawings.scene import Scene, reach, scene
from mechkit.drawings.side import Side
from mechkit.drive.choice.aims import AIMS
from mechkit.drive.choice.chosen import parts_of, wheel_of
from mechkit.drive.questions.reach import round_up

#: Pixels of the square that stands for all drives at one place of the field.
GRAIN = 3.0
KEPT = 60  # parts whose marks are kept, so that going back costs nothing


class Body(Side):
    """The body and the rail; the rooms are named under it, where no part of a drive can lie."""

    def name(self, room):
        """The room's name at the desk: the first under its front end, the others under their rear."""
        if self.look.size == "hall":
            return
        first = room is self.view.rooms[0]
        x = room.start.value + 2 * self.px if first else room.end.value - 2 * self.px
        self.axes.text(x, reach(room)[0] - 3 * self.px, room.name, ha="left" if first else "right",
                       va="top", zorder=2, **self.look.words("note", "quiet"))  # fmt: skip


class PlannedPicture(Picture):
    """The planned drive in its body, where no other can be chosen; its setting is the sheet."""

    hall_height = 330

    def build(self):
        """Body, wheels and drive, cut on the center line."""
        look, sheet = self.look, self.setting
        foot = 8 if look.size == "hall" else 40
        box = (20, foot, 1000, self.height - foot - 8)
        axes, *_ = _body_axes(self.figure, look, sheet, box, over=0)
        Side(axes, scene(sheet, look)).draw()
        if look.size != "hall":
            layout.title_block(self.figure, look, ["The drive as planned, in its body", "to scale"])

    def move(self, state):
        """Nothing moves."""


class ChoosePicture(Picture):
    """Left the drive in its body, cut on the center line; right the front over two aims."""

    hall_height = 330

    def build(self):
        """Body and rail, the field, and the marks that move."""
        look, hall = self.look, self.look.size == "hall"
        self.hall = hall
        self.foot = 8 if hall else 40
        self._drawn: dict[tuple, list] = {}
        self._elevation()
        self._field()
        self._steady = list(self._moving)
        if not hall:
            words = ["Drives from stock that nothing else beats",
                     "dots: all that fit and do what is asked", "ring, cross: the one drawn, its band",
                     "hollow: not to be told from it"]  # fmt: skip
            layout.title_block(self.figure, look, words)

    # -- the drive ----------------------------------------------------------------------

    def _elevation(self):
        """The body to scale, and three lines that name the parts."""
        look, sheet = self.look, self.setting.sheet
        names = 2 * look.spread(21)
        box = (10, self.foot + names, 650, self.height - self.foot - names - 4)
        rows = look.spread(30 if self.hall else 58)  # over the body, for dimensions
        self.axes, top, scale = _body_axes(self.figure, look, sheet, box, over=rows)
        self.over = top + look.spread(10 if self.hall else 14) * scale
        self.row = look.spread(26) * scale
        back = Body(self.axes, scene(sheet, look))
        back.body()
        back.rail()
        self.width_size = self.moves(shop.Dimension(self.axes, look))
        self.left_size = self.moves(shop.Dimension(self.axes, look))
        self.balloons = [self.moves(shop.Balloon(self.axes, look, n)) for n in (1, 2, 3)]
        strip = layout.drawing(
            self.figure, look, (24, self.foot, 640, names), center=(320, names / 2), scale=1.0
        )
        pitch = look.spread(21)
        self.count = self.moves(
            shop.Words(strip, look, "note" if self.hall else "value", "after", ha="right")
        )
        self.count_at = (626, 0.5 * pitch)
        self.names = [
            (self.moves(shop.Words(strip, look, "note" if self.hall else "value")), at)
            for at in ((0, 1.5 * pitch), (300, 1.5 * pitch), (0, 0.5 * pitch))
        ]

    def _marks(self, state):
        """The marks of one drive; what it shares with others is not drawn again."""
        place, lies = tuple(int(part) for part in state.place), state.layout
        at = (lies.axle, lies.forward)
        view = Scene(self.setting.sheet, self.look, "planned", state.state, lies)
        side = Side(self.axes, view)
        return [
            *self._kept(("drivers", lies.axle), side.drivers),
            *self._kept(("gearbox", place[1], *at), side.gearbox),
            *self._kept(("worm", *place[:2], *at), side.worm),
            *self._kept(("line", *place, *at), side.shaft, side.flywheel, side.motor),
        ]

    def _kept(self, key, *draw):
        """Artists drawn once and kept for a while."""
        if key not in self._drawn:
            if len(self._drawn) >= KEPT:
                for artist in self._drawn.pop(next(iter(self._drawn))):
                    artist.remove()
            before = set(self.axes.get_children())
            for part in draw:
                part()
            made = [artist for artist in self.axes.get_children() if artist not in before]
            for artist in made:
                artist.set_animated(True)
            self._drawn[key] = made
        else:
            self._drawn[key] = self._drawn.pop(key)  # the one used last is thrown away last
        return self._drawn[key]

    def _move_drive(self, state):
        """The picked drive, its sizes and the names of its parts."""
        shown = state.row is not None
        for mark in (self.width_size, self.left_size, *self.balloons):
            mark.show(shown)
        for words, _ in self.names:
            words.show(shown)
        if not shown:
            self.count.set(self.count_at, "nothing does all that is asked")
            self._moving = self._steady
            return
        self._moving = [*self._steady, *self._marks(state)]
        look, lies = self.look, state.layout
        view = Scene(self.setting.sheet, look, "planned", state.state, lies)
        wheel, motor, shaft = view.item("flywheel"), view.motor, view.shaft
        system = look.system
        self.width_size.show(wheel is not None)
        self.balloons[2].show(wheel is not None)
        if wheel:
            half = wheel.diameter / 2
            self.width_size.set(
                (wheel.start, shaft + half), (wheel.end, shaft + half), self.over,
                units.show(wheel.end - wheel.start, "length", system),
            )  # fmt: skip
            self._balloon(self.balloons[2], wheel, shaft)
        edges = [room.start.value for room in view.rooms], [room.end.value for room in view.rooms]
        end = min(edges[0]) if lies.forward else max(edges[1])
        near = motor.start if lies.forward else motor.end
        self.left_size.show(not self.hall)
        self.left_size.set(
            (near, shaft + motor.diameter / 2), (end, shaft + motor.diameter / 2),
            self.over + self.row, units.show(abs(end - near), "length", system),
        )  # fmt: skip
        middle = ((motor.start + motor.end) / 2, shaft)
        self.balloons[0].set(middle, middle)
        gear = view.stack.gears[-1]
        self.balloons[1].set(gear.center, gear.center)
        found = self.setting.found
        names = parts_of(found, state.place)
        last = f"3  flywheel {wheel_of(found, int(state.place.cut), system)}"
        if wheel:
            last += f", {units.show(state.mass, 'mass', system)}"
        else:
            last = "no flywheel"
        lines = (f"1  {names[0]}", f"2  gears {names[1]}", last)
        self.count.set(self.count_at, f"{state.row + 1} of {len(state.front)} on the front")
        for (words, at), line in zip(self.names, lines, strict=True):
            words.set(at, line)

    def _balloon(self, balloon, item, shaft):
        """In the upper half of a part, or beneath a part that is too small for it."""
        x, half = (item.start + item.end) / 2, item.diameter / 2
        radius = balloon.radius * shop.per_pixel(self.axes)[1]
        part = (x, shaft + 0.58 * half)
        small = half < 2.2 * radius
        balloon.set((x, shaft - half - 1.3 * radius) if small else part, part)

    # -- the front ----------------------------------------------------------------------

    def _field(self):
        """The field, and what moves on it."""
        look, hall = self.look, self.hall
        left, wide = (744, 276) if hall else (734, 284)
        bottom = self.foot + look.spread(42)
        high = self.height - bottom - look.spread(34)
        self.field = layout.field(
            self.figure, look, (left, bottom, wide, high), x=(0, 1), y=(0, 1), across="", up=""
        )
        if hall:  # both noughts stand in one corner
            self.field.tick_params(axis="x", pad=11)
        top = (left - look.spread(30), self.height - look.spread(16))
        strip = layout.drawing(self.figure, look, (top[0], top[1] - 12, 330, 24), scale=1.0)
        self.up = self.moves(shop.Words(strip, look, "note", "quiet"))
        low = (left + wide, self.foot + look.spread(8))
        self.across = layout.note(
            self.figure, look, low, "", meaning="quiet", va="center", ha="right"
        )
        mark = {"axes": self.field, "look": look}
        self.dots = self.moves(
            shop.Outline(**mark, weight="thin", meaning="quiet", fill=look.color("quiet"), zorder=2)
        )
        self.limit = self.moves(shop.Outline(**mark, weight="light", meaning="limit", zorder=3))
        self.line = self.moves(shop.Outline(**mark, weight="light", meaning="after", zorder=4))
        self.points = self.moves(
            shop.Outline(
                **mark, weight="visible", meaning="after", fill=look.color("after"), zorder=5
            )
        )
        self.like = self.moves(
            shop.Outline(
                **mark, weight="visible", meaning="after", fill=look.color("sheet"), zorder=5.2
            )
        )
        self.band = self.moves(shop.Outline(**mark, weight="visible", meaning="after", zorder=5.5))
        self.hand = self.moves(
            shop.Outline(**mark, weight="light", fill=look.color("ink"), zorder=5.8)
        )
        self.ring = self.moves(shop.Outline(**mark, weight="curve", meaning="after", zorder=6))

    def stand(self, state):
        """Both aims, and the ends of the field in steps."""
        ends = [
            _end(units.shown(end, AIMS[aim].kind, self.look.system))
            for aim, end in zip((state.across, state.up), state.ends, strict=True)
        ]
        return state.across, *ends

    def set_limits(self, stands):
        """Let the field reach that far, and say what lies along it."""
        across, right, top = stands
        self.field.set(xlim=(0, right), ylim=(0, top))
        self.across.set_text(self._words(across, "→" if AIMS[across].more else "←"))

    def _words(self, aim, arrow, start=0.0):
        """What lies along an axis, and which way is better."""
        system, one = self.look.system, AIMS[aim]
        unit = units.label(one.kind, system)
        words = {
            "creep": f"creeps at, scale {unit}",
            "start": f"starts at, {unit}",
            "top": f"full throttle off the wanted speed, {unit}",
            "room": f"length left beyond the gap, {unit}",
            "coast": f"coasts from {units.show(start, 'speed', system)}, {unit}",
            "coast_on": f"coasts from {units.show(start, 'voltage', system, 1)}, {unit}",
            "life": "lasts so many times as long as the old",
            "cool": "current for ever over current at slip",
        }[aim]
        if self.hall:
            words = words.replace("full throttle off the wanted speed", "off top speed")
            words = words.replace("lasts so many times as long as the old", "lasts, the old = 1")
            words = words.replace("current for ever over current at slip", "heat margin")
        return f"{words}  {arrow} better"

    def _shown(self, values: Sequence, state):
        """Numbers of both aims as they stand on the axes."""
        columns = [
            units.shown(np.asarray(column), AIMS[aim].kind, self.look.system)
            for aim, column in zip((state.across, state.up), values, strict=True)
        ]
        return np.column_stack(columns)

    def _move_field(self, state):
        up, start = AIMS[state.up], state.speed if state.from_speed else state.voltage
        self.up.set((-165, 0), self._words(state.up, "↑" if up.more else "↓", start))
        pixel = layout.per_pixel(self.field)
        cloud = self._shown(state.points.T, state)
        places = np.unique((cloud / pixel / GRAIN).astype(np.int32).view(np.int64))
        corners = places.view(np.int32).reshape(-1, 2) * GRAIN
        self.dots.set(_many(corners, shapes.bar(0.4, 0.4, GRAIN - 0.4, GRAIN - 0.4), pixel))
        aims = state.front.aims
        points = self._shown([state.front.values[aim] for aim in aims], state)
        self.line.set(points if len(points) else [(np.nan, np.nan)])
        round_ = shapes.circle((0, 0), 8 * (1.3 if self.hall else 1.0), 16)
        like = state.alike()
        other = np.setdiff1d(np.arange(len(points)), like)
        self.points.set(_many(points[other] / pixel, round_, pixel))
        self.like.set(_many(points[like] / pixel, round_, pixel))
        (_, right), (_, top) = self.field.get_xlim(), self.field.get_ylim()
        asked = state.up == state.coast and state.least_coast > 0
        self.limit.show(asked)
        level = units.shown(state.least_coast, "length", self.look.system)
        self.limit.set([(0, level), (right, level)])
        for mark in (self.band, self.ring, self.hand):
            mark.show(state.row is not None)
        if state.row is None:
            return
        low, ends = (
            self._shown([end[aim][[state.row]] for aim in aims], state)[0]
            for end in (state.front.low, state.front.high)
        )
        low, high = (np.minimum(end, (right, top)) for end in (low, ends))
        here = points[state.row]
        gap = (np.nan, np.nan)
        cross = [(low[0], here[1]), (high[0], here[1]), gap, (here[0], low[1]), (here[0], high[1])]
        tip = 8 * pixel
        if ends[0] > right:  # the band goes on beyond the field
            cross += [gap, *((right - tip[0], here[1] + k * tip[1] / 2) for k in (-1, 1))]
            cross[-1:] = [(right, here[1]), cross[-1]]
        if ends[1] > top:
            cross += [gap, *((here[0] + k * tip[0] / 2, top - tip[1]) for k in (-1, 1))]
            cross[-1:] = [(here[0], top), cross[-1]]
        self.band.set(cross)
        self.ring.set(shapes.path(2.0 * round_ * pixel + here))
        far = state.along * (len(points) - 1)  # the hand on the line, the nearest drive in the ring
        at = [np.interp(far, range(len(points)), column) for column in points.T]
        self.hand.set(shapes.path(0.4 * round_ * pixel + at))

    def move(self, state):
        """Everything that follows the controls."""
        self._move_drive(state)
        self._move_field(state)


def _body_axes(figure, look, sheet, box, over):
    """Axes for body and drivers to scale, with free pixels over them; their top, and the scale."""
    rooms, tread = sheet.envelope.rooms, sheet.locomotive.driver_diameter.value
    axles = [at.value for at in sheet.locomotive.driver_axles]
    left = min([room.start.value for room in rooms] + [axles[0] - tread / 2])
    right = max([room.end.value for room in rooms] + [axles[-1] + tread / 2])
    top = max(reach(room)[1] for room in rooms)
    scale = max((right - left) / (box[2] - 40), top / (box[3] - over - 12))
    middle = top + (over - 12) / 2 * scale
    center = ((left + right) / 2, middle / 2)
    return layout.drawing(figure, look, box, center=center, scale=scale), top, scale


def _end(value):
    """The end of a field that shows a value."""
    return round_up(1.04 * value, 0.0) if value > 0 else 1.0


def _many(at, outline, pixel):
    """One path of the same outline at many places, all in pixels."""
    if not len(at):
        return shapes.Path(np.zeros((0, 2)))
    closed = np.vstack([outline, outline[:1]])
    codes = np.full(len(closed), shapes.Path.LINETO, np.uint8)
    codes[0], codes[-1] = shapes.Path.MOVETO, shapes.Path.CLOSEPOLY
    points = (np.asarray(at)[:, None] + closed).reshape(-1, 2) * pixel
    return shapes.Path(points, np.tile(codes, len(at)))
