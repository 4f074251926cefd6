"""The choice panel: a front that follows the sliders, the picked drive to scale, the sheet's copy."""

import re

import numpy as np
import pytest

from mechkit.drive import sheet
from mechkit.drive.choice import choose
from mechkit.drive.choice.aims import AIMS
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.model import read
from mechkit.drive.model.spread import Spread
from mechkit.panels import choose as panels
from tests import legible


@pytest.fixture(scope="module")
def panel():
    return panels.show()


@pytest.fixture(autouse=True)
def as_in_the_sheet(panel):
    panel.reset()


def best(panel, aim):
    values = panel.state.front.values[aim]
    return values.max() if AIMS[aim].more else values.min()


def test_both_ends_of_the_front_are_the_best_of_all_that_fits(panel):
    found = panel.setting.found
    every = found.ask(("creep", "coast"))
    panel.set("along", 0.0)
    assert panel.state.front.values["creep"][panel.state.row] == pytest.approx(
        every["creep"].min(), rel=1e-9
    )
    panel.set("along", 1.0)
    assert panel.state.front.values["coast"][panel.state.row] == pytest.approx(
        every["coast"].max(), rel=1e-9
    )


def test_what_is_asked_is_kept(panel):
    panel.set("least_coast", 0.12)
    panel.set("kept_free", 0.012)
    state, found = panel.state, panel.setting.found
    every = found.ask(("coast", "room"))
    assert state.count == ((every["coast"] >= 0.12) & (every["room"] >= 0.012 - 1e-9)).sum() > 0
    assert state.front.values["coast"].min() >= 0.12
    for row in range(len(state.front)):
        assert (
            found.ask(["room"], choose.Place(*([n] for n in state.front.at(row))))["room"]
            >= 0.012 - 1e-9
        )


def test_more_length_kept_free_never_coasts_farther(panel):
    farthest = []
    for free in (0.0, 0.01, 0.02, 0.03):
        panel.set("kept_free", free)
        farthest.append(best(panel, "coast"))
    assert farthest == sorted(farthest, reverse=True)
    assert farthest[0] > farthest[-1]


def test_a_fixed_speed_and_a_fixed_voltage_are_two_questions(panel):
    panel.set("start_from", "voltage")
    panel.set("voltage", 6.0)
    panel.set("along", 1.0)
    found = panel.setting.found
    farthest = found.ask(["coast_on"], voltage=6.0)["coast_on"].max()
    assert best(panel, "coast_on") == pytest.approx(farthest, rel=1e-9)
    assert "from 6.0\u00a0V" in panel.words
    far = best(panel, "coast_on")
    panel.set("voltage", 12.0)
    assert best(panel, "coast_on") > 2 * far


def test_twins_on_the_front_are_one_point_and_the_one_that_coasts_farthest(panel):
    panel.set("up", "life")
    front, found = panel.state.front, panel.setting.found
    rows = np.column_stack([front.values["creep"], front.values["life"]])
    assert len(np.unique(rows, axis=0)) == len(rows)
    every = found.ask(("creep", "life", "coast"))
    for row in range(len(front)):
        twins = (every["creep"] == rows[row, 0]) & (every["life"] == rows[row, 1])
        mine = found.ask(["coast"], choose.Place(*([n] for n in front.at(row))))["coast"]
        assert mine == every["coast"][twins].max()


def test_nothing_left_is_said(panel):
    panel.set("least_coast", panel.controls["least_coast"].high)
    panel.set("kept_free", panel.controls["kept_free"].high)
    assert panel.state.row is None and panel.state.count == 0
    assert panel.words.startswith("Nothing that fits coasts that far")
    panel.frame()
    with pytest.raises(ValueError, match="nothing is picked"):
        panel.write(dict(panel.values))


def test_the_sentence_says_what_stands_on_the_front(panel):
    state = panel.state
    assert panel.words.startswith(f"{state.row + 1} of {len(state.front)} that nothing else beats")
    assert f"coasts {1e3 * state.front.values['coast'][state.row]:.0f}\u00a0mm (" in panel.words
    panel.wear(system="inch")
    assert f"coasts {state.front.values['coast'][state.row] / 25.4e-3:.2f}\u00a0in (" in panel.words
    panel.wear(system="metric")


def test_a_motor_that_does_not_reach_the_speed_coasts_from_what_it_reaches(panel):
    panel.set("along", 0.0)
    top = 3.6 * panel.state.top
    assert top < 3.6 * panel.state.speed
    assert f"from {top:.0f}\u00a0km/h, the most it reaches" in panel.words


def test_a_step_along_the_front_moves_the_drawing(panel):
    panel.set("along", 0.0)
    one = panel.frame()
    panel.set("along", 1.0)
    assert panel.frame() != one
    panel.set("along", 0.0)
    assert panel.frame() == one


def test_the_picked_drive_goes_into_a_copy_of_the_sheet(panel, tmp_path):
    path = tmp_path / "engine.toml"
    path.write_bytes(sheet.DEMO.read_bytes())
    bench = sheet.load(path)
    mine = panels.show(bench)
    for along in (0.0, 1.0):
        mine.set("along", along)
        state = mine.state
        data = sheet.load(mine.write(dict(mine.values))).data
        assert path.read_bytes() == sheet.DEMO.read_bytes()
        assert not data.measured_after.runs  # they were taken on another drive
        drive = Knowledge(data, Spread(draws=2)).planned
        assert (
            drive.coast(data.locomotive.top_speed.value / 64)[0]
            >= 0.999 * state.front.values["coast"][state.row]
        )
        assert drive.starting_voltage[0] == pytest.approx(state.start, rel=1e-6)
        assert (
            read.gear_ratio(data.planned) == state.state.gears[-1].teeth / state.state.worm.starts
        )


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"envelope.rooms[1].to": "-6 mm", "envelope.rooms[2].from": "62 mm"}, "nothing fits"),
        ({"stock": None}, "the sheet lists no motor"),
        ({"stock.gear_sets": None}, "the sheet lists no gear set"),
    ],
    ids=["nothing fits", "no stock", "no gears"],
)
def test_where_nothing_can_be_chosen_the_planned_drive_stands_and_why(changes, why):
    made = panels.show(sheet.demo().with_values(changes))
    assert why in made.words and made.words.startswith("There is nothing to choose: ")
    assert not made.controls and made.write is None
    for size in ("desk", "hall"):
        made.wear(size=size)
        assert made.still()
        assert legible.faults(made) == []


def test_a_coast_just_out_of_reach_does_not_read_like_the_one_that_is_asked(panel):
    most = float(panel.setting.found.ask(["coast"])["coast"].max())
    asked = 1e-3 * np.ceil(1e3 * most)
    panel.set("least_coast", asked)
    assert panel.state.row is None
    told = float(re.search(r"farthest coasts ([\d.]+)\u00a0mm", panel.words)[1])
    assert told < 1e3 * asked and told == pytest.approx(1e3 * most, abs=0.5)
