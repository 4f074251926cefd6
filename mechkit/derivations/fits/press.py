"""Fit formulas, derived; tables, with whose they are."""

from functools import cache

import sympy as sp

from mechkit import fits
from mechkit.derivations import Derivation, Empirical, inputs

_ISO = "a table agreed in ISO 286-1; its tolerance unit does not regenerate it below 6 mm."
_ANSI = "a table agreed in ANSI B4.1, as printed in Machinery's Handbook."
#: Useful ranges of a joint: bore of the shaft, joint, outside of the hub.
JOINT = {"shaft_bore": (0.0002, 0.001), "diameter": (0.0012, 0.005), "hub_outer": (0.006, 0.02)}
METALS = {
    "hub_modulus": (2.5e9, 210e9),
    "hub_poisson": (0.25, 0.4),
    "shaft_modulus": (100e9, 210e9),
    "shaft_poisson": (0.25, 0.35),
}


def tolerance_grade():
    """A table."""
    return Empirical(
        fits.tolerance_grade,
        whose=_ISO,
        inside={"diameter": (0.0005, 0.12), "grade": list(range(1, 15))},
        scales=False,
    )


def limits():
    """A table and the mirror rule."""
    return Empirical(
        fits.limits,
        whose=_ISO,
        inside={"diameter": (0.0005, 0.05), "tolerance_class": lambda random, count: "H7"},
        scales=False,
    )


def fit_interference():
    """Differences of two tables."""
    return Empirical(
        fits.fit_interference,
        whose=_ISO,
        inside={
            "diameter": (0.0005, 0.05),
            "hole_class": lambda random, count: "H7",
            "shaft_class": lambda random, count: "p6",
        },
        scales=False,
    )


def inch_fit_interference():
    """A table."""
    return Empirical(
        fits.inch_fit_interference,
        whose=_ANSI,
        inside={"diameter": (0.0005, 0.0101), "fit_class": lambda random, count: "FN1"},
        scales=False,
    )


def _lame(modulus, poisson, inner, outer, pressure_inside, pressure_outside):
    """A ring between two pressures, plane stress: travel u(r), hoop stress(r), equations.

    The travel u = A r + B/r is what balance of forces leaves; sympy finds A and B.
    """
    r, a, b = sp.Symbol("r", positive=True), sp.Symbol("A"), sp.Symbol("B")
    travel = a * r + b / r
    strain_r, strain_t = sp.diff(travel, r), travel / r
    plate = modulus / (1 - poisson**2)
    stress_r = sp.expand(plate * (strain_r + poisson * strain_t))
    stress_t = sp.expand(plate * (strain_t + poisson * strain_r))
    balance = sp.simplify(sp.diff(r * stress_r, r) - stress_t)
    edges = sp.solve(
        [
            stress_r.subs(r, inner / 2) + pressure_inside,
            stress_r.subs(r, outer / 2) + pressure_outside,
        ],
        [a, b],
        dict=True,
    )[0]
    return r, travel.subs(edges), stress_t.subs(edges), balance


def _per_pascal(travel, size, poisson):
    """Travel for one pascal, sorted as a handbook prints it."""
    return size * sp.collect(sp.expand(travel / size), poisson, sp.factor)


@cache
def interference_pressure():
    """Two rings that meet: Lamé twice, and the gap between them closed."""
    d, d0, outer = inputs("diameter", "shaft_bore", "hub_outer")
    delta = inputs("diametral_interference")[0]
    hub_e, hub_nu, shaft_e, shaft_nu = inputs(*METALS)
    p = sp.Symbol("pressure", positive=True)
    hub_give, shaft_give = sp.symbols("g_h g_s", positive=True)
    r, hub, _, balance = _lame(hub_e, hub_nu, d, outer, p, 0)
    _, shaft, _, _ = _lame(shaft_e, shaft_nu, d0, d, 0, p)
    opens = _per_pascal(2 * hub.subs(r, d / 2) / p, d / hub_e, hub_nu)
    shrinks = _per_pascal(-2 * shaft.subs(r, d / 2) / p, d / shaft_e, shaft_nu)
    meet = sp.Eq(p * (hub_give + shaft_give), delta)
    needed = sp.solve(meet, p)[0]
    u = sp.Function("u")
    equation = sp.Eq(u(r).diff(r, 2) + u(r).diff(r) / r - u(r) / r**2, 0)
    return Derivation(
        fits.interference_pressure,
        steps=[
            ("In a ring the forces on every thin shell balance when the travel obeys:", equation),
            ("Which leaves one family of curves:", sp.dsolve(equation, u(r))),
            ("Put into Hooke's law the shells balance: nothing is left over.", balance),
            ("Each pascal opens the bore of the hub, free outside, by:", opens),
            ("Each pascal shrinks the shaft, free in its bore, by:", shrinks),
            ("Both together, $g_h$ and $g_s$, take up the interference:", meet),
            ("So the pressure is:", needed),
        ],
        result=needed.subs({hub_give: opens, shaft_give: shrinks}),
        inside={"diametral_interference": (0.1e-6, 10e-6), **JOINT, **METALS},
        tolerance=1e-10,
    )


def hub_hoop_stress():
    """Hoop stress of Lamé's ring at the bore."""
    p, d, outer = inputs("pressure", "diameter", "hub_outer")
    modulus, poisson = sp.symbols("E nu", positive=True)
    r, _, hoop, _ = _lame(modulus, poisson, d, outer, p, 0)
    everywhere = sp.factor(hoop)
    return Derivation(
        fits.hub_hoop_stress,
        steps=[
            ("Lamé's ring under pressure in the bore, free outside: hoop stress.", everywhere),
            ("It is largest at the bore.", sp.factor(everywhere.subs(r, d / 2))),
        ],
        result=sp.factor(everywhere.subs(r, d / 2)),
        inside={"pressure": (1e6, 3e8), "diameter": (0.001, 0.005), "hub_outer": (0.006, 0.02)},
        tolerance=1e-11,
    )


def _grip():
    """Friction on a strip of the joint, and the ranges."""
    p, d, length, mu = inputs("pressure", "diameter", "length", "friction")
    inside = {
        "pressure": (1e6, 3e8),
        "diameter": (0.001, 0.01),
        "length": (0.001, 0.02),
        "friction": (0.05, 0.3),
    }
    return p, d, length, mu, inside


def slip_torque():
    """Friction on strips of the joint, each at the arm of the radius."""
    p, d, length, mu, inside = _grip()
    turn = sp.Symbol("phi", positive=True)
    strip = mu * p * (d / 2) * length
    total = sp.Integral(strip * d / 2, (turn, 0, 2 * sp.pi))
    return Derivation(
        fits.slip_torque,
        steps=[
            ("Pressure on a narrow strip along the shaft, times friction, per angle.", strip),
            ("Each strip pulls at the arm of the radius; all strips around.", total),
        ],
        result=total.doit(),
        inside=inside,
    )


def press_force():
    """Friction on strips of the joint, along the shaft."""
    p, d, length, mu, inside = _grip()
    turn = sp.Symbol("phi", positive=True)
    strip = mu * p * (d / 2) * length
    total = sp.Integral(strip, (turn, 0, 2 * sp.pi))
    return Derivation(
        fits.press_force,
        steps=[
            ("Pressure on a narrow strip along the shaft, times friction, per angle.", strip),
            ("All strips around pull along the shaft.", total),
        ],
        result=total.doit(),
        inside=inside,
    )
