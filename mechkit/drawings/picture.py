"""A picture that follows the hand: what stands is drawn once, what moves is drawn over it.

A subclass writes two methods.  `build` draws everything on ``self.figure`` with fixed limits
and hands each moving mark to ``self.moves``; `move` sets their data from a state.  Where the
limits of a curve must follow the state, `stand` names them, in steps as coarse as can be, and
`set_limits` sets them: only when they step is the background drawn anew.
"""

import io
import threading
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from PIL import Image

from mechkit.drawings.style import Look

#: matplotlib is not made for threads, and widgets call from another one.
LOCK = threading.RLock()
KEPT = 6  # backgrounds for the steps that limits take, 8 MB each
DENSITY = 2  # pixels of the image for one of the page, so that type is sharp on any screen


class Picture:
    """What stands and what moves, as a JPEG while it moves and as a PNG to keep.

    Parameters
    ----------
    look : Look
        Paper or slate, desk, hall or print, metric or inch.
    setting : object
        Whatever stands while the controls move: the locomotive, the envelope.
    """

    width, height = 1040, 472
    hall_height = 408  # in the hall the sentence and the sliders must fit beneath

    def __init__(self, look=None, setting=None):
        self.look = look or Look()
        self.setting = setting
        self._moving: list[Artist] = []
        self._backgrounds: dict[Any, Any] = {}
        self._stands: Any = self  # nothing that a state could ask for
        if self.look.size == "hall":
            self.height = self.hall_height
        self.width, self.height = (_whole_blocks(side) for side in (self.width, self.height))
        with LOCK:
            self.figure, self._canvas = _sheet(self.look, self.width, self.height)
            self.build()

    def build(self):
        """Draw what stands; hand over what moves."""
        raise NotImplementedError

    def move(self, state):
        """Set the data of what moves."""
        raise NotImplementedError

    def stand(self, state):
        """The limits that a state needs, in steps as coarse as can be."""

    def set_limits(self, stands):
        """Set those limits."""

    def moves(self, thing):
        """Mark a mark, an artist or a list of them as moving; returns it."""
        for artist in getattr(thing, "artists", None) or (
            thing if isinstance(thing, list) else [thing]
        ):
            artist.set_animated(True)
            self._moving.append(artist)
        return thing

    def _draw(self, state):
        """The picture of a state, on the canvas."""
        canvas = self._canvas
        stands = self.stand(state)
        if stands != self._stands:
            self.set_limits(stands)
            self._stands = stands
        if stands not in self._backgrounds:
            if len(self._backgrounds) >= KEPT:
                self._backgrounds.pop(next(iter(self._backgrounds)))
            canvas.draw()
            self._backgrounds[stands] = canvas.copy_from_bbox(self.figure.bbox)
        self.move(state)
        canvas.restore_region(self._backgrounds[stands])
        renderer = canvas.get_renderer()
        for artist in sorted(self._moving, key=Artist.get_zorder):
            artist.draw(renderer)
        size = canvas.get_width_height(physical=True)
        return Image.frombuffer("RGBX", size, canvas.buffer_rgba(), "raw", "RGBX", 0, 1)

    def frame(self, state):
        """The picture of a state as JPEG bytes."""
        with LOCK:
            image = self._draw(state)
            out = io.BytesIO()
            # At twice the page's fineness, half of it for colors is still all that the page has.
            image.save(out, "JPEG", quality=90, subsampling=2)
            return out.getvalue()

    def still(self, state, sentence):
        """The picture with its sentence set beneath it, as PNG bytes."""
        with LOCK:
            parts = [
                self._draw(state).convert("RGB"),
                _set_sentence(sentence, self.look, self.width),
            ]
        whole = Image.new("RGB", (parts[0].width, sum(part.height for part in parts)))
        top = 0
        for part in parts:
            whole.paste(part, (0, top))
            top += part.height
        return _flat(whole)


def png(draw):
    """A figure that ``draw()`` makes, as PNG bytes in a small palette."""
    with LOCK:
        figure = draw()
        figure.set_dpi(72 * DENSITY)
        canvas = FigureCanvasAgg(figure)
        canvas.draw()
        image = Image.fromarray(np.asarray(canvas.buffer_rgba())).convert("RGB")
    return _flat(image)


def _flat(image):
    """An image as PNG bytes in a palette: a drawing has few colors."""
    out = io.BytesIO()
    flat = image.quantize(256, Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
    flat.save(out, "PNG", optimize=True)
    return out.getvalue()


def _whole_blocks(side, block=16 // DENSITY):
    """A side [px] of the next whole number of JPEG blocks.

    Only such a picture is decoded by a browser straight to the size shown, in a third of the
    time; any other is decoded whole and then scaled down.
    """
    return -(-side // block) * block


def _sheet(look, width, height):
    """An empty sheet of a size in pixels, one point of type for each."""
    figure = Figure(
        figsize=(width / 72, height / 72), dpi=72 * DENSITY, facecolor=look.color("sheet")
    )
    return figure, FigureCanvasAgg(figure)


def _set_sentence(sentence, look, width, margin=24):
    """The sentence in lines as wide as the picture, as an image."""
    figure, canvas = _sheet(look, width, 40)
    words = look.words("label")
    measure = figure.text(0, 0, "", **words)

    def reach(text):
        measure.set_text(text)
        return measure.get_window_extent(canvas.get_renderer()).width / DENSITY

    lines = [""]
    for word in sentence.split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if reach(longer) > width - 2 * margin:
            lines.append(word)
        else:
            lines[-1] = longer
    pitch = look.type("label") * 1.4
    figure, canvas = _sheet(look, width, round(pitch * len(lines) + 22))
    height = figure.get_size_inches()[1] * 72
    for k, line in enumerate(lines):
        figure.text(
            margin / width,
            1 - (6 + pitch * (k + 0.5)) / height,
            line,
            va="center_baseline",
            **words,
        )
    canvas.draw()
    return Image.fromarray(np.asarray(canvas.buffer_rgba())).convert("RGB")
