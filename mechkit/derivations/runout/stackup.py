"""How offsets add up, derived where there is something to derive."""

import sympy as sp

from mechkit import runout
from mechkit.derivations import Derivation, Empirical, inputs


def _stack(random, count):
    """A stack of parts, for the tests that hold every formula alike."""
    return random.uniform(1e-6, 3e-5, count)


def worst_case_stack():
    """A plain sum over a list of any length."""
    return Empirical(
        runout.worst_case_stack,
        whose="a rule of tolerance analysis: arrows of one direction add up to their sum",
        inside={"eccentricities": _stack},
    )


def root_sum_square_stack():
    """A plain sum over a list of any length."""
    return Empirical(
        runout.root_sum_square_stack,
        whose="a rule of tolerance analysis: between arrows of any direction the mixed products "
        "are zero on the average, so that the squares add up",
        inside={"eccentricities": _stack},
    )


def face_wobble():
    """A bore that lies askew on its axle."""
    clearance, length, diameter = inputs("clearance", "length", "diameter")
    tilt = clearance / length
    return Derivation(
        runout.face_wobble,
        steps=[
            ("The bore touches at both ends, on opposite sides: a small angle.", tilt),
            ("The dial at the face goes up by the radius times it.", diameter / 2 * tilt),
            ("And down again by as much on the other side.", diameter * tilt),
        ],
        result=diameter * tilt,
        inside={
            "clearance": (0.000001, 0.00005),
            "length": (0.001, 0.008),
            "diameter": (0.005, 0.02),
        },
    )


def wobble_eccentricity():
    """The tilt times half the width."""
    reading, diameter, width = inputs("face_runout", "diameter", "face_width")
    tilt = sp.Symbol("angle", positive=True)
    found = sp.solve(sp.Eq(reading, diameter * tilt), tilt)[0]
    return Derivation(
        runout.wobble_eccentricity,
        steps=[
            ("The dial shows the tilt over the whole diameter.", sp.Eq(reading, diameter * tilt)),
            ("So much is the tilt.", sp.Eq(tilt, found)),
            ("Half a width from the middle the axis is off by this.", found * width / 2),
        ],
        result=found * width / 2,
        inside={
            "face_runout": (0.000001, 0.0001),
            "diameter": (0.005, 0.02),
            "face_width": (0.001, 0.005),
        },
    )
