"""How an engine comes to rest once its power is cut: the laws of the simulation in closed form.

Two bodies, motor and train, with the mesh between them.  Either the motor pushes the train
(the mesh's loss helps to stop it), or the train pushes the motor (a worm lets little of that
through, or locks), or the mesh is afloat in its lost motion, or the drivers slide on the rail.
Within a phase everything is an exponential or a uniform fall, so thousands of draws stop at once.
"""

from dataclasses import dataclass, replace
from typing import Any, NamedTuple

import numpy as np

#: Phases of a stop: both as one, afloat until the other flank meets and back, drivers that
#: skid behind the train's speed, drivers that slip ahead of it, and the stand.
TIED, FLOATS, RETURNS, SKIDS, SLIPS, STANDS = range(6)
#: Afloat, skidding, pushed, afloat again, slipping, driving: a stop has no more phases.
_MOST = 7
#: Steps of the false position, which doubles its digits every other step.
_STEPS = 18
#: A root that moves by less, relative, is found.
_CLOSE = 1e-10
#: So many stops at once stay within a processor's cache, and the last of them is found early.
_PIECE = 16_000


@dataclass(frozen=True)
class Bodies:
    """What decides a stop; all in SI, each a number or an array with one value a draw.

    ``friction`` [N*m] and ``damping`` [N*m*s/rad] hold the motor and its bearings, ``rolling``
    [N] the train; ``gain`` and ``back`` [-] are the share of the rim's torque that the motor
    feels while it pushes and while it is pushed, ``limit`` [N] what the drivers hold.
    """

    inertia: Any
    mass: Any
    lever: Any
    friction: Any
    breakaway: Any
    damping: Any
    rolling: Any
    limit: Any
    gain: Any
    back: Any
    lost_motion: Any


class Phase(NamedTuple):
    """One phase of a stop: the train's speed [m/s], how hard it slows [m/s^2], for how long [s].

    ``relaxation`` [s] is the time constant with which the slowing itself fades; the train
    itself stands after ``moving`` [s].
    """

    kind: np.ndarray
    speed: np.ndarray
    slowing: np.ndarray
    relaxation: np.ndarray
    time: np.ndarray
    moving: np.ndarray

    def at(self, time):
        """Way [m] and speed [m/s] some time after the phase began."""
        time = np.minimum(time, self.moving)
        first, second = _fading(time / self.relaxation)
        lost = self.slowing * time
        return time * (self.speed - lost * second), self.speed - lost * first


def _fading(x):
    """(1 - exp(-x)) / x and (x - 1 + exp(-x)) / x^2, also where x is next to nothing."""
    divisor = np.maximum(x, 1e-3)
    gone = np.expm1(-divisor)
    small = x < 1e-3
    first = np.where(small, 1 - x / 2 + x**2 / 6, -gone / divisor)
    return first, np.where(small, 0.5 - x / 6 + x**2 / 24, (divisor + gone) / divisor**2)


def _root(function, low, high):
    """Where a function changes sign between two places, by false position after Illinois."""
    below, above = function(low), function(high)
    for _ in range(_STEPS):
        slope = above - below
        x = np.where(slope == 0, high, high - above * (high - low) / np.where(slope == 0, 1, slope))
        found = function(x)
        kept = found * above > 0
        low, below = np.where(kept, low, high), np.where(kept, below / 2, above)
        moved = np.abs(x - high)
        high, above = x, found
        if (moved <= _CLOSE * np.abs(x)).all():
            break
    return high


class _Motor(NamedTuple):
    """The motor by itself under a constant torque and drag: exponential, until it ``stops``."""

    speed: Any
    torque: Any
    inertia: Any
    damping: Any
    stops: Any

    def at(self, time):
        """Angle [rad] and speed [rad/s] after a time; it stays where it stands."""
        time = np.minimum(time, self.stops)
        first, second = _fading(self.damping * time / self.inertia)
        lost = (self.torque + self.damping * self.speed) / self.inertia * time
        return time * (self.speed - lost * second), np.maximum(self.speed - lost * first, 0.0)


def _motor(speed, torque, inertia, damping) -> _Motor:
    """A motor and when it stands [s]: never, where the torque drives it."""
    held = torque > 0
    against = np.where(held, torque, 1.0)
    x = damping * speed / against
    whole = inertia * speed / against
    stops = np.where(held, whole * np.log1p(x) / np.maximum(x, 1e-12), np.inf)
    return _Motor(speed, torque, inertia, damping, stops)


def _surplus(b: Bodies, motor):
    """Above zero where the motor pushes the train, below where the train pushes the motor."""
    own = b.rolling * b.inertia
    surplus = own - b.mass * b.lever * (b.friction + b.damping * motor)
    return np.where(np.abs(surplus) <= 1e-9 * own, 0.0, surplus)


