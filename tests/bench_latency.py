"""How fast a panel follows the hand, against the usual way of drawing it; run by hand.

    python -m tests.bench_latency [flywheel wear ...] [--steps 40] [--seconds 3]
        [--density 2] [--ours]

One JupyterLab, one browser, each panel's picture three ways: our panel, the same artists saved
whole into an Image widget, and ``interact`` with an inline figure drawn anew.  From the key press
to the frame on which the new picture is painted, and in a drag by the mouse: frames a second,
and how long after release the last one comes.  "at once" is the first press after the panel's first
touch, before anything can have been drawn ahead.  Compare within one run; times move with the
machine and with whatever else it does.
"""

import argparse
import math
import statistics
import tempfile
import time
from pathlib import Path

from tests import browser

TOPICS = ("wear", "flywheel", "fits", "gears", "springs", "motion", "diagnose", "choose", "rebuild")
OURS = """
from mechkit.panels import {topic}
panel = {topic}.show()
panel
"""
_SAME = """
import io
import ipywidgets
from mechkit.panels import {topic}
from mechkit.panels.controls import Slider
panel = {topic}.show()
control = next(c for c in panel.controls.values() if isinstance(c, Slider) and not c.when)
scale = control.scale("metric")
slider = dict(min=scale.low, max=scale.high, step=scale.step, description=scale.label,
              value=control.shown(control.start, "metric"))
def moved(picture, shown):
    panel.take(control.name, control.from_shown(shown, "metric"))
    picture.set_limits(picture.stand(panel.state))
    picture.move(panel.state)
    for artist in picture._moving:
        artist.set_animated(False)
    return picture.figure
"""
WHOLE = (
    _SAME
    + """
kept = panel.picture(panel.look, panel.setting)
image = ipywidgets.Image(format="png", width=1040)
def save(change=None):
    data = io.BytesIO()
    moved(kept, hand.value).savefig(data, format="png")
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
def draw(d):
    display(moved(panel.picture(panel.look, panel.setting), d))
ipywidgets.interact(draw, d=ipywidgets.FloatSlider(**slider));
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
HANDLE = ".jp-OutputArea .noUi-handle:visible >> nth=0"


def quiet(milliseconds):
    """Leave the page alone for a while: asking it for news would take the time that is measured."""
    time.sleep(milliseconds / 1e3)


def press(page, key):
    """Key press to first and to last painted picture [ms]; None where none came."""
    page.evaluate("() => { bench.keys.length = 0; bench.paints.length = 0; }")
    quiet(100)
    page.keyboard.press(key)
    quiet(800)
    down, paints = page.evaluate("() => [bench.keys[0], bench.paints]")
    return (paints[0] - down, paints[-1] - down) if paints else None


def steps(page, count):
    """The first press after the first touch, and a number of presses when all is warm [ms]."""
    page.evaluate("() => { bench.keys.length = 0; bench.paints.length = 0; }")
    page.focus(HANDLE)
    page.keyboard.press("ArrowRight")
    quiet(1500)
    down, paints = page.evaluate("() => [bench.keys[0], bench.paints]")
    keys = ["ArrowRight" if number // 15 % 2 == 0 else "ArrowLeft" for number in range(count)]
    warm = [pair for pair in (press(page, key) for key in keys) if pair]
    return paints[0] - down, *zip(*warm, strict=True)


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


def measure(address, folder, name, cell, asked):
    """One way of one panel: a row of the table; returns the median of the last picture."""
    browser.write(folder / f"{name}.ipynb", [cell])
    with browser.window(asked.density) as page:
        browser.open_and_run(page, address, f"{name}.ipynb")
        page.wait_for_selector(HANDLE)
        page.wait_for_timeout(2000)
        page.evaluate(PROBE)
        at_once, first, last = steps(page, asked.steps)
        rate, tail = drag(page, asked.seconds)
        browser.close(page)
    middle = statistics.median(last)
    p95 = sorted(last)[math.ceil(0.95 * len(last)) - 1]
    print(
        f"{at_once:10.0f}{statistics.median(first):8.0f}{middle:9.0f}{p95:6.0f}{rate:10.1f}{tail:9.0f}",
        flush=True,
    )
    return middle


def main():
    """Measure every way of every panel and print the table."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("topics", nargs="*", default=TOPICS)
    asked.add_argument("--steps", type=int, default=40)
    asked.add_argument("--seconds", type=float, default=3.0)
    asked.add_argument("--density", type=float, default=1.0, help="pixels of the screen for one")
    asked.add_argument("--ours", action="store_true", help="our panels alone")
    asked = asked.parse_args()
    ways = list(WAYS.items())[: 1 if asked.ours else None]
    print(
        f"{'':38}{'at once':>10}{'first':>8}{'settled':>9}{'p95':>6}{'frames/s':>10}{'last ms':>9}"
    )
    with tempfile.TemporaryDirectory() as folder, browser.jupyter(Path(folder)) as address:
        for topic in asked.topics:
            medians = []
            for number, (name, cell) in enumerate(ways):
                print(f"{topic:10}{name:28}", end="", flush=True)
                cell = cell.replace("{topic}", topic)
                medians.append(measure(address, Path(folder), f"{topic}{number}", cell, asked))
            if not asked.ours:
                one, other = (median / medians[0] for median in medians[1:])
                print(f"{topic:10}the others take {one:.1f} and {other:.1f} times as long")


if __name__ == "__main__":
    main()
