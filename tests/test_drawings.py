"""Drawings: to scale, legible, and moved without a trace of where they were."""

import importlib
import io
from dataclasses import replace
from pathlib import Path as File

import numpy as np
import pytest
import shapely
from matplotlib.path import Path
from matplotlib.text import Text
from PIL import Image

import mechkit
from mechkit import gears
from mechkit.drawings import layout, shapes, shop
from mechkit.drawings.lettering import text_width
from mechkit.drawings.lining import section_lines
from mechkit.drawings.picture import DENSITY, Picture
from mechkit.drawings.stroke import Stroke
from mechkit.drawings.style import MATERIALS, Look
from mechkit.panels import flywheel
from mechkit.panels.controls import Slider
from tests import legible

LOOKS = [Look(dark, size, system) for dark, size, system in
         ((False, "desk", "metric"), (True, "hall", "inch"), (False, "hall", "metric"), (True, "desk", "inch"))]  # fmt: skip


def filled(path):
    """What even-odd filling covers, by shapely."""
    area = shapely.Polygon()
    for ring in path.to_polygons():
        area = area.symmetric_difference(shapely.Polygon(ring))
    return area


# -- outlines ---------------------------------------------------------------------------


def test_a_gear_has_its_diameters_and_its_tooth_thickness():
    module, teeth = 0.4e-3, 20
    outline = shapely.Polygon(shapes.gear((0, 0), module, teeth, flank=60))
    radii = np.hypot(*np.array(outline.exterior.coords).T)
    outside = gears.outside_diameter(module=module, teeth=teeth)
    assert radii.max() == pytest.approx(outside / 2)
    assert radii.min() == pytest.approx(module * (teeth / 2 - 1.25))
    pitch = gears.pitch_diameter(module=module, teeth=teeth)
    circle = shapely.Point(0, 0).buffer(pitch / 2, 4096).exterior
    thickness = circle.intersection(outline).length / teeth  # by definition half the pitch
    assert thickness == pytest.approx(np.pi * module / 2, rel=2e-3)


def test_two_gears_at_their_center_distance_touch_and_do_not_bite():
    """Independent check by plane geometry: involutes that are no involutes would overlap."""
    module, pair = 0.4e-3, (20, 30)
    apart = gears.center_distance(module=module, teeth_1=pair[0], teeth_2=pair[1])
    for turn in np.linspace(0, 2 * np.pi / pair[0], 7):
        one = shapely.Polygon(shapes.gear((0, 0), module, pair[0], angle=turn, flank=40))
        back = np.pi + np.pi / pair[1] - turn * pair[0] / pair[1]
        other = shapely.Polygon(shapes.gear((apart, 0), module, pair[1], angle=back, flank=40))
        assert one.intersection(other).area < 1e-4 * module**2
        assert one.distance(other) < 2e-3 * module


def test_a_rack_has_the_pitch_of_its_module_and_the_lean_of_its_pressure_angle():
    points = shapes.rack((0, 0), 0.5e-3, 3)
    assert np.diff(points[::4, 0]) == pytest.approx(np.pi * 0.5e-3)
    rise = points[1] - points[0]
    assert np.degrees(np.arctan2(rise[0], rise[1])) == pytest.approx(20)


def test_a_spring_runs_from_end_to_end_with_its_coils():
    points = shapes.spring((1, 1), (1, 5), 0.6, 5)
    assert points[0].tolist() == [1, 1] and points[-1].tolist() == [1, 5]
    peaks = np.abs(points[:, 0] - 1)
    assert peaks.max() == pytest.approx(0.3)
    assert np.count_nonzero(np.isclose(peaks, 0.3)) == 9  # ten half turns, ends on the axis


@pytest.mark.parametrize("turn", [1, -1])
def test_a_hole_is_a_hole_whichever_way_it_was_drawn(turn):
    inner = shapes.circle((0, 0), 1.0)[::turn]
    ring = shapes.path(shapes.circle((0, 0), 2.0), holes=[inner])
    assert filled(ring).area == pytest.approx(np.pi * 0.75, rel=1e-3)


# -- section lining ---------------------------------------------------------------------


