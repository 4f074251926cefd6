"""A gear pair in mesh, whole and magnified, and what an unknown gear may be."""

import numpy as np

from mechkit import units
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.gauge import Gauge
from mechkit.drawings.picture import Picture

#: Rows of candidates that are shown.
ROWS = 4


class GearsPicture(Picture):
    """Left the pair, whole; in the middle its teeth, magnified; right the caliper's answer."""

    hall_height = 366

    def build(self):
        """Axes and marks."""
        look, hall = self.look, self.look.size == "hall"
        self.hall, case = hall, self.setting
        self.module = case.module
        self.z = case.first.teeth, case.second.teeth
        self.radius = self.module * self.z[0] / 2, self.module * self.z[1] / 2
        foot = 8 if hall else 42
        strip = 0 if hall else 72
        self._whole((12, foot + strip, 176, self.height - foot - strip - 10))
        self._teeth((196, foot + strip, 452, self.height - foot - strip - 10))
        self._candidates(foot)
        if not hall:
            self._strip((16, foot, 632, strip))
            unit = units.label("length", look.system)
            words = "The axle gear with its twin" if case.alone else "Two gears in mesh"
            layout.title_block(
                self.figure, look, [f"{words}, the lower one off center", "to scale", unit]
            )

    def _size(self, value, kind="length"):
        return units.show(value, kind, self.look.system)

    # -- the whole pair -----------------------------------------------------------------

    def _whole(self, box):
        look = self.look
        high = 2 * (self.radius[0] + self.radius[1] + 2.5 * self.module)
        wide = 2 * self.radius[1] + 4 * self.module
        beside = look.spread(20)  # for the dimension and its value
        scale = max(high / (box[3] - look.spread(30)), wide / (box[2] - beside))
        center = (-beside / 2 * scale, self.radius[0] - self.radius[1])
        self.whole = layout.drawing(self.figure, look, box, center=center, scale=scale)
        axes = self.whole
        self.pair = [self.moves(shop.Outline(axes, look, weight="light", fill=look.tint(m)))
                     for m in (self.setting.first.material, self.setting.second.material)]  # fmt: skip
        self.axles = [
            self.moves(shop.Outline(axes, look, weight="light", fill=look.tint("steel"), zorder=4))
            for _ in (0, 1)
        ]
        self.mark = self.moves(
            shop.Outline(axes, look, fill=look.color("ink"), weight="thin", zorder=5)
        )
        self.across = self.moves(shop.Dimension(axes, look, upright=True))

    def _move_whole(self, state, one, two):
        for outline, points in zip(self.pair, (one, two), strict=True):
            outline.set(shapes.path(points))
        axis = np.array([0.0, self.radius[0] - state.distance])
        top = np.array([0.0, self.radius[0]])
        for outline, at in zip(self.axles, (top, axis), strict=True):
            outline.set(shapes.path(shapes.circle(at, 4.5 * self.module, 40)))
        toward = np.array([np.sin(state.turn), np.cos(state.turn)])
        dot = axis + toward * (self.radius[1] - 2.2 * self.module)
        self.mark.set(shapes.path(shapes.circle(dot, 1.3 * self.module, 20)))
        edge = self.whole.get_xlim()[0] + self.look.spread(16) * shop.per_pixel(self.whole)[0]
        self.across.set(tuple(top), tuple(axis), edge, self._size(state.distance))

    # -- the teeth ----------------------------------------------------------------------

    def _teeth(self, box):
        look = self.look
        self.axes = layout.drawing(self.figure, look, box, scale=11.5 * self.module / box[2])
        axes = self.axes
        self.driven = self.moves(shop.Section(axes, look, self.setting.second.material, zorder=2))
        self.driver = self.moves(shop.Section(axes, look, self.setting.first.material, zorder=3))
        self.action = self.moves(shop.Outline(axes, look, weight="thin", meaning="quiet", zorder=5))
        self.used = self.moves(shop.Outline(axes, look, weight="curve", meaning="after", zorder=5))
        self.gap = self.moves(shop.Leader(axes, look, kind="value"))

    def _sector(self, points, teeth, side):
        """The teeth of a gear that the magnified view can show, closed beyond its edge."""
        tooth = points.reshape(teeth, -1, 2)
        (left, right), (low, high) = self.axes.get_xlim(), self.axes.get_ylim()
        reach = 0.75 * (right - left)
        middle = tooth.mean(axis=1)
        near = (np.abs(middle[:, 0]) < reach) & (side * middle[:, 1] < 0.6 * (high - low))
        seen = tooth[near]
        order = np.argsort(side * seen.mean(axis=1)[:, 0])  # as the outline runs
        row = seen[order].reshape(-1, 2)
        edge = (high if side > 0 else low) * 1.1
        return np.vstack([row, [(row[-1, 0], edge), (row[0, 0], edge)]])

    def _move_teeth(self, state, one, two, tooth_angle, centers):
        self.driver.set(shapes.path(self._sector(one, self.z[0], 1)))
        self.driven.set(shapes.path(self._sector(two, self.z[1], -1)))
        line = centers[0] - centers[1]
        along = line / np.hypot(*line)
        rim = state.near * self.z[0] / sum(self.z)
        pitch_point = centers[0] - along * rim
        right = np.array([along[1], -along[0]])
        slope = right * np.cos(state.working_angle) - along * np.sin(state.working_angle)
        far = 6 * self.module
        self.action.set([pitch_point - far * slope, pitch_point + far * slope])
        self.used.set([pitch_point - state.approach * slope, pitch_point + state.recess * slope])
        flank = tooth_angle - np.pi / (2 * self.z[0]) - state.backlash / (4 * rim)
        target = centers[0] + rim * np.array([np.cos(flank), np.sin(flank)])
        size = self._size(abs(state.backlash), "fine")
        self.gap.recolor("danger" if state.binds else "ink")
        words = f"binds by {size}" if state.binds else f"{size} of backlash"
        pixel = shop.per_pixel(self.axes)
        (left, _), (low, _) = self.axes.get_xlim(), self.axes.get_ylim()
        place = (left + self.look.spread(130) * pixel[0], low + self.look.spread(30) * pixel[1])
        self.gap.set(np.array(place), target, words)

    # -- the caliper's answer -----------------------------------------------------------

    def _candidates(self, foot):
        look = self.look
        left = 676
        label = look.spread(86)
        bottom = foot + look.spread(38) + (0 if self.hall else 20)
        high = self.height - bottom - look.spread(78)
        self.field = layout.field(self.figure, look, (left + label, bottom, 1040 - left - label - 30, high), x=(0, 100),
                                  y=(-0.5, ROWS - 0.5), across="how likely, %", up="")  # fmt: skip
        self.field.set_yticks([])
        self.field.set_xticks([0, 50, 100])
        read = self._size(self.setting.caliper)
        shop.Words(self.field, look, "note", "quiet").set(
            (100, -0.5), f"read to ±{read}", (0, 12), "right"
        )
        self.head = self.moves(shop.Words(self.field, look, "value", strong=True))
        self.none = self.moves(shop.Words(self.field, look, "value", "danger"))
        self.bars = [
            (
                self.moves(shop.Words(self.field, look, "note", strong=k == 0)),
                self.moves(
                    shop.Outline(
                        self.field,
                        look,
                        weight="thin",
                        fill=look.color("measured" if k == 0 else "quiet"),
                        meaning="quiet",
                    )
                ),
            )
            for k in range(ROWS)
        ]

    def _move_candidates(self, state):
        top = ROWS - 0.5
        pixel = shop.per_pixel(self.field)[0]
        edge = -10 * pixel
        text = f"{state.teeth:.0f} teeth, {self._size(state.outside)} over the tips"
        self.head.set((100, top), text, (0, self.look.spread(26)), "right")
        self.none.show(not state.standard)
        self.none.set((50, top / 2), "no standard gear", (0, 0), "center")
        for k, (words, bar) in enumerate(self.bars):
            level = ROWS - 1 - k
            known = state.standard and k < len(state.candidates)
            words.show(known)
            bar.show(known)
            if known:
                candidate = state.candidates[k]
                words.set((edge, level), candidate.designation, (0, 0), "right")
                bar.set(
                    shapes.path(
                        shapes.bar(
                            0, level - 0.22, max(100 * candidate.likelihood, 0.3), level + 0.22
                        )
                    )
                )

    # -- gauges -------------------------------------------------------------------------

    def _strip(self, box):
        look = self.look
        axes = layout.drawing(self.figure, look, box, center=(box[2] / 2, box[3] / 2), scale=1.0)
        self.gauges = (
            self.moves(
                Gauge(axes, look, (2, 18), 180, "contact ratio", ends=(0.8, 2.0), limit=1.2)
            ),
            self.moves(
                Gauge(
                    axes,
                    look,
                    (218, 18),
                    180,
                    "tightest place",
                    ends=(-0.15 * self.module, 0.45 * self.module),
                    limit=0.0,
                )
            ),
            self.moves(
                Gauge(axes, look, (434, 18), 180, "runout", ends=(0, 2), limit=1, good="below")
            ),
        )

    def move(self, state):
        """Both gears, the line of action, gauges and bars."""
        one, two, tooth, centers = placed(self.module, self.z, self.radius[0], state)
        self._move_whole(state, one, two)
        self._move_teeth(state, one, two, tooth, centers)
        self._move_candidates(state)
        if not self.hall:
            ratio, tight, runout = self.gauges
            ratio.set(state.contact_ratio, f"{state.contact_ratio:.2f}")
            tight.set(state.tightest, self._size(state.tightest, "fine"))
            swing = 2 * state.eccentricity
            share = swing / state.binding if state.binding else 2.0
            number = self._size(swing, "fine").split("\u00a0")[0]
            runout.set(share, f"{number} of {self._size(state.binding, 'fine')}")


def placed(module, teeth, radius, state):
    """Outlines of both gears as they touch, the upper one driving; its tooth's angle; centers."""
    top = np.array([0.0, radius])
    axis = np.array([0.0, radius - state.distance])
    low = axis + state.eccentricity * np.array([np.sin(state.turn), np.cos(state.turn)])
    line = top - low
    toward = np.arctan2(line[1], line[0])
    pointing = np.pi / 2 + np.pi / teeth[1] - state.turn
    space = pointing - np.pi / teeth[1] - toward
    step = 2 * np.pi / teeth[1]
    space -= step * np.round(space / step)  # the space nearest to the line of centers
    rim = state.near * teeth[0] / sum(teeth)
    tooth = toward + np.pi - space * teeth[1] / teeth[0] + state.backlash / 2 / rim
    draw = {"pressure_angle": state.pressure_angle}
    one = shapes.gear(top, module, teeth[0], angle=tooth, **draw)
    two = shapes.gear(low, module, teeth[1], angle=pointing, **draw)
    return one, two, tooth, (top, low)
