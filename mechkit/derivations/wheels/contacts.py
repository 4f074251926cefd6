"""Contact of a wheel on its rail, derived."""

import sympy as sp

from mechkit import names, wheels
from mechkit.derivations import Derivation, inputs

_PRESS = {"force": (0.05, 2.0), "hardness": (0.6e9, 2.4e9)}
_RADIUS = sp.Symbol("a", positive=True)


def _spot():
    """The spot grows until its hardness carries the force."""
    force, hardness = inputs("force", "hardness")
    carries = sp.Eq(sp.pi * _RADIUS**2 * hardness, force)
    (radius,) = sp.solve(carries, _RADIUS)
    return carries, radius


def contact_spot():
    """Area times hardness."""
    carries, radius = _spot()
    return Derivation(
        wheels.contact_spot,
        steps=[
            ("Peaks flow until their area times the hardness carries the force.", carries),
            ("As one round spot:", sp.Eq(_RADIUS, radius)),
        ],
        result=radius,
        inside=_PRESS,
    )


def constriction_resistance():
    """Flow into a disc, through confocal shells that the current crosses at right angles."""
    one, two = inputs("resistivity_1", "resistivity_2")
    depth, r, z, rho = sp.symbols("zeta r z rho", positive=True)
    shell = sp.Eq(r**2 / (_RADIUS**2 + depth**2) + z**2 / depth**2, 1)
    each = rho / (2 * sp.pi * (_RADIUS**2 + depth**2))
    far = sp.limit(each * depth**2, depth, sp.oo)
    half = sp.Integral(each, (depth, 0, sp.oo))
    both = half.doit().subs(rho, one) + half.doit().subs(rho, two)
    _, radius = _spot()
    return Derivation(
        wheels.constriction_resistance,
        steps=[
            ("Inside a metal the voltage is alike on shells around the spot.", shell),
            (r"From one to the next an ampere drops this, per step in $\zeta$.", each),
            ("Far away they are half spheres: times the radius squared it must be:", far),
            ("All shells of one metal, from the spot outward.", sp.Eq(half, half.doit())),
            ("Wheel and rail in a row.", both),
        ],
        result=both.subs(_RADIUS, radius),
        inside={**_PRESS, "resistivity_1": (2e-8, 40e-8), "resistivity_2": (2e-8, 40e-8)},
    )


def tarnish_resistance():
    """The film over the area of the spot."""
    film, _ = inputs("film_resistance", "force")
    carries, radius = _spot()
    through = film / (sp.pi * _RADIUS**2)
    return Derivation(
        wheels.tarnish_resistance,
        steps=[
            ("A film's resistance is shared by the area of the spot.", through),
            ("Which carries the force.", carries),
        ],
        result=sp.simplify(through.subs(_RADIUS, radius)),
        inside={**_PRESS, "film_resistance": (1e-13, 1e-8)},
    )


def path_resistance():
    """Side by side on a rail, one rail after the other."""
    each, one, two = inputs("contact_resistance", "wheels_1", "wheels_2")
    count, total = sp.symbols("n R", positive=True)
    side = sp.Eq(1 / total, count / each)
    (of_one,) = sp.solve(side, total)
    both = of_one.subs(count, one) + of_one.subs(count, two)
    return Derivation(
        wheels.path_resistance,
        steps=[
            ("Wheels on one rail stand side by side: they conduct together.", side),
            ("The current passes one rail's wheels, then the other's.", both),
        ],
        result=both,
        inside={
            "contact_resistance": (1e-3, 10.0),
            "wheels_1": [1, 2, 3, 4, 6],
            "wheels_2": [1, 2, 3, 4, 6],
        },
    )


def _heat():
    """Heat made between spot and a shell, led away through it."""
    voltage, ambient, temperature = inputs("contact_voltage", "ambient", "temperature")
    lorenz, fall, warm = sp.symbols("L u T", positive=True)
    slope = sp.Eq(lorenz * warm * sp.Symbol("dT/du"), -fall)
    up = sp.Integral(lorenz * warm, (warm, ambient, temperature))
    down = sp.Integral(fall, (fall, 0, voltage / 2))
    total = sp.Eq(up.doit(), down.doit())
    steps = [
        (
            "Between the spot and a shell $u$ volts away each ampere makes $u$ watts; led away they "
            "need this fall of temperature, conductivity times resistivity being $L T$.",
            slope,
        ),
        ("From the metal around up to the spot, half of the voltage away.", sp.Eq(up, down)),
        ("Added up.", total),
    ]
    return steps, total, voltage, temperature, lorenz


def contact_temperature():
    """Solved for the temperature."""
    steps, total, _, temperature, lorenz = _heat()
    (hot,) = sp.solve(total, temperature)
    return Derivation(
        wheels.contact_temperature,
        steps=[*steps, ("Solved for the spot.", sp.Eq(temperature, hot))],
        result=hot.subs(lorenz, names.LORENZ_NUMBER),
        inside={"contact_voltage": (0.0, 0.5), "ambient": (270.0, 330.0)},
    )


def softening_voltage():
    """Solved for the voltage."""
    steps, total, voltage, _, lorenz = _heat()
    square = sp.Symbol("square", positive=True)
    (solved,) = sp.solve(total.subs(voltage**2, square), square)
    most = sp.sqrt(solved)
    return Derivation(
        wheels.softening_voltage,
        steps=[*steps, ("Solved for the voltage.", sp.Eq(voltage, most))],
        result=most.subs(lorenz, names.LORENZ_NUMBER),
        inside={"temperature": (400.0, 1400.0), "ambient": (270.0, 330.0)},
    )


def punctured_film():
    """Voltage over thickness is the field."""
    voltage, strength = inputs("voltage", "film_strength")
    thick = sp.Symbol("s", positive=True)
    breaks = sp.Eq(voltage / thick, strength)
    (most,) = sp.solve(breaks, thick)
    return Derivation(
        wheels.punctured_film,
        steps=[
            (
                "The whole voltage stands across the film: it breaks where the field is this.",
                breaks,
            ),
            ("So films up to here break.", sp.Eq(thick, most)),
        ],
        result=most,
        inside={"voltage": (0.5, 20.0), "film_strength": (2e7, 1e9)},
    )
