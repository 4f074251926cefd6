"""Two coupled axles with rods whose holes are too large: every crank angle tried (numpy)."""

import numpy as np


def _worst(crank_throw, rod_error, quartering_error, turns=96, lags=1201):
    """Least clearance that lets the axles turn, without small angles [m].

    For each crank angle the second axle may lag by whatever strains the tighter rod least.
    """
    spacing = 12 * crank_throw
    rod = spacing + rod_error
    worst = 0.0
    for turn in np.linspace(0, 2 * np.pi, turns, endpoint=False):
        lag = np.linspace(-0.5, 1.5, lags) * (abs(quartering_error) + 1e-4)
        needed = []
        for side, own in ((0.0, 0.0), (np.pi / 2, quartering_error)):
            first = crank_throw * np.array([np.cos(turn + side), np.sin(turn + side)])
            angle = turn + side + own - lag
            second = crank_throw * np.array([np.cos(angle), np.sin(angle)])
            apart = np.hypot(spacing + second[0] - first[0], second[1] - first[1])
            needed.append(np.abs(apart - rod))
        worst = max(worst, np.maximum(*needed).min())
    return worst


def forgiven_quartering(*, crankpin_clearance, crank_throw, rod_error=0.0):
    """The error at which the least clearance is the one there is, by halving."""
    low, high = 0.0, 4 * crankpin_clearance / crank_throw
    for _ in range(15):
        middle = (low + high) / 2
        # a rod too long binds as one too short does: the worse of both counts
        need = max(_worst(crank_throw, sign * rod_error, middle) for sign in (1, -1))
        low, high = (middle, high) if need < crankpin_clearance else (low, middle)
    return (low + high) / 2


def forgiven_rod_error(*, crankpin_clearance, crank_throw, quartering_error=0.0):
    """The same by halving the rod's error."""
    low, high = 0.0, crankpin_clearance
    for _ in range(14):
        middle = (low + high) / 2
        need = max(_worst(crank_throw, sign * middle, quartering_error) for sign in (1, -1))
        low, high = (middle, high) if need < crankpin_clearance else (low, middle)
    return (low + high) / 2
