"""Joints over a knurl, derived."""

from functools import cache

import sympy as sp

from mechkit import fits
from mechkit.derivations import Derivation, inputs
from mechkit.derivations.fits import joints, knurls, press

_SOLID = {"diameter": press.JOINT["diameter"], "hub_outer": press.JOINT["hub_outer"]}
_JOINT = {**knurls.WHEEL, "hardness": (0.6e9, 1.5e9), **_SOLID, **press.METALS}


def knurl_bite():
    """Area times hardness carries the pressure."""
    pressure, hardness, bite = inputs("pressure", "hardness", "bite")
    share = knurls.bearing_share().result
    carried = sp.Eq(pressure, hardness * share)
    (deep,) = sp.solve(carried, bite)
    return Derivation(
        fits.knurl_bite,
        steps=[
            ("At a depth of bite the crests carry this share of the bore.", share),
            ("There the hub flows, and pushes back with its hardness.", carried),
            ("So they bite this deep.", sp.Eq(bite, deep)),
        ],
        result=deep,
        inside={"pressure": (1e6, 2e8), "hardness": (0.6e9, 1.5e9), **knurls.WHEEL},
    )


@cache
def _closed():
    """Stretch and twice the bite take up the interference."""
    pressure, delta = inputs("pressure", "diametral_interference")
    give = sp.Symbol("g", positive=True)
    stretch = delta / press.interference_pressure().result.subs(inputs("shaft_bore")[0], 0)
    bite = knurl_bite().result
    taken = sp.Eq(delta, pressure * give + 2 * bite)
    steps = [
        ("Each pascal stretches hub and shaft, on the diameter, by $g$.", stretch),
        ("The crests bite, on either side, by this.", bite),
        ("Together they take up the interference.", taken),
    ]
    return steps, taken, pressure, delta, give, stretch


def knurl_pressure():
    """Solved for the pressure."""
    steps, taken, pressure, _, give, stretch = _closed()
    (found,) = sp.solve(taken, pressure)
    return Derivation(
        fits.knurl_pressure,
        steps=[*steps, ("So the pressure is:", found)],
        result=found.subs(give, stretch),
        inside={"diametral_interference": (1e-6, 60e-6), **_JOINT},
        tolerance=1e-10,
    )


def knurl_interference():
    """Solved for the interference."""
    steps, taken, _, delta, give, stretch = _closed()
    (found,) = sp.solve(taken, delta)
    return Derivation(
        fits.knurl_interference,
        steps=[*steps, ("It stands there solved for the interference.", sp.Eq(delta, found))],
        result=found.subs(give, stretch),
        inside={"pressure": (1e6, 2e8), **_JOINT},
        tolerance=1e-10,
    )


def knurl_window():
    """The pressure that just holds, and the one that just yields, as interference."""
    steps, taken, pressure, delta, give, stretch = _closed()
    (found,) = sp.solve(taken, delta)
    torque, strength = inputs("torque", "yield_strength")
    holds = sp.Eq(torque, press.slip_torque().result)
    yields = sp.Eq(strength, joints.hub_von_mises_stress().result)
    ends = [found.subs(pressure, sp.solve(end, pressure)[0]) for end in (holds, yields)]
    return Derivation(
        fits.knurl_window,
        steps=[
            *steps,
            ("The joint just holds at a pressure where:", holds),
            ("The bore of the hub just yields at one where:", yields),
            ("Least and most interference.", sp.Tuple(*ends)),
        ],
        result=sp.Tuple(*(end.subs(give, stretch) for end in ends)),
        inside={
            "torque": (0.001, 0.1),
            "length": (0.001, 0.02),
            "friction": (0.05, 0.3),
            "yield_strength": (1e8, 4e8),
            **_JOINT,
        },
        tolerance=1e-10,
    )


def crest_shear_torque():
    """Shear stress on the share of the bore that the crests cross."""
    tau, d, length = inputs("shear_strength", "diameter", "length")
    share = knurls.bearing_share().result
    turn = sp.Symbol("phi", positive=True)
    strip = tau * share * (d / 2) * length
    total = sp.Integral(strip * d / 2, (turn, 0, 2 * sp.pi))
    return Derivation(
        fits.crest_shear_torque,
        steps=[
            ("The crests cross this share of the bore.", share),
            ("Shear force on them, per angle.", strip),
            ("Each pulls at the arm of the radius; all around.", total),
        ],
        result=total.doit(),
        inside={
            "bite": (1e-6, 50e-6),
            "shear_strength": (5e7, 4e8),
            "diameter": (0.001, 0.01),
            "length": (0.001, 0.02),
            **knurls.WHEEL,
        },
    )
