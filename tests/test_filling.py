"""A sheet filled in box by box: what a hand types, what is refused at its box, what the file holds."""

import pytest

from mechkit.drive.sheet import SheetError, begin, files, load
from mechkit.drive.sheet.filling import Filling
from mechkit.drive.sheet.keys import find, loc_of
from mechkit.drive.sheet.typed import written

RUN = {
    "measured_before.runs[1].voltage": "12",
    "measured_before.runs[1].distance": "2 m",
    "measured_before.runs[1].time": "4,1",
}
FIVE = {
    "locomotive.scale": "1:87",
    "locomotive.weight": "310",
    "locomotive.weight_on_drivers": "205 g",
    "measured_before.starting_voltage": "3,1",
    **RUN,
}


@pytest.fixture
def filling(tmp_path):
    return Filling.of(tmp_path / "engine.toml")


@pytest.mark.parametrize(
    ("place", "system", "typed", "stands"),
    [
        ("locomotive.weight", "metric", "2 oz", "2 oz"),
        ("locomotive.weight", "inch", "14,5", "14.5 oz"),
        ("locomotive.axle_diameter", "inch", "5/32", "5/32 in"),
        ("locomotive.axle_diameter", "metric", '1/8"', '1/8"'),
        ("locomotive.driver_diameter", "metric", "16,2 +/- 0,05", "16.2 +/- 0.05 mm"),
        ("locomotive.scale", "metric", "1:87", "1:87"),
        ("locomotive.scale", "metric", "87,1", 87.1),
        ("locomotive.driver_axles", "metric", "0; 22; 44,5 mm", ["0 mm", "22 mm", "44.5 mm"]),
        ("locomotive.driver_axles", "inch", "0, 7/8, 1 3/4", ["0 in", "7/8 in", "1 3/4 in"]),
        ("locomotive.frame_live", "metric", "no", False),
        ("measured_before.runs.time", "metric", "3 min 12", "192 s"),
        ("measured_before.runs.time", "metric", "1:02,5", "62.5 s"),
        ("measured_before.runs.time", "metric", "21.8", "21.8 s"),
        ("measured_before.runs.current", "metric", "180", "180 mA"),
        ("measured_before.starting_voltage", "metric", "2,8; 2,6", ["2.8 V", "2.6 V"]),
        ("as_is.worm.module", "inch", "48", "48 pitch"),
        ("as_is.gears.teeth", "metric", "30", 30),
        ("as_is.motor.kind", "metric", "iron core", "iron core"),
        ("track.grade", "metric", "2 %", "2 %"),
        ("locomotive.length", "metric", "I do not know", None),
        ("locomotive.length", "metric", "  ", None),
    ],
)
def test_what_a_hand_types_stands_in_the_file_with_its_unit(place, system, typed, stands):
    assert written(typed, find(loc_of(place)), system) == stands


def test_five_boxes_make_a_sheet_that_any_command_reads(filling):
    for place, text in FIVE.items():
        filling.enter({place: text})
    assert (filling.faults, filling.waits, filling.unsaved) == ({}, {}, "")
    data = load(filling.sheet.path).data
    assert data.locomotive.scale == 87
    assert data.locomotive.weight.value == pytest.approx(0.310)
    assert data.measured_before.runs[0].time.value == pytest.approx(4.1)
    assert filling.sheet.text.count("#") == len(FIVE)  # each with its words


def test_no_order_of_the_boxes_matters(filling):
    for place, text in reversed(FIVE.items()):
        filling.enter({place: text})
    assert filling.sheet.lacks == ()
    assert load(filling.sheet.path).data.measured_before.starting_voltage[0].value == 3.1


def test_a_sheet_by_hand_says_the_same(filling, tmp_path):
    for place, text in FIVE.items():
        filling.enter({place: text})
    by_hand = tmp_path / "by_hand.toml"
    by_hand.write_text(
        '[locomotive]\nscale = "1:87"\nweight = "310 g"\nweight_on_drivers = "205 g"\n'
        '[measured_before]\nstarting_voltage = ["3.1 V"]\n'
        '[[measured_before.runs]]\nvoltage = "12 V"\ndistance = "2 m"\ntime = "4.1 s"\n',
        "utf-8",
    )
    assert load(by_hand).data == load(filling.sheet.path).data


