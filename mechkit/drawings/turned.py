"""Drawings of the parts that are turned: half section, end view, sizes that can be measured."""

import numpy as np

from mechkit.drawings import paper, shapes
from mechkit.drawings.layout import drawing, note, scale_bar, title_block
from mechkit.drawings.lettering import text_width
from mechkit.drawings.shop import CenterLine, Diameter, Dimension, Outline, Section
from mechkit.drawings.style import Look
from mechkit.drive.decisions.workshop import Part, Size

EDGE = 16  # margin of the sheet [px]
#: The scale bar in either system, short enough for a sleeve.
BARS = {"metric": (5e-3, "5 mm"), "inch": (6.35e-3, "1/4 in")}
#: Angles at which the diameters are measured, outside and bore [degrees].
OUTSIDE, BORE = 35, -32


def part_drawing(part: Part, look: Look | None = None):
    """Draw one turned ring: half section, end view, and how each size is reached.

    Parameters
    ----------
    part : Part
        With the sizes outside, bore, and length or width.
    look : Look
        Paper or slate, desk or print, metric or inch.

    Returns
    -------
    figure : matplotlib Figure
        A sheet 900 px wide, 180 mm on paper.
    """
    look = look or Look()
    spread = look.spread
    along = part.sizes.get("length") or part.sizes["width"]
    outer, bore = part.sizes["outside"], part.sizes["bore"]
    words = max(text_width(_round(size, look), look.type("value")) for size in (outer, bore))
    free = paper.WIDTH - 2 * EDGE - words - spread(130)
    scale = min(paper.scale_for(along.value + outer.value, free), paper.scale_for(outer.value, 340))
    pixel = paper.PIXEL / scale
    rows = [line for text in notes(part) for line in _rows(text, look)]
    strip, below = spread(40), spread(18) * len(rows) + spread(44)
    tall = outer.value / pixel + spread(110)
    figure = paper.fresh(look, round(strip + below + tall + spread(44)))

    wide = along.value / pixel + spread(60)
    box = (EDGE, strip + below, wide, tall)
    half_section(drawing(figure, look, box, scale=pixel), look, part.material, along, outer, bore)
    box = (EDGE + wide, strip + below, paper.WIDTH - 2 * EDGE - wide, tall)
    center = (box[2] / 2 - outer.value / pixel / 2 - spread(30)) * pixel
    axes = drawing(figure, look, box, center=(center, 0.0), scale=pixel)
    end_view(axes, look, outer, bore)
    bar, length = BARS[look.system]
    right, low = axes.get_xlim()[1] - spread(8) * pixel, axes.get_ylim()[0] + spread(8) * pixel
    scale_bar(axes, look, (right - bar, low), bar, length)

    level = strip + below - spread(20)
    for row in rows:
        note(figure, look, (EDGE, level), row, va="top")
        level -= spread(18)
    top = strip + below + tall + spread(44) - EDGE
    note(figure, look, (EDGE, top), part.name, kind="title", strong=True, va="top")
    cells = [part.name, part.material, "upper half cut", f"{paper.scale_words(scale)} on paper",
             "not to be scaled from a screen"]  # fmt: skip
    title_block(figure, look, cells)
    return figure


def notes(part: Part) -> list[str]:
    """How each size is reached, then what holds for the whole part."""
    return [*(f"{size.words}: {size.how}" for size in part.sizes.values()), *part.notes]


def _rows(text, look):
    """One note in lines, the first behind a dash."""
    text = text[0].upper() + text[1:]
    lines = paper.wrap(text, paper.WIDTH - 2 * EDGE - look.spread(20), look.type("note"))
    return [f"– {lines[0]}", *(f"   {line}" for line in lines[1:])]


def _round(size: Size, look):
    """A diameter as it stands on the drawing."""
    return f"⌀ {size.say(look.system)}"


def half_section(axes, look, material, along: Size, outer: Size, bore: Size):
    """Seen from the side: the upper half cut, the lower from outside."""
    half, rim, hole = along.value / 2, outer.value / 2, bore.value / 2
    lower = shapes.path(shapes.bar(-half, -rim, half, 0.0))
    Outline(axes, look, lower, fill=look.tint(material), zorder=2)
    opening = shapes.path(shapes.bar(-half, 0.0, half, hole))
    Outline(axes, look, opening, weight="thin", fill=look.color("sheet"), zorder=2.5)
    Section(axes, look, material, shapes.path(shapes.bar(-half, hole, half, rim)), zorder=3)
    CenterLine(axes, look).set((-half, 0.0), (half, 0.0))
    mark = Dimension(axes, look)
    level = rim + look.spread(26) * mark.pixel[1]
    mark.set(np.array([-half, rim]), np.array([half, rim]), level, along.say(look.system))


def end_view(axes, look, outer: Size, bore: Size):
    """Seen from the end, with both diameters on shelves to the right."""
    rim, hole = (shapes.circle((0.0, 0.0), size.value) for size in (outer, bore))
    Outline(axes, look, shapes.path(rim, holes=[hole]), zorder=2)
    CenterLine(axes, look).cross((0.0, 0.0), outer.value)
    mark = Diameter(axes, look)
    knee = outer.value / 2 + look.spread(22) * mark.pixel[0]
    mark.set((0.0, 0.0), outer.value, np.radians(OUTSIDE), _round(outer, look), knee=knee)
    Diameter(axes, look).set((0.0, 0.0), bore.value, np.radians(BORE), _round(bore, look),
                             knee=knee)  # fmt: skip
