"""Wheelsets and track, derived: lengths across the track, one after the other."""

import sympy as sp

from mechkit import wheels
from mechkit.derivations import Derivation, inputs

_TRACK = {"check_gauge": (15.2e-3, 15.6e-3), "check_span": (14.0e-3, 14.4e-3)}
_FLANGE = {"flange_width": (0.5e-3, 0.9e-3)}


def wheel_check_gauge():
    """From a wheel's back across to the other flange's face."""
    between, flange, face = inputs("back_to_back", "flange_width", "x")
    back = sp.Eq(face - flange, between)
    (over,) = sp.solve(back, face)
    return Derivation(
        wheels.wheel_check_gauge,
        steps=[
            ("The other wheel's back lies one flange short of its flange's face.", back),
            ("So its face lies here.", sp.Eq(face, over)),
        ],
        result=over,
        inside={"back_to_back": (14e-3, 30e-3), **_FLANGE},
    )


def frog_flangeway():
    """From the check rail to the wing rail, and on to the frog's point."""
    gauge, span, way = inputs("check_gauge", "check_span", "w")
    row = sp.Eq(span + way, gauge)
    (left,) = sp.solve(row, way)
    return Derivation(
        wheels.frog_flangeway,
        steps=[
            ("Span and flangeway in a row reach the frog's point.", row),
            ("What the span leaves.", sp.Eq(way, left)),
        ],
        result=left,
        inside=_TRACK,
    )


def check_flangeway():
    """From the stock rail to the check rail, and on to the frog's point."""
    gauge, far, way = inputs("track_gauge", "check_gauge", "w")
    row = sp.Eq(way + far, gauge)
    (left,) = sp.solve(row, way)
    return Derivation(
        wheels.check_flangeway,
        steps=[
            ("Flangeway and check gauge in a row are the gauge.", row),
            ("What the check gauge leaves.", sp.Eq(way, left)),
        ],
        result=left,
        inside={"track_gauge": (16.5e-3, 17.1e-3), "check_gauge": (15.2e-3, 15.6e-3)},
    )


def _window():
    """Both limits of the back-to-back."""
    gauge, span, between = inputs("check_gauge", "check_span", "B")
    over = wheel_check_gauge().result.subs(inputs("back_to_back")[0], between)
    touches = sp.Eq(over, gauge)
    (most,) = sp.solve(touches, between)
    steps = [
        ("Both backs must pass outside check and wing rail at once.", sp.Ge(between, span)),
        ("One back on the check rail, the other's flange just touches the point.", touches),
        ("So there is a most, too.", sp.Le(between, most)),
    ]
    return steps, span, most


def back_to_back_window():
    """Not to bind inside, not to pick the point outside."""
    steps, span, most = _window()
    return Derivation(
        wheels.back_to_back_window,
        steps=steps,
        result=sp.Tuple(span, most),
        inside={**_TRACK, **_FLANGE},
    )


def press_freedom():
    """Half of what the wobble leaves of the window."""
    steps, span, most = _window()
    wobble, off = inputs("face_runout", "x")
    middle = (span + most) / 2
    furthest = sp.Eq(middle + off + wobble / 2, most)
    (freedom,) = sp.solve(furthest, off)
    return Derivation(
        wheels.press_freedom,
        steps=[
            *steps,
            ("The middle of the two.", middle),
            ("Off the middle, and half of the wobble on top, it just meets the limit.", furthest),
            ("So it may lie off by:", sp.Eq(off, freedom)),
        ],
        result=sp.expand(freedom),
        inside={**_TRACK, "flange_width": (0.5e-3, 0.7e-3), "face_runout": (0.0, 0.05e-3)},
        tolerance=1e-9,
    )
