"""All readings weighed together: the constants that fit every one of them at once.

Resistance, free running, breakaway, runs and coasts lean on the same eight constants.  One
least-squares fit uses them all, counts the meter's common error and the warm winding,
finds a reading that does not belong, and says what the readings leave open.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy import optimize, stats

from mechkit import flywheel, motor, traction, winding
from mechkit.drive.readings import Bench, Errors, Known, candidates

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
#: Without any reading a constant stays within about this factor of the guess, e-fold.
FREE = 3.0
#: Deviations, each over its own error, beyond which a reading is called bad.
BAD = 4.0
#: A further reading is worth taking that leaves less than this of an error.
WORTH = 0.97
#: More bad readings than this are not readings but another mechanism.
MOST_BAD = 2
#: No winding outlives more, K; it bounds the fit on its way.
HOTTEST = 200.0
#: Copper's rise of resistance per kelvin, as the handbook has it; taken once, because the
#: fit warms the winding a thousand times over.
PER_KELVIN = winding.warm_resistance(resistance=1.0, temperature_rise=1.0) - 1.0


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
    bad: tuple[str, ...]
    loose: tuple[str, ...]
    fit: "_Fit"
    place: np.ndarray
    unread: tuple[int, ...]

    @cached_property
    def advice(self):
        """The further reading that helps most, or None where none helps."""
        return _advise(self.fit, self.place, self.unread)


def _steady(voltage, load, numbers, known):
    """Current, speed and back voltage over voltage of a motor under a load torque.

    The winding warms with its own heat, and its resistance with it: two rounds settle it.
    """
    cold, constant, damping = numbers
    warm = cold
    for _ in range(3):
        speed = (voltage - load * warm / constant) / (constant + damping * warm / constant)
        speed = np.maximum(speed, 1.0)
        current = (load + damping * speed) / constant
        rise = np.minimum(known.thermal_resistance * current**2 * warm, HOTTEST)
        warm = cold * (1 + PER_KELVIN * rise)
    return current, speed, constant * speed / voltage


def _predict(theta, bench, known):
    """What each instrument would show, and the shares of back voltage in the runs."""
    theta = np.asarray(theta)[..., None]
    cold, constant, alone, rest, moving, damping, efficiency, inertia = np.exp(
        np.moveaxis(theta[..., :8, :], -2, 0)
    )
    volts, amps = 1 + theta[..., 8, :], 1 + theta[..., 9, :]
    lever = known.wheel_diameter / 2 / known.gear_ratio

    free, stall, runs, coasts = bench.arrays
    free_current, free_speed, _ = _steady(free[0] / volts, alone, (cold, constant, 0.0), known)
    load = moving + runs[1] * lever / efficiency
    current, speed, share = _steady(runs[0] / volts, load, (cold, constant, damping), known)
    before = _steady(coasts[0] / volts, moving, (cold, constant, damping), known)[1]
    brake = damping + coasts[1] * motor.shorted_damping(torque_constant=constant, resistance=cold)
    turning = {"inertia": inertia, "speed": before, "torque": moving, "damping": brake}
    skid = traction.stopping_distance(
        model_speed=before * lever,
        adhesion=known.adhesion,
        mass=known.train_mass,
        mass_on_drivers=known.mass_on_drivers,
    )
    parts = [
        np.broadcast_to(cold * volts / amps, (*cold.shape[:-1], len(bench.resistance))),
        free_current * amps,
        free_speed,
        stall[0] / volts / cold * amps,
        np.broadcast_to(
            motor.starting_voltage(torque=rest, resistance=cold, torque_constant=constant) * volts,
            (*cold.shape[:-1], len(bench.starting_voltage)),
        ),
        current * amps,
        runs[2] / (speed * lever),
        np.maximum(flywheel.coast_angle(**turning) * lever, skid),
        np.maximum(flywheel.coast_time(**turning), 2 * skid / (before * lever)),
    ]
    return np.concatenate(parts, axis=-1), share


def _sigma(shown, share, bench, errors):
    """Standard error of each reading on its own; the meter's common error is fitted."""
    blocks = np.split(shown, np.cumsum(bench.counts)[:-1])
    watch, ruler = errors.stopwatch / 2, errors.ruler / 2
    digit, brush = errors.digit, errors.brush
    each = [
        brush * blocks[0],
        digit * blocks[1],
        errors.rotation * blocks[2],
        np.hypot(digit, brush) * blocks[3],
        errors.breakaway * blocks[4],
        digit * blocks[5],
        np.hypot(watch, errors.volts_digit * blocks[6] / share),
        np.hypot(ruler, errors.coast * blocks[7]),
        np.hypot(watch, errors.coast * blocks[8]),
    ]
    return np.concatenate(each)


