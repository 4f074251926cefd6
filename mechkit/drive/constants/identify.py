"""All readings weighed together: the constants that fit every one of them at once.

Resistance, free running, breakaway, runs and coasts lean on the same eight constants.  One
least-squares fit uses them all, counts the meter's common error and the warm winding,
finds a reading that does not belong, and says what the readings leave open.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import scipy

from mechkit.drive.constants.readings import Bench, Errors, Known, candidates
from mechkit.drive.constants.weighing import COUNT, FREE, INERTIA, NOTICED, Fit, guess

#: The constants, in the order of the fit, in words.
CONSTANTS = {
    "resistance": "the winding's resistance",
    "torque_constant": "the torque constant",
    "motor_friction": "the motor's own friction",
    "starting_friction": "friction at rest",
    "running_friction": "friction in motion",
    "damping": "friction that grows with speed",
    "efficiency": "mesh efficiency",
    "inertia": "inertia",
}
#: A direction that the readings leave open by more than this fraction is reported.
LOOSE = 0.25
#: Deviations, each over its own error, beyond which a reading is called bad.
BAD = 4.0
#: A further reading is worth taking that leaves less than this of an error.
WORTH = 0.97
#: More bad readings than this are not readings but another mechanism.
MOST_BAD = 2


@dataclass(frozen=True)
class Constant:
    """One constant, in SI, with its 95 % interval; unbounded where no reading tells it."""

    words: str
    value: float
    low: float
    high: float


@dataclass(frozen=True)
class Advice:
    """The further reading that narrows the widest interval most.

    Standard errors are fractions of the constant, without bound where nothing tells it.
    """

    reading: str
    constant: str
    error: float
    error_after: float


@dataclass(frozen=True)
class Identified:
    """What the fit found."""

    constants: dict[str, Constant]
    bad: tuple[tuple[str, int], ...]
    loose: tuple[str, ...]
    fit: Fit
    place: np.ndarray
    unread: tuple[int, ...]

    @cached_property
    def advice(self):
        """The further reading that helps most, or None where none helps."""
        return _advise(self.fit, self.place, self.unread)


def _untold(slopes):
    """Which constants no reading answers to."""
    strength = np.linalg.norm(slopes[:, :COUNT], axis=0)
    return [n for n in range(COUNT) if strength[n] < 1e-3]


def _loose(slopes):
    """In words, what the readings do not tell, or do not tell apart; and which are unknown."""
    words = list(CONSTANTS.values())
    unread = _untold(slopes)
    said = [f"no reading tells {words[n]}" for n in unread]
    kept = [n for n in range(slopes.shape[1]) if n not in unread]
    _, sizes, directions = np.linalg.svd(slopes[:, kept], full_matrices=False)
    for size, direction in zip(sizes, directions, strict=True):
        if size * LOOSE >= 1:
            continue
        # how far each constant slides along it, as a fraction, within the loose hold
        slide = np.abs(direction) * min(1 / max(size, 1e-9), FREE)
        names = [
            words[n]
            for n, far in zip(kept, slide, strict=True)
            if n < len(words) and far > min(LOOSE / 2, slide.max() / 2)
        ]
        if not names:  # the meter's error or adhesion, which nobody asks for
            continue
        if len(names) == 1:
            said.append(f"the readings hardly tell {names[0]}")
        else:
            said.append(f"the readings cannot tell {' from '.join(names)}")
    return tuple(dict.fromkeys(said)), tuple(unread)


def _advise(fit, theta, unread):
    """Which further reading narrows the widest interval most.

    Where no reading narrows it (a drive that locks tells no inertia), the next widest.
    """
    slopes = fit.slopes(theta)
    information = slopes.T @ slopes
    before = np.sqrt(np.diag(np.linalg.inv(information)))[:COUNT]
    starts = float(np.exp(theta[3] + theta[0] - theta[1]))
    offers = []
    for words, extra in candidates(fit.bench, fit.known, starts):
        more = Fit(extra, fit.known, fit.errors, theta)
        more.weigh(theta)
        rows = more.slopes(theta)[: more.used.sum()]
        after = np.sqrt(np.diag(np.linalg.inv(information + rows.T @ rows)))[:COUNT]
        offers.append((words, after))
    for place in np.argsort(-before):
        words, after = min(offers, key=lambda offer: offer[1][place])
        if after[place] < WORTH * before[place]:
            error = float("inf") if place in unread else float(before[place])
            return Advice(words, list(CONSTANTS.values())[place], error, float(after[place]))
    return None


def identify(bench: Bench, known: Known, errors: Errors) -> Identified:
    """Fit all readings of a bench together.

    Every interval is 95 % and holds the scatter of the readings and the meter's common
    error.  Coasts little longer than a skid may be taken for skids, which tell no inertia, and
    be named as bad.  Raises ValueError where no resistance or no speed was read.
    """
    if not (bench.resistance or bench.stall):
        raise ValueError("no resistance was read: neither the winding's nor a stalled current")
    if not (bench.no_load or bench.runs):
        raise ValueError("no speed was read: neither the motor alone nor a steady run")
    fit = Fit(bench, known, errors, guess(bench, known))
    theta = fit.settle(fit.rough(), "soft_l1")[0][0]
    fit.weigh(theta)
    bad: list[int] = []
    while len(bad) < MOST_BAD:
        place, off = fit.worst(theta)
        if off < BAD:
            break
        bad.append(place)
        fit.used[place] = False
        theta = fit.settle(theta, "soft_l1")[0][0]
        fit.weigh(theta)
    tried = fit.settle(theta, "linear")
    theta, least = tried[0]
    loose, unread = _loose(fit.slopes(theta)[:-COUNT])
    as_good = [_ends(fit, other) for other, off in tried if off < least + NOTICED]
    low, high = np.min([low for low, _ in as_good], 0), np.max([high for _, high in as_good], 0)
    if INERTIA not in unread and low[INERTIA] == 0.0:
        loose += ("the coasts may be skids, which tell the most that inertia can be",)
    constants = {
        name: Constant(
            words,
            float("nan") if n in unread else float(np.exp(theta[n])),
            float(low[n]),
            float(high[n]),
        )
        for n, (name, words) in enumerate(CONSTANTS.items())
    }
    named = tuple(bench.places[place] for place in bad)
    return Identified(constants, named, loose, fit, theta, unread)


def _ends(fit, theta):
    """Ends of every constant's 95 % interval, as far as the fit from one start tells."""
    slopes = fit.slopes(theta)
    reach = scipy.special.ndtri(0.975) * np.sqrt(np.diag(np.linalg.inv(slopes.T @ slopes)))[:COUNT]
    low, high = np.exp(theta[:COUNT] - reach), np.exp(theta[:COUNT] + reach)
    for n in _untold(slopes[:-COUNT]):
        low[n], high[n] = 0.0, np.inf
        if n == INERTIA:
            high[n] = np.exp(fit.most_inertia(theta))
    return low, high