def _turns(b: Bodies):
    """Speed of the motor below which it pushes [rad/s]; below zero where it never does."""
    return (b.inertia * b.rolling / (b.mass * b.lever) - b.friction) / b.damping


def _settles(b: Bodies, speed, motor, behind):
    """Which phase comes next, motor and train at one speed, the rim ``behind`` by so much [m]."""
    surplus = _surplus(b, motor)
    whole = b.inertia + b.back * b.mass * b.lever**2
    holds = (whole > 0) & (-surplus <= b.limit * whole * (1 + 1e-9))
    drives = np.where(behind > 0, RETURNS, TIED)
    pushed = np.where(behind < b.lost_motion, FLOATS, np.where(holds, TIED, SKIDS))
    return np.where(speed > 0, np.where(surplus >= 0, drives, pushed), STANDS)


def _tied(b: Bodies, speed, motor, behind):
    """Motor and train as one, pushed until the motor would rather push again."""
    drives = _surplus(b, motor) >= 0
    gain = np.where(drives, b.gain, b.back)
    whole = np.maximum(b.inertia + gain * b.mass * b.lever**2, 1e-6 * b.inertia)
    turns = _turns(b)
    turns = np.where(drives | (turns <= 0) | (turns >= motor), 0.0, turns)
    own = b.friction + gain * b.rolling * b.lever
    fall, rest = motor - turns, np.maximum(own + b.damping * turns, 1e-9 * b.friction)
    x = b.damping * fall / rest
    time = whole * fall / rest * np.log1p(x) / np.maximum(x, 1e-12)
    slowing = b.lever * (own + b.damping * motor) / whole
    after = np.where(turns > 0, np.where(behind > 0, RETURNS, TIED), STANDS)
    return slowing, whole / b.damping, time, time, turns, after, behind


def _alone(b: Bodies, motor):
    """The motor by itself, and how hard the train slows by itself."""
    return _motor(motor, b.friction, b.inertia, b.damping), b.rolling / b.mass


def _floats(b: Bodies, speed, motor, behind):
    """Train and motor each by itself, the rim falling behind until the other flank meets."""
    alone, slowing = _alone(b, motor)
    end = speed / np.maximum(slowing, 1e-12)

    def apart(time):
        return speed - slowing * time - b.lever * alone.at(time)[1]

    def gap(time):
        return behind + speed * time - slowing * time**2 / 2 - b.lever * alone.at(time)[0]

    turns = np.clip(_turns(b), 0.0, motor)
    x = b.damping * (motor - turns) / (b.friction + b.damping * turns)
    widest = np.minimum(np.where(turns > 0, b.inertia / b.damping * np.log1p(x), 0.0), end)
    again = (turns > 0) & (apart(end) < -1e-9 * speed)
    end = np.where(again, _root(apart, widest, end), end)
    meets = gap(end) > b.lost_motion
    # both slow evenly at first, so that the gap grows with the square of the time
    parting = b.lever * (b.friction + b.damping * motor) / b.inertia - slowing
    near = 1.5 * np.sqrt(2 * (b.lost_motion - behind) / np.maximum(parting, 1e-9))
    near = np.where(gap(np.minimum(near, end)) > b.lost_motion, np.minimum(near, end), end)
    time = np.where(meets, _root(lambda t: gap(t) - b.lost_motion, 0.0 * end, near), end)
    after = np.where(meets, SKIDS, RETURNS)
    return (
        slowing,
        np.inf,
        time,
        time,
        alone.at(time)[1],
        after,
        np.minimum(gap(time), b.lost_motion),
    )


def _returns(b: Bodies, speed, motor, behind):
    """Train and motor each by itself, the rim catching up until it pushes again."""
    alone, slowing = _alone(b, motor)
    stands = speed / np.maximum(slowing, 1e-12)

    def gap(time):
        moving = np.minimum(time, stands)
        return behind + speed * moving - slowing * moving**2 / 2 - b.lever * alone.at(time)[0]

    end = np.maximum(alone.stops, stands)
    meets = gap(end) < 0
    time = np.where(meets, _root(gap, 0.0 * end, end), end)
    after = np.where(meets, SLIPS, STANDS)
    return slowing, np.inf, time, np.minimum(time, stands), alone.at(time)[1], after, 0.0 * behind


def _skids(b: Bodies, speed, motor, behind):
    """Drivers slower than the rail they slide on, until they grip or the train stands."""
    pushed = b.lever * b.back * b.limit
    held = (motor <= 0) & (pushed <= b.breakaway)
    torque = np.where(held, b.friction, b.friction - pushed)
    alone = _motor(np.where(held, 0.0, motor), torque, b.inertia, b.damping)
    slowing = np.maximum((b.limit + b.rolling) / b.mass, 1e-12)
    end = speed / slowing

    def apart(time):
        return speed - slowing * time - b.lever * alone.at(time)[1]

    last = np.minimum(alone.stops, end)
    grips = apart(last) <= 0
    time = np.where(grips, _root(apart, 1e-6 * last, last), end)
    after = np.where(time < end, TIED, STANDS)
    return slowing, np.inf, time, time, alone.at(time)[1], after, b.lost_motion


