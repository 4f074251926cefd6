"""The side elevation: to scale, in mesh, legible in every look, honest about what does not fit."""

import itertools
import re
from functools import cache

import numpy as np
import pytest
import shapely
from matplotlib.figure import Figure

from mechkit import gears
from mechkit.drawings import gearing, paper, scene
from mechkit.drawings.elevation import apart, elevation
from mechkit.drawings.layout import per_pixel
from mechkit.drawings.side import COLLISION
from mechkit.drawings.style import Look
from mechkit.drive.model import layout
from mechkit.drive.model.body import body_of
from mechkit.drive.sheet import demo
from tests import drawn

DEMO = demo()
TOO_BIG = {"planned.motor.body_diameter": "22 mm"}


def laid(axle, forward, state="planned"):
    """The demo's drive on one axle, in one direction."""
    data = DEMO.data
    return layout.lay(getattr(data, state), body_of(data), axle, forward)


CASES = {
    "as planned": (DEMO.data, Look(), "planned", None),
    "inch": (DEMO.data, Look(system="inch"), "planned", None),
    "hall": (DEMO.data, Look(size="hall", dark=True), "planned", None),
    "hall, inch": (DEMO.data, Look(size="hall", system="inch"), "planned", None),
    "print": (DEMO.data, Look(size="print"), "planned", None),
    "as it is": (DEMO.data, Look(dark=True), "as_is", None),
    "ahead": (DEMO.data, Look(), "planned", laid(2, True)),
    "in the firebox": (DEMO.data, Look(), "planned", laid(1, False)),
    "past the body": (DEMO.data, Look(), "planned", laid(1, True)),
    "too big": (DEMO.with_values(TOO_BIG).data, Look(system="inch"), "planned", None),
    "shaft too high": (
        DEMO.with_values({"envelope.shaft_height": "26.2 mm"}).data,
        Look(),
        "planned",
        None,
    ),
    "no flywheel": (
        DEMO.with_values({"planned.flywheel": None, "planned.adapter": None}).data,
        Look(),
        "planned",
        None,
    ),
}


@cache
def drawing(name):
    """One case as a figure, and everything that is written on it; drawn once."""
    figure = elevation(*CASES[name])
    return figure, drawn.written(figure)


def words(name):
    """Everything that is written on a case, in one string; wrapped lines run on."""
    return " ".join(text for text, _ in drawing(name)[1])


def dangers(name):
    """The areas in the color of danger."""
    patches = [patch for axes in drawing(name)[0].axes for patch in axes.patches]
    return [patch for patch in patches if patch.get_label() == COLLISION]


@pytest.mark.parametrize("name", CASES)
def test_nothing_overlaps_and_nothing_leaves_the_sheet(name):
    figure, pieces = drawing(name)
    assert len(pieces) > 25
    assert drawn.overlapping(pieces) == []
    assert drawn.outside(pieces, figure) == []


def test_overlapping_type_would_be_seen():
    figure = Figure(figsize=(5, 5))
    figure.text(0.5, 0.5, "one over")
    figure.text(0.52, 0.5, "the other")
    figure.text(0.98, 0.1, "over the edge")
    pieces = drawn.written(figure)
    assert drawn.overlapping(pieces) == [("one over", "the other")]
    assert drawn.outside(pieces, figure) == ["over the edge"]


@pytest.mark.parametrize("name", CASES)
def test_the_drawing_has_the_scale_in_its_title_block(name):
    said = re.findall(r"([\d.]+) : 1(?: on paper)?", words(name))
    scales = [paper.PIXEL / per_pixel(axes)[0] for axes in drawing(name)[0].axes]
    if CASES[name][1].size != "hall":  # on a projector there is no scale on paper
        assert scales[0] == pytest.approx(float(said[-1]), rel=1e-3)
    assert scales[1:] == pytest.approx([float(said[0])] * (len(scales) - 1), rel=1e-3)


def test_every_part_in_line_is_named_with_its_clearance():
    text = words("as planned")
    assert "flywheel, brass, ⌀ 16.00 × 12.00; clears the boiler by 1.40" in text
    assert "motor, ironless, ⌀ 16.00 × 24.00; clears the boiler by 1.40" in text
    gaps = [piece for piece, _ in drawing("as planned")[1] if piece == "1.40"]
    assert len(gaps) == 4  # twice in the elevation, once in each section


