"""Controls: sliders with sound ends and steps in both systems, refusals by name and range."""

import math
import re

import pytest

from mechkit import units
from mechkit.drive.questions.reach import Reach, throttle
from mechkit.panels import flywheel
from mechkit.panels.controls import Slider, offered, over

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


# -- from the engine --------------------------------------------------------------------


@pytest.mark.parametrize("size", [1e-5, 0.37, 1.0, 64.0, 8.3e4])
@pytest.mark.parametrize("kind", ["length", "fine", "torque", "speed", "voltage", "percent"])
def test_a_range_of_any_size_gets_round_ends_and_dozens_of_steps(size, kind):
    reach = Reach(0.5123 * size, 0.0731 * size, 1.917 * size)
    slider = over(reach, "x", "x", kind)
    assert slider.low <= reach.low and reach.high <= slider.high
    assert slider.high - slider.low < 1.05 * (reach.high - reach.low)
    assert slider.start == reach.start
    metric = slider.scale("metric")
    assert 60 <= (metric.high - metric.low) / metric.step <= 160
    number = metric.step / 10 ** math.floor(math.log10(metric.step) + 1e-9)
    assert min(abs(number - round_) for round_ in (1, 2, 5)) < 1e-6


def test_the_start_is_inside_whatever_the_ends_ask_for():
    for start in (-3.0, 0.2, 7.0):
        assert Reach(start, 0.0, 1.0).ends == (min(start, 0.0), max(start, 1.0))
    held = Reach(2.0, 0.0, 5.0, least=1.0, most=3.0)
    assert held.ends == (1.0, 3.0)
    assert Reach(0.5, 0.0, 5.0, least=1.0).low == 0.5  # it lies on the bench


def test_what_no_part_goes_beyond_is_rounded_inward_and_what_is_above_nought_stays_there():
    slider = over(Reach(1.0e-3, 0.0, 9e-3, least=0.333e-3, most=1.777e-3), "x", "x", "length")
    assert 0.333e-3 <= slider.low < 0.4e-3 and 1.7e-3 < slider.high <= 1.777e-3
    assert over(Reach.times(1.0, 1e-3, 9.0), "x", "x", "length").low > 0


def test_a_start_that_stands_in_no_sheet_settles_on_a_step():
    reach = Reach(24.14 / 3.6, 2.0, 27.0)
    assert over(reach, "x", "x", "speed", steps=20).start == reach.start
    assert 3.6 * over(reach, "x", "x", "speed", steps=20, settled=True).start == pytest.approx(24.0)


def test_a_throttle_goes_to_a_strong_pack():
    assert throttle(24.0, 0.1).ends == pytest.approx((2.4, 28.8))
    assert throttle(24.0).start == 24.0 and throttle(24.0, start=12.0).start == 12.0


def test_a_choice_offers_what_stands_in_the_sheet_once():
    assert offered(("brass", "steel"), "bronze", "steel") == ("brass", "steel", "bronze")
