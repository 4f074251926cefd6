"""The screen of a panel: a canvas and a sentence in the browser, fed with what changed.

An Image widget hands each picture to the browser as a file to load, which takes longer than
drawing it.  This one paints the part that moved, at the screen's own pixels, and sets the
sentence in the same message.
"""

from pathlib import Path

import anywidget
import traitlets as t


class Screen(anywidget.AnyWidget):
    """A canvas with a sentence beneath it.

    Parameters
    ----------
    title : str
        What a screen reader calls the picture.
    shape : (int, int)
        Width and height to keep free until the first picture comes [px].
    """

    _esm = Path(__file__).with_suffix(".js")
    title = t.Unicode().tag(sync=True)
    shape = t.Tuple(t.Int(), t.Int()).tag(sync=True)

    def on_pixels(self, act):
        """Call ``act(pixels)`` when a browser shows the screen, that many pixels wide."""

        def heard(_, message, buffers):
            pixels = message.get("pixels")
            if isinstance(pixels, int) and 0 < pixels < 20_000:
                act(pixels)

        self.on_msg(heard)

    def show(self, change, words, failed=False):
        """Send what changed of the picture, if anything did, and the sentence."""
        message = {"words": words, "failed": failed}
        buffers = None
        if change:
            message |= {"size": change.size, "at": change.at}
            buffers = [change.jpeg]
        self.send(message, buffers)
