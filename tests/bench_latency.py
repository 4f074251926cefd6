"""How fast a panel follows the hand, against the usual way of drawing it; run by hand.

    python -m tests.bench_latency [--steps 40] [--seconds 3]

One JupyterLab, one browser, the same picture three ways: our panel, the same artists saved whole
into an Image widget, and ``interact`` with an inline figure drawn anew.  From the key press to
the frame on which the new picture is painted, and in a drag by the mouse: frames a second,
and how long after release the last one comes.  Compare within one run; times move with the
machine and with whatever else it does.
"""

import argparse
import math
import statistics
import tempfile
import time
from pathlib import Path

from tests import browser
from tests.test_notebooks_in_browser import write

OURS = "from mechkit.panels import flywheel\npanel = flywheel.show()\npanel"
_SAME = """
import io
import ipywidgets
from mechkit.panels import flywheel
panel = flywheel.show()
def figure(millimeters):
    panel.take("outer", millimeters * 1e-3)
    picture = panel.picture(panel.look, panel.setting)
    picture.stand(panel.state), picture.move(panel.state)
    for artist in picture._moving:
        artist.set_animated(False)
    return picture.figure
slider = dict(min=8, max=20, step=0.1, value=16, description="outside diameter, mm")
"""
WHOLE = (
    _SAME
    + """
kept = figure(16)
kept_picture = panel.picture(panel.look, panel.setting)
image = ipywidgets.Image(format="png", width=1040)
def save(change=None):
    panel.take("outer", hand.value * 1e-3)
    kept_picture.stand(panel.state), kept_picture.move(panel.state)
    for artist in kept_picture._moving:
        artist.set_animated(False)
    data = io.BytesIO()
    kept_picture.figure.savefig(data, format="png")
    image.value = data.getvalue()
hand = ipywidgets.FloatSlider(**slider)
hand.observe(save, "value")
save()
ipywidgets.VBox([image, hand])
"""
)
USUAL = (
    _SAME
    + """
%matplotlib inline
from IPython.display import display
ipywidgets.interact(lambda d: display(figure(d)), d=ipywidgets.FloatSlider(**slider));
"""
)
WAYS = {"our panel": OURS, "whole figure into an Image": WHOLE, "interact, inline figure": USUAL}

#: Notes when a picture of an output has been painted: load, next frame, and past its commit.
PROBE = """() => { if (window.bench) return; const b = window.bench = {keys: [], paints: [], up: 0, down: 0};
  const past = new MessageChannel(); let waits = false;
  past.port1.onmessage = () => { waits = false; b.paints.push(performance.now()); };
  const mark = made => {
    if (waits || !made.closest?.('.jp-OutputArea')) return;
    waits = true; requestAnimationFrame(() => past.port2.postMessage(0)); };
  document.addEventListener('load', e => e.target.tagName === 'IMG' && mark(e.target), true);
  const pen = CanvasRenderingContext2D.prototype, draw = pen.drawImage;
  pen.drawImage = function (...all) { draw.apply(this, all); mark(this.canvas); };
  document.addEventListener('keydown', e => b.keys.push(e.timeStamp), true);
  document.addEventListener('pointerdown', e => b.down = e.timeStamp, true);
  document.addEventListener('pointerup', e => b.up = e.timeStamp, true); }"""
HANDLE = ".jp-OutputArea .noUi-handle >> nth=0"


def quiet(milliseconds):
    """Leave the page alone for a while: asking it for news would take the time that is measured."""
    time.sleep(milliseconds / 1e3)


def steps(page, count):
    """Key press to first and to last painted picture, for each of a number of presses [ms]."""
    page.focus(HANDLE)
    first, last = [], []
    for number in range(count + 3):
        page.evaluate("() => { bench.keys.length = 0; bench.paints.length = 0; }")
        quiet(100)
        page.keyboard.press("ArrowRight" if number // 15 % 2 == 0 else "ArrowLeft")
        quiet(800)
        key, paints = page.evaluate("() => [bench.keys[0], bench.paints]")
        if number >= 3 and paints:  # the first three warm up
            first.append(paints[0] - key)
            last.append(paints[-1] - key)
    return first, last


def drag(page, seconds):
    """Frames a second while the mouse sweeps the slider, and the last after release [ms]."""
    quiet(600)
    box = page.locator(HANDLE).bounding_box()
    track = page.locator(HANDLE).evaluate(
        "h => { const r = h.closest('.noUi-base').getBoundingClientRect(); return [r.left, r.width]; }"
    )
    level = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + box["width"] / 2, level)
    page.evaluate("() => { bench.paints.length = 0; }")
    page.mouse.down()
    start = time.monotonic()
    while (now := time.monotonic() - start) < seconds:
        share = 0.5 - 0.45 * math.cos(math.pi * now)
        page.mouse.move(track[0] + track[1] * share, level)
        time.sleep(max(0.0, 1 / 60 - (time.monotonic() - start - now)))
    page.mouse.up()
    quiet(900)
    down, up, paints = page.evaluate("() => [bench.down, bench.up, bench.paints]")
    during = [paint for paint in paints if down < paint <= up]
    return len(during) / (up - down) * 1e3, max(paints[-1] - up, 0.0)


def main():
    """Measure every way and print the table."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--steps", type=int, default=40)
    asked.add_argument("--seconds", type=float, default=3.0)
    asked = asked.parse_args()
    medians = {}
    print(f"{'':28}{'first ms':>12}{'settled ms':>14}{'p95':>7}{'frames/s':>10}{'last ms':>9}")
    with tempfile.TemporaryDirectory() as folder, browser.jupyter(Path(folder)) as address:
        for number, (name, cell) in enumerate(WAYS.items()):
            write(Path(folder) / f"way{number}.ipynb", [cell])
            with browser.window() as page:
                browser.open_and_run(page, address, f"way{number}.ipynb")
                page.wait_for_selector(HANDLE)
                page.wait_for_timeout(2000)
                page.evaluate(PROBE)
                first, last = steps(page, asked.steps)
                rate, tail = drag(page, asked.seconds)
                browser.save_and_close(page)
            medians[name] = statistics.median(last)
            p95 = sorted(last)[math.ceil(0.95 * len(last)) - 1]
            print(
                f"{name:28}{statistics.median(first):12.0f}{medians[name]:14.0f}{p95:7.0f}{rate:10.1f}{tail:9.0f}"
            )
    ours = medians.pop("our panel")
    for name, median in medians.items():
        print(f"{name} takes {median / ours:.1f} times as long")


if __name__ == "__main__":
    main()
