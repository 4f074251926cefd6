"""A flywheel in the boiler, cut across and along, and the run that it gives."""

import numpy as np
from matplotlib.ticker import MaxNLocator

from mechkit import units
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.gauge import Gauge
from mechkit.drawings.picture import Picture
from mechkit.drive.questions.flywheel import LEAST_ROOM, WHIRL_SHARE

#: Engine lengths that the field may reach, and the step between its marks.
SPANS = {1: 1, 2: 1, 3: 1, 5: 1, 8: 2, 12: 3, 20: 5, 40: 10}
SPEEDS = (20, 30, 40, 50, 60, 70, 80, 100, 120, 140)  # and speeds, as shown


class FlywheelPicture(Picture):
    """Cut through flywheel and boiler, to scale; beside it the run, speed over distance."""

    hall_height = 352

    def build(self):
        """The boiler, the motor, the field, the gauges."""
        look, hall = self.look, self.look.size == "hall"
        self.hall = hall
        foot = 0 if hall else 38 + 84
        box = (16, foot, 616, self.height - foot - 6)
        self.axes = layout.drawing(self.figure, look, box, scale=1e-3 / (8.6 if hall else 9.0))
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

    # -- the drawing --------------------------------------------------------------------

    def _standing(self, case):
        """Boiler, motor and center lines."""
        axes, look = self.axes, self.look
        (left, right), (low, high) = axes.get_xlim(), axes.get_ylim()
        pixel = layout.per_pixel(axes)[1]
        inside, outside = case.boiler_bore, case.boiler_bore + 2 * case.boiler_wall
        up = -case.shaft_above_boiler
        axes.set_ylim(low + up, high + up)
        self.end = np.array([left + outside / 2 + 1e-3, 0.0])  # the shaft where it is cut across
        self.start = self.end[0] + outside / 2 + 3e-3  # where the cut along begins
        self.face = right - 11.5e-3  # the motor's face
        self.below, self.above = (
            up - outside / 2 - look.spread(24) * pixel,
            up + outside / 2 + look.spread(21) * pixel,
        )
        self.floor = up - inside / 2
        tube = self.end + np.array([0.0, up])
        ring = shapes.path(shapes.circle(tube, outside), holes=[shapes.circle(tube, inside)])
        shop.Section(axes, look, "brass", ring, weight="light")
        self.moves(shop.CenterLine(axes, look)).cross(self.end, outside)
        for side in (1, -1):
            wall = sorted(up + side * np.array([inside, outside]) / 2)
            bar = shapes.bar(self.start, wall[0], right - 0.3e-3, wall[1])
            shop.Section(axes, look, "brass", shapes.path(bar), weight="light")
        half, ruling = case.motor_diameter / 2, look.color("ruling")
        body = shapes.broken(self.face, -half, right - 0.8e-3, half, ends="right")
        boss = shapes.bar(self.face - 1.2e-3, -2.4e-3, self.face, 2.4e-3)
        for part in (body, boss):
            shop.Outline(axes, look, shapes.path(part), fill=ruling, zorder=2)
        if not self.hall:
            shop.Balloon(axes, look, 3).set(
                (self.face + 7e-3, self.below), (self.face + 5e-3, -0.55 * half)
            )
            shop.Balloon(axes, look, 4).set(
                tube + np.array([-9.4e-3, 11e-3]),
                tube + shapes.circle((0, 0), outside - case.boiler_wall, 16)[6],
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

    def _move_drawing(self, state):
        case = self.setting
        half, core = state.outer / 2, state.bore / 2
        near, tip = self.face - case.gap, self.start + 0.8e-3
        far = near - state.width
        if self.across.new(state.material, state.outer, state.bore):
            rim, hole = shapes.circle(self.end, state.outer), shapes.circle(self.end, state.bore)
            self.across.material(state.material)
            self.across.set(shapes.path(rim, holes=[hole]))
        if self.along.new(state.material, state.outer, state.width, state.bore):
            halves = [shapes.bar(far, s * core, near, s * half) for s in (1, -1)]
            self.along.material(state.material)
            self.along.set(shapes.path(*halves))
        if self.shaft.new(state.bore):
            stop = self.face - 1.2e-3
            shaft = shapes.broken(tip, -core, stop, core, ends="left", wave=0.3e-3)
            self.shaft.set(shapes.path(shaft))
            self.shaft_end.set(shapes.path(shapes.circle(self.end, state.bore, 40)))
        self.axis.set((tip + 0.5e-3, 0), (self.face + 6e-3, 0))
        self.diameter.set(self.end, state.outer, np.radians(74), f"Ø\u00a0{self._size(state.outer)}",
                          knee=self.above / np.sin(np.radians(74)) - 0.4e-3)  # fmt: skip
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
        self.room.set(np.array([self.end[0] + 2.4e-3, self.below]), gap, room)
        for balloon, at, part in zip(self.balloons, ((far - 3e-3, self.above), (self.start + 2.5e-3, self.below)),
                                     ((far + 1.5e-3, 0.6 * half + 0.4 * core), (self.start + 4e-3, -0.3 * core)), strict=False):  # fmt: skip
            balloon.set(at, part)

    # -- parts and gauges ---------------------------------------------------------------

    def _strip(self):
        """Under the drawing: what the balloons mean, and three gauges."""
        look = self.look
        strip = layout.drawing(self.figure, look, (16, 38, 616, 84), center=(308, 42), scale=1.0)
        places = [(2 + k * 216, 16) for k in range(3)]
        room, truth, whirl = "room in boiler", "off center", "first whirl"
        self.gauges = {
            "room": Gauge(strip, look, places[0], 180, room, ends=(-1e-3, 5e-3), limit=LEAST_ROOM),
            "truth": Gauge(strip, look, places[1], 180, truth, ends=(0, 4), limit=1, good="below"),
            "whirl": Gauge(strip, look, places[2], 180, whirl, ends=(0, 5), limit=1 / WHIRL_SHARE),
        }
        for gauge in self.gauges.values():
            self.moves(gauge)
        self.parts = self.moves(shop.Words(strip, look, "note", "quiet"))
        boiler = f"3  motor      4  boiler, bore {self._size(self.setting.boiler_bore)}"
        shop.Words(strip, look, "note", "quiet").set((306, 62), boiler)

    def _move_strip(self, state):
        self.gauges["room"].set(state.room, self._size(state.room))
        number = self._size(state.off_center, "fine").split("\u00a0")[0]
        allowed = self._size(state.allowed_off_center, "fine")
        truth = state.off_center / state.allowed_off_center
        self.gauges["truth"].set(truth, f"{number} of {allowed}")
        self.gauges["whirl"].set(state.whirl_margin, f"{state.whirl_margin:.1f}\u00a0× top speed")
        mass, bore = self._size(state.mass, "mass"), self._size(state.bore)
        parts = f"1  flywheel, {state.material}, {mass}      2  shaft Ø\u00a0{bore}"
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
        far = max(state.open_high, state.before.stop) / self.setting.engine_length
        fast = units.shown(state.start_speed, "speed", self.look.system)
        span = next((s for s in SPANS if s >= far), max(SPANS))
        return span, next((s for s in SPEEDS if s >= fast / 0.8), SPEEDS[-1])

    def set_limits(self, stands):
        """Let the field and the track reach that far."""
        span, top = stands
        self.field.set(xlim=(-1.05, span), ylim=(0, top))
        marks = MaxNLocator(3 if self.hall else 7, steps=[1, 2, 5, 10]).tick_values(0, top)
        self.field.set_yticks([mark for mark in marks if 0 < mark <= top])
        self.field.set_xticks(range(0, span + 1, SPANS[span]))
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
        stops = {"before": state.before.stop / length, "open": state.engine_lengths}
        for name, outline in self.engines.items():
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
