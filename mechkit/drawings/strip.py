"""One number before, as planned and as measured, as a small strip beside it: bands on one scale."""

from mechkit.drive.decisions.decision import Headline
from mechkit.drive.model.spread import Band

WIDTH, HEIGHT = 132, 26
_ROWS = {"before": 5.5, "planned": 13, "measured": 20.5}


def strip(line: Headline):
    """The strip as inline SVG; its colors are the page's, by class."""
    bands = {"before": line.before, "planned": line.planned, "measured": line.after}
    drawn = {name: band for name, band in bands.items() if band}
    ends = [0.0, *(end for band in drawn.values() for end in (band.low, band.high, band.value))]
    low, high = min(ends), max(ends)
    reach = (high - low) or 1.0

    def x(value):
        return 4 + (WIDTH - 8) * (value - low) / reach

    marks = [f'<path class="axis" d="M{x(0.0):.1f} 1V{HEIGHT - 1}"/>']
    for name, band in drawn.items():
        marks.append(_band(name, band, _ROWS[name], x))
    return (
        f'<svg class="strip" viewBox="0 0 {WIDTH} {HEIGHT}" aria-hidden="true">'
        + "".join(marks)
        + "</svg>"
    )


def _band(name, band: Band, y, x):
    """A bar from low to high and a mark at the value: each state has its own shape."""
    left, right, middle = x(band.low), x(band.high), x(band.value)
    shape = {
        "before": f'<path d="M{middle:.1f} {y - 3.2:.1f}l3.2 3.2l-3.2 3.2l-3.2 -3.2z"/>',
        "planned": f'<circle cx="{middle:.1f}" cy="{y}" r="2.8"/>',
        "measured": f'<path d="M{middle - 1.2:.1f} {y - 4:.1f}h2.4v8h-2.4z"/>',
    }[name]
    bar = f'<path class="bar" d="M{left:.1f} {y}H{max(right, left + 0.5):.1f}"/>'
    return f'<g class="{name}">{bar}{shape}</g>'
