"""What the readings tell reaches the rebuild: bands, a bad reading, what is open, filmed coasts."""

from dataclasses import replace

import numpy as np
import pytest

from mechkit.drive import sheet
from mechkit.drive.constants import told
from mechkit.drive.constants.knowledge import Knowledge, known_of
from mechkit.drive.decisions import rows
from mechkit.drive.decisions.proof import checks
from mechkit.drive.decisions.rebuild import rebuild
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet.schema import Measured
from mechkit.units import Reading

FILMED = {
    "instruments.frame_rate": 30,
    "measured_after.coasts[1].frames": 53,
    "measured_after.coasts[3].time": "0.9 s",
}


@pytest.fixture(scope="module")
def filmed():
    return sheet.demo().with_values(FILMED).data


def test_frames_are_a_time_good_to_a_frame(filmed):
    first, second, third, _ = Knowledge(filmed, Spread(draws=10)).told_after.fit.bench.coasts
    assert (first.time, first.time_error) == pytest.approx((53 / 30, 1 / 30))
    assert first.distance == pytest.approx(0.178)
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


def test_a_skid_takes_its_time():
    """Adhesion is what the drawbar gives, so the rail holds that and the rolling, and the train
    rolls besides; all by hand, from the drive's own numbers, without play between the flanks."""
    drive = replace(Knowledge(sheet.demo().data, Spread(draws=10)).before, lost_motion=0.0)
    holds = (drive.adhesion * drive.mass_on_drivers * 9.80665 + 2 * drive.rolling_force)[0]
    slide = holds / drive.train_mass[0]
    took = np.ravel(drive.coast_time(0.5, shorted=True))
    assert took[0] == pytest.approx(0.5 / slide, rel=1e-6)
    assert np.all(drive.coast_time(0.0) == 0.0)


def test_laps_by_the_watch_alone_count_where_they_can(tmp_path):
    """Three more laps without a current: drag with speed is told better, and nothing parts."""
    text = sheet.demo().text
    lap = '[[measured_before.runs]]\nvoltage = "{} V"\ndistance = "1500 mm"\ntime = "{} s"\n\n'
    laps = "".join(lap.format(*pair) for pair in ((5.0, 14.1), (9.0, 6.0), (11.0, 4.6)))
    place = text.index("[[measured_before.coasts]]")
    file = tmp_path / "engine.toml"
    file.write_text(text[:place] + laps + text[place:], "utf-8")
    known = Knowledge(sheet.load(file).data, Spread(draws=50))
    plain = Knowledge(sheet.demo().data, Spread(draws=50))
    friction = [one.before.running_friction[0] for one in (known, plain)]
    assert friction[0] == pytest.approx(friction[1], rel=0.01)
    widths = [
        np.ptp(np.log([one.constants["damping"].low, one.constants["damping"].high]))
        for one in (known.told_before, plain.told_before)
    ]
    assert known.told_before.bad == ()
    assert widths[0] < widths[1]


# -- what the readings tell -----------------------------------------------------------------


@pytest.fixture(scope="module")
def job():
    return rebuild(sheet.demo().data)


def asked(changes, when="before", draws=400):
    """What the readings of a changed demo tell, and the drive that is counted with."""
    known = Knowledge(sheet.demo().with_values(changes).data, Spread(draws=draws))
    state = {
        "before": (known.told_before, known.before),
        "after": (known.told_after, known.after),
    }[when]
    return told.told(when, *state, known.spread), state[1]


#: The constants that the demo's readings were made of, as tests/test_demo.py has them; what starts
#: it is friction at rest times resistance over the torque constant.
MADE_OF = {
    "before": (13.0, 7.0e-3, 1.45e-3 * 13.0 / 7.0e-3, 1.15e-3, 0.18e-6, 0.33, 2.35e-7),
    "after": (22.0, 14.0e-3, 0.41e-3 * 22.0 / 14.0e-3, 0.31e-3, 0.17e-6, 0.45, 7.354e-7),
}
KEYS = ("resistance", "torque_constant", "starting_voltage", "running_friction", "damping", "efficiency", "inertia")  # fmt: skip


