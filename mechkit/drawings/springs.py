"""The drivers on uneven rail, seen from inside the frame; beside them who carries what."""

import numpy as np

from mechkit import units
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.gauge import Gauge
from mechkit.drawings.lettering import text_width
from mechkit.drawings.picture import Picture
from mechkit.drive.decisions.findings import LEAST_SHARE
from mechkit.drive.questions.springs import KINDS

#: The drawn travel of an axlebox over the wheel's diameter; heights are drawn so many times.
TRAVEL = 0.25
#: A travel shorter than this share of the wheel is drawn no larger for it.
LEAST_TRAVEL = 0.045
#: A wheel higher than this is drawn, and named, as off the rail [m].
AIR = 1e-6


def _tilted(points, start, slope):
    """Points of the frame, heaved and pitched; each stays over its place on the rail."""
    return points + np.column_stack([np.zeros(len(points)), start + slope * points[:, 0]])


class SpringsPicture(Picture):
    """Frame, slots, springs and rail; loads by axle; contact on random rail."""

    hall_height = 350

    def build(self):
        """Axes, parts, fields, gauges."""
        look, case = self.look, self.setting
        self.hall = look.size == "hall"
        foot = 6 if self.hall else 38 + 66
        self.wheel = case.sheet.locomotive.driver_diameter.value
        least = LEAST_TRAVEL * self.wheel
        self.times = max(1, round(TRAVEL * self.wheel / max(case.given("travel"), least)))
        self.places = case.positions
        box = (14, foot, 620, self.height - foot - 6)
        self._sizes()
        span = np.ptp(self.places) + self.wheel + 4 * self.edge
        low = -self.reach - self.rail
        high = self.top + self.reach
        notes = look.spread(58)
        scale = max(span / box[2], (high - low) / (box[3] - notes))
        middle = self.places.mean(), (low + high) / 2
        self.axes = layout.drawing(self.figure, look, box, center=middle, scale=scale)
        self._marks()
        self._fields(foot if self.hall else 44)
        if not self.hall:
            self._strip()
            unit = units.label("length", look.system)
            words = f"lengths to scale, unevenness and travel {self.times} times"
            layout.title_block(self.figure, look, ["Drivers from inside the frame", words, unit])

    def _sizes(self):
        """What the parts measure, on the drawing [m]."""
        case = self.setting
        coil = case.given("mean_diameter") + case.given("wire_diameter")
        self.pocket = max(0.2 * self.wheel, 1.1 * coil)
        pitch = np.diff(self.places).min()
        self.box = min(self.pocket + 0.12 * self.wheel, 0.5 * pitch)
        self.half = 0.13 * self.wheel
        self.slot = self.times * case.given("travel")
        self.seat = self.half + self.slot + 0.30 * self.wheel
        self.top = self.wheel / 2 + self.seat + 0.10 * self.wheel
        self.edge = 0.16 * self.wheel
        self.reach = self.times * case.joints.high
        self.rail = 0.17 * self.wheel

    # -- the drawing --------------------------------------------------------------------

    def _marks(self):
        axes, look = self.axes, self.look
        self.ground = self.moves(
            shop.Outline(axes, look, fill=look.tint("steel"), weight="light", zorder=2)
        )
        self.plate = self.moves(
            shop.Outline(axes, look, fill=look.tint("brass"), weight="visible", zorder=3)
        )
        self.axles = []
        for number in range(1, len(self.places) + 1):
            wheel = self.moves(shop.Outline(axes, look, fill=look.color("ruling"), zorder=2.5))
            spring = self.moves(shop.Outline(axes, look, weight="visible", zorder=4))
            box = self.moves(
                shop.Outline(axes, look, fill=look.tint("bronze"), weight="light", zorder=4)
            )
            axle = self.moves(
                shop.Outline(axes, look, fill=look.tint("steel"), weight="light", zorder=5)
            )
            gap = self.moves(shop.Words(axes, look, "value", "danger", strong=True))
            name = self.moves(shop.Balloon(axes, look, number))
            self.axles.append((wheel, spring, box, axle, gap, name))
        self.beams = [
            self.moves(shop.Outline(axes, look, weight="curve", meaning="after", zorder=6))
            for _ in (1, 2)
        ]
        self.pivots = [
            self.moves(
                shop.Outline(axes, look, fill=look.color("sheet"), meaning="after", zorder=7)
            )
            for _ in (1, 2)
        ]
        self.joint = self.moves(shop.Words(axes, look, "value"))
        self.weight = self.moves(shop.Leader(axes, look, kind="value"))

    def _rail_top(self, state):
        """The rail's line: a joint is as wide as the gap to the next axle allows."""
        pitch = np.diff(self.places).min()
        left, right = self.axes.get_xlim()
        x = np.linspace(left, right, 161)
        away = np.abs(x - self.places[state.axle - 1]) / pitch
        ramp = np.clip((away - 0.22) / 0.40, 0, 1)
        return x, self.times * state.joint * (1 + np.cos(np.pi * ramp)) / 2

    def _move_frame(self, state):
        """The frame with its slots, heaved and pitched; heights many times."""
        slope = self.times * state.frame[1]
        start = self.times * state.frame[0] + self.wheel / 2
        rigid, beams = state.kind == "rigid", state.kind == "equalized"
        slot = 0.0 if rigid else self.slot
        keeper = -self.half - 0.05 * self.wheel
        left, right = self.places[0] - self.edge - self.box / 2, self.places[-1] + self.edge + self.box / 2  # fmt: skip
        outline = shapes.bar(left, keeper, right, self.seat + 0.10 * self.wheel)
        holes = []
        for x in self.places:
            wide, narrow, roof = self.box / 2, self.pocket / 2, self.half + slot
            hole = [(x - wide, -self.half), (x + wide, -self.half), (x + wide, roof)]
            if not rigid:
                hole += [(x + narrow, roof), (x + narrow, self.seat), (x - narrow, self.seat), (x - narrow, roof)]  # fmt: skip
            holes.append(np.array([*hole, (x - wide, roof)]))
        holes = [_tilted(hole, start, slope) for hole in holes]
        self.plate.set(shapes.path(_tilted(outline, start, slope), holes=holes))
        top = start + slope * self.setting.frame["center_of_gravity"] + self.seat
        self._move_axles(state, start, slope)
        self._move_beams(state, start, slope, beams)
        force = units.show(self.setting.weight, "force", self.look.system)
        pixel = shop.per_pixel(self.axes)
        target = np.array([self.setting.frame["center_of_gravity"], top + 0.10 * self.wheel])
        level = self.axes.get_ylim()[1] - self.look.spread(24) * pixel[1]
        self.weight.set(np.array([target[0] + 26 * pixel[0], level]), target, f"weight {force}")

    def _move_axles(self, state, start, slope):
        look, pixel = self.look, shop.per_pixel(self.axes)
        bottom = self.axes.get_ylim()[0]
        for k, (wheel, spring, box, axle, gap, name) in enumerate(self.axles):
            x = self.places[k]
            rise = np.clip(state.rises[k], 0, state.travel) if state.kind != "rigid" else 0.0
            y = start + slope * x + self.times * rise
            off = state.gaps[k] > AIR
            color = look.color("danger" if off else "ink")
            wheel.patch.set_color(color)
            tread = shapes.circle((x, y), self.wheel, 72)
            wheel.set(shapes.path(tread, shapes.circle((x, y), 0.88 * self.wheel, 60)))
            block = shapes.bar(-self.box / 2, -self.half, self.box / 2, self.half)
            box.set(shapes.path(_tilted(block + np.array([x, 0.0]), y - slope * x, slope)))
            bore = self.setting.sheet.locomotive.axle_diameter.value
            axle.set(shapes.path(shapes.circle((x, y), min(bore, 1.7 * self.half), 40)))
            spring.show(state.kind == "sprung")
            spring.patch.pen = max(look.line("light"), state.wire_diameter / pixel[0])
            head = start + slope * x + self.seat
            spring.set(shapes.spring((x, y + self.half), (x, head), min(state.mean_diameter, self.pocket),
                                     state.active_coils))  # fmt: skip
            name.set((x, bottom + look.spread(13) * pixel[1]), (x, y))
            gap.show(off)
            gap.set((x, bottom + look.spread(13) * pixel[1]), *self._air(state.gaps[k], pixel[0]))

    def _air(self, height, pixel):
        """The words for a wheel in the air, and where they stand: beside its balloon, or over it
        where the axles stand too close for that."""
        look = self.look
        air, size = units.show(height, "length", look.system), look.type("value")
        room = np.diff(self.places).min() / pixel
        if text_width(f"{air} of air", size, True) < room - look.spread(30):
            return f"{air} of air", (look.spread(15), 0)
        words = air if text_width(air, size, True) < room - 8 else air.split("\u00a0")[0]
        return words, (4, look.spread(20))

    def _move_beams(self, state, start, slope, shown):
        """Struts on the boxes, a beam over each group, a pivot in the frame."""
        over = self.half + self.slot + 0.16 * self.wheel
        for group, beam, pivot in zip((1, 2), self.beams, self.pivots, strict=True):
            beam.show(shown)
            pivot.show(shown)
            if not shown:
                continue
            mine = self.setting.groups == group
            x = self.places[mine]
            rise = np.clip(state.rises[mine], 0, state.travel)
            foot = start + slope * x + self.times * rise + self.half
            tip = foot + over - self.half - self.slot / 2
            struts = [np.array([(a, b), (a, c), (np.nan, np.nan)]) for a, b, c in zip(x, foot, tip, strict=True)]  # fmt: skip
            lines = np.concatenate([*struts, np.column_stack([x, tip])])
            beam.patch.set_data(*lines.T)
            at = x.mean(), tip.mean()
            pivot.set(shapes.path(shapes.circle(at, 0.07 * self.wheel, 24)))

    # -- loads and contact --------------------------------------------------------------

    def _fields(self, foot):
        look, case, hall = self.look, self.setting, self.hall
        count = len(self.places)
        left, wide = 704, 314
        row = look.spread(19)
        under = foot + (8 if hall else look.spread(26))
        rows = 3 * row + 6
        beside = look.spread(58)  # for the names of the levels
        self.right = 0.5 + count * wide / (wide - beside)
        heading = under + rows + look.spread(6)
        bottom = heading + look.spread(40)
        high = self.height - bottom - look.spread(30)
        full = units.shown(case.weight, "force", look.system)
        unit = units.label("force", look.system)
        self.field = layout.field(self.figure, look, (left, bottom, wide, high), x=(0.5, self.right),
                                  y=(0, full), across="", up=f"load, {unit}")  # fmt: skip
        self.field.set_xticks(range(1, count + 1))
        self.field.grid(False, axis="x")
        equal = full / count
        for level, meaning, words in ((equal, "quiet", "equal"), (LEAST_SHARE * equal, "limit", "a quarter")):  # fmt: skip
            shop.Outline(self.field, look, [(0.5, level), (self.right, level)], weight="light",
                         meaning=meaning, zorder=5)  # fmt: skip
            shop.Words(self.field, look, "note", meaning).set(
                (self.right, level), words, (0, look.spread(9)), "right"
            )
        self.loads = [
            (self.moves(shop.Outline(self.field, look, weight="light", meaning="before")),
             self.moves(shop.Outline(self.field, look, weight="light", meaning="after")),
             self.moves(shop.Words(self.field, look, "note", "after", strong=True, va="bottom")))
            for _ in range(count)
        ]  # fmt: skip
        spot = (left + wide - look.spread(140), self.height - look.spread(13))
        entries = [("before", "curve", "rigid"), ("after", "curve", "as set")]
        layout.key(self.figure, look, spot, entries, columns=2, column=72)
        label = look.spread(64)
        layout.note(self.figure, look, (left - 40, heading), "random rail: every driver keeps a quarter of a share",
                    meaning="quiet", va="bottom")  # fmt: skip
        self.shares = layout.drawing(
            self.figure, look, (left - 40, under - 4, wide + 40, rows), scale=1.0
        )
        x, y = (limits[0] for limits in (self.shares.get_xlim(), self.shares.get_ylim()))
        self.rows, self.long = [], wide + 40 - label - look.spread(46)
        for k, kind in enumerate(KINDS):
            at = np.array([x + label, y + rows - row * (k + 0.5) - 2])
            name = self.moves(shop.Words(self.shares, look, "note", ha="right"))
            name.set(at, kind, (-6, 0))
            bar = self.moves(shop.Outline(self.shares, look, weight="light"))
            text = self.moves(shop.Words(self.shares, look, "note", strong=True))
            self.rows.append((at, row, kind, bar, text))

    def _move_fields(self, state):
        look = self.look
        pairs = zip(self.loads, state.rigid_loads, state.loads, strict=True)
        for number, ((old, new, text), before, now) in enumerate(pairs, 1):
            before, now = (units.shown(load, "force", look.system) for load in (before, now))
            old.patch.set_facecolor(look.color("sheet"))
            old.set(shapes.path(shapes.bar(number - 0.34, 0, number - 0.04, before)))
            quarter = LEAST_SHARE * self.field.get_ylim()[1] / len(self.places)
            low = now < quarter
            color = look.color("danger" if low else "after")
            new.patch.set_color(color)
            new.patch.set_facecolor(color)
            new.set(shapes.path(shapes.bar(number + 0.02, 0, number + 0.32, now)))
            text.text.set_color(color)
            places = max(0, units.KINDS["force"][look.system].decimals - (now >= 10) - (now >= 100))
            tall = now > 0.9 * self.field.get_ylim()[1]
            # large type is wider than its bar: it may not lean on a taller neighbor
            along = number + (0.36 if tall else 0.05 if before > now else 0.17)
            spot = along, 0.9 * now if tall else max(now, quarter)
            aside = tall or before > now
            text.set(spot, f"{now:.{places}f}", (0, 2), "left" if aside else "center")
        for at, row, kind, bar, text in self.rows:
            mine, share = kind == state.kind, state.contact[kind]
            color = look.color("after" if mine else "before" if kind == "rigid" else "quiet")
            bar.patch.set_color(color)
            bar.patch.set_facecolor(color if mine else look.color("sheet"))
            end = at + np.array([share * self.long, 0])
            bar.set(shapes.path(shapes.bar(at[0], at[1] - 0.3 * row, max(end[0], at[0] + 1), at[1] + 0.3 * row)))  # fmt: skip
            text.text.set_color(color)
            text.set(end, units.show(share, "percent"), (6, 0), "left")

    # -- gauges -------------------------------------------------------------------------

    def _strip(self):
        """Under the drawing, for springs: share, stress and travel against their limits."""
        look = self.look
        strip = layout.drawing(self.figure, look, (16, 38, 616, 62), center=(308, 31), scale=1.0)
        kinds = (
            ("share", "lightest driver", (0, 1), LEAST_SHARE, "above"),
            ("stress", "stress in the wire", (0, 2), 1, "below"),
            ("spare", "travel to the nearer stop", (0, 3), 1, "above"),
        )
        self.gauges = {
            name: self.moves(Gauge(strip, look, (2 + 216 * k, 14), 180, words, ends=ends, limit=limit, good=good))
            for k, (name, words, ends, limit, good) in enumerate(kinds)
        }  # fmt: skip

    def _move_strip(self, state):
        system = self.look.system
        self.gauges["share"].set(state.share, units.show(state.share, "percent"))
        sprung = state.kind == "sprung"
        stress = units.show(state.stress, "stress", system, 0) if sprung else "no springs"
        spare = units.show(max(state.spare, 0.0), "length", system) if sprung else "no springs"
        self.gauges["stress"].set(state.stress / state.allowed, stress)
        self.gauges["spare"].set(state.spare / max(state.unevenness, AIR), spare)
        for name in ("stress", "spare"):
            self.gauges[name].pointer.set_visible(sprung)
            if not sprung:
                self.gauges[name].text.set_color(self.look.color("quiet"))

    def move(self, state):
        """Rail, frame, loads, contact."""
        x, rail = self._rail_top(state)
        floor = np.full(2, -self.reach - self.rail)
        self.ground.set(shapes.path(np.column_stack([np.r_[x, x[-1], x[0]], np.r_[rail, floor]])))
        self._move_frame(state)
        level = -self.reach - self.rail + self.look.spread(9) * shop.per_pixel(self.axes)[1]
        at = self.places[state.axle - 1], level
        self.joint.show(abs(state.joint) > AIR)
        height = units.show(abs(state.joint), "length", self.look.system)
        words = f"{'joint' if state.joint > 0 else 'dip'} {height}"
        self.joint.set(at, words, (self.look.spread(7), 0))
        self._move_fields(state)
        if not self.hall:
            self._move_strip(state)
