"""A sheet that says little is a sheet: stand-ins with bands, a plan that inherits, every fault told."""

import tomllib

import pytest
import tomlkit

from mechkit.drive.sheet import DEMO, SheetError, complete, demo, hour, load, standing_in
from mechkit.drive.sheet.keys import find, keys, tables
from mechkit.drive.sheet.schema import State

FULL = tomllib.loads(DEMO.read_text("utf-8"))
del FULL["measured_after"]  # of the planned drive, which is changed here
#: What a beginner has after a quarter of an hour.
FOUR = {
    "locomotive": {"scale": "1:87", "weight": "210 g", "weight_on_drivers": "160 g"},
    "measured_before": {
        "starting_voltage": ["3.1 V"],
        "runs": [{"voltage": "12.0 V", "distance": "1 m", "time": "4.1 s"}],
    },
}


@pytest.fixture
def sheet(tmp_path):
    """A sheet from tables."""

    def made(given):
        path = tmp_path / "engine.toml"
        path.write_text(tomlkit.dumps(given), "utf-8")
        return load(path)

    return made


def without(given, *places):
    """The tables without some keys."""
    given = complete._copy(given)
    for place in places:
        *above, last = place.split(".")
        table = given
        for part in above:
            table = table[part]
        del table[last]
    return given


# -- stand-ins --------------------------------------------------------------------------------


def test_four_readings_are_a_sheet(sheet):
    data = sheet(FOUR).data
    assert data.locomotive.scale == 87
    assert data.as_is.motor.resistance[0].spread > 0.3 * data.as_is.motor.resistance[0].value
    assert {"as_is.motor.resistance", "track.adhesion", "envelope.rooms"} <= data.assumed.keys()
    assert not {"locomotive.weight", "locomotive.scale"} & data.assumed.keys()
    assert data.planned == data.as_is


def test_a_full_sheet_assumes_nothing():
    assert not demo().data.assumed


def test_stand_ins_go_with_the_engine(sheet):
    small, large = (
        sheet({**FOUR, "locomotive": {"scale": scale, "weight": weight}}).data
        for scale, weight in ((160, "60 g"), (32, "2 kg"))
    )
    for of in (
        lambda data: data.locomotive.driver_diameter,
        lambda data: data.locomotive.weight_on_drivers,
        lambda data: data.as_is.worm.module,
        lambda data: data.as_is.motor.body_diameter,
    ):
        assert 3 * of(small).value < of(large).value


def test_the_arrangement_tells_the_weight_on_drivers_and_the_axles(sheet):
    def engine(arrangement):
        engine = {"scale": 87, "weight": "200 g", "wheel_arrangement": arrangement}
        return sheet({**FOUR, "locomotive": engine}).data.locomotive

    assert engine("0-6-0").weight_on_drivers.value == pytest.approx(0.2)
    assert engine("4-8-4").weight_on_drivers.value < engine("2-8-0").weight_on_drivers.value < 0.2
    assert len(engine("2-10-0").driver_axles) == 5


def test_i_do_not_know_is_the_same_as_nothing(sheet):
    said = complete._copy(FULL)
    said["as_is"]["mesh"]["backlash"] = "I do not know"
    said["as_is"]["motor"]["resistance"] = ["unknown", "unknown"]
    said["track"]["adhesion"] = "?"
    places = "as_is.mesh.backlash", "as_is.motor.resistance", "track.adhesion"
    known = sheet(said).data
    assert known == sheet(without(FULL, *places)).data
    assert known.assumed.keys() == set(places)


@pytest.mark.parametrize("table", ["supply", "instruments", "track", "as_is", "envelope"])
def test_any_table_may_be_left_out(sheet, table):
    data = sheet(without(FULL, table)).data
    assert data.assumed and all(key.startswith(table) for key in data.assumed)


def test_every_key_that_is_needed_has_a_stand_in_or_is_a_decision():
    """What nothing stands in for: what he wants to turn or run, and what a list is made of."""
    decided = {"material", "outside_diameter", "width", "hold"}
    apart = {
        "seat",
        "bearings",
        "bowed_shim",
        "hub",
        "ground_pin",
        "frame",
        "bed",
    }  # told by whoever has such a part in his hand
    lists = {"gears", "runs", "coasts", "rooms", "stock", "stall"}
    for name, table in tables().items():
        for key, one in keys(table).items():
            place = f"{name}.{key}".strip(".").replace("[]", "")
            if one.required and not one.table and not standing_in.entry(place):
                part = place.split(".")[-2]
                assert (
                    place in {"locomotive.scale", "locomotive.weight"}
                    or (part in {"flywheel", "adapter"} and key in decided)
                    or part in apart
                    or lists & set(place.split("."))
                ), place


