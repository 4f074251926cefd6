"""The throttle panel: both drives on the same volts."""

import numpy as np
import pytest

from mechkit.drive import sheet
from mechkit.drive.questions.rebuild import Case, throttle
from mechkit.panels import rebuild
from tests.strange_sheets import strange

CASE = Case(sheet.demo().data)


def at(voltage, pull=0.0, shorted=False):
    return throttle(CASE, voltage=voltage, pull=pull, shorted=shorted)


def test_below_its_starting_voltage_an_engine_stands():
    state = at(1.5)
    assert not state.before.runs and state.before.speed.value == 0.0
    assert state.planned.runs and state.planned.speed.value > 0.0
    stalled = 1.5 / CASE.known.before.motor.resistance[0]
    assert state.before.current.value == pytest.approx(stalled)


def test_the_curve_passes_through_the_speed():
    state = at(8.0)
    for one in (state.before, state.planned):
        on_curve = np.interp(8.0, CASE.volts, one.curve)
        assert on_curve == pytest.approx(one.speed.value, rel=1e-6)
        assert np.all(one.low <= one.high + 1e-12)


def test_a_pull_slows_and_shorted_rails_stop_sooner():
    assert at(8.0, pull=0.3).planned.speed.value < at(8.0).planned.speed.value
    assert at(12.0, shorted=True).planned.coast.value < at(12.0).planned.coast.value


def test_readings_lie_on_their_curves():
    """The rings and the curve come from the same engine: within eight percent."""
    for volts, speed in CASE.readings(CASE.sheet.measured_before):
        on_curve = np.interp(volts, CASE.volts, at(6.0).before.curve)
        assert on_curve == pytest.approx(speed, rel=0.08)


def test_readings_after_the_work_lie_in_the_band_of_the_plan():
    """The plan knows nothing of them: meter and watch read a little off, the rest is its band."""
    tools, planned = CASE.sheet.instruments, at(6.0).planned
    for run in CASE.sheet.measured_after.runs:
        if run.pull.value:
            continue
        volts, time = run.voltage.value, run.time.value
        speed = run.distance.value / time * CASE.sheet.locomotive.scale
        off = 1 + tools.stopwatch.value / time
        meter = 1 + tools.meter.value
        low = np.interp(volts / meter, CASE.volts, planned.low)
        high = np.interp(volts * meter, CASE.volts, planned.high)
        assert low <= speed * off and speed / off <= high


def test_the_sentence_says_what_stands_and_what_slips():
    panel = rebuild.show()
    panel.set("voltage", 1.0)
    assert "stands still" in panel.words
    panel.set("pull", panel.controls["pull"].high)
    assert "slip" in panel.words


@pytest.mark.parametrize("volts", [6, 12, 16.8, 24])
def test_the_throttle_ends_where_a_strong_pack_on_this_supply_does(volts):
    changes = {"supply.voltage": f"{volts} V", "measured_before": {}, "measured_after": None}
    panel = rebuild.show(sheet.demo().with_values(changes))
    slider = panel.controls["voltage"]
    assert slider.start == volts and 1.2 * volts <= slider.high < 1.2 * volts + 1
    picture = panel.picture(panel.look, panel.setting, 1.0)
    assert picture.field.get_xlim() == (0, slider.high)


def test_drivers_that_slip_go_nowhere_on_the_picture_too():
    panel = rebuild.show()
    panel.set("pull", panel.controls["pull"].high)
    assert panel.state.before.slips and panel.state.planned.slips
    assert panel.state.before.speed.value == panel.state.planned.coast.value == 0
    picture = panel.picture(panel.look, panel.setting, 1.0)
    picture.frame(panel.state)
    assert all(words.text.text == "" for words in picture.speeds.values())
    assert all("slip" in words.text.text for _, words, _ in picture.tracks.values())


def test_a_long_coast_stays_on_the_track_and_a_fast_engine_in_the_field():
    for name in ("1:22.5 on 24 V", "24 V and 75 mph"):
        panel = rebuild.show(strange(name))
        panel.set("voltage", panel.controls["voltage"].high)
        picture = panel.picture(panel.look, panel.setting, 1.0)
        picture.frame(panel.state)
        length = strange(name).data.locomotive.length.value
        for one in (panel.state.before, panel.state.planned):
            assert one.coast.value / length <= picture.reach
            assert 3.6 * one.speed.value <= picture.top


def test_what_was_never_measured_has_a_wide_band_and_no_rings():
    engine = strange("worm straight on the axle gear, nothing measured")
    panel = rebuild.show(engine)
    loose, known = panel.state.before.speed, rebuild.show().state.before.speed
    assert loose.high - loose.low > 0.5 * loose.value > 5 * (known.high - known.low) / 2
    assert loose.say("metric") in panel.words
    assert not len(panel.setting.readings(engine.data.measured_before))


@pytest.mark.parametrize("voltage", [3.5, 5.0, 9.0, 12.0, 14.5])
def test_speeds_stand_clear_of_their_own_curves(voltage):
    panel = rebuild.show()
    panel.set("voltage", voltage)
    picture = panel.picture(panel.look, panel.setting, 1.0)
    picture.frame(panel.state)
    volts = np.linspace(*picture.field.get_xlim(), 3000)
    for name, one in (("before", panel.state.before), ("after", panel.state.planned)):
        speeds = 3.6 * np.interp(volts, panel.setting.volts, one.curve)
        points = picture.field.transData.transform(np.column_stack([volts, speeds]))
        box = picture.speeds[name].text.box(picture.figure.canvas.get_renderer())
        assert not box.count_contains(points), name
