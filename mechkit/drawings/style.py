"""The house style as data: what each color means, how a material is lined, how large type is.

A `Look` is all that a picture has to know about its surroundings: paper or slate, desk, hall
or print, metric or inch.  Sizes are in pixels of the page, which are points of the figure.
"""

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal, NamedTuple

from matplotlib import font_manager

from mechkit.units import System

FONTS = Path(__file__).parent / "fonts"
FAMILY = "Barlow Semi Condensed"
#: Greek, arrows and comparison signs come glyph by glyph from the second family.
FAMILIES = [FAMILY, "DejaVu Sans"]


class Tone(NamedTuple):
    """One meaning: its color on paper, its color on slate, and the words of the meaning."""

    paper: str
    slate: str
    words: str


#: The palette.  One color, one meaning, in every picture; no picture mixes its own.
PALETTE = {
    "ink": Tone("#1b2530", "#ece6d8", "the thing itself: outlines, dimensions, text"),
    "before": Tone("#a35e0f", "#f5b045", "as it is: before the rebuild"),
    "after": Tone("#0f417b", "#7cdefd", "as planned: after the rebuild"),
    "limit": Tone("#8a4ec9", "#ae68e8", "a limit that must not be crossed"),
    "measured": Tone("#127978", "#7cb38d", "what was measured at the bench"),
    "danger": Tone("#930618", "#ee4e40", "a limit crossed, or a caution"),
    "quiet": Tone("#5e5a4e", "#8b939c", "axes, notes, whatever only stands by"),
}
#: What lies behind: the sheet itself, and ruling so faint that it carries no meaning.
GROUND = {
    "sheet": Tone("#f7f3ea", "#15202a", "the sheet"),
    "ruling": Tone("#e3dccd", "#26333f", "ruling of a curve's field, open space"),
    "groove": Tone("#b9b09c", "#4d5b68", "the groove of a slider, the frame of a button"),
}


class Lining(NamedTuple):
    """One family of section lines: angle [degrees], spacing and dash in pixels.

    ``spacing`` lists the gaps that repeat across the lines; ``dashes`` gives each line of
    that repeat its dash (on, off), or None for a full line.
    """

    angle: float
    spacing: tuple[float, ...]
    dashes: tuple[tuple[float, float] | None, ...]


class Material(NamedTuple):
    """How a cut material looks: tints on paper and on slate, and its section lining."""

    paper: str
    slate: str
    lining: tuple[Lining, ...]


_FULL = (None,)
#: Section lining by material, after the old drawing-office symbols (from memory): pairs of
#: lines for steel, full and broken lines for the copper alloys, crossed lines for soft metal.
MATERIALS = {
    "brass": Material("#ecd08a", "#6b5526", (Lining(45, (5, 5), (None, (7, 3))),)),
    "bronze": Material("#d9a878", "#6d4426", (Lining(-45, (5, 5), (None, (7, 3))),)),
    "copper": Material("#e0a58c", "#753d2c", (Lining(45, (4, 4), ((7, 3), (7, 3))),)),
    "nickel silver": Material("#d9d8c4", "#55574a", (Lining(-45, (6, 6), (None, (7, 3))),)),
    "steel": Material("#bcc7d0", "#42535f", (Lining(45, (2.5, 6), (None, None)),)),
    "tungsten alloy": Material(
        "#a5a1b4", "#4b4763", (Lining(45, (5,), _FULL), Lining(-45, (5,), _FULL))
    ),
    "lead": Material("#a9adb0", "#3a4046", (Lining(-45, (3,), _FULL),)),
    "acetal": Material("#fbfaf6", "#6f767a", (Lining(45, (9,), _FULL), Lining(-45, (9,), _FULL))),
    "rubber": Material("#857f78", "#2b2a2c", (Lining(60, (4,), _FULL),)),
}


def lined(material):
    """The look of a material of the shop; a temper or a grade looks like its metal.

    >>> lined("half-hard brass") is MATERIALS["brass"]
    True
    """
    for name, look in MATERIALS.items():
        if material == name or material.endswith(f" {name}"):
            return look
    raise ValueError(f"{material!r} has no section lining; there is {', '.join(MATERIALS)}")


#: Line weights in pixels, as on a shop drawing.
WEIGHTS = {"curve": 2.2, "visible": 1.4, "light": 0.9, "thin": 0.6, "center": 0.6, "hidden": 0.8}
#: Dashes in multiples of the line's weight.
DASHES = {
    "center": (0, (20, 4, 4, 4)),
    "hidden": (0, (6, 4)),
    "limit": (0, (5, 3)),
}
#: Type in pixels at the desk.
TYPE = {"title": 17.0, "label": 14.0, "value": 14.0, "note": 12.5}

Size = Literal["desk", "hall", "print"]
TYPE_SCALE: dict[Size, float] = {"desk": 1.0, "hall": 1.45, "print": 1.0}
LINE_SCALE: dict[Size, float] = {"desk": 1.0, "hall": 1.4, "print": 0.85}


@dataclass(frozen=True)
class Look:
    """Paper or slate; at the desk, in the hall, in print; metric or inch.

    >>> Look(dark=True).color("after"), Look(size="hall").line("visible")
    ('#7cdefd', 1.96)
    """

    dark: bool = False
    size: Size = "desk"
    system: System = "metric"

    def color(self, meaning):
        """The color of a meaning, or of the ground."""
        if meaning == "sheet" and self.size == "print":
            return "#ffffff"
        tone = PALETTE.get(meaning) or GROUND[meaning]
        return tone.slate if self.dark else tone.paper

    def tint(self, material):
        """The fill of a cut material."""
        found = lined(material)
        return found.slate if self.dark else found.paper

    def line(self, weight):
        """Width of a line [px]."""
        return round(WEIGHTS[weight] * LINE_SCALE[self.size], 3)

    def type(self, kind="label"):
        """Size of type [px]."""
        return round(TYPE[kind] * TYPE_SCALE[self.size], 3)

    def spread(self, pixels):
        """A gap that grows with the type [px]."""
        return pixels * TYPE_SCALE[self.size]

    def words(self, kind="label", meaning="ink", strong=False):
        """Keyword arguments for matplotlib text in the house typeface."""
        _install_fonts()
        return {
            "family": FAMILIES,
            "size": self.type(kind),
            "weight": "bold" if strong else "normal",
            "color": self.color(meaning),
        }

    def stroke(self, weight="visible", meaning="ink"):
        """Keyword arguments for a matplotlib line of a weight and a meaning."""
        _install_fonts()
        dash = DASHES.get(weight) or (DASHES["limit"] if meaning == "limit" else "solid")
        return {
            "lw": self.line(weight),
            "color": self.color(meaning),
            "ls": dash,
            "solid_capstyle": "round",
            "dash_capstyle": "butt",
        }


@cache
def _install_fonts():
    """Make the bundled typeface known to matplotlib, once."""
    for path in sorted(FONTS.glob("*.ttf")):
        font_manager.fontManager.addfont(path)
