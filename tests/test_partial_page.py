"""The page of a sheet that says little: what it answers, what is assumed and what would open more."""

import random
import re
import tomllib
from pathlib import Path

import pytest
import tomlkit

from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import findings, rebuild
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet import SheetError, demo, hour, load
from mechkit.publish import build_sheet, page
from tests import legal
from tests.engines import drawn, sheet
from tests.test_partial_sheets import FOUR


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """What the command says of the first four readings, and the page that it writes."""
    path = tmp_path_factory.mktemp("page") / "engine.toml"
    path.write_text(tomlkit.dumps(FOUR), "utf-8")
    out = path.with_name("out.html")
    assert build_sheet.main(path, out) == 0
    return path, out.read_text("utf-8")


def words(text):
    """A page without its tags, as the metric reader sees it."""
    text = re.sub(r'<span class="inch">.*?</span>', "", text)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text)).replace("\u00a0", " ")


def test_the_command_answers_and_lists_what_is_missing(built, capsys):
    path, _ = built
    assert build_sheet.main(path) == 0
    said = capsys.readouterr().out.replace("\u00a0", " ")
    for part in (r"runs at \d+ km/h", r"starts at 3\.1 V", r"pulls \d", r"skids \d+ mm"):
        assert re.search(part, said), part
    assert re.search(r"^Next: .* would go from ±.* to ±.* with .* \(\d+ minutes\)\.$", said, re.M)
    missing, tell = said.split("What it would tell:")
    for step in ("ohms", "amps", "gears", "plays"):
        assert re.search(rf"^  {step} +\d+ minutes: ", missing, re.M), step
    assert re.search(r"^  amps \(6 minutes\): what it takes$", tell, re.M)
    assert "checks of the plan" not in said


def test_the_page_names_every_number_that_it_assumes(built):
    path, text = built
    shown = words(text)
    assert "What is assumed" in shown
    for key in load(path).data.assumed:
        if key.startswith(("track", "as_is.motor", "as_is.mesh", "supply")):
            assert key in shown, key
    assert "planned.motor" not in shown  # it inherits, and is named once
    assert "caliper, assumed" in shown


def test_the_page_leaves_out_what_it_cannot_answer(built):
    shown = words(built[1])
    for part in ("What to buy", "What to do, in order", "What to change", "Side elevation"):
        assert part not in shown, part
    assert "The plan changes nothing yet" in shown
    # whose friction it is hangs on a motor that nobody measured
    assert "Does it start late?" in shown and "mN·m" not in shown


def test_a_full_sheet_has_nothing_of_this():
    done = rebuild.rebuild(demo().data)
    assert not done.partial and not done.openings and not done.worth
    shown = words(page.render(demo(), done, legal.figures(), Path("page.html")))
    assert "What is assumed" not in shown and "Measure next" not in shown


def test_every_question_of_the_page_declares_its_readings():
    known = Knowledge(demo().data, Spread(draws=20))
    kinds = {
        kind: {key for one, key in hour.questions() if one == kind} for kind, _ in hour.questions()
    }
    assert kinds["headline"] == set(rebuild.quantities(known))
    assert kinds["wrong"] >= set(findings.asked(known))
    # the demo runs on direct current
    assert kinds["change"] == {"pulses", *rebuild.changes_asked(known)}
    for question in hour.questions().values():
        assert all(name in hour.steps() for way in question.any for name in way), question


#: What nothing is computed without; and what is read as a whole or not at all.
KEPT = {"locomotive", "scale", "weight"}
WHOLE = {"runs", "coasts", "rooms", "flywheel", "adapter", "stall", "no_load", "springs"}


def some_of(table, chance, share):
    """A sheet of which each key and table is left out with a chance of its own."""
    made = {}
    for name, value in table.items():
        if name not in KEPT and chance.random() < share:
            continue
        if name not in WHOLE and isinstance(value, dict):
            value = some_of(value, chance, share)
        elif name not in WHOLE and isinstance(value, list) and isinstance(value[0], dict):
            value = [some_of(one, chance, share) for one in value]
        made[name] = value
    return made


@pytest.mark.parametrize("seed", range(5000, 5012))
def test_whatever_is_left_out_there_is_a_page(seed, tmp_path, monkeypatch):
    """What is left may contradict itself, and then is told."""
    legal.quick(monkeypatch.setattr)
    full, chance = tomllib.loads(sheet.sheet_text(drawn.draw(seed), seed)), random.Random(seed)
    full.pop("stock", None)
    given = some_of(full, chance, chance.choice((0.05, 0.15, 0.4)))
    path = tmp_path / "engine.toml"
    path.write_text(tomlkit.dumps(given), "utf-8")
    try:
        loaded = load(path)
    except SheetError as error:
        assert all(re.search(r"does not go with|is less than|is as much as|needs it", line)
                   for line in error.each), error.each  # fmt: skip
        return
    done = legal.worked(loaded.data)
    assert done.openings
    page.render(loaded, done, legal.figures(), Path("page.html"))
