"""Coasts timed or filmed reach the fit and the proof."""

import numpy as np
import pytest

from mechkit.drive import readings, sheet
from mechkit.drive.knowledge import Knowledge
from mechkit.drive.proof import checks
from mechkit.drive.spread import Spread

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
