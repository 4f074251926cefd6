"""Every number that the bench sheet answers has its band and where it comes from; a plan is a difference."""

import re
import tomllib
import warnings
from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest
import tomlkit

from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.constants.motors import motor_constants
from mechkit.drive.decisions.proof import checks
from mechkit.drive.decisions.rebuild import headlines, rebuild
from mechkit.drive.model.spread import MOST_SOURCES, Spread
from mechkit.drive.sheet.schema import Measured


@pytest.fixture(scope="module")
def job():
    return rebuild(sheet.demo().data)


def test_every_headline_has_a_band_and_its_inputs_ranked(job):
    for line in job.headlines:
        for band in (line.before, line.planned, *([line.after] if line.after else [])):
            assert band.low < band.value < band.high, line.key
            shares = [share for _, share in band.sources]
            assert 1 <= len(shares) <= MOST_SOURCES, line.key
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


def test_a_start_is_known_as_well_as_its_breakaways():
    """One is good to 3 %, two to 3 % over the root of two, and equal ones are no proof of more."""
    for starts in (["2.7 V"], ["2.7 V", "2.7 V"]):
        known = known_with({"measured_before.starting_voltage": starts})
        volts = np.log((known.before.starting_voltage * known.numbers.volts)[1:])
        assert np.std(volts) == pytest.approx(0.03 / len(starts) ** 0.5, rel=0.15)


def test_a_start_is_read_both_ways_and_both_count():
    """Friction at rest is as the mean of the two, so it moves by half of what one of them does."""
    plain = known_with({})
    forward, backward = plain.sheet.measured_before.starting_voltage
    mean = (forward.value + backward.value) / 2
    more = known_with({"measured_before.starting_voltage[2]": f"{backward.value + 0.05 * mean} V"})
    ratio = more.before.starting_friction[0] / plain.before.starting_friction[0]
    assert ratio == pytest.approx(1.025, abs=0.003)
    assert {"starts, forward", "starts, backward"} <= {one.words for one in checks(plain)}


@pytest.fixture(scope="module")
def constants(job):
    """Constants of a motor alone on the bench, by a meter without common errors."""
    numbers = job.known.numbers
    meter = replace(numbers, volts=1.0, amps=1.0, ohms=1.0, warmth=0.5, magnet=0.6e-3)
    return lambda table: motor_constants(table, meter, 12.0, Spread(), "motor")


def test_armature_positions_that_differ_widen_the_resistance(constants):
    """Each is good to 2 %, its brushes on their bars; what scatters by ten is not."""
    table = sheet.demo().data.as_is.motor.model_copy(update={"stall": None})
    far = sheet.demo().with_value(
        "as_is.motor.resistance", ["14.6 ohm", "11.4 ohm", "14.4 ohm", "11.6 ohm"]
    )
    wide = far.data.as_is.motor.model_copy(update={"stall": None})
    draws = [constants(one).resistance for one in (table, wide)]
    assert [drawn[0] for drawn in draws] == pytest.approx([13.0, 13.0])
    scatter = [np.std(np.log(drawn[1:])) for drawn in draws]
    assert scatter[0] == pytest.approx(0.02 / 2, rel=0.05)
    assert scatter[1] > 3 * scatter[0]


def test_a_motor_in_deep_doubt_has_wide_bands_and_is_not_refused(constants):
    doubt = {"as_is.motor.resistance": ["13 ohm +/- 150 %"], "as_is.motor.stall": None,
             "as_is.motor.no_load.current": "0.5 A +/- 150 %"}  # fmt: skip
    table = sheet.demo().with_values(doubt).data.as_is.motor
    found = constants(table)
    for number in (found.resistance, found.torque_constant, found.friction_torque):
        assert np.all(number > 0) and np.all(np.isfinite(number))


# -- few readings -----------------------------------------------------------------------------

DATA = sheet.demo().data
LAP = DATA.measured_before.runs[4].model_copy(update={"current": None})
EVENINGS = {
    "nothing on the track": {},
    "one starting voltage": {"starting_voltage": DATA.measured_before.starting_voltage[:1]},
    "one lap by the watch": {"runs": [LAP]},
    "a pull at slip": {"drawbar_pull": DATA.measured_before.drawbar_pull},
    "one coast": {"coasts": DATA.measured_before.coasts[:1]},
    "everything": dict(DATA.measured_before),
}


