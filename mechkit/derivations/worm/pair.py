"""Worm and wheel, derived."""

import sympy as sp

from mechkit import worm
from mechkit.derivations import Derivation, Empirical, inputs

LEAD, FRICTION, ANGLE = (0.03, 0.3), (0.01, 0.2), (0.25, 0.44)


def _forces(sign=1):
    """Force round the worm and along it from a normal force of one on the thread.

    ``sign`` is 1 while the worm drives and -1 while the wheel does: friction turns round.
    """
    lead, friction, angle = inputs("lead_angle", "friction", "pressure_angle")
    around = sp.cos(angle) * sp.sin(lead) + sign * friction * sp.cos(lead)
    along = sp.cos(angle) * sp.cos(lead) - sign * friction * sp.sin(lead)
    return around, along


def lead():
    """One axial pitch for every start."""
    starts, module = inputs("starts", "module")
    pitch = sp.pi * module
    return Derivation(
        worm.lead,
        steps=[
            ("The thread's axial pitch is the wheel's circular pitch.", pitch),
            ("A turn passes as many pitches as there are starts.", starts * pitch),
        ],
        result=starts * pitch,
        inside={"starts": (1.0, 4.0), "module": (0.0002, 0.001)},
    )


def lead_angle():
    """The thread unrolled into a wedge."""
    starts, module, diameter = inputs("starts", "module", "pitch_diameter")
    length = sp.pi * module * starts
    return Derivation(
        worm.lead_angle,
        steps=[
            ("In one turn the thread climbs by the lead.", length),
            ("Unrolled, it climbs along the pitch circle's rim.", sp.pi * diameter),
            ("The slope of that wedge.", length / (sp.pi * diameter)),
        ],
        result=sp.atan(length / (sp.pi * diameter)),
        inside={"starts": (1.0, 4.0), "module": (0.0002, 0.001), "pitch_diameter": (0.004, 0.01)},
    )


def normal_pressure_angle():
    """The flank cut along the axis, and cut square to the thread."""
    axial, lead = inputs("axial_pressure_angle", "lead_angle")
    x, y, z, t = sp.symbols("x y z t", positive=True)
    flank = sp.Eq(z, y * sp.tan(lead) + x * sp.tan(axial))
    square = flank.subs({y: -t * sp.sin(lead), z: t * sp.cos(lead)})
    slope = sp.simplify(sp.solve(square, t)[0] / x)
    return Derivation(
        worm.normal_pressure_angle,
        steps=[
            (
                "Near the pitch point the flank is a plane: outward $x$, round $y$, along $z$.",
                flank,
            ),
            ("Walk out and square to the thread, by $t$.", square),
            ("Its slope in that section.", slope),
        ],
        result=sp.atan(slope),
        inside={"axial_pressure_angle": ANGLE, "lead_angle": LEAD},
    )


def center_distance():
    """Two pitch circles, one of them the worm's."""
    diameter, module, teeth = inputs("pitch_diameter", "module", "teeth")
    return Derivation(
        worm.center_distance,
        steps=[
            ("Pitch radius of the worm.", diameter / 2),
            ("Pitch radius of the wheel.", module * teeth / 2),
        ],
        result=diameter / 2 + module * teeth / 2,
        inside={"pitch_diameter": (0.004, 0.01), "module": (0.0002, 0.001), "teeth": (15.0, 50.0)},
    )


def sliding_speed():
    """The rim's speed is the sliding speed's part round the worm."""
    diameter, speed, lead, sliding = inputs(
        "pitch_diameter", "speed", "lead_angle", "sliding_speed"
    )
    part = sp.Eq(sliding * sp.cos(lead), speed * diameter / 2)
    return Derivation(
        worm.sliding_speed,
        steps=[
            ("The worm's rim runs so fast.", speed * diameter / 2),
            ("The wheel's teeth run along the axis, so all of it must be sliding.", part),
        ],
        result=sp.solve(part, sliding)[0],
        inside={"pitch_diameter": (0.004, 0.01), "speed": (10.0, 1500.0), "lead_angle": LEAD},
    )


def friction_coefficient():
    """A fit."""
    return Empirical(
        worm.friction_coefficient,
        whose="ANSI/AGMA 6034: a fit in feet per minute to tests of steel on bronze in oil",
        inside={"sliding_speed": (0.0, 10.0)},
        scales=False,
    )


def efficiency():
    """Work out over work in, on the thread's wedge."""
    (lead,) = inputs("lead_angle")
    around, along = _forces()
    ratio = along * sp.tan(lead) / around
    return Derivation(
        worm.efficiency,
        steps=[
            ("A normal force of 1 and its friction hold the worm back round its axis by.", around),
            ("They push the wheel along by.", along),
            ("While the worm's rim moves by 1 the wheel moves by this.", sp.tan(lead)),
            ("Work out over work in.", ratio),
        ],
        result=ratio,
        inside={"lead_angle": LEAD, "friction": FRICTION, "pressure_angle": ANGLE},
    )


def back_driving_efficiency():
    """The same wedge with friction the other way."""
    (lead,) = inputs("lead_angle")
    around, along = _forces(-1)
    ratio = around / (along * sp.tan(lead))
    return Derivation(
        worm.back_driving_efficiency,
        steps=[
            ("The wheel pushes; friction now helps to hold it.", along),
            ("What is left to turn the worm: less than nothing where it locks.", around),
            ("While the worm's rim moves by 1 the wheel moves by this.", sp.tan(lead)),
            ("Work out over work in.", ratio),
        ],
        result=ratio,
        inside={"lead_angle": LEAD, "friction": (0.001, 0.025), "pressure_angle": ANGLE},
    )


def locking_friction():
    """Where nothing is left to turn the worm."""
    (friction,) = inputs("friction")
    around, _ = _forces(-1)
    return Derivation(
        worm.locking_friction,
        steps=[
            ("The wheel pushes: what is left to turn the worm.", around),
            ("At the limit it is nothing.", sp.Eq(around, 0)),
        ],
        result=sp.simplify(sp.solve(sp.Eq(around, 0), friction)[0]),
        inside={"lead_angle": LEAD, "pressure_angle": ANGLE},
    )


def locking_speed():
    """The fit read backward."""
    return Empirical(
        worm.locking_speed,
        whose="ANSI/AGMA 6034: the friction curve read backward, from friction to sliding speed",
        inside={
            "lead_angle": (0.05, 0.35),
            "pressure_angle": (0.24, 0.45),
            "friction_ratio": (0.5, 2.0),
        },
        scales=False,
    )