def test_the_bands_hold_what_the_demo_was_made_of(job):
    """Its motors alone drag with speed too, so that their own friction is left out here."""
    assert [one.when for one in job.told] == ["before", "after"]
    for one in job.told:
        assert one.bad == ()
        bands = {line.key: line.band for line in one.lines}
        held = [
            bands[key].low <= true <= bands[key].high
            for key, true in zip(KEYS, MADE_OF[one.when], strict=True)
        ]
        # one evening's errors are common to many; of fourteen bands two may miss
        assert sum(held) >= len(KEYS) - 1, (one.when, held)


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
        ("runs", "time", "15 %", "torque_constant"),
        ("runs", "distance", "15 %", "torque_constant"),
        ("runs", "voltage", "6 %", "torque_constant"),
        ("no_load", "speed", "6 %", "torque_constant"),
        ("no_load", "voltage", "6 %", "torque_constant"),
        ("no_load", "current", "20 %", "motor_friction"),
        ("motor", "resistance", "20 %", "resistance"),
    ],
)
def test_a_spread_written_behind_a_reading_widens_the_band(job, where, key, spread, constant):
    found, _ = asked(unsure(where, key, spread))
    wide, narrow = (
        next(line.band for line in lines if line.key == constant)
        for lines in (found.lines, job.told[0].lines)
    )
    assert np.log(wide.high / wide.low) > 1.03 * np.log(narrow.high / narrow.low)


@pytest.mark.parametrize(
    ("change", "label", "same"),
    [
        (
            {"measured_before.runs[4].current": "260 mA"},
            "Current of run 4",
            ("running_friction", "efficiency"),
        ),
        ({"as_is.motor.stall.current": "262 mA"}, "Stalled current", ("running_friction",)),
        ({"as_is.motor.resistance[2]": "19.5 ohm"}, "Resistance reading 2", ("efficiency",)),
    ],
)
def test_a_reading_that_does_not_belong_is_named_and_not_counted(job, change, label, same):
    found, drive = asked(change)
    assert found.remarks()[0] == (
        f"{label} does not belong to the others: read it again; the page counts without it."
    )
    assert len(found.bad) == 1
    was = job.known.before
    assert drive.motor.resistance[0] == pytest.approx(was.motor.resistance[0], rel=0.02)
    assert drive.motor.torque_constant[0] == pytest.approx(was.motor.torque_constant[0], rel=0.01)
    for name in same:
        assert getattr(drive, name)[0] == pytest.approx(getattr(was, name)[0], rel=0.02), name


def test_a_flywheel_of_another_size_does_not_belong_to_the_coasts(job):
    """The wheel is known to a hundredth as turned: two thirds of it cannot roll so far."""
    found, _ = asked({"planned.flywheel.width": "8 mm"}, "after")
    assert any("coast" in reading for reading in found.bad)
    assert not any("coast" in reading for reading in job.told[1].bad)


def test_an_open_constant_is_as_wide_as_it_is_known_and_asked_for():
    """Rotor by its size alone, a quarter either way as one standard error."""
    found, _ = asked({"measured_before.coasts": None})
    inertia = found.lines[-1].band
    assert np.log(inertia.high / inertia.low) / 3.92 == pytest.approx(0.25, rel=0.1)
    assert found.loose == ("no reading tells inertia of rotor and flywheel",)
    assert "a coast with the rails open" in found.remarks()[-1]
    assert found.remarks()[-1].endswith("\u00a0% or so.")


def test_nothing_on_the_track_after_the_work_is_no_state():
    bare = sheet.demo().data.model_copy(update={"measured_after": Measured()})
    known = Knowledge(bare, Spread(draws=10))
    assert known.told_after is None and known.after is None


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


def test_a_draw_hangs_on_its_name_alone():
    """Whoever asks later, or for something else before, gets the same; mean and scatter are exact."""
    one, two = Spread(draws=500), Spread(draws=500)
    two.error("another")
    assert np.array_equal(one.error("it"), two.error("it"))
    assert not np.array_equal(two.error("it"), two.error("another"))
    assert one.error("it")[0] == pytest.approx(0.0, abs=1e-12)
    assert np.mean(one.error("it")[1:]) == pytest.approx(0.0, abs=1e-12)
    assert np.std(one.error("it")[1:]) == pytest.approx(1.0, abs=0.01)


def test_tables_for_the_notebook_hold_all(job):
    table = rows.told(job)
    assert len(table.rows) == 2 * 8 + sum(len(one.remarks()) for one in job.told)
    assert all(len(row) == len(table.head) for row in table.rows)
    ranking = rows.ranking(job)
    assert [row[0] for row in ranking.rows] == [line.words for line in job.headlines]
    start = ranking.rows[0]
    assert "starting voltage, before the work" in start[1]
    assert start[1].count(";") == 1


def test_what_is_ranked_reads_as_a_machinist_says_it(job):
    """No bare counts, no words of the fit."""
    for line in job.headlines:
        for band in (line.before, line.planned):
            for name, _ in band.sources:
                assert name[0].islower() or name[0].isdigit(), name
                assert not any(word in name for word in ("stand-in", "free current", "_")), name
                assert "old motor" not in name, name


def test_a_flywheels_size_is_named_in_millimeters():
    known = known_of(sheet.demo().data)
    known.flywheel_inertia(known.sheet.planned)
    sizes = [name for name in known.spread.drawn if name.startswith("size of the flywheel")]
    assert sizes == ["size of the flywheel, 16 by 12 mm"]
