"""The motion panel: both drives on one throttle, and what is left when the power goes."""

import re
from dataclasses import replace

import numpy as np
import pytest

from mechkit import motor, traction, units
from mechkit.drive import sheet
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Supply, cut, ramp, steady
from mechkit.drive.questions import motion as trip
from mechkit.panels import motion
from tests.strange_sheets import strange

CASE = trip.Case(sheet.demo().data)
CALM = {
    "voltage": 12.0, "loss": "open", "dead": 60e-3, "outer": CASE.outer,
    "total_runout": CASE.runout["after"], "cars": 0.0, "grade": 0.0, "moment": 10.0,
}  # fmt: skip


def run(**changes):
    return trip.trip(CASE, **(CALM | changes))


@pytest.fixture(scope="module")
def panel():
    return motion.show()


@pytest.mark.parametrize("loss", ["open", "shorted"])
def test_a_trip_in_two_halves_is_the_trip_in_one(loss):
    """The power goes at a known moment: nothing may change by starting afresh there."""
    phases = (
        ramp(0, 9.0, trip.OPENS),
        steady(9.0, trip.GOES - trip.OPENS),
        cut(8, trip.LOSSES[loss]),
    )
    halves = run(voltage=9.0, loss=loss)
    for way, name in ((halves.before, "before"), (halves.after, "after")):
        plain = replace(CASE.details[name], shafts=())
        whole = simulate(CASE.drives[name], Supply(phases), None, plain)
        assert way.coast == pytest.approx(whole.coast_distance, rel=1e-3)
        assert way.starting_voltage == pytest.approx(whole.starting_voltage, rel=1e-6)


def test_it_starts_where_the_handbook_says_with_cars_and_a_grade():
    """Voltage = torque times resistance over constant, the torque from friction, cars and grade.

    The brushes keep their part beside it.
    """
    state = run(cars=0.4, grade=0.03)
    for way, drive in ((state.before, CASE.drives["before"]), (state.after, CASE.drives["after"])):
        pull = 0.4 * 9.80665 * CASE.rolling + traction.grade_resistance(
            mass=drive.train_mass + 0.4, grade=0.03
        )
        lever = drive.wheel_diameter / 2 / drive.gear_ratio
        expected = drive.motor.brush_drop + motor.starting_voltage(
            torque=drive.starting_friction + pull * lever / drive.efficiency,
            resistance=drive.motor.resistance,
            torque_constant=drive.motor.torque_constant,
        )
        assert way.starting_voltage == pytest.approx(expected, rel=5e-3)


def test_a_dead_rail_is_crossed_by_what_coasts_farther_than_it():
    coast = run().after.coast
    over, on = (run(loss="dead", dead=share * coast).after for share in (0.9, 1.1))
    assert over.coast is None and 0 < over.slowest < over.running
    assert on.coast == pytest.approx(coast, rel=1e-6) and on.slowest == 0


def test_what_brakes_more_stops_sooner():
    far = [run(loss=loss).after.coast for loss in ("open", "braked", "shorted")]
    assert far == sorted(far, reverse=True) and far[2] > 0


def test_the_hop_follows_the_runout_and_its_handbook_size():
    """The gear's swing as the handbook gives it, and what the drive leaves of it."""
    small, large = (run(total_runout=size).after for size in (30e-6, 120e-6))
    assert large.hop == pytest.approx(4 * small.hop, rel=0.02)
    gear = CASE.details["after"].shafts[-1]
    left = CASE.drives["after"].hop(120e-6 / gear.base_diameter, gear.turns, 12.0)
    assert large.hop == pytest.approx(left, rel=0.02)
    assert np.abs(large.turn).max() == pytest.approx(large.hop, rel=0.05)
    assert run(total_runout=0.0).after.hop < trip.FINE  # what a step may be off


def test_below_its_starting_voltage_it_stands():
    starts = [CASE.drives[name].starting_voltage for name in ("before", "after")]
    assert starts[0] > starts[1]
    state = run(voltage=np.mean(starts))
    assert state.before.starting_voltage is None and state.before.running == 0
    assert state.before.coast == 0 and state.before.hop is None
    assert state.after.running > 0


def test_a_bigger_flywheel_rolls_farther_and_runs_no_faster():
    far = [run(outer=outer).after for outer in (8e-3, 14e-3, 20e-3)]
    assert far[0].coast < far[1].coast < far[2].coast
    assert far[0].running == pytest.approx(far[2].running, rel=1e-3)


def test_looking_at_another_moment_runs_nothing_again(monkeypatch, panel):
    monkeypatch.setattr(trip, "simulate", None)
    panel.set("moment", 7.0)
    assert 0 < panel.state.after.at(7.0) < panel.state.after.coast
    assert panel.state.before.at(7.0) == pytest.approx(panel.state.before.coast)
    panel.reset()


