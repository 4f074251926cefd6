"""A truck in a curve (shapely) and a flange on the rail (numpy): shapes and forces, no formula."""

import numpy as np
from scipy.optimize import brentq
from shapely.geometry import LineString, Point

SEGMENTS = 4096  # of a quarter circle


def curve_offset(*, overhang, wheelbase, curve_radius):
    """The track as a ring of chords; the frame laid on it; the truck slid out until it is met."""
    track = Point(0.0, 0.0).buffer(curve_radius, quad_segs=SEGMENTS).exterior
    end = wheelbase / 2

    def on_track(x):
        line = LineString([(x, 0.0), (x, 2 * curve_radius)])
        return track.intersection(line).y

    return (on_track(-end) + on_track(end)) / 2 - on_track(end + overhang)


def _holds(quotient, flange_angle, friction):
    """Least friction that a flange needs to stay up, less what it has: a balance of forces."""
    across = np.array([np.sin(flange_angle), np.cos(flange_angle)])  # rail on flank
    along = np.array([-np.cos(flange_angle), np.sin(flange_angle)])  # friction, holding up
    # normal * across + rubbing * along = (side force, load) for a load of one
    normal, rubbing = np.linalg.solve(np.column_stack([across, along]), [quotient, 1.0])
    return friction * normal - rubbing


def climbing_limit(*, flange_angle, friction):
    """The quotient at which friction is just enough to hold the flange up."""
    return brentq(lambda q: _holds(q, flange_angle, friction), 0.0, 100.0, xtol=1e-13)


def least_wheel_load(*, side_force, flange_angle, friction):
    """Load at which that side force is the limit."""
    return brentq(
        lambda load: _holds(side_force / load, flange_angle, friction),
        side_force / 50,
        50 * side_force,
        xtol=1e-14,
    )
