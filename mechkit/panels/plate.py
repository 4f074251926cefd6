"""A drawing that stands: on the page like a panel, with its switches but without sliders."""

import base64
import html
from collections.abc import Callable
from dataclasses import replace

import ipywidgets as w

from mechkit.drawings.picture import png
from mechkit.drawings.style import Look
from mechkit.panels import dress
from mechkit.panels.live import segments


class Plate:
    """A drawing of the rebuild.

    Parameters
    ----------
    title : str
        What is drawn.
    draw : callable
        From the thing and a `Look` to a matplotlib figure.
    thing : object
        What is drawn: a bench sheet, a part.
    look : Look
        Paper or slate, metric or inch, to begin with.
    """

    def __init__(self, title: str, draw: Callable, thing, look: Look | None = None):
        self.title, self.draw, self.thing, self.look = title, draw, thing, look or Look()
        self._image = w.Image(format="png").add_class("mk-picture")
        units = segments([("mm", "metric"), ("in", "inch")], self.look.system, "metric or inch")
        ground = segments([("light", False), ("dark", True)], self.look.dark, "paper or slate")
        units.observe(lambda change: self.wear(system=change.new), "value")
        ground.observe(lambda change: self.wear(dark=change.new), "value")
        heading = w.HTML(f"<h3>{html.escape(title)}</h3>").add_class("mk-title")
        switches = w.HBox([units, ground]).add_class("mk-switches")
        style = w.HTML(dress.style(), layout=w.Layout(display="none"))
        bar = w.HBox([heading, switches]).add_class("mk-bar")
        self.root = w.VBox([style, bar, self._image]).add_class("mk-panel")
        self.wear()

    def wear(self, **changes):
        """Change the look: ``dark`` or ``system``."""
        self.look = replace(self.look, **changes)
        (self.root.add_class if self.look.dark else self.root.remove_class)("mk-dark")
        self._image.value = self.still()

    def still(self) -> bytes:
        """The drawing as PNG bytes."""
        return png(lambda: self.draw(self.thing, self.look))

    def _repr_mimebundle_(self, **_):
        """One output: the switchable drawing, and the plain one where nothing is alive."""
        still = base64.b64encode(self._image.value).decode("ascii")
        return self.root._repr_mimebundle_() | {"text/plain": self.title, "image/png": still}
