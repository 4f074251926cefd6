"""A panel on the screen: ipywidgets set the values, one picture and one sentence follow.

No Output widget and no queue: ipywidgets itself keeps one message on the way and then sends
only the newest value, so the picture never lags behind the hand.
"""

import asyncio
import html
import logging
import traceback
from typing import get_args

import ipywidgets as w
import traitlets as t

from mechkit.panels import dress
from mechkit.panels.controls import Choice, Slider
from mechkit.panels.screen import Screen
from mechkit.panels.sweep import Sweep
from mechkit.units import System

#: Without a handler of its own it prints where the notebook's log reads.
LOG = logging.getLogger(__name__)
#: Places of a slider that fail, until it is the panel that fails and not a place.
BROKEN = 20
PAUSE = 0.002  # between two pictures that nobody asked for yet [s]: the hand comes first


class Hand(w.FloatSlider):
    """A slider that is told nothing back: the hand knows where it is."""

    value = t.CFloat(0.0).tag(sync=True, echo_update=False)


class Live:
    """The widgets of one panel."""

    def __init__(self, panel):
        self.panel = panel
        self._following = False
        self._inputs = {name: self._input(c) for name, c in panel.controls.items()}
        shape = panel.picture.width, panel.picture.height
        self._hands = self._numbered()
        sliders = list(self._hands.values())
        self.screen = Screen(title=panel.title, shape=shape, hands=sliders).add_class("mk-screen")
        self.screen.on_pixels(self._kept_alive(self._seen))
        self.screen.on_touch(self._kept_alive(self._touched))
        self.screen.on_leave(self._kept_alive(self._left))
        self._logged: set[tuple] = set()
        self._watched = False
        self._sweep = Sweep(panel)
        self._style = w.HTML(layout=w.Layout(display="none"))
        self.root = w.VBox([self._style, self._bar(), self.screen, self._groups(), self._foot()])
        self.root.add_class("mk-panel")
        self._dressed()

    def view(self):
        """The widget's part of the output."""
        return self.root._repr_mimebundle_()

    def input(self, name):
        """The widget that now sets a control."""
        return self._inputs[name][self.panel.look.system]

    def _numbered(self):
        """The sliders by control and units, each with its number in its clothes."""
        hands = {
            (name, system): slider
            for name, inputs in self._inputs.items()
            for system, slider in inputs.items()
            if isinstance(slider, Hand)
        }
        for number, slider in enumerate(hands.values()):
            slider.add_class(f"mk-hand-{number}")
        return hands

    # -- what stands on the panel -------------------------------------------------------

    def _bar(self):
        """The question, and the three switches of the look."""
        look = self.panel.look
        switches = [
            segments([("mm", "metric"), ("in", "inch")], look.system, "metric or inch"),
            segments([("light", False), ("dark", True)], look.dark, "paper or slate"),
            segments([("desk", "desk"), ("hall", "hall")], look.size, "for the desk or the hall"),
        ]
        self._size = switches[-1]
        for switch, key in zip(switches, ("system", "dark", "size"), strict=True):
            switch.observe(
                self._guarded(lambda change, key=key: self._wear(key, change.new)), "value"
            )
        title = w.HTML(f"<h3>{html.escape(self.panel.title)}</h3>")
        title.add_class("mk-title")
        bar = w.HBox([title, w.HBox(switches).add_class("mk-switches")])
        return bar.add_class("mk-bar")

    def _slider(self, control, system):
        """One slider in one system of units.

        A slider keeps its range for life: a browser that is busy would clip the old number
        to a new range and send it back as if a hand had moved it.
        """
        scale = control.scale(system)
        made = Hand(
            value=_held(control, self.panel.values[control.name], system),
            min=scale.low,
            max=scale.high,
            step=scale.step,
            description=scale.label,
            readout_format=f".{scale.decimals}f",
            continuous_update=True,
        )
        made.add_class("mk-slider")
        made.observe(self._guarded(lambda change: self._slid(control, change.new, system)), "value")
        return made

    def _input(self, control):
        """The widgets of one control: a slider for each system of units, or one for all."""
        if isinstance(control, Slider):
            return {system: self._slider(control, system) for system in get_args(System)}
        if isinstance(control, Choice):
            made = segments(
                [(word, word) for word in control.options], control.start, control.words
            )
            made.description = control.words
            made.add_class("mk-choice")
        else:
            made = w.Checkbox(description=control.words, indent=False)
            made.add_class("mk-check")
        made.observe(self._guarded(lambda change: self._chosen(control, change.new)), "value")
        return dict.fromkeys(get_args(System), made)

    def _groups(self):
        """The controls under their headings, in columns."""
        columns = []
        for group in self.panel.groups:
            heading = w.HTML(f"<h4>{html.escape(group.heading)}</h4>")
            inputs = [
                made
                for control in group.controls
                for made in dict.fromkeys(self._inputs[control.name].values())
            ]
            columns.append(w.VBox([heading, *inputs]).add_class("mk-group"))
        return w.Box(columns).add_class("mk-groups")

    def _foot(self):
        """Back to the sheet, and into a copy of it."""
        reset = w.Button(
            description="as in the sheet", tooltip="set every control as the sheet has it"
        )
        reset.on_click(self._guarded(lambda _: self.panel.reset()))
        children = [reset]
        if self.panel.write:
            write = w.Button(description="write into a copy of the sheet")
            write.on_click(self._guarded(lambda _: self._write()))
            self._where = w.HTML()
            children += [write, self._where.add_class("mk-where")]
        return w.HBox(children).add_class("mk-foot")

    # -- what moves ---------------------------------------------------------------------

    def _guarded(self, action):
        """A callback that says on the panel why it failed, and fails."""

        def act(change):
            with self.panel.lock:
                if self._following:
                    return
                try:
                    action(change)
                except Exception as error:
                    self._failed(error)
                    raise

        return act

    def _kept_alive(self, action):
        """What answers the browser itself, where nobody waits for an error: it is said and logged."""

        def act(*told):
            with self.panel.lock:
                try:
                    action(*told)
                except Exception as error:
                    self._log(error)
                    self._failed(error)

        return act

    def _failed(self, error):
        """Say on the panel why nothing came."""
        self._sweep = Sweep(self.panel)  # the browser has ended its own
        self._say(str(error) or type(error).__name__, failed=True)

    def _log(self, error):
        """Tell the notebook's log what went wrong, each place in the code once."""
        frame = traceback.extract_tb(error.__traceback__)[-1]
        where = type(error), frame.filename, frame.lineno
        if where not in self._logged:
            self._logged.add(where)
            LOG.error("%s %s", self.panel.title, error, exc_info=error)

    def _slid(self, control, value, system):
        """A slider was moved by hand."""
        now = self.panel.values[control.name]
        if abs(value - control.shown(now, system)) <= 0.501 * control.scale(system).step:
            return  # the browser put a value of the sheet on the slider's nearest step
        if (control, system) != (self._sweep.control, self._sweep.system):
            self.panel.take(control.name, control.from_shown(value, system))
            self._open(control, system)
        else:
            self._step(value)
        self._look_ahead()

    def _chosen(self, control, value):
        """A choice or a switch was made."""
        self.panel.take(control.name, value)
        self._offer()
        self._draw()

    def _offer(self):
        """Show the sliders of the present units that the choices ask for."""
        for name, control in self.panel.controls.items():
            if not isinstance(control, Slider):
                continue
            wanted = not control.when or self.panel.values[control.when[0]] == control.when[1]
            for system, made in self._inputs[name].items():
                shown = wanted and system == self.panel.look.system
                made.layout.display = None if shown else "none"

    def _seen(self, pixels, narrow):
        """A browser shows the panel, so many pixels wide."""
        self._watched = True
        self.panel.fit(pixels)
        if narrow and self.panel.look.size == "desk":
            self._size.value = "hall"  # large type, for a phone as for the hall; it draws
        else:
            self._draw()

    def _draw(self):
        """Something else than a slider moved."""
        self._open()

    # -- what lies ahead of a slider ----------------------------------------------------

    def _open(self, control=None, system=None, shown=True):
        """Begin a sweep with the present picture, whole."""
        hand = list(self._hands).index((control.name, system)) if control else -1
        self._sweep = Sweep(self.panel, control, system, hand)
        if self._watched:
            self.panel.anew()
            place = self._sweep.place()
            self._send(place, self.panel.values, self.panel.state, shown=shown, whole=True)

    def _step(self, value):
        """The slider of the sweep went to another place; its picture may be there already."""
        sweep = self._sweep
        place = sweep.nearest(value)
        known = sweep.known.get(place)
        self.panel.put(*(known or sweep.at(place)))
        if known:
            self._say(self.panel.words, place, shown=True, kept=True)
        else:
            self._send(place, self.panel.values, self.panel.state, shown=True)

    def _send(self, place, values, state, shown, **more):
        """Draw a state and send it, to be shown or to be kept."""
        change, words = self.panel.change(state), self.panel.words_of(state)
        if place is not None:
            self._sweep.known[place] = values, state
        self._say(words, place, shown=shown, change=change, **more)

    def _say(self, words, place=None, shown=True, **more):
        sweep = self._sweep
        where = {"sweep": sweep.number, "hand": sweep.hand, "place": place, "shown": shown}
        if self._watched:
            self.screen.show(words, **where, **more)

    def _touched(self, hand):
        """A pointer or the focus rests on a slider."""
        name, system = list(self._hands)[hand]
        if hand != self._sweep.hand:
            self._open(self.panel.controls[name], system, shown=False)
        self._look_ahead()

    def _left(self, hand):
        """Nothing rests on a slider any more."""
        if hand == self._sweep.hand:
            self._sweep.wanted = False

    def _look_ahead(self):
        """Draw what the hand may ask for next, one picture at a time, while nothing else comes."""
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:  # moved from a cell or a test: nobody's hand is on the slider
            return
        sweep = self._sweep
        sweep.wanted = True
        if not self._watched or sweep.running:
            return
        sweep.running = True

        def draw():
            with self.panel.lock:
                try:
                    sweep.running = sweep is self._sweep and sweep.wanted and self.draw_ahead()
                except Exception as error:  # of one place: the others may come
                    self._log(error)
                    sweep.errors += 1
                    sweep.running = sweep.errors < BROKEN
            if sweep.running:
                loop.call_later(PAUSE, draw)

        loop.call_later(PAUSE, draw)

    def draw_ahead(self):
        """Draw and send the nearest picture that is not there yet; whether there was one."""
        coming = self._sweep.ahead()
        if coming:
            place, values, state = coming
            try:
                self._send(place, values, state, shown=False)
            except Exception:
                self._sweep.refuse(place)
                raise
        return bool(coming)

    # -- other clothes ------------------------------------------------------------------

    def _wear(self, key, value):
        """Another look: new picture, other units, other clothes."""
        self.panel.wear(**{key: value})
        self._dressed()

    def _dressed(self):
        look = self.panel.look
        self._style.value = dress.style()
        for name, on in (("mk-dark", look.dark), ("mk-hall", look.size == "hall")):
            (self.root.add_class if on else self.root.remove_class)(name)
        self.follow()

    def follow(self):
        """Set every widget from the panel's values, and draw."""
        system = self.panel.look.system
        with self.panel.lock:
            self._following = True
            try:
                for name in self._inputs:
                    control, value = self.panel.controls[name], self.panel.values[name]
                    held = isinstance(control, Slider)
                    self.input(name).value = _held(control, value, system) if held else value
            finally:
                self._following = False
            self._offer()
            self._draw()

    def _write(self):
        path = self.panel.write(dict(self.panel.values))
        self._where.value = f"<span>written to {html.escape(str(path))}</span>"


def segments(options, value, words):
    """A few words side by side, one of them pressed."""
    made = w.ToggleButtons(options=options, value=value, tooltips=[words] * len(options))
    return made.add_class("mk-segments")


def _held(control, value, system):
    """The number of a slider for a value, inside its range."""
    scale = control.scale(system)
    return min(max(control.shown(value, system), scale.low), scale.high)
