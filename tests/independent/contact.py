"""Axle loads on uneven rail: every contact set tried, and a constrained least-squares route.

`by_sets` tries every set of axles that may carry and keeps the one that statics allows.
`by_energy` never looks at sets: the loads that balance the weight and store the least
energy, brought to a non-negative least-squares problem (Lawson and Hanson, Solving Least
Squares Problems, ch. 23) that scipy solves.  `in_slots` tries, for every axle, hanging,
at the bottom, on the spring, at the top.
"""

from itertools import combinations, product

import numpy as np
from scipy.optimize import nnls

GRAVITY = 9.80665


def _balance(rates, offsets, positions, weight, center_of_gravity):
    """Heave and pitch at which loads rates*(offsets - heave - pitch*x) balance the weight."""
    system = [
        [rates.sum(), (rates * positions).sum()],
        [(rates * positions).sum(), (rates * positions**2).sum()],
    ]
    right = [
        (rates * offsets).sum() - weight,
        (rates * offsets * positions).sum() - weight * center_of_gravity,
    ]
    return np.linalg.solve(system, right)


def by_sets(*, positions, rates, rail_heights, mass, center_of_gravity):
    """Loads [N] from the one contact set in which all push and no free wheel sinks in."""
    positions, heights = np.asarray(positions, float), np.asarray(rail_heights, float)
    rates = np.broadcast_to(np.asarray(rates, float), positions.shape)
    weight = mass * GRAVITY
    fits = []
    for count in range(2, len(positions) + 1):
        for chosen in combinations(range(len(positions)), count):
            on = np.isin(np.arange(len(positions)), chosen)
            if np.ptp(positions[on]) == 0:
                continue
            heave, pitch = _balance(
                rates[on], heights[on], positions[on], weight, center_of_gravity
            )
            pressed = rates * (heights - heave - pitch * positions)
            fault = max(np.max(-pressed[on], initial=0), np.max(pressed[~on], initial=0))
            fits.append((fault, np.where(on, pressed, 0.0)))
    return min(fits, key=lambda fit: fit[0])[1]


def by_energy(*, positions, rates, rail_heights, mass, center_of_gravity):
    """Loads [N] that balance the weight with the least energy, by least distance."""
    positions, heights = np.asarray(positions, float), np.asarray(rail_heights, float)
    soft = np.sqrt(np.broadcast_to(np.asarray(rates, float), positions.shape))
    weight = mass * GRAVITY
    # scaled loads p = load / soft: minimize |p - soft*h| with p >= 0 and two equations
    equations = np.array([soft, soft * (positions - center_of_gravity)])
    equations /= np.linalg.norm(equations, axis=1, keepdims=True)
    right = np.array([weight / np.linalg.norm(soft), 0.0])
    one, *_ = np.linalg.lstsq(equations, right, rcond=None)
    free = np.linalg.svd(equations)[2][2:].T
    wanted = free.T @ (soft * heights - one)
    # least distance: minimize |z| with free z >= -(one + free wanted), as NNLS
    bound = -(one + free @ wanted)
    scale = max(np.max(abs(bound)), 1e-300)
    stacked = np.vstack([free.T, bound / scale])
    dual, _ = nnls(stacked, np.append(np.zeros(free.shape[1]), 1.0), maxiter=1000)
    residual = stacked @ dual
    residual[-1] -= 1.0
    return soft * (one + free @ (wanted - scale * residual[:-1] / residual[-1]))


def in_slots(
    *,
    positions,
    rates,
    preloads,
    travel_up,
    travel_down,
    rail_heights,
    mass,
    center_of_gravity,
    stop_rate,
):
    """Loads [N] with preload and stops, from the one consistent state of every axle."""
    positions, heights, rates, preloads, up, down = np.broadcast_arrays(
        *(
            np.asarray(each, float)
            for each in (positions, rail_heights, rates, preloads, travel_up, travel_down)
        )
    )
    # state -> stiffness, rise at which its straight line is zero
    lines = {
        "hang": (np.zeros_like(rates), np.zeros_like(rates)),
        "bottom": (
            rates + stop_rate,
            -(preloads + stop_rate * down) / (rates + stop_rate),
        ),
        "spring": (rates, -preloads / rates),
        "top": (rates + stop_rate, (stop_rate * up - preloads) / (rates + stop_rate)),
    }
    fits = []
    for states in product(lines, repeat=len(positions)):
        stiff = np.array([lines[state][0][i] for i, state in enumerate(states)])
        zero = np.array([lines[state][1][i] for i, state in enumerate(states)])
        if np.count_nonzero(stiff) < 2:
            continue
        heave, pitch = _balance(stiff, heights - zero, positions, mass * GRAVITY, center_of_gravity)
        rise = heights - heave - pitch * positions
        load = stiff * (rise - zero)
        # each state claims its own range of rises; by how much is it missed, as a load
        low = {"hang": -np.inf, "bottom": -np.inf, "spring": -down, "top": up}
        high = {"hang": np.inf, "bottom": -down, "spring": up, "top": np.inf}
        fault = 0.0
        for i, state in enumerate(states):
            if state == "hang":
                spring = preloads[i] + rates[i] * rise[i] + stop_rate * min(0, rise[i] + down[i])
                fault = max(fault, spring)
            else:
                bottom, top = (
                    np.broadcast_to(low[state], 1 if np.isscalar(low[state]) else low[state].shape),
                    high[state],
                )
                bottom = bottom[i] if bottom.size > 1 else bottom[0]
                top = top if np.isscalar(top) else top[i]
                miss = max(bottom - rise[i], rise[i] - top, 0.0)
                fault = max(fault, -load[i], miss * stop_rate)
        fits.append((fault, load))
    return min(fits, key=lambda fit: fit[0])[1]
