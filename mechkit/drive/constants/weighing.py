"""What every instrument would show for given constants, and how far the readings are off.

The constants stand in a row, as natural logarithms, and behind them what the readings share:
the meter's common error of volts, amps and ohms, the thumb on the watch, adhesion, rolling,
wheel and weights, and how much of its settled rise the winding had reached.  Each of them is
held by what is known beside the readings, so that few readings make wide bands and no gaps.
"""

from dataclasses import dataclass, replace

import numpy as np
import scipy

from mechkit import motor
from mechkit.drive.constants.readings import Bench, Errors, Known
from mechkit.drive.model import coasting
from mechkit.drive.model.parts import HOTTEST
from mechkit.names import STANDARD_GRAVITY

#: The constants, in the order of the fit, in words.
CONSTANTS = {
    "resistance": "the winding's resistance",
    "torque_constant": "the torque constant",
    "motor_friction": "the motor's own friction",
    "starting_voltage": "the voltage that starts it",
    "running_friction": "friction in motion",
    "damping": "friction that grows with speed",
    "efficiency": "mesh efficiency",
    "inertia": "inertia of rotor and flywheel",
}
COUNT = len(CONSTANTS)
#: What the readings share, in words.
SHARED = {
    "volts": "the meter's volts",
    "amps": "the meter's amps",
    "ohms": "the meter's ohms",
    "thumb": "the thumb on the watch",
    "adhesion": "adhesion",
    "rolling": "rolling resistance",
    "wheel": "driver diameter",
    "train": "weight of the train",
    "drivers": "weight on drivers",
    "brush": "drop at the brushes",
    "viscous": "share of the motor's friction that grows with speed",
    "magnet": "how the magnet weakens with heat",
    "warmth": "how warm the winding was",
}
#: What a constant is taken from as long as no reading tells it, in words.
STAND_INS = {
    "resistance": "the winding's resistance, a guess",
    "torque_constant": "the torque constant, a guess",
    "motor_friction": "the motor's own friction, a guess",
    "starting_voltage": "friction at rest, by common practice",
    "running_friction": "running friction, by common practice",
    "damping": "drag with speed, by common practice",
    "efficiency": "mesh efficiency, by the table of friction",
    "inertia": "inertia of rotor and flywheel, by their size",
}
#: What is another one each evening, of what the readings share.
OF_THE_DAY = {"warmth"}
#: Without any reading a constant stays within about this factor of the guess, e-fold.
FREE = 3.0
#: Friction at rest over friction in motion, and its error; common practice, no source.
STICTION, STICTION_ERROR = 1.3, 0.22
#: By which the starting voltage is measured on its way, relative; its own hold is on stiction.
START, START_ERROR = 3, STICTION_ERROR
#: The least that the brushes leave of a start.
LEAST_LEFT = 1e-3
#: Share of the running friction that drag with speed has at full throttle, and its error;
#: common practice, no source.
DRAG, DRAG_ERROR = 0.15, 1.2
#: Where drag stands in the row.
DRAG_PLACE = 5
#: Running friction over the motor's own, and its error, where no current was read; common
#: practice, no source.
WHOLE, WHOLE_ERROR = 3.0, 1.0
#: No constant lies farther from one unit than this, e-fold.
FARTHEST = 60.0
#: No mesh passes more.
MOST_EFFICIENT = 0.97
#: Copper's rise of resistance per kelvin, as the handbook has it; taken once, because the
#: fit warms the winding a thousand times over.
PER_KELVIN = motor.warm_resistance(resistance=1.0, temperature_rise=1.0) - 1.0
#: Between cold and settled each share of the rise is as likely: middle and standard deviation.
HALF_WARM, WARM_SPREAD = 0.5, 12**-0.5
#: Of the motor's own friction so much grows with speed, as a logit, and its error; common
#: practice, no source.
VISCOUS, VISCOUS_ERROR = -1.1, 0.8
#: Of all drag with speed the motor has no more than this share.
MOST_OWN = 0.9
#: What the torque constant loses a kelvin of the winding, and its error: between ferrite and
#: better magnets, which warm less than the winding; common practice.
MAGNET, MAGNET_ERROR = 0.6e-3, 0.3e-3
#: One straight gear mesh passes so much, either way; common practice.
GEAR_MESH = 0.955
#: Steps of a fit, and the gain, in squares of a standard error, that is worth one more.
MOST_STEPS, CLOSE = 40, 1e-4
#: A step that went too far is tried again so much damped, relative to the slopes' own squares.
DAMPING = np.array([0.01, 0.1, 1.0, 10.0, 1e2, 1e3])
#: A reading that the fit leans on alone is still off by part of its error.
LEAST_ROOM = 0.02
#: A gearbox keeps at least this share of the whole friction: the train cannot take all of it.
LEAST_INNER = 0.05


