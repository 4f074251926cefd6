"""Winding formulas, derived."""

import sympy as sp

from mechkit import motor
from mechkit.derivations import Derivation, inputs
from mechkit.derivations.motor import pulses

_INSIDE = {
    "resistance": (3.0, 40.0),
    "temperature_rise": (5.0, 90.0),
    "temperature_coefficient": (0.0035, 0.0045),
    "thermal_resistance": (15.0, 60.0),
    "torque_constant": (0.003, 0.02),
    "current": (0.02, 0.2),
}


def _inside(*names):
    return {name: _INSIDE[name] for name in names}


def _warm_resistance():
    """Resistance grown by a constant slope, as sympy integrates it."""
    cold, coefficient, rise = inputs("resistance", "temperature_coefficient", "temperature_rise")
    warmth = sp.Symbol("vartheta", positive=True)
    slope = cold * coefficient
    return slope, sp.factor(cold + sp.integrate(slope, (warmth, 0, rise)))


def torque_from_current():
    """Force on each wire in the magnet's field, times its arm."""
    current, constant = inputs("current", "torque_constant")
    turns, field, length, radius = sp.symbols("N B l r", positive=True)
    wires = 2 * turns * field * length * radius * current
    per_ampere = sp.Eq(constant, sp.diff(wires, current))
    result = wires.subs(turns, sp.solve(per_ampere, turns)[0])
    return Derivation(
        motor.torque_from_current,
        steps=[
            ("Two sides of N turns of length l in a field B, on an arm r.", wires),
            ("All that does not change is the torque constant.", per_ampere),
        ],
        result=result,
        inside=_inside("current", "torque_constant"),
    )


def speed_from_back_emf():
    """The same wires, now moved: what they give in volts."""
    voltage, constant = inputs("back_emf", "torque_constant")
    turns, field, length, radius, speed = sp.symbols("N B l r speed", positive=True)
    moved = sp.Eq(voltage, 2 * turns * field * length * radius * speed)
    per_ampere = sp.Eq(constant, 2 * turns * field * length * radius)
    known = moved.subs(turns, sp.solve(per_ampere, turns)[0])
    return Derivation(
        motor.speed_from_back_emf,
        steps=[
            ("Two sides of N turns move through the field at r times the speed.", moved),
            ("The same product is the torque constant.", per_ampere),
            ("So one constant serves for both.", known),
        ],
        result=sp.solve(known, speed)[0],
        inside={"back_emf": (0.0, 14.0), "torque_constant": (0.003, 0.02)},
    )


def warm_resistance():
    """Copper's resistance grows by the same amount each kelvin."""
    slope, warm = _warm_resistance()
    return Derivation(
        motor.warm_resistance,
        steps=[
            ("Each kelvin adds the same share of the cold resistance.", slope),
            ("Added up over the rise.", warm),
        ],
        result=warm,
        inside=_inside("resistance", "temperature_rise", "temperature_coefficient"),
    )


def warm_torque_constant():
    """The field of a warm magnet is weaker by the same amount each kelvin."""
    constant, rise, coefficient = inputs(
        "torque_constant", "temperature_rise", "magnet_coefficient"
    )
    warmth = sp.Symbol("vartheta", positive=True)
    slope = -constant * coefficient
    warm = sp.factor(constant + sp.integrate(slope, (warmth, 0, rise)))
    return Derivation(
        motor.warm_torque_constant,
        steps=[
            ("Each kelvin takes the same share of the field, and so of the constant.", slope),
            ("Added up over the rise.", warm),
        ],
        result=warm,
        inside={
            "torque_constant": (0.003, 0.02),
            "temperature_rise": (0.0, 90.0),
            "magnet_coefficient": (0.0003, 0.0022),
        },
    )


def copper_loss():
    """Voltage dropped times current."""
    current, resistance = inputs("current", "resistance")
    drop = resistance * current
    return Derivation(
        motor.copper_loss,
        steps=[
            ("The winding drops this voltage.", drop),
            ("Times the current, all of it heat.", drop * current),
        ],
        result=drop * current,
        inside=_inside("current", "resistance"),
    )


