"""Flywheel formulas, derived."""

import sympy as sp

from mechkit import flywheel
from mechkit.derivations import Derivation, inputs
from mechkit.derivations.flywheel import disc

#: Useful ranges while coasting.  The closed form loses digits with small damping, where the
#: handbook's does not; hence the tolerances below.
COASTING = {
    "speed": (200.0, 1500.0),
    "torque": (1e-4, 2e-3),
    "damping": (1e-7, 2e-6),
}
_SHAFT = {
    "mass": (0.003, 0.060),
    "overhang": (0.005, 0.030),
    "shaft_diameter": (0.001, 0.004),
    "elastic_modulus": (100e9, 220e9),
}


def ring_inertia():
    """Thin rings, added up from the bore to the rim."""
    outer, bore, width, density = inputs("outer", "bore", "width", "density")
    x = sp.Symbol("x", positive=True)
    thin_ring = 2 * sp.pi * x * width * density * x**2
    total = sp.Integral(thin_ring, (x, bore / 2, outer / 2))
    return Derivation(
        flywheel.ring_inertia,
        steps=[
            ("A thin ring at radius $x$: its mass times $x$ squared.", thin_ring),
            ("All rings from the bore to the rim.", total),
        ],
        result=total.doit(),
        inside={
            "outer": (0.008, 0.040),
            "width": (0.002, 0.030),
            "density": (1000.0, 19000.0),
            "bore": (0.001, 0.006),
        },
    )


def ring_mass():
    """Thin rings, added up from the bore to the rim."""
    outer, bore, width, density = inputs("outer", "bore", "width", "density")
    x = sp.Symbol("x", positive=True)
    thin_ring = 2 * sp.pi * x * width * density
    total = sp.Integral(thin_ring, (x, bore / 2, outer / 2))
    return Derivation(
        flywheel.ring_mass,
        steps=[
            ("A thin ring at radius $x$.", thin_ring),
            ("All rings from the bore to the rim.", total),
        ],
        result=total.doit(),
        inside=ring_inertia().inside,
    )


def equivalent_mass():
    """Equal kinetic energy at the motor and at the rail."""
    inertia, ratio, diameter = inputs("inertia", "gear_ratio", "wheel_diameter")
    mass, rail = sp.symbols("mass rail_speed", positive=True)
    speed = ratio * rail / (diameter / 2)
    equal = sp.Eq(mass * rail**2 / 2, inertia * speed**2 / 2)
    return Derivation(
        flywheel.equivalent_mass,
        steps=[
            ("Speed of the motor for a speed at the rail.", speed),
            ("Equal energy.", equal),
        ],
        result=sp.solve(equal, mass)[0],
        inside={
            "inertia": (1e-8, 5e-6),
            "gear_ratio": (10.0, 60.0),
            "wheel_diameter": (0.008, 0.045),
        },
    )


def _slowing():
    """Symbols of a coast, the speed on the way, and the braking torque there."""
    inertia, speed, torque, damping = inputs("inertia", "speed", "torque", "damping")
    w = sp.Symbol("w", positive=True)
    return inertia, speed, w, torque + damping * w


def coast_time():
    """Seconds for each radian a second lost, added up."""
    inertia, speed, w, braking = _slowing()
    each = inertia / braking
    total = sp.integrate(each, (w, 0, speed))
    return Derivation(
        flywheel.coast_time,
        steps=[
            ("The braking torque at a speed $w$ on the way.", braking),
            ("Time in which one radian a second is lost.", each),
            ("Added up from the start to standstill.", sp.simplify(total)),
        ],
        result=sp.simplify(total),
        inside={"inertia": (1e-8, 5e-6), **COASTING},
        tolerance=1e-11,
    )


def coast_angle():
    """Radians turned for each radian a second lost, added up."""
    inertia, speed, w, braking = _slowing()
    each = inertia * w / braking
    total = sp.integrate(each, (w, 0, speed))
    undamped = sp.limit(total, sp.Symbol("damping", positive=True), 0)
    return Derivation(
        flywheel.coast_angle,
        steps=[
            ("The braking torque at a speed $w$ on the way.", braking),
            ("Angle turned while one radian a second is lost.", each),
            ("Added up from the start to standstill.", sp.simplify(total)),
            ("Without damping it goes with the square of the speed.", undamped),
        ],
        result=sp.simplify(total),
        inside={"inertia": (1e-8, 5e-6), **COASTING},
        tolerance=1e-9,
    )


def permissible_eccentricity():
    """The grade is the speed at which the center of mass goes round."""
    grade, speed = inputs("balance_grade", "speed")
    eccentricity = sp.Symbol("eccentricity", positive=True)
    definition = sp.Eq(grade, eccentricity * speed)
    result = sp.solve(definition, eccentricity)[0]
    return Derivation(
        flywheel.permissible_eccentricity,
        steps=[
            ("Grade: offset times speed, by definition.", definition),
            ("Solved for the offset.", sp.Eq(eccentricity, result)),
        ],
        result=result,
        inside={"balance_grade": (0.0004, 0.04), "speed": (100.0, 3000.0)},
    )


