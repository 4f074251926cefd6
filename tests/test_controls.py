"""Controls: sliders with sound ends and steps in both systems, refusals by name and range."""

import re

import pytest

from mechkit import units
from mechkit.panels import flywheel
from mechkit.panels.controls import Slider

SYSTEMS = ("metric", "inch")
SLIDERS = [c for c in flywheel.show().controls.values() if isinstance(c, Slider)]


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("slider", SLIDERS, ids=lambda s: s.name)
def test_a_slider_has_sound_ends_and_steps_in_both_systems(slider, system):
    low, high, step, decimals, label = slider.scale(system)
    assert slider.shown(slider.low, system) <= low * (1 + 1e-9) + 1e-12
    assert high <= slider.shown(slider.high, system) * (1 + 1e-9)
    assert (high - low) / step == pytest.approx(round((high - low) / step))
    assert 15 <= (high - low) / step <= 400  # a key press is seen, and the range is crossed
    assert float(f"{step:.{decimals}f}") == pytest.approx(step)  # each step reads differently
    assert label == f"{slider.words}, {units.label(slider.kind, system)}"
    for end in (low, high):
        slider.accept(slider.from_shown(end, system))


@pytest.mark.parametrize("step", [1e-3, 0.25e-3, 0.05e-3, 2.5e-3])
def test_a_step_in_inches_is_one_two_or_five(step):
    inch = Slider("x", "x", "length", 0.0, 0.1, 0.05, step).scale("inch").step
    assert re.fullmatch(r"[125]0*", f"{inch * 1e6:.0f}")
    assert 0.5 < inch / (step / 25.4e-3) < 2