@pytest.mark.parametrize(
    ("place", "typed", "says"),
    [
        ("locomotive.weight", "310 mm", "write a mass"),
        ("locomotive.weight", "nonsense", "is not a mass"),
        ("locomotive.weight", "80 kg", "at most 50 kg"),
        ("locomotive.scale", "H0", "a plain number above 1 to 300"),
        ("locomotive.weight_on_drivers", "500 g", "is more than “engine alone, ready to run”"),
        ("locomotive.driver_axles", "0", "2 to 8"),
        ("measured_before.starting_voltage", "-3", "more than 0"),
        ("as_is.motor.kind", "diesel", "iron core"),
        ("locomotive.frame_live", "perhaps", "true or false"),
        ("as_is.gears[1].teeth", "3,5", "a whole number"),
    ],
)
def test_what_is_wrong_is_told_at_its_box_in_one_line_and_nothing_is_lost(
    filling, place, typed, says
):
    for key, text in FIVE.items():
        filling.enter({key: text})
    before = filling.sheet.path.read_bytes()
    filling.enter({place: typed})
    assert says in filling.faults[place]
    assert "\n" not in filling.faults[place]
    assert list(filling.faults) == [place]
    assert filling.waits[place] == typed  # it stays in its box
    assert filling.sheet.path.read_bytes() == before
    filling.enter({place: FIVE.get(place, "")})
    assert (filling.faults, filling.waits) == ({}, {})


def test_a_run_goes_into_the_file_when_it_is_whole(filling):
    filling.enter({"locomotive.scale": "64", "locomotive.weight": "410 g"})
    for n, (place, text) in enumerate(RUN.items(), 1):
        filling.enter({place: text})
        assert ("runs" in filling.sheet.text) == (n == len(RUN))
    assert filling.waits == {}


def test_a_run_is_taken_out_and_the_next_moves_up(filling):
    filling.enter(FIVE)
    filling.enter({place.replace("[1]", "[2]"): text for place, text in RUN.items()} | {
        "measured_before.runs[2].time": "8.2"})  # fmt: skip
    filling.take_out("measured_before.runs[1]")
    (left,) = load(filling.sheet.path).data.measured_before.runs
    assert left.time.value == 8.2


def test_undo_goes_back_entry_by_entry_to_the_first(filling):
    texts = [""]
    for place, text in FIVE.items():
        filling.enter({place: text})
        texts.append(filling.sheet.text)
    for text in reversed(texts[:-1]):
        while filling.sheet.text != text and filling.before:
            filling.undo()
        assert filling.sheet.text == text
    assert filling.sheet.path.read_text("utf-8") == ""


def test_the_file_that_was_there_is_kept_once(tmp_path):
    path = tmp_path / "engine.toml"
    path.write_text('# mine\n[locomotive]\nscale = 64\nweight = "410 g"\n', "utf-8")
    filling = Filling.of(path)
    for volts in ("2.8", "2.9", "3.0"):
        filling.enter({"measured_before.starting_voltage": volts})
    backups = [one for one in tmp_path.iterdir() if ".bak-" in one.name]
    assert [one.read_text("utf-8")[:6] for one in backups] == ["# mine"]
    assert path.read_text("utf-8").startswith("# mine")


def test_other_hands_are_noticed_and_their_work_is_kept(filling):
    filling.enter(FIVE)
    other = filling.sheet.path.read_text("utf-8") + "# another page\n"
    filling.sheet.path.write_text(other, "utf-8")
    filling.enter({"locomotive.weight": "320 g"})
    assert "changed on disk" in filling.unsaved
    assert filling.sheet.path.read_text("utf-8") == other
    filling.again()
    assert filling.unsaved == ""
    assert filling.sheet.text == other


def test_a_write_that_breaks_off_leaves_the_older_sheet_whole(filling, monkeypatch):
    filling.enter(FIVE)
    before = filling.sheet.path.read_bytes()

    def full(path, raw):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files, "whole", full)
    filling.enter({"locomotive.weight": "320 g"})
    assert "no space left" in filling.unsaved
    assert filling.sheet.path.read_bytes() == before


def test_a_begun_sheet_lacks_only_what_nothing_stands_in_for(tmp_path):
    path = tmp_path / "engine.toml"
    assert begin(path).lacks == ("locomotive.scale", "locomotive.weight")
    path.write_text("[locomotive]\nscale = 64\n", "utf-8")
    assert begin(path).lacks == ("locomotive.weight",)
    with pytest.raises(SheetError, match=r"locomotive\.weight is missing"):
        load(path)
    path.write_text("[locomotive]\nscael = 64\n", "utf-8")
    with pytest.raises(SheetError, match="did you mean scale"):
        begin(path)
