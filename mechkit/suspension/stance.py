"""How a rigid frame settles on supports that push and never pull.

Each support answers with a load that is zero until it is met and then rises with its
compression in straight pieces: spring, stop, or both.  The frame heaves and pitches until
the loads balance the weight.

First a few rounds of guessing: the pieces last met are taken for straight lines without end,
and solved.  Mostly the same pieces are met again, and that is the answer.  Where the guess
goes round in circles a surer way follows.  For one pitch the heave is found by sorting the
places where pieces begin; what is left is one equation for the pitch, whose moment falls
steadily in straight pieces.  It is walked piece by piece towards balance, between bounds that
close in, until the root lies in the piece at hand: no step is approximate.  Thousands of
places on the track are settled together.
"""

from typing import NamedTuple

import numpy as np

from mechkit import check

#: Every so many turns the bracket is halved, and how many turns there are at most.
_HALVING, _LIMIT = 8, 2000
#: Rounds of guessing which pieces are met, before the bracket is set up.
_GUESSES = 12


class Stance(NamedTuple):
    """Where the frame settles: the rise of each axle in the frame, and its load."""

    rises: np.ndarray
    loads: np.ndarray


class _Supports(NamedTuple):
    """Supports under many places on the track: axle by place, pieces first."""

    arms: np.ndarray
    heights: np.ndarray
    knots: np.ndarray
    steps: np.ndarray
    weight: np.ndarray

    def at(self, places):
        """Only some of the places."""
        return _Supports(*(part[..., places] for part in self))


def per_axle(positions, *others):
    """Positions and all else with the axles in the last place, or a refusal."""
    if np.ndim(positions) == 0 or not np.ptp(positions, axis=-1).all():
        check.refuse("positions", positions, "two axles or more, not all in one place")
    return positions, *map(np.atleast_1d, others)


def settle(*, positions, heights, knots, steps, weight, center_of_gravity):
    """Let the frame settle.

    Parameters
    ----------
    positions, heights : array
        Axles in the last place [m]
    knots, steps : array
        Axles in the place before the last, pieces in the last: the rise at which a piece
        begins [m], in rising order, and by how much the stiffness grows there [N/m]
    weight, center_of_gravity : array
        One a place on the track [N], [m]; the center lies between the end axles

    Returns
    -------
    stance : Stance
        Rise of each axle in the frame, and its load
    """
    arms = positions - np.asarray(center_of_gravity)[..., None]
    lead = np.broadcast_shapes(
        *(np.shape(each)[:-1] for each in (arms, heights)),
        *(np.shape(each)[:-2] for each in (knots, steps)),
        np.shape(weight),
    )
    axles, pieces = np.broadcast_shapes(np.shape(knots), np.shape(steps))[-2:]
    axles = max(axles, arms.shape[-1])

    def spread(part, *own):
        """One column a place, pieces and axles before it."""
        whole = np.broadcast_to(part, (*lead, *own)).reshape(-1, *own)
        return np.ascontiguousarray(whole.T)

    supports = _Supports(
        spread(arms, axles),
        spread(heights, axles),
        spread(knots, axles, pieces),
        spread(steps, axles, pieces),
        spread(weight),
    )
    return Stance(*(each.T.reshape(*lead, axles) for each in _pitch(supports)))


def _pitch(supports):
    """Rises and loads at the pitch that balances the moments."""
    rises, loads = np.full((2, *supports.arms.shape), np.nan)
    places = np.arange(len(supports.weight))
    low, high = _bracket(supports)
    pitch, before = _guess(supports)
    pitch = np.clip(pitch, low, high)
    for turn in range(_LIMIT):
        rise, load, stiffness, pieces = _balance(supports, pitch)
        moment = (load * supports.arms).sum(0)
        total, middle, turning = _set(stiffness, supports.arms)
        low, high = np.where(moment > 0, pitch, low), np.where(moment < 0, pitch, high)
        # what rounding alone can leave over, as a force
        span = np.ptp(supports.arms, axis=0)
        reach = abs(supports.heights).max(0) + abs(pitch) * span
        dust = 4e-16 * (supports.weight + total * reach)
        left = abs(moment) / span
        done = (left <= dust) | ((pieces == before).all(0) & (left <= 1e3 * dust))
        done |= (high - low) * span * total <= dust
        rises[:, places[done]] = rise[:, done]
        loads[:, places[done]] = _polished(load, stiffness, supports)[:, done]
        if done.all():
            break
        newton = pitch + moment / np.where(turning > 0, turning, np.inf)
        way = np.where(moment > 0, 1.0, -1.0)
        ahead = _to_next_piece(rise, way * (middle - supports.arms), supports)
        walk = pitch + way * (ahead + 1e-9 * (high - low))
        right = (turning > 0) & (abs(newton - pitch) <= ahead)
        good = (walk < high) & (walk > low) & (turn % _HALVING != _HALVING - 1)
        before = np.where(right, pieces, -1)
        pitch = np.where(right, newton, np.where(good, walk, (low + high) / 2))
        if done.any():
            rest = ~done
            supports, places = supports.at(rest), places[rest]
            pitch, low, high, before = pitch[rest], low[rest], high[rest], before[:, rest]
    return rises, loads


