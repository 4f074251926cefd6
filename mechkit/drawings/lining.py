"""Section lining: parallel lines, full or broken, cut off at the outline of a part.

The lines stand still on the sheet while the part grows over them.  Everything in pixels.
"""

import numpy as np
from matplotlib.path import Path


def section_lines(path, lining, pixel, grow=1.0):
    """The section lines inside a path, as a path; ``pixel`` is one pixel in the path's units."""
    outlines = [outline / pixel for outline in path.to_polygons()]
    pieces = [piece for family in lining for piece in _family(outlines, family, grow)]
    ends = np.concatenate(pieces) * pixel
    return Path(ends.reshape(-1, 2), np.tile([Path.MOVETO, Path.LINETO], len(ends)))


def _family(outlines, family, grow):
    """Every line of one family of parallels, by its ends."""
    turn = np.radians(family.angle)
    axes = np.array([(np.cos(turn), np.sin(turn)), (-np.sin(turn), np.cos(turn))])
    edges = [axes @ outline.T for outline in outlines]  # along and across, point by point
    start, end = (
        np.concatenate([edge[:, cut] for edge in edges], axis=1)
        for cut in (slice(None, -1), slice(1, None))
    )
    gaps = grow * np.array(family.spacing)
    repeat = gaps.sum()
    for offset, dash in zip(np.cumsum(gaps), family.dashes, strict=True):
        first, last = (np.array([start[1].min(), start[1].max()]) - offset) / repeat
        rows = np.arange(np.ceil(first), last) * repeat + offset
        level, begin, stop = _inside(start, end, rows)
        if dash:
            level, begin, stop = _broken(level, begin, stop, *dash)
        yield np.stack([begin, level, stop, level], -1).reshape(-1, 2, 2) @ axes


def _inside(start, end, rows):
    """Where rows run inside the outlines: their level, and where each piece begins and stops."""
    low, high = np.minimum(start[1], end[1]), np.maximum(start[1], end[1])
    row, edge = np.nonzero((rows[:, None] >= low) & (rows[:, None] < high))
    share = (rows[row] - start[1, edge]) / (end[1, edge] - start[1, edge])
    crossing = start[0, edge] + share * (end[0, edge] - start[0, edge])
    order = np.lexsort((crossing, row))  # along each row in and out by turns
    crossing = crossing[order]
    return rows[row[order][::2]], crossing[::2], crossing[1::2]


def _broken(level, begin, stop, on, off):
    """The same pieces as dashes whose beginnings stand still."""
    first = np.floor(begin / (on + off))
    count = (np.floor(stop / (on + off)) - first + 1).astype(int)
    which = np.repeat(np.arange(len(level)), count)
    number = first[which] + np.arange(len(which)) - np.repeat(np.cumsum(count) - count, count)
    dash = number * (on + off)
    begin, stop = np.maximum(begin[which], dash), np.minimum(stop[which], dash + on)
    drawn = begin < stop
    return level[which][drawn], begin[drawn], stop[drawn]
