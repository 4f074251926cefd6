"""Bowed and waved washers, derived."""

import sympy as sp

from mechkit import springs
from mechkit.derivations import Derivation, Empirical, inputs


def waved_washer_factor():
    """A ring of thin strip, bent out of its plane in waves, twists as it bends."""
    waves, poisson = inputs("waves", "poisson")
    m = sp.Symbol("m", integer=True, positive=True)
    height, radius, stiff, ratio, z = sp.symbols("w R B lambda z", positive=True)
    angle, turned = sp.symbols("theta beta", real=True)
    shape, turn = height * sp.cos(m * angle), turned * sp.cos(m * angle)
    bending = (turn - sp.diff(shape, angle, 2) / radius) / radius
    twisting = (sp.diff(turn, angle) + sp.diff(shape, angle) / radius) / radius
    strain = sp.expand(bending**2 + ratio * twisting**2)
    energy = sp.factor(sp.integrate(strain, (angle, 0, 2 * sp.pi)) * stiff * radius / 2)
    (least,) = sp.solve(sp.diff(energy, turned), turned)
    settled = sp.factor(energy.subs(turned, least))
    softness = sp.factor(height / sp.diff(settled, height))
    # crests and troughs of the load meet odd waves only, each with the work 2 P w
    one = sp.factor((softness * sp.pi * stiff / radius**3).subs(m**2, z).subs(m, sp.sqrt(z)))
    total = sp.Symbol("S", positive=True)
    load = sp.Symbol("P", positive=True)
    give = 4 * load * radius**3 / (sp.pi * stiff) * total
    # 1/(m^2 - a) summed over the odd multiples m of the number of waves
    a = sp.Symbol("a", positive=True)
    tangent = sp.pi / (4 * waves * sp.sqrt(a)) * sp.tan(sp.pi * sp.sqrt(a) / (2 * waves))
    summed = (
        sp.limit(one * z, z, 0) * sp.limit(tangent, a, 0)
        + sp.residue(one, z, 1) * tangent.subs(a, 1)
        + sp.limit(one * (z - 1) ** 2, z, 1) * sp.diff(tangent, a).subs(a, 1)
    )
    # the deflection is K P D^3 / (E b t^3 N^4), with D = 2 R and E b t^3 = 12 B
    factor = give * 12 * stiff * waves**4 / (load * (2 * radius) ** 3)
    factor = factor.subs(total, summed).subs(ratio, 2 / (1 + poisson))
    return Derivation(
        springs.waved_washer_factor,
        steps=[
            ("A ring bent to $m$ waves of height $w$, its section turned by $\\beta$: "
             "curvature out of the plane.", bending),
            ("And twist.", twisting),
            ("Energy; $\\lambda$ is twisting over bending stiffness.", energy),
            ("The section turns until the energy is least.", sp.Eq(turned, least)),
            ("Settled so, the ring is a spring; its softness.", softness),
            ("A load $P$ shared by the crests bends the ring in all odd multiples of its waves. "
             "Crest to trough it gives this, with $S$ the sum of the terms below.", give),
            ("One term of the sum, $z = m^2$.", one),
            ("In partial fractions.", sp.apart(one, z)),
            ("Fractions $1/(m^2 - a)$ add up to this, by the series of the tangent; differentiated "
             "by $a$ it gives the squares.", tangent),
            ("The whole sum.", sp.Eq(total, summed)),
            ("Thin strip has $B = E b t^3/12$ and $\\lambda = 2/(1 + \\nu)$: the factor.", factor),
        ],
        result=factor,
        inside={"waves": (2.0, 8.0), "poisson": (0.25, 0.4)},
        tolerance=1e-10,
    )  # fmt: skip


def waved_washer_rate():
    """Each wave is a beam from trough to trough."""
    elastic_modulus, width, thickness, mean_diameter, waves, deflection_factor = inputs(
        "elastic_modulus", "width", "thickness", "mean_diameter", "waves", "deflection_factor"
    )
    x, load = sp.symbols("x P", positive=True)
    span = sp.pi * mean_diameter / waves
    second = width * thickness**3 / 12
    moment = load / waves / 2 * x
    energy = 2 * sp.integrate(moment**2 / (2 * elastic_modulus * second), (x, 0, span / 2))
    share = load / waves
    hinged = sp.simplify(load / (sp.diff(energy, load) / sp.diff(share, load)))
    free_factor = sp.simplify(
        elastic_modulus * width * thickness**3 * waves**4 / (hinged * mean_diameter**3)
    )
    result = hinged * free_factor / deflection_factor
    return Derivation(
        springs.waved_washer_rate,
        steps=[
            ("Straightened, one wave is a beam from trough to trough.", span),
            ("Its crest carries one share of the load; the bending moment.", moment),
            ("Energy in that beam, were its ends hinged; the load does work in each.", energy),
            ("The rate of the hinged washer.", hinged),
            ("So hinged ends mean a deflection factor of 7.8; ends held level, a quarter.",
             free_factor),
            ("What really holds the crests is left to the factor.", result),
        ],
        result=result,
        inside={
            "elastic_modulus": (90e9, 210e9),
            "width": (0.0004, 0.001),
            "thickness": (0.00005, 0.0002),
            "mean_diameter": (0.003, 0.006),
            "waves": (2.0, 4.0),
            "deflection_factor": (1.9, 7.8),
        },
    )  # fmt: skip


def bowed_washer_stress():
    """A design formula."""
    return Empirical(
        springs.bowed_washer_stress,
        whose="a design formula of the spring trade, as the Navy's reliability handbook has it.",
        inside={
            "elastic_modulus": (90e9, 210e9),
            "deflection": (0.00002, 0.0003),
            "thickness": (0.00005, 0.0002),
            "outer": (0.003, 0.008),
        },
    )
