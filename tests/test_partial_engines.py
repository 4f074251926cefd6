"""Invented engines with the first readings of the hour alone: what these answer, and how truly."""

import tomllib

import pytest
import tomlkit
from scipy import stats

from mechkit.drive.decisions.rebuild import rebuild
from mechkit.drive.sheet import hour, load
from tests.engines import drawn, partial, sheet
from tests.engines.judge import judge
from tests.engines.partial import HOUR

#: Of drawn engines the first five on which somebody read a start, a run with its current and a coast.
FIVE = (5000, 5002, 5003, 5005, 5006)
#: What the first four readings must answer.
BEGINNERS = {
    ("headline", "top"), ("wrong", "start"), ("headline", "pull"), ("answer", "skid"),
    ("answer", "next"),
}  # fmt: skip
#: A band claims 95 %; so few hits of so many come by chance once in a thousand runs.
CLAIMED, CHANCE = 0.90, 1e-3
ENGINES = {4: 16, 8: 12, 12: 8}


def page(text, path):
    """What a sheet is answered: the rebuild, and the kinds and keys of its answers."""
    path.write_text(text, "utf-8")
    done = rebuild(load(path).data)
    found = {("headline", line.key) for line in done.headlines}
    found |= {("wrong", one.key) for one in done.faults}
    found |= {("answer", "skid")} if done.skid else set()
    found |= {("answer", "next")} if hour.answers(done.sheet, "answer", "next") else set()
    return done, frozenset(found)


@pytest.fixture(scope="module")
def opened(tmp_path_factory):
    """Of five engines, what each further reading answers that was open before, and the last page."""
    path = tmp_path_factory.mktemp("hour") / "engine.toml"
    found, last = {}, {}
    for seed in FIVE:
        whole, known = sheet.sheet_text(drawn.draw(seed), seed), frozenset()
        for count, (name, _) in enumerate(HOUR[1:], 2):  # nothing is computed without a weight
            last[seed, count], answers = page(partial.text(whole, count), path)
            assert known <= answers, (seed, name)
            found[seed, name] = answers - known
            known = answers
    return found, last


def test_the_beginners_four_answer_five_questions(opened):
    opened, _ = opened
    for seed in FIVE:
        first = [opened[seed, name] for name in ("weights", "start", "run")]
        assert frozenset().union(*first) >= BEGINNERS, seed


def test_each_reading_opens_what_it_is_read_for(opened):
    """On every engine alike; ``pull`` and ``room`` sharpen, or wait for what the plan asks."""
    opens = {
        "start": {("headline", "start"), ("wrong", "start")},
        "run": {("headline", "top"), ("headline", "creep"), ("answer", "skid")},
        "amps": {("headline", "current")},
        "motor": {("headline", "friction")},
        "gears": {("headline", "efficiency"), ("headline", "felt mass"), ("wrong", "wear")},
    }
    opened, _ = opened
    for seed in FIVE:
        for name, some in opens.items():
            assert some <= opened[seed, name], (seed, name, opened[seed, name])


def test_the_hour_has_the_same_readings_on_both_sides():
    """What the invented machinist reads, in his order, is what the kit asks for in its own."""
    assert [name for name, _ in HOUR] == list(hour.steps())[: len(HOUR)]


@pytest.mark.parametrize("readings", ENGINES)
def test_bands_from_stand_ins_hold_the_truth_as_often_as_they_claim(readings):
    verdicts = [judge(seed, readings=readings) for seed in range(5000, 5000 + ENGINES[readings])]
    assert all(one.outcome.kind == "page" for one in verdicts)
    held = [band for one in verdicts for band in one.held if band.when == "before"]
    for key in {band.key for band in held}:
        some = [band.covers for band in held if band.key == key]
        assert sum(some) >= stats.binom.ppf(CHANCE, len(some), CLAIMED), (key, sum(some), len(some))


def test_the_arrangement_stands_in_for_the_weight_on_drivers(opened, tmp_path):
    for seed in FIVE:
        given = tomllib.loads(partial.text(sheet.sheet_text(drawn.draw(seed), seed), 4))
        del given["locomotive"]["weight_on_drivers"]
        assert ("headline", "pull") not in page(tomlkit.dumps(given), tmp_path / "a.toml")[1]
        given["locomotive"]["wheel_arrangement"] = "2-6-0"
        done, answers = page(tomlkit.dumps(given), tmp_path / "a.toml")
        assert answers >= BEGINNERS
        band, weighed = done.headline("pull").before, opened[1][seed, 4].headline("pull").before
        assert (
            band.high - band.low > 1.05 * (weighed.high - weighed.low) * band.value / weighed.value
        )


def test_an_open_question_says_what_it_waits_for(opened):
    _, last = opened
    with pytest.raises(LookupError, match=r"'current' is open: waits for a run at full throttle"):
        last[FIVE[0], 4].headline("current")
    with pytest.raises(LookupError, match=r"'hop' is open: .*runout by indicator"):
        last[FIVE[0], 12].decision("hop")


def test_readings_narrow_the_bands(opened):
    _, last = opened
    for seed in FIVE:
        few, more = (last[seed, count].headline("pull").before for count in (4, 8))
        assert more.high - more.low < 0.7 * (few.high - few.low), seed


def test_a_reading_is_worth_about_what_was_promised(opened):
    """The pull by spring scale: the band that it was told to leave, and the one it leaves."""
    _, last = opened
    for seed in FIVE:
        promised = {one.step.name: one for one in last[seed, 7].worth}["pull"]
        band = last[seed, 8].headline("pull").before
        half = (band.high - band.low) / 2
        assert promised.key == "pull"
        assert 0.4 * promised.with_it < half < 2.5 * promised.with_it, seed
