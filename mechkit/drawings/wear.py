"""A worm pair cut through the mesh: what is rubbed away from which flank, and who lasts."""

import numpy as np

from mechkit import units
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.picture import Picture
from mechkit.drive.model import read
from mechkit.drive.questions.wear import PAIRS

#: Decades that are all marked; of more, every second or third one.
MARKED = 6


class WearPicture(Picture):
    """Left the mesh, magnified; right the pairs of materials on one scale."""

    hall_height = 364

    def build(self):
        """Axes, marks, scale of the bars."""
        look, hall = self.look, self.look.size == "hall"
        self.hall = hall
        foot = 6 if hall else 40
        worm = read.worm_of(self.setting.state)
        gear = self.setting.state.gears[0]
        self.module, self.teeth = worm.module, gear.teeth
        self.angle = self.setting.state.mesh.pressure_angle.value
        self.pitch = self.module * self.teeth / 2
        box = (14, foot, 520, self.height - foot - 8)
        scale = 4.1 * np.pi * self.module / box[2]
        self.axes = layout.drawing(self.figure, look, box, scale=scale)
        self._mesh()
        self._bars(foot)
        if not hall:
            unit = units.label("length", look.system)
            words = f"cut through the mesh, {2e-3 / scale / 5.6:.0f} : 1 on this screen"
            layout.title_block(self.figure, look, ["Worm and gear, as they wear", words, unit])

    # -- the mesh -----------------------------------------------------------------------

    def _mesh(self):
        axes, look = self.axes, self.look
        self.lost_gear = self.moves(
            shop.Outline(
                axes, look, fill=look.color("danger"), weight="thin", meaning="danger", zorder=2
            )
        )
        self.lost_worm = self.moves(
            shop.Outline(
                axes, look, fill=look.color("danger"), weight="thin", meaning="danger", zorder=2
            )
        )
        self.gear = self.moves(shop.Section(axes, look, "brass", zorder=3))
        self.worm = self.moves(shop.Section(axes, look, "brass", zorder=3))
        self.gap = self.moves(shop.Dimension(axes, look))
        left, right = axes.get_xlim()
        low, high = axes.get_ylim()
        shop.CenterLine(axes, look).set(
            (left + 0.02 * (right - left), 0), (right - 0.02 * (right - left), 0)
        )
        pixel = shop.per_pixel(axes)
        edge = look.spread(34) * pixel[1]  # free paper above and below for the names
        self.bottom, self.top = low + edge, high - edge
        step, beside = np.pi * self.module, left + look.spread(16) * pixel[0]
        self.names = []
        for number, level, part in ((1, high - edge / 2, (-1.5 * step, self.top - edge / 3)),
                                    (2, low + edge / 2, (-1.5 * step, self.bottom + edge / 3))):  # fmt: skip
            balloon = self.moves(shop.Balloon(axes, look, number))
            balloon.set((beside, level), part)
            words = self.moves(shop.Words(axes, look, "value", strong=True))
            self.names.append((words, (beside + look.spread(20) * pixel[0], level)))

    def _gear_outline(self, depth):
        """The gear's upper teeth, the left flanks worn by a depth: an involute turns as it wears."""
        whole = shapes.gear((0.0, -self.pitch), self.module, self.teeth,
                            pressure_angle=self.angle, angle=np.pi / 2 + np.pi / self.teeth)  # fmt: skip
        tooth = whole.reshape(self.teeth, -1, 2)
        half = tooth.shape[1] // 2
        turn = depth / (self.pitch * np.cos(self.angle))
        worn = tooth.copy()
        worn[:, half:] = shapes.turned(tooth[:, half:], -turn, (0.0, -self.pitch))
        worn = self._pointed(worn, half)
        keep = [(k + self.teeth // 2 + 1) % self.teeth for k in range(self.teeth)]
        near = np.concatenate([worn[k] for k in keep if worn[k][:, 1].max() > -3.2 * self.module])
        order = np.argsort(-near.reshape(-1, tooth.shape[1], 2)[:, 0, 0], kind="stable")
        near = near.reshape(-1, tooth.shape[1], 2)[order].reshape(-1, 2)
        near[:, 1] = np.maximum(near[:, 1], self.bottom)  # the cut through the gear's body
        ends = [(near[-1, 0], self.bottom), (near[0, 0], self.bottom)]
        return np.vstack([near, ends])

    def _pointed(self, teeth, half):
        """Teeth that end where their two flanks meet, if these cross below the tips."""
        arms = teeth - np.array([0.0, -self.pitch])
        right, left = arms[:, :half], arms[:, : half - 1 : -1]  # both from the root up
        gone = right[..., 0] * left[..., 1] - right[..., 1] * left[..., 0] <= 0
        if not gone.any():
            return teeth
        last = max(int(gone.any(axis=0).argmax()) - 1, 0)  # alike on every tooth
        point = (teeth[:, last] + teeth[:, -1 - last]) / 2
        teeth = teeth.copy()
        teeth[:, last + 1 : len(teeth[0]) - 1 - last] = point[:, None]
        return teeth

    def _worm_outline(self, depth, along):
        """The worm's lower thread, the right flanks worn by a depth, moved along its axis."""
        count = 9
        rack = shapes.rack((0.0, 0.0), self.module, count, pressure_angle=self.angle)
        tooth = rack.reshape(count, 4, 2) * (1, -1)
        tooth[:, :, 0] += along - np.pi * self.module * (count // 2)
        tooth[:, 2:, 0] -= depth / np.cos(self.angle)
        over = tooth[0, 1, 0] - tooth[0, 2, 0]
        if over > 0:  # the flanks cross below the crest: a pointed thread
            tooth[:, 1:3, 0] = tooth[:, 1:3, 0].mean(axis=1, keepdims=True)
            tooth[:, 1:3, 1] += over / 2 / np.tan(self.angle)
        points = tooth.reshape(-1, 2)
        ends = [(points[-1, 0], self.top), (points[0, 0], self.top)]
        return np.vstack([points, ends])

    def _move_mesh(self, state):
        worm, gear = state.worm_depth * state.left, state.gear_depth * state.left
        along = (worm + gear) / np.cos(self.angle)
        self.gear.material(state.gear_material)
        self.worm.material(state.worm_material.removeprefix("hardened "))
        self.gear.set(shapes.path(self._gear_outline(gear)))
        self.worm.set(shapes.path(self._worm_outline(worm, along)))
        self.lost_gear.set(shapes.path(self._gear_outline(0.0)))
        self.lost_worm.set(shapes.path(self._worm_outline(0.0, along)))
        flank = -np.pi * self.module / 4
        pixel = shop.per_pixel(self.axes)[1]
        level = -1.62 * self.module - 6 * pixel
        self.gap.show(state.left == 1.0 and along > 0.025 * self.module)
        self.gap.set(
            (flank, 0), (flank + along, 0), level, units.show(along, "length", self.look.system)
        )
        parts = (
            (state.worm_material, "worm", state.worm_depth),
            (state.gear_material, "gear", state.gear_depth),
        )
        for (words, at), (name, part, depth) in zip(self.names, parts, strict=True):
            gone = units.show(
                depth, "micron", self.look.system, 0 if self.look.system == "metric" else 2
            )
            words.set(
                at,
                f"{name} {part}: {gone} off the flank"
                if state.left == 1.0
                else f"{name} {part}: worn out",
                (0, 0),
                "left",
            )

    # -- the bars -----------------------------------------------------------------------

    def _bars(self, foot):
        look, (low, high_end) = self.look, self.setting.decades
        self.decades = low, high_end
        left = 556 if self.hall else 560
        label = look.spread(152)
        wide = 1040 - left - label - look.spread(22)
        bottom = foot + look.spread(44)
        high = self.height - bottom - look.spread(46)
        self.field = layout.field(self.figure, look, (left + label, bottom, wide, high), x=self.decades, y=(-0.6, len(PAIRS) + 0.8),
                                  across="times as long as the pair as it is", up="")  # fmt: skip
        most = MARKED // 2 if self.hall else MARKED
        every = -(-(high_end - low) // most)
        decades = [k for k in range(low, high_end + 1) if k % every == 0]
        self.field.set_xticks(decades, [_power(k) for k in decades])
        self.field.set_yticks([])
        shop.Outline(
            self.field, look, [(0, -0.6), (0, len(PAIRS) + 0.8)], weight="visible", meaning="before"
        )
        shop.Words(self.field, look, "note", "before").set(
            (0, len(PAIRS) + 0.8), "as it is", (0, 10), "center"
        )
        pixel = shop.per_pixel(self.field)[0]
        self.rows = []
        for k, pair in enumerate(("yours", *PAIRS)):
            level = len(PAIRS) - k
            yours = k == 0
            name = self.moves(
                shop.Words(self.field, look, "note", "after" if yours else "ink", strong=yours)
            )
            bar = self.moves(
                shop.Outline(
                    self.field, look, weight="curve", meaning="after" if yours else "quiet"
                )
            )
            dot = self.moves(shop.Outline(self.field, look, weight="visible", meaning="after" if yours else "ink",
                                          fill=look.color("after" if yours else "sheet")))  # fmt: skip
            self.rows.append((level, name, bar, dot, pair))
        self.label_at = low - 10 * pixel

    def move(self, state):
        """Flanks and bars."""
        self._move_mesh(state)
        size = shop.per_pixel(self.field)
        mine = state.worm_material, state.gear_material
        levels = {pair: level for level, *_, pair in self.rows}
        for level, name, bar, dot, pair in self.rows:
            yours = pair == "yours"
            for part in (name, bar, dot):  # the chosen pair is lit where it stands in the list
                part.show(pair != mine)
            level = levels.get(mine, level) if yours else level
            ratio = state.ratio if yours else state.ratios[PAIRS.index(pair)]
            first, second = mine if yours else pair
            low, middle, high = np.clip(np.log10(ratio), *self.decades)
            name.set((self.label_at, level), f"{first} on {second}", (0, 0), "right")
            bar.set([(low, level), (high, level)])
            dot.set(shapes.path(shapes.circle((0, 0), 9, 20) * size + (middle, level)))


def _power(k):
    """A power of ten as it stands under the bars.

    >>> _power(-2), _power(0), _power(1)
    ('1/100', '1', '10')
    """
    number = f"{10 ** abs(k):,}".replace(",", "\u2009")
    return f"1/{number}" if k < 0 else number
