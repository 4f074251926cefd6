"""Gears in the plane by cutting and turning shapes (shapely): no gear formula beyond the string.

Flanks are points of a string unwound from the base circle; a tooth is set so that it takes
half a pitch on its pitch circle, found by interpolation.  Thickness, spans, backlash and
transmission error then come from cutting circles, measuring widths, and turning one gear
until it touches the other.  The line of action comes from circles alone.
"""

import numpy as np
from scipy.optimize import brentq
from shapely import MultiPolygon, affinity
from shapely.geometry import LineString, Point, Polygon

SEGMENTS = 4096  # of a quarter circle: 2e-8 of the radius
FLANK = 500  # points of one flank


def circle(x, y, radius):
    """A disc as a polygon with very many sides."""
    return Point(x, y).buffer(radius, quad_segs=SEGMENTS)


# -- the line of action -------------------------------------------------------------------


def _line_of_action(module, teeth_1, teeth_2, pressure_angle, center_distance):
    """Pitch point and both points of tangency, first center at the origin."""
    base_1, base_2 = (module * z * np.cos(pressure_angle) / 2 for z in (teeth_1, teeth_2))
    pitch_point = Point(center_distance * teeth_1 / (teeth_1 + teeth_2), 0.0)
    ends = []
    for x, base, side in ((0.0, base_1, 1), (center_distance, base_2, -1)):
        middle, half = (x + pitch_point.x) / 2, abs(x - pitch_point.x) / 2
        thales = circle(middle, 0.0, half).exterior
        cuts = thales.intersection(circle(x, 0.0, base).exterior)
        ends.append(next(point for point in cuts.geoms if point.y * side > 0))
    return pitch_point, *ends


def _contact(module, teeth_1, teeth_2, pressure_angle, addendum, center_distance):
    """Pitch point and the piece of the line of action inside both tip circles."""
    pitch_point, end_1, end_2 = _line_of_action(
        module, teeth_1, teeth_2, pressure_angle, center_distance
    )
    line = LineString([end_1, end_2])
    for x, teeth in ((0.0, teeth_1), (center_distance, teeth_2)):
        line = line.intersection(circle(x, 0.0, module * teeth / 2 + addendum))
    return pitch_point, line


def path_of_contact(**pair):
    """Approach and recess [m]."""
    pitch_point, line = _contact(**pair)
    first, last = sorted((Point(xy) for xy in line.coords), key=lambda point: -point.y)
    # the driver turns so that its tips leave the mesh on the second gear's side
    return first.distance(pitch_point), last.distance(pitch_point)


def contact_ratio(**pair):
    """Length of the path of contact in base pitches."""
    _, line = _contact(**pair)
    rim = circle(0.0, 0.0, pair["module"] * pair["teeth_1"] * np.cos(pair["pressure_angle"]) / 2)
    return line.length / (rim.exterior.length / pair["teeth_1"])


def flank_radii(**pair):
    """Radii of curvature at the pitch point [m]: strings from both points of tangency."""
    pitch_point, end_1, end_2 = _line_of_action(**pair)
    return pitch_point.distance(end_1), pitch_point.distance(end_2)


def tip_overrun(*, addendum, **pair):
    """How far either tip circle cuts the lengthened line past the mate's tangency [m]."""
    _, end_1, end_2 = _line_of_action(**pair)
    overruns = []
    for start, end, x, teeth in (
        (end_1, end_2, 0.0, pair["teeth_1"]),
        (end_2, end_1, pair["center_distance"], pair["teeth_2"]),
    ):
        beyond = Point(3 * end.x - 2 * start.x, 3 * end.y - 2 * start.y)
        tip = circle(x, 0.0, pair["module"] * teeth / 2 + addendum)
        reach = LineString([start, beyond]).intersection(tip).length
        overruns.append(reach - start.distance(end))
    return tuple(overruns)


def sliding_distance(**pair):
    """Mean sliding speed of the two bodies over the path, for one turn of the first [m]."""
    _, line = _contact(**pair)
    speed_1, speed_2 = 1.0, -pair["teeth_1"] / pair["teeth_2"]
    speeds = []
    for share in (np.arange(4000) + 0.5) / 4000:
        point = line.interpolate(share, normalized=True)
        one = speed_1 * np.array([-point.y, point.x])
        two = speed_2 * np.array([-point.y, point.x - pair["center_distance"]])
        speeds.append(np.hypot(*(one - two)))
    return np.mean(speeds) * 2 * np.pi / speed_1