@pytest.fixture(scope="module")
def evenings():
    """The headlines as it is by what was read on one evening."""
    found = {}
    for name, read in EVENINGS.items():
        short = DATA.model_copy(
            update={"measured_before": Measured(**read), "measured_after": Measured()}
        )
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            found[name] = {
                line.key: line.before for line in headlines(Knowledge(short, Spread(draws=400)))
            }
    return found


@pytest.mark.parametrize("name", EVENINGS)
def test_few_readings_give_wide_bands_and_no_refusal(evenings, name):
    """From the motor alone to a whole evening; a whole evening's number lies in each band."""
    for key, band in evenings[name].items():
        best = evenings["everything"][key]
        assert np.isfinite([band.low, band.value, band.high]).all(), key
        assert band.low <= best.high and best.low <= band.high, key
        # where nothing bears on it a band is as wide as before, but for the luck of the draws
        assert band.high - band.low > 0.85 * (best.high - best.low), key


@pytest.mark.parametrize(
    ("name", "key", "share"),
    [
        ("one starting voltage", "start", 0.2),
        ("one lap by the watch", "top", 0.12),
        ("a pull at slip", "pull", 0.25),
        ("one coast", "coast", 0.6),
    ],
)
def test_what_was_read_is_told_and_stays_near_its_reading(evenings, name, key, share):
    """A stop-watch is not overruled, nor is any other single reading."""
    band, blind = evenings[name][key], evenings["nothing on the track"][key]
    assert band.high - band.low < share * band.value
    assert band.high - band.low < 0.75 * (blind.high - blind.low)
    assert band.low < evenings["everything"][key].value < band.high


# -- a plan is a difference -------------------------------------------------------------------

#: The same size in another unit.
UNITS = {"mm": ("cm", ".1"), "in": ("mm", "25.4"), "V": ("mV", "1000"), "mA": ("A", ".001"),
         "ohm": ("kohm", ".001")}  # fmt: skip


def otherwise(value):
    """The same tables, every quantity that can be written in another unit."""
    if isinstance(value, dict):
        return {key: otherwise(each) for key, each in value.items()}
    if isinstance(value, list):
        return [otherwise(each) for each in value]
    if not isinstance(value, str) or not value[0].isdigit() or "/" in value.replace("+/-", ""):
        return value
    body, unit = value.rsplit(" ", 1)
    if unit not in UNITS:
        return value
    other, times = UNITS[unit]
    return (
        re.sub(r"\d[\d.]*", lambda m: f"{Decimal(m.group()) * Decimal(times)}", body) + f" {other}"
    )


def of_nothing(tmp_path, rewrite, changes=()):
    """A sheet whose plan is the engine as it is, after some changes to that."""
    document = tomllib.loads(sheet.demo().with_values(dict(changes)).text)
    document["planned"] = rewrite(document["as_is"])
    del document["measured_after"]  # read on the planned motor, which is gone
    path = tmp_path / "engine.toml"
    path.write_text(tomlkit.dumps(document), "utf-8")
    return sheet.load(path)


@pytest.mark.parametrize(
    "rewrite", [lambda state: state, otherwise], ids=["as it is", "other units"]
)
@pytest.mark.parametrize(
    "changes", [(), (("as_is.motor.starting_voltage", "0.6 V"),)], ids=["", "motor started alone"]
)
def test_a_plan_of_nothing_gives_every_headline_back(tmp_path, rewrite, changes):
    known = Knowledge(of_nothing(tmp_path, rewrite, changes).data, Spread(draws=400))
    for line in headlines(known):
        old, new = line.before, line.planned
        assert (new.value, new.low, new.high) == pytest.approx((old.value, old.low, old.high), rel=1e-9), line.key  # fmt: skip
        assert [name for name, _ in new.sources] == [name for name, _ in old.sources], line.key


def test_what_is_written_otherwise_is_written_otherwise():
    """The other units above are other units."""
    assert otherwise(["0.20 +/- 0.02 mm", "3/32 in", "0.0010 in", 3]) == [
        "0.020 +/- 0.002 cm", "3/32 in", "0.02540 mm", 3,
    ]  # fmt: skip