@pytest.mark.parametrize("material", MATERIALS)
def test_section_lines_lie_inside_the_part_and_leave_no_gap(material):
    ring = shapes.path(
        shapes.circle((3e-3, 1e-3), 10e-3), holes=[shapes.circle((3e-3, 1e-3), 3e-3)]
    )
    pixel = np.array([0.1e-3, 0.1e-3])
    path = section_lines(ring, MATERIALS[material].lining, pixel)
    lines = shapely.multilinestrings(path.vertices.reshape(-1, 2, 2).tolist())
    area = filled(ring)
    assert lines.difference(area.buffer(1e-8)).length == pytest.approx(0, abs=1e-9)
    expected = 0.0
    for lining in MATERIALS[material].lining:
        for dash in lining.dashes:
            share = 1.0 if dash is None else dash[0] / sum(dash)
            expected += share * area.area / (sum(lining.spacing) * 0.1e-3)
    drawn = sum(line.length for line in lines.geoms)
    assert drawn == pytest.approx(expected, rel=0.05)  # area over spacing, but for the ends


def test_the_lining_stands_still_while_the_part_grows():
    pixel = np.array([1.0, 1.0])
    small, large = (
        {tuple(np.round(end, 6)) for end in lines_of(size, pixel)} for size in (40.0, 60.0)
    )
    assert len(small & large) > 20


def lines_of(size, pixel):
    """Ends of the dashes of a brass square that lie well inside it."""
    path = section_lines(
        shapes.path(shapes.bar(0, 0, size, size)), MATERIALS["brass"].lining, pixel
    )
    return [end for end in path.vertices if (end > 1).all() and (end < 39).all()]


# -- marks ------------------------------------------------------------------------------


class Bench(Picture):
    """A sheet for one mark."""

    width, height = 400, 300

    def build(self):
        self.axes = layout.drawing(self.figure, self.look, (0, 0, 400, 300), scale=0.1e-3)
        self.mark = self.moves(self.setting(self.axes, self.look))

    def move(self, state):
        self.mark.set(*state)


def test_a_wide_dimension_has_its_value_inside_and_a_narrow_one_beside():
    bench = Bench(setting=shop.Dimension)
    bench.move((np.array([-8e-3, 0]), np.array([8e-3, 0]), 5e-3, "16.00 mm"))
    assert bench.mark.text.at[0] == pytest.approx(0)
    bench.move((np.array([-1e-3, 0]), np.array([1e-3, 0]), 5e-3, "2.00 mm"))
    assert bench.mark.text.at[0] > 1e-3


def test_a_dimension_reaches_from_feature_to_feature_whichever_comes_first():
    ends = np.array([-4e-3, 1e-3]), np.array([6e-3, -2e-3])
    spans = []
    for start, end in (ends, ends[::-1]):
        bench = Bench(setting=shop.Dimension)
        bench.move((start, end, 8e-3, "10.00 mm"))
        tips = bench.mark.heads.path.vertices[::3]
        spans.append(sorted(tips[:, 0]))
    assert spans[0] == pytest.approx([-4e-3, 6e-3]) and spans[1] == pytest.approx(spans[0])


@pytest.mark.parametrize("text", ["16.00 mm", "Ø 0.630 in", "coasts 143 mm", "2.4 rad/s ≥ ω"])
def test_letters_are_as_wide_as_matplotlib_sets_them(text):
    """Independent measure: matplotlib's own layout, which also kerns."""
    look = Look()
    bench = Bench(setting=shop.Words)
    words = look.words("title")
    own = Text(0, 0, text, figure=bench.figure, **words)
    wide = own.get_window_extent(bench._canvas.get_renderer()).width / DENSITY
    assert text_width(text, look.type("title")) == pytest.approx(wide, rel=0.04, abs=1.5)


def test_digits_are_equally_wide_so_that_numbers_do_not_jitter():
    assert len({text_width(digit, 10) for digit in "0123456789"}) == 1


# -- pictures ---------------------------------------------------------------------------


def image(data):
    """Bytes as an array."""
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB")).astype(int)


@pytest.fixture(scope="module")
def panel():
    return flywheel.show()


def test_a_frame_is_a_jpeg_twice_as_fine_as_the_page(panel):
    frame = Image.open(io.BytesIO(panel.frame()))
    assert frame.format == "JPEG" and frame.size == (2 * 1040, 2 * 472)


def test_at_the_page_s_own_fineness_colors_are_kept_whole():
    """Half the colors of a thin line would leave a fringe beside it."""
    panel = flywheel.show()
    panel.fit(1040)
    frame = Image.open(io.BytesIO(panel.frame()))
    assert frame.size == (1040, 472) and frame.layer[0][1:3] == (1, 1)


