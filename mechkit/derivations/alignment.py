"""Alignment formulas, derived from the bending of a slender shaft."""

from functools import cache

import sympy as sp

from mechkit import alignment
from mechkit.derivations import Derivation, Empirical, inputs

_SHAFT = {"shaft_diameter": (0.001, 0.004), "elastic_modulus": (100e9, 210e9)}


def _second_moment(d):
    """Second moment of area of a round shaft, thin slices added up."""
    r, turn = sp.Symbol("r", positive=True), sp.Symbol("phi", positive=True)
    return sp.integrate((r * sp.sin(turn)) ** 2 * r, (r, 0, d / 2), (turn, 0, 2 * sp.pi))


def _bent(stiffness, moment, x, *conditions):
    """The curve of a shaft from its bending moment, ends given as {place: value}."""
    y = sp.Function("y")
    curve = sp.dsolve(sp.Eq(stiffness * y(x).diff(x, 2), moment), y(x))
    c1, c2 = sp.symbols("C1 C2")
    found = sp.solve([condition(curve.rhs) for condition in conditions], [c1, c2], dict=True)
    return sp.factor(curve.rhs.subs(found[0]))


def shaft_rate():
    """A cantilever: bending moment, twice integrated."""
    span, d, modulus = inputs("span", "shaft_diameter", "elastic_modulus")
    x, force = sp.symbols("x F", positive=True)
    second = _second_moment(d)
    moment = force * (span - x)
    curve = _bent(
        modulus * second, moment, x, lambda y: y.subs(x, 0), lambda y: y.diff(x).subs(x, 0)
    )
    tip = sp.simplify(curve.subs(x, span))
    return Derivation(
        alignment.shaft_rate,
        steps=[
            ("Second moment of area of the round shaft.", second),
            ("A push at the end bends the shaft by this moment.", moment),
            ("Curvature is moment over stiffness; firm at the start, the curve is:", curve),
            ("The end moves by:", tip),
        ],
        result=sp.simplify(force / tip),
        inside={"span": (0.005, 0.06), **_SHAFT},
    )


def side_load():
    """Stiffness times offset."""
    offset = inputs("offset")[0]
    force = sp.Symbol("F", positive=True)
    rate = shaft_rate()
    moves = sp.Eq(force / rate.result, offset)
    return Derivation(
        alignment.side_load,
        steps=[
            *rate.steps,
            ("The bearing pushes until the end sits in it.", moves),
        ],
        result=sp.solve(moves, force)[0],
        inside={"offset": (1e-6, 2e-4), "span": (0.005, 0.06), **_SHAFT},
    )


@cache
def _three_bearings():
    """Tip of a shaft on two supports, pushed at its overhang: travel per force."""
    a, b, d, modulus = inputs("bearing_span", "span", "shaft_diameter", "elastic_modulus")
    x, force = sp.symbols("x F", positive=True)
    stiffness = modulus * _second_moment(d)
    between = _bent(stiffness, force * b / a * x, x, lambda y: y.subs(x, 0), lambda y: y.subs(x, a))
    slope = sp.simplify(between.diff(x).subs(x, a))
    beyond = _bent(
        stiffness,
        force * (b - x),
        x,
        lambda y: y.subs(x, 0),
        lambda y: y.diff(x).subs(x, 0) - slope,
    )
    return a, b, force, between, slope, sp.factor(beyond.subs(x, b))


def third_bearing_load():
    """Two pieces of shaft that meet with one slope."""
    offset = inputs("offset")[0]
    _, _, force, between, slope, tip = _three_bearings()
    moves = sp.Eq(tip, offset)
    return Derivation(
        alignment.third_bearing_load,
        steps=[
            ("Between the two bearings in line the shaft bends to:", between),
            ("It leaves the nearer one with the slope:", slope),
            ("From there it bends on, and its end moves by:", tip),
            ("The third bearing pushes until the end sits in it.", moves),
        ],
        result=sp.solve(moves, force)[0],
        inside={
            "offset": (1e-6, 2e-4),
            "bearing_span": (0.005, 0.06),
            "span": (0.005, 0.06),
            **_SHAFT,
        },
        tolerance=1e-11,
    )


