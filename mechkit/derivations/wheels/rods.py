"""Side rods, derived."""

import sympy as sp

from mechkit import wheels
from mechkit.derivations import Derivation, inputs


def _bind():
    """Both rods at once: what is left of the clearance, as an error of quartering."""
    clearance, throw, turn = inputs("crankpin_clearance", "crank_throw", "theta")
    lag = sp.Symbol("phi", real=True)
    error, quarter = inputs("rod_error", "delta")
    left = sp.Eq(throw * sp.sin(turn) * lag + error, clearance)
    right = sp.Eq(throw * sp.cos(turn) * (quarter - lag) + error, clearance)
    (furthest,) = sp.solve(left, lag)
    (bound,) = sp.solve(right.subs(lag, furthest), quarter)
    bound = sp.factor(bound)
    slope = sp.simplify(sp.diff(bound, turn).subs(turn, sp.pi / 4))
    least = sp.simplify(bound.subs(turn, sp.pi / 4))
    steps = [
        (
            "One axle lags the other by a small angle. At a crank angle the pins of one side come "
            "nearer or part by throw times sine times lag; with the rod's own error that may "
            "take up the clearance, half of it at either end.",
            left,
        ),
        (
            "On the other side the crank stands a quarter turn on, less the error of quartering, "
            "and the same lag works against it.",
            right,
        ),
        ("The first rod lets the axle lag no further than this.", sp.Eq(lag, furthest)),
        ("Put into the second: the error that both rods forgive there.", sp.Eq(quarter, bound)),
        ("It is least where its slope vanishes: at 45 degrees it does.", sp.Eq(slope, 0)),
        ("There the rods forgive this, twice a turn.", sp.Eq(quarter, least)),
    ]
    return steps, least, error


def forgiven_quartering():
    """Two rods, one lag."""
    steps, least, _error = _bind()
    return Derivation(
        wheels.forgiven_quartering,
        steps=steps,
        result=least,
        inside={
            "crankpin_clearance": (0.05e-3, 0.2e-3),
            "crank_throw": (3e-3, 8e-3),
            "rod_error": (0.0, 0.04e-3),
        },
    )


def forgiven_rod_error():
    """The same line, solved for the rod."""
    steps, least, error = _bind()
    wanted = sp.Symbol("quartering_error", positive=True)
    (solved,) = sp.solve(sp.Eq(least, wanted), error)
    return Derivation(
        wheels.forgiven_rod_error,
        steps=[*steps, ("Solved for the rod's error.", sp.Eq(error, solved))],
        result=solved,
        inside={
            "crankpin_clearance": (0.1e-3, 0.2e-3),
            "crank_throw": (3e-3, 8e-3),
            "quartering_error": (0.0, 0.03),
        },
    )


def flange_play():
    """One line of lengths across the track."""
    gauge, between, flange = inputs("track_gauge", "back_to_back", "flange_width")
    over = between + 2 * flange
    return Derivation(
        wheels.flange_play,
        steps=[
            ("Over both flanges the wheelset is as wide as this.", over),
            ("What the gauge leaves is its play from rail to rail.", gauge - over),
        ],
        result=gauge - over,
        inside={
            "track_gauge": (16e-3, 33e-3),
            "back_to_back": (14e-3, 30e-3),
            "flange_width": (0.5e-3, 1e-3),
        },
    )