def test_lengths_add_up():
    """Worm, wall, flywheel, gap, motor and what is left make the way to the room's end."""
    text = words("as planned")
    rooms, best = DEMO.data.envelope.rooms, laid(0, False)
    chain = [4.0, 3.0, 12.0, 3.0, 24.0, 22.0]
    assert all(f"{number:.2f}" in text for number in chain)
    assert sum(chain) == pytest.approx(1e3 * (rooms[-1].end.value - best.worm_at))
    assert "whole drive 46.00" in text


def test_a_motor_that_does_not_fit_is_shown_so():
    assert dangers("as planned") == []
    assert "strikes the boiler by 0.063" in words("too big")
    assert len(dangers("too big")) == 2  # in the elevation and in its section
    assert "reaches 8.00 past the body" in words("past the body")
    box = dangers("past the body")[0].get_path().get_extents()
    assert box.width == pytest.approx(8e-3)


def test_less_room_than_wanted_is_said():
    assert "clears the firebox by 0.50, 1.00 wanted" in words("in the firebox")


def test_as_it_is_the_axle_is_an_assumption():
    assert "(assumed)" in words("as it is")
    assert "(assumed)" not in words("as planned")


# -- gears ------------------------------------------------------------------------------


def stacked(**changes):
    """The gears of the demo, with changes of the sheet."""
    data = DEMO.with_values(changes).data if changes else DEMO.data
    return data, scene.scene(data, Look()).stack


@pytest.mark.parametrize("state", ["planned", "as_is"])
def test_teeth_stand_in_each_others_spaces(state):
    """By plane geometry: in mesh, neither biting nor apart by more than the backlash."""
    view = scene.scene(DEMO.data, Look(), state)
    outlines = [shapely.Polygon(gear.outline) for gear in view.stack.gears]
    center = (view.layout.worm_at, view.shaft)
    halves = gearing.worm_halves(view.state, center, view.stack.gears[0].center[0])
    outlines.insert(0, shapely.Polygon(halves[1]))
    module, backlash = view.state.worm.module.value, view.state.mesh.backlash.value
    for one, other in itertools.pairwise(outlines):
        assert one.intersection(other).area < 1e-3 * module**2
        assert one.distance(other) < backlash


def test_the_worm_has_its_thread_and_its_bore():
    worm = DEMO.data.planned.worm
    upper, lower = gearing.worm_halves(DEMO.data.planned, (0.0, 0.0), 0.0)
    assert upper[:, 1].max() == pytest.approx(worm.outside_diameter.value / 2)
    assert lower[:, 1].max() == pytest.approx(-worm.bore.value / 2)
    assert np.ptp(upper[:, 0]) == pytest.approx(worm.length.value)
    tops = np.unique(upper[np.isclose(upper[:, 1], upper[:, 1].max()), 0].round(9))
    pitch = np.diff(tops[::2] + tops[1::2]) / 2
    assert pitch == pytest.approx(np.pi * worm.module.value, rel=1e-6)


def test_the_axle_gear_sits_on_the_axle_and_the_idler_under_the_worm():
    data, stack = stacked()
    idler, last = (gear.center for gear in stack.gears)
    assert last == pytest.approx((0.0, data.locomotive.driver_diameter.value / 2))
    assert idler[1] == pytest.approx(data.envelope.shaft_height.value - 7e-3, abs=0.03e-3)


def test_an_idler_leans_where_the_gears_are_taller_than_the_shaft_is_high():
    data, stack = stacked(**{"envelope.shaft_height": "24.2 mm"})
    apart_by = np.hypot(*np.subtract(*(gear.center for gear in stack.gears)))
    wanted = gears.center_distance_for_backlash(
        module=0.4e-3,
        teeth_1=20,
        teeth_2=30,
        pressure_angle=np.radians(20),
        backlash=data.planned.mesh.backlash.value,
    )
    assert apart_by == pytest.approx(wanted)
    assert stack.short == 0.0
    assert stack.gears[0].center[0] < -1e-3  # away from the motor


def test_gears_that_do_not_reach_the_worm_are_named():
    _, stack = stacked(**{"envelope.shaft_height": "26.2 mm"})
    assert stack.short == pytest.approx(1.02e-3, abs=0.02e-3)
    assert "too low for the worm" in words("shaft too high")
    assert "too low" not in words("as planned")


def test_balloons_stand_apart_and_in_order():
    places = [3.0, 0.0, 0.5, 20.0]
    moved = apart(places, 4.0)
    assert np.argsort(moved).tolist() == np.argsort(places).tolist()
    assert min(np.diff(sorted(moved))) >= 4.0 - 1e-9
    assert moved[3] == 20.0
