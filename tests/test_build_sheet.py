"""The build sheet: whole, self-contained, complete, honest; and written so that nothing is lost."""

import io
import re
import stat
from pathlib import Path

import pytest

from mechkit.drive.decisions.rebuild import rebuild
from mechkit.drive.decisions.rows import ranked
from mechkit.drive.diagnosis import hand_tests
from mechkit.drive.sheet import demo, load
from mechkit.publish import build_sheet, page, place, verdict
from mechkit.units import from_shown
from tests.read_page import SYSTEMS, Page, flat

#: Parts that are not in every plan, and the proof that comes last.
BARE = {"planned.flywheel": None, "planned.adapter": None, "planned.hub": None,
        "measured_after": None}  # fmt: skip


class Built:
    """One bench sheet, built once: its file, its page, its rebuild."""

    def __init__(self, folder, changes):
        sheet = demo()
        self.source = folder / "engine.toml"
        text = (sheet.with_values(changes) if changes else sheet).text
        self.source.write_text(text, "utf-8", newline="")
        self.sheet = load(self.source)
        self.file = build_sheet.write(self.sheet)
        self.raw = self.file.read_text("utf-8")
        self.page = Page(self.raw)
        self.done = rebuild(self.sheet.data)


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    return Built(tmp_path_factory.mktemp("demo"), {})


@pytest.fixture(scope="module")
def bare(tmp_path_factory):
    return Built(tmp_path_factory.mktemp("bare"), BARE)


@pytest.fixture(scope="module")
def too_big(tmp_path_factory):
    changes = {"planned.motor.body_diameter": "22 mm", "instruments.micrometer": None,
               "instruments.caliper": "0.05 mm"}  # fmt: skip
    return Built(tmp_path_factory.mktemp("big"), changes)


@pytest.fixture(params=["built", "bare", "too_big"])
def any_sheet(request):
    return request.getfixturevalue(request.param)


# -- the page ---------------------------------------------------------------------------


def test_it_lies_beside_the_bench_sheet(built):
    assert built.file == built.source.with_name("engine-build.html")
    assert stat.S_IMODE(built.file.stat().st_mode) & 0o044  # others may read it


def test_it_is_well_formed_and_ids_are_its_own(any_sheet):
    ids = any_sheet.page.ids
    assert len(ids) == len(set(ids))
    within = {link[1:] for link in any_sheet.page.links if link.startswith("#")}
    assert within <= set(ids)


def test_it_needs_nothing_from_anywhere(any_sheet):
    assert "http" not in any_sheet.raw and "//www" not in any_sheet.raw
    assert not any_sheet.page.tags & {"script", "link", "img", "iframe", "object", "base"}
    assert all(link.startswith("#") for link in any_sheet.page.links)
    for target in re.findall(r"url\(([^)]*)\)", any_sheet.raw):
        assert target.startswith(("#", "data:font/woff2;base64,"))
    fonts = re.findall(r"base64,([A-Za-z0-9+/=]+)", any_sheet.raw)
    assert len(fonts) == 2 and sum(map(len, fonts)) < 120_000


def test_a_notebook_beside_the_page_is_linked(tmp_path, built):
    (tmp_path / "gears.ipynb").touch()
    row = page.row(built.done, built.done.decision("hop"), tmp_path / "x.html")
    assert row.notebook == '<a href="gears.ipynb">gears.ipynb</a>'


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_question_is_there_with_finding_and_action(any_sheet, system):
    text = any_sheet.page.text(system)
    for one in (*any_sheet.done.faults, *any_sheet.done.decisions):
        assert flat(one.question) in text
        for sentence in (one.words(system), one.todo(system), one.reason):
            assert flat(sentence)[1:] in text, one.key
        assert one.notebook + ".ipynb" in text


