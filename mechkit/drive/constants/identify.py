"""All readings weighed together: the constants that fit every one of them at once.

Resistance, free running, breakaway, runs and coasts lean on the same eight constants.  One
least-squares fit uses them all, counts what they share, finds a reading that does not belong,
and says what the readings leave open.  Its draws are traced to the readings, each with its
own error, so that every band can name what it comes from.
"""

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from mechkit.drive.constants.fitting import Fit, Found
from mechkit.drive.constants.readings import Bench, Errors, Known, candidates, scatter
from mechkit.drive.constants.weighing import CONSTANTS, OF_THE_DAY, SHARED, STAND_INS, Numbers
from mechkit.drive.model.spread import Spread

#: A constant that the readings leave within this much of what was thought beforehand is not told.
UNTOLD, HARDLY = 0.9, 0.6
#: What is thought beforehand more firmly than this needs no reading.
LOOSE = 0.2
#: Deviations, each over its own error, beyond which a reading is called bad.
BAD = 4.0
#: A further reading is worth taking that leaves less than this of an error.
WORTH = 0.97
#: More bad readings than this are not readings but another mechanism.
MOST_BAD = 2
#: How often the draws are moved to where they meet the readings, within this much of a standard
#: error, until so few miss.
MOST_MOVES, MET, FEW_MISS = 3, 0.25, 0.02
#: 95 % of chances lie within so many standard errors.
REACH = 1.96


@dataclass(frozen=True)
class Constant:
    """One constant, in SI, with its 95 % interval."""

    words: str
    value: float
    low: float
    high: float


@dataclass(frozen=True)
class Advice:
    """The further reading that narrows the widest interval most.

    Standard errors are fractions of the constant.
    """

    reading: str
    constant: str
    error: float
    error_after: float


