"""A gauge: where a value stands between its ends, and which side of its limit."""

import numpy as np

from mechkit.drawings import shapes
from mechkit.drawings.shop import Mark


class Gauge(Mark):
    """A ruled line with a pointer; beyond the limit the line is drawn in the limit's color.

    The axes are in pixels (`layout.drawing` with a scale of 1).  ``good`` says on which side
    of the limit the value may stand: ``"above"`` or ``"below"``.
    """

    def __init__(self, axes, look, at, length, words, *, ends, limit, good="above", zorder=4):
        super().__init__(axes, look, zorder)
        self.at, self.length, self.ends = np.asarray(at, float), length, ends
        self.limit, self.good = limit, good
        x, y = self.at
        low, high = (x, self.place(limit)) if good == "above" else (self.place(limit), x + length)
        for weight, meaning, across, up in (
            ("thin", "quiet", [x, x + length], [y, y]),
            ("curve", "limit", [low, high], [y, y]),
            ("thin", "limit", [self.place(limit)] * 2, [y - 6, y + 6]),
        ):
            self._line(weight, meaning, ls="solid").set_data(across, up)
        axes.text(x, y + look.spread(12), words, va="bottom", **look.words("note", "quiet"))
        self.artists = []  # all so far stands
        self.pointer = self._area()
        self.text = self._letters("note", strong=True, ha="right", va="bottom")

    def place(self, value):
        """Where a value stands along the line [px]; held at its ends."""
        low, high = self.ends
        return self.at[0] + self.length * np.clip((value - low) / (high - low), 0, 1)

    def set(self, value, text):
        """Point at a value and write it."""
        holds = value >= self.limit if self.good == "above" else value <= self.limit
        color = self.look.color("ink" if holds else "danger")
        tip, size = np.array([self.place(value), self.at[1] + 2]), self.look.spread(8)
        self.pointer.set_path(shapes.path(tip + size * np.array([(0, 0), (-0.5, 1), (0.5, 1)])))
        self.pointer.set_facecolor(color)
        self.text.set_color(color)
        self.text.set_line(self.at + np.array([self.length, self.look.spread(12)]), text)
