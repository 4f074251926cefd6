"""A flywheel in the boiler, cut across and along, and the run that it gives."""

import numpy as np
from matplotlib.ticker import MaxNLocator

from mechkit import units
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.gauge import Gauge
from mechkit.drawings.picture import Picture
from mechkit.drive.decisions.plan import WHIRL_PART
from mechkit.drive.questions.flywheel import LEAST_ROOM
from mechkit.drive.questions.reach import round_up


class FlywheelPicture(Picture):
    """Cut through flywheel and boiler, to scale; beside it the run, speed over distance."""

    hall_height = 352

    def build(self):
        """The boiler, the motor, the field, the gauges."""
        look, hall = self.look, self.look.size == "hall"
        self.hall = hall
        foot = 0 if hall else 38 + 84
        box = (16, foot, 616, self.height - foot - 6)
        self.zoom = self._zoom(self.setting, *box[2:])
        self.axes = layout.drawing(self.figure, look, box, scale=1 / self.zoom)
        self._standing(self.setting)
        self._marks()
        self._run()
        if not hall:
            self._strip()
            words = "Flywheel in the boiler, cut across and along"
            unit = units.label("length", look.system)
            layout.title_block(self.figure, look, [words, "to scale", unit])

    def _size(self, value, kind="length"):
        return units.show(value, kind, self.look.system)

    def _px(self, pixels):
        """So many pixels on the drawing [m]."""
        return pixels / self.zoom

    def _zoom(self, case, wide, high):
        """Pixels for one meter, so that boiler, motor and the largest wheel go in."""
        tube = case.boiler_bore + 2 * case.boiler_wall
        turns = max(case.outers.high, case.motor_diameter) / 2
        self.low = min(-case.shaft_above_boiler - tube / 2, -turns)
        self.high = max(-case.shaft_above_boiler + tube / 2, turns)
        along = tube + case.gap + case.widths.high
        rows = 2 * self.look.spread(46)  # dimensions over and under it
        return min((wide - 186) / along, (high - rows) / (self.high - self.low))

    # -- the drawing --------------------------------------------------------------------

    def _standing(self, case):
        """Boiler, motor and center lines."""
        axes, look, px = self.axes, self.look, self._px
        (left, right), (low, high) = axes.get_xlim(), axes.get_ylim()
        inside, outside = case.boiler_bore, case.boiler_bore + 2 * case.boiler_wall
        up = -case.shaft_above_boiler
        middle = (self.low + self.high) / 2
        axes.set_ylim(low + middle, high + middle)
        self.end = np.array([left + outside / 2 + px(9), 0.0])  # the shaft where it is cut across
        self.start = self.end[0] + outside / 2 + px(27)  # where the cut along begins
        self.face = right - px(103)  # the motor's face
        self.below = self.low - px(look.spread(24))
        self.above = self.high + px(look.spread(21))
        self.floor = up - inside / 2
        tube = self.end + np.array([0.0, up])
        ring = shapes.path(shapes.circle(tube, outside), holes=[shapes.circle(tube, inside)])
        shop.Section(axes, look, "brass", ring, weight="light")
        self.moves(shop.CenterLine(axes, look)).cross(self.end, outside)
        for side in (1, -1):
            wall = sorted(up + side * np.array([inside, outside]) / 2)
            bar = shapes.bar(self.start, wall[0], right - px(3), wall[1])
            shop.Section(axes, look, "brass", shapes.path(bar), weight="light")
        half, ruling = case.motor_diameter / 2, look.color("ruling")
        body = shapes.broken(self.face, -half, right - px(7), half, ends="right", wave=px(4.5))
        boss = shapes.bar(self.face - px(11), -0.3 * half, self.face, 0.3 * half)
        for part in (body, boss):
            shop.Outline(axes, look, shapes.path(part), fill=ruling, zorder=2)
        if not self.hall:
            shop.Balloon(axes, look, 3).set(
                (self.face + px(63), self.below), (self.face + px(45), -0.55 * half)
            )
            rim = shapes.circle((0, 0), outside - case.boiler_wall, 16)[6]
            away = rim + px(34) * rim / np.hypot(*rim)
            shop.Balloon(axes, look, 4).set(
                tube + np.array([max(away[0], left + px(12) - tube[0]), away[1]]), tube + rim
            )

    def _marks(self):
        """Flywheel, shaft, dimensions and balloons."""
        axes, look = self.axes, self.look
        self.across = self.moves(shop.Section(axes, look, self.setting.material))
        self.along = self.moves(shop.Section(axes, look, self.setting.material))
        self.shaft_end = self.moves(shop.Section(axes, look, "steel", zorder=4))
        self.shaft = self.moves(shop.Outline(axes, look, fill=look.tint("steel"), zorder=4))
        self.axis = self.moves(shop.CenterLine(axes, look))
        self.diameter = self.moves(shop.Diameter(axes, look))
        self.width_size = self.moves(shop.Dimension(axes, look))
        self.overhang = self.moves(shop.Dimension(axes, look))
        self.room = self.moves(shop.Leader(axes, look, kind="value"))
        self.balloons = (
            [] if self.hall else [self.moves(shop.Balloon(axes, look, n)) for n in (1, 2)]
        )
        self.bush = []
        if self.setting.bush > 0:
            self.bush = [self.moves(shop.Section(axes, look, "brass")) for _ in (0, 1)]

    def _move_drawing(self, state):
        case, px = self.setting, self._px
        half, hole, core = state.outer / 2, state.bore / 2, (state.bore - case.bush) / 2
        near, tip = self.face - case.gap, self.start + px(7)
        far = near - state.width
        if self.across.new(state.material, state.outer, state.bore):
            rim, bore = shapes.circle(self.end, state.outer), shapes.circle(self.end, state.bore)
            self.across.material(state.material)
            self.across.set(shapes.path(rim, holes=[bore]))
        if self.along.new(state.material, state.outer, state.width, state.bore):
            halves = [shapes.bar(far, s * hole, near, s * half) for s in (1, -1)]
            self.along.material(state.material)
            self.along.set(shapes.path(*halves))
        if self.shaft.new(state.bore, state.width):
            stop = self.face - px(11)
            shaft = shapes.broken(tip, -core, stop, core, ends="left", wave=px(2.7))
            self.shaft.set(shapes.path(shaft))
            self.shaft_end.set(shapes.path(shapes.circle(self.end, 2 * core, 40)))
            if self.bush:
                ring = shapes.circle(self.end, state.bore, 60)
                self.bush[0].set(shapes.path(ring, holes=[shapes.circle(self.end, 2 * core, 40)]))
                halves = [shapes.bar(far, s * core, near, s * hole) for s in (1, -1)]
                self.bush[1].set(shapes.path(*halves))
        self.axis.set((tip + px(4), 0), (self.face + px(54), 0))
        self.diameter.set(self.end, state.outer, np.radians(74), f"Ø\u00a0{self._size(state.outer)}",
                          knee=(self.above - px(4)) / np.sin(np.radians(74)))  # fmt: skip
        self.width_size.set((far, -half), (near, -half), self.below, self._size(state.width))
        middle, overhang = (far + near) / 2, case.gap + state.width / 2
        self.overhang.set(
            (middle, 0), (self.face, case.motor_diameter / 2), self.above, self._size(overhang)
        )
        self.room.recolor("ink" if state.fits else "danger")
        gap = np.array([self.end[0], (self.floor - half) / 2])
        room = f"{self._size(state.room)} of room"
        if state.room < 0:
            room = f"{self._size(-state.room)} too big"
        self.room.set(np.array([self.end[0] + px(22), self.below]), gap, room)
        spots = (
            ((far - px(27), self.above), (far + 0.25 * state.width, 0.6 * half + 0.4 * hole)),
            ((self.start + px(22), self.below), (self.start + px(36), -0.3 * core)),
        )
        for balloon, spot in zip(self.balloons, spots, strict=False):
            balloon.set(*spot)

    # -- parts and gauges ---------------------------------------------------------------

    def _strip(self):
        """Under the drawing: what the balloons mean, and three gauges."""
        look = self.look
        strip = layout.drawing(self.figure, look, (16, 38, 616, 84), center=(308, 42), scale=1.0)
        places = [(2 + k * 216, 16) for k in range(3)]
        name = self.setting.room_name
        room, truth, whirl = f"room in {name}", "off center", "first whirl"
        self.gauges = {
            "room": Gauge(strip, look, places[0], 180, room, ends=self._rooms(), limit=LEAST_ROOM),
            "truth": Gauge(strip, look, places[1], 180, truth, ends=(0, 4), limit=1, good="below"),
            "whirl": Gauge(strip, look, places[2], 180, whirl, ends=(0, 5), limit=1 / WHIRL_PART),
        }
        for gauge in self.gauges.values():
            self.moves(gauge)
        self.parts = self.moves(shop.Words(strip, look, "note", "quiet"))
        boiler = f"3  motor      4  {name}, bore {self._size(self.setting.boiler_bore)}"
        shop.Words(strip, look, "note", "quiet").set((306, 62), boiler)

    def _rooms(self):
        """Ends of the gauge for the room: from the largest wheel to one of half its size."""
        case = self.setting
        low = min((case.free - case.outers.high) / 2, -LEAST_ROOM)
        return 1.5 * low, max(0.27 * case.free, 4 * LEAST_ROOM)

    def _move_strip(self, state):
        self.gauges["room"].set(state.room, self._size(state.room))
        number = self._size(state.off_center, "fine").split("\u00a0")[0]
        allowed = self._size(state.allowed_off_center, "fine")
        truth = state.off_center / state.allowed_off_center
        self.gauges["truth"].set(truth, f"{number} of {allowed}")
        self.gauges["whirl"].set(state.whirl_margin, f"{state.whirl_margin:.1f}\u00a0× top speed")
        mass, shaft = self._size(state.mass, "mass"), self._size(state.bore - self.setting.bush)
        parts = f"1  flywheel, {state.material}, {mass}      2  shaft Ø\u00a0{shaft}"
        self.parts.set((2, 62), parts)

    # -- the run ------------------------------------------------------------------------

    def _run(self):
        """The field of the curves, and the engine on its track beneath it."""
        look, hall = self.look, self.hall
        left, wide = (720, 300) if hall else (696, 320)
        rail, ground = (12, 62) if hall else (42, 62)
        bottom = rail + ground + look.spread(26)
        unit = units.label("speed", look.system)
        self.field = layout.field(self.figure, look, (left, bottom, wide, self.height - bottom - look.spread(70 if hall else 34)),
                                  x=(-1, 2), y=(0, 60), across="lengths" if hall else "engine lengths", up=f"scale {unit}", origin=0)  # fmt: skip
        self.track = layout.drawing(self.figure, look, (left, rail, wide, ground), scale=1.0)
        self.track.axhline(0, **look.stroke("thin", "quiet"))
        self.runs = {name: self.moves(shop.Outline(self.field, look, weight=weight, meaning=meaning, zorder=4))
                     for name, weight, meaning in (("before", "curve", "before"), ("skid", "visible", "limit"),
                                                   ("shorted", "visible", "after"), ("open", "curve", "after"))}  # fmt: skip
        self.far = self.moves(shop.Words(self.field, look, "value", "after", strong=True))
        self.engine = shapes.path(*shapes.engine((0.0, 0.0), 1.0))
        start = shop.Outline(
            self.track, look, self.engine, weight="thin", meaning="quiet", zorder=2
        )
        start.patch.set_facecolor(look.color("ruling"))
        engine = {
            "before": ("light", "before"),
            "open": ("visible", "after"),
        }
        self.engines = {name: self.moves(shop.Outline(self.track, look, weight=weight, meaning=meaning))
                        for name, (weight, meaning) in engine.items()}  # fmt: skip
        self.spread = self.moves(shop.Outline(self.track, look, weight="curve", meaning="after"))
        lines = [("after", "curve", "rails open"), ("after", "visible", "rails shorted"),
                 ("before", "curve", "as it is"), ("limit", "visible", "wheels locked")]  # fmt: skip
        if hall:
            layout.key(
                self.figure,
                look,
                (left - 26, self.height - 22),
                lines,
                columns=2,
                column=106,
                step=19,
            )
        else:
            layout.key(self.figure, look, (left + wide - 108, self.height - 46), lines)

    def stand(self, state):
        """How far the field must reach, in engine lengths and speed."""
        far = max(state.open_high, state.before.stop if state.before else 0.0)
        fast = units.shown(state.start_speed, "speed", self.look.system)
        return round_up(far / self.setting.engine_length, 1.0), round_up(fast / 0.8, 10.0)

    def set_limits(self, stands):
        """Let the field and the track reach that far."""
        span, top = stands
        self.field.set(xlim=(-1.05, span), ylim=(0, top))
        marks = MaxNLocator(3 if self.hall else 7, steps=[1, 2, 5, 10]).tick_values(0, top)
        self.field.set_yticks([mark for mark in marks if 0 < mark <= top])
        marks = MaxNLocator(5, steps=[1, 2, 3, 5, 10], integer=True).tick_values(0, span)
        self.field.set_xticks([mark for mark in marks if 0 <= mark <= span])
        pixel = layout.per_pixel(self.field)[0]
        self.track.set(
            xlim=(-1.05, span),
            ylim=(-8 * pixel, (self.track.bbox.height / self.density - 8) * pixel),
        )

    def _move_run(self, state):
        length = self.setting.engine_length
        for name, line in self.runs.items():
            run = getattr(state, name)
            speed = units.shown(run.speed, "speed", self.look.system)
            line.set(np.column_stack([run.distance / length, speed]))
        stops = {"open": state.engine_lengths}
        stops["before"] = state.before.stop / length
        for name in stops:
            outline = self.engines[name]
            outline.set(shapes.moved(self.engine, (stops[name], 0.0)))
        low, high = state.open_low / length, state.open_high / length
        tick = 4 * layout.per_pixel(self.track)[1]
        ends = [
            (low, -tick),
            (low, 0),
            (low, -tick / 2),
            (high, -tick / 2),
            (high, 0),
            (high, -tick),
        ]
        self.spread.set(ends)
        near_end = state.engine_lengths > 0.7 * self.field.get_xlim()[1]
        beside, ha = ((-8, 12), "right") if near_end else ((8, 12), "left")
        places = 0 if self.look.system == "metric" else 2
        far = units.show(state.open.stop, "length", self.look.system, places)
        self.far.pixel = layout.per_pixel(self.field)  # the limits may have stepped
        self.far.set((state.engine_lengths, 0), far, beside, ha)

    def move(self, state):
        """Everything that follows the controls."""
        self._move_drawing(state)
        self._move_run(state)
        if not self.hall:
            self._move_strip(state)
