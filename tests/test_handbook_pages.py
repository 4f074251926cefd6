"""The handbook as pages: complete, offline, searched as one asks at the bench, nothing overwritten."""

import re
from pathlib import Path

import pytest

from mechkit import derivations
from mechkit.publish import entries, handbook
from mechkit.publish.place import OutputError
from tests import browser

#: Two chapters, one of them without pages of its own.
SOME = ("scale", "fits")
#: What is asked at the bench, and the formula that must come first.
ASKED = {
    "how deep do I press?": "fits.html#interference_pressure",
    "how big a flywheel": "flywheel.html#inertia_to_coast",
    "why does it hop": "runout.html#binding_runout",
    "unknown gear": "gears.html#identify",
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    place = tmp_path_factory.mktemp("pages") / "handbook"
    handbook.write(place, topics=SOME)
    return place


@pytest.fixture(scope="module")
def page():
    with browser.window() as page:
        yield page


def text_of(folder, name):
    return (folder / f"{name}.html").read_text("utf-8")


def test_every_formula_of_a_chapter_stands_on_its_page(folder):
    for topic in SOME:
        page = text_of(folder, topic)
        for name in derivations.public_functions(topic):
            assert f'id="{name}"' in page
        shown = [one for one in entries.formulas(topic) if one.lines]
        assert page.count('<div class="equation">') == len(shown) > 0
        assert page.count("Worked</h3>") == len(entries.formulas(topic))


def test_the_start_page_leads_to_every_formula(folder):
    page = text_of(folder, "index")
    for topic in derivations.TOPICS:
        for name in derivations.public_functions(topic):
            assert f'href="{topic}.html#{name}"' in page


def test_the_pages_ask_nothing_of_a_net(folder):
    for name in ("index", *SOME):
        page = text_of(folder, name)
        assert not re.search(r'(src|href)="(https?:)?//', page)
        assert not re.search(r"@import|url\((?!data:)", page)


def test_what_no_page_of_ours_is_not_overwritten(tmp_path):
    (tmp_path / "fits.html").write_text("my own notes", "utf-8")
    with pytest.raises(OutputError, match=r"fits\.html"):
        handbook.write(tmp_path, topics=SOME)
    assert [path.name for path in tmp_path.iterdir()] == ["fits.html"]


@pytest.mark.parametrize("name", ["file", "nowhere/handbook"])
def test_a_place_that_is_none_is_one_line(name, tmp_path, capsys):
    (tmp_path / "file").write_text("", "utf-8")
    assert handbook.main(tmp_path / name) == 1
    assert capsys.readouterr().err.count("\n") == 1


def test_questions_and_pictures_name_what_there_is():
    data = handbook._data()
    for one in data["question"]:
        for address in one["formulas"]:
            topic, _, name = address.partition(".")
            assert name in derivations.public_functions(topic), address
    for one in data["picture"]:
        assert one["chapter"] in derivations.TOPICS
        assert (entries.ROOT / "figures" / f"{one['file']}.png").is_file(), one["file"]


def test_a_page_and_its_notebook_name_each_other(folder):
    assert "fits.ipynb" in text_of(folder, "fits")
    start = (Path(entries.NOTEBOOKS) / "start.ipynb").read_text("utf-8")
    assert "python3 -m mechkit handbook" in start


@pytest.mark.browser
@pytest.mark.parametrize(("question", "first"), ASKED.items(), ids=ASKED)
def test_a_question_of_the_bench_finds_its_formula(question, first, folder, page):
    page.goto((folder / "index.html").as_uri())
    page.fill("#q", question)
    assert page.locator("#found li a").first.get_attribute("href") == first


@pytest.mark.browser
@pytest.mark.parametrize("width", [360, 1280])
def test_nothing_runs_off_the_side(width, folder, page):
    page.set_viewport_size({"width": width, "height": 800})
    for name in ("index", *SOME):
        page.goto((folder / f"{name}.html").as_uri())
        assert page.evaluate("document.documentElement.scrollWidth") <= width
