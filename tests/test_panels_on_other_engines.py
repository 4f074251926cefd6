"""Every panel on engines that nobody tuned it for: it opens, and every control goes to its ends."""

import importlib
import re

import pytest

from mechkit.drawings.style import Look
from mechkit.panels.controls import Choice, Slider
from tests import legible
from tests.strange_sheets import SHEETS, strange

TOPICS = ("flywheel", "wear", "gears", "fits", "springs", "motion", "diagnose", "choose", "rebuild")
#: By turns: paper at the desk, slate in the hall.
LOOKS = (Look(), Look(dark=True, size="hall", system="inch"))
#: What a number that is none looks like, and a word that only a programmer knows.
NONE = re.compile(r"\b(nan|inf|None|array)\b")


def ends(control):
    """All that can be chosen, or both ends of a slider: the lower in mm, the upper in inches."""
    if not isinstance(control, Slider):
        return control.options if isinstance(control, Choice) else (False, True)
    low, high = control.scale("metric").low, control.scale("inch").high
    return control.from_shown(low, "metric"), control.from_shown(high, "inch")


def told(panel):
    """The sentence of the present state in both systems, if it is one."""
    words = [panel.sentence(panel.state, system) for system in ("metric", "inch")]
    for text in words:
        assert text.endswith((".", "?", "!")) and not NONE.search(text), text
    return words


def drawn(picture, panel):
    """The picture of the present state, with nothing written cut off or covered."""
    picture._draw(panel.state)
    assert not list(legible.unread(picture))


def sound(slider):
    """Whether its start lies inside, there are steps enough, and each reads apart."""
    assert slider.low <= slider.start <= slider.high
    for system in ("metric", "inch"):
        low, high, step, decimals, label = slider.scale(system)
        assert 7 <= (high - low) / step <= 2500, label
        assert float(f"{step:.{decimals}f}") == pytest.approx(step)


@pytest.mark.parametrize("topic", TOPICS)
@pytest.mark.parametrize("name", SHEETS)
def test_a_panel_opens_and_every_control_moves_to_its_ends(name, topic):
    panel = importlib.import_module(f"mechkit.panels.{topic}").show(strange(name))
    look = LOOKS[SHEETS.index(name) % 2]
    picture = panel.picture(look, panel.setting, 1.0)
    started = told(panel)
    for control in panel.controls.values():
        if isinstance(control, Slider):
            sound(control)
        for end in ends(control):
            panel.set(control.name, end)
            told(panel)
        picture._draw(panel.state)
        panel.put(*panel.at(**{control.name: control.start}))
    for place in (0, -1):  # and all together
        panel.put(*panel.at(**{name: ends(one)[place] for name, one in panel.controls.items()}))
        told(panel)
        drawn(picture, panel)
    panel.reset()
    assert told(panel) == started
    drawn(picture, panel)