@dataclass(frozen=True)
class Identified:
    """What the fit found: the place, which readings do not belong, and how much they scatter."""

    fit: Fit
    found: Found
    bad: tuple[tuple[str, int], ...]
    scatter: float

    @property
    def place(self) -> np.ndarray:
        """The row that fits best."""
        return self.found.theta

    @cached_property
    def errors(self):
        """Standard errors of the row, widened where the readings scatter."""
        return np.sqrt(np.sum(self._gains**2, axis=1))

    @cached_property
    def _gains(self):
        """How far each reading's own error, and each hold, moves each number of the row."""
        fit, found = self.fit, self.found
        return fit.firm[:, None] * (fit.covariance(found) @ (found.slopes.T * fit.weights))

    @cached_property
    def constants(self) -> dict[str, Constant]:
        """Each constant with its interval."""
        found = self.fit.numbers(self.place)
        errors = np.sqrt(np.sum((self.fit.constants(self.place) @ self._gains) ** 2, axis=1))
        return {
            name: Constant(
                words,
                value := float(getattr(found, name)),
                value * float(np.exp(-REACH * error)),
                value * float(np.exp(REACH * error)),
            )
            for (name, words), error in zip(CONSTANTS.items(), errors, strict=True)
        }

    @cached_property
    def loose(self) -> tuple[str, ...]:
        """In words, which constants the readings do not tell, or hardly."""
        said = []
        for words, error, firm in zip(CONSTANTS.values(), self.errors, self.fit.firm, strict=False):
            if firm > LOOSE and error > UNTOLD * firm:
                said.append(f"no reading tells {words}")
            elif firm > LOOSE and error > max(HARDLY * firm, LOOSE):
                said.append(f"the readings hardly tell {words}")
        return tuple(said)

    def draws(self, spread: Spread, when: str) -> Numbers:
        """The numbers with their draws: the place, and what every reading's error makes of it.

        ``when`` tells the readings of one evening from those of another, in words.
        """
        fit, bench = self.fit, self.fit.bench
        names = [f"{bench.called(place)}, {when}" for place in bench.places]
        names += [f"{words}, {when}" for words in STAND_INS.values()]
        names += [
            f"{words}, {when}" if name in OF_THE_DAY else words for name, words in SHARED.items()
        ]
        errors = np.zeros((spread.draws + 1, len(names)))
        for column in np.flatnonzero(np.abs(self._gains).max(axis=0) > 1e-9):
            errors[:, column] = spread.error(names[column])
        rows = self.place + errors @ self._gains.T
        return fit.numbers(self._met(errors, rows)).settled(bool(bench.runs))

    def _met(self, errors, rows):
        """Draws moved to where the readings, each off by its error, are met as the place is.

        Where the readings tell little, straight slopes lead away from what they do tell.  Only
        draws that miss are moved: every coast of every draw is a stop of its own.
        """
        weights, off = self.fit.weights, self.found.off
        open_ = np.arange(len(rows))
        left = weights * (self.fit.deviations(rows) - off - errors)
        for _ in range(MOST_MOVES):
            steps = left @ self._gains.T
            miss = np.abs(steps / self.errors).max(axis=1) > MET
            if np.sum(miss) < FEW_MISS * len(rows):
                break
            open_, left = open_[miss], left[miss]
            moved = rows[open_] - steps[miss]
            after = weights * (self.fit.deviations(moved) - off - errors[open_])
            better = (np.sum(after**2, axis=1) < np.sum(left**2, axis=1))[:, None]
            rows[open_] = np.where(better, moved, rows[open_])
            left = np.where(better, after, left)
        return rows

    @cached_property
    def advice(self) -> Advice | None:
        """The further reading that narrows the widest interval most; None where none helps."""
        fit, place = self.fit, self.place
        covariance = fit.covariance(self.found)
        information = np.linalg.inv(covariance)
        slopes = fit.constants(place) * fit.firm

        def errors(covariance):
            return np.sqrt(np.einsum("ij,jk,ik->i", slopes, covariance, slopes))

        before = errors(covariance)
        found = fit.numbers(place)
        start = float(found.starting_friction * found.resistance / found.torque_constant)
        offers = []
        for words, extra in candidates(fit.bench, fit.known, start):
            more = Fit(extra, fit.known, fit.errors, replace(fit.hold, middle=place))
            rows = more.at(place).slopes[: len(more.used)][more.used]
            offers.append((words, errors(np.linalg.inv(information + rows.T @ rows))))
        for column in np.argsort(-before):
            words, after = min(offers, key=lambda offer: offer[1][column])
            if after[column] < WORTH * before[column]:
                name = list(CONSTANTS.values())[column]
                return Advice(words, name, float(before[column]), float(after[column]))
        return None


@lru_cache(maxsize=32)
def identify(bench: Bench, known: Known, errors: Errors) -> Identified:
    """Fit all readings of a bench together.

    Raises
    ------
    ValueError
        Neither resistance nor a stalled current, or no speed was read.
    """
    if not (bench.resistance or bench.stall):
        raise ValueError("no resistance was read: neither the winding's nor a stalled current")
    if not (bench.no_load or bench.runs):
        raise ValueError("no speed was read: neither the motor alone nor a steady run")
    fit = Fit(bench, known, errors)
    # coasts cost most by far, so they join once all else is found
    still = Fit(replace(bench, coasts=()), known, errors, fit.hold)
    found = fit.solve(still.solve(still.middle, robust=True).theta, robust=True)
    found = fit.solve(fit.weigh(found), robust=True)
    bad: list[int] = []
    while len(bad) < MOST_BAD and fit.used.any():
        place, off = fit.worst(found)
        if off < BAD:
            break
        fit.used[place] = False
        without = fit.solve(found, robust=True)
        if fit.apart(without, place) < BAD:
            fit.used[place] = True
            break
        bad.append(place)
        found = without
    found = fit.solve(found)
    # readings that scatter more than their instruments explain weigh less, and bands widen
    times = scatter(float(fit.weights @ found.off**2), float(fit.used.sum()))
    found = fit.solve(fit.widen(found, times))
    return Identified(fit, found, tuple(bench.places[place] for place in bad), times)


__all__ = ["CONSTANTS", "Advice", "Constant", "Identified", "identify"]