def steady(voltage, load, damping, n: "Numbers", thermal_resistance):
    """Current, speed and back voltage over voltage of a motor under a load torque.

    The winding warms with its own heat, its resistance with it, and the magnet weakens: three
    rounds settle it.
    """
    left = np.maximum(voltage - n.brush, 0.0)
    warm, constant = n.resistance, n.torque_constant
    for _ in range(3):
        speed = (left - load * warm / constant) / (constant + damping * warm / constant)
        speed = np.maximum(speed, 1.0)
        current = (load + damping * speed) / constant
        rise = np.minimum(thermal_resistance * n.warmth * current**2 * warm, HOTTEST)
        warm = n.resistance * (1 + PER_KELVIN * rise)
        constant = n.torque_constant * (1 - n.magnet * rise)
    return current, speed, constant * speed / voltage


@dataclass(frozen=True)
class Numbers:
    """A row of the fit as physical numbers; each an array of one or more rows of the fit."""

    resistance: np.ndarray
    torque_constant: np.ndarray
    motor_friction: np.ndarray
    starting_voltage: np.ndarray
    running_friction: np.ndarray
    damping: np.ndarray
    efficiency: np.ndarray
    inertia: np.ndarray
    volts: np.ndarray
    amps: np.ndarray
    ohms: np.ndarray
    thumb: np.ndarray
    adhesion: np.ndarray
    rolling: np.ndarray
    wheel: np.ndarray
    train: np.ndarray
    drivers: np.ndarray
    brush: np.ndarray
    viscous: np.ndarray
    magnet: np.ndarray
    warmth: np.ndarray
    ratio: float
    free_speed: float

    @property
    def motor_damping(self):
        """The motor's own drag with speed [N*m*s/rad]: a part of the whole."""
        return self.viscous * self.motor_friction / self.free_speed

    @property
    def motor_rubbing(self):
        """The motor's own friction at any speed [N*m]."""
        return self.motor_friction - self.motor_damping * self.free_speed

    @property
    def lever(self):
        """Travel at the rim for an angle of the motor [m]."""
        return self.wheel / 2 / self.ratio

    @property
    def rolling_force(self):
        """Pull that keeps the train rolling [N]: no more than the whole friction leaves for it."""
        most = (1 - LEAST_INNER) * self.running_friction * self.efficiency / self.lever
        return np.minimum(self.rolling * self.train * STANDARD_GRAVITY, most)

    @property
    def stiction(self):
        """Friction at rest over friction in motion [-]."""
        return self.starting_friction / self.running_friction

    @property
    def starting_friction(self):
        """Friction at rest [N*m]."""
        left = np.maximum(self.starting_voltage - self.brush, LEAST_LEFT * self.starting_voltage)
        return left * self.torque_constant / self.resistance

    def settled(self) -> "Numbers":
        """The same, where friction in motion is no more than what holds it at rest."""
        moving = np.minimum(self.running_friction, self.starting_friction)
        return replace(self, running_friction=moving)


def numbers(theta, known: Known) -> Numbers:
    """Rows of the fit as physical numbers."""
    columns = np.moveaxis(np.asarray(theta, float), -1, 0)
    logs = np.exp(np.clip(columns[:COUNT], -FARTHEST, FARTHEST))
    logs[6] = np.minimum(logs[6], MOST_EFFICIENT)
    volts, amps, ohms, thumb = columns[COUNT : COUNT + 4]
    scaled = [
        given.value * np.exp(column)
        for given, column in zip(
            (
                known.adhesion,
                known.rolling,
                known.wheel_diameter,
                known.train_mass,
                known.mass_on_drivers,
            ),
            columns[COUNT + 4 : COUNT + 9],
            strict=True,
        )
    ]
    brush, viscous, magnet, warmth = columns[COUNT + 9 :]
    viscous = scipy.special.expit(viscous)
    # what the motor drags with alone, it drags with in the engine
    own = viscous * logs[2] / known.free_speed
    logs[DRAG_PLACE] = np.maximum(logs[DRAG_PLACE], own / MOST_OWN)
    shared = (1 + volts, 1 + amps, 1 + ohms, thumb, *scaled, brush, viscous, magnet, warmth)
    named = dict(zip((*CONSTANTS, *SHARED), (*logs, *shared), strict=True))
    return Numbers(**named, ratio=known.gear_ratio, free_speed=known.free_speed)


