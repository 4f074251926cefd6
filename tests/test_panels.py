"""Panels without a browser: controls, state, sentence, and the widgets that hold them."""

import base64
import importlib
import io
import re
import threading
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import NamedTuple

import ipywidgets
import numpy as np
import pytest
from PIL import Image

from mechkit import units
from mechkit.drawings import layout, shop
from mechkit.drawings.picture import Change, Picture
from mechkit.drawings.style import Look
from mechkit.panels import dress, flywheel
from mechkit.panels.controls import Choice, Group, Slider, Switch
from mechkit.panels.live import Live
from mechkit.panels.panel import Panel
from mechkit.panels.screen import Screen

SYSTEMS = ("metric", "inch")
SLIDERS = [c for c in flywheel.show().controls.values() if isinstance(c, Slider)]


@dataclass(frozen=True)
class Bar:
    """A state with next to nothing in it."""

    length: float
    stiff: bool


class BarPicture(Picture):
    """A line."""

    width, height = 200, 100

    def build(self):
        axes = layout.drawing(self.figure, self.look, (0, 0, 200, 100), scale=1e-3)
        self.bar = self.moves(shop.Outline(axes, self.look))

    def move(self, state):
        self.bar.set([(0, 0), (state.length, 0)])


def bar_state(values):
    if values.length > 0.09:
        raise ValueError("length = 0.095 m: must be at most 0.09 m")
    return Bar(values.length, values.stiff)


def bar_panel(**more):
    controls = (
        Slider("length", "length <b>", "length", 10e-3, 100e-3, 20e-3, 1e-3),
        Slider("load", "load", "force", 0.0, 2.0, 1.0, 0.1, when=("held", "one end")),
        Choice("held", "held at", ("one end", "both ends"), "both ends"),
        Switch("stiff", "stiff"),
    )
    return Panel(
        title="How long a bar?",
        groups=(Group("Bar", controls),),
        compute=bar_state,
        sentence=lambda state, system: f"Bar <{units.show(state.length, 'length', system)}>",
        picture=BarPicture,
        **more,
    )


def live(panel):
    """The widgets of a panel, as if a notebook had shown it."""
    panel._repr_mimebundle_()
    return panel._live


class Told(NamedTuple):
    """What the screen was told."""

    words: str
    change: Change | None
    where: dict


def listen(shown, pixels=1040):
    """What the screen is told from now on, as if a browser showed it so many pixels wide."""
    told = []
    shown.screen.show = lambda words, change=None, **where: told.append(Told(words, change, where))
    shown.screen._handle_custom_msg({"pixels": pixels}, [])
    return told


def widgets(root):
    """Every widget of a tree."""
    yield root
    for child in getattr(root, "children", ()):
        yield from widgets(child)


# -- the panel itself -------------------------------------------------------------------


def test_a_value_outside_is_refused_by_name_and_range():
    panel = bar_panel()
    with pytest.raises(ValueError, match=r"length = 120.00\smm: from 10.00\smm to 100.00\smm"):
        panel.set("length", 0.12)
    with pytest.raises(ValueError, match="held = 'nowhere': one of one end, both ends"):
        panel.set("held", "nowhere")
    with pytest.raises(ValueError, match="stiff = 1: True or False"):
        panel.set("stiff", 1)


def test_setting_moves_state_sentence_and_picture():
    panel = bar_panel()
    before = panel.frame()
    panel.set("length", 0.05)
    assert panel.state == Bar(0.05, False)
    assert panel.words == "Bar <50.00\u00a0mm>"
    assert panel.frame() != before
    panel.reset()
    assert panel.state.length == 0.02 and panel.frame() == before


def test_a_state_that_cannot_be_computed_leaves_the_old_one():
    panel = bar_panel()
    with pytest.raises(ValueError, match="at most"):
        panel.set("length", 0.095)
    assert panel.state.length == 0.02 and panel.values["length"] == 0.02


def test_one_output_with_the_live_panel_and_a_picture_that_needs_no_kernel():
    panel = bar_panel()
    data = panel._repr_mimebundle_()
    assert set(data) == {"application/vnd.jupyter.widget-view+json", "image/png", "text/plain"}
    assert data["application/vnd.jupyter.widget-view+json"]["model_id"] == panel._live.root.model_id
    assert Image.open(io.BytesIO(base64.b64decode(data["image/png"]))).format == "PNG"
    assert data["text/plain"] == panel.words


# -- the widgets ------------------------------------------------------------------------


def test_moving_a_slider_moves_the_picture_and_the_sentence():
    panel = bar_panel()
    shown = live(panel)
    told = listen(shown)
    shown.input("length").value = 50.0
    assert panel.state.length == pytest.approx(0.05)
    first, moved = told
    assert "20.00" in first.words and "50.00" in moved.words
    assert moved.change.jpeg != first.change.jpeg
    shown.input("stiff").value = True
    assert panel.state.stiff is True


