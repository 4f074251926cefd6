"""Where a drive lies: no part through another is called free, and what is refused says what would pass."""

import numpy as np
import pytest

from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions import placing
from mechkit.drive.model import layout
from mechkit.drive.model.body import body_of
from mechkit.drive.model.stack import stack_of
from mechkit.drive.sheet import SheetError, demo, load
from tests.decided import decided
from tests.engines import drawn, sheet


def changed(**values):
    return demo().with_values({key.replace("__", "."): value for key, value in values.items()})


#: The boiler hangs low, so that the drive would lie among the axles.
LOW = {
    "envelope.rooms[1].height": "17 mm",
    "envelope.shaft_height": "16 mm",
}


def test_what_strikes_is_no_go_and_is_told_with_what_would_free_it():
    axle = decided(demo().with_values(LOW), "axle")
    assert axle.verdict == "wrong"
    assert axle.value.value < 0
    assert "strikes" in axle.words()
    assert "frees" in axle.todo()


def test_the_elevation_of_the_demo_is_as_it_was():
    best = layout.candidates(demo().data.planned, body_of(demo().data))[0]
    assert best.worm_at == pytest.approx(best.at, abs=1e-9)
    assert best.tightest.room == "boiler"
    assert best.least == pytest.approx(1.4e-3)


def test_a_flywheel_on_the_far_end_lies_beyond_the_motor():
    """By hand: 4 of worm, 3 to the motor of 24, 9 less 6 to a wheel of 12."""
    data = demo().with_value("planned.flywheel.end", "far").data
    laid = layout.candidates(data.planned, body_of(data))[0]
    assert [item.name for item in laid.items] == ["motor", "flywheel"]
    motor, wheel = laid.items
    ends = sorted(abs(x - laid.worm_at) for x in (motor.start, motor.end, wheel.start, wheel.end))
    assert ends == pytest.approx([7e-3, 31e-3, 34e-3, 46e-3])


def test_behind_a_gap_of_the_body_is_no_free_length():
    """The tender's room begins 3 mm behind the firebox: what lies there is not the drive's."""
    tender = {
        "name": "tender", "from": "71 mm", "to": "110 mm", "shape": "box",
        "bottom": "14 mm", "top": "38 mm", "width": "17 mm",
    }  # fmt: skip
    own = decided(demo(), "axle", "length").value.value
    data = demo().data
    rooms = [*data.envelope.rooms, type(data.envelope.rooms[0]).model_validate(tender)]
    apart = data.model_copy(update={"envelope": data.envelope.model_copy(update={"rooms": rooms})})
    left = placing.axle(known_of(apart))[1]
    assert left.value.value == pytest.approx(own)


def test_a_worm_that_its_gear_does_not_reach_is_no_go_with_the_height_that_would_do():
    """By hand: 2.6 + 4 mm under the worm's axis the idler, 10.04 mm above the axle at 8.1 mm."""
    high = demo().with_values(
        {"envelope.shaft_height": "29 mm", "envelope.rooms[1].height": "29 mm"}
    )
    reach = decided(high, "reach")
    assert reach.verdict == "wrong"
    assert reach.value.value == pytest.approx(29e-3 - 25.18e-3, abs=0.1e-3)
    needed = reach.numbers["needed"].value
    moved = high.with_value("envelope.shaft_height", f"{1e3 * needed - 0.05:.2f} mm")
    assert decided(moved, "reach").verdict != "wrong"


def test_gears_that_are_too_tall_lean_and_the_worm_goes_with_them():
    data = demo().with_values(LOW).data
    laid = layout.candidates(data.planned, body_of(data))[0]
    stack = stack_of(data.planned, 16e-3 - 8.1e-3)
    rise = stack.seats[0].up
    assert np.hypot(stack.aside, rise) == pytest.approx(10.04e-3, abs=0.1e-3)
    assert abs(laid.worm_at - laid.at) == pytest.approx(stack.aside)


@pytest.mark.parametrize(
    ("key", "value", "part"),
    [
        ("planned.motor.shaft_diameter", "2.7 mm", "sleeve"),
        ("planned.worm.bore", "4.4 mm", "worm"),
    ],
)
def test_a_wall_that_would_fold_is_no_go_and_the_cure_passes(key, value, part):
    changes = {key: value}
    if part == "sleeve":
        changes |= {"planned.flywheel.bore": "2.7 mm"}
    thin = demo().with_values(changes)
    walls = decided(thin, "walls")
    assert walls.verdict == "wrong"
    assert part in walls.words()
    needed = f"{1e3 * walls.numbers['needed'].value + 1e-6:.3f} mm"
    cured = thin.with_value("planned.worm.bore", needed)
    assert decided(cured, "walls").verdict != "wrong"


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"as_is.worm.bore": "1 mm"}, "as_is.worm.bore"),
        ({"locomotive.axle_diameter": "12 mm"}, "locomotive.axle_diameter"),
        ({"as_is.gears[1].face_width": "199 mm"}, "as_is.gears[1].face_width"),
        (
            {"as_is.gears[2].teeth": 40, "as_is.gears[2].outside_diameter": "16.8 mm"},
            "as_is.gears[2].outside_diameter",
        ),
        ({"planned.adapter.length": "100 mm"}, "planned.adapter.length"),
        ({"planned.flywheel.bearing_span": "150 mm"}, "planned.flywheel.bearing_span"),
        ({"envelope.rooms[2].to": "400 mm"}, "envelope.rooms[2].to"),
        ({"locomotive.wheel_arrangement": "99-99-99"}, "locomotive.wheel_arrangement"),
        ({"locomotive.wheel_arrangement": "4-5-0"}, "as 4-6-0"),
        ({"measured_before.runs[1].distance": "0.001 mm"}, "measured_before.runs[1].distance"),
        ({"measured_before.coasts[1].distance": "100 m"}, "measured_before.coasts[1].distance"),
        ({"locomotive.quartering_error": "89 deg"}, "at most 30 deg"),
    ],
)
def test_absurd_but_readable_entries_are_told_by_key(changes, says):
    with pytest.raises(SheetError) as told:
        demo().with_values(changes)
    assert any(says in line for line in told.value.each)


def test_drawn_engines_still_get_their_page(tmp_path):
    for seed in (9405, 9406):
        path = tmp_path / "sheet.toml"
        path.write_text(sheet.sheet_text(drawn.draw(seed), seed), "utf-8")
        assert decided(load(path), "axle").words()
