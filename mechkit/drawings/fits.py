"""A sleeve between shaft and worm, one joint under the lens, and the window that it must hit."""

import numpy as np

from mechkit import units
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.gauge import Gauge
from mechkit.drawings.picture import Picture
from mechkit.drive.decisions.fittings import HOLD
from mechkit.drive.decisions.workshop import BOND_GAP
from mechkit.drive.questions.fits import INCH_FIT, METRIC_FIT

#: Share of the window's axis, right of all that can be chosen, for the names of the spans.
NAMES = 0.3


class FitsPicture(Picture):
    """Left the parts, to scale, and one side of the joint enlarged; right what holds and what he holds."""

    hall_height = 340

    def build(self):
        """Worm and motor, the lens, the window."""
        look, hall, case = self.look, self.look.size == "hall", self.setting
        self.hall = hall
        across, along = (148, 200) if hall else (190, 236)
        self._parts = None
        # pixels for one meter, so that the longest and the widest worm go in
        self.zoom = min(across / case.worm_outside, along / max(case.worm_length, case.length))
        box = (10, 0, 590, self.height) if hall else (16, 38, 590, self.height - 38)
        self.axes = layout.drawing(self.figure, look, box, scale=1 / self.zoom)
        self._standing()
        self._marks()
        self._lens()
        self._window()
        if not hall:
            self._strip()
            unit = units.label("length", look.system)
            words = "Sleeve between shaft and worm, cut across and along"
            layout.title_block(self.figure, look, [words, "parts to scale", unit])

    def _size(self, value, kind="length", places=None):
        return units.show(value, kind, self.look.system, places)

    def _at(self, x, y):
        """A point of the drawing from pixels within its box."""
        (left, _), (low, _) = self.axes.get_xlim(), self.axes.get_ylim()
        return np.array([left, low]) + np.array([x, y]) / self.zoom

    # -- the parts ----------------------------------------------------------------------

    def _standing(self):
        """Center lines and the motor."""
        axes, look, case = self.axes, self.look, self.setting
        self.end = self._at(*((122, 221) if self.hall else (118, 292)))
        self.left = self._at(*((262, 0) if self.hall else (292, 0)))[0]  # the worm's free face
        self.face = self.left + case.worm_length + 14 / self.zoom
        right = axes.get_xlim()[1] - 6 / self.zoom
        half = 1.1 * case.worm_outside / 2
        boss = shapes.bar(
            self.face, self.end[1] - 0.4 * half, self.face + 8 / self.zoom, self.end[1] + 0.4 * half
        )
        body = shapes.broken(self.face + 8 / self.zoom, self.end[1] - half, right, self.end[1] + half,
                             ends="right", wave=3 / self.zoom)  # fmt: skip
        for part in (boss, body):
            shop.Outline(axes, look, shapes.path(part), fill=look.color("ruling"), zorder=2)
        self.moves(shop.CenterLine(axes, look)).cross(self.end, case.worm_outside)
        self.moves(shop.CenterLine(axes, look)).set(
            (self.left - 26 / self.zoom, self.end[1]), (self.face, self.end[1])
        )

    def _marks(self):
        """Worm, sleeve and shaft, twice, with their sizes."""
        axes, look, case = self.axes, self.look, self.setting
        made = case.worm_material
        self.across = {
            "worm": self.moves(shop.Section(axes, look, made, weight="light")),
            "sleeve": self.moves(shop.Section(axes, look, case.material)),
            "shaft": self.moves(shop.Section(axes, look, "steel")),
        }
        self.along = {
            "worm": self.moves(shop.Section(axes, look, made, weight="light")),
            "sleeve": self.moves(shop.Section(axes, look, case.material)),
        }
        self.shaft = self.moves(shop.Outline(axes, look, fill=look.tint("steel")))
        self.outside_size = self.moves(shop.Diameter(axes, look))
        self.shaft_size = self.moves(shop.Diameter(axes, look))
        self.length_size = self.moves(shop.Dimension(axes, look))
        self.balloons = (
            [] if self.hall else [self.moves(shop.Balloon(axes, look, n)) for n in (1, 2, 3)]
        )

    def _thread(self):
        """The worm's thread seen along the shaft: its outline at each angle, a cut across."""
        case = self.setting
        turn = np.linspace(0, 2 * np.pi, 121)[:-1]
        return (
            self.end
            + self._profile(turn / (2 * np.pi))[:, None]
            * np.column_stack([np.cos(turn), np.sin(turn)])
            * case.worm_outside
            / 2
        )

    def _profile(self, share):
        """Radius of the thread over the outside, ``share`` of a pitch along the shaft."""
        case = self.setting
        pitch = np.pi * case.worm_module
        away = np.abs((share + 0.5) % 1.0 - 0.5) * pitch  # from the middle of a tooth
        depth = (away - pitch / 4) / np.tan(np.radians(20))
        pitch_radius = case.worm_outside / 2 - case.worm_module
        radius = np.clip(pitch_radius - depth, case.worm_root / 2, case.worm_outside / 2)
        return radius / (case.worm_outside / 2)

    def _move_parts(self, state):
        case, end = self.setting, self.end
        core, half, root = state.shaft / 2, state.outside / 2, case.worm_outside / 2
        hole = shapes.circle(end, state.outside, 60)
        shaft = shapes.circle(end, state.shaft, 40)
        self.across["worm"].set(shapes.path(self._thread(), holes=[hole]))
        for drawn in (self.across["sleeve"], self.along["sleeve"]):
            drawn.material(state.material)
        self.across["sleeve"].set(shapes.path(hole, holes=[shaft]))
        self.across["shaft"].set(shapes.path(shaft))
        left, right, y = self.left, self.left + case.worm_length, end[1]
        x = np.linspace(left, right, 16 * round(case.worm_length / (np.pi * case.worm_module)) + 1)
        share = (x - left) / (np.pi * case.worm_module)
        halves = []
        for side, phase in ((1, 0.0), (-1, 0.5)):
            tops = y + side * self._profile(share + phase) * root
            halves.append(
                np.vstack(
                    [
                        np.column_stack([x, tops]),
                        [(right, y + side * half), (left, y + side * half)],
                    ]
                )
            )
        self.along["worm"].set(shapes.path(*halves))
        stop = left + state.length
        self.along["sleeve"].set(
            shapes.path(*(shapes.bar(left, y + s * core, stop, y + s * half) for s in (1, -1)))
        )
        self.shaft.set(shapes.path(shapes.broken(left - 20 / self.zoom, y - core, self.face, y + core,
                                                 ends="left", wave=2.5 / self.zoom)))  # fmt: skip
        rim = case.worm_outside / 2 + 15 / self.zoom
        for mark, size, angle, places in (
            (self.outside_size, state.outside, 66, 3),
            (self.shaft_size, state.shaft, 104, 2),
        ):
            turn = np.radians(angle)
            text = (
                f"Ø\u00a0{self._size(size, places=places if self.look.system == 'metric' else 3)}"
            )
            mark.set(end, size, turn, text, knee=rim / np.sin(turn))
        below = y - case.worm_outside / 2 - self.look.spread(26) / self.zoom
        self.length_size.set((left, y - half), (stop, y - half), below, self._size(state.length))
        above = y + case.worm_outside / 2 + 22 / self.zoom
        middle = (left + stop) / 2
        spots = [  # the balloon's x, and the point of its part
            (left - 8 / self.zoom, (left - 8 / self.zoom, y + 0.3 * core)),
            (left + 0.3 * case.worm_length, (middle, y + (core + half) / 2)),
            (
                right - 4 / self.zoom,
                (right - 0.12 * case.worm_length, y + 0.9 * case.worm_root / 2),
            ),
        ]
        for balloon, (x, part) in zip(self.balloons, spots, strict=False):
            balloon.set((x, above), part)

    # -- one side of the joint ----------------------------------------------------------

    def _lens(self):
        """The joint at the foot of the shaft, many times larger."""
        axes, look = self.axes, self.look
        self.radius = 49 if self.hall else 62
        self.lens = self._at(*((122, 54) if self.hall else (118, 74)))
        self.above = self.moves(shop.Section(axes, look, "steel", weight="light"))
        self.below = self.moves(shop.Section(axes, look, self.setting.material, weight="light"))
        self.between = self.moves(shop.Outline(axes, look, weight="light", zorder=3.5))
        self.limit = self.moves(
            shop.Outline(axes, look, weight="visible", meaning="limit", zorder=4)
        )
        self.ring = self.moves(shop.Outline(axes, look, self._slice(-1e9, 1e9), zorder=4.5))
        self.to_lens = self.moves(shop.Outline(axes, look, weight="thin", zorder=5))
        self.lens_words = [self.moves(shop.Words(axes, look, kind, strong=strong))
                           for kind, strong in (("value", True), ("note", False))]  # fmt: skip

    def _slice(self, low, high):
        """The part of the lens between two heights [px from its middle]."""
        low, high = np.clip([low, high], -self.radius, self.radius)
        first, last = np.arcsin(np.array([low, high]) / self.radius)
        size = 2 * self.radius / self.zoom
        right = shapes.arc(self.lens, size, first, last, 30)
        left = shapes.arc(self.lens, size, np.pi - last, np.pi - first, 30)
        return shapes.path(np.vstack([right, left]))

    def _move_lens(self, state):
        # pixels for a meter across the joint: half of the widest fills three fifths of the lens
        reach = self.setting.interferences if state.pressed else self.setting.gaps
        scale = 1.2 * self.radius / (reach.high / 2) / 2
        half = state.difference / 4 * scale  # half of one side's share
        shaft, bore = (
            -half,
            half,
        )  # heights of the shaft's foot and of the bore, overlapping in a press
        self.above.set(self._slice(max(shaft, bore), 1e9))
        self.below.material(state.material)
        self.below.set(self._slice(-1e9, min(shaft, bore)))
        self.between.set(self._slice(min(shaft, bore), max(shaft, bore)))
        tone = "groove"
        if state.pressed:
            tone = "danger" if state.yielded else "after"
        self.between.patch.set_facecolor(self.look.color(tone))
        self.limit.show(state.pressed)
        if state.pressed:
            height = state.yields / 4 * scale
            lines = []
            for level in (height, -height):
                if abs(level) < self.radius:
                    wide = np.sqrt(self.radius**2 - level**2)
                    lines += [(-wide, level), (wide, level), (np.nan, np.nan)]
            lines = lines or [(np.nan, np.nan)]
            self.limit.set(self.lens + np.array(lines) / self.zoom)
        foot, spot, wide = self.end - (0, state.shaft / 2), 7 / self.zoom, self.radius / self.zoom
        rays = [
            [
                foot + np.array([side * spot, 0]),
                self.lens + np.array([side * wide, 0]),
                (np.nan, np.nan),
            ]
            for side in (1, -1)
        ]
        self.to_lens.set(
            np.vstack([shapes.arc(foot, 2 * spot, 0, 2 * np.pi), [(np.nan, np.nan)], *rays])
        )
        across = abs(state.difference) / 2
        places = None if self.look.system == "metric" else 3
        side = self._size(across, "micron", places)
        enlarged = round(scale / self.zoom, -1)
        what = "of overlap" if state.pressed else "of compound"
        edge = self.lens + np.array([self.radius, 0]) / self.zoom
        up = 8 if self.hall else 40
        self.lens_words[0].set(edge, f"{side} {what}", (14, up))
        self.lens_words[1].set(
            edge,
            f"on each side, drawn {enlarged:.0f} times larger",
            (14, up - self.look.spread(18)),
        )

    # -- what holds and what he holds ---------------------------------------------------

    def _window(self):
        """The axis of differences, and a bar for everything that has a span on it."""
        look, hall = self.look, self.hall
        box = (
            (630, 62, 390, self.height - 62 - 46) if hall else (640, 84, 376, self.height - 84 - 62)
        )
        tight, wide = self.setting.interferences.high, self.setting.gaps.high
        self.names_at = 1.2 * tight
        right = self.names_at + NAMES / (1 - NAMES) * (self.names_at + 1.17 * wide)
        shown = units.shown(np.array([-1.17 * wide, right]), "fine", look.system)
        self.field = layout.field(self.figure, look, box, x=shown, y=(0, 5), up="",
                                  across=f"shaft larger than bore, {units.label('fine', look.system)}")  # fmt: skip
        self.field.spines["left"].set_visible(False)
        self.field.set_yticks([])
        self.yield_zone = self.moves(shop.Outline(self.field, look, weight="thin", meaning="ruling", zorder=1,
                                                  fill=look.color("ruling")))  # fmt: skip
        self.yield_lines = self.moves(shop.Outline(self.field, look, meaning="limit", zorder=2))
        shop.Outline(self.field, look, [(0, 0), (0, 5)], weight="thin", zorder=2)
        self.chosen = self.moves(
            shop.Outline(self.field, look, weight="visible", meaning="after", zorder=5)
        )
        self.bars = {name: shop.Outline(self.field, look, weight="light", meaning=meaning, zorder=4,
                                        fill=look.color(meaning))
                     for name, meaning in (("bond", "ink"), ("press", "ink"), ("metric", "quiet"),
                                           ("inch", "quiet"), ("lathe", "after"))}  # fmt: skip
        self.labels = {name: shop.Words(self.field, look, "note", "ink", strong=name == "lathe")
                       for name in self.bars}  # fmt: skip
        least, most = (self._size(end, "fine") for end in BOND_GAP)
        fills = f"compound fills {least.split(chr(0xA0))[0]} to {most}"
        self._bar("bond", 4, (-BOND_GAP[1], -BOND_GAP[0]), fills, above=True)
        for name in self.bars:  # the compound's stands, but over the zone that moves
            self.moves(self.bars[name])
            self.moves(self.labels[name])
        self.yield_words = self.moves(shop.Words(self.field, look, "note", "limit"))
        self.chosen_words = self.moves(
            shop.Words(self.field, look, "value", "after", strong=True, va="bottom")
        )

    def _bar(self, name, row, span, words, *, above=False):
        """One span on its row, with its words beyond its right end or over it."""
        low, high = (units.shown(end, "fine", self.look.system) for end in span)
        left, right = self.field.get_xlim()
        ends = np.clip([low, high], left, right)
        self.bars[name].set(shapes.path(shapes.bar(ends[0], row + 0.1, ends[1], row + 0.5)))
        if above:
            self.labels[name].set((left, row + 0.76), words)
        else:
            beyond = max(ends[1], units.shown(self.names_at, "fine", self.look.system))
            self.labels[name].set((beyond, row + 0.3), words, (6, 0))

    def _move_window(self, state):
        system = self.look.system
        metal = "steel" if state.material == "steel" else "brass"
        words = f"{metal} holds" if state.window > 0 else "never holds"
        yours = f"what you can hold, ±\u00a0{self._size(state.tolerance, 'fine')}"
        self._bar("press", 3, (state.needed, max(state.yields, state.needed)), words)
        self._bar("metric", 2, state.metric_fit, "/".join(METRIC_FIT))
        self._bar("inch", 1, state.inch_fit, f"inch {INCH_FIT}")
        self._bar("lathe", 0, state.spread, yours, above=True)
        right = self.field.get_xlim()[1]
        limit, late = (
            min(units.shown(end, "fine", system), right)
            for end in (state.yields, state.yields_late)
        )
        self.yield_zone.set(shapes.path(shapes.bar(limit, 0, right, 5)))
        self.yield_lines.set([(limit, 0), (limit, 5), (np.nan, np.nan), (late, 0), (late, 5)])
        self.yield_words.set((right, 4.75), "sleeve yields", (-4, 0), "right")
        x = units.shown(state.difference, "fine", system)
        self.chosen.set(
            [(x, 0), (x, 0.52), (np.nan, np.nan), (x, 0.96), (x, 4.52)]
        )  # clear of words
        words = f"gap {self._size(-state.difference + 0.0, 'fine')}"
        if state.pressed:
            words = (
                f"press {self._size(state.difference, 'micron', 1 if system == 'metric' else 3)}"
            )
        self.chosen_words.set((x, 5), words, (0, 6), "center")

    # -- beside the lens ----------------------------------------------------------------

    def _strip(self):
        """What the balloons mean, and two gauges."""
        look = self.look
        strip = layout.drawing(self.figure, look, (222, 40, 384, 76), center=(192, 38), scale=1.0)
        self.gauges = {
            "holds": Gauge(strip, look, (2, 30), 176, "holds", ends=(0, 20), limit=HOLD),
            "stress": Gauge(
                strip,
                look,
                (202, 30),
                176,
                "stress at the bore",
                ends=(0, 2),
                limit=1,
                good="below",
            ),
        }
        for gauge in self.gauges.values():
            self.moves(gauge)
        self.parts = self.moves(shop.Words(strip, look, "note", "quiet"))

    def _move_strip(self, state):
        self.gauges["holds"].set(state.times, f"{state.times:.0f}\u00a0× stalled motor")
        stress = self._size(state.stress, "stress", 0 if self.look.system == "metric" else 1)
        self.gauges["stress"].set(state.stress / state.strength, stress)
        names = ("shaft, steel", f"sleeve, {state.material}", f"worm, {self.setting.worm_material}")
        self.parts.set(
            (2, 8), "      ".join(f"{number}  {name}" for number, name in enumerate(names, 1))
        )

    def move(self, state):
        """Everything that follows the controls."""
        parts = (state.shaft, state.outside, state.length, state.material)
        if parts != self._parts:
            self._parts = parts
            self._move_parts(state)
        self._move_lens(state)
        self._move_window(state)
        if not self.hall:
            self._move_strip(state)
