"""Readings of every sheet that the schema lets in, few, odd or in doubt: a page, or one line."""

from dataclasses import replace

import numpy as np
import pytest

from mechkit.drive.choice import choose
from mechkit.drive.constants import knowledge
from mechkit.drive.decisions import plan
from mechkit.drive.model.parts import Material
from mechkit.drive.model.spread import Spread
from mechkit.drive.questions import choose as questions
from mechkit.drive.sheet import SheetError, demo
from mechkit.drive.sheet.keys import dotted
from mechkit.units import Reading
from tests import ends, legal
from tests.legal import DRAWS, built, picked, worked


@pytest.fixture(autouse=True)
def few_draws(monkeypatch):
    legal.quick(monkeypatch.setattr)


def test_what_reads_nothing_is_drawn_to_one_side():
    """A runout below what the indicator shows is some runout, and never a negative one."""
    drawn = Spread(draws=200).reading("runout", Reading(0.0), 12.7e-6)
    assert drawn[0] < 1e-12
    assert np.all(drawn >= 0)
    assert np.std(drawn[1:]) > 0


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("planned.gears[2].total_runout", "0 in"),
        ("as_is.gears[2].total_runout", "0 in"),
        ("planned.flywheel.off_center", "0 mm"),
    ],
)
def test_nothing_on_the_indicator_is_a_reading(key, value):
    done, _ = built({key: value})
    assert done.decision("backlash").kept > 0.5


# -- numbers that do not exist ----------------------------------------------------------


@pytest.mark.parametrize(
    "changes",
    [
        {"planned.motor.thermal_resistance": 1000, "planned.alignment.offset": "0.2 mm"},
        {"planned.alignment.offset": "5 mm", "measured_after": None},
        {"planned.motor.no_load.voltage": "1.5 V", "measured_after": None},
    ],
)
def test_a_winding_that_runs_away_is_one_no_go(changes):
    done, text = built(changes)
    heat = done.decision("heat")
    assert heat.verdict == "wrong"
    assert "burns out" in heat.words() and "it takes cooling to" in heat.todo()
    assert "burns out" in text


@pytest.mark.parametrize("tool", ["caliper", "lathe"])
def test_the_coarsest_tool_turns_no_wheel_of_less_than_nothing(tool):
    small = {"planned.flywheel.outside_diameter": "4 mm", "planned.flywheel.width": "2 mm"}
    done, _ = built({f"instruments.{tool}": "1 mm"} | small)
    assert np.all(done.known.planned.flywheel_inertia > 0)


def test_a_wheel_thinner_than_any_tool_still_has_an_inertia():
    done, _ = built({"planned.flywheel.width": "1e-7 mm"})
    assert np.all(np.isfinite(done.known.planned.flywheel_inertia))


def test_a_winding_that_settles_is_told_by_its_rise():
    done, _ = built({})
    assert "settles" in done.decision("heat").words()
    assert done.decision("heat").value.value < plan.BURNT / 2


def test_no_draw_has_more_on_the_drivers_than_the_engine_weighs():
    """A tank engine: all of it on the drivers, and two scales whose errors cross."""
    known = knowledge.Knowledge(demo().data, Spread(draws=DRAWS))
    crossing = known.numbers.train * np.linspace(0.7, 1.1, DRAWS + 1)
    drive = known._drive(replace(known.numbers, drivers=crossing), known.sheet.as_is)
    assert np.all(drive.mass_on_drivers <= drive.engine_mass)
    assert np.all(drive.engine_mass <= drive.train_mass)
    assert drive.mass_on_drivers[0] == crossing[0]


# -- readings in wide doubt ------------------------------------------------------------


@pytest.mark.parametrize(
    "changes",
    [
        {"instruments.meter": "0 %"},
        {"instruments.meter": "20 %"},
        {"planned.motor.resistance": ["22 +/- 22 ohm"]},
        {"planned.motor.no_load.speed": "8090 +/- 8000 rpm"},
        {"planned.motor.no_load.current": "530 mA", "planned.motor.starting_voltage": None},
        {"planned.motor.no_load.voltage": "0.25 V", "planned.motor.no_load.speed": "150 rpm",
         "planned.motor.starting_voltage": None},
        {"track.adhesion": "0.20 +/- 0.30"},
        {"locomotive.weight": "410 +/- 400 g"},
        {"planned.flywheel.outside_diameter": "16 +/- 10 mm"},
    ],
    ids=lambda changes: next(iter(changes)),
)  # fmt: skip
def test_wide_doubt_makes_wide_bands_and_no_refusal(changes):
    done, _ = built(changes | {"measured_after": None})
    top = done.headline("top").planned
    assert top.low <= top.value <= top.high