def test_the_sentence_tells_the_state_in_either_system(panel):
    state = panel.state
    for system, kind, places in (("metric", "length", 0), ("inch", "length", 2)):
        text = motion.sentence(CASE, state, system)
        for way in (state.before, state.after):
            assert units.show(way.coast, kind, system, places) in text
            assert units.show(way.starting_voltage, "voltage", system) in text
            assert units.show(way.hop, "ripple") in text
    assert "mm" not in motion.sentence(CASE, state, "inch")


def test_the_sentence_says_what_the_power_s_loss_does(panel):
    panel.set("loss", "dead")
    panel.set("dead", 75e-3)
    assert run().before.coast < 75e-3 < run().after.coast
    assert re.search(r"As it is, .* stops on the dead rail", panel.words)
    assert re.search(r"As planned, .* rolls over the dead rail, down to", panel.words)
    panel.set("voltage", 1.0)
    assert "As it is, it does not start on 1.00\u00a0V." in panel.words
    panel.reset()


def test_engines_stand_where_they_rolled(panel):
    picture = panel.picture(panel.look, panel.setting, 1.0)
    picture.frame(panel.state)
    for name, way in (("before", panel.state.before), ("after", panel.state.after)):
        front = picture.engines[name].patch.path.vertices[:, 0].max()
        assert front * CASE.engine_length == pytest.approx(way.coast, abs=1e-4)


def test_each_engine_has_a_track_of_its_own(panel):
    """Where both stand within one length the nearer hides the other: no outline shows through."""
    picture = panel.picture(panel.look, panel.setting, 1.0)
    picture.frame(panel.state)
    behind, near = (picture.engines[name].patch for name in ("before", "after"))
    levels = [patch.path.vertices[:, 1].min() for patch in (behind, near)]
    assert levels[0] > levels[1] and near.get_zorder() > behind.get_zorder()
    assert near.fill[3] == 1.0


def test_flywheel_and_gear_go_into_a_copy(tmp_path):
    text = sheet.DEMO.read_text("utf-8")
    (tmp_path / "mine.toml").write_text(text, "utf-8")
    made = motion.show(sheet.load(tmp_path / "mine.toml"))
    made.set("outer", 15e-3)
    made.set("total_runout", 40e-6)
    data = sheet.load(made.write(made.values)).data
    assert data.planned.flywheel.outside_diameter.value == pytest.approx(15e-3)
    assert data.planned.gears[-1].total_runout.value == pytest.approx(40e-6)
    assert (tmp_path / "mine.toml").read_text("utf-8") == text


# -- other engines ----------------------------------------------------------------------


def test_no_dead_rail_is_told_of_where_there_is_none():
    """A wheel that turns for a dozen seconds is waited for, and the fields reach that far."""
    made = motion.show(strange("a wheel 24 by 30 on a shaft of 5"))
    after = made.state.after
    assert after.coast > 0 and "dead rail" not in made.words
    stood = after.time[np.flatnonzero(after.speed > 0)[-1]]
    assert trip.GOES + trip.STANDS + 2 < stood < made.setting.shown
    assert made.controls["moment"].high == made.setting.shown


def test_what_starts_as_easily_as_it_runs_has_no_slowest_speed():
    made = motion.show(strange("wobbly, and starts easily"))
    drive = made.setting.drives["before"]
    assert drive.starting_friction == pytest.approx(drive.running_friction, rel=1e-9)
    first, second = (made.words.split(". ")[n] for n in (0, 1))
    assert "starts at" in first and "creeps" not in made.words, (first, second)
    assert made.words.count("hops") == 2
    assert motion.show().words.count("creeps at") == 2


def test_without_readings_both_run_as_such_engines_do_and_the_coast_is_open():
    made = motion.show(strange("worm straight on the axle gear, nothing measured"))
    assert made.state.before.coast > 0 and made.state.after.coast > 0
    assert min(made.setting.friction_spread.values()) > 1
    assert made.words.endswith("Friction as planned, and with it the coast, is a guess.")
    assert "is known within" in motion.show().words


def test_wheels_that_slip_where_it_stands_are_told():
    slick = {"track.adhesion": "0.02", "measured_before.drawbar_pull": None, "measured_after": None}
    made = motion.show(sheet.demo().with_values(slick))
    made.set("grade", made.controls["grade"].high)
    assert made.state.after.running == 0 and made.state.after.slipped > 0
    assert re.search(
        r"As planned, it does not start on 12.00\u00a0V, its wheels sliding", made.words
    )
