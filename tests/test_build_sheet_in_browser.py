"""The build sheet in a real browser: nothing fetched, both systems of units, phone, paper."""

import re

import pytest

from mechkit.drive.sheet import demo
from mechkit.publish import build_sheet
from tests import browser

pytestmark = pytest.mark.browser

MM = 96 / 25.4  # pixels of a page in a millimeter of paper


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    return build_sheet.write(demo(), tmp_path_factory.mktemp("sheet") / "engine-build.html")


@pytest.fixture(scope="module")
def page(file):
    with browser.window() as page:
        page.asked, page.wrong = [], []
        page.on("request", lambda request: page.asked.append(request.url))
        page.on("console", lambda message: page.wrong.append(message.text))
        page.on("pageerror", lambda error: page.wrong.append(str(error)))
        page.goto(file.as_uri())
        yield page


@pytest.fixture(autouse=True)
def fresh(page):
    page.emulate_media(media="screen")
    page.set_viewport_size({"width": 1280, "height": 1000})
    page.click("label[for=metric]")


def test_it_fetches_nothing(page, file):
    away = [url for url in page.asked if not url.startswith("data:")]
    assert away == [file.as_uri()]
    assert page.wrong == []


def test_its_own_typeface_is_used(page):
    assert page.evaluate("document.fonts.ready.then(() => document.fonts.size)") == 2
    states = page.evaluate("[...document.fonts].map(font => font.status)")
    assert states == ["loaded", "loaded"]


def test_every_drawing_is_seen(page):
    boxes = page.eval_on_selector_all(
        ".drawing svg",
        "all => all.map(one => one.getBoundingClientRect()).map(b => [b.width, b.height])",
    )
    seen = [box for box in boxes if box[0]]
    # elevation, sleeve, flywheel and hub, metric and inch
    assert len(boxes) == 8 and len(seen) == 4
    assert all(wide > 800 and high > 250 for wide, high in seen)


def visible(page):
    return page.inner_text("main")


def test_one_click_changes_every_size_and_back(page):
    metric = visible(page)
    page.click("label[for=inch]")
    inch = visible(page)
    assert "16.00\u00a0mm" in metric and "16.00\u00a0mm" not in inch
    assert "0.630\u00a0in" in inch and "0.630\u00a0in" not in metric
    assert page.is_visible("svg[aria-label^='Flywheel'] >> visible=true")
    page.click("label[for=metric]")
    assert visible(page) == metric


def test_the_keyboard_changes_the_units(page):
    page.focus("#metric")
    page.keyboard.press("ArrowRight")
    assert page.is_checked("#inch") and "0.630\u00a0in" in visible(page)


@pytest.mark.parametrize("width", [390, 760, 1280])
def test_no_page_is_wider_than_its_screen(page, width):
    page.set_viewport_size({"width": width, "height": 844})
    for units in ("metric", "inch"):
        page.click(f"label[for={units}]")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = page.evaluate(
        "[...document.querySelectorAll('main p, main td, main li, main th')]"
        ".filter(one => one.offsetParent && parseFloat(getComputedStyle(one).fontSize) < 14).length"
    )
    assert small == 0


def test_no_text_of_the_page_leaves_its_box(page):
    for width in (390, 1280):
        page.set_viewport_size({"width": width, "height": 844})
        over = page.evaluate(
            "[...document.querySelectorAll('td, th, p, li, label')]"
            ".filter(one => one.offsetParent && one.scrollWidth > one.clientWidth + 1)"
            ".map(one => one.innerText.slice(0, 60))"
        )
        assert over == []


def test_type_stands_out_from_its_ground(page):
    """Contrast after WCAG 2: at least 4.5 to 1 for every color of type in use."""

    def light(color):
        parts = [int(number) / 255 for number in re.findall(r"\d+", color)[:3]]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    ground = light(page.evaluate("getComputedStyle(document.body).backgroundColor"))
    colors = page.evaluate(
        "[...new Set([...document.querySelectorAll('main :is(p, td, th, li, span, b, strong)')]"
        ".map(one => getComputedStyle(one).color))]"
    )
    assert len(colors) >= 4
    for color in colors:
        assert (ground + 0.05) / (light(color) + 0.05) >= 4.5, color


def test_on_paper_a_drawing_has_its_scale(page):
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round(180 * MM), "height": 1000})
    widths = page.eval_on_selector_all(
        ".drawing svg", "all => all.map(one => one.getBoundingClientRect().width)"
    )
    assert [wide for wide in widths if wide] == pytest.approx([180 * MM] * 4, abs=0.5)
    assert not page.is_visible(".units")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_it_prints_whole(page, paper):
    page.emulate_media(media="print")
    raw = page.pdf(format=paper, prefer_css_page_size=False)
    pages = len(re.findall(rb"/Type\s*/Page\b", raw))
    asked = page.locator(".decision").count()
    assert 8 <= pages <= 9 + asked // 5  # five questions a page; drawings, lists and front are nine
    kept = page.eval_on_selector_all(
        "figure, .decision, .ticks > li",
        "all => all.map(one => getComputedStyle(one).breakInside)",
    )
    assert kept and set(kept) == {"avoid"}
    tall = page.eval_on_selector_all(
        "figure, .decision, .ticks > li", "all => Math.max(...all.map(one => one.offsetHeight))"
    )
    assert tall < (279 - 30) * MM  # the tallest that must not be split fits a Letter page