def _slips(b: Bodies, speed, motor, behind):
    """Drivers ahead of the rail they slide on, until they grip."""
    alone = _motor(motor, b.friction + b.lever * b.gain * b.limit, b.inertia, b.damping)
    slowing = (b.rolling - b.limit) / b.mass

    def apart(time):
        return b.lever * alone.at(time)[1] - speed + slowing * time

    time = _root(apart, 0.0 * speed, alone.stops)
    return slowing, np.inf, time, time, alone.at(time)[1], np.full_like(time, TIED), 0.0 * behind


_LAWS = {FLOATS: _floats, RETURNS: _returns, SKIDS: _skids, SLIPS: _slips}


def phases(bodies: Bodies, speed) -> list[Phase]:
    """The phases of a stop from a speed of the train [m/s], every draw at once."""
    fields = np.broadcast_arrays(speed, *vars(bodies).values())
    speed, *numbers = (np.array(each, float) for each in fields)
    b = Bodies(*numbers)
    motor = speed / b.lever
    friction = np.maximum(b.friction, 1e-12)
    least = 1e-9 * friction / np.maximum(motor, 1e-6)  # so that no drag at all divides too
    b = replace(b, friction=friction, damping=np.maximum(b.damping, least))
    behind, first = np.zeros_like(speed), speed
    kind = _settles(b, speed, motor, behind)
    found: list[Phase] = []
    for _ in range(_MOST):
        if (kind == STANDS).all():
            break
        end = _tied(b, speed, motor, behind)
        for one, law in _LAWS.items():
            here = kind == one
            if here.any():
                some = Bodies(*(value[here] for value in vars(b).values()))
                other = law(some, speed[here], motor[here], behind[here])
                end = tuple(_put(whole, here, part) for whole, part in zip(end, other, strict=True))
        slowing, relaxation, time, moving, motor, after, behind = end
        time, moving = (np.where(kind == STANDS, 0.0, each) for each in (time, moving))
        found.append(Phase(kind, speed, slowing, relaxation, time, moving))
        speed = np.maximum(found[-1].at(time)[1], 0.0)
        settled = after == TIED
        motor = np.where(settled, speed / b.lever, np.maximum(motor, 0.0))
        after = np.where(settled, _settles(b, speed, motor, behind), after)
        still = (speed <= 1e-9 * first) & (after != SLIPS)
        kind = np.where((kind == STANDS) | still, STANDS, after)
    return found


def _put(whole, here, part):
    """One column with a part of its rows exchanged."""
    whole = np.array(whole)
    whole[here] = part
    return whole


def stop(bodies: Bodies, speed):
    """Way [m] and time [s] to the stand from a speed of the train [m/s]."""
    fields = np.broadcast_arrays(speed, *vars(bodies).values())
    if (many := fields[0].size) > _PIECE:
        flat = [each.ravel() for each in fields]
        found = [
            stop(Bodies(*(each[at : at + _PIECE] for each in flat[1:])), flat[0][at : at + _PIECE])
            for at in range(0, many, _PIECE)
        ]
        way, time = (
            np.concatenate(each).reshape(fields[0].shape) for each in zip(*found, strict=True)
        )
        return way, time
    way = time = np.zeros(fields[0].shape)
    for phase in phases(bodies, speed):
        way, time = way + phase.at(phase.time)[0], time + phase.time
    return way, time


def skidding(bodies: Bodies, speed):
    """Share of the way to the stand on which adhesion and not the drive brakes [-]."""
    way = slid = np.zeros(())
    for phase in phases(bodies, speed):
        gone = phase.at(phase.time)[0]
        way, slid = way + gone, slid + np.where(phase.kind == SKIDS, gone, 0.0)
    return slid / np.where(way > 0, way, 1.0)


def curve(bodies: Bodies, speed, points: int = 24):
    """Way [m] and speed [m/s] along a stop, for drawing: rows of draws, columns of places."""
    first = np.broadcast_arrays(speed, *vars(bodies).values())[0].astype(float)
    ways, speeds = [np.zeros_like(first)], [first]
    for phase in phases(bodies, speed):
        gone = ways[-1]
        for share in np.linspace(0.0, 1.0, points)[1:]:
            way, left = phase.at(share * phase.time)
            ways.append(gone + way)
            speeds.append(np.maximum(left, 0.0))
    return np.stack(ways, axis=-1), np.stack(speeds, axis=-1)
