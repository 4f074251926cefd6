"""Pulses on the planned motor, against an integration of its circuit."""

import numpy as np
from scipy.integrate import solve_ivp

from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions.rebuild import changes_asked
from mechkit.drive.sheet import demo
from tests.decided import decided


def fed(frequency):
    return demo().with_values({"supply.kind": "pulsed", "supply.frequency": frequency})


def current_at_least(frequency):
    """The least current of a settled period at a slow pass [A], by scipy's integrator."""
    drive = known_of(fed("100 Hz").data).planned
    ohms = float(drive.motor.resistance[0])
    emf = float((drive.motor.torque_constant * drive.motor_speed_at(3.0))[0])
    henry, period, now, least = 0.4e-3, 1 / frequency, 0.0, 0.0
    for _ in range(60):
        on = solve_ivp(
            lambda t, i: (12.0 - emf - ohms * i) / henry, (0, period / 4), [now], rtol=1e-8
        )
        top = on.y[0, -1]
        off = solve_ivp(
            lambda t, i: (-emf - ohms * i) / henry, (0, 0.75 * period), [top], rtol=1e-8
        )
        now = least = max(off.y[0, -1], 0.0)
    return least


def test_from_the_limit_on_the_current_never_stops():
    limit = decided(fed("100 Hz"), "pulses").limit.value
    assert current_at_least(0.97 * limit) == 0.0
    assert current_at_least(1.03 * limit) > 0.0


def test_slow_pulses_are_a_no_go_for_an_ironless_motor_and_fast_ones_a_go():
    slow = decided(fed("100 Hz"), "pulses")
    assert slow.verdict == "wrong"
    assert "ironless" in slow.todo()
    assert slow.numbers["heats"].value > 1.5
    fast = decided(fed("200 kHz"), "pulses")
    assert fast.verdict == "good"
    assert fast.numbers["heats"].value < slow.numbers["heats"].value


def test_direct_current_and_unknown_pulses_are_not_asked():
    assert "pulses" not in changes_asked(known_of(demo().data))
    assert "pulses" not in changes_asked(known_of(demo().with_value("supply.kind", "pulsed").data))


def test_heat_grows_as_pulses_slow_down():
    heats = [
        decided(fed(f"{hertz} Hz"), "pulses").numbers["heats"].value for hertz in (20000, 2000, 200)
    ]
    assert np.all(np.diff(heats) > 0)
