"""An off-center gear, derived."""

import sympy as sp

from mechkit import runout
from mechkit.derivations import Derivation, inputs

OFFSET, ANGLE, BASE = (0.000001, 0.0001), (0.25, 0.44), (0.005, 0.02)


def eccentricity():
    """The dial goes up and down once a turn."""
    reading, offset, angle = inputs("total_runout", "eccentricity", "angle")
    radius = sp.Symbol("r", positive=True)
    dial = radius + offset * sp.cos(angle)
    swing = sp.Eq(reading, dial.subs(angle, 0) - dial.subs(angle, sp.pi))
    return Derivation(
        runout.eccentricity,
        steps=[
            ("While the part turns the dial follows, for small offsets, this.", dial),
            ("Highest less lowest reading.", swing),
        ],
        result=sp.solve(swing, offset)[0],
        inside={"total_runout": OFFSET},
    )


def truing_stock():
    """The largest circle about the new center inside the old one."""
    offset, radius = sp.Symbol("eccentricity", positive=True), sp.Symbol("r", positive=True)
    new = sp.Symbol("r_1", positive=True)
    touch = sp.Eq(new + offset, radius)
    left = sp.solve(touch, new)[0]
    return Derivation(
        runout.truing_stock,
        steps=[
            ("The new circle about the new center may just touch the old one inside.", touch),
            ("So large a radius is left.", left),
            ("The diameters differ by this.", 2 * radius - 2 * left),
        ],
        result=sp.expand(2 * radius - 2 * left),
        inside={"eccentricity": OFFSET},
    )


def _ahead():
    """How far an off-center gear pushes the taut string of the line of action, per phase."""
    offset, angle = inputs("eccentricity", "angle")
    return offset * sp.sin(angle)


def transmission_error():
    """The moving base circle pulls the taut string along."""
    pressure, angle = inputs("pressure_angle", "angle")
    radius = sp.Symbol("r", positive=True)
    turned = _ahead() / (radius * sp.cos(pressure))
    along_rim = sp.simplify(turned * radius)
    peak_to_peak = along_rim.subs(angle, sp.pi / 2) - along_rim.subs(angle, -sp.pi / 2)
    return Derivation(
        runout.transmission_error,
        steps=[
            (
                "The line of action is a taut string between the base circles; the off-center one "
                "carries its end forth and back.",
                _ahead(),
            ),
            ("The other gear turns by that over its base radius.", turned),
            ("Along its pitch circle.", along_rim),
            ("Most ahead less most behind.", peak_to_peak),
        ],
        result=peak_to_peak,
        inside={"eccentricity": OFFSET, "pressure_angle": ANGLE},
    )


def _ripple():
    """Speed of the string relative to the mean, and its peak."""
    base, angle = inputs("base_diameter", "angle")
    pulled = base / 2 * angle + _ahead()
    swing = sp.diff(pulled, angle) / (base / 2) - 1
    return pulled, swing, swing.subs(angle, 0)


def speed_ripple():
    """The slope of the string that an off-center gear winds up."""
    pulled, swing, peak = _ripple()
    return Derivation(
        runout.speed_ripple,
        steps=[
            ("Turned by an angle, the off-center gear has drawn in so much string.", pulled),
            ("Its slope against the mean slope, less 1.", swing),
            ("The peak.", peak),
        ],
        result=peak,
        inside={"eccentricity": OFFSET, "base_diameter": BASE},
    )


def felt_ripple():
    """Motor and train as two bodies, their small swings as turning pointers."""
    names = ("speed_ripple", "turns", "speed", "inertia", "mass", "lever", "efficiency", "force",
             "damping")  # fmt: skip
    ripple, turns, speed, inertia, mass, lever, efficiency, force, damping = inputs(*names)
    motor, train, pull = sp.symbols("u v f")
    turning = sp.I * turns * speed
    leads = sp.Eq(train, motor + ripple)
    hauls = sp.Eq(pull, turning * mass * lever * speed * train)
    lost = -damping * speed * motor - lever / efficiency * (pull + force * ripple)
    drives = sp.Eq(turning * inertia * speed * motor, lost)
    swing = sp.factor(sp.solve([leads, hauls, drives], [train, motor, pull])[train])
    above, below = (sp.expand(part) for part in sp.fraction(swing))
    square = [sp.expand(part * sp.conjugate(part)) for part in (above, below)]
    return Derivation(
        runout.felt_ripple,
        steps=[
            ("The train's swing $v$ is the motor's $u$ and the gear's on top.", leads),
            ("Its mass asks for so much more force $f$; what swings turns as a pointer.", hauls),
            (
                "The motor slows by its damping, by that force, and by what holds the train back on "
                "a longer lever.",
                drives,
            ),
            ("Solved for the train's swing.", swing),
            ("The pointer's length squared.", square[0] / square[1]),
        ],
        result=sp.sqrt(square[0] / square[1]),
        inside={
            "speed_ripple": (0.0005, 0.05), "turns": (0.02, 0.2), "speed": (50.0, 1500.0),
            "inertia": (1e-7, 5e-6), "mass": (0.2, 1.5), "lever": (1e-4, 8e-4),
            "efficiency": (0.25, 0.9), "force": (0.02, 0.2), "damping": (1e-7, 1e-5),
        },
        tolerance=1e-10,
    )  # fmt: skip


