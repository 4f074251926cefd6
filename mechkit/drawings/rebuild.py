"""One throttle, two drives: speed over volts, and how far each rolls when the power is cut."""

import numpy as np
from matplotlib.ticker import MaxNLocator

from mechkit import units
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.picture import Picture
from mechkit.drive.questions.reach import round_up

#: The least track under the engines, in engine lengths ahead of where the power is cut.
SHORTEST = 2.0


class RebuildPicture(Picture):
    """Left the field of speed over volts; right both engines to scale on one track."""

    hall_height = 360

    def build(self):
        """Field, readings, tracks."""
        look, hall = self.look, self.look.size == "hall"
        self.hall = hall
        foot = 12 if hall else 44
        self.top = round_up(1.04 * units.shown(self.setting.fastest, "speed", look.system), 5.0)
        self.reach = round_up(self.setting.farthest, SHORTEST)
        left, wide = (62, 430) if hall else (54, 460)
        bottom = foot + look.spread(34)
        unit = units.label("speed", look.system)
        self.field = layout.field(
            self.figure, look, (left, bottom, wide, self.height - bottom - look.spread(40)),
            x=(0, self.setting.most), y=(0, self.top), across="volts", up=f"scale {unit}",
        )  # fmt: skip
        marks = MaxNLocator(4 if hall else 8, steps=[1, 2, 4, 5, 10]).tick_values(
            0, self.setting.most
        )
        self.field.set_xticks([mark for mark in marks if mark <= self.setting.most])
        for measured, meaning in (("measured_before", "before"), ("measured_after", "measured")):
            readings = self.setting.readings(getattr(self.setting.sheet, measured))
            for volts, speed in readings:
                self._dot(volts, units.shown(speed, "speed", look.system), meaning)
        wanted = self.setting.sheet.locomotive.top_speed.value
        level = units.shown(wanted, "speed", look.system)
        shop.Outline(
            self.field,
            look,
            [(0, level), (self.setting.most, level)],
            weight="thin",
            meaning="limit",
        )
        shop.Words(self.field, look, "note", "limit").set(
            (0.015 * self.setting.most, level), "the full-size engine", (0, 8), "left"
        )
        self.bands = {
            name: self.moves(shop.Outline(self.field, look, weight="thin", meaning=name))
            for name in ("before", "after")
        }
        self.curves = {
            name: self.moves(shop.Outline(self.field, look, weight="curve", meaning=name, zorder=4))
            for name in ("before", "after")
        }
        self.notch = self.moves(shop.Outline(self.field, look, weight="thin", zorder=5))
        self.speeds = {
            name: self.moves(shop.Words(self.field, look, "value", name, strong=True))
            for name in ("before", "after")
        }
        self._tracks(foot)
        if not hall:
            layout.title_block(
                self.figure,
                look,
                ["One throttle, before and after", "dots: readings", f"scale {unit}"],
            )

    def _dot(self, volts, speed, meaning):
        """A reading: a small open ring."""
        pixel = shop.per_pixel(self.field)
        ring = shapes.circle((0, 0), 7 * (1.4 if self.hall else 1.0), 24) * pixel + (volts, speed)
        shop.Outline(
            self.field, self.look, shapes.path(ring), weight="visible", meaning=meaning, zorder=6
        )

    def _tracks(self, foot):
        """Two stretches of the same track, an engine on each."""
        look = self.look
        left, wide = (560, 470) if self.hall else (560, 456)
        high = (self.height - foot - look.spread(20)) / 2
        self.tracks = {}
        for name, level in (("before", foot + high), ("after", foot)):
            axes = layout.drawing(self.figure, look, (left, level, wide, high), scale=1.0)
            pixel = (1.1 + self.reach) / wide
            axes.set(xlim=(-1.1, self.reach), ylim=(-high * 0.34 * pixel, high * 0.66 * pixel))
            axes.axhline(0, **look.stroke("thin", "quiet"))
            marks = MaxNLocator(
                2 if self.hall else 4, steps=[1, 2, 5, 10], integer=True
            ).tick_values(0, self.reach)
            marks = [mark for mark in marks if 0 <= mark <= self.reach]
            for place, mark in enumerate(marks):
                axes.plot([mark] * 2, [0, -5 * pixel], **look.stroke("thin", "quiet"))
                unit = "engine length" if mark == 1 else "engine lengths"
                words = ["power cut", f"{mark:.0f} {unit}", f"{mark:.0f}"][min(place, 2)]
                if name == "after" or place == 0:
                    axes.text(
                        mark,
                        -8 * pixel,
                        words,
                        ha="right" if mark == self.reach else "center",
                        va="top",
                        **look.words("note", "quiet"),
                    )
            shop.Outline(
                axes, look, shapes.path(*shapes.engine((0.0, 0.0), 1.0)), weight="thin", meaning="quiet",
                fill=look.color("ruling"), zorder=2,
            )  # fmt: skip
            engine = self.moves(shop.Outline(axes, look, weight="visible", meaning=name, zorder=4))
            words = self.moves(shop.Words(axes, look, "value", name, strong=True))
            above = max(0.42, 0.5 * high * pixel)
            self.tracks[name] = (engine, words, (look.spread(5) * pixel - 1.1, above))

    def move(self, state):
        """Curves, the notch, engines where they come to rest."""
        system, top = self.look.system, self.top
        volts = self.setting.volts
        self.notch.set([(state.voltage, 0), (state.voltage, top)])
        answers = {"before": state.before, "after": state.planned}
        levels = {}
        for name, one in answers.items():
            low, high, curve = (
                np.minimum(units.shown(line, "speed", system), 2 * top)
                for line in (one.low, one.high, one.curve)
            )
            gap = [(np.nan, np.nan)]
            self.bands[name].set(
                np.vstack([np.column_stack([volts, low]), gap, np.column_stack([volts, high])])
            )
            self.curves[name].set(np.column_stack([volts, curve]))
            levels[name] = units.shown(one.speed.value, "speed", system)
        apart = 0.07 * top * (1.4 if self.hall else 1.0)
        upper = max(levels, key=levels.__getitem__)
        near = max(levels.values()) - min(levels.values()) < apart
        share = state.voltage / self.setting.most
        for name, one in answers.items():
            self._move_track(name, one)
            # of an engine that does not move its track says so; here it would lie on the curves
            moves = one.runs and not one.slips
            text = units.show(one.speed.value, "speed", system) if moves else ""
            at = (state.voltage, min(max(levels[name], 0.04 * top), 0.97 * top))
            # a curve rises: left of the notch it is clear above it, right of it below
            left = share > 0.12 and (share > 0.87 or (name == upper if near else share > 0.72))
            lift = 14 if left else -14 if at[1] > 0.1 * top else 0
            if near:
                lift = 14 if name == upper else -14
            beside, ha = ((-8, lift), "right") if left else ((8, lift), "left")
            self.speeds[name].set(at, text, beside, ha)

    def _move_track(self, name, one):
        """Where one engine comes to rest."""
        engine, words, at = self.tracks[name]
        label = "as it is" if name == "before" else "as planned"
        far = one.coast.value / self.setting.length
        engine.set(shapes.path(*shapes.engine((min(far, self.reach), 0.0), 1.0)))
        does = f"rolls {one.coast.say(self.look.system)}" if one.runs else "does not start"
        words.set(at, f"{label}: {'its drivers slip' if one.slips else does}")
