"""What the readings tell reaches the rebuild: agreement, a bad reading, what is open, filmed coasts."""

import numpy as np
import pytest

from mechkit.drive import sheet
from mechkit.drive.constants import readings, told
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import rows
from mechkit.drive.decisions.proof import checks
from mechkit.drive.decisions.rebuild import rebuild
from mechkit.drive.model.spread import Spread
from mechkit.units import Reading

FILMED = {
    "instruments.frame_rate": 30,
    "measured_after.coasts[1].frames": 43,
    "measured_after.coasts[3].time": "0.9 s",
}


@pytest.fixture(scope="module")
def filmed():
    return sheet.demo().with_values(FILMED).data


def test_frames_are_a_time_good_to_a_frame(filmed):
    bench, _, _ = readings.from_sheet(filmed, filmed.planned, filmed.measured_after)
    first, second, third, _ = bench.coasts
    assert (first.time, first.time_error) == pytest.approx((43 / 30, 1 / 30))
    assert first.distance == pytest.approx(0.168)
    assert np.isnan(second.time)
    assert (third.time, third.time_error) == pytest.approx((0.9, 0.2))


def test_a_timed_coast_is_proved_like_the_others(filmed):
    """A body that stops evenly from v in a distance s takes 2 s/v; drag with speed a bit more."""
    known = Knowledge(filmed, Spread(draws=400))
    times = {one.say(): one for one in checks(known) if one.measured.kind == "time"}
    assert len(times) == 2
    first = times["takes to stop, rails open, at 12.0\u00a0V"]
    planned = known.planned
    rail = planned.rail_speed(planned.motor_speed_at(12.0))[0]
    even = 2 * planned.coast(rail)[0] / rail
    assert even < first.planned.value < 1.3 * even
    assert first.agrees


def test_a_skid_takes_its_time():
    drive = Knowledge(sheet.demo().data, Spread(draws=10)).before
    slide = 0.20 * 9.80665 * 0.328 / 0.528
    assert drive.coast_time(0.5, shorted=True)[0] == pytest.approx(0.5 / slide, rel=1e-6)
    assert drive.coast_time(0.0)[0] == 0.0


def test_laps_by_the_watch_alone_count_where_they_can(tmp_path):
    """Three more laps without a current: the joint fit gains by them, the page stays as it is."""
    text = sheet.demo().text
    lap = '[[measured_before.runs]]\nvoltage = "{} V"\ndistance = "1500 mm"\ntime = "{} s"\n\n'
    laps = "".join(lap.format(*pair) for pair in ((5.0, 14.1), (9.0, 6.0), (11.0, 4.6)))
    place = text.index("[[measured_before.coasts]]")
    file = tmp_path / "engine.toml"
    file.write_text(text[:place] + laps + text[place:], "utf-8")
    data = sheet.load(file).data
    known = Knowledge(data, Spread(draws=50))
    plain = Knowledge(sheet.demo().data, Spread(draws=50))
    assert known.before.running_friction[0] == plain.before.running_friction[0]
    widths = [
        np.ptp(np.log([one.constants["damping"].low, one.constants["damping"].high]))
        for one in (known.told_before, plain.told_before)
    ]
    assert known.told_before.bad == ()
    assert widths[0] < widths[1]


# -- two ways to the constants --------------------------------------------------------------


@pytest.fixture(scope="module")
def job():
    return rebuild(sheet.demo().data)


def asked(changes, when="before", draws=400):
    """What the readings of a changed demo tell, and the drive that is counted with."""
    known = Knowledge(sheet.demo().with_values(changes).data, Spread(draws=draws))
    state = next(state for state in known.asked if state[0] == when)
    return told.told(*state, known.spread), state[2]


def test_counted_one_from_the_other_or_all_together_the_constants_agree(job):
    assert [one.when for one in job.told] == ["before", "after"]
    for one in job.told:
        assert one.bad == ()
        assert one.counted == ()
        for line in one.lines:
            assert line.told.low <= line.counted.value <= line.told.high, line.key
            assert line.agrees


def unsure(where, key, spread):
    """The demo's readings of one kind, each with a spread of his own behind it."""
    data = sheet.demo().data
    if where == "runs":
        return {
            f"measured_before.runs[{n}].{key}": f"{getattr(run, key).text} +/- {spread}"
            for n, run in enumerate(data.measured_before.runs, 1)
        }
    if where == "motor":
        every = getattr(data.as_is.motor, key)
        return {f"as_is.motor.{key}": [f"{each.text} +/- {spread}" for each in every]}
    return {
        f"as_is.motor.{where}.{key}": f"{getattr(getattr(data.as_is.motor, where), key).text} +/- {spread}"
    }


@pytest.mark.parametrize(
    ("where", "key", "spread", "constant"),
    [
        ("runs", "current", "5 %", "running_friction"),
        ("runs", "time", "15 %", "damping"),
        ("runs", "distance", "15 %", "damping"),
        ("no_load", "speed", "6 %", "torque_constant"),
        ("no_load", "voltage", "6 %", "torque_constant"),
        ("no_load", "current", "20 %", "motor_friction"),
        ("motor", "resistance", "20 %", "resistance"),
    ],
)
def test_a_spread_written_behind_a_reading_widens_both_ways(job, where, key, spread, constant):
    found, _ = asked(unsure(where, key, spread))
    after, before = (
        next(line for line in lines if line.key == constant)
        for lines in (found.lines, job.told[0].lines)
    )
    for wide, narrow in ((after.told, before.told), (after.counted, before.counted)):
        assert np.log(wide.high / wide.low) > 1.03 * np.log(narrow.high / narrow.low)