@pytest.mark.parametrize("system", SYSTEMS)
def test_what_the_readings_tell_and_what_to_measure_better_is_there(any_sheet, system):
    text = any_sheet.page.text(system)
    assert any_sheet.done.told[0].when == "before"
    for one in any_sheet.done.told:
        for line in one.lines:
            assert flat(line.words) in text and flat(line.band.say(system)) in text
        assert one.remarks()
        assert all(flat(words) in text for words in one.remarks())
    for line in any_sheet.done.headlines:
        assert flat(ranked(line.planned)) in text


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_number_is_there_before_planned_and_measured(any_sheet, system):
    text = any_sheet.page.text(system)
    for line in any_sheet.done.headlines:
        bands = [line.before, line.planned, *([line.after] if line.after else [])]
        assert flat(line.words) in text
        for band in bands:
            assert flat(band.say(system)) in text
    for check in any_sheet.done.proof:
        assert flat(check.say(system)) in text


def test_both_systems_are_complete(any_sheet):
    metric, inch = (any_sheet.page.text(system) for system in SYSTEMS)
    assert " mm" in metric and " in" in inch and "thou" in inch and "thou " not in metric
    assert " mph" in inch and " mph" not in metric
    for system in SYSTEMS:
        assert any_sheet.raw.count(f'<div class="{system}"><svg') == 1 + len(any_sheet.done.parts)
    spans = [any_sheet.raw.count(f'<span class="{system}">') for system in SYSTEMS]
    assert spans[0] == spans[1] > 40


def test_verdicts_are_words_and_shapes_beside_color(any_sheet):
    signs = re.findall(
        r'<span class="sign (\w+)"><svg[^>]*><use href="#sign-(\w+)"/></svg>\s*([\w ]+)',
        any_sheet.raw,
    )
    assert len(signs) >= len(any_sheet.done.faults) + len(any_sheet.done.decisions)
    assert all(kind == shape and word.strip() for kind, shape, word in signs)
    shapes = re.findall(r'<symbol id="sign-\w+".*?</symbol>', any_sheet.raw)
    assert len({re.sub(r'id="[^"]*"', "", shape) for shape in shapes}) == 4


def test_a_band_names_the_input_it_mostly_comes_from(built):
    wide = [one.unsure for one in built.done.decisions if page.source(one.unsure)]
    assert len(wide) > 8
    text = built.page.text("metric")
    for band in wide:
        assert band.source in page.source(band)
        assert flat(page.source(band))[1:] in text


@pytest.mark.parametrize("system", SYSTEMS)
def test_no_tolerance_on_the_page_is_finer_than_the_bench_holds(any_sheet, system):
    tools = any_sheet.sheet.data.instruments
    gauges = [tool.value for tool in (tools.caliper, tools.micrometer) if tool]
    finest = max(min(gauges), tools.lathe.value)
    found = re.findall(r"(?:mm|in) ±(\d+\.\d+)", any_sheet.page.text(system))
    assert bool(found) == bool(any_sheet.done.parts)
    for number in found:
        assert from_shown(float(number), "length", system) >= finest - 1e-9


def test_cautions_stand_where_the_work_is(built):
    text = built.page.text("metric")
    for words in ("eye protection", "loose sleeves", "outside the boiler", "fumes",
                  "holds lead", "magnets are strong", "stalled motor", "hangs on the mains",
                  "licensed electrician", "maker's sheet", "local rules"):  # fmt: skip
        assert words in text, words
    turn = text.index("Parts to turn")
    assert turn < text.index("loose sleeves") < text.index("What to buy")
    assert (
        text.index("Bond the flywheel")
        < text.index("outside the boiler")
        < text.index("Set the mesh")
    )


def test_what_the_readings_point_at_is_settled_by_hand_first(built):
    text = built.page.text("metric")
    wrong = text.index("What is wrong")
    assert wrong < text.index("Find it by hand first") < text.index("What to change")
    for cause in hand_tests.suspects(
        one.key for one in built.done.faults if one.verdict == "wrong"
    ):
        assert cause.words in text and cause.remedy in text
        for test, answer in hand_tests.course(cause.key):
            assert test.ask in text and answer in text


