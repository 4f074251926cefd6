"""Numbers with a spread: draw them once, compute with arrays, read off a band.

Every uncertain number becomes an array.  Element 0 is the value as read; the rest are
draws.  The handbook's formulas broadcast, so one pass gives the answer and its band.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from zlib import crc32

import numpy as np
import scipy

from mechkit.units import KINDS, Reading, System, label, show, shown

DRAWS = 1000
#: Inputs named for one band, the least share of it that is worth a name, and inputs that
#: are looked at for it.
MOST_SOURCES, LEAST_SHARE, LIKELY = 3, 0.10, 12


@dataclass(frozen=True)
class Band:
    """An answer with its 95 % band, and the inputs that the band comes from."""

    value: float
    low: float
    high: float
    kind: str
    #: Asked for the inputs once somebody wants them: it takes as long as the band itself.
    traced: Callable[[], tuple[tuple[str, float], ...]] | None = field(
        default=None, compare=False, repr=False
    )

    @cached_property
    def sources(self) -> tuple[tuple[str, float], ...]:
        """The inputs that the band comes from, the largest first, each with its share of the variance."""
        return self.traced() if self.traced else ()

    @property
    def source(self) -> str:
        """The input that most of the band comes from; empty for a number without a band."""
        return self.sources[0][0] if self.sources else ""

    def decimals(self, system: System = "metric"):
        """Decimals that the band deserves: a third of its width, and no more than usual.

        A number without a band has three digits.
        """
        usual = KINDS[self.kind][system].decimals
        low, high = (shown(end, self.kind, system) for end in (self.low, self.high))
        width = abs(high - low)
        if width < 10.0**-usual:
            size = math.floor(math.log10(abs(high))) if high else 0
            return min(usual, max(0, 2 - size))
        return min(usual, max(0, -math.floor(math.log10(width / 3))))

    def plain(self, system: System = "metric") -> str:
        """The answer alone, with the decimals that its band deserves."""
        return show(self.value, self.kind, system, self.decimals(system))

    def say(self, system: System = "metric"):
        """The answer as it stands in a sentence, with its band."""
        places = self.decimals(system)
        text, low, high = (
            show(number, self.kind, system, places) for number in (self.value, self.low, self.high)
        )
        if low == high:
            return text
        number = low.removesuffix(label(self.kind, system)).rstrip("\u00a0")
        return f"{text} ({number} to {high})"

    def meets(self, other: "Band"):
        """True where two bands overlap."""
        return self.low <= other.high and other.low <= self.high


def doubt(*numbers: Reading | None) -> float:
    """The relative standard error that he wrote behind numbers that multiply."""
    return math.hypot(*(each.sigma / each.value for each in numbers if each and each.value))


def _scores(values):
    """Ranks of the draws, centered and of unit length: their product is Spearman's rho."""
    _, place, many = np.unique(values[1:], return_inverse=True, return_counts=True)
    ranks = (np.cumsum(many) - many / 2)[place]  # equal draws share the middle of their ranks
    ranks -= ranks.mean()
    length = np.linalg.norm(ranks)
    return ranks / length if length else ranks


@dataclass
class Spread:
    """Draws every uncertain input by its name alone: whoever asks again, or later, gets the same."""

    seed: int = 64
    draws: int = DRAWS
    drawn: dict[str, np.ndarray] = field(default_factory=dict)

    def __post_init__(self):
        """Make the places that chance shuffles, and the memory of what was drawn."""
        self._ranks: dict[str, np.ndarray] = {}
        self._places = (np.arange(self.draws) + 0.5) / self.draws
        self._normal = scipy.special.ndtri(self._places)

    def _shuffled(self, name, places):
        """Evenly spaced places in an order that hangs on the name; the middle comes first."""
        chance = np.random.default_rng([self.seed, crc32(name.encode())])
        middle = (places[0] + places[-1]) / 2
        return np.concatenate([[middle], chance.permutation(places)])

    def error(self, name):
        """An error of mean nothing and of one standard error."""
        if name not in self.drawn:
            self.drawn[name] = self._shuffled(name, self._normal)
        return self.drawn[name]

    def share(self, name):
        """A number of which only the ends are known, 0 to 1."""
        if name not in self.drawn:
            self.drawn[name] = self._shuffled(name, self._places)
        return self.drawn[name]

    def reading(self, name, reading: Reading, finest=0.0):
        """A reading; without a spread of its own, the instrument's ``finest`` is it."""
        sigma = (reading.spread or finest) / 2
        if sigma == 0.0:
            return np.full(self.draws + 1, reading.value)
        drawn = reading.value + sigma * self.error(name)
        if reading.value < 0:
            return drawn
        # nothing that is measured positive turns negative by chance; what reads nothing is off one way
        return np.maximum(drawn, 0.02 * reading.value) if reading.value else np.abs(drawn)

    def factor(self, name, low, high):
        """A number known by its band only, even in the logarithm: friction, wear."""
        return low * (high / low) ** self.share(name)

    def band(self, answer, kind):
        """The answer's band, and which input it mostly comes from."""
        answer = np.broadcast_to(np.asarray(answer, float), self.draws + 1)
        low, high = np.percentile(answer[1:], [2.5, 97.5])
        return Band(float(answer[0]), float(low), float(high), kind, lambda: self.sources(answer))

    def sources(self, answer):
        """The inputs whose ranks go with the answer's, and their shares of the variance.

        The largest first, each with what it adds to those before it: numbers that were
        fitted together say the same thing twice.
        """
        if np.ptp(answer[1:]) == 0 or not self.drawn:
            return ()
        for name, values in self.drawn.items():
            if name not in self._ranks:
                self._ranks[name] = _scores(values)
        names = list(self.drawn)
        matrix = np.array([self._ranks[name] for name in names])
        with_answer = matrix @ _scores(answer)
        likely = np.argsort(-(with_answer**2))[:LIKELY]
        with_answer, ranks = with_answer[likely], matrix[likely]
        among = ranks @ ranks.T
        found: list[tuple[str, float]] = []
        for _ in range(MOST_SOURCES):
            own = np.maximum(np.diag(among), 0.05)  # of what is left, not of its noise
            adds = with_answer**2 / own
            best = int(np.argmax(adds))
            if found and adds[best] < LEAST_SHARE:
                break
            found.append((names[likely[best]], float(adds[best])))
            pivot, column = with_answer[best] / own[best], among[:, best].copy()
            with_answer = with_answer - pivot * column
            among = among - np.outer(column, column) / own[best]
        return tuple(sorted(found, key=lambda source: -source[1]))

    def chance(self, condition):
        """How sure a verdict is: the share of draws in which it holds."""
        return float(np.mean(np.broadcast_to(condition, self.draws + 1)[1:]))
