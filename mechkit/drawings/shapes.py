"""Outlines as plain points, in meters: what has to be drawn, without how it is drawn.

A function returns an array of points (x, y); `path` makes one matplotlib path of several,
inner outlines running the other way round so that they are holes.
"""

from functools import cache

import numpy as np
from matplotlib.path import Path

FULL_DEPTH = np.radians(20)  # pressure angle of the usual full-depth tooth


def circle(center, diameter, count=120):
    """A circle, counterclockwise.

    >>> circle((0, 0), 2.0, count=4).round(9).tolist()
    [[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [-0.0, -1.0]]
    """
    return np.asarray(center) + diameter / 2 * _round(count)


@cache
def _round(count):
    """Points around a circle of radius 1."""
    turn = np.linspace(0, 2 * np.pi, count, endpoint=False)
    return np.column_stack([np.cos(turn), np.sin(turn)])


def arc(center, diameter, start, stop, count=60):
    """Part of a circle from one angle to another [rad]."""
    turn = np.linspace(start, stop, count)
    return np.asarray(center) + diameter / 2 * np.column_stack([np.cos(turn), np.sin(turn)])


def bar(left, bottom, right, top):
    """A rectangle, counterclockwise."""
    return np.array([(left, bottom), (right, bottom), (right, top), (left, top)], float)


def broken(left, bottom, right, top, *, ends, wave=0.5e-3):
    """A bar broken off at the ends named, ``"left"`` or ``"right"``, by a wavy line."""
    rise = np.linspace(0, 1, 13)
    height = bottom + rise * (top - bottom)
    swing = wave * np.sin(2 * np.pi * rise)
    near = np.column_stack([left + swing * ("left" in ends), height])
    far = np.column_stack([right + swing * ("right" in ends), height])
    return np.vstack([far, near[::-1]])


def path(*outlines, holes=()):
    """One closed path of outer outlines and holes."""
    pieces = [_oriented(points, 1) for points in outlines] + [_oriented(p, -1) for p in holes]
    codes = []
    for piece in pieces:
        code = np.full(len(piece), Path.LINETO, np.uint8)
        code[0], code[-1] = Path.MOVETO, Path.CLOSEPOLY
        codes.append(code)
    return Path(np.concatenate(pieces), np.concatenate(codes))


def _oriented(points, sign):
    """The outline counterclockwise (1) or clockwise (-1), its first point again at the end."""
    points = np.asarray(points, float)
    x, y = points.T
    area = x[-1] * y[0] - y[-1] * x[0] + x[:-1] @ y[1:] - y[:-1] @ x[1:]
    points = points if area * sign > 0 else points[::-1]
    return np.concatenate([points, points[:1]])


def turned(points, angle, about=(0.0, 0.0)):
    """Points turned about a center by an angle [rad]."""
    cosine, sine = np.cos(angle), np.sin(angle)
    about = np.asarray(about)
    return (np.asarray(points) - about) @ np.array([[cosine, sine], [-sine, cosine]]) + about


def gear(
    center, module, teeth, *, pressure_angle=FULL_DEPTH, angle=0.0, thinning=0.0,
    addendum=1.0, dedendum=1.25, flank=9,
):  # fmt: skip
    """Outline of a spur gear with involute flanks; a tooth points along ``angle`` [rad].

    ``thinning`` is taken off the tooth thickness at the pitch circle [m]; addendum and
    dedendum are in modules.  Flanks run radially below the base circle, so an undercut is
    not drawn.
    """
    pitch, base = module * teeth / 2, module * teeth / 2 * np.cos(pressure_angle)
    tip, root = pitch + addendum * module, pitch - dedendum * module
    involute = np.tan(pressure_angle) - pressure_angle
    half = np.pi / (2 * teeth) - thinning / (2 * pitch) + involute  # half tooth at the base
    radius = np.linspace(max(base, root), tip, flank)
    rolled = np.arccos(np.clip(base / radius, 0, 1))
    side = np.maximum(half - (np.tan(rolled) - rolled), 0.0)  # a pointed tooth ends at its point
    radius, side = np.append(root, radius), np.append(side[0], side)
    radii = np.concatenate([radius, radius[::-1]])
    angles = np.concatenate([-side, side[::-1]])
    every = angle + 2 * np.pi * np.arange(teeth)[:, None] / teeth + angles
    return np.asarray(center) + np.stack(
        [radii * np.cos(every), radii * np.sin(every)], -1
    ).reshape(-1, 2)


