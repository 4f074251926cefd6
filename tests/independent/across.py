"""A frog and a wheelset as boxes across the track: what touches, by trying (shapely)."""

from scipy.optimize import brentq
from shapely import box


def _frog(check_gauge, check_span):
    """Check rail, wing rail and the frog's point; the check rail's face lies at 0."""
    return (
        box(-0.001, -0.001, 0, 0),
        box(check_span - 0.001, -0.001, check_span, 0),
        box(check_gauge, -0.001, check_gauge + 0.001, 0),
    )


def _wheels(between, flange):
    """Both flanges; the left one's back lies at 0, its flange outside, and so the right one's."""
    return box(-flange, -0.0005, 0, 0), box(between, -0.0005, between + flange, 0)


def frog_flangeway(*, check_gauge, check_span):
    """Distance from wing rail to point [m]."""
    _, wing, point = _frog(check_gauge, check_span)
    return wing.distance(point)


def wheel_check_gauge(*, back_to_back, flange_width):
    """Furthest edge of the other flange from the first wheel's back [m]."""
    first, other = _wheels(back_to_back, flange_width)
    return other.bounds[2] - first.bounds[2]


def _gap(between, flange, check_gauge):
    """From the other flange to the point, the first wheel's back on the check rail."""
    _, other = _wheels(between, flange)
    return check_gauge - other.bounds[2]


def back_to_back_window(*, check_gauge, check_span, flange_width):
    """Between the first place where the backs clear and the last where the point is missed [m]."""
    check, wing, _ = _frog(check_gauge, check_span)
    least = brentq(lambda b: b - (wing.bounds[2] - check.bounds[2]), 1e-3, 0.1)
    most = brentq(lambda b: _gap(b, flange_width, check_gauge), 1e-3, 0.1)
    return least, most


def press_freedom(*, check_gauge, check_span, flange_width, face_runout=0.0):
    """How far from the middle a wobbling wheel still passes in each of two positions [m]."""
    least, most = back_to_back_window(
        check_gauge=check_gauge, check_span=check_span, flange_width=flange_width
    )

    def room(off):
        between = (least + most) / 2 + off
        return min(_gap(between + side, flange_width, check_gauge) for side in _wobble(face_runout))

    return brentq(room, -(most - least), most - least)


def _wobble(face_runout):
    """Back-to-back of a wobbling wheel less its mean, at points all around."""
    around = [face_runout / 2 * step / 10 for step in range(-10, 11)]
    return [*around, *reversed(around)]
