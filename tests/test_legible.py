"""Every panel, in both looks that differ most: nothing written is cut off or covered."""

import importlib
import pkgutil

import pytest

import mechkit.panels
from mechkit.drawings.style import Look
from mechkit.panels.panel import Panel
from tests import legible

LOOKS = [Look(), Look(dark=True, size="hall", system="inch")]
TOPICS = [
    name
    for name in (module.name for module in pkgutil.iter_modules(mechkit.panels.__path__))
    if hasattr(importlib.import_module(f"mechkit.panels.{name}"), "show")
]


@pytest.mark.parametrize("look", LOOKS, ids=str)
@pytest.mark.parametrize("topic", TOPICS)
def test_everything_written_can_be_read_at_both_ends_of_every_slider(topic, look):
    panel = importlib.import_module(f"mechkit.panels.{topic}").show()
    if not isinstance(panel, Panel):
        pytest.skip("a standing drawing; its own tests look at it")
    panel.wear(dark=look.dark, size=look.size, system=look.system)
    assert legible.faults(panel) == []


def test_a_fault_is_found():
    """The judge itself: two words in one place, and one beyond the edge."""
    panel = importlib.import_module("mechkit.panels.flywheel").show()
    picture = panel._picture()
    for at in ((0.5, 0.5), (0.5, 0.5), (0.999, 0.9)):
        picture.figure.text(*at, "caution")
    found = legible.faults(panel, ["as in the sheet"])
    assert any("overlap" in fault for fault in found)
    assert any("runs off the sheet" in fault for fault in found)