def test_setting_by_name_moves_the_widgets_too():
    panel = bar_panel()
    shown = live(panel)
    told = listen(shown)
    panel.set("length", 0.03)
    assert shown.input("length").value == pytest.approx(30.0)
    assert "30.00" in told[-1].words


def test_a_failing_callback_is_said_on_the_panel_and_fails():
    panel = bar_panel()
    shown = live(panel)
    told = listen(shown)
    with pytest.raises(ValueError, match="at most"):
        shown.input("length").value = 95.0
    assert told[-1].where["failed"] and told[-1].change is None
    assert "length = 0.095 m: must be at most 0.09 m" in told[-1].words
    shown.input("length").value = 40.0
    assert "failed" not in told[-1].where


def test_words_of_others_are_no_markup():
    """The sentence travels as it is, and the browser sets it as text."""
    assert listen(live(bar_panel()))[-1].words.startswith("Bar <20.00")
    script = Screen._esm.read_text("utf-8") if isinstance(Screen._esm, Path) else str(Screen._esm)
    assert "textContent = words" in script and "innerHTML" not in script


def test_nothing_is_drawn_for_a_browser_that_is_not_there():
    panel = bar_panel()
    shown, told = live(panel), []
    shown.screen.show = lambda *args, **more: told.append(args)
    panel.set("length", 0.03)
    assert told == []


@pytest.mark.parametrize("pixels", [None, 0, -5, 1e9, "1040", [1]])
def test_a_width_that_is_none_is_not_drawn_for(pixels):
    assert listen(live(bar_panel()), pixels) == []


def test_what_changed_pasted_into_the_old_picture_is_the_new_one():
    panel = bar_panel()
    panel.fit(200)
    whole = panel.change(panel.state)
    assert whole.size[0] == 200 and panel.change(panel.state) is None
    kept = Image.open(io.BytesIO(whole.jpeg)).convert("RGB")
    panel.set("length", 0.07)
    change = panel.change(panel.state)
    part = Image.open(io.BytesIO(change.jpeg))
    assert part.width * part.height < 0.9 * kept.width * kept.height
    kept.paste(part, change.at)
    afresh = np.asarray(Image.open(io.BytesIO(panel.frame())).convert("RGB")).astype(int)
    assert np.abs(np.asarray(kept).astype(int) - afresh).max() <= 2


def test_every_browser_that_comes_gets_the_whole_picture():
    panel = bar_panel()
    shown = live(panel)
    told = listen(shown, 600)
    panel.set("length", 0.03)
    shown.screen._handle_custom_msg({"pixels": 350}, [])
    sizes = [(one.change.at, one.change.size[0]) for one in (told[0], told[-1])]
    assert sizes == [((0, 0), 600), ((0, 0), 350)]


def test_changing_units_changes_every_number_shown_and_no_value():
    panel = flywheel.show()
    shown = live(panel)
    told = listen(shown)
    values, state = dict(panel.values), panel.state
    for _ in range(3):
        for system in ("inch", "metric"):
            shown._wear("system", system)
    assert panel.values == values and panel.state is state
    shown._wear("system", "inch")
    assert shown.input("outer").description == "outside diameter, in"
    assert "mph" in told[-1].words and "mm" not in told[-1].words


def test_a_value_that_the_browser_rounds_to_a_step_stays_as_in_the_sheet():
    panel = flywheel.show()
    shown = live(panel)
    shown.input("speed").value = 48.0  # 30 mph are 48.28 km/h, and the step is 2
    assert panel.values["speed"] == pytest.approx(30 * 0.44704)
    shown.input("speed").value = 50.0  # one key press
    assert panel.values["speed"] == pytest.approx(50 / 3.6)


def test_the_switches_dress_the_panel():
    panel = bar_panel()
    shown = live(panel)
    shown._wear("dark", True), shown._wear("size", "hall")
    assert {"mk-panel", "mk-dark", "mk-hall"} <= set(shown.root._dom_classes)
    assert panel.look == Look(dark=True, size="hall")
    shown._wear("dark", False)
    assert "mk-dark" not in shown.root._dom_classes


def test_a_slider_that_waits_for_a_choice_shows_only_then():
    panel = bar_panel()
    shown = live(panel)
    assert shown.input("load").layout.display == "none"
    shown.input("held").value = "one end"
    assert shown.input("load").layout.display is None


