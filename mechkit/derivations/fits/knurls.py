"""Knurls, derived."""

import sympy as sp

from mechkit import fits
from mechkit.derivations import Derivation, inputs

WHEEL = {"knurl_pitch": (0.2e-3, 0.8e-3), "crest_angle": (1.2, 2.0)}


def _rolled():
    """Areas on both sides of the plain shaft's line, for a knurl of any depth."""
    depth, pitch, angle = inputs("tooth_depth", "knurl_pitch", "crest_angle")
    height, x = sp.symbols("h x", positive=True)
    slope = sp.tan(angle / 2)
    root = sp.integrate(2 * slope * x, (x, 0, depth - height))
    crest = sp.integrate(pitch - 2 * slope * x, (x, depth - height, depth))
    equal = sp.Eq(sp.expand(root), sp.expand(crest))
    (solved,) = sp.solve(equal, height)
    steps = [
        ("A wedge pressed in below the plain shaft's line takes this area away.", root),
        ("Above the line the gap that is left between two wedges stands full.", crest),
        ("Nothing is cut away: the two are equal.", equal),
        ("So the crests stand up by this.", sp.Eq(height, solved)),
    ]
    return steps, solved, depth, pitch, slope


def raised_height():
    """What is pressed out of the roots stands up in the crests."""
    steps, solved, *_ = _rolled()
    return Derivation(
        fits.raised_height,
        steps=steps,
        result=solved,
        inside={"tooth_depth": (0.01e-3, 0.06e-3), **WHEEL},
    )


def sharp_height():
    """The same knurl, rolled until its flanks meet."""
    steps, solved, depth, pitch, slope = _rolled()
    meet = sp.Eq(2 * slope * depth, pitch)
    (deepest,) = sp.solve(meet, depth)
    sharp = solved.subs(depth, deepest)
    return Derivation(
        fits.sharp_height,
        steps=[
            *steps,
            ("The flanks of a crest meet when the wedges are a pitch wide at the top.", meet),
            ("At that depth the crests are sharp, half of it above the line.", sharp),
        ],
        result=sharp,
        inside=WHEEL,
    )


def bearing_share():
    """Width of a wedge, per pitch."""
    bite, pitch, angle = inputs("bite", "knurl_pitch", "crest_angle")
    half = sp.Symbol("half_width", positive=True)
    flank = sp.Eq(sp.tan(angle / 2), half / bite)
    share = 2 * sp.solve(flank, half)[0] / pitch
    return Derivation(
        fits.bearing_share,
        steps=[
            ("Half of a crest's width at a depth, by its flank.", flank),
            ("Both halves, once every pitch.", share),
        ],
        result=share,
        inside={"bite": (1e-6, 50e-6), **WHEEL},
    )


def _balance():
    """Where a hub sits on crests that are higher on one side."""
    height, share = inputs("raised_height", "uneven_share")
    turn, rate, squeeze, off = sp.symbols("phi c s e", positive=True)
    crest = height * share / 2 * sp.cos(turn)
    pressure = rate * (squeeze + crest - off * sp.cos(turn))
    push = sp.integrate(sp.expand(pressure * sp.cos(turn)), (turn, 0, 2 * sp.pi))
    (sits,) = sp.solve(sp.Eq(push, 0), off)
    steps = [
        ("Around the shaft the crests are higher and lower than their mean by this.", crest),
        (
            "They press in proportion to the mean squeeze, to that, and less where the hub has "
            "moved away.",
            pressure,
        ),
        ("All pressures together push the hub sideways until this vanishes.", sp.Eq(push, 0)),
        ("There it sits, however soft the crests or the hub.", sp.Eq(off, sits)),
    ]
    return steps, sits, height, share


def knurl_eccentricity():
    """The hub moves until the crests push alike on all sides."""
    steps, sits, *_ = _balance()
    return Derivation(
        fits.knurl_eccentricity,
        steps=steps,
        result=sits,
        inside={"raised_height": (5e-6, 0.1e-3), "uneven_share": (0.05, 1.0)},
    )


def spoiling_height():
    """The same, solved for the height."""
    steps, sits, height, _ = _balance()
    allowed = inputs("eccentricity")[0]
    (most,) = sp.solve(sp.Eq(sits, allowed), height)
    return Derivation(
        fits.spoiling_height,
        steps=[*steps, ("Solved for the height that throws it off by so much.", most)],
        result=most,
        inside={"eccentricity": (2e-6, 50e-6), "uneven_share": (0.05, 1.0)},
    )
