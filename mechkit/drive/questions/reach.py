"""From where to where a quantity is worth trying on one engine, and where it stands now.

The ends come from the engine and its parts, so that a slider over them and a drawing with room
for them suit an engine of any scale, and what the sheet says always lies between.
"""

from dataclasses import dataclass
from math import floor, inf, log10

from mechkit.drive.sheet.contradictions import STRONG_PACK

#: Steps in every decade: close enough that a curve fills its field, coarse enough to stand still.
STEPS = (1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)


@dataclass(frozen=True)
class Reach:
    """A range around where something stands; all in SI.

    ``least`` and ``most`` are what no part can go beyond (a hole in the metal around it); the
    start is inside even of these, for it lies on the bench.
    """

    start: float
    low: float
    high: float
    least: float = -inf
    most: float = inf

    def __post_init__(self):
        """Let the start lie inside."""
        low, high = max(self.low, self.least), min(self.high, self.most)
        object.__setattr__(self, "low", min(low, self.start))
        object.__setattr__(self, "high", max(high, self.start))

    @classmethod
    def times(cls, start: float, low: float, high: float, **limits) -> "Reach":
        """From so many times the start to so many times it."""
        return cls(start, low * start, high * start, **limits)

    @property
    def ends(self) -> tuple[float, float]:
        """Low and high."""
        return self.low, self.high


def throttle(full: float, low: float = 0.0, start: float | None = None) -> Reach:
    """A throttle [V]: from a share of full voltage to what a strong pack gives."""
    return Reach(full if start is None else start, low * full, STRONG_PACK * full)


def round_up(value: float, least: float) -> float:
    """The next round number that is at least the value, and at least ``least``.

    >>> round_up(61.0, 10.0), round_up(0.3, 1.0), round_up(1234.0, 1.0), round_up(8.0, 1.0)
    (80.0, 1.0, 1500.0, 8.0)
    """
    value = max(value, least)
    ten = 10.0 ** floor(log10(value))
    return float(next(ten * n for n in STEPS if ten * n >= value * (1 - 1e-9)))
