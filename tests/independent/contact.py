"""Axle loads on uneven rail: every contact set tried, and a constrained least-squares route.

`by_sets` tries every set of axles that may carry and keeps the one that statics allows.
`by_energy` never looks at sets: the loads that balance the weight and store the least
energy, brought to a non-negative least-squares problem (Lawson and Hanson, Solving Least
Squares Problems, ch. 23) that scipy solves.  `in_slots` tries, for every axle, hanging, at
the bottom, on the spring, at the top.  `rigid` finds the highest line over two rail points.
"""

from itertools import combinations, product

import numpy as np
from scipy.optimize import brentq, nnls
from scipy.stats import norm

GRAVITY = 9.80665


def _balance(rates, offsets, arms, weight):
    """Heave and pitch at which loads rates*(offsets - heave - pitch*arm) balance the weight."""
    system = [
        [rates.sum(), (rates * arms).sum()],
        [(rates * arms).sum(), (rates * arms**2).sum()],
    ]
    right = [(rates * offsets).sum() - weight, (rates * offsets * arms).sum()]
    return np.linalg.solve(system, right)


def _by_sets(positions, rates, rail_heights, mass, center_of_gravity):
    """Loads and compressions from the one contact set that statics allows."""
    arms = np.asarray(positions, float) - center_of_gravity
    heights = np.broadcast_to(np.asarray(rail_heights, float), arms.shape)
    rates = np.broadcast_to(np.asarray(rates, float), arms.shape)
    fits = []
    for count in range(2, len(arms) + 1):
        for chosen in combinations(range(len(arms)), count):
            on = np.isin(np.arange(len(arms)), chosen)
            if np.ptp(arms[on]) == 0:
                continue
            heave, pitch = _balance(rates[on], heights[on], arms[on], mass * GRAVITY)
            rise = heights - heave - pitch * arms
            pressed = rates * rise
            fault = max(np.max(-pressed[on], initial=0), np.max(pressed[~on], initial=0))
            fits.append((fault, np.where(on, pressed, 0.0), rise))
    return min(fits, key=lambda fit: fit[0])[1:]


def by_sets(*, positions, rates, rail_heights, mass, center_of_gravity):
    """Loads [N] from the one contact set in which all push and no free wheel sinks in."""
    return _by_sets(positions, rates, rail_heights, mass, center_of_gravity)[0]


def compressions(*, positions, rates, rail_heights, mass, center_of_gravity):
    """Compression of each spring [m] in that contact set."""
    return _by_sets(positions, rates, rail_heights, mass, center_of_gravity)[1]


def by_energy(*, positions, rates, rail_heights, mass, center_of_gravity):
    """Loads [N] that balance the weight with the least energy, by least distance."""
    positions, heights = np.asarray(positions, float), np.asarray(rail_heights, float)
    soft = np.sqrt(np.broadcast_to(np.asarray(rates, float), positions.shape))
    # scaled loads p = load / soft: minimize |p - soft*h| with p >= 0 and two equations
    equations = np.array([soft, soft * (positions - center_of_gravity)])
    equations /= np.linalg.norm(equations, axis=1, keepdims=True)
    right = np.array([mass * GRAVITY / np.linalg.norm(soft), 0.0])
    one, *_ = np.linalg.lstsq(equations, right, rcond=None)
    free = np.linalg.svd(equations)[2][2:].T
    wanted = free.T @ (soft * heights - one)
    # least distance: minimize |z| with free z >= -(one + free wanted), as NNLS
    bound = -(one + free @ wanted)
    scale = np.max(abs(bound))
    stacked = np.vstack([free.T, bound / scale])
    dual, _ = nnls(stacked, np.append(np.zeros(free.shape[1]), 1.0), maxiter=1000)
    residual = stacked @ dual
    residual[-1] -= 1.0
    return soft * (one + free @ (wanted - scale * residual[:-1] / residual[-1]))


