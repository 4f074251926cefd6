"""Sheets that are kept: a figure of a known size on paper, as SVG for a page.

One pixel of the sheet is a fifth of a millimeter on paper, so a drawing that is printed at
full size has the scale that its title block names.
"""

import io
import re

import matplotlib as mpl
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from mechkit.drawings.lettering import text_width
from mechkit.drawings.picture import DENSITY, LOCK
from mechkit.drive.sheet.quantities import pitch_of
from mechkit.units import KINDS, shown

#: A pixel of the sheet on paper [m]; 900 of them are the 180 mm that A4 and Letter both print.
PIXEL = 0.2e-3
WIDTH = 900
#: Scales of the drawing office, enlargements first (ISO 5455, with its halves and quarters).
SCALES = (20, 10, 5, 4, 3, 2.5, 2, 1.5, 1.25, 1, 0.8, 0.5, 0.4, 0.25, 0.2, 0.1)


def fresh(look, height):
    """An empty sheet of the full width and that height [px]."""
    figure = Figure(
        figsize=(WIDTH / 72, height / 72), dpi=72 * DENSITY, facecolor=look.color("sheet")
    )
    FigureCanvasAgg(figure)
    return figure


def svg(figure, name, words):
    """The sheet as inline SVG: type as outlines, ``name`` before every id, ``words`` for who cannot see it."""
    out = io.StringIO()
    with LOCK, mpl.rc_context({"svg.fonttype": "path", "svg.hashsalt": name}):
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    text = out.getvalue()
    text = text[text.index("<svg") :]
    text = re.sub(r"\s*<metadata>.*?</metadata>", "", text, flags=re.S)
    text = re.sub(r' xmlns(:xlink)?="[^"]*"', "", text).replace("xlink:href", "href")
    text = re.sub(r'(\bid="|url\(#|href="#)', rf"\g<1>{name}-", text)
    text = re.sub(r'(?<= d=")[^"]*', _rounded, text)
    words = words.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")
    return text.replace("<svg", f'<svg role="img" aria-label="{words}"', 1)


def _rounded(found):
    """The numbers of a path to a hundredth of a pixel, 2 µm on paper."""
    return re.sub(r"\d+\.\d{3,}", lambda number: f"{float(number[0]):.2f}", found[0])


def scale_for(size, room):
    """The largest scale at which a size [m] fits in a room [px].

    >>> scale_for(0.016, 420)
    5
    """
    return next((s for s in SCALES if size * s / PIXEL <= room), SCALES[-1])


def scale_words(scale):
    """A scale as it stands in a title block.

    >>> scale_words(10), scale_words(1.5), scale_words(0.5)
    ('10 : 1', '1.5 : 1', '1 : 2')
    """
    return f"{scale:g} : 1" if scale >= 1 else f"1 : {1 / scale:g}"


def number(value, look):
    """A length without its unit, as on a drawing whose title block names the unit.

    >>> from mechkit.drawings.style import Look
    >>> number(0.016, Look()), number(0.016, Look(system="inch"))
    ('16.00', '0.630')
    """
    places = KINDS["length"][look.system].decimals
    return f"{shown(value, 'length', look.system):z.{places}f}".replace("-", "−")


def teeth_size(module):
    """Of what size teeth are: a module, metric in either system, or the pitch that was written."""
    return pitch_of(module) or f"module {module.value * 1e3:g} mm"


def unit_words(look):
    """The unit of every size on the sheet."""
    return "sizes in mm" if look.system == "metric" else "sizes in inches"


def wrap(text, width, size):
    """Text in lines no wider than ``width`` [px]."""
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and text_width(longer, size) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def shorten(text, width, size):
    """Text that fits into ``width`` [px], cut with an ellipsis where it must be."""
    if text_width(text, size) <= width:
        return text
    while text and text_width(f"{text}…", size) > width:
        text = text[:-1]
    return f"{text.rstrip(' ,;(')}…"
