"""The row of constants that fits the readings best, and how firmly they hold it.

Least squares with a robust start, in steps of its own: every evaluation stops the engine some
hundred times, so a general solver would spend most of its time on steps that gain nothing.
"""

from dataclasses import dataclass

import numpy as np

from mechkit.drive.constants.readings import Bench, Errors, Known
from mechkit.drive.constants.weighing import (
    CONSTANTS,
    COUNT,
    HALF_WARM,
    START,
    STICTION,
    STICTION_ERROR,
    Hold,
    Numbers,
    beforehand,
    errors_of,
    numbers,
    shown,
)

#: Steps of a fit, and the gain that is worth one more, in squares of what a reading is off.
MOST_STEPS, CLOSE = 20, 1e-4
#: Along a kink, where a coast goes over from one law to another, steps gain little for ever: there
#: a gain must be so much larger to be worth one more.
CREEPS = 100.0
#: No constant is farther off a first look than this, e-fold.
FARTHEST_OFF = 8.0
#: A step that went too far is tried again so much damped, relative to the slopes' own squares.
DAMPING = np.array([0.01, 0.1, 1.0, 10.0, 1e2, 1e3])
#: A reading that the fit leans on alone is still off by part of its error.
LEAST_ROOM = 0.02


@dataclass(frozen=True)
class Found:
    """A row, its deviations and their slopes, each number of the row in its own hold."""

    theta: np.ndarray
    off: np.ndarray
    slopes: np.ndarray


