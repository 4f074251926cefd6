"""Motor formulas, derived."""

import sympy as sp

from mechkit import motor
from mechkit.derivations import Derivation, inputs
from mechkit.derivations.motor import pulses

_BENCH = {
    "voltage": (1.0, 14.0),
    "resistance": (3.0, 40.0),
    "torque_constant": (0.003, 0.02),
    "friction_torque": (0.0001, 0.002),
    "torque": (0.0, 0.004),
    "damping": (1e-8, 5e-7),
}


def _inside(*names):
    return {name: _BENCH[name] for name in names}


def _steady():
    """The two balances that every steady motor obeys, and their symbols."""
    names = ("voltage", "torque", "resistance", "torque_constant", "friction_torque", "damping")
    voltage, torque, resistance, constant, friction, damping = inputs(*names)
    current, speed = sp.symbols("current speed", real=True)
    volts = sp.Eq(voltage, resistance * current + constant * speed)
    torques = sp.Eq(constant * current, torque + friction + damping * speed)
    return volts, torques, current, speed


def torque_constant():
    """No-load reading: what the winding does not drop, the turning makes."""
    voltage, speed, current, resistance = inputs(
        "voltage", "no_load_speed", "no_load_current", "resistance"
    )
    constant = sp.Symbol("torque_constant", positive=True)
    volts = sp.Eq(voltage, resistance * current + constant * speed)
    result = sp.solve(volts, constant)[0]
    return Derivation(
        motor.torque_constant,
        steps=[
            ("The voltage is dropped in the winding and made by the turning.", volts),
            ("Solved for the constant.", sp.Eq(constant, result)),
        ],
        result=result,
        inside={
            "voltage": (6.0, 14.0),
            "no_load_speed": (300.0, 2000.0),
            "no_load_current": (0.005, 0.25),
            "resistance": (3.0, 20.0),
        },
    )


def friction_torque():
    """No load: the whole torque of the current is friction."""
    constant, current = inputs("torque_constant", "no_load_current")
    torque, friction = sp.symbols("torque friction_torque", nonnegative=True)
    balance = sp.Eq(constant * current, torque + friction)
    idle = balance.subs(torque, 0)
    return Derivation(
        motor.friction_torque,
        steps=[
            ("The torque of the current carries the load and the friction.", balance),
            ("Without a load, friction takes it all.", idle),
        ],
        result=sp.solve(idle, friction)[0],
        inside={"torque_constant": (0.003, 0.02), "no_load_current": (0.0, 0.3)},
    )


def stall_current():
    """Standstill: nothing but the winding's resistance."""
    volts, _, current, speed = _steady()
    still = volts.subs(speed, 0)
    return Derivation(
        motor.stall_current,
        steps=[
            ("The voltage is dropped in the winding and made by the turning.", volts),
            ("At standstill nothing is made.", still),
        ],
        result=sp.solve(still, current)[0],
        inside=_inside("voltage", "resistance"),
    )


def current():
    """Force on a wire in the magnet's field, turned round."""
    torque, constant = inputs("torque", "torque_constant")
    wanted = sp.Symbol("current", positive=True)
    law = sp.Eq(torque, constant * wanted)
    result = sp.solve(law, wanted)[0]
    return Derivation(
        motor.current,
        steps=[
            ("Each ampere makes the same torque.", law),
            ("Solved for the current.", sp.Eq(wanted, result)),
        ],
        result=result,
        inside=_inside("torque", "torque_constant"),
    )


def speed():
    """Two balances, volts and torques, two unknowns, current and speed."""
    volts, torques, current, speed = _steady()
    found = sp.solve([volts, torques], [current, speed], dict=True)[0][speed]
    return Derivation(
        motor.speed,
        steps=[
            ("The voltage is dropped in the winding and made by the turning.", volts),
            ("The torque of the current carries load and friction.", torques),
            ("Both solved for the speed.", sp.Eq(speed, sp.simplify(found))),
            ("A motor that cannot start stands still.", sp.Max(0, sp.simplify(found))),
        ],
        result=sp.Max(0, sp.simplify(found)),
        inside=_inside(
            "voltage", "torque", "resistance", "torque_constant", "friction_torque", "damping"
        ),
        tolerance=1e-10,
    )


