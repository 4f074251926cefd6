"""Whether everything written on a panel's picture can be read, wherever its sliders stand."""

from matplotlib.text import Text

from mechkit.drawings.lettering import Lettering


def letters(picture):
    """Everything written on a picture: text and box in pixels of the image."""
    renderer = picture._canvas.get_renderer()
    spare = set()  # labels of ticks that matplotlib keeps and does not draw
    for axes in picture.figure.axes:
        for axis in (axes.xaxis, axes.yaxis):
            drawn = axis._update_ticks() if axes.axison else []
            spare |= {t.label1 for t in {*axis.majorTicks, *axis.minorTicks}.difference(drawn)}
    for artist in picture.figure.findobj(lambda a: isinstance(a, Lettering | Text)):
        if not artist.get_visible() or artist in spare:
            continue
        if isinstance(artist, Lettering):
            if artist.text.strip():
                yield artist.text, artist.box(renderer)
        elif artist.get_text().strip():
            yield artist.get_text(), artist.get_window_extent(renderer)


def stands(panel):
    """The state in the sheet, then every slider at both its ends; yields the words for each."""
    yield "as in the sheet"
    for name, control in panel.controls.items():
        if hasattr(control, "low"):
            for value in (control.low, control.high):
                panel.reset()
                if control.when:
                    panel.set(*control.when)
                try:
                    panel.set(name, value)
                except ValueError:
                    continue  # refused with a sentence, the picture stays
                yield f"{name} {value:.4g}"
    panel.reset()


def unread(picture):
    """What runs off the sheet or covers another on a picture as it was drawn last."""
    wide, high = picture._canvas.get_width_height(physical=True)
    boxes = list(letters(picture))
    for n, (text, box) in enumerate(boxes):
        if box.x0 < 0 or box.y0 < 0 or box.x1 > wide or box.y1 > high:
            yield f"{text!r} runs off the sheet"
        for other, over in boxes[:n]:
            if box.overlaps(over):
                yield f"{text!r} and {other!r} overlap"


def faults(panel, places=None):
    """What runs off the sheet or covers another, in words; empty when all is well.

    ``places`` are what to go through instead of all that the sliders can do.
    """
    found = set()
    for where in places or stands(panel):
        picture = panel._picture()
        picture._draw(panel.state)
        found |= {f"{where}: {fault}" for fault in unread(picture)}
    return sorted(found)
