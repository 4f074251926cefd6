"""The panel's clothes: CSS in the house style, for paper and slate, desk and hall.

Everything hangs on the class ``mk-panel``, so that the page around stays as it was, and the
panel keeps its paper or slate whatever theme the page has.
"""

import base64
from functools import cache

from mechkit.drawings.style import FAMILY, FONTS, GROUND, PALETTE

_FACE = """
@font-face {{ font-family: '{family}'; font-weight: {weight}; font-display: swap;
  src: url(data:font/woff2;base64,{data}) format('woff2'); }}
"""

_RULES = """
.mk-panel {
  --mk-type: 15px; --mk-gap: 14px;
  --jp-widgets-font-size: var(--mk-type); --jp-widgets-color: var(--mk-ink);
  --jp-widgets-label-color: var(--mk-ink); --jp-widgets-readout-color: var(--mk-ink);
  --jp-widgets-inline-height: auto;
  box-sizing: border-box; max-width: 1042px; padding: 0; overflow: hidden; contain: content;
  background: var(--mk-sheet); color: var(--mk-ink); border: 1px solid var(--mk-ruling);
  font: 400 var(--mk-type)/1.4 'FAMILY', system-ui, sans-serif; font-variant-numeric: tabular-nums;
}
.mk-panel.mk-hall { --mk-type: 21px; --mk-gap: 12px; }
.mk-panel :is(label, button, input, h3, h4, p, span, .widget-readout, .widget-html-content) {
  font-family: inherit; font-size: var(--mk-type); color: var(--mk-ink); line-height: 1.4; }
.mk-panel .widget-box, .mk-panel .widget-html, .mk-panel .widget-html-content {
  margin: 0; overflow: visible; height: auto; min-height: 0; }

.mk-panel .mk-bar { display: flex; flex-flow: row wrap; align-items: center; gap: 4px 16px;
  justify-content: space-between; padding: 8px 16px; border-bottom: 1px solid var(--mk-ruling); }
.mk-panel .mk-title { flex: 1 1 240px; width: auto; }
.mk-panel .mk-title h3 { margin: 0; font-weight: 600; font-size: calc(1.15 * var(--mk-type)); }
.mk-panel .mk-switches { display: flex; flex-flow: row wrap; gap: 4px 12px; }

.mk-panel .mk-segments { width: auto; margin: 0; }
.mk-panel .mk-segments .widget-toggle-buttons, .mk-panel .mk-segments > div { display: flex; flex-wrap: nowrap; gap: 0; }
.mk-panel .mk-choice.mk-segments :is(.widget-toggle-buttons, div) { flex-wrap: wrap; }
.mk-panel .mk-segments button { width: auto; height: auto; min-width: 0; margin: 0; padding: 1px 9px;
  background: none; color: var(--mk-quiet); border: 1px solid var(--mk-groove); border-left-width: 0;
  box-shadow: none; border-radius: 0; }
.mk-panel .mk-segments button:first-child { border-left-width: 1px; }
.mk-panel .mk-choice.mk-segments button { border-left-width: 1px; margin: 0 0 -1px -1px; }
.mk-panel .mk-segments button.mod-active { background: var(--mk-ink); color: var(--mk-sheet); border-color: var(--mk-ink); }
.mk-panel .mk-bar .mk-segments button { font-size: 13px; }
.mk-panel.mk-hall .mk-bar .mk-segments button { font-size: 16px; }

.mk-panel .mk-frame { overflow-x: auto; }
.mk-panel .mk-picture { display: block; width: 100%; min-width: 660px; height: auto; margin: 0; object-fit: contain; }
.mk-panel .mk-screen { display: block; width: 100%; margin: 0; }
.mk-panel .mk-screen p { margin: 0; padding: 2px 16px 12px; min-height: 2.8em; box-sizing: content-box; font-size: calc(1.08 * var(--mk-type)); contain: layout paint; }
.mk-panel .mk-screen p.mk-failed { color: var(--mk-danger); font-weight: 600; }

.mk-panel .mk-groups { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(270px, 100%), 1fr));
  gap: 4px 36px; padding: var(--mk-gap) 16px; border-top: 1px solid var(--mk-ruling); }
.mk-panel.mk-hall .mk-groups { grid-template-columns: repeat(auto-fit, minmax(min(300px, 100%), 1fr)); }
.mk-panel .mk-group { display: flex; flex-direction: column; gap: 8px; }
.mk-panel .mk-group h4 { margin: 0; font-weight: 600; color: var(--mk-quiet); }

.mk-panel .mk-slider { display: grid; grid-template: "label readout" auto "track track" 20px / 1fr auto;
  width: 100%; height: auto; margin: 0; }
.mk-panel .mk-slider .widget-label { grid-area: label; width: auto; max-width: none; margin: 0; padding: 0;
  text-align: left; height: auto; white-space: normal; }
.mk-panel .mk-slider .widget-readout { grid-area: readout; width: auto; min-width: 3em; max-width: none; height: auto;
  margin: 0; padding: 0 2px; text-align: right; border: 0; font-weight: 600; overflow: visible; }
.mk-panel .mk-slider .widget-readout:focus { outline: 1px solid var(--mk-ink); }
.mk-panel .mk-slider .slider-container { grid-area: track; margin: 0 7px; height: 20px; display: flex; align-items: center; }
.mk-panel .mk-slider .slider-container .noUi-target { flex: 1; height: 3px; margin: 0; background: var(--mk-groove); border: 0; border-radius: 0; box-shadow: none; }
.mk-panel .noUi-connects { border-radius: 0; }
.mk-panel .mk-slider .slider-container .noUi-connect { background: var(--mk-ink); }
.mk-panel .mk-slider .slider-container .noUi-handle { width: 13px; height: 19px; right: -7px; top: -8px; border-radius: 2px; cursor: grab;
  background: var(--mk-sheet); border: 1.5px solid var(--mk-ink); box-shadow: none; }
.mk-panel .mk-slider .slider-container .noUi-handle::before { content: ""; display: block; position: absolute; left: 4.5px; top: 3px; height: 10px;
  width: 1px; background: var(--mk-ink); }
.mk-panel .mk-slider .slider-container .noUi-handle::after { display: none; }
.mk-panel .mk-slider .slider-container .noUi-handle:focus { outline: 2px solid var(--mk-after); outline-offset: 1px; }
.mk-panel button:focus-visible { outline: 2px solid var(--mk-after); outline-offset: 1px; }

.mk-panel .mk-choice { display: flex; flex-flow: row wrap; align-items: center; gap: 2px 10px; }
.mk-panel .mk-choice .widget-label { width: auto; margin: 0; height: auto; text-align: left; }
.mk-panel .mk-check { width: auto; }

.mk-panel .mk-table { padding: 4px 16px 12px; overflow-x: auto; }
.mk-panel .mk-table table { border-collapse: collapse; width: 100%; margin: 0; font-size: var(--mk-type); color: var(--mk-ink); }
.mk-panel .mk-table tr { background: none !important; border-bottom: 1px solid var(--mk-ruling); }
.mk-panel .mk-table th { font-weight: 600; color: var(--mk-quiet); border-bottom: 1px solid var(--mk-groove); }

.mk-panel .mk-foot { display: flex; flex-flow: row wrap; gap: 8px; align-items: center; padding: 0 16px 14px; }
.mk-panel .mk-foot button { width: auto; height: auto; margin: 0; padding: 3px 12px; background: none;
  border: 1px solid var(--mk-groove); border-radius: 2px; box-shadow: none; color: var(--mk-ink); }
.mk-panel .mk-foot button:hover { border-color: var(--mk-ink); }
.mk-panel .mk-where span { color: var(--mk-quiet); }
@media (max-width: 520px) {
  .mk-panel.mk-hall { --mk-type: 16px; }
  .mk-panel :is(.mk-bar, .mk-groups, .mk-foot, .mk-screen p) { padding-left: 12px; padding-right: 12px; }
}
"""


@cache
def style():
    """The style element of a panel."""
    faces = "".join(_face(name, weight) for name, weight in (("Regular", 400), ("SemiBold", 600)))
    colors = "".join(f".mk-panel{'.mk-dark' * dark} {{ {_colors(dark)} }}\n" for dark in (0, 1))
    rules = _RULES.replace("FAMILY", FAMILY)
    return f"<style>{faces}{colors}{rules}</style>"


def _face(name, weight):
    data = (FONTS / f"BarlowSemiCondensed-{name}.woff2").read_bytes()
    return _FACE.format(family=FAMILY, weight=weight, data=base64.b64encode(data).decode("ascii"))


def _colors(dark):
    """The palette as CSS variables."""
    tones = {name: tone[dark] for name, tone in (PALETTE | GROUND).items()}
    return " ".join(f"--mk-{name}: {color};" for name, color in tones.items())