WHEEL = {"material": "brass", "outside_diameter": "16 mm", "width": "12 mm", "bore": "2 mm",
         "off_center": "0.006 mm", "bearing_span": "21 mm", "overhang": "9 mm"}  # fmt: skip
COASTS = {"coast", "coast shorted", "felt mass"}
RUNS = {"start", "creep", "top", "current", "friction", "stall margin", "coast"}
ALL = {"start", "creep", "top", "current", "friction", "efficiency", "coast", "coast shorted",
       "felt mass", "pull", "stall margin"}  # fmt: skip


@pytest.mark.parametrize(
    ("change", "moves", "may_move"),
    [
        ({"flywheel": WHEEL}, COASTS, set()),
        ({"motor": "planned"}, RUNS | {"felt mass"}, {"coast shorted"}),
        ({"alignment": {"offset": "0.01 mm", "span": "20 mm"}}, RUNS, {"coast shorted"}),
        ({"mesh.lubrication": "greased"}, RUNS | {"efficiency"}, {"coast shorted"}),
        ({"gears[1]": {"teeth": 36, "outside_diameter": "15.2 mm"}}, ALL - {"pull"}, set()),
        ({"worm.thrust_bearing": "ball"}, RUNS | {"efficiency"}, {"coast shorted"}),
    ],
    ids=["flywheel", "motor", "alignment", "grease", "gears", "thrust bearing"],
)  # fmt: skip
def test_one_change_moves_what_it_should_and_nothing_else(tmp_path, change, moves, may_move):
    planned = of_nothing(tmp_path, lambda state: state | changed(state, change))
    for line in headlines(Knowledge(planned.data, Spread(draws=400))):
        old, new = line.before, line.planned
        same = (new.value, new.low, new.high) == pytest.approx(
            (old.value, old.low, old.high), rel=1e-9
        )
        if line.key in moves:
            assert not same, line.key
        elif line.key not in may_move:
            assert same, line.key


def changed(state, change):
    """The tables of a state that a change touches."""
    (key, value), document = next(iter(change.items())), tomllib.loads(sheet.demo().text)
    if value == "planned":
        return {key: document["planned"][key]}
    if key.startswith("gears"):
        return {"gears": [state["gears"][0], state["gears"][1] | value]}
    table, _, inner = key.partition(".")
    return {table: state[table] | {inner: value}} if inner else {key: value}


@pytest.mark.parametrize(
    ("change", "key", "way"),
    [
        ({"flywheel": WHEEL}, "coast", 1),
        ({"alignment": {"offset": "0.01 mm", "span": "20 mm"}}, "friction", -1),
        ({"mesh.lubrication": "greased"}, "efficiency", 1),
        ({"worm.thrust_bearing": "ball"}, "efficiency", 1),
        ({"gears[1]": {"teeth": 36, "outside_diameter": "15.2 mm"}}, "top", -1),
        ({"gears[1]": {"teeth": 36, "outside_diameter": "15.2 mm"}}, "felt mass", 1),
    ],
)
def test_one_change_moves_it_the_right_way(tmp_path, change, key, way):
    planned = of_nothing(tmp_path, lambda state: state | changed(state, change))
    line = {one.key: one for one in headlines(Knowledge(planned.data, Spread(draws=400)))}[key]
    assert way * (line.planned.value - line.before.value) > 0


def test_no_part_can_cost_more_than_was_measured(tmp_path):
    """However crooked the old motor stood, what is left after straightening is no less than the
    motor and the train: friction stays above nothing in every draw."""
    wild = of_nothing(
        tmp_path,
        lambda state: state | {"alignment": {"offset": "0.0 mm", "span": "20 mm"}},
        {"as_is.alignment.offset": "0.5 mm"}.items(),
    )
    known = Knowledge(wild.data, Spread())
    motor = known.planned.motor.friction_torque
    assert np.all(known.planned.running_friction > motor)
    assert np.all(known.planned.starting_friction >= known.planned.running_friction)
    assert np.all(known.planned.running_friction <= known.before.running_friction)