def pulse_heating():
    """Power that the pulses put into the ripple, all of it heat."""
    mean, voltage, duty, frequency, resistance = inputs(
        "current", "voltage", "duty", "frequency", "resistance"
    )
    time, start, pull = sp.symbols("time start driving", positive=True)
    on, off, values = pulses.leftovers()
    top, bottom = voltage * (1 - duty) / resistance, -voltage * duty / resistance
    rise, fall, low, _ = pulses.ends(top, bottom)
    ripple = pulses.flow(pull, start, time)
    area = sp.integrate(sp.expand(ripple), (time, 0, duty / frequency)).subs(values[on], on)
    share = sp.factor((frequency * area).subs({pull: resistance * top, start: low}))
    mean_square = sp.factor(voltage * share / resistance)
    return Derivation(
        motor.pulse_heating,
        steps=[
            ("Seen from the mean, the pulse lifts the ripple from its low.", rise),
            ("The pause lets it fall.", fall),
            (
                f"The low, with ${on}$ left of a start after the pulse, ${off}$ after the pause.",
                low,
            ),
            ("Ripple in the pulse, in the mean; in the pause it has the opposite.", share),
            ("Voltage times that is all heat: the mean square of the ripple.", mean_square),
        ],
        result=1 + mean_square.subs(values) / mean**2,
        inside={
            "current": (0.3, 1.0),
            "voltage": (3.0, 12.0),
            "duty": (0.1, 0.9),
            "frequency": (16e3, 40e3),
            "resistance": (3.0, 10.0),
            "inductance": (5e-4, 2e-3),
        },
        tolerance=1e-11,
    )


def _settled():
    """Heat made by the warm copper equals heat led away."""
    current, way_out = inputs("current", "thermal_resistance")
    rise = sp.Symbol("temperature_rise", positive=True)
    return sp.Eq(current**2 * _warm_resistance()[1], rise / way_out), rise, current


def temperature_rise():
    """Heat in equals heat out, at the resistance of the warm copper."""
    balance, rise, _ = _settled()
    result = sp.solve(balance, rise)[0]
    return Derivation(
        motor.temperature_rise,
        steps=[
            ("The warm winding makes as much heat as leaves it.", balance),
            ("Solved for the rise.", sp.Eq(rise, result)),
        ],
        result=result,
        inside=_inside("current", "resistance", "thermal_resistance", "temperature_coefficient"),
    )


def continuous_current():
    """The same balance, solved for the current."""
    balance, _, current = _settled()
    result = sp.solve(balance, current)[0]
    return Derivation(
        motor.continuous_current,
        steps=[
            ("The warm winding makes as much heat as leaves it.", balance),
            ("Solved for the current.", sp.Eq(current, result)),
        ],
        result=result,
        inside=_inside(
            "temperature_rise", "resistance", "thermal_resistance", "temperature_coefficient"
        ),
    )


def stall_time():
    """Heat kept in the copper, at a fixed voltage and a growing resistance."""
    voltage, capacity, rise = inputs("voltage", "heat_capacity", "temperature_rise")
    warmth = sp.Symbol("vartheta", positive=True)
    heat = voltage**2 / _warm_resistance()[1].subs(rise, warmth)
    each = capacity / heat
    total = sp.factor(sp.integrate(sp.expand(each), (warmth, 0, rise)))
    return Derivation(
        motor.stall_time,
        steps=[
            ("Heat per second of the stalled winding, falling as it warms.", heat),
            ("Seconds for one more kelvin.", each),
            ("Added up to the allowed rise.", total),
        ],
        result=total,
        inside={
            "voltage": (2.0, 14.0),
            "resistance": (3.0, 40.0),
            "heat_capacity": (0.2, 4.0),
            "temperature_rise": (5.0, 90.0),
            "temperature_coefficient": (0.0035, 0.0045),
        },
    )
