"""Lines and areas that move: one path, one pen, drawn with nothing in between.

matplotlib's own lines and patches spend most of a quarter of a millisecond each on what a
moving mark never needs (markers, hatching, units, snapping groups); a picture has forty.
"""

from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.colors import to_rgba
from matplotlib.path import Path

_NOTHING = Path(np.zeros((0, 2)))


class Stroke(Artist):
    """A path in the axes' units, with a pen [px] and perhaps a fill."""

    def __init__(
        self, *, color="none", lw=0.0, ls="solid", fill="none", alpha=1.0, cap="round", zorder=3
    ):
        super().__init__()
        self.path, self.pen, self.cap = _NOTHING, lw, cap
        self.dash = None if ls == "solid" else [lw * length for length in ls[1]]
        self.opacity = alpha
        self.set_color(color)
        self.set_facecolor(fill)
        self.set_zorder(zorder)

    def set_path(self, path):
        """Draw that path."""
        self.path = path

    def set_data(self, x, y):
        """Draw through those points; a NaN lifts the pen."""
        self.path = Path(np.column_stack([x, y]))

    def set_color(self, color):
        """Draw with another pen."""
        self.color = to_rgba(color, None if color == "none" else self.opacity)

    def set_facecolor(self, color):
        """Fill with another color."""
        self.fill = None if color == "none" else to_rgba(color)

    def draw(self, renderer):
        """One path, clipped to the axes."""
        if not self.get_visible() or self.path is _NOTHING:
            return
        axes: Any = self.axes
        context = renderer.new_gc()
        context.set_clip_rectangle(axes.bbox)
        context.set_linewidth(self.pen)
        context.set_foreground(self.color, isRGBA=True)
        context.set_capstyle(self.cap if self.dash is None else "butt")
        context.set_joinstyle("round")
        if self.dash:
            context.set_dashes(0.0, self.dash)
        renderer.draw_path(context, self.path, axes.transData.get_affine(), self.fill)
        context.restore()
