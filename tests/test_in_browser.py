"""In a real browser: every notebook runs, is painted and moves; one panel is tried closely."""

import shutil
import time

import nbformat
import pytest

from mechkit.launch import CHECKOUT
from tests import browser

pytestmark = pytest.mark.browser

PANEL = "from mechkit.panels import flywheel\nflywheel.show()"
#: The bench page has boxes for sliders, and a test of its own.
NOTEBOOKS = sorted(
    path for path in (CHECKOUT / "notebooks").glob("*.ipynb") if path.stem != "bench"
)

GOOD = [
    """
import io
import ipywidgets
from IPython.display import display
from PIL import Image, ImageDraw
slider = ipywidgets.IntSlider(50, 0, 100)
image = ipywidgets.Image(format="png", width=300, height=200)
def draw(_=None):
    picture = Image.linear_gradient("L").resize((300, 200))
    ImageDraw.Draw(picture).ellipse((slider.value, 50, slider.value + 60, 110), fill=255)
    data = io.BytesIO()
    picture.save(data, "png")
    image.value = data.getvalue()
slider.observe(draw, "value")
draw()
""",
    """
import base64
panel = ipywidgets.VBox([slider, image])
view = panel._repr_mimebundle_()
display({**view, "image/png": base64.b64encode(image.value).decode()}, raw=True)
""",
]
#: Its slider moves nothing, its picture is one gray, its last cell fails.
BAD = [
    """
import io
import ipywidgets
from PIL import Image
data = io.BytesIO()
Image.new("L", (300, 200), 128).save(data, "png")
image = ipywidgets.Image(value=data.getvalue(), format="png", width=300, height=200)
ipywidgets.VBox([ipywidgets.IntSlider(), image])
""",
    "1 / 0",
]


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    """JupyterLab on a copy of the notebooks, so that nothing here is written over."""
    if browser.program() is None:
        if browser.required():
            pytest.fail("no Chromium or Chrome on this computer")
        pytest.skip("no Chromium or Chrome on this computer")
    folder = tmp_path_factory.mktemp("lab")
    shutil.copytree(CHECKOUT / "notebooks", folder / "notebooks", dirs_exist_ok=True)
    browser.write(folder / "good.ipynb", GOOD)
    browser.write(folder / "bad.ipynb", BAD)
    browser.write(folder / "panel.ipynb", [PANEL])
    with browser.jupyter(folder) as url:
        yield url, folder


@pytest.fixture(scope="module")
def page(address):
    """One browser page for all, and the kernel that its notebooks share."""
    with browser.window() as window:
        window.kernel, window.heard = None, 0

        def hear(message):
            """Count a message from a kernel that is large enough for a picture."""
            window.heard += len(message) > 2000

        window.on("websocket", lambda socket: socket.on("framereceived", hear))
        yield window


@pytest.mark.parametrize("notebook", NOTEBOOKS, ids=lambda path: path.stem)
def test_notebook(page, address, notebook):
    """One kernel for all saves its start; that each runs in a kernel of its own, nbval sees."""
    url, _ = address
    assert browser.faults(page, url, f"notebooks/{notebook.name}", kernel=page.kernel) == []
    page.kernel = browser.kernel(page)


def test_a_good_panel_passes_and_is_saved_as_a_picture(page, address):
    url, folder = address
    assert browser.faults(page, url, "good.ipynb", kernel=page.kernel) == []
    browser.save(page)
    saved = nbformat.read(folder / "good.ipynb", 4)
    (output,) = saved.cells[1].outputs
    assert "image/png" in output.data
    assert not [key for key in output.data if "widget" in key]
    assert "widgets" not in saved.metadata


def test_every_fault_is_seen(page, address):
    url, _ = address
    found = browser.faults(page, url, "bad.ipynb", patience=1.5, kernel=page.kernel)
    assert len(found) == 3
    assert "ZeroDivisionError" in found[0]
    assert "blank" in found[1]
    assert "no slider moves" in found[2]


# -- one panel: keys, names, units, the hall, a narrow window ----------------------------

