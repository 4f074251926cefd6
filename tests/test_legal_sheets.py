"""Parts and limits of every sheet that the schema lets in: a page, or one line that names a key."""

import math
from typing import get_args

import numpy as np
import pytest

from mechkit import springs
from mechkit.drive.choice import stock
from mechkit.drive.model import layout, read
from mechkit.drive.model.parts import Material
from mechkit.drive.questions import flywheel
from mechkit.drive.sheet import SheetError, demo, schema
from tests import legal
from tests.legal import built


@pytest.fixture(autouse=True)
def few_draws(monkeypatch):
    legal.quick(monkeypatch.setattr)


# -- the mesh ---------------------------------------------------------------------------


@pytest.mark.parametrize("material", get_args(schema.Material))
def test_teeth_of_every_material_have_a_limit(material):
    """Steels hold more than brass, and acetal least; the limit is the material's own."""
    done, text = built({"planned.gears[1].material": material})
    limit = done.decision("teeth").limit.value
    assert limit == pytest.approx(Material(material).yield_strength / 2)
    assert (limit < 40e6) == (material == "acetal")
    assert material in done.decision("teeth").words() and "Do the teeth hold" in text


@pytest.mark.parametrize("teeth", [6, 8, 11])
def test_too_few_teeth_for_the_table_are_a_no_go_with_a_cure(teeth):
    few = {
        "planned.gears[1].teeth": teeth,
        "planned.gears[1].outside_diameter": f"{0.4 * (teeth + 2)} mm",
    }
    done, text = built(few)
    assert done.decision("teeth").verdict == "wrong"
    assert "12 teeth or more" in done.decision("teeth").todo()
    assert "12 teeth or more" in text


def straight(teeth=28, module=0.5):
    """A plan with one gear only, the worm straight on the axle."""
    gear = {
        "name": "axle gear", "teeth": teeth, "material": "bronze",
        "outside_diameter": f"{module * (teeth + 2)} mm", "face_width": "4 mm",
        "total_runout": "0.001 in",
    }  # fmt: skip
    worm = {"planned.worm.module": f"{module} mm", "measured_after": None}
    return {"planned.gears": [gear], **worm}


def test_a_worm_straight_on_the_axle_is_a_drive():
    """Center distance and contact are those of worm and gear, by the sums of a rack."""
    done, text = built(straight())
    worm, angle, backlash = 6.8 - 2 * 0.5, math.radians(20), 0.060
    distance = done.decision("backlash").numbers["distance"].value
    assert distance * 1e3 == pytest.approx(
        (worm + 14) / 2 + backlash / 2 / math.tan(angle), abs=1e-9
    )
    assert "worm to axle gear" in done.decision("backlash").words()
    tops, base, pitch = 7.5, 7 * math.cos(angle), 0.5 * math.pi * math.cos(angle)
    apart = backlash / 2 / math.tan(angle)
    flank = (tops**2 - base**2) ** 0.5
    carried = (flank - 7 * math.sin(angle) + (0.5 - apart) / math.sin(angle)) / pitch
    assert done.decision("contact ratio").value.value == pytest.approx(carried, rel=1e-6)
    assert "axle gear carries" in done.decision("teeth").words()
    assert "Is there backlash" in text


def test_an_idler_changes_neither_distance_nor_contact_of_the_last_pair():
    """Two gears stand as two gears, whatever the worm."""
    one, _ = built({})
    other, _ = built({"planned.worm.outside_diameter": "6.0 mm", "planned.worm.bore": "2.5 mm"})
    for key in ("backlash", "contact ratio"):
        assert one.decision(key).words() == other.decision(key).words()


def test_more_backlash_than_a_tooth_space_is_drawn_to_the_space():
    done, _ = built({"planned.mesh.backlash": "0.55 +/- 0.4 mm"})
    assert done.decision("contact ratio").verdict == "wrong"


# -- springs ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("left_out", "judged"),
    [
        (["travel"], {"springs"}),
        (["free_length"], {"springs", "ride height", "spring stress"}),
        (["travel", "free_length"], {"springs"}),
    ],
)
def test_a_spring_that_is_not_measured_whole_is_judged_as_far_as_it_is(left_out, judged):
    """What needs the missing key is left out of the decisions, and said among the unknowns."""
    done, text = built({f"planned.springs.{key}": None for key in left_out})
    assert {one.key for one in done.decisions if one.group == "Springs"} == judged
    assert f"planned.springs.{left_out[0]}" in text and "judged" in text


