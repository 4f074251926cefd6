"""A mass on a spring, its equation of motion integrated (scipy)."""

import numpy as np
from scipy.integrate import solve_ivp


def bounce_speed(*, rate, mass):
    """Speed of rotation [rad/s]: half a turn from the middle up and back."""

    def motion(time, state):
        return [state[1], -rate / mass * state[0]]

    def falls_through(time, state):
        return state[0]

    falls_through.terminal, falls_through.direction = True, -1
    run = solve_ivp(
        motion, (0, 100), [0.0, 1.0], events=falls_through, rtol=1e-10, atol=1e-12, max_step=0.01
    )
    return np.pi / run.t_events[0][0]
