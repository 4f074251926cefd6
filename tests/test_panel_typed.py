"""Values typed in a cell: with a unit, or bare; a refusal says how it is meant."""

import numpy as np
import pytest

from mechkit import units
from mechkit.panels import flywheel
from mechkit.panels.controls import Choice, Slider, Switch
from mechkit.panels.typed import typed
from tests.test_panels import bar_panel

OUTER = Slider("outer", "diameter", "length", 8e-3, 24e-3, 16e-3, 0.1e-3)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("16 mm", 16e-3),
        ("5/8 in", 15.875e-3),
        ('.625"', 15.875e-3),
        ("1.6 cm", 16e-3),
        ("700 thou", 17.78e-3),
    ],
)
def test_a_length_in_any_unit(text, value):
    assert typed(OUTER, text) == pytest.approx(value)


@pytest.mark.parametrize("value", [0.016, np.float64(0.016), np.float32(0.016)])
def test_a_bare_number_is_si(value):
    assert typed(OUTER, value) == pytest.approx(0.016)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (
            18,
            'from 8.00\u00a0mm to 24.00\u00a0mm; a bare number is in m, else write it with its unit, as "16.00 mm"',
        ),
        (0.03, "outer = 30.00\u00a0mm: from 8.00"),
        ("30 mm", "outer = 30.00\u00a0mm: from 8.00"),
        ("16", "outer: '16' has no unit"),
        ("16 V", "outer: '16 V' is a voltage; write a length"),
        ("wide", "outer: 'wide' is not a length"),
        (None, "outer = None: a bare number is in m"),
        (True, "outer = True: a bare number is in m"),
        ([16], "outer = [16]: a bare number is in m"),
        (float("nan"), "a bare number is in m"),
    ],
)
def test_a_refusal_says_what_is_wanted(value, said):
    with pytest.raises(ValueError) as refused:
        typed(OUTER, value)
    assert said in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("kind", units.KINDS)
def test_the_example_of_a_refusal_is_taken(kind):
    start = units.from_shown(5.0, kind)
    slider = Slider("x", "x", kind, start, start, start, abs(start) or 1.0)
    with pytest.raises(ValueError) as refused:
        typed(slider, None)
    said = str(refused.value)
    if units.SI[kind]:
        assert f"is in {units.SI[kind]}," in said
        assert units.read(said.split('"')[1], units.SI[kind]).value == pytest.approx(
            start, rel=1e-3
        )
    else:
        assert "a plain number is wanted" in said


def test_choices_and_switches_are_taken_as_they_are():
    assert typed(Choice("held", "held", ("a", "b"), "a"), "b") == "b"
    assert typed(Switch("stiff", "stiff"), True) is True
    with pytest.raises(ValueError, match="True or False"):
        typed(Switch("stiff", "stiff"), "yes")


def test_a_panel_takes_it_and_its_slider_follows():
    panel = flywheel.show()
    panel.set("outer", "5/8 in")
    assert panel.values["outer"] == pytest.approx(15.875e-3)
    assert "15.88" in panel.words or panel.state


def test_an_unknown_control_is_named_with_those_there_are():
    with pytest.raises(ValueError, match="no control 'lenght' here: length, load, held, stiff"):
        bar_panel().set("lenght", 0.02)
