"""Every notebook in a real browser: it runs, its pictures are painted, its sliders move them."""

import shutil

import nbformat
import pytest

from mechkit.launch import CHECKOUT
from tests import browser

pytestmark = pytest.mark.browser

NOTEBOOKS = sorted((CHECKOUT / "notebooks").glob("*.ipynb"))

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


def write(path, cells):
    """A notebook of code cells."""
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(c.strip()) for c in cells])
    notebook.metadata.kernelspec = {"name": "python3", "display_name": "Python 3"}
    nbformat.write(notebook, path)


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    """JupyterLab on a copy of the notebooks, so that nothing here is written over."""
    if browser.program() is None:
        if browser.required():
            pytest.fail("no Chromium or Chrome on this computer")
        pytest.skip("no Chromium or Chrome on this computer")
    folder = tmp_path_factory.mktemp("lab")
    shutil.copytree(CHECKOUT / "notebooks", folder / "notebooks", dirs_exist_ok=True)
    write(folder / "good.ipynb", GOOD)
    write(folder / "bad.ipynb", BAD)
    with browser.jupyter(folder) as url:
        yield url, folder


@pytest.fixture(scope="module")
def page(address):
    """One browser page for all."""
    with browser.window() as window:
        yield window


@pytest.mark.parametrize("notebook", NOTEBOOKS, ids=lambda path: path.stem)
def test_notebook(page, address, notebook):
    url, _ = address
    assert browser.faults(page, url, f"notebooks/{notebook.name}") == []
    browser.save_and_close(page)


def test_a_good_panel_passes_and_is_saved_as_a_picture(page, address):
    url, folder = address
    assert browser.faults(page, url, "good.ipynb") == []
    browser.save_and_close(page)
    saved = nbformat.read(folder / "good.ipynb", 4)
    (output,) = saved.cells[1].outputs
    assert "image/png" in output.data
    assert not [key for key in output.data if "widget" in key]
    assert "widgets" not in saved.metadata


def test_every_fault_is_seen(page, address):
    url, _ = address
    found = browser.faults(page, url, "bad.ipynb", patience=3)
    browser.save_and_close(page)
    assert len(found) == 3
    assert "ZeroDivisionError" in found[0]
    assert "blank" in found[1]
    assert "no slider moves" in found[2]