def _steady_runs(n: Numbers, bench: Bench, known: Known):
    """Current, speed and share of back voltage in each run."""
    volts, pull = bench.arrays[2][:2]
    load = n.running_friction + pull * n.lever / n.efficiency
    return steady(volts / n.volts, load, n.damping, n, known.thermal_resistance)


def shown(theta, bench: Bench, known: Known):
    """What each instrument would show."""
    n = numbers(np.asarray(theta)[..., None, :], known)
    cold, kelvin = n.resistance, known.thermal_resistance
    free, stall, runs, coasts = bench.arrays
    free_current, free_speed, _ = steady(
        free[0] / n.volts, n.motor_rubbing, n.motor_damping, n, kelvin
    )
    current, speed, _ = _steady_runs(n, bench, known)

    def repeated(value, count):
        return np.broadcast_to(value, (*cold.shape[:-1], count))

    parts = [
        repeated(cold * n.ohms, len(bench.resistance)),
        free_current * n.amps,
        free_speed,
        np.maximum(stall[0] / n.volts - n.brush, 0.0) / cold * n.amps,
        repeated(n.starting_voltage * n.volts, len(bench.starting_voltage)),
        current * n.amps,
        runs[2] / (speed * n.lever) + n.thumb,
        *_coasts(n, coasts, kelvin, known),
        repeated(n.adhesion * n.drivers * STANDARD_GRAVITY, len(bench.slip)),
    ]
    return np.concatenate(parts, axis=-1)


def _coasts(n: Numbers, coasts, kelvin, known: Known):
    """How far and how long each coast goes."""
    if not coasts.size:
        return np.zeros((*n.wheel.shape[:-1], 0)), np.zeros((*n.wheel.shape[:-1], 0))
    before = steady(coasts[0] / n.volts, n.running_friction, n.damping, n, kelvin)[1]
    brake = motor.shorted_damping(torque_constant=n.torque_constant, resistance=n.resistance)
    through = n.rolling_force * n.lever / n.efficiency
    bodies = coasting.Bodies(
        inertia=n.inertia,
        mass=n.train,
        lever=n.lever,
        friction=n.running_friction - through,
        breakaway=np.maximum(n.starting_friction, n.running_friction) - through,
        damping=n.damping + coasts[1] * brake,
        rolling=n.rolling_force,
        limit=n.adhesion * n.drivers * STANDARD_GRAVITY + n.rolling_force,
        gain=1 / n.efficiency,
        back=known.train.back_efficiency(n.efficiency, GEAR_MESH),
        lost_motion=known.train.lost_motion(n.wheel),
    )
    return coasting.stop(bodies, before * n.lever)


def errors_of(shown_numbers, theta, bench: Bench, known: Known, errors: Errors):
    """Standard error of each reading on its own; what they share is fitted.

    A voltage in doubt shows in the time of its run, as its last digit does.
    """
    share = _steady_runs(numbers(theta[None, :], known), bench, known)[2]
    blocks = np.split(shown_numbers, np.cumsum(bench.counts)[:-1])
    watch, ruler = errors.stopwatch / 2 * (1 - errors.thumb**2) ** 0.5, errors.ruler / 2
    digit, brush = errors.digit, errors.brush
    clock = bench.arrays[3][4]
    clock = np.where(np.isnan(clock), errors.stopwatch, clock) / 2
    doubts, volts = bench.doubts
    volts = np.hypot(errors.volts_digit, volts)
    each = [
        brush * blocks[0],
        digit * blocks[1],
        errors.rotation * blocks[2],
        np.hypot(digit, brush) * blocks[3],
        errors.breakaway * blocks[4],
        np.hypot(digit, errors.friction) * blocks[5],
        np.hypot(watch, volts * blocks[6] / share),
        np.hypot(ruler, errors.coast * blocks[7]),
        np.hypot(clock, errors.coast * blocks[8]),
        np.hypot(errors.spring_scale / 2, errors.place * blocks[9]),
    ]
    return np.hypot(np.concatenate(each), doubts * shown_numbers)