def tooth_force(*, torque, base_diameter):
    """Torque over the lever of a line through a pitch point that leans [N]."""
    pitch_radius, lean = base_diameter / 2 / np.cos(0.3), 0.3
    way = np.array([np.sin(lean), np.cos(lean)]) * base_diameter
    start = np.array([pitch_radius, 0.0])
    line = LineString([start - way, start + way])
    return torque / line.distance(Point(0.0, 0.0))


# -- teeth --------------------------------------------------------------------------------


def tooth(module, teeth, pressure_angle, tip_radius):
    """One tooth, its middle along x, relieved below the base circle so that nothing fouls."""
    base = module * teeth * np.cos(pressure_angle) / 2
    unwound = np.linspace(0.0, np.sqrt((tip_radius / base) ** 2 - 1), FLANK)
    x = base * (np.cos(unwound) + unwound * np.sin(unwound))
    y = base * (np.sin(unwound) - unwound * np.cos(unwound))
    radius, swung = np.hypot(x, y), np.arctan2(y, x)
    at_pitch = np.interp(module * teeth / 2, radius, swung)
    half = np.pi / (2 * teeth) + at_pitch - swung
    foot = half[0] - 0.1 * module / base
    radius = np.concatenate([[base - 0.6 * module], radius])
    half = np.concatenate([[foot], half])
    upper = np.column_stack([radius * np.cos(half), radius * np.sin(half)])
    return Polygon(np.concatenate([upper, upper[::-1] * [1, -1]]))


def tooth_thickness(*, module, teeth, pressure_angle, diameter):
    """Arc of the circle that lies in a tooth [m]."""
    shape = tooth(module, teeth, pressure_angle, max(diameter, module * teeth) / 2 + 0.2 * module)
    return circle(0.0, 0.0, diameter / 2).exterior.intersection(shape).length


def span_measurement(*, module, teeth, pressure_angle, spanned_teeth):
    """Width of some neighboring teeth between two parallel jaws [m]."""
    shape = tooth(module, teeth, pressure_angle, module * (teeth + 2) / 2)
    turns = (np.arange(spanned_teeth) - (spanned_teeth - 1) / 2) * 360 / teeth + 90
    several = MultiPolygon([affinity.rotate(shape, turn, origin=(0, 0)) for turn in turns])
    left, _, right, _ = several.bounds
    return right - left


def base_pitch(*, module, pressure_angle):
    """What one tooth more adds to a span [m]."""
    gear = {"module": module, "teeth": 40, "pressure_angle": pressure_angle}
    return span_measurement(**gear, spanned_teeth=5) - span_measurement(**gear, spanned_teeth=4)


def diameter_over_odd_teeth(*, reading, teeth, tip_land):
    """Diameter of a star of sectors that parallel jaws close on at that reading [m]."""

    def excess(radius):
        half = tip_land / (2 * radius)
        arc = np.linspace(-half, half, 201)
        rim = radius * np.column_stack([np.cos(arc), np.sin(arc)])
        sector = Polygon([(0.0, 0.0), *rim])
        turns = np.arange(teeth) * 360 / teeth
        star = MultiPolygon([affinity.rotate(sector, turn, origin=(0, 0)) for turn in turns])
        left, _, right, _ = star.bounds
        return right - left - reading

    return 2 * brentq(excess, 0.4 * reading, reading, xtol=1e-12)


class Pair:
    """Two gears that can be turned until they touch; tips short, so that none fouls a root."""

    def __init__(self, module, teeth_1, teeth_2, pressure_angle):
        self.teeth = (teeth_1, teeth_2)
        self.gears = []
        for teeth, facing in ((teeth_1, 0.0), (teeth_2, 180.0 + 180.0 / teeth_2)):
            shape = tooth(module, teeth, pressure_angle, module * (teeth + 1.6) / 2)
            steps = facing + np.arange(-3, 4) * 360.0 / teeth
            self.gears.append(
                MultiPolygon([affinity.rotate(shape, step, origin=(0, 0)) for step in steps])
            )

    def touches(self, distance, turns, offset=(0.0, 0.0)):
        """Whether they overlap, each turned; the first gear's center lies off its axis."""
        one, two = (
            affinity.rotate(gear, turn, origin=(0, 0), use_radians=True)
            for gear, turn in zip(self.gears, turns, strict=True)
        )
        return affinity.translate(one, *offset).intersects(affinity.translate(two, distance))

    def touch(self, distance, side, turn=0.0, offset=(0.0, 0.0)):
        """Angle by which the second gear can turn to one side until it touches."""
        nominal = -turn * self.teeth[0] / self.teeth[1]
        free, stuck = 0.0, side * 0.6 * np.pi / self.teeth[1]
        if self.touches(distance, (turn, nominal), offset):
            return np.nan
        for _ in range(34):
            middle = (free + stuck) / 2
            if self.touches(distance, (turn, nominal + middle), offset):
                stuck = middle
            else:
                free = middle
        return free

    def backlash(self, distance):
        """Circumferential play at the working pitch circle [m]; not a number where it jams."""
        play = self.touch(distance, 1) - self.touch(distance, -1)
        return play * distance * self.teeth[1] / sum(self.teeth)


