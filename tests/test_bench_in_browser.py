"""The bench page in a real browser, by keyboard alone: five boxes, a card, a refusal, undo, a phone."""

import shutil
from pathlib import Path

import pytest

from mechkit.drive.sheet import load
from tests import browser

pytestmark = pytest.mark.browser
CHECKOUT = Path(__file__).parents[1]
FILE = "my_engine.toml"
#: What is typed into the first boxes one after the other, and a word of the answer beside the last.
TYPED = [
    ("1:87", ""),
    ("310", "tonnes"),
    ("205 g", "pulls"),
    ("3,1", "breaks away"),
    ("12", ""),
    ("2 m", ""),
    ("4,1", "at scale"),
]
SAID = "() => [...document.querySelectorAll('.mk-bench .mk-said')].map(one => one.textContent)"
FOCUSED = "() => document.activeElement.dataset.key"


@pytest.fixture(scope="module")
def lab(tmp_path_factory):
    if browser.program() is None:
        if browser.required():
            pytest.fail("no Chromium or Chrome on this computer")
        pytest.skip("no Chromium or Chrome on this computer")
    folder = tmp_path_factory.mktemp("bench")
    shutil.copy(CHECKOUT / "notebooks" / "bench.ipynb", folder)
    source = f"from mechkit.panels import bench\nbench.show({FILE!r})"
    browser.write(folder / "bench.ipynb", [source])
    with browser.jupyter(folder) as url, browser.window() as page:
        browser.open_and_run(page, url, "bench.ipynb")
        page.wait_for_selector(".mk-bench .mk-five input")
        yield page, folder / FILE


def box(page, key):
    return page.locator(f'.mk-bench [data-key="{key}"]').first


def test_five_readings_by_keyboard_alone_give_five_answers(lab):
    page, file = lab
    box(page, "locomotive.scale").focus()
    for text, answer in TYPED:
        page.keyboard.type(text, delay=20)
        page.keyboard.press("Enter")
        page.wait_for_function(
            f"word => ({SAID})().some(one => one.includes(word))", arg=answer or ""
        )
    page.wait_for_function(f"() => ({SAID})().every(one => one.length > 10)")
    assert page.evaluate(FOCUSED)  # the hand is on, in the next box
    data = load(file).data
    assert (data.locomotive.scale, len(data.measured_before.runs)) == (87, 1)
    assert page.broken == []


def test_cards_are_turned_by_arrow_keys_and_the_asked_size_is_lit(lab):
    page, _ = lab
    page.locator(".mk-bench [role=tab]").first.focus()
    for name in ("Scales", "Body"):
        page.keyboard.press("ArrowRight")
        page.wait_for_function(
            "name => document.querySelector('.mk-bench [role=tab][aria-selected=true]').textContent.startsWith(name)",
            arg=name,
        )
    box(page, "locomotive.driver_diameter").focus()
    page.wait_for_function("() => document.querySelector('.mk-engine .lit')")
    assert "on the tread" in page.locator(".mk-engine").get_attribute("aria-label")


def test_a_wrong_entry_is_told_at_its_box_and_the_file_stays(lab):
    page, file = lab
    before = file.read_bytes()
    field = box(page, "locomotive.driver_diameter")
    for wrong, says in (("16 gallons", "write a length"), ("3 m", "at most 200 mm")):
        field.fill(wrong)
        field.press("Enter")
        page.wait_for_function(
            "says => [...document.querySelectorAll('.mk-fault')].some(one => one.textContent.includes(says))",
            arg=says,
        )
        assert field.get_attribute("aria-invalid") == "true"
        assert field.input_value() == wrong
    assert file.read_bytes() == before
    field.fill("17,5")
    field.press("Enter")
    page.wait_for_function(
        "() => !document.querySelector('.mk-bench [aria-invalid=true]')",
    )
    assert load(file).data.locomotive.driver_diameter.value == pytest.approx(0.0175)


def test_runs_stand_beside_the_model_and_one_that_does_not_belong_is_named(lab):
    page, file = lab
    page.locator(".mk-bench [role=tab]").first.click()
    page.wait_for_selector(".mk-curve")
    for n, (volts, time) in enumerate(
        (("9", "5.8"), ("6", "10.5"), ("10", "14.0"), ("8", "6.9")), 2
    ):
        for name, text in (("voltage", volts), ("distance", "2 m"), ("time", time)):
            field = box(page, f"measured_before.runs[{n}].{name}")
            field.fill(text)
            field.press("Enter")
        page.wait_for_selector(f'.mk-bench [data-key="measured_before.runs[{n + 1}].time"]')
    page.wait_for_selector(".mk-curve .stray")
    page.get_by_label("take run 4 out").click()
    page.wait_for_function("() => !document.querySelector('.mk-curve .stray')")
    assert len(load(file).data.measured_before.runs) == 4


def test_undo_takes_the_last_entry_back(lab):
    page, file = lab
    page.get_by_role("button", name="Undo").click()
    page.wait_for_selector(".mk-curve .stray")
    assert len(load(file).data.measured_before.runs) == 5


def test_the_space_bar_starts_and_stops_the_watch(lab):
    page, _ = lab
    field = box(page, "measured_before.runs[6].time")
    field.locator("xpath=following-sibling::button").focus()
    page.keyboard.press("Space")
    page.wait_for_timeout(1100)
    page.keyboard.press("Space")
    assert 1.0 <= float(field.input_value().removesuffix(" s")) < 3.0


@pytest.mark.parametrize("width", [1280, 390])
def test_nothing_is_cut_off(lab, width):
    """In a window of its own, as the phone shows it: no box or word wider than its place."""
    page, _ = lab
    page.set_viewport_size({"width": width, "height": 900})
    page.evaluate("() => document.querySelector('.mk-bench').style.maxWidth = '100vw'")
    cut = page.evaluate(
        """() => [...document.querySelectorAll('.mk-bench :is(h3, h4, p, label, th, td, small, button)')]
          .filter(e => e.offsetParent && e.scrollWidth > e.clientWidth + 1).map(e => e.textContent.slice(0, 60))"""
    )
    assert cut == []
    assert page.broken == []
