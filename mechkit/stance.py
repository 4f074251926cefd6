"""How a rigid frame settles on supports that push and never pull.

Each support answers with a load that is zero until it is met and then rises with its
compression in straight pieces: spring, stop, or both.  The frame heaves and pitches until
the loads balance the weight.

For one pitch the heave follows exactly, by sorting the places where pieces begin; what is
left is one equation for the pitch.  Its moment falls steadily in straight pieces, so
Newton's step from the right piece hits the root exactly; a bracket and halving lead to
that piece.  Thousands of places on the track are settled together.
"""

from typing import NamedTuple

import numpy as np

#: Newton steps between two halvings of the bracket, and how often that is done at most.
_ROUND = 3
_LIMIT = 1000


class Stance(NamedTuple):
    """Where the frame settles: the rise of each axle in the frame, and its load."""

    rises: np.ndarray
    loads: np.ndarray


class _Supports(NamedTuple):
    """Supports under many places on the track: place by axle by piece."""

    arms: np.ndarray
    heights: np.ndarray
    knots: np.ndarray
    steps: np.ndarray
    weight: np.ndarray

    def at(self, places):
        """Only some of the places."""
        return _Supports(*(part[places] for part in self))


def per_axle(positions, **named):
    """Positions as an array and each other argument as one value an axle, or a refusal."""
    positions = np.asarray(positions, dtype=float)
    axles = positions.shape[-1] if positions.ndim else 0
    if axles < 2:
        raise ValueError(f"positions = {axles} values: must be two axles or more")
    spread = []
    for name, value in named.items():
        value = np.atleast_1d(np.asarray(value, dtype=float))
        if value.shape[-1] not in (1, axles):
            raise ValueError(f"{name} = {value.shape[-1]} values: must be one an axle, {axles}")
        spread.append(value)
    return positions, *spread


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
    center = np.asarray(center_of_gravity)[..., None]
    arms, heights = np.broadcast_arrays(positions - center, heights)
    weight = np.asarray(weight, dtype=float)
    lead = np.broadcast_shapes(
        arms.shape[:-1], weight.shape, np.shape(knots)[:-2], np.shape(steps)[:-2]
    )
    axles = arms.shape[-1]
    pieces = np.broadcast_shapes(np.shape(knots), np.shape(steps))[-1]
    supports = _Supports(
        np.broadcast_to(arms, (*lead, axles)).reshape(-1, axles),
        np.broadcast_to(heights, (*lead, axles)).reshape(-1, axles),
        np.broadcast_to(knots, (*lead, axles, pieces)).reshape(-1, axles, pieces),
        np.broadcast_to(steps, (*lead, axles, pieces)).reshape(-1, axles, pieces),
        np.broadcast_to(weight, lead).reshape(-1),
    )
    rises, loads = _pitch(supports)
    return Stance(rises.reshape(*lead, axles), loads.reshape(*lead, axles))


def _pitch(supports):
    """Rises and loads at the pitch that balances the moments."""
    rises, loads = np.empty((2, *supports.arms.shape))
    places = np.arange(len(supports.weight))
    low, high = _bracket(supports)
    pitch = np.clip(_first_guess(supports), low, high)
    before = np.full(supports.arms.shape, -1)
    for turn in range(_LIMIT):
        rise, load, stiffness, pieces = _balance(supports, pitch)
        moment = (load * supports.arms).sum(-1)
        total, _, turning = _set(stiffness, supports.arms)
        low, high = np.where(moment > 0, pitch, low), np.where(moment < 0, pitch, high)
        span = np.ptp(supports.arms, axis=-1)
        # what rounding alone can leave over, as a force
        reach = abs(supports.heights).max(-1) + abs(pitch) * span
        dust = 4e-16 * (supports.weight + total * reach)
        done = (pieces == before).all(-1) | (abs(moment) <= dust * span)
        done |= (high - low) * span * total <= dust
        rises[places[done]] = rise[done]
        loads[places[done]] = _polished(load, stiffness, supports)[done]
        if done.all():
            break
        newton = pitch + moment / np.where(turning > 0, turning, np.inf)
        good = (newton > low) & (newton < high) & (turn % (_ROUND + 1) != _ROUND)
        before = np.where(good[:, None], pieces, -1)
        pitch = np.where(good, newton, (low + high) / 2)
        if done.any():
            left = ~done
            supports, places = supports.at(left), places[left]
            pitch, low, high, before = pitch[left], low[left], high[left], before[left]
    return rises, loads


def _set(stiffness, arms):
    """Stiffness of the axles that carry: against heave, its middle, and against pitch."""
    total = stiffness.sum(-1)
    middle = (stiffness * arms).sum(-1) / total
    return total, middle, (stiffness * (arms - middle[:, None]) ** 2).sum(-1)


def _polished(load, stiffness, supports):
    """The loads with the last rounding taken out: they balance weight and moment."""
    total, middle, turning = _set(stiffness, supports.arms)
    lack = supports.weight - load.sum(-1)
    moment = -(load * supports.arms).sum(-1) - lack * middle
    tilt = moment / np.where(turning > 0, turning, np.inf)
    even = lack / total
    arms = supports.arms - middle[:, None]
    return np.maximum(load + stiffness * (even[:, None] + tilt[:, None] * arms), 0.0)


def _balance(supports, pitch):
    """Rises, loads, stiffnesses and pieces met at a pitch, the heave balancing the weight."""
    lifted = supports.heights - pitch[:, None] * supports.arms
    levels = (lifted[..., None] - supports.knots).reshape(len(pitch), -1)
    steps = supports.steps.reshape(len(pitch), -1)
    order = np.argsort(-levels, axis=-1)
    levels, steps = np.take_along_axis(levels, order, -1), np.take_along_axis(steps, order, -1)
    stiffness, lever = np.cumsum(steps, -1), np.cumsum(steps * levels, -1)
    carried = lever - stiffness * levels
    last = (carried <= supports.weight[:, None]).sum(-1, keepdims=True) - 1
    lever, stiffness = (np.take_along_axis(each, last, -1) for each in (lever, stiffness))
    rise = lifted - (lever - supports.weight[:, None]) / stiffness
    past = rise[..., None] - supports.knots
    met = past > 0
    steps = np.where(met, supports.steps, 0.0)
    return rise, (steps * past).sum(-1), steps.sum(-1), met.sum(-1)


def _first_guess(supports):
    """The pitch if every spring could push and pull as in its first piece."""
    softness = np.cumsum(supports.steps, -1).min(-1)
    middle = (softness * supports.arms).sum(-1) / softness.sum(-1)
    arms = supports.arms - middle[:, None]
    bare = softness * (supports.heights - supports.knots[..., 0])
    moment = (bare * arms).sum(-1) + supports.weight * middle
    return moment / (softness * arms**2).sum(-1)


def _bracket(supports):
    """Pitches so steep that the foremost, or the hindmost, axle carries all alone."""
    softest = np.cumsum(supports.steps, -1).min(-1)
    first = supports.heights - supports.knots[..., 0]
    ends = []
    for end in (np.argmax(supports.arms, -1), np.argmin(supports.arms, -1)):
        end = end[:, None]
        arm, top, rate = (
            np.take_along_axis(each, end, -1) for each in (supports.arms, first, softest)
        )
        apart = arm - supports.arms
        need = first - top + supports.weight[:, None] / rate
        ends.append(-need / np.where(apart == 0, np.inf, apart))
    return ends[0].min(-1), ends[1].max(-1)
