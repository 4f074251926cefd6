"""A motor on a soft bed, followed in time (scipy), and two springs in line (numpy)."""

import numpy as np
from scipy.integrate import solve_ivp

TIGHT = {"rtol": 1e-10, "atol": 1e-14}


def soft_side_load(*, offset, shaft_rate, bed_rate):
    """Push that moves the far end of two springs in line by the offset [N]."""
    stiffness = np.array([[bed_rate + shaft_rate, -shaft_rate], [-shaft_rate, shaft_rate]])
    travel_for_one_newton = np.linalg.solve(stiffness, [0.0, 1.0])[1]
    return offset / travel_for_one_newton


def bed_resonance(*, mass, bed_rate):
    """Speed of a free swing, from two passes through the middle [rad/s]."""

    def middle(t, state):
        return state[0]

    slow = 40.0 * np.sqrt(mass)  # longer than two passes of any bed stiffer than 0.1 N/m
    swing = solve_ivp(
        lambda t, state: [state[1], -bed_rate / mass * state[0]],
        (0.0, slow / np.sqrt(bed_rate)), [1e-4, 0.0], events=middle, **TIGHT,
    )  # fmt: skip
    first, second = swing.t_events[0][:2]
    return np.pi / (second - first)


def transmitted_share(*, speed, resonance, damping_ratio):
    """Largest force into the frame once the swing is steady, for a unit force on a unit mass."""
    drag, spring = 2 * damping_ratio * resonance, resonance**2
    settled = 25 / (damping_ratio * resonance)
    times = settled + np.linspace(0, 2 * np.pi / speed, 4001)
    swing = solve_ivp(
        lambda t, s: [s[1], np.sin(speed * t) - drag * s[1] - spring * s[0]],
        (0.0, times[-1]), [0.0, 0.0], t_eval=times, **TIGHT,
    )  # fmt: skip
    return np.max(np.abs(drag * swing.y[1] + spring * swing.y[0]))
