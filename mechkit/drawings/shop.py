"""What a shop drawing is made of: outlines, sections, dimensions, center lines, balloons.

Every mark is drawn once and then moved: ``mark.set(...)`` changes the data of its artists,
which stand in ``mark.artists``.  Positions are in the axes' own units (meters in a drawing);
gaps, arrows and type are in pixels of the page and do not grow with the part.
"""

import numpy as np
from matplotlib.path import Path

from mechkit.drawings import shapes
from mechkit.drawings.layout import per_pixel
from mechkit.drawings.lettering import Lettering, text_width
from mechkit.drawings.lining import section_lines
from mechkit.drawings.stroke import Stroke
from mechkit.drawings.style import lined

ARROW = 9.0  # length of an arrowhead [px]; a third as wide


class Mark:
    """Artists that belong together and are moved together."""

    def __init__(self, axes, look, zorder):
        self.axes, self.look, self.zorder = axes, look, zorder
        self.pixel = per_pixel(axes)
        self.artists = []
        self._key: tuple = ()

    def new(self, *key):
        """False where it is set just as it stands; then nothing has to be computed again."""
        key = (*self.pixel, *(np.ravel(k).tolist() if np.ndim(k) else k for k in key))
        if key == self._key:
            return False
        self._key = key
        return True

    def _line(self, weight, meaning="ink", **more):
        pen = self.look.stroke(weight, meaning)
        pen = {"color": pen["color"], "lw": pen["lw"], "ls": pen["ls"], "zorder": self.zorder}
        return self._add(Stroke(**(pen | more)))

    def _area(self, meaning="ink", **more):
        return self._add(
            Stroke(**({"fill": self.look.color(meaning), "zorder": self.zorder} | more))
        )

    def _add(self, artist):
        self.axes.add_artist(artist)
        self.artists.append(artist)
        return artist

    def _letters(self, kind="value", meaning="ink", strong=False, **more):
        letters = Lettering(self.look, kind, meaning, strong, zorder=self.zorder + 0.1, **more)
        return self._add(letters)

    def show(self, shown=True):
        """Put the mark on the sheet or take it off."""
        for artist in self.artists:
            artist.set_visible(shown)


class Outline(Mark):
    """A line around a part, or an open line; filled when a color is given."""

    def __init__(
        self, axes, look, points=None, *, weight="visible", meaning="ink", fill="none", zorder=3
    ):
        super().__init__(axes, look, zorder)
        self.patch = self._line(weight, meaning, fill=fill)
        if points is not None:
            self.set(points)

    def set(self, points):
        """Draw it there: a path, or the points of an open line."""
        self.patch.set_path(points if isinstance(points, Path) else Path(np.asarray(points, float)))


class Section(Mark):
    """A cut part: tint and section lining of its material, heavy outline."""

    def __init__(self, axes, look, material, path=None, *, weight="visible", zorder=3):
        super().__init__(axes, look, zorder)
        self.fill = self._area()
        self.lines = self._line("thin", alpha=0.55, cap="butt")
        self.edge = self._line(weight)
        self.material(material)
        if path is not None:
            self.set(path)

    def material(self, name):
        """Make it of another material; the lining follows at the next `set`."""
        self.fill.set_facecolor(self.look.tint(name))
        self._lining = lined(name).lining

    def set(self, path):
        """Cut it there; the lining stands still while the part grows over it."""
        self.fill.set_path(path)
        self.edge.set_path(path)
        self.lines.set_path(section_lines(path, self._lining, self.pixel, self.look.spread(1)))


def arrow(tip, direction):
    """An arrowhead: three points, the first at the tip; all in pixels."""
    direction = np.asarray(direction, float) / np.hypot(*direction)
    side = np.array([-direction[1], direction[0]]) * ARROW / 6
    back = np.asarray(tip) - ARROW * direction
    return np.array([tip, back + side, back - side])


def offset(x, y=0.0):
    """A step on the sheet [px]."""
    return np.array([x, y])