def beforehand(bench: Bench, known: Known, errors: Errors):
    """What is thought before the readings are weighed, and how firmly: a row and its errors."""
    free, stall, runs, _ = bench.arrays
    cold = float(np.median([*bench.resistance, *(stall[0] / stall[1])]))
    lever = known.wheel_diameter.value / 2 / known.gear_ratio
    amps = runs[3][np.isfinite(runs[3])]
    if len(bench.no_load):
        constant = float(np.median((free[0] - free[1] * cold) / free[2]))
        alone = constant * float(np.median(free[1]))
    else:
        currents = np.nan_to_num(runs[3], nan=0.0)
        constant = float(np.median((runs[0] - currents * cold) / (runs[2] / runs[4] / lever)))
        alone = constant * (float(np.min(amps)) if len(amps) else 0.02) / WHOLE
    starts = bench.starting_voltage
    if len(amps):
        moving, whole = constant * float(np.min(amps)), FREE
    elif starts:
        moving, whole = constant * float(np.median(starts)) / cold / STICTION, WHOLE_ERROR
    else:
        moving, whole = WHOLE * alone, WHOLE_ERROR
    volts = max(np.concatenate([free[0], runs[0], [1.0]]))
    drag = DRAG * moving * constant / volts
    start = known.brush_drop.value + cold * STICTION * moving / constant
    row = [cold, constant, alone, start, moving, drag, known.efficiency.value]
    firm = [FREE, FREE, FREE, START_ERROR, whole, DRAG_ERROR, known.efficiency.error]
    meter = errors.meter / 2
    shared = [meter, meter, 2**0.5 * meter, errors.thumb * errors.stopwatch / 2]
    shared += [
        known.adhesion.error,
        known.rolling.error,
        known.wheel_diameter.error,
        known.train_mass.error,
        known.mass_on_drivers.error,
        known.brush_drop.error,
        VISCOUS_ERROR,
        MAGNET_ERROR,
        WARM_SPREAD,
    ]
    middle = np.concatenate([np.log([*row, known.inertia.value]), np.zeros(len(shared))])
    middle[-4:] = known.brush_drop.value, VISCOUS, MAGNET, HALF_WARM
    return middle, np.maximum([*firm, known.inertia.error, *shared], 1e-6)


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

    def __init__(self, bench: Bench, known: Known, errors: Errors, held=None):
        """Gather the readings once; ``held`` is the row beforehand and how firmly, if not theirs."""
        self.bench, self.known, self.errors = bench, known, errors
        self.used = np.isfinite(bench.read)
        self.read = np.where(self.used, bench.read, 0.0)
        self.middle, self.firm = held or beforehand(bench, known, errors)
        self.reach = np.maximum(8 * self.firm, 1e-5)
        self.reach[:COUNT] = np.minimum(self.reach[:COUNT], 8.0)
        self.reach[-1] = HALF_WARM
        self.reach[START] = self.reach[START + 1]  # what starts it goes with friction in motion
        self.sigma = self._errors(shown(self.middle, bench, known), self.middle)

    @property
    def beginning(self):
        """The row that a search begins with: more drag with speed than the motor's own.

        With less, the motor's own is all that counts, and a search would not move.
        """
        return self.middle + DRAG_ERROR * (np.arange(len(self.middle)) == DRAG_PLACE)

    @property
    def weights(self):
        """One for what counts: readings, then the hold on every number of the row."""
        return np.concatenate([self.used, np.ones(len(self.middle))])

    def _errors(self, seen, theta):
        return errors_of(seen, theta, self.bench, self.known, self.errors)

    def weigh(self, found: Found) -> Found:
        """Errors as they belong to the constants found so far, and what was found in them."""
        count = len(self.used)
        before, seen = self.sigma, found.off[:count] * self.sigma + self.read
        self.sigma = self._errors(seen, found.theta)
        change = np.concatenate([before / self.sigma, np.ones(len(self.middle))])
        return Found(found.theta, change * found.off, change[:, None] * found.slopes)

    def deviations(self, theta):
        """Readings, then the hold on every number of the row."""
        seen = shown(theta, self.bench, self.known)
        hold = (theta - self.middle) / self.firm
        stiction = numbers(theta, self.known).stiction
        hold[..., START] = np.log(stiction / STICTION) / STICTION_ERROR
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
            weights = self.weights
            if robust:
                weights[: len(self.used)] /= np.sqrt(1 + found.off[: len(self.used)] ** 2)
            square = found.slopes.T @ (weights[:, None] * found.slopes)
            down = -found.slopes.T @ (weights * found.off)
            step = np.linalg.solve(square, down)
            if step @ down < CLOSE:
                break
            following = self.at(self.within(found.theta + self.firm * step))
            less = self._cost(following.off, robust)
            if not less < cost:
                damped = square[None] + np.multiply.outer(DAMPING, np.diag(np.diag(square)))
                steps = np.linalg.solve(damped, np.repeat(down[None, :, None], len(DAMPING), 0))[
                    ..., 0
                ]
                tried = self.within(found.theta + self.firm * steps)
                costs = self._cost(self.deviations(tried), robust)
                if not np.nanmin(costs) < cost:
                    break
                following = self.at(tried[int(np.nanargmin(costs))])
                less = self._cost(following.off, robust)
            found, gained, cost = following, cost - less, less
            if gained < CLOSE:
                break
        return found

    def within(self, theta):
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
