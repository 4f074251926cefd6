"""What a caliper reads on a gear, derived."""

import sympy as sp

from mechkit import gears
from mechkit.derivations import Derivation, Empirical, inputs


def _base_pitch():
    module, angle, teeth = inputs("module", "pressure_angle", "teeth")
    return sp.pi * (module * teeth * sp.cos(angle)) / teeth


def base_pitch():
    """The base circle shared out among the teeth."""
    module, angle, teeth = inputs("module", "pressure_angle", "teeth")
    return Derivation(
        gears.base_pitch,
        steps=[
            ("The base circle's diameter.", module * teeth * sp.cos(angle)),
            ("Strings of neighboring flanks leave it one share of its rim apart.", _base_pitch()),
        ],
        result=_base_pitch(),
        inside={"module": (0.0002, 0.001), "pressure_angle": (0.25, 0.44)},
    )


def spanned_teeth():
    """A count rounded to the nearest tooth."""
    return Empirical(
        gears.spanned_teeth,
        whose="a counting rule: the span whose jaws touch nearest to the pitch circle",
        inside={"teeth": (12.0, 60.0), "pressure_angle": (0.25, 0.44)},
    )


def span_measurement():
    """A taut string over several teeth: whole base pitches and one tooth."""
    module, teeth, angle, spanned = inputs("module", "teeth", "pressure_angle", "spanned_teeth")
    tooth = module * teeth * sp.cos(angle) * (sp.pi / (2 * teeth) + sp.tan(angle) - angle)
    total = (spanned - 1) * _base_pitch() + tooth
    return Derivation(
        gears.span_measurement,
        steps=[
            (
                "Both jaws touch square to a line that is tangent to the base circle: the reading "
                "is a piece of string laid on that circle.",
                _base_pitch(),
            ),
            ("At the base circle one tooth is so thick.", tooth),
            ("One tooth, and a base pitch for each one more.", total),
        ],
        result=sp.simplify(total),
        inside={
            "module": (0.0002, 0.001),
            "teeth": (20.0, 60.0),
            "pressure_angle": (0.25, 0.44),
            "spanned_teeth": (2.0, 8.0),
        },
    )


def diameter_over_odd_teeth():
    """One tip against two: the far jaw lies on their near corners."""
    reading, teeth, land = inputs("reading", "teeth", "tip_land")
    radius = sp.Symbol("r", positive=True)
    askew = sp.pi / teeth - land / reading
    between = sp.Eq(reading, radius + radius * sp.cos(askew))
    return Derivation(
        gears.diameter_over_odd_teeth,
        steps=[
            (
                "Opposite to a tip is a gap; the middle of either tip beside it stands off by half "
                "a pitch, its near corner by half a tip less (the reading stands for the "
                "diameter in this small angle).",
                askew,
            ),
            ("From the tip to the jaw across the two corners.", between),
        ],
        result=2 * sp.solve(between, radius)[0],
        inside={"reading": (0.004, 0.03), "teeth": (11.0, 61.0), "tip_land": (0.0, 0.00005)},
    )


def identify():
    """Bayes' rule over a table."""
    return Empirical(
        gears.identify,
        whose="Bayes' rule with normal errors over the standard series of sizes",
        scales=False,
    )


def identify_by_spans():
    """Bayes' rule over a table."""
    return Empirical(
        gears.identify_by_spans,
        whose="Bayes' rule with normal errors over the standard sizes and pressure angles",
        scales=False,
    )