@pytest.mark.parametrize("wire", ["0.08 mm", "0.1 mm"])
def test_wire_thinner_than_the_table_counts_as_its_thinnest(wire):
    done, _ = built({"planned.springs.wire_diameter": wire})
    least = springs.music_wire_strength(wire_diameter=0.1016e-3)
    limit = springs.allowable_shear_stress(tensile_strength=least)
    assert done.decision("spring stress").limit.value == pytest.approx(float(limit))


@pytest.mark.parametrize("wire", ["2e-10 m", "5 mm"])
def test_wire_that_no_engine_has_is_refused_with_its_range(wire):
    with pytest.raises(SheetError, match=r"planned.springs.wire_diameter: .* at most 1\.6 mm"):
        demo().with_value("planned.springs.wire_diameter", wire)


# -- limits of the schema ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "value", "limit"),
    [
        ("planned.mesh.pressure_angle", "89 deg", "more than 10 deg and at most 45 deg"),
        ("as_is.mesh.pressure_angle", "0.1 deg", "more than 10 deg and at most 45 deg"),
        ("planned.motor.thermal_resistance", 0, "more than 0 and at most 1000"),
        ("planned.motor.thermal_resistance", 2800, "more than 0 and at most 1000"),
        ("instruments.meter", "100 %", "at most 0.2"),
        ("instruments.caliper", "20 mm", "at most 1 mm"),
        ("instruments.lathe", "200 mm", "at most 1 mm"),
        ("track.adhesion", 0, "more than 0 and at most 1"),
        ("track.rolling_resistance", 0, "more than 0 and at most 1"),
    ],
)
def test_what_no_bench_can_see_is_refused_with_key_value_and_limit(key, value, limit):
    with pytest.raises(SheetError) as caught:
        demo().with_value(key, value)
    said = str(caught.value)
    assert key in said and str(value) in said and limit in said and "\n" not in said


# -- the flywheel on its shaft ----------------------------------------------------------


def test_a_bore_that_no_compound_fills_is_refused_with_both_keys():
    with pytest.raises(SheetError) as caught:
        demo().with_value("planned.flywheel.bore", "9 mm")
    said = str(caught.value)
    for part in ("planned.flywheel.bore", "9 mm", "planned.motor.shaft_diameter", "bush"):
        assert part in said


@pytest.mark.parametrize("bore", ["2.0 mm", "2.05 mm"])
def test_drawing_mass_and_coast_have_one_bore(bore):
    """What is drawn is what is weighed, and the motor of the panel carries the same wheel."""
    done, _ = built({"planned.flywheel.bore": bore})
    drawn = next(part for part in done.parts if part.name == "Flywheel").sizes["bore"].value
    wheel = done.known.wheel
    assert drawn == wheel.bore == flywheel.case_of(done.sheet).bore
    assert drawn == pytest.approx(2.03e-3 if bore == "2.0 mm" else 2.05e-3)
    assert np.ravel(done.known.planned.flywheel_inertia)[0] == pytest.approx(
        wheel.inertia, rel=1e-9
    )
    gap = done.decision("balance").numbers["gap"].value
    assert gap == pytest.approx((drawn - 2e-3) / 2)


def test_a_wheel_inside_its_own_bearing_is_refused():
    with pytest.raises(SheetError) as caught:
        demo().with_values({"planned.flywheel.overhang": "4 mm", "planned.flywheel.width": "9 mm"})
    said = str(caught.value)
    for part in ("planned.flywheel.overhang", "4 mm", "planned.flywheel.width", "0.5 mm deep"):
        assert part in said


@pytest.mark.parametrize(("overhang", "gap"), [("6 mm", 0.0), ("6.4 mm", 0.4e-3), ("9 mm", 3e-3)])
def test_every_door_sees_one_gap_between_wheel_and_bearing(overhang, gap):
    data = demo().with_value("planned.flywheel.overhang", overhang).data
    assert read.wheel_gap(data.planned) == pytest.approx(gap)
    assert flywheel.case_of(data).gap == pytest.approx(gap)
    parts = {name: free for name, free, *_ in layout.parts_in_line(data.planned)}
    assert parts["motor"] == pytest.approx(gap)
    motor = data.stock.motors[0]
    state = stock.state_of(data.planned, motor, data.stock.gear_sets[0])
    turned = stock.with_wheel(state, "brass", 0.012, 0.008, read.wheel_gap(data.planned))
    assert read.wheel_gap(turned) == pytest.approx(gap)


@pytest.mark.parametrize("shaft", ["2e-7 mm", "7 mm", "11 mm"])
def test_a_drawer_with_any_shaft_has_wheels_that_go_on_it(shaft):
    data = demo().with_value("stock.motors[1].shaft_diameter", shaft).data
    assert "drives tried" in legal.picked(data)