#: A full sheet may leave these out; what stands beside the drive is assumed all the same.
BESIDE = {"back_to_back", "rods_apart", "rod_depth"}


def test_the_table_of_assumptions_names_keys_of_the_sheet():
    def walk(said, loc):
        if "value" in said or "rule" in said:
            assert find(loc).required or said.get("when") or loc[-1] in BESIDE, loc
            assert said["why"]
        for name, inner in said.items():
            if isinstance(inner, dict) and name not in {"goes", "when"}:
                walk(inner, (*loc, name))

    for name, said in standing_in.table().items():
        walk(said, ("as_is" if name == "state" else name,))


def test_a_stand_in_contradicts_nothing(sheet):
    """What was read far from what is assumed is believed."""
    odd = complete._copy(FOUR)
    odd["as_is"] = {
        "motor": {"no_load": {"voltage": "12 V", "current": "1.9 A", "speed": "900 rpm"}},
        "worm": {"bore": "9 mm"},
    }
    odd["measured_before"]["drawbar_pull"] = "0.02 N"
    assert sheet(odd).data.as_is.worm.bore.value == pytest.approx(9e-3)


def test_springs_that_nobody_measured_are_open_and_a_plan_of_them_is_asked_for(sheet):
    given = complete._copy(FULL)
    given["as_is"]["springs"] = {"kind": "sprung"}
    data = sheet(without(given, "planned")).data
    assert data.as_is.springs.wire_diameter.spread > 0
    assert not hour.answers(data, "wrong", "contact") and hour.answers(data, "wrong", "hop")
    with pytest.raises(SheetError, match=r"planned\.springs\.wire_diameter is missing"):
        sheet({**FULL, "planned": {"springs": {"kind": "sprung"}}})


# -- the plan ---------------------------------------------------------------------------------


def test_a_plan_of_nothing_is_the_engine_as_it_is(sheet):
    data = sheet(without(FULL, "planned")).data
    assert data.planned == data.as_is
    assert not data.assumed


def test_a_plan_is_a_difference(sheet):
    changed = {
        "mesh": {"lubrication": "greased"},
        "worm": {"end_play": "0.003 in"},
        "gears": [{"name": "axle gear", "total_runout": "0.001 in"}],
        "springs": FULL["planned"]["springs"],
    }
    data = sheet({**FULL, "planned": changed}).data
    was, now = data.as_is, data.planned
    assert now.motor == was.motor and now.alignment == was.alignment
    assert now.mesh == was.mesh.model_copy(update={"lubrication": "greased"})
    assert now.worm.bore == was.worm.bore and now.worm.end_play.text == "0.003 in"
    assert now.gears[0] == was.gears[0]
    assert now.gears[1].teeth == 30 and now.gears[1].total_runout.text == "0.001 in"
    assert now.springs.kind == "sprung"


def test_a_gear_with_other_teeth_has_another_size(sheet):
    changed = {"gears": [{"name": "axle gear", "teeth": 32}]}
    gear = sheet({**FULL, "planned": changed}).data.planned.gears[1]
    assert gear.outside_diameter.value == pytest.approx(34 * 0.4e-3)


def test_another_motor_inherits_nothing(sheet):
    changed = {"motor": {"kind": "ironless", "body_diameter": "12 mm", "body_length": "20 mm"}}
    data = sheet({**FULL, "planned": changed}).data
    assert {"planned.motor.resistance", "planned.motor.no_load.speed"} <= data.assumed.keys()
    same = sheet({**FULL, "planned": {"motor": {"insulated": True}}}).data
    assert same.planned.motor.resistance == same.as_is.motor.resistance


def test_a_flywheel_is_inherited_unless_the_plan_is_whole_or_takes_it_out(sheet):
    wheel = FULL["planned"]["flywheel"]
    old = {**FULL, "as_is": {**FULL["as_is"], "flywheel": wheel}}
    assert sheet({**old, "planned": {"mesh": {"lubrication": "greased"}}}).data.planned.flywheel
    assert not sheet({**old, "planned": {"flywheel": "none"}}).data.planned.flywheel
    assert not sheet(without(old, "planned.flywheel")).data.planned.flywheel