class Words(Mark):
    """A line of type that changes."""

    def __init__(
        self,
        axes,
        look,
        kind="value",
        meaning="ink",
        *,
        strong=False,
        ha="left",
        va="center",
        zorder=6,
    ):
        super().__init__(axes, look, zorder)
        self.text = self._letters(kind, meaning, strong, ha=ha, va=va)

    def set(self, at, text, beside=(0, 0), ha=None):
        """Write it there, perhaps some pixels beside it."""
        self.text.set_line(np.asarray(at, float) + np.asarray(beside) * self.pixel, text, ha=ha)


class Measure(Mark):
    """What dimensions and leaders share: thin lines, arrowheads, a value."""

    def __init__(self, axes, look, *, meaning="ink", kind="value", zorder=6, **more):
        super().__init__(axes, look, zorder)
        self.meaning = meaning
        self.lines = self._line("thin", meaning)
        self.heads = self._area(meaning)
        self.text = self._letters(kind, meaning, va="bottom", **more)

    def recolor(self, meaning):
        """Give it another meaning: a limit that is crossed."""
        if meaning != self.meaning:
            self.meaning, color = meaning, self.look.color(meaning)
            self.lines.set_color(color)
            self.heads.set_facecolor(color)
            self.text.set_color(color)

    def _draw(self, strokes, heads, at, text, ha):
        """Set lines, arrowheads and value; everything in pixels."""
        gap = np.full((1, 2), np.nan)
        points = np.concatenate([piece for stroke in strokes for piece in (stroke, gap)])
        self.lines.set_data(*(points * self.pixel).T)
        self.heads.set_path(Path(np.concatenate(heads) * self.pixel, _HEAD * len(heads)))
        self.text.set_line(at * self.pixel, text, ha=ha)


_HEAD = [Path.MOVETO, Path.LINETO, Path.LINETO]


class Dimension(Measure):
    """A dimension with extension lines, arrowheads and its value above the line.

    ``upright=False`` measures along x with the line at a height; ``upright=True`` measures
    along y with the line at an x, its value read from the right.  Where the value does not
    fit between the arrows, it moves outside with them.  With ``clear`` no line of another
    dimension runs through its value.
    """

    def __init__(self, axes, look, *, upright=False, clear=False, zorder=6, **more):
        self.ground = None
        super().__init__(axes, look, upright=upright, zorder=zorder + 0.2 * clear, **more)
        self.upright = upright
        if clear:
            self.ground = self._area("sheet")
            self.ground.set_zorder(zorder + 0.25)  # over lines, under letters

    def set(self, start, end, at, text):
        """Measure from a point to a point, with the dimension line at ``at``."""
        if not self.new(start, end, at, text):
            return
        i = 1 if self.upright else 0  # along; 1 - i is across
        low, high = sorted((start / self.pixel, end / self.pixel), key=lambda point: point[i])
        at = at / self.pixel[1 - i]
        width = text_width(text, self.text.size)
        inside = high[i] - low[i] > width + 2 * ARROW + 6
        tail = 0.0 if inside else ARROW + 6
        reach = 0.0 if inside else width + 6
        strokes = [[(low[i] - tail, at), (high[i] + tail + reach, at)]]
        for point in (low, high):
            away = np.sign(at - point[1 - i])
            strokes.append([(point[i], point[1 - i] + 3 * away), (point[i], at + 4 * away)])
        middle = (low[i] + high[i]) / 2 if inside else high[i] + tail + 3 + width / 2
        out = (1 if inside else -1) * np.eye(2)[i]
        heads = [arrow(self._xy((low[i], at)), -out), arrow(self._xy((high[i], at)), out)]
        lift = -3 if self.upright else 3
        place = self._xy((middle, at + lift))
        if self.ground:
            tall, half = self.text.size, width / 2 + 2
            near, far = (at + lift, at + lift - tall) if self.upright else (at + lift, at + tall)
            corners = [
                (middle - half, near),
                (middle + half, near),
                (middle + half, far),
                (middle - half, far),
            ]
            box = np.array([self._xy(corner) for corner in corners]) * self.pixel
            self.ground.set_path(Path(box, closed=False))
        self._draw([self._xy(stroke) for stroke in strokes], heads, place, text, "center")

    def _xy(self, points):
        """(along, across) as (x, y)."""
        points = np.asarray(points, float)
        return points[..., ::-1] if self.upright else points


