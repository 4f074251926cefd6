"""Every number that the bench sheet answers has its band and where it comes from; odd readings count."""

import numpy as np
import pytest
from mechkit.drive.constants.calibrate import motor_constants

from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions.proof import checks
from mechkit.drive.decisions.rebuild import rebuild
from mechkit.drive.model.spread import MOST_SOURCES, Spread


@pytest.fixture(scope="module")
def job():
    return rebuild(sheet.demo().data)


def test_every_headline_has_a_band_and_its_inputs_ranked(job):
    for line in job.headlines:
        for band in (line.before, line.planned, *([line.after] if line.after else [])):
            assert band.low < band.value < band.high, line.key
            shares = [share for _, share in band.sources]
            if not shares:  # read outright: the spring scale is all that its band comes from
                assert line.key == "pull" and band is not line.planned
                assert band.high - band.low == pytest.approx(2 * 0.02)
                continue
            assert len(shares) <= MOST_SOURCES, line.key
            assert shares == sorted(shares, reverse=True), line.key
            assert 0.1 < sum(shares) < 1.05, line.key
            assert all(name in job.known.spread.drawn for name, _ in band.sources), line.key


def known_with(changes):
    return Knowledge(sheet.demo().with_values(changes).data, Spread(draws=400))


@pytest.mark.parametrize(
    ("key", "words", "spread"),
    [
        ("runs[2].current", "current", "20 %"),
        ("runs[2].time", "speed", "20 %"),
        ("runs[2].distance", "speed", "20 %"),
        ("coasts[1].distance", "rolls on, rails open,", "40 %"),
    ],
)
def test_a_spread_behind_a_reading_of_the_proof_counts(key, words, spread):
    """The reading may lie that much wider beside what was promised."""
    where, _, field = key.partition("[")
    number, _, field = field.partition("].")
    read = getattr(getattr(sheet.demo().data.measured_after, where)[int(number) - 1], field)
    known = known_with({f"measured_after.{key}": f"{read.text} +/- {spread}"})
    share = float(spread.split()[0]) / 100
    wide = [
        one.measured
        for one in checks(known)
        if one.words == words and one.measured.high / one.measured.value - 1 > 0.9 * share
    ]
    assert len(wide) == 1


def test_a_single_start_is_known_as_well_as_one_breakaway():
    known = known_with({"measured_before.starting_voltage": ["2.7 V"]})
    assert known.before.starting_friction[0] > 0  # asked first: it draws the voltage
    draws = known.spread.drawn["before starting voltage"]
    assert np.std(draws[1:]) / 2.7 == pytest.approx(0.03, rel=0.15)


def test_a_start_is_read_both_ways_and_both_count():
    """Friction at rest is as the mean of the two, so it moves by half of what one of them does."""
    plain = known_with({})
    forward, backward = plain.sheet.measured_before.starting_voltage
    mean = (forward.value + backward.value) / 2
    more = known_with({"measured_before.starting_voltage[2]": f"{backward.value + 0.2 * mean} V"})
    ratio = more.before.starting_friction[0] / plain.before.starting_friction[0]
    assert ratio == pytest.approx(1.1, rel=1e-6)
    bands = [np.ptp(np.percentile(one.before.starting_friction[1:], [2.5, 97.5])) for one in (plain, more)]  # fmt: skip
    assert bands[1] > 1.5 * bands[0]
    assert {"starts, forward", "starts, backward"} <= {one.words for one in checks(plain)}


def test_armature_positions_that_differ_widen_the_resistance():
    """By hand: the mean's standard error is the scatter over the root of their number."""
    table = sheet.demo().data.as_is.motor.model_copy(update={"stall": None})
    far = sheet.demo().with_value(
        "as_is.motor.resistance", ["14.6 ohm", "11.4 ohm", "14.4 ohm", "11.6 ohm"]
    )
    wide = far.data.as_is.motor.model_copy(update={"stall": None})
    draws = [motor_constants(one, 1e-6, Spread(), "motor").resistance for one in (table, wide)]
    assert draws[0][0] == pytest.approx(13.0) and draws[1][0] == pytest.approx(13.0)
    for drawn, readings in zip(draws, ((13.2, 12.8, 13.1, 12.9), (14.6, 11.4, 14.4, 11.6)), strict=True):  # fmt: skip
        expected = np.std(readings, ddof=1) / 2
        assert np.std(drawn[1:]) == pytest.approx(expected, rel=0.05)
