"""A pair of gears at its center distance, derived."""

import sympy as sp

from mechkit import gears
from mechkit.derivations import Derivation, Empirical, inputs

#: A small pair, opened by a quarter of a module and less.
PAIR = {
    "module": (0.0004, 0.000402),
    "teeth_1": (14.0, 14.2),
    "teeth_2": (28.0, 28.4),
    "pressure_angle": (0.25, 0.42),
}
OPENED = {"center_distance": (0.00861, 0.0088)}


def _nominal():
    """Nominal center distance and the two base radii together."""
    module, teeth_1, teeth_2, angle = inputs("module", "teeth_1", "teeth_2", "pressure_angle")
    nominal = module * (teeth_1 + teeth_2) / 2
    return nominal, nominal * sp.cos(angle)


def _involute(angle):
    return sp.tan(angle) - angle


def center_distance():
    """Two pitch circles that roll on one another."""
    module, teeth_1, teeth_2 = inputs("module", "teeth_1", "teeth_2")
    radius_1, radius_2 = module * teeth_1 / 2, module * teeth_2 / 2
    return Derivation(
        gears.center_distance,
        steps=[
            ("Pitch radius of the first gear.", radius_1),
            ("Pitch radius of the second.", radius_2),
            ("The circles touch.", radius_1 + radius_2),
        ],
        result=sp.factor(radius_1 + radius_2),
        inside={"module": (0.0002, 0.001), "teeth_1": (12.0, 40.0), "teeth_2": (12.0, 60.0)},
    )


def working_pressure_angle():
    """The base circles stay; the line of action between them leans."""
    (distance,) = inputs("center_distance")
    cosine = sp.Symbol("c", positive=True)
    _, base_radii = _nominal()
    triangle = sp.Eq(distance * cosine, base_radii)
    found = sp.solve(triangle, cosine)[0]
    return Derivation(
        gears.working_pressure_angle,
        steps=[
            (
                "Both base radii together: the cutter made them, moving the gears keeps them.",
                base_radii,
            ),
            (
                "Seen along the line of action the centers are that far apart; $c$ is the cosine "
                "of its lean.",
                triangle,
            ),
            ("Solved for the cosine.", sp.Eq(cosine, found)),
        ],
        result=sp.acos(found),
        inside={**PAIR, **OPENED},
    )


def path_of_contact():
    """The line of action, from where one tip circle cuts it to where the other does."""
    module, teeth_1, teeth_2, angle = inputs("module", "teeth_1", "teeth_2", "pressure_angle")
    addendum, distance = inputs("addendum", "center_distance")
    _, base_radii = _nominal()
    line = sp.sqrt(distance**2 - base_radii**2)
    ends = []
    for mine in (teeth_2, teeth_1):
        tip, base = module * mine / 2 + addendum, module * mine / 2 * sp.cos(angle)
        flank = sp.sqrt(tip**2 - base**2)
        ends.append(sp.Min(flank, line) - line * mine / (teeth_1 + teeth_2))
    tip, base = sp.symbols("r_a r_b", positive=True)
    return Derivation(
        gears.path_of_contact,
        steps=[
            ("Between the base circles the line of action is this long.", line),
            (
                "A tip circle cuts it this far from the point where it touches its own base circle.",
                sp.sqrt(tip**2 - base**2),
            ),
            (
                "The pitch point divides the line as the teeth; approach runs from it to the tips "
                "of the driven gear, but not past the end of the line.",
                ends[0],
            ),
            ("Recess, to the tips of the driving gear.", ends[1]),
        ],
        result=sp.Tuple(*ends),
        inside={**PAIR, "addendum": (0.00036, 0.00044), "center_distance": (0.00841, 0.0088)},
        tolerance=1e-11,  # differences of lengths five times as long
    )


def contact_ratio():
    """The path of contact, counted in base pitches."""
    module, angle = inputs("module", "pressure_angle")
    path = path_of_contact()
    approach, recess = path.result
    base_pitch = sp.pi * module * sp.cos(angle)
    return Derivation(
        gears.contact_ratio,
        steps=[
            ("Approach and recess.", path.result),
            ("The next pair of flanks follows one base pitch behind.", base_pitch),
            ("Gears that no longer reach each other have no path.", sp.Max(approach + recess, 0)),
        ],
        result=sp.Max(approach + recess, 0) / base_pitch,
        inside=path.inside,
        tolerance=1e-11,
    )


def backlash():
    """The pitch on the working circles, less one tooth of either gear."""
    teeth_1, teeth_2, angle, distance = inputs(
        "teeth_1", "teeth_2", "pressure_angle", "center_distance"
    )
    working = sp.Symbol("working_pressure_angle", positive=True)
    radius_1 = distance * teeth_1 / (teeth_1 + teeth_2)
    radius_2 = distance * teeth_2 / (teeth_1 + teeth_2)
    pitch = 2 * sp.pi * radius_1 / teeth_1
    tooth_1, tooth_2 = (
        2 * radius * (sp.pi / (2 * teeth) + _involute(angle) - _involute(working))
        for radius, teeth in ((radius_1, teeth_1), (radius_2, teeth_2))
    )
    left = sp.simplify(pitch - tooth_1 - tooth_2)
    _, base_radii = _nominal()
    return Derivation(
        gears.backlash,
        steps=[
            ("The pitch on the circles that now roll on one another.", pitch),
            ("A tooth of the first gear is so thick there.", tooth_1),
            ("A tooth of the second.", tooth_2),
            ("What is left of the pitch.", left),
        ],
        result=left.subs(working, sp.acos(base_radii / distance)),
        inside={**PAIR, **OPENED},
        tolerance=1e-10,  # a small difference of angles that are nearly alike
    )


def backlash_approximate():
    """The slope of the exact backlash where the gears just close up."""
    angle, distance = inputs("pressure_angle", "center_distance")
    x = sp.Symbol("working_pressure_angle", positive=True)
    nominal, base_radii = _nominal()
    wide = base_radii / sp.cos(x)
    exact = 2 * wide * (_involute(x) - _involute(angle))
    slope = sp.simplify(sp.diff(exact, x) / sp.diff(wide, x))
    at_nominal = sp.simplify(slope.subs(x, angle))
    return Derivation(
        gears.backlash_approximate,
        steps=[
            ("The center distance that belongs to a working pressure angle.", wide),
            ("The exact backlash there.", exact),
            ("How fast it opens with the center distance.", slope),
            ("At the nominal center distance, where the angle is the cutter's.", at_nominal),
        ],
        result=at_nominal * (distance - nominal),
        inside={**PAIR, **OPENED},
        tolerance=1e-11,
    )


def center_distance_for_backlash():
    """No closed form: the involute function has no inverse in plain terms."""
    return Empirical(
        gears.center_distance_for_backlash,
        whose="the inverse of the exact backlash, which has no closed form: solved by Newton's method",
        inside={**PAIR, "backlash": (0.0, 0.0002)},
    )
