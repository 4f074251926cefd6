"""A disc at one voltage on a half space, as rings of current (numpy, scipy's elliptic integral);
heat flow along a neck whose conductivity follows Wiedemann and Franz (scipy)."""

import numpy as np
from scipy.integrate import solve_bvp
from scipy.optimize import brentq
from scipy.special import ellipk

RINGS = 400


def _disc():
    """Resistance of a disc of radius 1 on one half space of resistivity 1."""
    edges = np.sin(np.linspace(0, np.pi / 2, RINGS + 1))  # finer toward the rim
    r = (edges[1:] + edges[:-1]) / 2
    width = np.diff(edges)
    one, two = np.meshgrid(r, r)
    with np.errstate(divide="ignore"):
        mean = 2 / np.pi * ellipk(4 * one * two / (one + two) ** 2) / (one + two)
    itself = (np.log(16 * r / width) + 1) / (np.pi * r)  # a ring's own, over its width
    np.fill_diagonal(mean, itself)
    current = np.linalg.solve(mean / (2 * np.pi), np.ones(RINGS))
    return 1 / current.sum()


def _radius(force, hardness):
    """Radius at which the flattened area carries the force, by search."""
    return brentq(lambda a: hardness * np.pi * a**2 - force, 1e-8, 1e-3, xtol=1e-18)


def contact_spot(*, force, hardness):
    """Radius of the spot [m]."""
    return _radius(force, hardness)


def constriction_resistance(*, force, hardness, resistivity_1, resistivity_2):
    """Both metals' half spaces in a row [ohm]."""
    return _disc() * (resistivity_1 + resistivity_2) / _radius(force, hardness)


def tarnish_resistance(*, force, hardness, film_resistance):
    """Ten thousand tiles of the spot side by side [ohm]."""
    tile = np.pi * _radius(force, hardness) ** 2 / 1e4
    return 1 / np.sum(np.full(10_000, tile / film_resistance))


def path_resistance(*, contact_resistance, wheels_1, wheels_2):
    """Node voltages of the wheels as a network, for one ampere from rail to rail [ohm]."""
    rail_1, frame, rail_2 = 0, 1, 2
    branches = [(rail_1, frame)] * wheels_1 + [(frame, rail_2)] * wheels_2
    conductance = np.zeros((3, 3))
    for start, end in branches:
        way = np.zeros(3)
        way[start], way[end] = 1, -1
        conductance += np.outer(way, way) / contact_resistance
    volts = np.linalg.solve(conductance[:2, :2], [1.0, 0.0])
    return volts[0]


def contact_temperature(*, contact_voltage, ambient, lorenz=2.44e-8):
    """Middle of a neck that carries current, both ends cold: a boundary value problem [K].

    The neck's resistivity is 1 at every temperature, its conductivity L T.
    """
    slope = contact_voltage  # volts per length of a neck of length 1

    def flow(_, state):
        temperature, heat = state
        return np.array([-heat / (lorenz * temperature), np.full_like(heat, slope**2)])

    def cold(start, end):
        return np.array([start[0] - ambient, end[0] - ambient])

    x = np.linspace(0, 1, 41)
    guess = np.array([ambient + 4 * x * (1 - x) * 100, slope**2 * (x - 0.5)])
    return solve_bvp(flow, cold, x, guess, tol=1e-8).sol(0.5)[0]


def softening_voltage(*, temperature, ambient):
    """Voltage at which the neck's middle is that hot, by search [V]."""
    return brentq(
        lambda volts: contact_temperature(contact_voltage=volts, ambient=ambient) - temperature,
        0.02, 0.6, xtol=1e-7,
    )  # fmt: skip
