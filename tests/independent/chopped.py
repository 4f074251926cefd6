"""A pulsed winding, stepped in time until its periods repeat (scipy)."""

from functools import cache

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq


def _half(start, span, pull, drive, stops):
    """One pulse or one pause, from a current, until its end or until it has run dry."""

    def along(_, current):
        return (pull - drive["back_emf"] - drive["resistance"] * current) / drive["inductance"]

    def run_dry(_, current):
        return current[0]

    vars(run_dry).update(terminal=True, direction=-1)
    return solve_ivp(
        along, (0, span), [start], events=run_dry if stops else None,
        dense_output=stops, rtol=1e-9, atol=1e-12,
    )  # fmt: skip


def _halves(drive):
    """Length and voltage of pulse and pause."""
    on, whole = drive["duty"] / drive["frequency"], 1 / drive["frequency"]
    return (on, drive["voltage"]), (whole - on, 0.0)


@cache
def _settled(**drive):
    """Times and currents of a period like the one before; the current stops at zero."""
    start, last = 0.0, -1.0
    while abs(start - last) > 1e-9 * (1 + start):
        last, times, flows, begin = start, [], [], 0.0
        for span, pull in _halves(drive):
            done = _half(start, span, pull, drive, stops=True)
            here = np.linspace(0, span, 4_000, endpoint=False)
            lasts = done.t[-1]
            flows.append(np.where(here <= lasts, done.sol(np.minimum(here, lasts))[0], 0.0))
            times.append(begin + here)
            begin += span
            start = done.y[0, -1] if lasts >= span else 0.0
    return np.concatenate(times), np.concatenate(flows)


def _mean(times, values, frequency):
    """Mean over the period."""
    ends = np.append(times, 1 / frequency)
    return float(np.sum((values + np.roll(values, -1)) / 2 * np.diff(ends)) * frequency)


def conduction_share(**drive):
    """Share of the period with current [-]."""
    times, flows = _settled(**drive)
    return _mean(times, np.where(flows > 1e-9, 1.0, 0.0), drive["frequency"])


def pulsed_current(**drive):
    """Mean current [A]."""
    times, flows = _settled(**drive)
    return _mean(times, flows, drive["frequency"])


def gapped_heating(**drive):
    """Mean square over square of the mean [-]."""
    times, flows = _settled(**drive)
    return _mean(times, flows**2, drive["frequency"]) / pulsed_current(**drive) ** 2


def _after(start, drive):
    """Current at the end of a period, below zero where it would gap."""
    for span, pull in _halves(drive):
        start = _half(start, span, pull, drive, stops=False).y[0, -1]
    return start


def _low(**drive):
    """The current that a period begins and ends with; the circuit is linear, two tries tell [A]."""
    none, one = _after(0.0, drive), _after(1.0, drive)
    return none / (1 - (one - none))


def gapless_back_emf(**drive):
    """Back voltage at which the low is zero, by search [V]."""
    return _search("back_emf", 0.0, drive["duty"] * drive["voltage"], **drive)


def _search(name, low, high, **drive):
    """Value of one argument at which the low is zero."""
    return brentq(lambda one: _low(**drive, **{name: one}), low, high, xtol=1e-12, rtol=1e-7)


def gapless_inductance(**drive):
    """Inductance at which the low is zero, by search [H]."""
    return _search("inductance", 1e-4, 1e-2, **drive)


def gapless_frequency(**drive):
    """Frequency at which the low is zero, by search [1/s]."""
    return _search("frequency", 1e3, 1e5, **drive)
