"""A real JupyterLab in a real browser: start it, open a notebook, run it, look at what is there."""

import contextlib
import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import nbformat
from playwright.sync_api import sync_playwright

from mechkit.launch import environment, lab

NAMES = [
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "msedge",
]
PLACES = [
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe",
]
#: No sandbox, because a container's root has none; no talk with the maker's servers.
SWITCHES = [
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync"),
    *("--disable-background-networking", "--disable-component-update"),
]


def program():
    """Where a Chromium or Chrome lies, or None."""
    found = next(filter(None, map(shutil.which, NAMES)), None)
    return found or next((place for place in PLACES if Path(place).exists()), None)


@contextlib.contextmanager
def window(density=1.0):
    """A page in a browser that closes at the end; what broke in it is kept.

    ``density`` is how many pixels of the screen make one of the page.
    """
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program(), args=SWITCHES)
        size = {"width": 1280, "height": 1000}
        page = browser.new_page(viewport=size, device_scale_factor=density)
        page.set_default_timeout(60_000)
        page.broken = []
        page.on("pageerror", lambda error: page.broken.append(str(error)))
        yield page
        browser.close()


@contextlib.contextmanager
def jupyter(folder):
    """JupyterLab on a folder with the kit's own flags; yields its address."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    private = {
        name: str(folder / ".private" / name.lower())
        for name in ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR")
    }
    command = [sys.executable, "-m", "jupyterlab", *lab.flags(folder, port=port, browser=False)]
    command += ["--ServerApp.ip=127.0.0.1", "--IdentityProvider.token=", "--expose-app-in-browser"]
    # A disk file, not a pipe: a full pipe would stop the server.
    with (folder / "server.log").open("wb") as log:
        server = subprocess.Popen(
            command, env=environment.surroundings() | private, stdout=log, stderr=log
        )
        try:
            address = f"http://127.0.0.1:{port}"
            _wait_for(address, server, folder / "server.log")
            yield address
        finally:
            server.terminate()
            try:
                server.wait(15)
            except subprocess.TimeoutExpired:
                server.kill()
                server.wait()


def _wait_for(address, server, log, seconds=90):
    """Wait until the server answers."""
    end = time.monotonic() + seconds
    while time.monotonic() < end and server.poll() is None:
        try:
            urllib.request.urlopen(f"{address}/api", timeout=5).read()
            return
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
    raise RuntimeError(f"JupyterLab did not start:\n{log.read_text('utf-8', 'replace')}")


OPEN = """async ([name, kernel]) => {
  const app = window.jupyterapp, before = app.shell.currentWidget;
  const chosen = kernel ? {kernel: {id: kernel}} : {};
  await app.commands.execute('docmanager:open', {path: name, ...chosen}); before?.dispose(); }"""
KERNEL = "() => window.jupyterapp.shell.currentWidget.sessionContext.session.kernel.id"
OPENED = """name => { const made = window.jupyterapp?.shell.currentWidget;
  return made?.context?.path === name && made.node.querySelector('.jp-Notebook .jp-Cell'); }"""
RUN_ALL = """async () => {
  const app = window.jupyterapp, widget = app.shell.currentWidget;
  await widget.context.ready;
  await widget.sessionContext.ready;
  const late = new Promise(done => setTimeout(() => done('late'), 150000));
  const all = app.commands.execute('notebook:run-all-cells');
  return await Promise.race([all, late]);
}"""
CELLS = "() => window.jupyterapp.shell.currentWidget.content.model.sharedModel.toJSON().cells"
SAVE = "() => window.jupyterapp.commands.execute('docmanager:save')"
#: Nobody waits for the kernel's end.
CLOSE = "() => { window.jupyterapp.shell.currentWidget.sessionContext.shutdown(); }"
#: Pictures inside widgets: where they are shown, how many colors, and a sum over all pixels.
LOOK = """() => [...document.querySelectorAll('.jp-OutputArea :is(img, canvas)')]
  .filter(made => made.closest('.jupyter-widgets'))
  .map(made => {
    const box = made.getBoundingClientRect(), whole = made.tagName === 'CANVAS' || made.complete;
    const canvas = Object.assign(document.createElement('canvas'),
      {width: made.naturalWidth || made.width || 1, height: made.naturalHeight || made.height || 1});
    const pen = canvas.getContext('2d');
    if (whole) pen.drawImage(made, 0, 0);
    const data = new Uint32Array(pen.getImageData(0, 0, canvas.width, canvas.height).data.buffer);
    let sum = 0; const colors = new Set();
    for (const pixel of data) { sum = (Math.imul(sum, 31) + pixel) >>> 0; if (colors.size < 99) colors.add(pixel); }
    return {width: box.width, height: box.height, colors: colors.size, sum};
  })"""


def open_and_run(page, address, name, kernel=None):
    """Open a notebook, run every cell, bring every output on screen once; returns the cells.

    ``kernel`` is the name of one that runs already.
    """
    if page.url.startswith(address):  # the page stands already: only the notebook is new
        page.evaluate(OPEN, [name, kernel])
    else:
        page.goto(f"{address}/doc/tree/{name}?reset")
    page.wait_for_function(OPENED, arg=name)
    page.wait_for_function("() => window.jupyterapp?.shell.currentWidget?.sessionContext?.session")
    page.wait_for_function(
        "() => window.jupyterapp.commands.isEnabled('notebook:run-all-cells')",
    )
    if page.evaluate(RUN_ALL) == "late":
        raise AssertionError(f"{name} did not finish within 150 s")
    for cell in page.query_selector_all(".jp-Notebook .jp-CodeCell"):
        cell.scroll_into_view_if_needed()
    page.wait_for_timeout(300)
    return page.evaluate(CELLS)


def faults(page, address, name, patience=15, kernel=None):
    """Everything that is wrong with a notebook in the browser, in words; empty when all is well.

    ``patience`` is how many seconds a picture may take to appear or to follow.
    """
    found = []
    for number, cell in enumerate(open_and_run(page, address, name, kernel)):
        for output in cell.get("outputs", []):
            if output["output_type"] == "error":
                found.append(f"cell {number}: {output['ename']}: {output['evalue']}")
    if page.get_by_text("Error displaying widget").count():
        found.append("a widget could not be displayed")
    pictures = _settled(page, patience)
    if not pictures:
        found.append("no panel shows a picture")
    for number, picture in enumerate(pictures):
        if picture["width"] < 100 or picture["height"] < 100:
            found.append(f"picture {number} is {picture['width']} x {picture['height']} pixels")
        elif picture["colors"] < 8:
            found.append(f"picture {number} is blank")
    if pictures and not _some_slider_moves(page, patience / 3):
        found.append("no slider moves a picture")
    return found


def _settled(page, seconds):
    """The pictures, once they are painted or the time is over."""
    end = time.monotonic() + seconds
    while True:
        pictures = page.evaluate(LOOK)
        if pictures and all(picture["colors"] >= 8 for picture in pictures):
            return pictures
        if time.monotonic() > end:
            return pictures
        page.wait_for_timeout(100)


def _some_slider_moves(page, seconds):
    """Whether one slider, moved from the keyboard, changes a picture."""
    for slider in page.query_selector_all(".jp-OutputArea .noUi-handle"):
        slider.scroll_into_view_if_needed()
        before = [picture["sum"] for picture in page.evaluate(LOOK)]
        slider.focus()
        for key in ("End", "Home"):
            page.keyboard.press(key)
            end = time.monotonic() + seconds
            while time.monotonic() < end:
                if [picture["sum"] for picture in page.evaluate(LOOK)] != before:
                    slider.evaluate("handle => handle.blur()")
                    page.wait_for_timeout(200)  # the kernel hears that no more is wanted
                    return True
                page.wait_for_timeout(50)
    return False


def save(page):
    """Save the notebook as its reader would."""
    page.evaluate(SAVE)


def kernel(page):
    """The name of the notebook's kernel."""
    return page.evaluate(KERNEL)


def close(page):
    """End the notebook's kernel."""
    page.evaluate(CLOSE)


def required():
    """Whether a missing browser is a failure: where every change is checked, it is."""
    return os.environ.get("CI", "").lower() in {"true", "1"}


def write(path, cells):
    """A notebook of code cells."""
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(c.strip()) for c in cells])
    notebook.metadata.kernelspec = {"name": "python3", "display_name": "Python 3"}
    nbformat.write(notebook, path)
