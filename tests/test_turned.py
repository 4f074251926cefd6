"""Part drawings: true to scale, legible, and no tolerance finer than lathe and instruments hold."""

import re
from functools import cache

import pytest

from mechkit.drawings import paper
from mechkit.drawings.layout import per_pixel
from mechkit.drawings.style import Look
from mechkit.drawings.turned import part_drawing
from mechkit.drive.decisions import workshop
from mechkit.drive.sheet import demo
from mechkit.units import from_shown
from tests import drawn

DEMO = demo()
#: Benches from fine to coarse; the odd ones do not round well in either system of units.
BENCHES = {
    "micrometer": {},
    "caliper only": {"instruments.micrometer": None},
    "worn caliper": {"instruments.micrometer": None, "instruments.caliper": "0.05 mm"},
    "inch caliper": {"instruments.micrometer": None, "instruments.caliper": "0.001 in"},
    "fine lathe": {"instruments.lathe": "0.005 mm"},
    "odd lathe": {"instruments.lathe": "0.0126 mm"},
    "inch lathe": {"instruments.lathe": "0.0005 in"},
}
PARTS = {"sleeve": workshop.adapter, "flywheel": workshop.flywheel}
LOOKS = [Look(), Look(system="inch"), Look(size="hall", dark=True), Look(size="print")]


def sheet_of(bench):
    """The demo's sheet with other instruments."""
    return DEMO.with_values(BENCHES[bench]).data if BENCHES[bench] else DEMO.data


def finest(sheet):
    """What the better gauge reads and the lathe turns."""
    tools = sheet.instruments
    gauges = [tool.value for tool in (tools.caliper, tools.micrometer) if tool]
    return max(min(gauges), tools.lathe.value)


@cache
def drawing(bench, part, look):
    """One part, and what is written on its drawing."""
    figure = part_drawing(PARTS[part](sheet_of(bench)), look)
    return figure, drawn.written(figure)


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("bench", BENCHES)
def test_no_tolerance_is_finer_than_the_bench_can_hold(bench, part, system):
    sheet = sheet_of(bench)
    sizes = PARTS[part](sheet).sizes.values()
    assert len(sizes) == 3
    for text in (size.say(system) for size in sizes):
        found = re.search(r"±([\d.]+)", text)
        assert bool(found) != ("match to the part" in text)
        if found:
            assert from_shown(float(found[1]), "length", system) >= finest(sheet) - 1e-9


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("part", PARTS)
def test_every_size_stands_on_the_drawing_as_it_is_said(part, system):
    sheet = sheet_of("micrometer")
    texts = [
        text.removeprefix("⌀ ") for text, _ in drawing("micrometer", part, Look(system=system))[1]
    ]
    for size in PARTS[part](sheet).sizes.values():
        assert texts.count(size.say(system)) == 1


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("bench", BENCHES)
def test_what_is_turned_within_its_tolerance_leaves_room_for_the_compound(bench, system):
    """The sizes as printed, rounding and all, keep the gap inside the compound's window.

    Where a part is matched instead, the bench's own tolerance would have left that window.
    """
    sheet = sheet_of(bench)
    part = workshop.adapter(sheet)
    partners = {
        "bore": sheet.planned.motor.shaft_diameter.value,
        "outside": sheet.planned.worm.bore.value,
    }
    for name, partner in partners.items():
        said = re.match(r"([\d.]+)\D+±([\d.]+)", part.sizes[name].say(system))
        low, high = workshop.BOND_GAP
        if not said:
            assert "match to the part" in part.sizes[name].say(system)
            gap, hold = abs(part.sizes[name].value - partner), finest(sheet)
            assert low <= gap <= high and not low <= gap - hold < gap + hold <= high
            continue
        size, hold = (from_shown(float(number), "length", system) for number in said.groups())
        gap = abs(size - partner)
        digit = 2.54e-6  # a tenth of a thousandth of an inch: size and tolerance are rounded to it
        assert low - 1.5 * digit <= gap - hold and gap + hold <= high + 1.5 * digit


def test_a_coarse_bench_matches_to_the_part_and_says_how():
    text = " ".join(text for text, _ in drawing("worn caliper", "sleeve", Look())[1])
    assert text.count("match to the part") == 2
    assert "creep up on it" in text
    fine = " ".join(text for text, _ in drawing("micrometer", "sleeve", Look())[1])
    assert "match" not in fine


@pytest.mark.parametrize("look", LOOKS, ids=str)
@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("bench", ["micrometer", "worn caliper"])
def test_nothing_overlaps_and_nothing_leaves_the_sheet(bench, part, look):
    figure, pieces = drawing(bench, part, look)
    assert drawn.overlapping(pieces) == []
    assert drawn.outside(pieces, figure) == []


@pytest.mark.parametrize("part", PARTS)
def test_the_drawing_has_the_scale_in_its_title_block(part):
    figure, pieces = drawing("micrometer", part, Look())
    said = next(re.match(r"([\d.]+) : 1 on paper", t) for t, _ in pieces if "on paper" in t)
    for axes in figure.axes:
        assert paper.PIXEL / per_pixel(axes)[0] == pytest.approx(float(said[1]))


def test_an_svg_is_a_part_of_a_page_and_of_no_other():
    text = paper.svg(drawing("micrometer", "sleeve", Look())[0], "sleeve", 'a "sleeve" & more')
    assert text.startswith("<svg") and "http" not in text and "xlink" not in text
    assert 'aria-label="a &quot;sleeve&quot; &amp; more"' in text
    names = re.findall(r'\bid="([^"]*)"', text)
    assert len(names) == len(set(names)) and all(name.startswith("sleeve-") for name in names)
    wanted = re.findall(r'(?:url\(|href=")#([^")]*)', text)
    assert wanted and set(wanted) <= set(names)


def test_rounding_moves_no_line_by_more_than_a_hundredth_of_a_pixel():
    rounded = paper._rounded(re.match(".*", "M 12.345678 7.5 L 0.014999 100.996"))
    assert rounded == "M 12.35 7.5 L 0.01 101.00"
