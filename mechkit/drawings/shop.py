"""What a shop drawing is made of: outlines, sections, dimensions, center lines, balloons.

Every mark is drawn once and then moved: ``mark.set(...)`` changes the data of its artists,
which stand in ``mark.artists``.  Positions are in the axes' own units (meters in a drawing);
gaps, arrows and type are in pixels of the page and do not grow with the part.
"""

import numpy as np
from matplotlib.lines import Line2D
from matplotlib.patches import PathPatch
from matplotlib.path import Path
from matplotlib.text import Text

from mechkit.drawings import shapes
from mechkit.drawings.layout import per_pixel, text_width
from mechkit.drawings.style import MATERIALS

ARROW = 9.0  # length of an arrowhead [px]; a third as wide
_NOTHING = Path(np.zeros((1, 2)))


class Mark:
    """Artists that belong together and are moved together."""

    def __init__(self, axes, look, zorder):
        self.axes, self.look, self.zorder = axes, look, zorder
        self.pixel = per_pixel(axes)
        self.artists = []

    def _line(self, weight, meaning="ink", **more):
        line = Line2D([], [], zorder=self.zorder, **(self.look.stroke(weight, meaning) | more))
        self.axes.add_line(line)
        self.artists.append(line)
        return line

    def _patch(self, **more):
        patch = PathPatch(_NOTHING, **({"zorder": self.zorder, "lw": 0} | more))
        self.axes.add_patch(patch)
        self.artists.append(patch)
        return patch

    def _text(self, kind="value", meaning="ink", strong=False, **more):
        text = Text(
            0, 0, "", zorder=self.zorder + 0.1, **self.look.words(kind, meaning, strong), **more
        )
        self.axes.add_artist(text)
        self.artists.append(text)
        return text

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
        stroke = look.stroke(weight, meaning)
        self.patch = self._patch(
            lw=stroke["lw"], ec=stroke["color"], ls=stroke["ls"], fc=fill, joinstyle="round"
        )
        if points is not None:
            self.set(points)

    def set(self, points):
        """Draw it there: a path, or the points of an open line."""
        self.patch.set_path(points if isinstance(points, Path) else Path(np.asarray(points, float)))


class Section(Mark):
    """A cut part: tint and section lining of its material, heavy outline."""

    def __init__(self, axes, look, material, path=None, *, weight="visible", zorder=3):
        super().__init__(axes, look, zorder)
        self.fill = self._patch(ec="none")
        self.lines = self._patch(
            ec=look.color("ink"), fc="none", lw=look.line("thin"), alpha=0.55, capstyle="butt"
        )
        self.edge = self._patch(
            ec=look.color("ink"), fc="none", lw=look.line(weight), joinstyle="round"
        )
        self.material(material)
        if path is not None:
            self.set(path)

    def material(self, name):
        """Make it of another material; the lining follows at the next `set`."""
        self.fill.set_facecolor(self.look.tint(name))
        self._lining = MATERIALS[name].lining

    def set(self, path):
        """Cut it there; the lining stands still while the part grows over it."""
        for patch in (self.fill, self.edge):
            patch.set_path(path)
        self.lines.set_path(self._section_lines(path.get_extents()))
        self.lines.set_clip_path(path, self.axes.transData)

    def _section_lines(self, box):
        """Section lines over a box, as one path."""
        low, high = box.min / self.pixel, box.max / self.pixel
        corners = np.array(
            [(low[0], low[1]), (low[0], high[1]), (high[0], low[1]), (high[0], high[1])]
        )
        pieces = []
        for angle, spacing, dashes in self._lining:
            turn = np.radians(angle)
            along, across = (
                np.array([np.cos(turn), np.sin(turn)]),
                np.array([-np.sin(turn), np.cos(turn)]),
            )
            spacing = [self.look.spread(gap) for gap in spacing]
            (first, last), (start, stop) = (
                (c.min(), c.max()) for c in (corners @ across, corners @ along)
            )
            repeat, offset = sum(spacing), 0.0
            for gap, dash in zip(spacing, dashes, strict=True):
                rows = (
                    np.arange(np.floor((first - offset) / repeat), last / repeat + 1) * repeat
                    + offset
                )
                pieces.append(_strokes(rows, start, stop, dash, along, across))
                offset += gap
        ends = np.concatenate(pieces) * self.pixel
        codes = np.tile([Path.MOVETO, Path.LINETO], len(ends))
        return Path(ends.reshape(-1, 2), codes)


