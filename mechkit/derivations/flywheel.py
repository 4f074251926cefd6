"""Flywheel formulas, derived."""

import sympy as sp

from mechkit import flywheel
from mechkit.derivations import Derivation, inputs


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
