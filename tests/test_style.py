"""The palette: readable, apart for every eye, and the same in every picture."""

import itertools
import re
from pathlib import Path

import numpy as np
import pytest

import mechkit
from mechkit.drawings.style import FONTS, GROUND, MATERIALS, PALETTE, Look, lined
from tests import color

LOOKS = [Look(), Look(dark=True), Look(size="hall"), Look(size="print")]


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [  # G. Sharma, W. Wu, E. Dalal, Color Research and Application 30 (2005), table 1
        ((50, 2.6772, -79.7751), (50, 0, -82.7485), 2.0425),
        ((50, 3.1571, -77.2803), (50, 0, -82.7485), 2.8615),
        ((50, 2.8361, -74.0200), (50, 0, -82.7485), 3.4412),
        ((50, -1.3802, -84.2814), (50, 0, -82.7485), 1.0000),
        ((50, -0.9009, -85.5211), (50, 0, -82.7485), 1.0000),
    ],
)
def test_the_color_difference_is_the_published_one(one, other, expected):
    assert color.difference(np.array(one), np.array(other)) == pytest.approx(expected, abs=5e-5)


def test_contrast_of_black_on_white_is_21():
    assert color.contrast("#000000", "#ffffff") == pytest.approx(21.0)  # WCAG 2.1


@pytest.mark.parametrize("look", LOOKS, ids=str)
@pytest.mark.parametrize("meaning", PALETTE)
def test_every_meaning_is_readable_as_type_on_the_sheet(look, meaning):
    assert color.contrast(look.color(meaning), look.color("sheet")) >= 4.5  # WCAG 2.1, 1.4.3


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("eye", color.EYES)
def test_no_two_meanings_look_alike_to_any_eye(dark, eye):
    """A difference of 2 to 3 is just seen side by side; lines far apart need several times that."""
    look = Look(dark=dark)
    for one, other in itertools.combinations(PALETTE, 2):
        apart = color.seen_apart(look.color(one), look.color(other), eye)
        assert apart > 12, f"{one} and {other}"


def test_no_two_materials_are_lined_alike_and_close_in_tint():
    for one, other in itertools.combinations(MATERIALS, 2):
        if MATERIALS[one].lining == MATERIALS[other].lining:
            for dark in (False, True):
                tints = [Look(dark=dark).tint(name) for name in (one, other)]
                assert min(color.seen_apart(*tints, eye) for eye in color.EYES) > 5, (one, other)


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("material", MATERIALS)
def test_type_and_outlines_are_readable_on_a_cut_material(dark, material):
    look = Look(dark=dark)
    assert color.contrast(look.color("ink"), look.tint(material)) >= 3.0


def test_a_temper_looks_like_its_metal_and_an_unknown_material_is_refused():
    assert lined("soft brass") is MATERIALS["brass"]
    assert lined("hardened steel") is MATERIALS["steel"]
    assert lined("nickel silver") is MATERIALS["nickel silver"]
    with pytest.raises(ValueError, match="'cheese' has no section lining; there is brass"):
        lined("cheese")


def test_the_hall_is_larger_and_print_is_white():
    desk, hall = Look(), Look(size="hall")
    for kind in ("title", "label", "value", "note"):
        assert hall.type(kind) / desk.type(kind) == pytest.approx(1.45)
    assert hall.line("visible") / desk.line("visible") == pytest.approx(1.4)
    assert Look(size="print").color("sheet") == "#ffffff"


def test_the_three_weights_are_those_of_the_drawing_office():
    look = Look()
    assert (look.line("visible"), look.line("thin"), look.line("center")) == (1.4, 0.6, 0.6)


def test_colors_are_named_in_the_style_alone():
    """A color written into a picture would be one that no test has looked at."""
    known = {value for tone in (PALETTE | GROUND).values() for value in tone[:2]}
    for path in Path(mechkit.__file__).parent.rglob("*.py"):
        if path.name == "style.py" or path.parent.name not in {"drawings", "panels"}:
            continue
        for found in re.findall(r"#[0-9a-fA-F]{6}\b", path.read_text("utf-8")):
            assert found in known, f"{path.name}: {found}"


def test_the_typeface_comes_with_its_license():
    text = (FONTS / "OFL.txt").read_text("utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text and text.startswith("Copyright")
    for name in ("Regular", "SemiBold"):
        for kind in ("ttf", "woff2"):
            assert (FONTS / f"BarlowSemiCondensed-{name}.{kind}").stat().st_size > 10_000