# -- few readings -----------------------------------------------------------------------

ONE_RUN = {"voltage": "6 V", "distance": "1500 mm", "time": "14.2 s"}


@pytest.mark.parametrize(
    "readings",
    [
        {},
        {"starting_voltage": ["2.7 V"]},
        {"coasts": [{"voltage": "12 V", "rails": "open", "distance": "55 mm"}]},
        {"drawbar_pull": "0.63 N"},
        {"runs": [ONE_RUN | {"time": "30 s"}]},
        {"runs": [ONE_RUN | {"time": "10.5 s", "current": "177 mA"}] * 3},
    ],
    ids=lambda readings: next(iter(readings), "nothing"),
)
def test_few_readings_before_give_a_page_with_wide_bands(readings):
    done, text = built({"measured_before": readings, "measured_after": None})
    assert done.known.before is not None and done.known.after is None
    whole_sheet, _ = built({"measured_after": None})
    few, many = (one.headline("friction").before for one in (done, whole_sheet))
    assert few.high / few.low > many.high / many.low
    assert "anything on the track after the work" in text


@pytest.mark.parametrize(
    ("readings", "seen"),
    [
        ({}, False),
        ({"drawbar_pull": "0.64 N"}, False),
        ({"starting_voltage": ["0.66 V"]}, True),
        ({"runs": [ONE_RUN]}, True),
        ({"coasts": [{"voltage": "12 V", "rails": "open", "distance": "168 mm"}]}, True),
    ],
    ids=["nothing", "pull", "start", "run", "coast"],
)
def test_any_reading_after_the_work_but_none_fills_the_column(readings, seen):
    done, text = built({"measured_after": readings})
    assert (done.known.after is not None) == seen == (len(done.told) == 2)
    assert ("anything on the track after the work" in text) != seen
    assert len(done.proof) == sum(len(each) for each in readings.values() if isinstance(each, list))


# -- every key at its ends --------------------------------------------------------------

EVERY = list(ends.ends())
#: The same ones at each run.
SOME = [EVERY[n] for n in sorted(np.random.default_rng(8).permutation(len(EVERY))[:50])]


def test_every_key_has_ends():
    places = {dotted(place) for place, _ in EVERY}
    assert len(EVERY) > 900
    for key in ("planned.gears[2].material", "track.adhesion", "stock.motors[1].kind"):
        assert key in places


def test_a_key_at_its_end_gives_numbers_or_one_line():
    """Some of them; ``python3 -m tests.ends`` tries all."""
    refused = 0
    for place, value in SOME:
        try:
            data = ends.changed(place, value)
        except SheetError as error:
            refused += 1
            assert "\n" not in str(error)
            continue
        try:
            if place[0] == "stock":
                assert picked(data)
            else:
                worked(data)
        except Exception as error:
            raise AssertionError(f"{dotted(place)} = {value}") from error
    assert 0 < refused < len(SOME) / 2


# -- a choice taken into the sheet ------------------------------------------------------


def test_every_gear_set_of_the_drawer_can_be_built():
    """One drive of each gear set that fits, taken into the sheet as the plan, with a wheel and without."""
    sheet = demo()
    found = choose.choose(sheet.data, step=4e-3)
    fitting = found.fitting
    wheels = found.cuts.width[fitting.cut] > 0
    for gears in np.unique(fitting.gears):
        for wheel in (True, False):
            row = np.flatnonzero((fitting.gears == gears) & (wheels == wheel))[0]
            place = choose.Place(*(part[row] for part in fitting))
            taken = questions.into(sheet, found, place)
            done = worked(taken.data)
            assert bool(taken.data.planned.flywheel) == wheel
            gear = taken.data.planned.gears[0].material
            assert (
                done.decision("teeth").limit.value
                == plan.TOOTH_PART * Material(gear).yield_strength
            )
