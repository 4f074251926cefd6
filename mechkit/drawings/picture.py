"""A picture that follows the hand: what stands is drawn once, what moves is drawn over it.

A subclass writes two methods.  `build` draws everything on ``self.figure`` with fixed limits
and hands each moving mark to ``self.moves``; `move` sets their data from a state.  Where the
limits of a curve must follow the state, `stand` names them, in steps as coarse as can be, and
`set_limits` sets them: only when they step is the background drawn anew.
"""

import io
import threading
from typing import Any, NamedTuple

import numpy as np
from matplotlib.artist import Artist
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from PIL import Image

from mechkit.drawings import stroke
from mechkit.drawings.lettering import text_width
from mechkit.drawings.style import Look

#: matplotlib is not made for threads, and widgets call from another one.
LOCK = threading.RLock()
KEPT = 6  # backgrounds for the steps that limits take, 8 MB each
DENSITY = 2  # pixels of a kept image for one of the page, so that type is sharp on any screen
BLOCK = 16  # a JPEG's block [px]: what is cut along blocks has the same pixels as the whole


class Change(NamedTuple):
    """The part of a picture that differs: a JPEG, where it belongs, in a picture of what size."""

    jpeg: bytes
    at: tuple[int, int]
    size: tuple[int, int]


class Picture:
    """What stands and what moves, as a JPEG while it moves and as a PNG to keep.

    Parameters
    ----------
    look : Look
        Paper or slate, desk, hall or print, metric or inch.
    setting : object
        Whatever stands while the controls move: the locomotive, the envelope.
    density : float
        Pixels of the image for one of the page.
    """

    width, height = 1040, 472
    hall_height = 408  # in the hall the sentence and the sliders must fit beneath

    def __init__(self, look=None, setting=None, density=DENSITY):
        self.look = look or Look()
        self.setting = setting
        self.density = density
        self._moving: list[Artist] = []
        self._backgrounds: dict[Any, Any] = {}
        self._stands: Any = self  # nothing that a state could ask for
        self._base: np.ndarray | None = None
        if self.look.size == "hall":
            self.height = self.hall_height
        with LOCK:
            self.figure, self._canvas = _sheet(self.look, self.width, self.height, density)
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
            for axes in self.figure.axes:
                stroke.settle(axes)
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
            return self._jpeg(self._draw(state))

    def change(self, state):
        """How a state differs from the base, as a `Change`; None where it does not.

        The first call after `anew` makes the base, and its change is the whole picture.
        """
        with LOCK:
            image = self._draw(state)
            now = np.asarray(self._canvas.buffer_rgba()).view(np.uint32)[..., 0]
            if self._base is None:
                self._base = now.copy()
                return Change(self._jpeg(image), (0, 0), image.size)
            box = _apart(self._base, now)
            return box and Change(self._jpeg(image.crop(box)), box[:2], image.size)

    def anew(self):
        """Forget the base: the next change is the whole picture."""
        self._base = None

    def _jpeg(self, image):
        out = io.BytesIO()
        # From twice the page's fineness on, half of it for colors is still all that the page has.
        fine = self.density > 1.5
        image.save(out, "JPEG", quality=90, subsampling=2 if fine else 0)
        return out.getvalue()

    def still(self, state, sentence):
        """The picture with its sentence set beneath it, as PNG bytes."""
        with LOCK:
            parts = [
                self._draw(state).convert("RGB"),
                _set_sentence(sentence, self.look, self.width, self.density),
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
    flat.save(out, "PNG")  # a tenth larger than at best, in a sixth of the time
    return out.getvalue()


def _apart(old, new):
    """The box of whole blocks in which two images differ: left, top, right, bottom; or None."""
    apart = old != new
    rows, columns = (np.flatnonzero(apart.any(axis)) for axis in (1, 0))
    if not rows.size:
        return None
    top, left = rows[0] // BLOCK * BLOCK, columns[0] // BLOCK * BLOCK
    bottom, right = -(-(rows[-1] + 1) // BLOCK) * BLOCK, -(-(columns[-1] + 1) // BLOCK) * BLOCK
    height, width = new.shape
    return int(left), int(top), int(min(right, width)), int(min(bottom, height))


def _sheet(look, width, height, density=DENSITY):
    """An empty sheet of a size in pixels, one point of type for each."""
    figure = Figure(
        figsize=(width / 72, height / 72), dpi=72 * density, facecolor=look.color("sheet")
    )
    return figure, FigureCanvasAgg(figure)


def _set_sentence(sentence, look, width, density, margin=24):
    """The sentence in lines as wide as the picture, as an image."""
    size = look.type("label")
    lines = [""]
    for word in sentence.split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if text_width(longer, size) > width - 2 * margin:
            lines.append(word)
        else:
            lines[-1] = longer
    pitch = size * 1.4
    figure, canvas = _sheet(look, width, round(pitch * len(lines) + 22), density)
    height = figure.get_size_inches()[1] * 72
    for k, line in enumerate(lines):
        figure.text(
            margin / width,
            1 - (6 + pitch * (k + 0.5)) / height,
            line,
            va="center_baseline",
            **look.words("label"),
        )
    canvas.draw()
    return Image.fromarray(np.asarray(canvas.buffer_rgba())).convert("RGB")
