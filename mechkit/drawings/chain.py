"""Dimensions in a row, and the small gap between two parts."""

import numpy as np

from mechkit.drawings import shapes
from mechkit.drawings.lettering import text_width
from mechkit.drawings.shop import ARROW, Mark, Measure, arrow, offset

_DOT = 3.5  # where two arrowheads do not fit [px]


class Chain(Mark):
    """Dimensions along x in one row; where a value does not fit it is raised on a thin line."""

    def __init__(self, axes, look, *, meaning="ink", zorder=6):
        super().__init__(axes, look, zorder)
        self.meaning = meaning
        self.lines = self._line("thin", meaning)
        self.heads = self._area(meaning)

    def set(self, stations, at, texts):
        """Measure between neighboring points, with extension lines up to the row at ``at``.

        Returns the height over which the next row is free.
        """
        stations = np.asarray(stations, float) / self.pixel
        line, size = at / self.pixel[1], self.look.type("value")
        strokes = [[(x, foot + 3), (x, line + 4)] for x, foot in stations]
        strokes.append([(stations[0, 0], line), (stations[-1, 0], line)])
        heads: list[np.ndarray] = []
        taken: dict[int, list[tuple[float, float]]] = {}
        for left, right, text in zip(stations[:-1, 0], stations[1:, 0], texts, strict=True):
            middle, wide = (left + right) / 2, text_width(text, size)
            level = self._level(middle, wide, right - left, taken)
            if right - left > 2 * ARROW + 2:
                heads += [arrow((left, line), (-1, 0)), arrow((right, line), (1, 0))]
            else:
                heads += [shapes.circle((x, line), _DOT, 12) for x in (left, right)]
            foot = line + level * (size + 6)
            if level:
                strokes.append([(middle, line), (middle, foot + 1)])
                # the next row's extension lines rise at both ends
                ends = stations[0, 0] + wide / 2 + 4, stations[-1, 0] - wide / 2 - 4
                middle = min(max(middle, ends[0]), max(ends))
            self._letters("value", self.meaning, ha="center", va="bottom").set_line(
                np.array([middle, foot + 3]) * self.pixel, text
            )
        self.lines.set_data(*(_joined(strokes) * self.pixel).T)
        self.heads.set_path(shapes.path(*(head * self.pixel for head in heads)))
        return at + ((max(taken) + 1) * (size + 6) + 4) * self.pixel[1]

    @staticmethod
    def _level(middle, wide, room, taken):
        """The lowest level on which a value stands free of its neighbors."""
        level = 0 if wide + 6 <= room else 1
        while level and any(
            abs(middle - other) < (wide + more) / 2 + 8 for other, more in taken.get(level, [])
        ):
            level += 1
        taken.setdefault(level, []).append((middle, wide))
        return level


def _joined(strokes):
    """Strokes as one line with breaks."""
    return np.concatenate([np.vstack([stroke, (np.nan, np.nan)]) for stroke in strokes])


class Gap(Measure):
    """A small distance between two points: arrows from outside, the value on a shelf.

    The value stands beyond ``end`` on a patch of the sheet's color, legible on whatever lies
    beneath.
    """

    def __init__(self, axes, look, *, zorder=8, **more):
        super().__init__(axes, look, zorder=zorder, **more)
        self.ground = self._area("sheet", zorder=zorder - 0.1)

    def set(self, start, end, text, *, reach=26.0, side=1):
        """Measure from start to end; the shelf stands ``reach`` px beyond the end."""
        start, end = np.asarray(start) / self.pixel, np.asarray(end) / self.pixel
        step = end - start
        unit = step / np.hypot(*step)
        tail, knee = start - (ARROW + 10) * unit, end + reach * unit
        width = text_width(text, self.text.size)
        shelf = knee + offset(side * (width + 6))
        heads = [arrow(start, unit), arrow(end, -unit)]
        foot, far = sorted((knee[0], shelf[0]))
        over = knee[1] + self.text.size * 1.05 + 3
        self.ground.set_path(shapes.path(shapes.bar(foot, knee[1], far, over) * self.pixel))
        ha = "left" if side > 0 else "right"
        at = knee + offset(3 * side, 3)
        self._draw([np.array([tail, knee, shelf])], heads, at, text, ha)