OUTER = ".mk-slider .noUi-handle >> nth=0"
SAID = "() => document.querySelector('p[role=status]').textContent"
#: A sum over all pixels of the picture, and the picture itself.
SUM = """() => { const c = document.querySelector('canvas.mk-picture');
  const data = new Uint32Array(c.getContext('2d').getImageData(0, 0, c.width, c.height).data.buffer);
  let sum = 0;
  for (let n = 0; n < data.length; n++) sum = (Math.imul(sum, 31) + data[n]) >>> 0;
  return sum; }"""
PICTURE = "() => document.querySelector('canvas.mk-picture').toDataURL()"
NAMES = "() => [...document.querySelectorAll('.mk-slider .noUi-handle')].filter(h => h.offsetParent).map(h => h.getAttribute('aria-label'))"
#: Labels and read-outs whose text is wider than their box or than the panel.
CUT = """() => [...document.querySelectorAll('.mk-panel :is(.widget-label, .widget-readout, button, h3, h4, p)')]
  .filter(e => e.offsetParent && (e.scrollWidth > e.clientWidth + 1 ||
     e.getBoundingClientRect().right > document.querySelector('.mk-panel').getBoundingClientRect().right + 1))
  .map(e => e.textContent)"""
#: Bottom edges of what must be seen at once in the hall, from the top of the panel.
DEPTHS = """() => { const top = document.querySelector('.mk-panel').getBoundingClientRect().top;
  return ['.mk-picture', 'p[role=status]', '.mk-slider'].map(
    s => document.querySelector(s).getBoundingClientRect().bottom - top); }"""


@pytest.fixture(scope="module")
def alive(page, address):
    """The flywheel panel, alive."""
    url, _ = address
    browser.open_and_run(page, url, "panel.ipynb")
    page.wait_for_function(f"() => ({SAID})().length > 20")
    page.at_first = page.evaluate(SAID)
    yield page
    browser.close(page)


def settle(page, still=0.8):
    """Wait until the picture has stood still for so many seconds."""
    last, since = None, time.monotonic()
    while time.monotonic() - since < still:
        now = page.evaluate(SUM)
        if now != last:
            last, since = now, time.monotonic()
        page.wait_for_timeout(50)


def heard_within(page, milliseconds):
    """How many pictures come from the kernel meanwhile."""
    before = page.heard
    page.wait_for_timeout(milliseconds)
    return page.heard - before


def press(page, text):
    """Press one of the switches of the look, and wait for the new picture."""
    before = page.evaluate(SUM)
    page.get_by_role("button", name=text, exact=True).click()
    page.wait_for_function(f"old => ({SUM})() !== old", arg=before)
    settle(page)


def test_every_slider_has_a_name_and_the_picture_has_words(page, alive):
    names = page.evaluate(NAMES)
    assert names[0] == "outside diameter, mm" and None not in names
    assert (
        page.get_attribute("canvas.mk-picture", "aria-label")
        == "How big a flywheel for how long a coast?"
    )


def test_the_picture_has_the_pixels_of_the_screen(page, alive):
    shown, drawn = page.evaluate(
        "() => { const c = document.querySelector('canvas.mk-picture');"
        " return [c.getBoundingClientRect().width * devicePixelRatio, c.width]; }"
    )
    assert abs(shown - drawn) <= 1


def test_arrow_keys_move_picture_sentence_and_read_out(page, alive):
    page.focus(OUTER)
    before, said = page.evaluate(SUM), page.evaluate(SAID)
    page.keyboard.press("ArrowRight")
    page.wait_for_function(f"old => ({SUM})() !== old", arg=before)
    page.wait_for_function(f"old => ({SAID})() !== old", arg=said)
    assert page.inner_text(".mk-slider .widget-readout >> nth=0") == "16.2"
    page.keyboard.press("ArrowLeft")
    settle(page)


#: Holds back every message to the kernel; `release` sends them.
HOLD = """() => { const send = WebSocket.prototype.send, held = [];
  WebSocket.prototype.send = function (...all) { held.push([this, all]); };
  window.release = () => { WebSocket.prototype.send = send;
    for (const [socket, all] of held) send.apply(socket, all); }; }"""
#: The largest difference of two pictures, channel by channel.
APART = """async ([one, other]) => { const read = async data => {
    const image = await createImageBitmap(await (await fetch(data)).blob());
    const pen = new OffscreenCanvas(image.width, image.height).getContext('2d');
    pen.drawImage(image, 0, 0);
    return pen.getImageData(0, 0, image.width, image.height).data; };
  const [a, b] = [await read(one), await read(other)];
  return a.length === b.length ? a.reduce((most, v, n) => Math.max(most, Math.abs(v - b[n])), 0) : 999; }"""


