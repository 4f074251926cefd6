"""A flywheel in the boiler, cut across and along, and the run that it gives."""

import numpy as np

from mechkit import units
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.gauge import Gauge
from mechkit.drawings.picture import Picture
from mechkit.drive.coast import LEAST_ROOM, WHIRL_SHARE

SPANS = (0.5, 1, 2, 3, 5, 8, 12, 20, 40)  # engine lengths that the field may reach
SPEEDS = (20, 40, 60, 80, 120)  # and speeds, as shown


class FlywheelPicture(Picture):
    """Cut through flywheel and boiler, to scale; beside it speed against distance."""

    def build(self):
        """The boiler, the motor, the fields and gauges."""
        case, look, figure = self.setting, self.look, self.figure
        hall = look.size == "hall"
        foot, gauges = (14, 62) if hall else (38, 62)
        self.per_mm = 7.4 if not hall else 6.7
        box = (16, foot + gauges, 604, self.height - foot - gauges - 8)
        self.axes = layout.drawing(figure, look, box, scale=1e-3 / self.per_mm)
        self._boiler(case)
        self._marks()
        strip = layout.drawing(
            figure, look, (16, foot, 604, gauges), center=(302, gauges / 2), scale=1.0
        )
        self._gauges(strip)
        self._field(hall)
        if not hall:
            cells = [
                "Flywheel in the boiler, cut across and along",
                "to scale",
                units.label("length", look.system),
            ]
            layout.title_block(figure, look, cells)

    # -- the drawing ----------------------------------------------------------------------

    def _boiler(self, case):
        """Boiler tube, motor and center lines: what stands."""
        axes, look = self.axes, self.look
        left, right = axes.get_xlim()
        self.end = np.array([left + 13.2e-3, 0.0])  # the shaft's center in the cut across
        self.face = right - 13.5e-3  # the motor's bearing face in the cut along
        up = -case.shaft_above_boiler
        outside, inside = case.boiler_bore + 2 * case.boiler_wall, case.boiler_bore
        tube = self.end + np.array([0.0, up])
        shop.Section(
            axes,
            look,
            "brass",
            shapes.path(shapes.circle(tube, outside), holes=[shapes.circle(tube, inside)]),
        )
        shop.CenterLine(axes, look).cross(self.end, outside)
        start, stop = self.end[0] + 16.5e-3, right - 0.4e-3
        for side in (1, -1):
            wall = up + side * np.array([inside, outside]) / 2
            shop.Section(
                axes, look, "brass", shapes.path(shapes.bar(start, wall.min(), stop, wall.max()))
            )
        half = case.motor_diameter / 2
        motor = shapes.bar(self.face, -half, stop, half)
        shop.Outline(axes, look, shapes.path(motor), fill=look.color("ruling"), zorder=2)
        boss = shapes.bar(self.face - 1.2e-3, -2.2e-3, self.face, 2.2e-3)
        shop.Outline(axes, look, shapes.path(boss), fill=look.color("ruling"), zorder=2)
        shop.CenterLine(axes, look).set((start, 0), (stop - 1e-3, 0))
        self.start, self.tube = start, tube

    def _marks(self):
        """Flywheel, shaft, dimensions and balloons: what moves."""
        axes, look = self.axes, self.look
        self.across = self.moves(shop.Section(axes, look, self.setting.material))
        self.along = self.moves(shop.Section(axes, look, self.setting.material))
        self.shaft_end = self.moves(shop.Section(axes, look, "steel", zorder=4))
        self.shaft = self.moves(shop.Outline(axes, look, fill=look.tint("steel"), zorder=4))
        self.axis = self.moves(shop.CenterLine(axes, look, zorder=5))
        self.across_size = self.moves(shop.Diameter(axes, look))
        self.width_size = self.moves(shop.Dimension(axes, look))
        self.overhang = self.moves(shop.Dimension(axes, look))
        self.room = self.moves(shop.Leader(axes, look, kind="value"))

    def _move_drawing(self, state):
        case, system = self.setting, self.look.system

        def size(value):
            return units.show(value, "length", system)

        self.across.material(state.material)
        self.along.material(state.material)
        rim, hole = shapes.circle(self.end, state.outer), shapes.circle(self.end, state.bore)
        self.across.set(shapes.path(rim, holes=[hole]))
        self.shaft_end.set(shapes.path(hole))
        near = self.face - case.gap
        far, half, core = near - state.width, state.outer / 2, state.bore / 2
        halves = [shapes.bar(far, side * core, near, side * half) for side in (1, -1)]
        self.along.set(shapes.path(*halves))
        self.shaft.set(
            shapes.path(shapes.bar(self.start + 1.5e-3, -core, self.face - 1.2e-3, core))
        )
        self.axis.set((self.start + 1.5e-3, 0), (self.face, 0))
        self.across_size.set(
            self.end, state.outer, np.radians(62), f"Ø\u00a0{size(state.outer)}", knee=13.2e-3
        )
        below = self.tube[1] - case.boiler_bore / 2 - 3.6e-3
        self.width_size.set((far, -half), (near, -half), below, size(state.width))
        above = self.tube[1] + case.boiler_bore / 2 + 3.0e-3
        self.overhang.set(
            ((far + near) / 2, 0),
            (self.face, case.motor_diameter / 2),
            above,
            size(case.gap + state.width / 2),
        )
        gap = (-half + self.tube[1] - case.boiler_bore / 2) / 2
        self.room.set(
            (self.end[0] + 3e-3, below - 1e-3), (self.end[0], gap), f"{size(state.room)} of room"
        )

    # -- gauges ---------------------------------------------------------------------------

    def _gauges(self, strip):
        look = self.look
        wide, y = 178, 14
        places = [(6 + k * 207, y) for k in range(3)]
        self.room_gauge = Gauge(
            strip, look, places[0], wide, "room in boiler", ends=(-1e-3, 5e-3), limit=LEAST_ROOM
        )
        self.truth_gauge = Gauge(strip, look, places[1], wide, "off center", ends=(0, 50e-6), good="below",
                                 limit=1.0)  # fmt: skip
        self.whirl_gauge = Gauge(
            strip, look, places[2], wide, "first whirl", ends=(0, 5), limit=1 / WHIRL_SHARE
        )
        for gauge in (self.room_gauge, self.truth_gauge, self.whirl_gauge):
            self.moves(gauge)

    # -- the run --------------------------------------------------------------------------

    def _field(self, hall):
        look = self.look
        box = (
            (690, 84, 322, self.height - 84 - 40)
            if not hall
            else (708, 92, 304, self.height - 92 - 48)
        )
        unit = units.label("speed", look.system)
        self.field = layout.field(
            self.figure, look, box, x=(0, 2), y=(0, 60), across="engine lengths", up=f"scale {unit}"
        )

        def curve(weight, meaning):
            return self.moves(self.field.plot([], [], zorder=4, **look.stroke(weight, meaning))[0])

        self.runs = {"before": curve("curve", "before"), "skid": curve("visible", "limit"),
                     "shorted": curve("visible", "after"), "open": curve("curve", "after")}  # fmt: skip
        self.spread = self.moves(
            self.field.plot([], [], zorder=3, clip_on=False, **look.stroke("curve", "after"))[0]
        )

    def stand(self, state):
        """The field's reach in engine lengths and speed."""
        far = max(state.open_high, state.before.stop) / self.setting.engine_length
        fast = units.shown(state.start_speed, "speed", self.look.system)
        span = next((s for s in SPANS if s >= far), SPANS[-1])
        top = next((s for s in SPEEDS if s >= fast * 1.02), SPEEDS[-1])
        self.field.set_xlim(0, span)
        self.field.set_ylim(0, top)
        return span, top

    def move(self, state):
        """Everything that follows the controls."""
        self._move_drawing(state)
        length, system = self.setting.engine_length, self.look.system
        for name, line in self.runs.items():
            run = getattr(state, name)
            line.set_data(run.distance / length, units.shown(run.speed, "speed", system))
        self.spread.set_data([state.open_low / length, state.open_high / length], [0, 0])
        self.room_gauge.set(state.room, units.show(state.room, "length", system))
        self.truth_gauge.set(state.off_center, units.show(state.off_center, "fine", system))
        self.whirl_gauge.set(state.whirl_margin, f"{state.whirl_margin:.1f}\u00a0× top speed")