def _set(stiffness, arms):
    """Stiffness of the axles that carry: against heave, its middle, and against pitch."""
    total = stiffness.sum(0)
    middle = (stiffness * arms).sum(0) / total
    return total, middle, (stiffness * (arms - middle) ** 2).sum(0)


def _to_next_piece(rise, speed, supports):
    """How far the pitch may go, the axles rising so fast, until a piece is met or left."""
    way = supports.knots - rise
    closing = speed * way > 0
    return np.where(closing, way / np.where(closing, speed, 1.0), np.inf).min((0, 1))


def _polished(load, stiffness, supports):
    """The loads with the last rounding taken out: they balance weight and moment."""
    total, middle, turning = _set(stiffness, supports.arms)
    lack = supports.weight - load.sum(0)
    moment = -(load * supports.arms).sum(0) - lack * middle
    tilt = moment / np.where(turning > 0, turning, np.inf)
    return np.maximum(load + stiffness * (lack / total + tilt * (supports.arms - middle)), 0.0)


def _balance(supports, pitch):
    """Rises, loads, stiffnesses and pieces met at a pitch, the heave balancing the weight."""
    lifted = supports.heights - pitch * supports.arms
    levels = (lifted - supports.knots).reshape(-1, len(pitch))
    order = np.argsort(-levels, axis=0)
    levels = np.take_along_axis(levels, order, 0)
    steps = np.take_along_axis(supports.steps.reshape(levels.shape), order, 0)
    stiffness, lever = np.cumsum(steps, 0), np.cumsum(steps * levels, 0)
    last = (lever - stiffness * levels <= supports.weight).sum(0)[None] - 1
    lever, stiffness = (np.take_along_axis(each, last, 0)[0] for each in (lever, stiffness))
    rise = lifted - (lever - supports.weight) / stiffness
    past = rise - supports.knots
    met = past > 0
    steps = np.where(met, supports.steps, 0.0)
    return rise, (steps * past).sum(0), steps.sum(0), met.sum(0)


def _soft(supports):
    """Each axle's softest piece as a straight line: stiffness, and load at rise 0 below 0."""
    sums = np.cumsum(supports.steps, 0)
    soft = np.argmin(sums, 0)[None]
    slack = np.cumsum(supports.steps * supports.knots, 0)
    return [np.take_along_axis(each, soft, 0)[0] for each in (sums, slack)]


def _guess(supports):
    """A pitch, and the pieces met there, by solving for the pieces last met, a few times over.

    Mostly the pieces soon stay the same, and then the pitch is right; nothing depends on it.
    """
    stiffness, slack = soft = _soft(supports)
    pieces = np.full(stiffness.shape, -1)
    for _ in range(_GUESSES):
        total, middle, turning = _set(stiffness, supports.arms)
        arms, bare = supports.arms - middle, stiffness * supports.heights - slack
        moment = (bare * arms).sum(0) + supports.weight * middle
        pitch = moment / np.where(turning > 0, turning, np.inf)
        rise = supports.heights - pitch * arms - (bare.sum(0) - supports.weight) / total
        met = rise > supports.knots
        before, pieces = pieces, met.sum(0)
        if (pieces == before).all():
            break
        steps = np.where(met, supports.steps, 0.0)
        few = (pieces > 0).sum(0) < 2  # no frame stands on one axle: all springs again
        stiffness = np.where(few, soft[0], steps.sum(0))
        slack = np.where(few, soft[1], (steps * supports.knots).sum(0))
        pieces = np.where(few, -1, pieces)
    return pitch, np.where((pieces == before).all(0), pieces, -1)


def _bracket(supports):
    """Pitches so steep that the foremost, or the hindmost, axle carries all alone."""
    first = supports.heights - supports.knots[0]
    sunk = supports.weight / _soft(supports)[0]
    ends = []
    for end in (np.argmax(supports.arms, 0)[None], np.argmin(supports.arms, 0)[None]):
        arm, top, low = (np.take_along_axis(each, end, 0) for each in (supports.arms, first, sunk))
        apart = arm - supports.arms
        ends.append((top - low - first) / np.where(apart == 0, np.inf, apart))
    return ends[0].min(0), ends[1].max(0)