def test_a_pressed_sleeve_brings_its_own_caution(built):
    assert built.page.text("metric").count("crack and fly") == 1  # of the gear on its knurl
    changes = {"planned.adapter.hold": "press", "planned.seat.hold": "bush"}
    pressed = rebuild(demo().with_values(changes).data)
    drawn = {
        "elevation": page.Figure("", ""),
        **{part.name: page.Figure("", "") for part in pressed.parts},
    }
    raw = page.render(built.sheet, pressed, drawn, built.source.parent / "x.html")
    fitted, set_ = raw.index("Fit sleeve and worm"), raw.index("Set the mesh")
    assert "crack and fly" in raw[fitted:set_]


def test_invented_is_said_only_where_it_is(built, tmp_path):
    assert "made up to show the work" in built.page.text("metric")
    text = re.sub("(?i)invented", "measured", built.sheet.text)
    (tmp_path / "own.toml").write_text(text, "utf-8")
    own = load(tmp_path / "own.toml")
    drawn = {
        "elevation": page.Figure("", ""),
        **{p.name: page.Figure("", "") for p in built.done.parts},
    }
    assert "made up" not in page.render(own, built.done, drawn, tmp_path / "x.html")


def test_text_from_the_sheet_is_text(tmp_path, built):
    sheet = demo().with_value("title", "<script>alert(1)</script> & Sons")
    drawn = {
        "elevation": page.Figure("", ""),
        **{p.name: page.Figure("", "") for p in built.done.parts},
    }
    raw = page.render(sheet, built.done, drawn, tmp_path / "x.html")
    assert "<script" not in raw and "&lt;script&gt;alert(1)&lt;/script&gt; &amp; Sons" in raw


# -- the verdict ------------------------------------------------------------------------


def test_the_verdict_is_three_sentences_of_computed_numbers(built):
    text = built.page.text("metric")
    fast = built.done.decision("fast").value.plain("metric")
    assert f"As it is, the engine runs too fast ({fast})" in "".join(built.page.words["metric"])
    assert "The iron core motor gives way to an ironless one" in text
    assert "acetal on steel runs where brass on brass ran" in text
    good = sum(check.agrees for check in built.done.proof)
    assert f"of {len(built.done.proof)} readings taken after the work {good} lie" in text
    for sentence in (verdict.what_is_wrong, verdict.what_changes, verdict.what_it_gains):
        said = sentence(built.done, "inch")
        assert said.endswith(".") and len(re.findall(r"[a-z)]\. [A-Z]", said)) == 0


def test_without_flywheel_sleeve_or_proof_nothing_is_pretended(bare):
    text = bare.page.text("metric")
    assert "Parts to turn" not in text and "Bond the flywheel" not in text
    assert "Reading by reading" not in text and "computed and not yet measured" in text
    assert [one.when for one in bare.done.told] == ["before"]
    assert all(line.after is None for line in bare.done.headlines)
    assert not re.search(r"(?<!\d)0 go", text)


def test_a_motor_too_big_is_no_go_on_top_of_the_page(too_big):
    broken = verdict.in_plan(too_big.done, "wrong")
    assert "axle" in [one.key for one in broken]
    head = too_big.page.text("metric").split("Before, planned, measured")[0]
    assert "no go" in head and too_big.done.decision("axle").question in head
    assert "match to the part" in too_big.page.text("inch")


def test_what_was_not_chosen_is_not_a_fault(built):
    assert built.done.decision("press").verdict == "wrong"
    assert "not taken" in built.page.text("metric")
    assert verdict.in_plan(built.done, "wrong") == []


# -- the command ------------------------------------------------------------------------


@pytest.fixture
def quick(monkeypatch, built):
    """The command without its long computation: the demo's, ready made."""
    monkeypatch.setattr(build_sheet, "rebuild", lambda data, progress: built.done)
    drawn = page.Figure("drawn", "")
    names = ["elevation", *(part.name for part in built.done.parts)]
    monkeypatch.setattr(page, "figures", lambda done: [(name, lambda: drawn) for name in names])
    return built.source


