"""A panel on the screen: ipywidgets set the values, one Image and one sentence follow.

No Output widget and no queue: ipywidgets itself keeps one message on the way and then sends
only the newest value, so the picture never lags behind the hand.
"""

import html

import ipywidgets as w

from mechkit.panels import dress
from mechkit.panels.controls import Choice, Slider


class Live:
    """The widgets of one panel."""

    def __init__(self, panel):
        self.panel = panel
        self._following = False
        self._inputs = {name: self._input(c) for name, c in panel.controls.items()}
        self._image = w.Image(format="jpeg")
        self._image.add_class("mk-picture")
        self._sentence = w.HTML()
        self._sentence.add_class("mk-sentence")
        self._style = w.HTML(layout=w.Layout(display="none"))
        self.root = w.VBox([self._style, self._bar(), self._image, self._sentence,
                            self._groups(), self._foot()])  # fmt: skip
        self.root.add_class("mk-panel")
        self._dressed()

    def view(self):
        """The widget's part of the output."""
        return self.root._repr_mimebundle_()

    # -- what stands on the panel -------------------------------------------------------

    def _bar(self):
        """The question, and the three switches of the look."""
        look = self.panel.look
        switches = [
            segments([("mm", "metric"), ("in", "inch")], look.system, "metric or inch"),
            segments([("light", False), ("dark", True)], look.dark, "paper or slate"),
            segments([("desk", "desk"), ("hall", "hall")], look.size, "for the desk or the hall"),
        ]
        for switch, key in zip(switches, ("system", "dark", "size"), strict=True):
            switch.observe(
                self._guarded(lambda change, key=key: self._wear(key, change.new)), "value"
            )
        title = w.HTML(f"<h3>{html.escape(self.panel.title)}</h3>")
        title.add_class("mk-title")
        bar = w.HBox([title, w.HBox(switches).add_class("mk-switches")])
        return bar.add_class("mk-bar")

    def _input(self, control):
        """The widget of one control."""
        if isinstance(control, Slider):
            made = w.FloatSlider(continuous_update=True)
            made.add_class("mk-slider")
        elif isinstance(control, Choice):
            made = segments(
                [(word, word) for word in control.options], control.start, control.words
            )
            made.description = control.words
            made.add_class("mk-choice")
        else:
            made = w.Checkbox(description=control.words, indent=False)
            made.add_class("mk-check")
        made.observe(self._guarded(lambda change: self._moved(control, change.new)), "value")
        return made

    def _groups(self):
        """The controls under their headings, in columns."""
        columns = []
        for group in self.panel.groups:
            heading = w.HTML(f"<h4>{html.escape(group.heading)}</h4>")
            inputs = [self._inputs[control.name] for control in group.controls]
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
                    self._say(str(error) or type(error).__name__, failed=True)
                    raise

        return act

    def _moved(self, control, value):
        """A control was moved by hand."""
        if isinstance(control, Slider):
            system, now = self.panel.look.system, self.panel.values[control.name]
            if abs(value - control.shown(now, system)) <= 0.501 * control.scale(system).step:
                return  # the browser put a value of the sheet on the slider's nearest step
            value = control.from_shown(value, system)
        self.panel.take(control.name, value)
        if not isinstance(control, Slider):
            self._offer()
        self._draw()

    def _offer(self):
        """Show the sliders that the choices ask for."""
        for name, control in self.panel.controls.items():
            if isinstance(control, Slider) and control.when:
                chosen, value = control.when
                wanted = self.panel.values[chosen] == value
                self._inputs[name].layout.display = None if wanted else "none"

    def _draw(self):
        self._image.value = self.panel.frame()
        self._say(self.panel.words)

    def _say(self, words, failed=False):
        kind = "mk-failed" if failed else "mk-said"
        self._sentence.value = f'<p class="{kind}" role="status">{html.escape(words)}</p>'

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
                for name, made in self._inputs.items():
                    control, value = self.panel.controls[name], self.panel.values[name]
                    if isinstance(control, Slider):
                        _set_slider(made, control.scale(system), control.shown(value, system))
                    else:
                        made.value = value
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


def _set_slider(made, scale, value):
    """Range, step and value in one message, so that no order of them can clip another."""
    with made.hold_sync(), made.hold_trait_notifications():
        made.description = scale.label
        made.readout_format = f".{scale.decimals}f"
        made.min, made.max, made.step = scale.low, scale.high, scale.step
        made.value = min(max(value, scale.low), scale.high)
