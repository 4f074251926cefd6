"""What is written on a standing drawing, and where: boxes of type in pixels of the sheet."""

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.text import Text

from mechkit.drawings.lettering import Lettering
from mechkit.drawings.picture import DENSITY


def written(figure):
    """Every piece of type on a figure: its words and its box (left, bottom, right, top)."""
    figure.set_dpi(72 * DENSITY)
    renderer = FigureCanvasAgg(figure).get_renderer()
    there = [
        *figure.texts,
        *(artist for axes in figure.axes for artist in axes.get_children()[:-1]),
    ]
    found = []
    for artist in there:
        if isinstance(artist, Lettering):
            words, box = artist.text, artist.text and artist.box(renderer)
        elif isinstance(artist, Text):
            words, box = artist.get_text(), artist.get_window_extent(renderer)
        else:
            continue
        if words.strip() and artist.get_visible():
            found.append((words, box.extents / DENSITY))
    return found


def overlapping(pieces, slack=1.0):
    """Pairs of type that lie over one another by more than ``slack`` pixels both ways."""
    found = []
    for n, (one, a) in enumerate(pieces):
        for other, b in pieces[n + 1 :]:
            wide = min(a[2], b[2]) - max(a[0], b[0])
            high = min(a[3], b[3]) - max(a[1], b[1])
            if wide > slack and high > slack:
                found.append((one, other))
    return found


def outside(pieces, figure):
    """Type that leaves the sheet."""
    width, height = figure.get_size_inches() * 72
    return [
        words
        for words, (left, bottom, right, top) in pieces
        if left < 0 or bottom < 0 or right > width or top > height
    ]
