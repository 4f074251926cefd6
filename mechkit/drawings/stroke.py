"""Lines and areas that move: one path, one pen, drawn with nothing in between.

matplotlib's own lines and patches spend most of a quarter of a millisecond each on what a
moving mark never needs (markers, hatching, units); a picture has forty of them.
"""

from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.backend_bases import GraphicsContextBase
from matplotlib.colors import to_rgba
from matplotlib.path import Path
from matplotlib.transforms import Affine2D

_PLACE = "mechkit_place"
_NOTHING = Path(np.zeros((0, 2)))


def to_pixels(axes):
    """From the units of linear axes to pixels of the image: scale and offset along x and y."""
    return axes.__dict__.get(_PLACE) or _place(axes)


def settle(axes):
    """Keep the place of axes whose limits stand until the next call: every mark asks for it."""
    axes.__dict__[_PLACE] = _place(axes)


def _place(axes):
    low, high = axes.viewLim.get_points()
    corner, opposite = axes.bbox.get_points()
    scale = (opposite - corner) / (high - low)
    return scale, corner - low * scale


class Stroke(Artist):
    """A path in the axes' units, with a pen [px] and perhaps a fill."""

    def __init__(
        self, *, color="none", lw=0.0, ls="solid", fill="none", alpha=1.0, cap="round", zorder=3
    ):
        super().__init__()
        self.path, self.opacity = _NOTHING, alpha
        self._pen = GraphicsContextBase()
        self._pen.set_linewidth(lw)
        self._pen.set_capstyle(cap if ls == "solid" else "butt")
        self._pen.set_joinstyle("round")
        if ls != "solid":
            self._pen.set_dashes(0.0, [lw * length for length in ls[1]])
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
        rgba = to_rgba(color, None if color == "none" else self.opacity)
        self._pen.set_foreground(rgba, isRGBA=True)

    def set_facecolor(self, color):
        """Fill with another color."""
        self.fill = None if isinstance(color, str) and color == "none" else to_rgba(color)

    def draw(self, renderer):
        """One path, clipped to the axes."""
        if not self.get_visible() or self.path is _NOTHING:
            return
        axes: Any = self.axes
        (x, y), (right, up) = to_pixels(axes)
        self._pen.set_clip_rectangle(axes.bbox)
        place = Affine2D(np.array([(x, 0.0, right), (0.0, y, up), (0.0, 0.0, 1.0)]))
        renderer.draw_path(self._pen, self.path, place, self.fill)