def test_a_voltage_in_doubt_is_a_speed_in_doubt(job):
    """The page counts with current and speed alone; the joint fit with the voltage too."""
    found, _ = asked(unsure("runs", "voltage", "6 %"))
    after, before = (
        next(line.told for line in lines if line.key == "damping")
        for lines in (found.lines, job.told[0].lines)
    )
    assert np.log(after.high / after.low) > 1.03 * np.log(before.high / before.low)


def test_a_run_that_does_not_belong_is_named_and_not_counted(job):
    found, drive = asked({"measured_before.runs[4].current": "260 mA"})
    assert found.bad == (("current of run", 3),)
    assert found.remarks()[0] == (
        "Current of run 4 does not belong to the others: read it again; the page counts without it."
    )
    for name in ("running_friction", "efficiency"):
        was = getattr(job.known.before, name)[0]
        assert getattr(drive, name)[0] == pytest.approx(was, rel=0.02), name


def test_of_four_runs_none_is_left_out():
    measured = sheet.demo().data.measured_before
    few = measured.model_copy(update={"runs": [*measured.runs[1:4], measured.runs[6]]})
    bad = type("Found", (), {"bad": (("time of run", 1),)})()
    assert told.sound_runs(few, bad) is few
    assert len(told.sound_runs(measured, bad).runs) == len(measured.runs) - 1
    assert told.sound_runs(measured, None) is measured


@pytest.mark.parametrize(
    ("change", "label"),
    [
        ({"as_is.motor.stall.current": "262 mA"}, "Stalled current 1"),
        ({"as_is.motor.resistance[2]": "19.5 ohm"}, "Resistance reading 2"),
    ],
)
def test_a_bad_reading_of_the_motor_alone_is_not_counted(job, change, label):
    found, drive = asked(change)
    assert found.remarks()[0] == (
        f"{label} does not belong to the others: read it again; the page counts without it."
    )
    was = job.known.before.motor
    assert drive.motor.resistance[0] == pytest.approx(was.resistance[0], rel=0.02)
    assert drive.motor.torque_constant[0] == pytest.approx(was.torque_constant[0], rel=0.01)


def test_of_two_resistance_readings_none_is_left_out():
    table = sheet.demo().data.as_is.motor
    bad = type("Found", (), {"bad": (("resistance reading", 1),)})()
    few = table.model_copy(update={"resistance": table.resistance[:2]})
    assert told.sound_motor(few, bad) is few
    assert len(told.sound_motor(table, bad).resistance) == len(table.resistance) - 1
    assert told.sound_motor(table, None) is table


def test_where_both_ways_part_the_page_says_so():
    found, _ = asked({"as_is.motor.no_load.speed": "13500 rpm"})
    assert found.bad == found.counted == (("free-running speed", 0),)
    assert "the page still counts with it" in found.remarks()[0]
    apart = {line.key for line in found.lines if not line.agrees}
    assert {"torque_constant", "motor_friction"} <= apart
    assert "inertia" not in apart
    assert sum("do not give the torque constant" in words for words in found.remarks()) == 1


def test_a_flywheel_of_another_size_shows_in_the_coasts():
    found, _ = asked({"planned.flywheel.width": "8 mm"}, "after")
    assert [line.key for line in found.lines if not line.agrees] == ["inertia"]


def test_an_open_constant_says_what_it_can_and_what_to_read():
    found, _ = asked({"measured_after.coasts": None}, "after")
    inertia = found.lines[-1]
    assert inertia.say() == "not told"
    assert inertia.agrees
    assert found.loose == ("no reading tells inertia",)
    assert "a coast with the rails open" in found.remarks()[-1]
    assert found.remarks()[-1].endswith("\u00a0% or so.")
    skids, _ = asked({})
    assert skids.lines[-1].say().startswith("at most 3.")


def test_nothing_on_the_track_is_not_asked():
    data = sheet.demo().data
    assert told.ask(data, data.planned, type(data.measured_after)()) is None


# -- what to measure better -----------------------------------------------------------------


def test_inputs_are_ranked_with_their_shares():
    """Independent parts of 3, 2, 1.5 and 1: shares of 9, 4, 2.25 and 1 in 16.25."""
    spread = Spread(draws=20000)
    parts = [
        spread.reading(name, Reading(50.0, 2 * s))
        for name, s in zip("dcba", (1, 1.5, 2, 3), strict=True)
    ]
    spread.reading("idle", Reading(1.0, 0.1))
    found = spread.band(sum(parts), "number").sources
    assert [name for name, _ in found] == ["a", "b", "c"]
    assert [share for _, share in found] == pytest.approx(np.array([9, 4, 2.25]) / 16.25, abs=0.03)


def test_numbers_that_hang_together_count_once():
    spread = Spread()
    one, two = spread.jointly(["one", "two"], [5.0, 5.0], [[1.0, 0.95], [0.95, 1.0]])
    other = spread.reading("other", Reading(5.0, 2.0))
    found = spread.band(one + two + other, "number").sources
    assert sum(share for _, share in found) <= 1.0
    assert {name for name, _ in found} in ({"one", "other"}, {"two", "other"})


def test_tables_for_the_notebook_hold_both(job):
    table = rows.told(job)
    assert len(table.rows) == 2 * 8 + sum(len(one.remarks()) for one in job.told)
    assert all(len(row) == len(table.head) for row in table.rows)
    ranking = rows.ranking(job)
    assert [row[0] for row in ranking.rows] == [line.words for line in job.headlines]
    start = ranking.rows[0]
    assert start[2].startswith("planned shaft offset ")
    assert start[2].count(";") == 2