def _strokes(rows, start, stop, dash, along, across):
    """Both ends of each stroke on parallel rows, full or broken."""
    if dash is None:
        begin, length = np.array([start]), stop - start
    else:
        on, off = dash
        begin, length = (
            np.arange(np.floor(start / (on + off)), stop / (on + off) + 1) * (on + off),
            on,
        )
    origin = rows[:, None, None] * across + begin[:, None] * along
    return np.stack([origin, origin + length * along], axis=2).reshape(-1, 2, 2)


def _arrow(tip, direction, pixel):
    """An arrowhead: three points, the first at the tip; the direction is in pixels."""
    direction = np.asarray(direction, float) / np.hypot(*direction)
    side = np.array([-direction[1], direction[0]])
    back = -ARROW * direction
    return (
        np.asarray(tip)
        + np.array([(0, 0), back + side * ARROW / 6, back - side * ARROW / 6]) * pixel
    )


class Dimension(Mark):
    """A dimension with extension lines, arrowheads and its value above the line.

    ``upright=False`` measures along x with the line at a height; ``upright=True`` measures
    along y with the line at an x, its value read from the right.  Where the value does not
    fit between the arrows, it moves outside with them.
    """

    def __init__(self, axes, look, *, upright=False, meaning="ink", zorder=6):
        super().__init__(axes, look, zorder)
        self.upright = upright
        self.lines = self._line("thin", meaning)
        self.heads = self._patch(fc=look.color(meaning))
        self.text = self._text("value", meaning, ha="center", va="bottom", rotation=90 if upright else 0,
                               rotation_mode="anchor")  # fmt: skip

    def set(self, start, end, at, text):
        """Measure from a point to a point, with the dimension line at ``at``."""
        i, j = (1, 0) if self.upright else (0, 1)  # along, across
        low, high = sorted((np.asarray(start, float), np.asarray(end, float)), key=lambda p: p[i])
        along, across = self.pixel[i], self.pixel[j]
        width = text_width(text, self.text.get_size())
        span = (high[i] - low[i]) / along
        inside = span > width + 2 * ARROW + 6
        tail = 0.0 if inside else (ARROW + 6) * along
        strokes = []
        for point in (low, high):
            sign = np.sign(at - point[j])
            strokes.append(
                [(point[i], point[j] + 3 * sign * across), (point[i], at + 4 * sign * across)]
            )
        reach = 0.0 if inside else (width + 6) * along
        strokes.append([(low[i] - tail, at), (high[i] + tail + reach, at)])
        points = np.array([[*a, *b, np.nan, np.nan] for a, b in strokes]).reshape(-1, 2)
        middle = (low[i] + high[i]) / 2 if inside else high[i] + tail + (width / 2 + 3) * along
        sign = 1 if inside else -1
        unit = np.eye(2)[i]
        heads = [_arrow(_swap((low[i], at), i), -sign * unit, self.pixel),
                 _arrow(_swap((high[i], at), i), sign * unit, self.pixel)]  # fmt: skip
        self.lines.set_data(*_swap(points, i).T)
        self.heads.set_path(shapes.path(*heads))
        lift = (3 if not self.upright else -3) * across
        self.text.set_position(_swap((middle, at + lift), i))
        self.text.set_text(text)


def _swap(points, along):
    """(along, across) pairs as (x, y)."""
    points = np.asarray(points, float)
    return points if along == 0 else points[..., ::-1]


