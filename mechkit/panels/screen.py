"""The screen of a panel: a canvas and a sentence in the browser, fed with what changed.

An Image widget hands each picture to the browser as a file to load, which takes longer than
drawing it.  This one paints the part that moved, at the screen's own pixels, and sets the
sentence in the same message.  It keeps the pictures of one slider's sweep and shows them as
soon as the slider stands there.
"""

from pathlib import Path

import anywidget
import ipywidgets as w
import traitlets as t


class Screen(anywidget.AnyWidget):
    """A canvas with a sentence beneath it.

    Parameters
    ----------
    title : str
        What a screen reader calls the picture.
    shape : (int, int)
        Width and height to keep free until the first picture comes [px].
    hands : sequence of Widget
        The sliders; each wears the class ``mk-hand-`` with its place in this list.
    """

    _esm = Path(__file__).with_suffix(".js")
    title = t.Unicode().tag(sync=True)
    shape = t.Tuple(t.Int(), t.Int()).tag(sync=True)
    hands = t.List(t.Instance(w.Widget)).tag(sync=True, **w.widget_serialization)

    def on_pixels(self, act):
        """Call ``act(pixels, narrow)`` when a browser shows the picture, that many pixels wide.

        ``narrow`` says that the window is too narrow for it, as a phone's is.
        """
        self._on("pixels", act, range(1, 20_000), lambda message: [message.get("narrow") is True])

    def on_touch(self, act):
        """Call ``act(hand)`` when a pointer or the focus comes to rest on a slider."""
        self._on("touched", act, range(len(self.hands)))

    def on_leave(self, act):
        """Call ``act(hand)`` when neither of them rests on a slider any more."""
        self._on("left", act, range(len(self.hands)))

    def _on(self, key, act, allowed, more=lambda message: []):
        def heard(_, message, buffers):
            if isinstance(message.get(key), int) and message[key] in allowed:
                act(message[key], *more(message))

        self.on_msg(heard)

    def show(self, words, change=None, **where):
        """Send a sentence and how its picture differs from the last that was sent whole.

        ``where`` says in which sweep of which hand it stands, at which place, and whether it
        is to be shown now or kept; ``whole``, ``kept`` or ``failed`` say that the picture is
        the base of those to come, was sent before, or could not be made.
        """
        message = {"words": words, **where}
        if change:
            message |= {"size": change.size, "at": change.at}
        self.send(message, [change.jpeg] if change else None)