class Diameter(Measure):
    """A diameter across a circle: a line through the center, its value on a shelf outside."""

    def set(self, center, diameter, angle, text, *, knee=None):
        """Measure a circle along an angle [rad]; the shelf begins ``knee`` from the center."""
        if not self.new(center, diameter, angle, text, knee):
            return
        center, unit = center / self.pixel, np.array([np.cos(angle), np.sin(angle)])
        half = diameter / 2 / self.pixel[0]
        start, rim = center - half * unit, center + half * unit
        bend = center + unit * (half + 16 if knee is None else knee / self.pixel[0])
        side = 1 if unit[0] >= 0 else -1
        shelf = bend + offset(side * (text_width(text, self.text.size) + 4))
        heads = [arrow(rim, unit), arrow(start, -unit)]
        ha = "left" if side > 0 else "right"
        self._draw([[start, bend, shelf]], heads, bend + offset(2 * side, 3), text, ha)


class Leader(Measure):
    """A note on a shelf, with an arrow to what it is about."""

    def __init__(self, axes, look, *, kind="note", **more):
        super().__init__(axes, look, kind=kind, **more)

    def set(self, at, target, text):
        """The note beginning at ``at`` (to the right of the target) or ending there."""
        if not self.new(at, target, text):
            return
        at, target = at / self.pixel, target / self.pixel
        side = 1 if at[0] >= target[0] else -1
        shelf = at + offset(side * (text_width(text, self.text.size) + 2))
        heads = [arrow(target, target - at)]
        ha = "left" if side > 0 else "right"
        self._draw([[target, at, shelf]], heads, at + offset(side, 3), text, ha)


class CenterLine(Mark):
    """A chain line along an axis, or a cross of two at a center."""

    def __init__(self, axes, look, *, meaning="ink", zorder=5):
        super().__init__(axes, look, zorder)
        self.lines = self._line("center", meaning)

    def set(self, start, end):
        """Along a shaft from point to point, 8 px beyond both."""
        if self.new(start, end):
            start, end = np.asarray(start, float), np.asarray(end, float)
            step = (end - start) / self.pixel
            beyond = 8 * step / np.hypot(*step) * self.pixel
            self.lines.set_data(*np.array([start - beyond, end + beyond]).T)

    def cross(self, center, diameter):
        """Both center lines of a circle, 8 px beyond its rim."""
        if self.new(center, diameter):
            x, y = center
            right, up = diameter / 2 + 8 * self.pixel
            across = [x - right, x + right, np.nan, x, x]
            self.lines.set_data(across, [y, y, np.nan, y - up, y + up])


class Balloon(Mark):
    """The number of a part in a circle, with a thin line to a dot on the part."""

    def __init__(self, axes, look, number, *, zorder=7):
        super().__init__(axes, look, zorder)
        self.number, self.radius = str(number), look.spread(9.5)
        self.lines = self._line("thin")
        self.dot = self._area()
        self.ring = self._line("hidden", ls="solid", fill=look.color("sheet"))
        self.text = self._letters("note", strong=True, ha="center", va="center")

    def set(self, at, part):
        """The balloon at one point, its dot on the part."""
        if not self.new(at, part):
            return
        at, part = np.asarray(at, float), np.asarray(part, float)
        self.lines.set_data(*np.array([at, part]).T)
        for stroke, center, radius in ((self.dot, part, 1.6), (self.ring, at, self.radius)):
            round_ = shapes.circle((0, 0), 2 * radius, 32) * self.pixel + center
            stroke.set_path(shapes.path(round_))
        self.text.set_line(at, self.number)