def unbalance_force():
    """Mass times the acceleration on its circle."""
    mass, eccentricity, speed = inputs("mass", "eccentricity", "speed")
    t = sp.Symbol("t", positive=True)
    place = eccentricity * sp.Matrix([sp.cos(speed * t), sp.sin(speed * t)])
    acceleration = sp.diff(place, t, 2)
    size = sp.simplify(sp.sqrt(acceleration.dot(acceleration)))
    return Derivation(
        flywheel.unbalance_force,
        steps=[
            ("The center of mass runs on a circle.", place),
            ("Its acceleration.", acceleration),
            ("Its size, the same all the way round.", size),
        ],
        result=mass * size,
        inside={"mass": (0.003, 0.06), "eccentricity": (0.0, 1e-4), "speed": (0.0, 3000.0)},
    )


def disc_stress():
    """Equilibrium and compatibility of a turning disc, solid to the center."""
    outer, density, poisson, speed = inputs("outer", "density", "poisson", "speed")
    equation, general, r = disc.balance(density, poisson, speed)
    solid = general.rhs.subs(sp.Symbol("C1"), 0)
    radial, hoop = disc.stresses(solid, r, poisson)
    rim = sp.solve(radial.subs(r, outer / 2), sp.Symbol("C2"))[0]
    result = sp.factor(sp.limit(hoop.subs(sp.Symbol("C2"), rim), r, 0))
    return Derivation(
        flywheel.disc_stress,
        steps=[
            ("Forces on a ring element, with the strains of one displacement.", equation),
            ("Its general solution.", general),
            ("The center does not move, so one constant is zero.", solid),
            ("The rim carries no radial stress: the other.", rim),
            ("Hoop stress at the center.", result),
        ],
        result=result,
        inside={
            "outer": (0.008, 0.040),
            "density": (1000.0, 19000.0),
            "poisson": (0.2, 0.4),
            "speed": (0.0, 3000.0),
        },
    )


def _bend():
    """Load, deflection and bending stiffness of a round shaft."""
    diameter, modulus = inputs("shaft_diameter", "elastic_modulus")
    load, deflection = sp.symbols("load deflection", positive=True)
    r, angle = sp.symbols("r theta", positive=True)
    area_moment = sp.integrate(
        sp.integrate(r**3 * sp.sin(angle) ** 2, (r, 0, diameter / 2)), (angle, 0, 2 * sp.pi)
    )
    return load, deflection, modulus, area_moment


def _whirl(bend, load, mass):
    """Critical speed: the shaft's pull just feeds the circle."""
    return sp.sqrt(sp.simplify(load / (bend * mass)))


def overhung_critical_speed():
    """Bend of a cantilever from the work of bending, then the circle it can hold."""
    mass, overhang = inputs("mass", "overhang")
    load, _, modulus, area_moment = _bend()
    x = sp.Symbol("x", positive=True)
    moment = load * (overhang - x)
    energy = sp.integrate(moment**2 / (2 * modulus * area_moment), (x, 0, overhang))
    bend = sp.diff(energy, load)
    result = _whirl(bend, load, mass)
    return Derivation(
        flywheel.overhung_critical_speed,
        steps=[
            ("Second moment of area of the round shaft.", area_moment),
            ("Bending moment along the overhang, shaft held stiffly.", moment),
            ("Bend under the load, from the energy of bending.", bend),
            ("Where load over bend feeds the circle at any radius, it whirls.", result),
        ],
        result=result,
        inside=_SHAFT,
    )


def critical_speed():
    """The same with a second bearing: the span bends too, and lets the shaft tilt."""
    mass, overhang, span = inputs("mass", "overhang", "span")
    load, _, modulus, area_moment = _bend()
    x = sp.Symbol("x", positive=True)
    outside = load * (overhang - x)
    between = load * overhang * x / span
    energy = sp.integrate(outside**2, (x, 0, overhang)) + sp.integrate(between**2, (x, 0, span))
    bend = sp.factor(sp.diff(energy / (2 * modulus * area_moment), load))
    result = _whirl(bend, load, mass)
    return Derivation(
        flywheel.critical_speed,
        steps=[
            ("Bending moment along the overhang.", outside),
            ("Between the bearings it falls to nothing at the far one.", between),
            ("Bend under the load, from the energy of bending.", bend),
            ("Where load over bend feeds the circle at any radius, it whirls.", result),
        ],
        result=result,
        inside={**_SHAFT, "span": (0.008, 0.050)},
    )