def backlash(*, module, teeth_1, teeth_2, pressure_angle, center_distance):
    """Backlash by turning one gear to and fro [m]."""
    return Pair(module, teeth_1, teeth_2, pressure_angle).backlash(center_distance)


# -- an off-center gear -------------------------------------------------------------------


def truing_stock(*, eccentricity):
    """Diameter less twice the distance from the new center to the old rim [m]."""
    radius = 100 * eccentricity
    rim = circle(0.0, 0.0, radius).exterior
    return 2 * radius - 2 * rim.distance(Point(eccentricity, 0.0))


def _errors(pair, distance, eccentricity, phases):
    """Angle that the second gear is off while the first turns about a point off its center."""
    return np.array(
        [
            pair.touch(
                distance,
                1,
                turn % (2 * np.pi / pair.teeth[0]),
                (eccentricity * np.cos(turn), eccentricity * np.sin(turn)),
            )
            for turn in phases
        ]
    )


def _once_per_turn(eccentricity, module, pressure_angle):
    """First harmonic of the error of a 20 : 30 pair whose first gear is off center [rad]."""
    pair, count = Pair(module, 20, 30, pressure_angle), 8
    errors = _errors(pair, 25.2 * module, eccentricity, np.arange(count) * 2 * np.pi / count)
    return abs(np.fft.rfft(errors)[1]) * 2 / count


def transmission_error(*, eccentricity, pressure_angle):
    """Peak to peak at the driven gear's pitch circle [m], gears turned until they touch."""
    module = 200 * eccentricity
    return 2 * _once_per_turn(eccentricity, module, pressure_angle) * 30 * module / 2


def speed_ripple(*, eccentricity, base_diameter):
    """Peak of the speed's swing over its mean, from the error of touching gears."""
    return _ripple(eccentricity, base_diameter)


def _ripple(eccentricity, base_diameter):
    module = base_diameter / 20 / np.cos(np.radians(20.0))
    return _once_per_turn(eccentricity, module, np.radians(20.0)) * 30 / 20


def eccentricity_from_ripple(*, speed_ripple, base_diameter):
    """Offset at which touching gears make that ripple [m]: two tries and a straight line."""
    tries = np.array([0.3, 0.7]) * speed_ripple * base_diameter
    made = [_ripple(offset, base_diameter) for offset in tries]
    return np.interp(speed_ripple, made, tries)


def _mean_distance(pair, module, backlash):
    """Center distance at which touching gears have that backlash [m]."""
    nominal = module * sum(pair.teeth) / 2
    return brentq(
        lambda distance: pair.backlash(distance) - backlash,
        nominal + 0.001 * module,
        nominal + module,
        xtol=1e-7 * module,
    )


def backlash_swing(*, eccentricity, pressure_angle):
    """Backlash at the wide and at the tight side of an off-center gear, subtracted [m]."""
    module = 400 * eccentricity
    pair = Pair(module, 20, 30, pressure_angle)
    wide, tight = (25 * module + side * eccentricity for side in (2.5, 0.5))
    return pair.backlash(wide) - pair.backlash(tight)


def tight_spot_backlash(*, backlash, eccentricity, pressure_angle):
    """Backlash of touching gears whose centers are closer by the eccentricity [m]."""
    module = 400 * eccentricity
    pair = Pair(module, 20, 30, pressure_angle)
    return pair.backlash(_mean_distance(pair, module, backlash) - eccentricity)


def binding_runout(*, backlash, pressure_angle):
    """Twice the closing of the centers at which touching gears jam [m]."""
    module = 400 * backlash
    pair = Pair(module, 20, 30, pressure_angle)
    wide = _mean_distance(pair, module, backlash)
    free, stuck = 0.0, 3 * backlash
    for _ in range(30):
        middle = (free + stuck) / 2
        if pair.touches(wide - middle, (0.0, 0.0)):
            stuck = middle
        else:
            free = middle
    return 2 * free


def center_distance_for_backlash(*, module, teeth_1, teeth_2, pressure_angle, backlash):
    """Center distance at which touching gears have that play [m]."""
    return _mean_distance(Pair(module, teeth_1, teeth_2, pressure_angle), module, backlash)
