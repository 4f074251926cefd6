"""How two gears touch and slide, derived."""

import sympy as sp

from mechkit import gears
from mechkit.derivations import Derivation, inputs
from mechkit.derivations.gears import pair


def _line():
    """Length of the line of action between the base circles."""
    module, teeth_1, teeth_2, angle, distance = inputs(
        "module", "teeth_1", "teeth_2", "pressure_angle", "center_distance"
    )
    base_radii = module * (teeth_1 + teeth_2) / 2 * sp.cos(angle)
    return sp.sqrt(distance**2 - base_radii**2)


def flank_radii():
    """The flank's center of curvature is where the string leaves the base circle."""
    teeth_1, teeth_2 = inputs("teeth_1", "teeth_2")
    radius_1, radius_2 = inputs("radius_1", "radius_2")
    line = _line()
    share = sp.Eq(radius_1 / teeth_1, radius_2 / teeth_2)
    whole = sp.Eq(radius_1 + radius_2, line)
    found = sp.solve([share, whole], [radius_1, radius_2])
    return Derivation(
        gears.flank_radii,
        steps=[
            ("A flank curves about the point where its string leaves the base circle.", whole),
            ("At the pitch point the strings are as long as the base circles are large.", share),
            ("The first one, solved.", sp.Eq(radius_1, found[radius_1])),
        ],
        result=sp.Tuple(found[radius_1], found[radius_2]),
        inside={**pair.PAIR, **pair.OPENED},
    )


def tip_overrun():
    """The string to the tip, less the whole line of action."""
    module, angle, addendum = inputs("module", "pressure_angle", "addendum")
    line = _line()
    overruns = []
    for teeth in inputs("teeth_1", "teeth_2"):
        tip, base = module * teeth / 2 + addendum, module * teeth / 2 * sp.cos(angle)
        overruns.append(sp.sqrt(tip**2 - base**2) - line)
    return Derivation(
        gears.tip_overrun,
        steps=[
            ("Between the base circles the line of action is this long.", line),
            ("The first gear's string to its tip, less that.", overruns[0]),
            ("The second gear's.", overruns[1]),
        ],
        result=sp.Tuple(*overruns),
        inside=pair.path_of_contact().inside,
        tolerance=1e-9,  # passes through zero
    )


def sliding_speed():
    """Both flanks move along each other; the difference slides."""
    teeth_1, teeth_2, speed, off = inputs("teeth_1", "teeth_2", "speed", "pitch_point_distance")
    radius_1 = sp.Symbol("radius_1", positive=True)
    radius_2 = radius_1 * teeth_2 / teeth_1
    speed_2 = speed * teeth_1 / teeth_2
    first, second = speed * (radius_1 + off), speed_2 * (radius_2 - off)
    return Derivation(
        gears.sliding_speed,
        steps=[
            ("Past the pitch point the first gear's flank turns on a longer string.", first),
            ("The second gear's on a shorter one, and slower.", second),
            ("The difference slides.", sp.simplify(first - second)),
        ],
        result=sp.simplify(first - second),
        inside={
            "teeth_1": (12.0, 20.0),
            "teeth_2": (20.0, 60.0),
            "speed": (1.0, 200.0),
            "pitch_point_distance": (0.0001, 0.002),
        },
    )


def sliding_distance():
    """The sliding speed over the path of contact, averaged, for one turn."""
    teeth_1, teeth_2, speed = inputs("teeth_1", "teeth_2", "speed")
    path = pair.path_of_contact()
    s, approach, recess = sp.symbols("s g_1 g_2", positive=True)
    sliding = s * speed * (1 + teeth_1 / teeth_2)
    added = sp.integrate(sliding, (s, 0, approach)) + sp.integrate(sliding, (s, 0, recess))
    mean = sp.factor(added / (approach + recess))
    turn = mean * 2 * sp.pi / speed
    return Derivation(
        gears.sliding_distance,
        steps=[
            ("At the distance $s$ from the pitch point the flanks slide so fast.", sliding),
            ("The contact runs evenly over approach $g_1$ and recess $g_2$: the mean.", mean),
            ("Times the time of one turn of the first gear.", turn),
            ("Approach and recess.", path.result),
        ],
        result=turn.subs({approach: path.result[0], recess: path.result[1]}),
        inside=path.inside,
        tolerance=1e-10,
    )
