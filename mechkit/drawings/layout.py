"""The sheet and what lies on it: axes to scale, fields for curves, notes, title block.

Places on the sheet are in pixels of the page from its lower left corner.
"""

import numpy as np
from matplotlib.lines import Line2D

from mechkit.drawings.lettering import text_width


def per_pixel(axes):
    """How far one pixel reaches in the axes' units, along x and along y."""
    box = axes.get_position()
    width, height = axes.figure.get_size_inches() * 72
    (left, right), (bottom, top) = axes.get_xlim(), axes.get_ylim()
    return np.array([(right - left) / (box.width * width), (top - bottom) / (box.height * height)])


def drawing(figure, look, box, *, center=(0.0, 0.0), scale):
    """Axes for a part drawn to scale: a box [px] on the sheet, ``scale`` meters a pixel."""
    width, height = box[2:]
    axes = _axes(figure, box)
    axes.set_axis_off()
    axes.set_xlim(center[0] - width / 2 * scale, center[0] + width / 2 * scale)
    axes.set_ylim(center[1] - height / 2 * scale, center[1] + height / 2 * scale)
    return axes


def field(figure, look, box, *, x, y, across, up, origin=None):
    """Axes for a curve: a box [px], limits x and y, and what is measured across and up.

    The words stand level: ``up`` above the upright axis, ``across`` below the right end.  The
    upright axis stands at the left edge, or at ``origin`` along x with ``across`` left of it.
    """
    axes = _axes(figure, box)
    axes.set_xlim(*x)
    axes.set_ylim(*y)
    quiet = look.color("quiet")
    axes.set_facecolor("none")
    for side, spine in axes.spines.items():
        spine.set_visible(side in {"left", "bottom"})
        spine.set(color=quiet, linewidth=look.line("thin"))
    axes.grid(color=look.color("ruling"), linewidth=look.line("thin"))
    axes.set_axisbelow(True)
    axes.tick_params(length=4, width=look.line("thin"), color=quiet, labelcolor=quiet,
                     labelsize=look.type("note"), labelfontfamily=look.words()["family"], pad=5)  # fmt: skip
    axes.locator_params(nbins=5 if look.size == "hall" else 7, min_n_ticks=3)
    words = look.words("note", "quiet") | {"textcoords": "offset points", "annotation_clip": False}
    lift = (0, look.spread(9))
    if origin is None:
        below = look.type("note") + look.spread(14)
        axes.annotate(across, (1, 0), (0, -below), "axes fraction", ha="right", va="top", **words)
        axes.annotate(up, (0, 1), lift, "axes fraction", ha="left", va="bottom", **words)
        return axes
    axes.spines["left"].set_position(("data", origin))
    place = axes.get_xaxis_transform()
    axes.annotate(across, (origin, 0), (-12, -9), place, ha="right", va="top", **words)
    axes.annotate(up, (origin, 1), lift, place, ha="left", va="bottom", **words)
    return axes


def _axes(figure, box):
    """Axes on a box given in pixels of the sheet."""
    width, height = figure.get_size_inches() * 72
    left, bottom, wide, high = box
    return figure.add_axes((left / width, bottom / height, wide / width, high / height))


def note(figure, look, at, text, *, kind="note", meaning="ink", strong=False, **more):
    """A line of type on the sheet, at a point in pixels from its lower left corner."""
    width, height = figure.get_size_inches() * 72
    return figure.text(
        at[0] / width, at[1] / height, text, **look.words(kind, meaning, strong), **more
    )


def rule(figure, look, start, end, *, weight="thin", meaning="ink"):
    """A straight line on the sheet, in pixels from its lower left corner."""
    size = figure.get_size_inches() * 72
    points = np.array([start, end]) / size
    line = Line2D(*points.T, transform=figure.transFigure, **look.stroke(weight, meaning))
    figure.add_artist(line)
    return line


def title_block(figure, look, cells, *, height=24, margin=14):
    """A strip along the foot of the sheet: cells of type between thin lines, the first wide."""
    width = figure.get_size_inches()[0] * 72
    height, top = look.spread(height), margin / 2 + look.spread(height)
    rule(figure, look, (margin, top), (width - margin, top))
    right = width - margin
    for text in reversed(cells[1:]):
        wide = text_width(text, look.type("note")) + look.spread(20)
        note(figure, look, (right - wide / 2, top - height / 2), text, meaning="quiet", ha="center",
             va="center_baseline")  # fmt: skip
        rule(figure, look, (right - wide, margin / 2), (right - wide, top))
        right -= wide
    note(figure, look, (margin, top - height / 2), cells[0], strong=True, va="center_baseline")


def scale_bar(axes, look, at, length, text):
    """A bar of known length with its value, since a screen has no fixed scale."""
    pixel = per_pixel(axes)
    x, y = at
    tick = 4 * pixel[1]
    points = np.array([(x, y - tick), (x, y + tick), (np.nan, np.nan), (x, y), (x + length, y), (np.nan, np.nan),
                       (x + length, y - tick), (x + length, y + tick)])  # fmt: skip
    axes.add_line(Line2D(*points.T, **look.stroke("thin", "quiet")))
    axes.text(
        x + length / 2,
        y + 4 * pixel[1],
        text,
        ha="center",
        va="bottom",
        **look.words("note", "quiet"),
    )


def key(figure, look, at, entries, *, columns=1, column=120, step=20):
    """The lines in use, (meaning, weight, words) each, row by row from a point [px]."""
    for k, (meaning, weight, words) in enumerate(entries):
        x = at[0] + look.spread(column) * (k % columns)
        level = at[1] - look.spread(step) * (k // columns)
        rule(figure, look, (x, level), (x + look.spread(22), level), weight=weight, meaning=meaning)
        note(figure, look, (x + look.spread(29), level), words, va="center_baseline")