@pytest.mark.parametrize(
    "topic",
    ["flywheel", "wear", "gears", "fits", "springs", "motion", "diagnose", "choose", "rebuild"],
)
def test_a_moved_picture_is_the_picture_drawn_afresh(topic):
    """Nothing that moved leaves a trace, nothing that stands is lost, no limit is stale."""
    panel = importlib.import_module(f"mechkit.panels.{topic}").show()
    sliders = [c for c in panel.controls.values() if isinstance(c, Slider)]
    for end in ("high", "low"):
        for slider in sliders:
            panel.set(slider.name, getattr(slider, end)), panel.frame()
    fresh = panel.picture(panel.look, panel.setting)
    moved, drawn = (image(data) for data in (panel.frame(), fresh.frame(panel.state)))
    assert np.abs(moved - drawn).max() == 0


@pytest.mark.parametrize(
    "topic",
    ["flywheel", "wear", "gears", "fits", "springs", "motion", "diagnose", "choose", "rebuild"],
)
def test_more_pixels_show_the_same_drawing(topic):
    """A circle stays one, whatever the screen: the same limits, the same marks."""
    panel = importlib.import_module(f"mechkit.panels.{topic}").show()
    coarse, fine = (panel.picture(panel.look, panel.setting, n) for n in (0.8, 3.0))
    for picture in (coarse, fine):
        picture.frame(panel.state)
    for one, other in zip(coarse.figure.axes, fine.figure.axes, strict=True):
        assert one.viewLim.get_points() == pytest.approx(other.viewLim.get_points())
    for one, other in zip(coarse._moving, fine._moving, strict=True):
        if isinstance(one, Stroke):
            assert one.path.vertices == pytest.approx(other.path.vertices, nan_ok=True)


def test_the_still_is_the_frame_with_the_sentence_beneath(panel):
    still = Image.open(io.BytesIO(panel.still()))
    assert still.format == "PNG" and still.width == 2080 and still.height > 944 + 60
    beneath = np.asarray(still.convert("L"))[954:]
    assert (beneath < 100).sum() > 2000  # there is type on it
    top = np.asarray(still.convert("RGB")).astype(int)[:944]
    assert np.abs(top - image(panel.frame())).mean() < 2  # palette and JPEG apart


def test_a_still_keeps_the_colors_that_carry_meaning():
    panel = flywheel.show(look=Look(size="hall"))
    drawn = np.asarray(panel._picture()._draw(panel.state).convert("RGB")).astype(int)
    kept = image(panel.still())[: len(drawn)]
    for meaning in ("sheet", "ink", "before", "after", "limit"):
        wanted = [int(panel.look.color(meaning)[i : i + 2], 16) for i in (1, 3, 5)]
        here = np.abs(drawn - wanted).max(axis=2) <= 2
        assert here.any() and np.abs(kept[here] - wanted).max() <= 8, meaning


@pytest.mark.parametrize("look", LOOKS, ids=str)
def test_a_still_is_small_enough_to_store_in_a_notebook(look):
    panel = flywheel.show(look=look)
    panel.set("material", "tungsten alloy"), panel.set("width", 22e-3)
    assert len(panel.still()) < 150_000


def test_the_flywheel_is_drawn_to_scale(panel):
    panel.reset()
    panel.frame()
    picture = panel._drawn
    across, along = picture.across.edge.path.get_extents(), picture.along.edge.path.get_extents()
    assert across.width == pytest.approx(16e-3, rel=1e-3)
    assert along.height == pytest.approx(16e-3) and along.width == pytest.approx(12e-3)
    scale = shop.per_pixel(picture.axes)
    assert scale[0] == pytest.approx(scale[1])  # a circle is a circle


@pytest.mark.parametrize("look", LOOKS[2:], ids=str)  # test_legible wears the others
def test_nothing_written_is_cut_off_or_covers_another(look):
    assert legible.faults(flywheel.show(look=look)) == []


def test_pictures_are_drawn_without_pyplot():
    """Widgets call from another thread, and pyplot keeps one figure for all."""
    for path in (File(mechkit.__file__).parent / "drawings").glob("*.py"):
        assert "pyplot" not in path.read_text("utf-8"), path.name


def test_an_outline_takes_a_path_or_points():
    bench = Bench(setting=shop.Outline)
    for drawn in (Path([(0, 0), (1e-3, 1e-3)]), [(0, 0), (1e-3, 1e-3)]):
        bench.move((drawn,))
        assert bench.mark.patch.path.vertices[-1] == pytest.approx([1e-3, 1e-3])


def test_a_look_changes_colors_and_type_and_nothing_else():
    look = Look()
    assert replace(look, dark=True).type() == look.type()
    assert replace(look, size="hall").color("after") == look.color("after")
