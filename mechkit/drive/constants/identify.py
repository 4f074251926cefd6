"""All readings weighed together: the constants that fit every one of them at once.

Resistance, free running, breakaway, runs and coasts lean on the same eight constants.  One
least-squares fit uses them all, counts what they share, finds a reading that does not belong,
and says what the readings leave open.  Its draws are traced to the readings, each with its
own error, so that every band can name what it comes from.
"""

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from mechkit.drive.constants.readings import Bench, Errors, Known, candidates
from mechkit.drive.constants.weighing import CONSTANTS, COUNT, SHARED, Fit, Numbers, numbers
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
#: Readings that scatter more than their instruments explain widen every band; so many readings
#: are taken to agree beforehand.
AGREEING = 6.0
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
    place: np.ndarray
    bad: tuple[tuple[str, int], ...]
    scatter: float

    @cached_property
    def _slopes(self):
        return self.fit.slopes(self.place)

    @cached_property
    def errors(self):
        """Standard errors of the row, widened where the readings scatter."""
        gains = self._gains
        return np.sqrt(np.sum(gains**2, axis=1))

    @cached_property
    def _gains(self):
        """How far each reading's own error moves each number of the row."""
        slopes = self._slopes
        gains = np.linalg.solve(slopes.T @ slopes, slopes.T)
        gains[:, : self.fit.used.sum()] *= self.scatter
        return gains

    @cached_property
    def constants(self) -> dict[str, Constant]:
        """Each constant with its interval."""
        found = numbers(self.place, self.fit.known)
        return {
            name: Constant(
                words,
                value := float(getattr(found, name)),
                value * float(np.exp(-REACH * error)),
                value * float(np.exp(REACH * error)),
            )
            for (name, words), error in zip(CONSTANTS.items(), self.errors[:COUNT], strict=True)
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
        """The numbers with their draws: the place, and what every reading's error makes of it."""
        fit = self.fit
        names = [
            f"{sort} {n + 1}, {when}" for sort, n in np.array(fit.bench.places, object)[fit.used]
        ]
        held = [*(f"{words}, a stand-in" for words in CONSTANTS.values()), *SHARED.values()]
        row = np.repeat(self.place[None, :], spread.draws + 1, axis=0)
        for name, gain in zip([*names, *held], self._gains.T, strict=True):
            if np.any(np.abs(gain) > 1e-9):
                row += np.outer(spread.error(name), gain)
        return numbers(row, fit.known)

    @cached_property
    def advice(self) -> Advice | None:
        """The further reading that narrows the widest interval most; None where none helps."""
        fit, place = self.fit, self.place
        information = self._slopes.T @ self._slopes
        before = np.sqrt(np.diag(np.linalg.inv(information)))[:COUNT]
        found = numbers(place, fit.known)
        start = float(found.starting_friction * found.resistance / found.torque_constant)
        offers = []
        for words, extra in candidates(fit.bench, fit.known, start):
            more = Fit(extra, fit.known, fit.errors, fit.middle, fit.firm)
            more.weigh(place)
            rows = more.slopes(place)[: more.used.sum()]
            after = np.sqrt(np.diag(np.linalg.inv(information + rows.T @ rows)))[:COUNT]
            offers.append((words, after))
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
    theta, _ = fit.solve(fit.middle, "soft_l1")
    fit.weigh(theta)
    bad: list[int] = []
    while len(bad) < MOST_BAD and fit.used.any():
        place, off = fit.worst(theta)
        if off < BAD:
            break
        bad.append(place)
        fit.used[place] = False
        theta, _ = fit.solve(theta, "soft_l1")
        fit.weigh(theta)
    theta, _ = fit.solve(theta, "linear")
    off = fit.deviations(theta)[: fit.used.sum()]
    told = max(float(len(off) - COUNT), 0.0)
    scatter = max(1.0, float((np.sum(off**2) + AGREEING) / (told + AGREEING)) ** 0.5)
    return Identified(fit, theta, tuple(bench.places[place] for place in bad), scatter)


__all__ = ["CONSTANTS", "Advice", "Constant", "Identified", "identify"]