def test_the_picture_moves_before_the_kernel_has_heard_and_is_the_right_one(page, alive):
    page.focus(OUTER)
    settle(page)
    page.wait_for_timeout(2500)  # the places beside it are drawn meanwhile
    first, said = page.evaluate(PICTURE), page.evaluate(SAID)
    page.evaluate(HOLD)
    page.keyboard.press("ArrowRight")
    page.wait_for_function(f"old => ({SAID})() !== old", arg=said)
    ahead, ahead_said = page.evaluate(PICTURE), page.evaluate(SAID)
    page.evaluate("() => release()")
    settle(page)
    assert page.evaluate(APART, [ahead, first]) > 50
    assert page.evaluate(SAID) == ahead_said
    page.keyboard.press("End")
    page.keyboard.press("Home")
    settle(page)
    page.get_by_role("button", name="as in the sheet").click()
    settle(page)
    assert page.evaluate(APART, [page.evaluate(PICTURE), first]) <= 12
    page.focus(OUTER)
    page.keyboard.press("ArrowRight")
    settle(page)
    assert page.evaluate(APART, [page.evaluate(PICTURE), ahead]) <= 12
    page.keyboard.press("ArrowLeft")
    settle(page)


def test_nothing_is_drawn_ahead_of_a_slider_that_was_left(page, alive):
    page.get_by_role("button", name="as in the sheet").click()  # a new sweep
    settle(page)
    page.focus(OUTER)
    assert heard_within(page, 600) > 0
    page.evaluate("() => document.activeElement.blur()")
    while heard_within(page, 600):
        pass  # on the way already; or all that there is, and then none is left for below
    page.focus(OUTER)
    assert heard_within(page, 1200) > 0


def test_nothing_is_cut_off_at_either_end_of_any_slider(page, alive):
    for slider in page.query_selector_all(".mk-slider .noUi-handle"):
        if not slider.is_visible():
            continue
        slider.focus()
        for key in ("Home", "End"):
            page.keyboard.press(key)
            settle(page, 0.2)  # the read-out moves with the key
            assert page.evaluate(CUT) == [], key
    page.get_by_role("button", name="as in the sheet").click()
    page.wait_for_function(f"first => ({SAID})() === first", arg=page.at_first)


def test_units_change_every_label_and_back_again_nothing_has_moved(page, alive):
    press(page, "in")
    assert page.evaluate(NAMES)[0] == "outside diameter, in"
    assert "mph" in page.evaluate(SAID)
    press(page, "mm")
    page.wait_for_function(f"first => ({SAID})() === first", arg=page.at_first)


def test_in_the_hall_picture_sentence_and_a_slider_fit_a_small_projector(page, alive):
    """1280 by 720: JupyterLab's own bars take about 110 of the height."""
    page.set_viewport_size({"width": 1280, "height": 720})
    press(page, "hall")
    assert max(page.evaluate(DEPTHS)) < 720 - 110
    assert page.evaluate(CUT) == []
    press(page, "desk")


def test_on_a_phone_the_type_is_large_and_only_the_picture_is_moved_aside(page, alive):
    page.set_viewport_size({"width": 390, "height": 900})
    page.wait_for_selector(".mk-panel.mk-hall")
    settle(page)
    wide, frame, picture = (
        page.evaluate(f"() => document.querySelector('{one}').getBoundingClientRect().width")
        for one in (".mk-panel", ".mk-frame", ".mk-picture")
    )
    assert frame <= wide <= 390 < 600 < picture
    assert page.evaluate(CUT) == []
    page.set_viewport_size({"width": 1280, "height": 1000})
    press(page, "desk")


def test_a_window_made_wider_is_drawn_anew(page, alive):
    page.set_viewport_size({"width": 700, "height": 900})
    page.wait_for_function("() => document.querySelector('canvas.mk-picture').width < 700")
    page.set_viewport_size({"width": 1280, "height": 1000})
    page.wait_for_function("() => document.querySelector('canvas.mk-picture').width > 900")


def test_nothing_broke_in_the_page(page, alive):
    assert page.broken == []