def test_as_in_the_sheet_and_into_a_copy(tmp_path):
    written = {}

    def write(values):
        written.update(values)
        return tmp_path / "copy <1>.toml"

    panel = bar_panel(write=write)
    shown = live(panel)
    buttons = {b.description: b for b in widgets(shown.root) if isinstance(b, ipywidgets.Button)}
    shown.input("length").value = 50.0
    buttons["write into a copy of the sheet"].click()
    assert written["length"] == pytest.approx(0.05)
    assert "copy &lt;1&gt;.toml" in shown._where.value
    buttons["as in the sheet"].click()
    assert panel.values["length"] == 0.02 and shown.input("length").value == pytest.approx(20)
    without = {
        b.description for b in widgets(live(bar_panel()).root) if isinstance(b, ipywidgets.Button)
    }
    assert "write into a copy of the sheet" not in without


def test_no_output_widget_and_everything_labeled():
    for made in widgets(live(flywheel.show()).root):
        assert not isinstance(made, ipywidgets.Output)  # they flicker, and are lost on saving
        if isinstance(made, ipywidgets.FloatSlider | ipywidgets.Checkbox):
            assert made.description


def test_two_threads_may_move_one_panel():
    """Widget callbacks come on a thread of their own while a cell sets values on another."""
    panel = bar_panel()
    shown, failed = live(panel), []
    listen(shown)

    def move(values):
        try:
            for value in values:
                panel.set("length", value)
        except Exception as error:
            failed.append(error)

    threads = [
        threading.Thread(target=move, args=([k * 1e-3 for k in span],))
        for span in (range(20, 50), range(80, 50, -1))
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    assert not failed
    assert panel.change(panel.state) is None  # what was sent last is the present state
    assert shown.input("length").value == pytest.approx(panel.values["length"] * 1e3)


def test_the_clothes_hang_on_the_panel_alone():
    text = dress.style()
    rules = re.sub(r"@font-face \{.*?\}|<style>", "", text, flags=re.S)
    for selector in re.findall(r"(?m)^\s*([^@{}\n][^{}\n]*)\{", rules):
        for part in re.split(r",(?![^(]*\))", selector):
            assert ".mk-panel" in part or part.strip().startswith("--"), part
    assert text.count("@font-face") == 2 and "http" not in text


# -- the flywheel's sentence ------------------------------------------------------------


def test_the_flywheel_sentence_tells_the_state_in_either_system():
    panel = flywheel.show()
    state = panel.state
    metric, inch = (flywheel.sentence(state, system) for system in SYSTEMS)
    millimeters = float(re.search(r"Coasts (\d+)\smm", metric)[1])
    inches = float(re.search(r"Coasts ([\d.]+)\sin", inch)[1])
    assert millimeters == pytest.approx(state.open.stop * 1e3, abs=0.5)
    assert inches == pytest.approx(state.open.stop / 25.4e-3, abs=0.005)
    assert "48\u00a0scale\u00a0km/h" in metric and "30\u00a0scale\u00a0mph" in inch


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"outer": 20e-3}, "It does not go into the boiler"),
        ({"outer": 18.2e-3}, "of room in the boiler"),
        ({"outer": 8e-3, "width": 4e-3, "friction": 1.5e-3}, "adhesion decides"),
        ({"start_from": "voltage", "voltage": 1.0, "friction": 1.5e-3}, "does not start"),
        ({"bore": 3.2e-3, "width": 4e-3, "outer": 8e-3}, "far above top speed"),
    ],
)
def test_the_flywheel_sentence_says_what_is_wrong(changes, words):
    panel = flywheel.show()
    for name, value in changes.items():
        panel.set(name, value)
    assert words in panel.words


def test_the_flywheel_panel_starts_with_the_case():
    panel = flywheel.show()
    values = SimpleNamespace(**panel.values)
    assert (values.outer, values.width) == (16e-3, 12e-3)
    assert values.bore == pytest.approx(2.03e-3)  # slid on over compound
    assert flywheel.compute(panel.setting, values).open.stop == panel.state.open.stop


@pytest.mark.parametrize(
    "topic",
    ["flywheel", "wear", "gears", "fits", "springs", "motion", "diagnose", "choose", "rebuild"],
)
def test_no_slider_changes_its_range_and_flipping_units_changes_nothing(topic):
    """A busy browser would clip the old number to a new range and send that as a move."""
    panel = importlib.import_module(f"mechkit.panels.{topic}").show()
    shown, values = Live(panel), dict(panel.values)
    sliders = [
        made
        for inputs in shown._inputs.values()
        for made in inputs.values()
        if hasattr(made, "readout_format")
    ]
    ranges = [(made.min, made.max, made.step, made.description) for made in sliders]
    for system in ("inch", "metric"):
        shown._wear("system", system)
        assert [(made.min, made.max, made.step, made.description) for made in sliders] == ranges
    assert panel.values == values
