"""The throttle panel: both drives on the same volts."""

import numpy as np
import pytest

from mechkit.drive import sheet
from mechkit.drive.questions.rebuild import Case, throttle
from mechkit.panels import rebuild

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
    """The rings and the curves come from the same engine: within eight percent."""
    for measured, name in (("measured_before", "before"), ("measured_after", "planned")):
        one = getattr(at(6.0), name)
        for volts, speed in CASE.readings(getattr(CASE.sheet, measured)):
            assert np.interp(volts, CASE.volts, one.curve) == pytest.approx(speed, rel=0.08)


def test_the_sentence_says_what_stands_and_what_slips():
    panel = rebuild.show()
    panel.set("voltage", 1.0)
    assert "stands still" in panel.words
    panel.set("pull", panel.controls["pull"].high)
    assert "slip" in panel.words