def _in_slots(positions, rates, preloads, up, down, heights, mass, center_of_gravity, stop_rate):
    """Loads and rises from the one consistent state of every axle."""
    arms, heights, rates, preloads, up, down = np.broadcast_arrays(
        *(np.asarray(each, float) for each in (positions, heights, rates, preloads, up, down))
    )
    arms = arms - center_of_gravity
    # state -> stiffness, load at rise 0, range of rises
    hard, endless = rates + stop_rate, np.full_like(rates, np.inf)
    lines = {
        "hang": (np.zeros_like(rates), np.zeros_like(rates), -endless, endless),
        "bottom": (hard, preloads + stop_rate * down, -endless, -down),
        "spring": (rates, preloads, -down, up),
        "top": (hard, preloads - stop_rate * up, up, endless),
    }
    fits = []
    for states in product(lines, repeat=len(arms)):
        stiff, base, low, high = (
            np.array([lines[state][part][axle] for axle, state in enumerate(states)])
            for part in range(4)
        )
        on = stiff > 0
        if np.count_nonzero(on) < 2 or np.ptp(arms[on]) == 0:
            continue
        zero = np.where(on, -base / np.where(on, stiff, 1.0), 0.0)
        heave, pitch = _balance(stiff, heights - zero, arms, mass * GRAVITY)
        rise = heights - heave - pitch * arms
        load = stiff * (rise - zero)
        if_met = preloads + rates * rise + stop_rate * np.minimum(0.0, rise + down)
        missed = np.maximum(0.0, np.maximum(low - rise, rise - high)) * stop_rate
        fault = max(np.max(-load), np.max(missed), np.max(if_met[~on], initial=0.0))
        fits.append((fault, load, rise))
    return min(fits, key=lambda fit: fit[0])[1:]


def in_slots(
    *, positions, rates, preloads, travel_up, travel_down, rail_heights, mass,
    center_of_gravity, stop_rate,
):  # fmt: skip
    """Loads [N] with preload and stops, every state of every axle tried."""
    return _in_slots(
        positions, rates, preloads, travel_up, travel_down, rail_heights, mass,
        center_of_gravity, stop_rate,
    )[0]  # fmt: skip


def rises_in_slots(
    *, positions, rates, preloads, travel_up, travel_down, rail_heights, mass,
    center_of_gravity, stop_rate,
):  # fmt: skip
    """Rises [m] in that state; an axle falls no further than its slot."""
    rises = _in_slots(
        positions, rates, preloads, travel_up, travel_down, rail_heights, mass,
        center_of_gravity, stop_rate,
    )[1]  # fmt: skip
    return np.maximum(rises, -np.asarray(travel_down, float))


def rigid(*, positions, rail_heights, mass, center_of_gravity):
    """Loads [N] on the two rail points whose line passes highest under the weight."""
    places, heights = np.asarray(positions, float), np.asarray(rail_heights, float)
    best = (-np.inf,)
    for one, two in combinations(range(len(places)), 2):
        share = (places[two] - center_of_gravity) / (places[two] - places[one])
        if 0 <= share <= 1:
            best = max(best, (share * heights[one] + (1 - share) * heights[two], one, two, share))
    loads = np.zeros(len(places))
    loads[best[1]], loads[best[2]] = best[3], 1 - best[3]
    return mass * GRAVITY * loads


def depths(*, positions, rates, mass, center_of_gravity):
    """Dip [m] under each axle at which its load, tried set by set, just ends."""
    found = []
    for axle in range(len(positions)):

        def load(depth, axle=axle):
            heights = np.where(np.arange(len(positions)) == axle, -depth, 0.0)
            return by_sets(
                positions=positions, rates=rates, rail_heights=heights, mass=mass,
                center_of_gravity=center_of_gravity,
            )[axle] - 1e-12  # fmt: skip

        deep = 1000 * mass * GRAVITY / np.min(rates)
        found.append(brentq(load, 0.0, deep, xtol=1e-16) if load(deep) < 0 else np.inf)
    return np.array(found)


def share_of_three(*, rates, unevenness, minimum_load, mass, **_):
    """All three, and each, of three even axles on normal rail, weight in the middle.

    Only the dent c under the middle, against the mean of the ends, matters: normal, with
    sqrt(3/2) of the unevenness; the middle then carries W/3 + 2kc/3, each end W/3 - kc/3.
    """
    third, spread = mass * GRAVITY / 3, np.sqrt(1.5) * unevenness
    middle = norm.cdf((third - minimum_load) / (2 * rates / 3 * spread))
    end = norm.cdf((third - minimum_load) / (rates / 3 * spread))
    return middle + end - 1, [end, middle, end]