class Fit:
    """The weighted deviations of one bench, and the row that makes them least.

    A deviation counts in standard errors; a reading that was not read, or is left out, weighs
    nothing.
    """

    def __init__(self, bench: Bench, known: Known, errors: Errors, hold: Hold | None = None):
        """Gather the readings once; ``hold`` is what is thought beforehand, if not by them."""
        self.bench, self.known, self.errors = bench, known, errors
        self.used = np.isfinite(bench.read)
        self.read = np.where(self.used, bench.read, 0.0)
        self.hold = hold or beforehand(bench, known, errors)
        self.middle, self.firm = self.hold.middle, self.hold.firm
        self.reach = np.maximum(8 * self.firm, 1e-5)
        self.reach[:COUNT] = np.minimum(self.reach[:COUNT], FARTHEST_OFF)
        self.reach[START] = FARTHEST_OFF  # its hold is on stiction
        self.reach[-1] = HALF_WARM
        self.sigma = self._errors(shown(self.middle, bench, known, self.hold), self.middle)

    @property
    def weights(self):
        """One for what counts: readings, then the hold on every number of the row."""
        return np.concatenate([self.used, np.ones(len(self.middle))])

    def _errors(self, seen, theta):
        one = self.numbers(theta[None, :])
        return errors_of(seen, one, self.bench, self.known, self.errors)

    def numbers(self, theta) -> Numbers:
        """Rows of the fit as physical numbers."""
        return numbers(theta, self.known, self.hold)

    def constants(self, theta):
        """How the logarithms of the constants go with the row: its slopes."""
        size = np.minimum(1e-4, 0.01 * self.firm)
        ends = self.numbers(np.concatenate([theta + np.diag(size), theta - np.diag(size)]))
        more, less = np.split(np.log([getattr(ends, name) for name in CONSTANTS]), 2, axis=1)
        return (more - less) / (2 * size)

    def weigh(self, found: Found) -> Found:
        """Errors as they belong to the constants found so far, and what was found in them."""
        count = len(self.used)
        seen = found.off[:count] * self.sigma + self.read
        return self.widen(found, self._errors(seen, found.theta) / self.sigma)

    def widen(self, found: Found, times) -> Found:
        """Errors of the readings so many times as large, and what was found in them."""
        self.sigma = times * self.sigma
        change = np.concatenate([np.ones(len(self.used)) / times, np.ones(len(self.middle))])
        return Found(found.theta, change * found.off, change[:, None] * found.slopes)

    def deviations(self, theta):
        """Readings, then the hold on every number of the row."""
        seen = shown(theta, self.bench, self.known, self.hold)
        hold = (theta - self.middle) / self.firm
        hold[..., START] = np.log(self.numbers(theta).stiction / STICTION) / STICTION_ERROR
        return np.concatenate([(seen - self.read) / self.sigma, hold], axis=-1)

    def at(self, theta) -> Found:
        """Deviations and their slopes by central differences, all in one call."""
        size = np.minimum(1e-4, 0.01 * self.firm)
        ends = self.deviations(
            np.stack([theta, *(theta + np.diag(size)), *(theta - np.diag(size))])
        )
        off, more, less = ends[0], ends[1 : 1 + len(theta)], ends[1 + len(theta) :]
        return Found(theta, off, ((more - less) * (self.firm / (2 * size))[:, None]).T)

    def _cost(self, off, robust: bool):
        """Sum of squares; a robust one grows with the deviation itself where that is large."""
        readings, hold = np.split(off**2, [len(self.used)], axis=-1)
        if robust:
            readings = 2 * (np.sqrt(1 + readings) - 1)
        return readings @ self.used + hold.sum(axis=-1)

    def solve(self, start: Found | np.ndarray, robust=False) -> Found:
        """The row of least deviation from a start, by steps of least squares.

        A step that makes things worse is damped; where no step helps, it stays.
        """
        found = start if isinstance(start, Found) else self.at(start)
        cost = self._cost(found.off, robust)
        for _ in range(MOST_STEPS):
            close = CLOSE * max(1.0, cost / len(self.used))
            weights = self.weights
            if robust:
                weights[: len(self.used)] /= np.sqrt(1 + found.off[: len(self.used)] ** 2)
            square = found.slopes.T @ (weights[:, None] * found.slopes)
            down = -found.slopes.T @ (weights * found.off)
            step = np.linalg.solve(square, down)
            if step @ down < close:
                break
            following = self.at(self._within(found.theta + self.firm * step))
            less = self._cost(following.off, robust)
            if not less < cost:
                following = self._damped(found, square, down, robust)
                less, close = self._cost(following.off, robust), CREEPS * close
            if not less < cost:
                break
            found, gained, cost = following, cost - less, less
            if gained < close:
                break
        return found

    def _damped(self, found: Found, square, down, robust: bool) -> Found:
        """The best of several shorter steps."""
        damped = square + np.multiply.outer(DAMPING, np.diag(np.diag(square)))
        steps = np.linalg.solve(damped, np.broadcast_to(down[:, None], (*damped.shape[:2], 1)))
        tried = self._within(found.theta + self.firm * steps[..., 0])
        return self.at(tried[int(np.argmin(self._cost(self.deviations(tried), robust)))])

    def _within(self, theta):
        """No number of the row leaves its reach."""
        return np.clip(theta, self.middle - self.reach, self.middle + self.reach)

    def covariance(self, found: Found):
        """Of the row, each number in its own hold."""
        return np.linalg.inv(found.slopes.T @ (self.weights[:, None] * found.slopes))

    def worst(self, found: Found) -> tuple[int, float]:
        """The reading farthest off for what the others leave it, and by how much."""
        slopes = found.slopes[: len(self.used)]
        taken = np.einsum("ij,jk,ik->i", slopes, self.covariance(found), slopes)
        room = np.maximum(1 - taken, LEAST_ROOM)
        off = self.used * np.abs(found.off[: len(self.used)]) / np.sqrt(room)
        place = int(np.argmax(off))
        return place, float(off[place])

    def apart(self, found: Found, place: int) -> float:
        """How far a reading that is left out lies off what the others say it should be."""
        slopes = found.slopes[place]
        return float(abs(found.off[place]) / np.sqrt(1 + slopes @ self.covariance(found) @ slopes))
