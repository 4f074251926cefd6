"""The sheets of invented engines, the hand that writes them, recordings, and the judge."""

import tomllib
from dataclasses import replace

import numpy as np
import pytest

from mechkit.drive.sheet.schema import BenchSheet
from tests.engines import drawn, recorded, sheet
from tests.engines.hand import Hand, bench_of
from tests.engines.judge import judge
from tests.engines.made import Chance
from tests.engines.parts import Engine


@pytest.fixture(scope="module")
def engines() -> list[Engine]:
    return [drawn.draw(seed) for seed in range(40)]


@pytest.fixture(scope="module")
def written(engines):
    return [sheet.write(engine, engine.seed) for engine in engines]


def test_a_seed_gives_one_sheet(engines, written):
    for seed in (0, 17, 39):
        assert sheet.sheet_text(engines[seed], seed) == written[seed].text
    assert sheet.sheet_text(engines[0], 1) != written[0].text


def test_sheets_parse_under_the_schema(written):
    for one in written:
        BenchSheet.model_validate(tomllib.loads(one.text))


def test_who_plans_nothing_copies_his_tables(engines, written):
    copies = [
        tomllib.loads(one.text)
        for engine, one in zip(engines, written, strict=False)
        if engine.before is engine.after
    ]
    assert copies
    for data in copies:
        assert data["planned"] == data["as_is"]


def test_benches_are_good_and_sloppy(engines, written):
    data = [tomllib.loads(one.text) for one in written]
    starts = [d["measured_before"].get("starting_voltage", []) for d in data]
    assert any(len(s) == 1 for s in starts) and any(len(s) > 2 for s in starts)
    assert any(len(s) == 2 and s[0] == s[1] for s in starts)
    assert {bool(d.get("measured_after")) for d in data} == {True, False}
    runs = [d["measured_before"].get("runs", []) for d in data]
    assert min(map(len, runs)) < 4 < max(map(len, runs))
    assert any("current" not in run for many in runs for run in many)
    assert len({one.bench.meter for one in written}) >= 3
    assert {one.bench.kind for one in written} == {"careful", "ordinary", "sloppy"}
    assert any("+/-" in d["locomotive"]["driver_diameter"] for d in data)


def hand(seed=1, **changes) -> Hand:
    bench = bench_of(Chance(seed), "metric", 0.6, 0.2, 0.4)
    return Hand(Chance(seed, 1), replace(bench, **changes))


def number(text: str) -> float:
    return float(text.strip('"').split()[0])


def test_an_instrument_is_off_by_its_word_in_five_of_a_hundred():
    mine = hand(caliper=0.2e-3)
    read = np.array([number(mine.length(0.1, inch=False)) for _ in range(2000)])
    # Two standard deviations, and half of the last digit, a tenth.
    assert read.std() == pytest.approx(np.hypot(0.1, 0.1 / np.sqrt(12)), rel=0.06)
    assert read.mean() == pytest.approx(100, abs=0.01)
    gains = [bench_of(Chance(n), "metric", 0.6, 0.2, 0.4) for n in range(2000)]
    within = [abs(b.volts_gain - 1) <= b.meter for b in gains]
    assert np.mean(within) == pytest.approx(0.954, abs=0.02)


def test_the_meter_is_off_alike_all_evening():
    mine = hand(volts_gain=1.03, amps_gain=0.96, volts_digit=1e-4, amps_digit=1e-7)
    assert [number(mine.volts(volts)) / volts for volts in (2.0, 12.0)] == pytest.approx([1.03] * 2)
    assert [number(mine.amps(a)) / a / 1e3 for a in (0.02, 0.3)] == pytest.approx([0.96] * 2)


# -- recordings and the judge -----------------------------------------------------------


def test_a_recording_swings_with_its_faulty_shaft(engines):
    found = set()
    for engine in engines[:12]:
        text, bad = recorded.record(engine, engine.seed, "axle speed")
        found.add(bad)
        if bad != "axle" or len(found) > 3:
            continue
        time, value = np.loadtxt(text.splitlines()[1:], delimiter=",").T
        turns = np.cumsum(value) * (time[1] - time[0]) / 60
        level = value / value.mean() - 1
        line = abs(2 * np.mean(level * np.exp(-2j * np.pi * turns)))
        beside = abs(2 * np.mean(level * np.exp(-2j * np.pi * 1.47 * turns)))
        assert line > 3 * beside
    assert {"none", "axle"} <= found


def test_the_judge_has_no_error_of_his_own():
    """Perfect readings of engines that hide nothing: what the kit fits must be what was put in.

    The pull is read to a few percent only, so what is thought of adhesion beforehand counts: it
    lies in the middle third of its band.
    """
    held = [
        one
        for seed in (3, 6, 22)
        for one in judge(seed, frozenset({"plain", "perfect"})).held
        if one.when == "before" and one.key in {"start", "top", "current", "friction", "pull"}
    ]
    assert len(held) >= 10
    for one in held:
        near = (one.high - one.low) / 6 if one.key == "pull" else 6e-3 * one.true
        assert abs(one.value - one.true) < near, one


def test_the_judge_says_what_came():
    verdict = judge(3)
    assert verdict.outcome.kind in {"page", "line", "traceback"}
    assert verdict.facts["scale"] == 45