def test_springs_of_a_plan_inherit_from_springs(sheet):
    old = {**FULL, "as_is": {**FULL["as_is"], "springs": FULL["planned"]["springs"]}}
    springs = sheet({**old, "planned": {"springs": {"preload": "0.2 mm"}}}).data.planned.springs
    assert springs.preload.text == "0.2 mm" and springs.wire_diameter.text == "0.20 mm"


def test_no_decision_is_assumed(sheet):
    with pytest.raises(SheetError, match=r"planned\.flywheel\.outside_diameter is missing"):
        sheet({**FOUR, "planned": {"flywheel": {"material": "brass", "width": "8 mm"}}})


def test_a_plan_takes_changes_where_it_inherits(sheet):
    bench = sheet(without(FULL, "planned"))
    values = {"planned.mesh.lubrication": "greased", "planned.gears[2].total_runout": "0.02 mm"}
    planned = bench.with_values(values).data.planned
    assert planned.mesh.lubrication == "greased"
    assert planned.gears[1].total_runout.text == "0.02 mm"
    assert planned.gears[0] == bench.data.as_is.gears[0]
    wheel = FULL["planned"]["flywheel"]
    turned = sheet({**FULL, "as_is": {**FULL["as_is"], "flywheel": wheel}, "planned": {}})
    assert turned.data.planned.flywheel
    assert turned.with_value("planned.flywheel", None).data.planned.flywheel is None


def test_what_is_assumed_can_be_written_over(sheet):
    bench = sheet(FOUR)
    values = {
        "as_is.motor.no_load.current": "30 mA", "as_is.gears[1].teeth": 30,
        "locomotive.driver_axles[2]": "20 mm", "planned.motor.insulated": True,
        "track.adhesion": "0.2 +/- 0.02",
    }  # fmt: skip
    data = bench.with_values(values).data
    assert data.as_is.gears[0].teeth == 30 and data.locomotive.driver_axles[1].text == "20 mm"
    assert data.planned.motor.insulated and not data.as_is.motor.insulated
    assert not values.keys() & data.assumed.keys()


# -- what the sheet can say -------------------------------------------------------------------


def test_scale_weight_and_pitch_in_the_words_of_the_trade():
    said = demo().with_values({
        "locomotive.scale": "1:64", "locomotive.trailing_weight": "0 g",
        "measured_before.drawbar_pull": "2.27 oz", "measured_before.runs[6].pull": "20.4 +/- 0.2 g",
        "stock.gear_sets[1].module": "64 pitch",
        "stock.gear_sets[1].center_distance": None,
    }).data  # fmt: skip
    assert said.locomotive.scale == 64
    assert said.locomotive.trailing_weight.value == 0
    assert said.measured_before.drawbar_pull.value == pytest.approx(0.631, abs=1e-3)
    assert said.measured_before.runs[5].pull.value == pytest.approx(0.2, abs=1e-3)
    assert said.measured_before.runs[5].pull.spread == pytest.approx(0.00196, abs=1e-5)
    assert said.stock.gear_sets[0].axial_module == pytest.approx(25.4e-3 / 64)


def test_a_sheet_without_a_tender_says_nothing_of_one(sheet):
    given = without(FULL, "locomotive.trailing_weight")
    assert sheet(given).data.locomotive.trailing_weight.value == 0
    assert not sheet(given).data.assumed


# -- faults -----------------------------------------------------------------------------------


def test_every_fault_of_a_sheet_has_a_line_of_its_own(sheet):
    bad = complete._copy(FOUR)
    bad["locomotive"] |= {"weigth": "210 g", "length": "12"}
    bad["supply"] = {"voltage": "12 mm"}
    bad["as_is"] = {"worm": {"material": "stel"}}
    del bad["locomotive"]["weight"], bad["locomotive"]["scale"]
    with pytest.raises(SheetError) as caught:
        sheet(bad)
    assert len(caught.value.each) == 5
    for key in (
        "weigth",
        ".length",
        "supply.voltage",
        "as_is.worm.material",
        "locomotive.scale is",
    ):
        assert sum(key in line for line in caught.value.each) == 1, key
    assert all(line.isprintable() for line in caught.value.each)
    assert "(and 4 more)" in str(caught.value)


def test_state_needs_no_table_of_its_own():
    assert not complete.whole({}, State)