def rack(start, module, teeth, *, pressure_angle=FULL_DEPTH, addendum=1.0, dedendum=1.25):
    """The teeth of a worm cut along its axis: an open line from left to right along x."""
    lean = np.tan(pressure_angle)
    top, foot = addendum * module, -dedendum * module
    quarter = np.pi * module / 4
    wide, narrow = quarter - foot * lean, quarter - top * lean
    x = np.array([-wide, -narrow, narrow, wide])
    y = np.array([foot, top, top, foot])
    every = np.pi * module * np.arange(teeth)[:, None] + x
    return np.asarray(start) + np.stack([every, np.broadcast_to(y, every.shape)], -1).reshape(-1, 2)


def spring(start, end, diameter, coils, *, dead=0.08):
    """A coil spring from the side: an open zigzag between two points, straight at the ends."""
    start, end = np.asarray(start, float), np.asarray(end, float)
    along = end - start
    length = np.hypot(*along)
    across = np.array([-along[1], along[0]]) / max(length, 1e-12) * diameter / 2
    count = round(2 * coils)
    share = np.linspace(dead, 1 - dead, count + 1)
    swing = np.where(np.arange(count + 1) % 2, -1.0, 1.0)
    swing[[0, -1]] = 0.0
    zigzag = start + share[:, None] * along + swing[:, None] * across
    return np.vstack([start, zigzag, end])


def wheel(center, tread, *, rim=0.08, hub=0.28, spokes=12, angle=0.0):
    """A spoked driver as (outer outlines, holes): tread, openings between the spokes.

    ``rim`` and ``hub`` are shares of the tread diameter.
    """
    radius = tread / 2
    inner, outer = hub * radius, (1 - 2 * rim) * radius
    pitch = 2 * np.pi / spokes
    openings = []
    for k in range(spokes):
        middle = angle + (k + 0.5) * pitch
        wide, narrow = 0.36 * pitch, 0.28 * pitch
        far = arc(center, 2 * outer, middle - wide, middle + wide, 10)
        near = arc(center, 2 * inner, middle + narrow, middle - narrow, 6)
        openings.append(np.vstack([far, near]))
    return [circle(center, tread)], openings


def engine(front, length):
    """A small engine with its tender from the side, seen as a shadow; a list of outlines.

    It stands on the line through ``front``, its coupler there, facing along x.
    """
    body = np.array([
        (0, 5), (0, 9), (-9, 12), (-10, 30), (-19, 31), (-18, 41), (-26, 41), (-25, 31), (-42, 32),
        (-43, 37), (-50, 37), (-51, 32.5), (-74, 33.5), (-73, 42), (-99, 42), (-99, 10), (-86, 10),
        (-78, 13), (-12, 13), (-9, 5),
    ])  # fmt: skip
    tender = np.array([(-102, 9), (-102, 30), (-128, 30), (-130, 27), (-150, 27), (-150, 9)])
    wheels = [((-x, d / 2), d) for x, d in ((17, 8), (29, 8), (44, 16), (62, 16), (80, 16))]
    wheels += [((-x, 4.5), 9) for x in (109, 120, 133, 144)]
    outlines = [body, tender, *(circle(center, size, 24) for center, size in wheels)]
    return [np.asarray(front) + outline * length / 150 for outline in outlines]


def moved(path, step):
    """A path moved by a step (x, y)."""
    return Path(path.vertices + np.asarray(step), path.codes)