def test_it_says_what_it_did_where_it_lies_and_how_long(quick, tmp_path, capsys):
    out = tmp_path / "out.html"
    assert build_sheet.main(quick, out) == 0
    said = capsys.readouterr()
    last = said.out.splitlines()[-1]
    assert str(out) in last and re.search(r"\d+ checks of the plan", last)
    assert re.search(r"\d s\)$", last)
    assert said.err == "" and "\r" not in said.out


def test_on_a_terminal_one_line_moves(quick, tmp_path, monkeypatch):
    class Terminal(io.StringIO):
        def isatty(self):
            return True

    terminal = Terminal()
    monkeypatch.setattr("sys.stdout", terminal)
    assert build_sheet.main(quick, tmp_path / "out.html") == 0
    text = terminal.getvalue()
    assert text.count("\n") == 1 and text.endswith("s)\n")
    assert text.count("\r\x1b[K") >= 4


@pytest.mark.parametrize(
    ("text", "lines"),
    [("", 1), ("title = 3\n", 3), ("scale = 64 = 65\n", 1), ("[measured_before]\n", 2)],
    ids=["empty", "wrong kind", "no TOML", "half a sheet"],
)
def test_a_bad_sheet_is_a_line_a_mistake_and_exit_1(tmp_path, capsys, text, lines):
    (tmp_path / "bad.toml").write_text(text)
    assert build_sheet.main(tmp_path / "bad.toml") == 1
    said = capsys.readouterr()
    assert len(said.err.splitlines()) == said.err.count("bad.toml") == lines
    assert "Traceback" not in said.err
    assert list(tmp_path.iterdir()) == [tmp_path / "bad.toml"]


def test_a_reading_that_was_not_taken_is_said_and_asked_for(tmp_path, capsys):
    few = Built(tmp_path, {"measured_before.starting_voltage": None, "measured_after": None})
    text = few.page.text("metric")
    assert "No reading tells the voltage that starts it." in text
    assert "the lowest voltage that starts it, both ways" in text
    start = few.done.headline("start").before
    assert start.high > 2 * start.low and flat(start.say("metric")) in text


def test_an_older_build_sheet_is_replaced_and_nothing_else(quick, tmp_path, capsys):
    out = tmp_path / "out.html"
    out.write_text(f"<!doctype html>\n{page.MARK}\nold")
    assert build_sheet.main(quick, out) == 0
    assert "old" not in out.read_text("utf-8")[:200]
    letter = tmp_path / "letter.html"
    letter.write_text("<p>Dear club,")
    capsys.readouterr()
    assert build_sheet.main(quick, letter) == 1
    assert "not a build sheet" in capsys.readouterr().err
    assert letter.read_text() == "<p>Dear club,"


@pytest.mark.parametrize("place", [".", "missing/out.html"])
def test_a_place_that_is_no_file_is_refused_before_the_work(quick, tmp_path, capsys, place):
    assert build_sheet.main(quick, tmp_path / place) == 1
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_a_sheet_is_never_overwritten_by_its_build_sheet(quick):
    before = quick.read_bytes()
    assert build_sheet.main(quick, quick) == 1
    assert quick.read_bytes() == before


@pytest.mark.parametrize("failing", ["fsync", "replace"])
def test_what_fails_halfway_leaves_the_old_one(quick, tmp_path, capsys, monkeypatch, failing):
    out = tmp_path / "out.html"
    out.write_text(f"<!doctype html>\n{page.MARK}\nold")

    def fail(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(*((place.os, "fsync") if failing == "fsync" else (Path, "replace")), fail)
    assert build_sheet.main(quick, out) == 1
    assert "no space left" in capsys.readouterr().err
    assert [file.name for file in tmp_path.iterdir()] == ["out.html"]
    assert out.read_text().endswith("old")
