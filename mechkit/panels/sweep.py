"""The pictures that lie ahead of a slider, drawn before the hand asks for them.

While a pointer or the keyboard's focus rests on a slider and all else stands, the kernel draws
the slider's other places, nearest first, and the browser keeps them.  A step then shows at once
the picture that was computed for exactly that value; the trip to the kernel is no longer in
its way.  Nothing more is drawn once neither rests there.  Any other change ends the sweep, and
what the browser kept of it.
"""

import math
from itertools import count
from typing import Any

from mechkit.panels.controls import Slider

MOST = 200  # places kept of one slider: some 10 MB in the browser
_numbers = count(1)


class Sweep:
    """One slider's places while all else stands; without a slider, one picture.

    Parameters
    ----------
    panel : Panel
        Whose values stand, but for the slider's.
    control : Slider, optional
        The slider.
    system : str
        The units that it shows.
    hand : int
        Which of the browser's sliders it is; -1 for none.
    """

    def __init__(self, panel, control: Slider | None = None, system="metric", hand=-1):
        self.number = next(_numbers)
        self.panel, self.system, self.hand = panel, system, hand
        self.control: Any = control
        self.scale: Any = control.scale(system) if control else None
        self.known: dict[int, tuple] = {}  # place -> values and state of what was sent
        self.wanted = True
        self.running = False
        self.errors = 0
        self._refused: set[int] = set()

    def nearest(self, shown):
        """The place of a number on the slider, in steps."""
        return round((shown - self.scale.low) / self.scale.step)

    def place(self):
        """Where the panel stands; None without a slider, or for a value between two places."""
        if not self.control:
            return None
        value = self.panel.values[self.control.name]
        place = self.nearest(self.control.shown(value, self.system))
        return place if math.isclose(self._value(place), value, rel_tol=1e-9) else None

    def at(self, place):
        """Values and state of the panel with the slider at a place."""
        return self.panel.at(**{self.control.name: self._value(place)})

    def ahead(self) -> tuple[int, dict, Any] | None:
        """The nearest place that was not drawn yet, its values and its state; None at the end."""
        if not self.control:
            return None
        value = self.control.shown(self.panel.values[self.control.name], self.system)
        last, here = self.nearest(self.scale.high), self.nearest(value)
        for place in sorted(range(last + 1), key=lambda n: abs(n - here))[:MOST]:
            if place in self.known or place in self._refused:
                continue
            try:
                values, state = self.at(place)
            except ValueError:  # said when the hand comes there
                self.refuse(place)
            except Exception:
                self.refuse(place)
                raise
            else:
                return place, values, state
        return None

    def refuse(self, place):
        """Draw no more ahead for a place."""
        self._refused.add(place)

    def _value(self, place):
        """The value at a place [SI]."""
        shown = self.scale.low + place * self.scale.step
        return self.control.from_shown(shown, self.system)