def idler_swing():
    """The difference of what the flanks carry along two lines of action."""
    alpha, around = inputs("pressure_angle", "around")

    def line(at, outward):
        along, radial = sp.Matrix([-sp.sin(at), sp.cos(at)]), sp.Matrix([sp.cos(at), sp.sin(at)])
        return sp.cos(alpha) * along + outward * sp.sin(alpha) * radial

    driving, driven = line(sp.S.Zero, -1), line(around, 1)
    left = driven - driving
    square = sp.trigsimp(sp.expand(left.dot(left)))
    return Derivation(
        runout.idler_swing,
        steps=[
            ("Flanks push the idler along this line at the mesh that drives it.", driving),
            ("And along this one where it drives.", driven),
            ("A center that goes round moves along both; what is left goes with this.", left),
            ("Its length squared; either line alone has 1.", square),
        ],
        result=sp.sqrt(square),
        inside={"pressure_angle": ANGLE, "around": (1.2, 5.5)},
        tolerance=1e-11,
    )


def eccentricity_from_ripple():
    """The speed ripple solved for the offset."""
    ripple, offset = inputs("speed_ripple", "eccentricity")
    _, swing, peak = _ripple()
    return Derivation(
        runout.eccentricity_from_ripple,
        steps=[
            ("The swing of the speed.", swing),
            ("Its peak is what was measured.", sp.Eq(ripple, peak)),
        ],
        result=sp.solve(sp.Eq(ripple, peak), offset)[0],
        inside={"speed_ripple": (0.0005, 0.05), "base_diameter": BASE},
    )


def backlash_swing():
    """The center distance goes up and down by the eccentricity."""
    offset, pressure, angle = inputs("eccentricity", "pressure_angle", "angle")
    opened = 2 * offset * sp.cos(angle) * sp.tan(pressure)
    swing = opened.subs(angle, 0) - opened.subs(angle, sp.pi)
    return Derivation(
        runout.backlash_swing,
        steps=[
            ("The center distance changes by this.", offset * sp.cos(angle)),
            ("Either flank opens by the tangent of the pressure angle: the backlash.", opened),
            ("Most less least.", swing),
        ],
        result=swing,
        inside={"eccentricity": OFFSET, "pressure_angle": ANGLE},
    )


def tight_spot_backlash():
    """The mean backlash less half the swing."""
    backlash, offset, pressure = inputs("backlash", "eccentricity", "pressure_angle")
    closed = 2 * offset * sp.tan(pressure)
    return Derivation(
        runout.tight_spot_backlash,
        steps=[
            ("At the tight spot the centers are closer by the eccentricity.", offset),
            ("The backlash has closed by this.", closed),
            ("What is left.", backlash - closed),
        ],
        result=backlash - closed,
        inside={"backlash": (0.0001, 0.0002), "eccentricity": OFFSET, "pressure_angle": ANGLE},
        tolerance=1e-11,
    )


def binding_runout():
    """Where nothing is left of the backlash at the tight spot."""
    (offset,) = inputs("eccentricity")
    left = sp.Eq(tight_spot_backlash().result, 0)
    most = sp.solve(left, offset)[0]
    return Derivation(
        runout.binding_runout,
        steps=[
            ("At the limit the backlash at the tight spot is nothing.", left),
            ("So large may the eccentricity be.", sp.Eq(offset, most)),
            ("A dial shows it twice.", 2 * most),
        ],
        result=sp.simplify(2 * most),
        inside={"backlash": (0.00001, 0.0002), "pressure_angle": ANGLE},
    )
