"""Pulsed current with gaps, derived."""

from functools import cache

import sympy as sp

from mechkit import motor
from mechkit.derivations import Derivation, Empirical, inputs
from mechkit.derivations.motor import pulses

_CIRCUIT = {
    "voltage": (6.0, 16.0),
    "duty": (0.2, 0.8),
    "frequency": (200.0, 2e3),
    "resistance": (3.0, 30.0),
    "inductance": (1e-3, 5e-3),
}
#: Mean voltage always above the back voltage.
_LOADED = {
    "voltage": (10.0, 16.0),
    "duty": (0.2, 0.8),
    "back_emf": (0.2, 1.9),
    "resistance": (3.0, 30.0),
}
#: Back voltage always above the mean voltage: the current always gaps.
_GAPPED = {
    "voltage": (14.0, 18.0),
    "duty": (0.2, 0.4),
    "frequency": (100.0, 400.0),
    "resistance": (8.0, 20.0),
    "inductance": (0.5e-3, 2e-3),
    "back_emf": (8.0, 12.0),
}


def _currents():
    """Voltage, back voltage, resistance; where the current heads in pulse and pause."""
    voltage, back, resistance = inputs("voltage", "back_emf", "resistance")
    return voltage, back, resistance, (voltage - back) / resistance, -back / resistance


def gapless_back_emf():
    """The low of the ripple just touches zero."""
    _, back, _, top, bottom = _currents()
    rise, fall, low, _ = pulses.ends(top, bottom)
    on, off, values = pulses.leftovers()
    touches = sp.Eq(low, 0)
    (most,) = sp.solve(touches, back)
    return Derivation(
        motor.gapless_back_emf,
        steps=[
            ("In the pulse the current rises toward what the voltages drive.", rise),
            ("In the pause the back voltage alone pulls it down.", fall),
            (
                f"Its low, with ${on}$ left of a start after the pulse, ${off}$ after the pause.",
                low,
            ),
            ("It just never stops when the low touches zero.", touches),
            ("Solved for the back voltage.", sp.Eq(back, sp.factor(most))),
        ],
        result=most.subs(values),
        inside=_CIRCUIT,
        tolerance=1e-10,
    )


def gapless_inductance():
    """No closed form."""
    return Empirical(
        motor.gapless_inductance,
        whose="the last line of gapless_back_emf, solved for the period by halving",
        inside={**_LOADED, "frequency": _CIRCUIT["frequency"]},
    )


def gapless_frequency():
    """No closed form."""
    return Empirical(
        motor.gapless_frequency,
        whose="the last line of gapless_back_emf, solved for the period by halving",
        inside={**_LOADED, "inductance": _CIRCUIT["inductance"]},
    )


@cache
def _pulse():
    """From zero up in the pulse, down to zero after it."""
    voltage, back, *_ = _currents()
    duty, frequency = inputs("duty", "frequency")
    time, pull, start = sp.symbols("time driving start", positive=True)
    flow = pulses.flow(pull, start, time)
    rise = flow.subs({pull: voltage - back, start: 0})
    peak = rise.subs(time, duty / frequency)
    top = sp.Symbol("i_top", positive=True)
    fall = flow.subs({pull: -back, start: top})
    (dies,) = sp.solve(sp.Eq(fall, 0), time)
    dies = sp.expand_log(dies, force=True)
    share = duty + frequency * dies.subs(top, peak)
    steps = [
        ("With a gap each pulse starts at zero and rises.", rise),
        ("It ends at this peak.", sp.Eq(top, peak)),
        ("Then the back voltage pulls it down.", fall),
        ("To zero in this time.", dies),
    ]
    return steps, rise, share


def conduction_share():
    """Pulse and dying away, per period."""
    steps, _, share = _pulse()
    least = sp.Min(share, 1)
    return Derivation(
        motor.conduction_share,
        steps=[*steps, ("Pulse and dying away, of the period; never more than all of it.", least)],
        result=least,
        inside={**_CIRCUIT, "back_emf": (0.5, 5.5)},
        tolerance=1e-10,
    )


def _mean():
    """Voltages in balance over a period."""
    voltage, back, resistance, _, _ = _currents()
    duty, share, mean = inputs("duty", "share", "current")
    balance = sp.Eq(voltage * duty - back * share - resistance * mean, 0)
    (current,) = sp.solve(balance, mean)
    return balance, current, share


def pulsed_current():
    """The inductance gives back what it takes."""
    steps, _, lasting = _pulse()
    balance, current, share = _mean()
    return Derivation(
        motor.pulsed_current,
        steps=[
            *steps,
            (
                "Over a period the inductance keeps nothing: pulse, back voltage while current "
                "flows, and the winding's drop are in balance.",
                balance,
            ),
            ("So the mean current is:", current),
        ],
        result=current.subs(share, sp.Min(lasting, 1)),
        inside={**_CIRCUIT, "back_emf": (0.5, 5.5)},
        tolerance=1e-8,
    )


def gapped_heating():
    """Power in the pulse less power to the shaft is heat."""
    steps, rise, lasting = _pulse()
    voltage, back, resistance, _, _ = _currents()
    duty, frequency = inputs("duty", "frequency")
    time = sp.Symbol("time", positive=True)
    _, current, share = _mean()
    mean, square, drawn = sp.symbols("I q i_p", positive=True)
    in_pulse = frequency * sp.integrate(sp.expand(rise), (time, 0, duty / frequency))
    power = sp.Eq(voltage * drawn, back * mean + resistance * square)
    (heat,) = sp.solve(power, square)
    factor = heat / mean**2
    return Derivation(
        motor.gapped_heating,
        steps=[
            *steps,
            ("What the pulses draw, in the mean over a period.", sp.Eq(drawn, in_pulse)),
            ("Their power is the shaft's, back voltage times mean current, and heat.", power),
            ("Mean square over square of the mean.", factor),
        ],
        result=factor.subs({drawn: in_pulse, mean: current.subs(share, lasting)}),
        inside=_GAPPED,
        tolerance=1e-8,
    )