def _guess(bench, known):
    """Where the fit begins; only the order of size matters."""
    free, stall, runs, _ = bench.arrays
    cold = float(np.median([*bench.resistance, *(stall[0] / stall[1])]))
    lever = known.wheel_diameter / 2 / known.gear_ratio
    if len(bench.no_load):
        constant = float(np.median((free[0] - free[1] * cold) / free[2]))
    else:
        currents = np.nan_to_num(runs[3], nan=0.0)
        constant = float(np.median((runs[0] - currents * cold) / (runs[2] / runs[4] / lever)))
    alone = constant * float(np.median(free[1])) if len(bench.no_load) else 0.3e-3
    known_currents = runs[3][np.isfinite(runs[3])]
    moving = constant * float(np.min(known_currents)) if len(known_currents) else 2 * alone
    starts = bench.starting_voltage
    rest = constant * float(np.median(starts)) / cold if starts else 1.5 * moving
    inertia = 1e-7 + known.train_mass * lever**2
    start = [cold, constant, alone, rest, moving, 0.05 * moving / 300.0, 0.4, inertia]
    return np.concatenate([np.log(start), [0.0, 0.0]])


class _Fit:
    """The weighted deviations of one bench, and their slopes."""

    def __init__(self, bench, known, errors, start):
        """Gather the readings once."""
        self.bench, self.known, self.errors, self.start = bench, known, errors, start
        self.read = bench.read
        self.used = np.isfinite(self.read)
        self.weigh(self.start)

    def weigh(self, theta):
        """Errors as they belong to the constants found so far."""
        shown, share = _predict(theta, self.bench, self.known)
        self.sigma = _sigma(shown, share, self.bench, self.errors)

    def deviations(self, theta):
        """Readings, then the meter's common errors, then the loose hold on every constant."""
        theta = np.asarray(theta)
        shown, _ = _predict(theta, self.bench, self.known)
        readings = ((shown - self.read) / self.sigma)[..., self.used]
        common = theta[..., 8:] / (self.errors.meter / 2)
        return np.concatenate([readings, common, (theta[..., :8] - self.start[:8]) / FREE], axis=-1)

    def slopes(self, theta):
        """Jacobian by central differences, all columns in one call."""
        step = 1e-5 * np.eye(len(theta))
        ends = self.deviations(np.concatenate([theta + step, theta - step]))
        return ((ends[: len(theta)] - ends[len(theta) :]) / 2e-5).T

    def solve(self, start, loss):
        """The constants of least deviation."""
        limits = np.concatenate([np.full(8, 8.0), np.full(2, 0.3)])
        return optimize.least_squares(
            self.deviations,
            start,
            jac=self.slopes,
            loss=loss,
            bounds=(self.start - limits, self.start + limits),
            xtol=1e-5,
            ftol=1e-5,
        ).x

    def worst(self, theta):
        """The reading farthest off for what the others leave it, and by how much."""
        slopes = self.slopes(theta)
        hat = np.einsum("ij,jk,ik->i", slopes, np.linalg.inv(slopes.T @ slopes), slopes)
        room = np.maximum(1 - hat, 0.02)
        off = (np.abs(self.deviations(theta)) / np.sqrt(room))[: self.used.sum()]
        place = int(np.argmax(off))
        return int(np.flatnonzero(self.used)[place]), float(off[place])


def _loose(slopes):
    """In words, what the readings do not tell, or do not tell apart; and which are unknown."""
    words = list(CONSTANTS.values())
    strength = np.linalg.norm(slopes[:, :8], axis=0)
    unread = [n for n in range(8) if strength[n] < 1e-3]
    said = [f"no reading tells {words[n]}" for n in unread]
    kept = [n for n in range(10) if n not in unread]
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
        if len(names) == 1:
            said.append(f"the readings hardly tell {names[0]}")
        else:
            said.append(f"the readings cannot tell {' from '.join(names)}")
    return tuple(said), tuple(unread)


def _advise(fit, theta, unread):
    """Which further reading narrows the widest interval most.

    Where no reading narrows it (a drive that locks tells no inertia), the next widest.
    """
    slopes = fit.slopes(theta)
    information = slopes.T @ slopes
    before = np.sqrt(np.diag(np.linalg.inv(information)))[:8]
    starts = float(np.exp(theta[3] + theta[0] - theta[1]))
    offers = []
    for words, extra in candidates(fit.bench, fit.known, starts):
        more = _Fit(extra, fit.known, fit.errors, theta)
        more.weigh(theta)
        rows = more.slopes(theta)[: more.used.sum()]
        after = np.sqrt(np.diag(np.linalg.inv(information + rows.T @ rows)))[:8]
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
    fit = _Fit(bench, known, errors, _guess(bench, known))
    theta = fit.solve(fit.start, "soft_l1")
    fit.weigh(theta)
    bad: list[str] = []
    while len(bad) < MOST_BAD:
        place, off = fit.worst(theta)
        if off < BAD:
            break
        bad.append(bench.labels[place])
        fit.used[place] = False
        theta = fit.solve(theta, "soft_l1")
        fit.weigh(theta)
    theta = fit.solve(theta, "linear")
    slopes = fit.slopes(theta)
    loose, unread = _loose(slopes[:-8])
    error = np.sqrt(np.diag(np.linalg.inv(slopes.T @ slopes)))
    reach = stats.norm.ppf(0.975) * error
    constants = {}
    for n, (name, words) in enumerate(CONSTANTS.items()):
        if n in unread:
            constants[name] = Constant(words, float("nan"), 0.0, float("inf"))
        else:
            ends = np.exp(theta[n] + reach[n] * np.array([0.0, -1.0, 1.0]))
            constants[name] = Constant(words, *map(float, ends))
    return Identified(constants, tuple(bad), loose, fit, theta, unread)
