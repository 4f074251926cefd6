"""Sizes for the bench: what to turn a part to, never finer than the instruments can tell."""

import math
from dataclasses import dataclass

import numpy as np

from mechkit import runout, tables
from mechkit.drive.model.read import SLIDE, flywheel_of, slid_on
from mechkit.drive.sheet.schema import BenchSheet
from mechkit.units import System, show, shown

#: Free space on the diameter that retaining compound wants [m].
BOND_GAP = tables.band("joints", "retaining compound", "diametral_gap")
#: Least that comes off a bore's diameter to clean it up all round; common practice.
CLEAN_UP = 0.025e-3
THOUSANDTH = 25.4e-6  # m


@dataclass(frozen=True)
class Size:
    """One dimension of a part: nominal, tolerance, and how to get it."""

    words: str
    value: float
    tolerance: float
    how: str
    matched: bool = False

    def say(self, system: System = "metric") -> str:
        """As it stands on the drawing."""
        # in inches a fit needs tenths of a thousandth, or rounding would eat its gap
        fine = 0.0 < self.tolerance < THOUSANDTH and not self.matched
        decimals = 2 if system == "metric" else 4 if fine else 3
        value = show(self.value, "length", system, decimals)
        if self.matched:
            return f"{value}, match to the part"
        if not self.tolerance:
            return value
        # rounded up: no tolerance may look finer than it is
        steps = math.ceil(round(shown(self.tolerance, "length", system) * 10**decimals, 6))
        return f"{value} ±{steps / 10**decimals:.{decimals}f}"


@dataclass(frozen=True)
class Part:
    """A part to be turned: what it is of, and its sizes by name."""

    name: str
    material: str
    sizes: dict[str, Size]
    notes: tuple[str, ...] = ()


def tolerance(sheet: BenchSheet) -> float:
    """The tolerance that can be both turned and measured [m]."""
    tools = sheet.instruments
    finest = min(tool.value for tool in (tools.micrometer, tools.caliper) if tool)
    return max(finest, tools.lathe.value)


def mate(
    words: str, partner: float, inside: bool, sheet: BenchSheet, aim: float | None = None
) -> Size:
    """A diameter that slides on (or in) its partner with room for retaining compound.

    Where the gap's window is narrower than what lathe and instruments can hold, the size
    cannot be reached by numbers: the part is matched to its partner.  ``aim`` is a bore that
    is written in the sheet.
    """
    hold = tolerance(sheet)
    # Rounded to what a caliper shows, away from the partner.
    aim = (
        float(slid_on(partner) if aim is None else aim)
        if inside
        else math.floor((partner - SLIDE) * 1e5 + 1e-6) / 1e5
    )
    slide = abs(aim - partner)
    fits = BOND_GAP[0] - 1e-9 <= slide - hold and slide + hold <= BOND_GAP[1] + 1e-9
    how = (
        "turn to size, then try it on its partner"
        if fits
        else "creep up on it: stop when its partner slides in without shake"
    )
    return Size(words, aim, hold, how, matched=not fits)


def truing_cut(total_runout):
    """What comes off a bore's diameter to true it [m], by the indicator's swing [m].

    A bore that runs true to the eye is cut all the same, or the tool leaves a patch of the
    old surface: so no less than the clean-up cut.
    """
    off = runout.eccentricity(total_runout=total_runout)
    return np.maximum(runout.truing_stock(eccentricity=off), CLEAN_UP)


def adapter(sheet: BenchSheet) -> Part | None:
    """The sleeve from the motor's shaft to the worm's bore."""
    table = sheet.planned.adapter
    if table is None:
        return None
    shaft, bore = sheet.planned.motor.shaft_diameter.value, sheet.planned.worm.bore.value
    return Part(
        "Adapter sleeve",
        table.material,
        {
            "bore": mate("bore, for the motor's shaft", shaft, True, sheet),
            "outside": mate("outside, for the worm's bore", bore, False, sheet),
            "length": Size("length", table.length.value, 5 * tolerance(sheet), "face both ends"),
        },
        (
            "Bore and outside in one setting; part off last.",
            "Break edges. Degrease before bonding.",
        ),
    )


def flywheel(sheet: BenchSheet) -> Part | None:
    """The flywheel on the motor's shaft."""
    table, wheel = sheet.planned.flywheel, flywheel_of(sheet.planned)
    if table is None or wheel is None:
        return None
    hold = tolerance(sheet)
    shaft = sheet.planned.motor.shaft_diameter.value
    return Part(
        "Flywheel",
        table.material,
        {
            "outside": Size("outside", table.outside_diameter.value, 5 * hold, "turn last"),
            "width": Size("width", table.width.value, 5 * hold, "face both sides"),
            "bore": mate("bore, for the motor's shaft", shaft, True, sheet, wheel.bore),
        },
        ("Bore and rim in one setting; indicate before the last cut.", "Break edges."),
    )
