"""A panel without its widgets: controls -> state -> picture and sentence.

A topic's panel gives four things: the controls in groups, ``compute`` (values -> a frozen
state, physics only), ``sentence`` (state, system of units -> what it means at the bench) and
a `Picture`.  All of it can be tried without a browser: ``panel.set("outer", "18 mm")``.
"""

import base64
import threading
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from mechkit.drawings.picture import DENSITY, Picture
from mechkit.drawings.style import Look
from mechkit.panels.controls import Choice, Group, Slider, Switch
from mechkit.panels.typed import typed


@dataclass(eq=False)
class Panel:
    """Controls that move a picture and a sentence.

    Parameters
    ----------
    title : str
        The question that the panel answers.
    groups : sequence of Group
        The controls; what matters most first.
    compute : callable
        From the values (attributes by name, SI) to a frozen state; no picture, no widget.
    sentence : callable
        From (state, system) to one plain sentence.
    picture : type of Picture
        Drawn from ``setting``, moved by the state.
    setting : object
        Whatever stands while the controls move.
    write : callable, optional
        Writes the values into a copy of the sheet and returns its path.
    look : Look
        Paper or slate, desk or hall, metric or inch, to begin with.
    """

    title: str
    groups: tuple[Group, ...]
    compute: Callable[[SimpleNamespace], Any]
    sentence: Callable[[Any, str], str]
    picture: type[Picture]
    setting: Any = None
    write: Callable[[dict[str, Any]], Path] | None = None
    look: Look = field(default_factory=Look)

    def __post_init__(self):
        """Compute the state that the controls start in."""
        self.lock = threading.RLock()  # widgets call from another thread
        self.controls = {c.name: c for group in self.groups for c in group.controls}
        self.values = {name: c.accept(c.start) for name, c in self.controls.items()}
        self.state = self.compute(SimpleNamespace(**self.values))
        self.density: float = DENSITY
        self._drawn: Picture | None = None
        self._live: Any = None

    # -- setting ------------------------------------------------------------------------

    def set(self, name, value):
        """Set one control, ``"16 mm"`` or SI; where the state cannot be computed, the old one stays."""
        if name not in self.controls:
            raise ValueError(f"no control {name!r} here: {', '.join(self.controls)}")
        self._take({name: typed(self.controls[name], value)})
        if self._live:
            self._live.follow()

    def take(self, name, value):
        """Set one control without telling the widgets: they told it."""
        self._take({name: self.controls[name].accept(value)})

    def reset(self):
        """Back to where the controls started: as in the sheet."""
        self._take({name: control.start for name, control in self.controls.items()})
        if self._live:
            self._live.follow()

    def _take(self, changes):
        with self.lock:
            self.put(*self.at(**changes))

    def at(self, **changes):
        """Values and state with some controls set otherwise [SI]; nothing is set."""
        values = self.values | changes
        return values, self.compute(SimpleNamespace(**values))

    def put(self, values, state):
        """Take values whose state is known."""
        with self.lock:
            self.values, self.state = values, state

    def wear(self, **changes):
        """Change the look: ``dark``, ``size`` or ``system``."""
        with self.lock:
            self.look = replace(self.look, **changes)
            self._drawn = None

    # -- showing ------------------------------------------------------------------------

    @property
    def words(self):
        """The sentence of the present state."""
        return self.words_of(self.state)

    def words_of(self, state):
        """The sentence of a state."""
        return self.sentence(state, self.look.system)

    def frame(self):
        """The picture of the present state as JPEG bytes."""
        with self.lock:
            return self._picture().frame(self.state)

    def change(self, state):
        """How a state's picture differs from the one that was sent whole; None if nowhere."""
        with self.lock:
            return self._picture().change(state)

    def anew(self):
        """Send the next picture whole: those after it tell what differs from it."""
        with self.lock:
            self._picture().anew()

    def fit(self, pixels):
        """Draw for a screen so many pixels wide [px]."""
        with self.lock:
            # A window that is dragged smaller must not ask for a picture that cannot be drawn.
            self.density = min(max(pixels / self.picture.width, 0.25), 4.0)

    def still(self):
        """The picture with its sentence as PNG bytes."""
        with self.lock:
            return self._picture(DENSITY).still(self.state, self.words)

    def _picture(self, density=None):
        density = density or self.density
        if self._drawn is None or self._drawn.density != density:
            self._drawn = self.picture(self.look, self.setting, density)
        return self._drawn

    def _repr_mimebundle_(self, **_):
        """One output: the live panel, and the picture with its sentence where nothing is alive."""
        from mechkit.panels.live import Live  # ipywidgets only when a notebook shows it

        if self._live is None:
            self._live = Live(self)
        still = base64.b64encode(self.still()).decode("ascii")
        return self._live.view() | {"text/plain": self.words, "image/png": still}


__all__ = ["Choice", "Group", "Panel", "Slider", "Switch"]
