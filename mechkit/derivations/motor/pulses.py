"""One period of a pulsed winding, which ripple and heat share."""

import sympy as sp

from mechkit.derivations import inputs


def flow(driving, start, after):
    """Current after a time in a winding under a voltage that stays, from a start."""
    resistance, inductance = inputs("resistance", "inductance")
    time, pull, begun = sp.symbols("time driving start")
    current = sp.Function("current")
    circuit = sp.Eq(inductance * current(time).diff(time) + resistance * current(time), pull)
    general = sp.dsolve(circuit, current(time), ics={current(0): begun}, simplify=False).rhs
    return general.subs({pull: driving, begun: start, time: after})


def leftovers():
    """What is left of a start after the pulse, and after the pause: two symbols, two values."""
    duty, frequency, resistance, inductance = inputs(
        "duty", "frequency", "resistance", "inductance"
    )
    period = resistance / (inductance * frequency)
    on, off = sp.symbols("a b", positive=True)
    return on, off, {on: sp.exp(-duty * period), off: sp.exp(-(1 - duty) * period)}


def ends(top, bottom):
    """Low and high of a current that heads for ``top`` in the pulse, for ``bottom`` after."""
    low, high = sp.symbols("i_low i_high")
    on, off, _ = leftovers()
    rise = sp.Eq(high, top + (low - top) * on)
    fall = sp.Eq(low, bottom + (high - bottom) * off)
    found = sp.solve([rise, fall], [low, high], dict=True)[0]
    return rise, fall, sp.factor(found[low]), sp.factor(found[high])