def bearing_loads():
    """Solved by a spline routine, for any number of bearings."""

    def places(random, count):
        return [0.0, 0.012, 0.020, 0.045]

    def heights(random, count):
        return [0.0, 2e-5, -3e-5, 1e-5]

    return Empirical(
        alignment.bearing_loads,
        whose="a numeric solution (natural cubic spline) of the equation the others derive.",
        inside={
            "positions": places,
            "offsets": heights,
            "shaft_diameter": (0.001, 0.003),
            "elastic_modulus": (70e9, 210e9),
        },
    )


def friction_torque():
    """Statics of three bearings, then friction at the shaft's surface."""
    mu, d = inputs("friction", "shaft_diameter")
    a, b, third, _, _, _ = _three_bearings()
    far, near = sp.symbols("F_1 F_2", positive=True)
    balance = [sp.Eq(near, third + far), sp.Eq(far * a, third * b)]
    found = sp.solve(balance, [far, near], dict=True)[0]
    together = sp.factor(third + found[far] + found[near])
    load = third_bearing_load().result
    return Derivation(
        alignment.friction_torque,
        steps=[
            ("The nearer bearing holds against the other two.", balance[0]),
            ("And nothing turns the shaft about it.", balance[1]),
            ("Side loads of all three together.", together),
            ("The third bearing's load, from the bending of the shaft.", load),
            ("Friction at the shaft's surface, at the arm of its radius.", mu * together * d / 2),
        ],
        result=(mu * together * d / 2).subs(third, load),
        inside={
            "friction": (0.01, 0.3),
            "offset": (1e-6, 2e-4),
            "bearing_span": (0.005, 0.06),
            "span": (0.005, 0.06),
            **_SHAFT,
        },
        tolerance=1e-11,
    )


def soft_side_load():
    """Shaft and bed carry one force and share the offset."""
    offset, shaft, bed = inputs("offset", "shaft_rate", "bed_rate")
    force = sp.Symbol("F", positive=True)
    shared = sp.Eq(force / shaft + force / bed, offset)
    return Derivation(
        alignment.soft_side_load,
        steps=[
            ("One force bends the shaft and moves the bed.", force / shaft),
            ("Both travels together make up the offset.", shared),
        ],
        result=sp.solve(shared, force)[0],
        inside={"offset": (1e-6, 2e-4), "shaft_rate": (1e3, 1e6), "bed_rate": (100.0, 1e5)},
    )


def bed_resonance():
    """A mass that swings on a spring."""
    mass, bed = inputs("mass", "bed_rate")
    t, w, size = sp.symbols("t omega A", positive=True)
    swing = size * sp.cos(w * t)
    equation = sp.Eq(mass * swing.diff(t, 2) + bed * swing, 0)
    always = sp.Eq(sp.cancel(equation.lhs / swing), 0)
    return Derivation(
        alignment.bed_resonance,
        steps=[
            ("A steady swing.", swing),
            ("It needs no push when spring and inertia balance.", equation),
            ("At every moment, not only when the swing passes the middle.", always),
        ],
        result=sp.solve(always, w)[0],
        inside={"mass": (0.005, 0.1), "bed_rate": (100.0, 1e5)},
    )


def transmitted_share():
    """A mass on a damped spring, shaken by a steady force."""
    speed, resonance, zeta = inputs("speed", "resonance", "damping_ratio")
    swing = sp.Symbol("X", complex=True)
    # mass and force are 1: only their ratio counts
    balance = sp.Eq((resonance**2 - speed**2 + 2 * sp.I * zeta * resonance * speed) * swing, 1)
    found = sp.solve(balance, swing)[0]
    passed = (resonance**2 + 2 * sp.I * zeta * resonance * speed) * found
    share = sp.simplify(sp.sqrt(sp.simplify(sp.expand(passed * sp.conjugate(passed)))))
    return Derivation(
        alignment.transmitted_share,
        steps=[
            ("Inertia, damping and spring of a unit mass balance a unit shaking force.", balance),
            ("Spring and damper pass on to the frame.", passed),
            ("Its size is the share.", share),
        ],
        result=share,
        inside={"speed": (1.0, 2000.0), "resonance": (50.0, 1000.0), "damping_ratio": (0.01, 0.5)},
        tolerance=1e-10,
    )
