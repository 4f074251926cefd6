"""Sizes of one gear, derived."""

import sympy as sp

from mechkit import gears
from mechkit.derivations import Derivation, inputs

MODULE, TEETH, ANGLE = (0.0002, 0.001), (12.0, 60.0), (0.25, 0.44)


def module_from_diametral_pitch():
    """The same diameter counted both ways."""
    diametral_pitch, teeth, module, diameter = inputs("diametral_pitch", "teeth", "module", "D")
    inch = sp.Eq(diameter, teeth / diametral_pitch)
    metric = sp.Eq(diameter, module * teeth)
    result = sp.solve(metric.subs(diameter, inch.rhs), module)[0]
    return Derivation(
        gears.module_from_diametral_pitch,
        steps=[
            ("The diametral pitch counts teeth along the pitch diameter.", inch),
            ("The module is the length of pitch diameter that one tooth takes.", metric),
            ("Both speak of the same diameter.", sp.Eq(module, result)),
        ],
        result=result,
        inside={"diametral_pitch": (1200.0, 5000.0)},
    )


def pitch_diameter():
    """The teeth laid off round the circle."""
    module, teeth, diameter = inputs("module", "teeth", "D")
    pitch = sp.pi * module
    round_the_circle = sp.Eq(sp.pi * diameter, teeth * pitch)
    return Derivation(
        gears.pitch_diameter,
        steps=[
            ("A module is made so that the circular pitch is $\\pi$ modules.", pitch),
            ("Round the pitch circle lies one pitch for each tooth.", round_the_circle),
        ],
        result=sp.solve(round_the_circle, diameter)[0],
        inside={"module": MODULE, "teeth": TEETH},
    )


def outside_diameter():
    """Pitch diameter and two addenda."""
    module, teeth, coefficient = inputs("module", "teeth", "addendum_coefficient")
    addendum = coefficient * module
    return Derivation(
        gears.outside_diameter,
        steps=[
            ("The pitch diameter.", module * teeth),
            ("A tooth stands out of the pitch circle by its addendum.", addendum),
            ("Tip to tip there are two of them.", module * teeth + 2 * addendum),
        ],
        result=sp.factor(module * teeth + 2 * addendum),
        inside={"module": MODULE, "teeth": TEETH, "addendum_coefficient": (0.8, 1.2)},
    )


def root_diameter():
    """Pitch diameter less two dedenda."""
    module, teeth, coefficient = inputs("module", "teeth", "dedendum_coefficient")
    dedendum = coefficient * module
    return Derivation(
        gears.root_diameter,
        steps=[
            ("The pitch diameter.", module * teeth),
            ("A tooth space goes below the pitch circle by the dedendum.", dedendum),
            ("Root to root there are two of them.", module * teeth - 2 * dedendum),
        ],
        result=sp.factor(module * teeth - 2 * dedendum),
        inside={"module": MODULE, "teeth": TEETH, "dedendum_coefficient": (1.1, 1.5)},
    )


def base_diameter():
    """The right triangle between pitch point, center and line of action."""
    module, teeth, angle = inputs("module", "teeth", "pressure_angle")
    base = sp.Symbol("d_b", positive=True)
    triangle = sp.Eq(sp.cos(angle), (base / 2) / (module * teeth / 2))
    return Derivation(
        gears.base_diameter,
        steps=[
            ("The pitch radius, from the center to the pitch point.", module * teeth / 2),
            (
                "The line of action passes the pitch point and leans by the pressure angle; the "
                "base radius meets it square, so that the pitch radius is the longest side.",
                triangle,
            ),
        ],
        result=sp.solve(triangle, base)[0],
        inside={"module": MODULE, "teeth": TEETH, "pressure_angle": ANGLE},
    )


def involute():
    """A taut string unwound from the base circle, its angle added up."""
    (angle,) = inputs("pressure_angle")
    t = sp.Symbol("t", positive=True)
    x, y = sp.cos(t) + t * sp.sin(t), sp.sin(t) - t * sp.cos(t)
    turn = sp.simplify((x * sp.diff(y, t) - y * sp.diff(x, t)) / (x**2 + y**2))
    swung = sp.integrate(turn, (t, 0, sp.tan(angle)))
    return Derivation(
        gears.involute,
        steps=[
            (
                "Unwind a taut string from a circle of radius 1 through the angle $t$; its end "
                "stands here.",
                sp.Matrix([x, y]),
            ),
            ("While $t$ grows the end swings round the center by so much.", turn),
            (
                "Where the pressure angle is $\\alpha$ the free string is $\\tan\\alpha$ long: "
                "add up to there.",
                sp.Integral(turn, (t, 0, sp.tan(angle))),
            ),
        ],
        result=sp.refine(swung.rewrite(sp.tan).subs(sp.atan(sp.tan(angle)), angle)),
        inside={"pressure_angle": (0.1, 0.6)},
    )


def tooth_thickness():
    """Half a pitch on the pitch circle; both flanks lean in from there."""
    module, teeth, angle, diameter = inputs("module", "teeth", "pressure_angle", "diameter")
    at_circle = sp.acos(module * teeth * sp.cos(angle) / diameter)
    half_angle = (sp.pi * module / 2) / (module * teeth)
    lean = (sp.tan(at_circle) - at_circle) - (sp.tan(angle) - angle)
    return Derivation(
        gears.tooth_thickness,
        steps=[
            ("On the pitch circle a tooth is half a pitch thick: half its angle.", half_angle),
            ("The pressure angle on the circle of diameter $d$.", at_circle),
            ("From the pitch circle to there either flank swings in by so much.", lean),
            ("Twice the angle that is left, times the radius.", diameter * (half_angle - lean)),
        ],
        result=diameter * (half_angle - lean),
        inside={
            "module": (0.0004, 0.00041),
            "teeth": (28.0, 29.0),
            "pressure_angle": (0.25, 0.40),
            "diameter": (0.01155, 0.0122),
        },
    )


def minimum_teeth():
    """The rack's tip line through the point where the flank starts."""
    angle, coefficient = inputs("pressure_angle", "addendum_coefficient")
    module, teeth = inputs("module", "teeth")
    along = module * teeth / 2 * sp.sin(angle)
    depth = along * sp.sin(angle)
    limit = sp.Eq(depth, coefficient * module)
    return Derivation(
        gears.minimum_teeth,
        steps=[
            (
                "From the pitch point the line of action runs this far to the base circle, where "
                "the flank starts.",
                along,
            ),
            ("That point lies so deep below the rack's pitch line.", depth),
            ("A rack tooth may reach as deep as that and no deeper.", limit),
        ],
        result=sp.solve(limit, teeth)[0],
        inside={"pressure_angle": ANGLE, "addendum_coefficient": (0.8, 1.2)},
    )