class Diameter(Mark):
    """A diameter across a circle: a line through the center at an angle, arrows to the rim."""

    def __init__(self, axes, look, *, meaning="ink", zorder=6):
        super().__init__(axes, look, zorder)
        self.lines = self._line("thin", meaning)
        self.heads = self._patch(fc=look.color(meaning))
        self.text = self._text("value", meaning, ha="left", va="bottom")

    def set(self, center, diameter, angle, text):
        """Measure a circle along an angle [rad]; the value stands on a shelf outside."""
        center, unit = np.asarray(center, float), np.array([np.cos(angle), np.sin(angle)])
        rim = center + diameter / 2 * unit
        knee = rim + 16 * unit * self.pixel
        side = 1 if unit[0] >= 0 else -1
        width = text_width(text, self.text.get_size()) + 4
        shelf = knee + np.array([side * width, 0]) * self.pixel
        self.lines.set_data(*np.array([center - diameter / 2 * unit, knee, shelf]).T)
        heads = [
            _arrow(rim, unit, self.pixel),
            _arrow(center - diameter / 2 * unit, -unit, self.pixel),
        ]
        self.heads.set_path(shapes.path(*heads))
        left = knee if side > 0 else shelf
        self.text.set_position(left + np.array([2, 3]) * self.pixel)
        self.text.set_text(text)


class CenterLine(Mark):
    """A chain line along an axis, or a cross of two at a center."""

    def __init__(self, axes, look, *, meaning="ink", zorder=5):
        super().__init__(axes, look, zorder)
        self.lines = [self._line("center", meaning) for _ in range(2)]

    def set(self, start, end):
        """Along a shaft from point to point, 8 px beyond both."""
        start, end = np.asarray(start, float), np.asarray(end, float)
        step = (end - start) / self.pixel
        beyond = 8 * step / np.hypot(*step) * self.pixel
        self.lines[0].set_data(*np.array([start - beyond, end + beyond]).T)
        self.lines[1].set_data([], [])

    def cross(self, center, diameter):
        """Both center lines of a circle, 8 px beyond its rim."""
        x, y = center
        reach = diameter / 2 + 8 * self.pixel
        self.lines[0].set_data([x - reach[0], x + reach[0]], [y, y])
        self.lines[1].set_data([x, x], [y - reach[1], y + reach[1]])


class Balloon(Mark):
    """The number of a part in a circle, with a thin line to a dot on the part."""

    def __init__(self, axes, look, number, *, zorder=7):
        super().__init__(axes, look, zorder)
        self.lead = self._line("thin", marker="o", markersize=3, markevery=[1])
        ring = {
            "marker": "o",
            "markersize": look.spread(19),
            "mfc": look.color("sheet"),
            "mew": look.line("thin") * 1.5,
        }
        self.ring = self._line("thin", **ring)
        self.text = self._text("note", strong=True, ha="center", va="center_baseline")
        self.text.set_text(str(number))

    def set(self, at, part):
        """The balloon at one point, its dot on the part."""
        self.lead.set_data([at[0], part[0]], [at[1], part[1]])
        self.ring.set_data([at[0]], [at[1]])
        self.text.set_position(at)


class Leader(Mark):
    """A note on a shelf, with an arrow to what it is about."""

    def __init__(self, axes, look, *, meaning="ink", kind="note", zorder=6):
        super().__init__(axes, look, zorder)
        self.lines = self._line("thin", meaning)
        self.heads = self._patch(fc=look.color(meaning))
        self.text = self._text(kind, meaning, va="bottom")

    def set(self, at, target, text):
        """The note beginning at ``at`` (to the right of the target) or ending there."""
        at, target = np.asarray(at, float), np.asarray(target, float)
        side = 1 if at[0] >= target[0] else -1
        width = text_width(text, self.text.get_size())
        shelf = at + np.array([side * width, 0]) * self.pixel
        self.lines.set_data(*np.array([target, at, shelf]).T)
        self.heads.set_path(shapes.path(_arrow(target, (target - at) / self.pixel, self.pixel)))
        self.text.set_ha("left" if side > 0 else "right")
        self.text.set_position(at + np.array([side, 3]) * self.pixel)
        self.text.set_text(text)