def starting_voltage():
    """The voltage at which the stalled motor just carries its load."""
    torque, resistance, constant = inputs("torque", "resistance", "torque_constant")
    voltage = sp.Symbol("voltage", positive=True)
    stalled = sp.Eq(torque, constant * voltage / resistance)
    result = sp.solve(stalled, voltage)[0]
    return Derivation(
        motor.starting_voltage,
        steps=[
            ("At standstill the current is voltage over resistance.", stalled),
            ("Solved for the voltage at which it just carries its load.", sp.Eq(voltage, result)),
        ],
        result=result,
        inside=_inside("torque", "resistance", "torque_constant"),
    )


def maximum_efficiency():
    """Output over input, and the current where its slope is zero."""
    idle, stall = inputs("no_load_current", "stall_current")
    current = sp.Symbol("current", positive=True)
    shaft = (current - idle) / current
    winding = (stall - current) / stall
    efficiency = shaft * winding
    best = next(
        root for root in sp.solve(sp.diff(efficiency, current), current) if root.is_positive
    )
    return Derivation(
        motor.maximum_efficiency,
        steps=[
            ("Of the torque, friction takes the no-load current's share.", shaft),
            (
                "Of the voltage, the winding drops the current's share of the stall current.",
                winding,
            ),
            ("Both together; its slope is zero at the geometric mean.", sp.Eq(current, best)),
            ("The efficiency there.", sp.simplify(efficiency.subs(current, best))),
        ],
        result=sp.simplify(efficiency.subs(current, best)),
        inside={"no_load_current": (0.005, 0.2), "stall_current": (0.3, 3.0)},
    )


def mechanical_time_constant():
    """The motor's own braking, as a decay toward its speed."""
    inertia, resistance, constant = inputs("inertia", "resistance", "torque_constant")
    voltage = sp.Symbol("voltage", positive=True)
    time = sp.Symbol("time", positive=True)
    speed = sp.Function("speed")
    motion = sp.Eq(
        inertia * speed(time).diff(time),
        constant * (voltage - constant * speed(time)) / resistance,
    )
    run_up = sp.dsolve(motion, speed(time), ics={speed(0): 0})
    final = sp.limit(run_up.rhs, time, sp.oo)
    slope = sp.diff(run_up.rhs, time).subs(time, 0)
    return Derivation(
        motor.mechanical_time_constant,
        steps=[
            ("The current's torque speeds up the inertia.", motion),
            ("From a standing start.", run_up),
            ("It heads for this speed.", final),
            ("At its first slope it would be there after this time.", sp.simplify(final / slope)),
        ],
        result=sp.simplify(final / slope),
        inside={
            "inertia": (1e-9, 2e-6),
            "resistance": (3.0, 40.0),
            "torque_constant": (0.003, 0.02),
        },
    )


def shorted_damping():
    """With no voltage outside, what the turning makes drives a braking current."""
    volts, _, current, speed = _steady()
    voltage, constant = inputs("voltage", "torque_constant")
    shorted = volts.subs(voltage, 0)
    braking = -constant * sp.solve(shorted, current)[0]
    return Derivation(
        motor.shorted_damping,
        steps=[
            ("Shorted leads: no voltage outside.", shorted),
            ("The current runs backward and brakes.", braking),
            ("Braking torque per unit of speed.", sp.diff(braking, speed)),
        ],
        result=sp.diff(braking, speed),
        inside=_inside("resistance", "torque_constant"),
    )


def ripple_current():
    """Two exponentials, one a switch position, joined end to end."""
    voltage, resistance = inputs("voltage", "resistance")
    back, start, time = sp.symbols("back_emf start time", positive=True)
    on, off, values = pulses.leftovers()
    rise, fall, low, high = pulses.ends((voltage - back) / resistance, -back / resistance)
    ripple = sp.factor(high - low)
    return Derivation(
        motor.ripple_current,
        steps=[
            (
                "From any start the current heads for what the voltage can drive.",
                pulses.flow(voltage - back, start, time),
            ),
            ("Of a start this much is left after the pulse.", sp.Eq(on, values[on])),
            ("And this much after the pause.", sp.Eq(off, values[off])),
            ("The pulse lifts the low to the high.", rise),
            ("The pause lets it fall to the low.", fall),
            ("High less low; the back voltage has dropped out.", ripple),
        ],
        result=ripple.subs(values),
        inside={
            "voltage": (3.0, 18.0),
            "duty": (0.1, 0.9),
            "frequency": (2e3, 40e3),
            "resistance": (3.0, 30.0),
            "inductance": (1e-4, 2e-3),
        },
        tolerance=1e-11,
    )
