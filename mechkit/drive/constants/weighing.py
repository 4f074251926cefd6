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
from mechkit.drive.constants.readings import MOST_LOST, Bench, Errors, Known
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
ALONE, START, RUNNING, DRAGGED, THROUGH = range(2, 7)
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
START_ERROR = STICTION_ERROR
#: The drop at the brushes bends this many times sharper than it is known, so as to stay above nothing.
SOFT = 4.0
#: The least that the brushes leave of a start.
LEAST_LEFT = 1e-3
#: Share of the running friction that drag with speed has at full throttle, and its error;
#: common practice, no source.
DRAG, DRAG_ERROR = 0.3, 1.2
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
#: Of all drag with speed the motor has no more than this share, and how sharply that bends.
MOST_OWN, BENDS = 0.9, 6.0
#: What the motor's own drag leaves of all friction at the speed of the readings, at the least.
LEAST_RUBBING = 0.05
#: What the torque constant loses a kelvin of the winding, and its error: between ferrite and
#: better magnets, which warm less than the winding; common practice.
MAGNET, MAGNET_ERROR = 0.6e-3, 0.3e-3
#: One straight gear mesh passes so much, either way; common practice.
GEAR_MESH = 0.955
#: A drive takes so much [A] at a first look where no current was read; common practice.
LIKELY_AMPS = 0.02
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
        own = self.viscous * self.motor_friction / self.free_speed
        return np.minimum(own, self.damping)

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

    def settled(self, by_runs: bool) -> "Numbers":
        """The same, where friction in motion is no more than what holds it at rest.

        Runs tell the one, or else a start tells the other: what was not read gives way.
        """
        if by_runs:
            least = self.brush + self.running_friction * self.resistance / self.torque_constant
            return replace(self, starting_voltage=np.maximum(self.starting_voltage, least))
        moving = np.minimum(self.running_friction, self.starting_friction)
        return replace(self, running_friction=moving)


@dataclass(frozen=True)
class Hold:
    """What is thought before the readings are weighed: a row, and how firmly.

    Friction stands in the row as it was at the speed of the readings, because they tell that
    best: at ``pace`` times ``top`` [rad/s], full throttle without a load.  Drag stands as its
    share of the running friction at ``top``.
    """

    middle: np.ndarray
    firm: np.ndarray
    top: float
    pace: float


def _larger(one, other):
    """The larger of two, without a kink."""
    most = np.maximum(one, other)
    return most * (1 + (np.minimum(one, other) / most) ** BENDS) ** (1 / BENDS)


def numbers(theta, known: Known, hold: Hold) -> Numbers:
    """Rows of the fit as physical numbers."""
    columns = np.moveaxis(np.asarray(theta, float), -1, 0)
    logs = np.exp(np.clip(columns[:COUNT], -FARTHEST, FARTHEST))
    logs[THROUGH] = np.minimum(logs[THROUGH], MOST_EFFICIENT)
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
    soft = max(known.brush_drop.error / SOFT, 1e-9)  # brushes never push
    brush, viscous = soft * np.logaddexp(0.0, brush / soft), scipy.special.expit(viscous)
    # what the motor drags with alone, it drags with in the engine
    own = viscous * logs[ALONE] / known.free_speed * hold.top / (MOST_OWN * logs[RUNNING])
    least = own / np.maximum(1 - hold.pace * own, LEAST_RUBBING)
    share = _larger(logs[DRAGGED], least)
    logs[RUNNING] = logs[RUNNING] / (1 + hold.pace * share)
    logs[DRAGGED] = logs[RUNNING] * share / hold.top
    shared = (1 + volts, 1 + amps, 1 + ohms, thumb, *scaled, brush, viscous, magnet, warmth)
    named = dict(zip((*CONSTANTS, *SHARED), (*logs, *shared), strict=True))
    return Numbers(**named, ratio=known.gear_ratio, free_speed=known.free_speed)


def _steady_runs(n: Numbers, bench: Bench, known: Known):
    """Current, speed and share of back voltage in each run."""
    volts, pull = bench.arrays[2][:2]
    load = n.running_friction + pull * n.lever / n.efficiency
    return steady(volts / n.volts, load, n.damping, n, known.thermal_resistance)


def shown(theta, bench: Bench, known: Known, hold: Hold):
    """What each instrument would show."""
    n = numbers(np.asarray(theta)[..., None, :], known, hold)
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


def errors_of(shown_numbers, n: Numbers, bench: Bench, known: Known, errors: Errors):
    """Standard error of each reading on its own; what they share is fitted.

    A voltage in doubt shows in the time of its run, as its last digit does.
    """
    share = _steady_runs(n, bench, known)[2]
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


def beforehand(bench: Bench, known: Known, errors: Errors) -> Hold:
    """What is thought before the readings are weighed, by a first look at them."""
    free, stall, runs, coasts = bench.arrays
    cold = float(np.median([*bench.resistance, *(stall[0] / stall[1])]))
    speeds = runs[2] / runs[4] / (known.wheel_diameter.value / 2 / known.gear_ratio)
    amps = runs[3][np.isfinite(runs[3])]
    volts, currents, turns = free if len(bench.no_load) else (runs[0], runs[3], speeds)
    lost = np.minimum(np.nan_to_num(currents) * cold, MOST_LOST * volts)
    constant = float(np.median((volts - lost) / turns))
    if len(bench.no_load):
        alone = constant * float(np.median(free[1]))
    else:
        alone = constant * (float(np.min(amps)) if len(amps) else LIKELY_AMPS) / WHOLE
    starts = bench.starting_voltage
    if len(amps):
        moving, whole = constant * float(np.min(amps)), FREE
    elif starts:
        moving, whole = constant * float(np.median(starts)) / cold / STICTION, WHOLE_ERROR
    else:
        moving, whole = WHOLE * alone, WHOLE_ERROR
    full = float(max(np.concatenate([free[0], runs[0], coasts[0], [1.0]])))
    pace = 0.0
    if len(speeds):
        pace = float(np.mean(np.minimum(speeds * constant / full, 1.0)))
    elif coasts.size:
        pace = float(np.mean(coasts[0]) / full) / 2
    start = known.brush_drop.value + cold * STICTION * moving / constant
    row = [cold, constant, alone, start, moving, DRAG, known.efficiency.value]
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
    held = np.maximum([*firm, known.inertia.error, *shared], 1e-6)
    return Hold(middle, held, full / constant, pace)
