"""Type as outlines: measured and drawn in a fraction of a millisecond.

matplotlib lays out and rasters every new string afresh, which takes 3 ms; a picture with ten
changing values would be late.  Here each letter's outline is read from the font once, and a
string is one path of them.  The house typeface first, DejaVu Sans for what it lacks.
"""

from functools import cache, lru_cache
from pathlib import Path as File
from typing import NamedTuple

import matplotlib as mpl
import numpy as np
from matplotlib.artist import Artist
from matplotlib.backend_bases import GraphicsContextBase
from matplotlib.colors import to_rgba
from matplotlib.ft2font import FT2Font, LoadFlags
from matplotlib.path import Path
from matplotlib.transforms import Affine2D, Bbox

from mechkit.drawings.stroke import to_pixels
from mechkit.drawings.style import FONTS

_SOURCES = {
    False: (FONTS / "BarlowSemiCondensed-Regular.ttf", "DejaVuSans.ttf"),
    True: (FONTS / "BarlowSemiCondensed-SemiBold.ttf", "DejaVuSans-Bold.ttf"),
}
DATA = File(mpl.get_data_path())
#: Where the anchor of a line lies, in ems over its baseline: capitals are 0.70 high.
_RISE = {"bottom": -0.20, "baseline": 0.0, "center": 0.35, "top": 0.72}
_PEN = GraphicsContextBase()
_PEN.set_linewidth(0)
_SHIFT = {"left": 0.0, "center": 0.5, "right": 1.0}


class Line(NamedTuple):
    """A string as one path, in ems from its baseline's left end, and its width."""

    path: Path
    width: float


@cache
def _faces(strong):
    """The fonts to ask, in order, at a hundred pixels an em."""
    own, fallback = _SOURCES[strong]
    faces = [FT2Font(str(file)) for file in (own, DATA / "fonts" / "ttf" / fallback)]
    for face in faces:
        face.set_size(100, 72)
    return faces


@cache
def _letter(letter, strong):
    """Outline, codes and advance of one letter, in ems."""
    faces = _faces(strong)
    face = next((face for face in faces if ord(letter) in face.get_charmap()), faces[-1])
    glyph = face.load_char(ord(letter), flags=LoadFlags.NO_HINTING)
    points, codes = face.get_path()
    return np.reshape(points, (-1, 2)) / 100, codes, glyph.linearHoriAdvance / 65536 / 100


@lru_cache(2048)
def line(text, strong=False):
    """A string as one path."""
    points, codes, pen = [np.zeros((0, 2))], [np.zeros(0, np.uint8)], 0.0
    for letter in text:
        outline, kinds, advance = _letter(letter, strong)
        points.append(outline + np.array([pen, 0.0]))
        codes.append(kinds)
        pen += advance
    return Line(Path(np.concatenate(points), np.concatenate(codes)), pen)


def text_width(text, size, strong=False):
    """Width of a line of type [px].

    >>> text_width("12.00", 10) == text_width("98.76", 10)
    True
    """
    return size * line(text, strong).width


class Lettering(Artist):
    """A line of type that changes: anchored at a point of the axes, turned or level."""

    def __init__(self, look, kind="value", meaning="ink", strong=False, *, ha="left", va="baseline",
                 upright=False, zorder=6):  # fmt: skip
        super().__init__()
        self.size, self.strong, self.upright = look.type(kind), strong, upright
        self.color, self.text, self.at = to_rgba(look.color(meaning)), "", (0.0, 0.0)
        self.ha, self.va = ha, va
        self.set_zorder(zorder)

    def set_line(self, at, text, *, ha=None):
        """Write it there."""
        self.at, self.text, self.ha = at, text, ha or self.ha

    def set_color(self, color):
        """Write in another color."""
        self.color = to_rgba(color)

    def _place(self, renderer):
        """From ems at the baseline's left end to pixels of the image."""
        size = renderer.points_to_pixels(self.size)
        scale, offset = to_pixels(self.axes)
        x, y = scale * self.at + offset
        back = -_SHIFT[self.ha] * size * line(self.text, self.strong).width
        down = -_RISE[self.va] * size
        if self.upright:
            place = [(0.0, -size, x - down), (size, 0.0, y + back), (0.0, 0.0, 1.0)]
        else:
            place = [(size, 0.0, x + back), (0.0, size, y + down), (0.0, 0.0, 1.0)]
        return Affine2D(np.array(place))

    def box(self, renderer):
        """What the letters cover, in pixels of the image."""
        path = line(self.text, self.strong).path
        # Type has points at its extremes; solving each curve for them takes a hundred times as long.
        points = self._place(renderer).transform(path.vertices[path.codes != Path.CLOSEPOLY])
        return Bbox([points.min(axis=0), points.max(axis=0)])

    def draw(self, renderer):
        """One path for all letters."""
        if not self.get_visible() or not self.text:
            return
        path = line(self.text, self.strong).path
        renderer.draw_path(_PEN, path, self._place(renderer), self.color)
