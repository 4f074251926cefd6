"""What every instrument would show for given constants, and how far the readings are off.

The eight constants stand in a row, as natural logarithms, and behind them what the bench does
not tell outright: the meter's common error of volts and of amps, how far adhesion is off
(a logarithm), and how much of its settled rise the winding had reached.
"""

import numpy as np
import scipy

from mechkit import flywheel, motor, traction, winding
from mechkit.drive.constants.readings import Bench, Errors, Known
from mechkit.names import STANDARD_GRAVITY

#: Constants in a row; what stands behind them is only carried along.
COUNT = 8
INERTIA, VOLTS, AMPS, ADHESION, WARMTH = 7, 8, 9, 10, 11
#: Without any reading a constant stays within about this factor of the guess, e-fold.
FREE = 3.0
#: No winding outlives more, K; it bounds the fit on its way.
HOTTEST = 200.0
#: Copper's rise of resistance per kelvin, as the handbook has it; taken once, because the
#: fit warms the winding a thousand times over.
PER_KELVIN = winding.warm_resistance(resistance=1.0, temperature_rise=1.0) - 1.0
#: Between cold and settled each share of the rise is as likely: middle and standard deviation.
HALF_WARM, WARM_SPREAD = 0.5, 12**-0.5
#: Steps in which inertia is scanned, and adhesion in standard errors.
INERTIAS, ADHESIONS = 80, np.linspace(-2, 2, 5)
#: A start whose deviations, squared and summed, are so much more is not worth a fit.
HOPELESS = 60.0
#: Deviations, squared and summed, that 95 % of chances keep to, one number free.
NOTICED = 3.84


def steady(voltage, load, numbers, thermal_resistance):
    """Current, speed and back voltage over voltage of a motor under a load torque.

    The winding warms with its own heat, and its resistance with it: three rounds settle it.
    """
    cold, constant, damping = numbers
    warm = cold
    for _ in range(3):
        speed = (voltage - load * warm / constant) / (constant + damping * warm / constant)
        speed = np.maximum(speed, 1.0)
        current = (load + damping * speed) / constant
        rise = np.minimum(thermal_resistance * current**2 * warm, HOTTEST)
        warm = cold * (1 + PER_KELVIN * rise)
    return current, speed, constant * speed / voltage


def shown(theta, bench: Bench, known: Known):
    """What each instrument would show, and the shares of back voltage in the runs."""
    theta = np.asarray(theta)[..., None]
    cold, constant, alone, rest, moving, damping, efficiency, inertia = np.exp(
        np.moveaxis(theta[..., :COUNT, :], -2, 0)
    )
    volts, amps = 1 + theta[..., VOLTS, :], 1 + theta[..., AMPS, :]
    adhesion = known.adhesion * np.exp(theta[..., ADHESION, :])
    kelvin = known.thermal_resistance * theta[..., WARMTH, :]
    lever = known.wheel_diameter / 2 / known.gear_ratio

    free, stall, runs, coasts = bench.arrays
    free_current, free_speed, _ = steady(free[0] / volts, alone, (cold, constant, 0.0), kelvin)
    load = moving + runs[1] * lever / efficiency
    current, speed, share = steady(runs[0] / volts, load, (cold, constant, damping), kelvin)
    before = steady(coasts[0] / volts, moving, (cold, constant, damping), kelvin)[1]
    brake = damping + coasts[1] * motor.shorted_damping(torque_constant=constant, resistance=cold)
    turning = {"inertia": inertia, "speed": before, "torque": moving, "damping": brake}
    skid = traction.stopping_distance(
        model_speed=before * lever,
        adhesion=adhesion,
        mass=known.train_mass,
        mass_on_drivers=known.mass_on_drivers,
    )
    start = motor.starting_voltage(torque=rest, resistance=cold, torque_constant=constant)

    def repeated(value, count):
        return np.broadcast_to(value, (*cold.shape[:-1], count))

    parts = [
        repeated(cold * volts / amps, len(bench.resistance)),
        free_current * amps,
        free_speed,
        stall[0] / volts / cold * amps,
        repeated(start * volts, len(bench.starting_voltage)),
        current * amps,
        runs[2] / (speed * lever),
        np.maximum(flywheel.coast_angle(**turning) * lever, skid),
        np.maximum(flywheel.coast_time(**turning), 2 * skid / (before * lever)),
        repeated(adhesion * known.mass_on_drivers * STANDARD_GRAVITY, len(bench.slip)),
    ]
    return np.concatenate(parts, axis=-1), share


def _sigma(numbers, share, bench, errors):
    """Standard error of each reading on its own; the meter's common error is fitted.

    A voltage in doubt shows in the time of its run, as its last digit does.
    """
    blocks = np.split(numbers, np.cumsum(bench.counts)[:-1])
    watch, ruler = errors.stopwatch / 2, errors.ruler / 2
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
        digit * blocks[5],
        np.hypot(watch, volts * blocks[6] / share),
        np.hypot(ruler, errors.coast * blocks[7]),
        np.hypot(clock, errors.coast * blocks[8]),
        np.hypot(errors.spring_scale / 2, errors.place * blocks[9]),
    ]
    return np.hypot(np.concatenate(each), doubts * numbers)


def guess(bench: Bench, known: Known):
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
    return np.concatenate([np.log(start), [0.0, 0.0, 0.0, HALF_WARM]])


def _soft(off):
    """Deviations squared and summed, where one far off counts little more than its distance."""
    return np.sum(2 * (np.sqrt(1 + off**2) - 1), axis=-1)


class Fit:
    """The weighted deviations of one bench, and their slopes."""

    def __init__(self, bench: Bench, known: Known, errors: Errors, start):
        """Gather the readings once."""
        self.bench, self.known, self.errors, self.start = bench, known, errors, start
        self.read = bench.read
        self.used = np.isfinite(self.read)
        # a constant is held loosely; what is only carried along as firmly as its error says
        meter = errors.meter / 2
        firm = [FREE] * COUNT + [meter, meter, errors.adhesion, WARM_SPREAD]
        self.middle = np.concatenate([start[:COUNT], [0.0, 0.0, 0.0, HALF_WARM]])
        self.firm = np.array(firm)
        self.reach = np.concatenate([np.full(COUNT, 8.0), np.full(3, 0.5), [HALF_WARM]])
        self.weigh(start)

    def weigh(self, theta):
        """Errors as they belong to the constants found so far."""
        numbers, share = shown(theta, self.bench, self.known)
        self.sigma = _sigma(numbers, share, self.bench, self.errors)

    def deviations(self, theta):
        """Readings, then the hold on what is carried along, then the one on every constant."""
        theta = np.asarray(theta)
        numbers, _ = shown(theta, self.bench, self.known)
        readings = ((numbers - self.read) / self.sigma)[..., self.used]
        hold = (theta - self.middle) / self.firm
        return np.concatenate([readings, hold[..., COUNT:], hold[..., :COUNT]], axis=-1)

    def slopes(self, theta):
        """Jacobian by central differences, all columns in one call."""
        step = 1e-5 * np.eye(len(theta))
        ends = self.deviations(np.concatenate([theta + step, theta - step]))
        return ((ends[: len(theta)] - ends[len(theta) :]) / 2e-5).T

    def solve(self, start, loss, close=1e-5):
        """The constants of least deviation from one start, and their deviation."""
        found = scipy.optimize.least_squares(
            self.deviations,
            start,
            jac=self.slopes,
            loss=loss,
            bounds=(self.middle - self.reach - 1e-9, self.middle + self.reach + 1e-9),
            xtol=close,
            ftol=close,
        )
        return found.x, 2 * float(found.cost)

    def settle(self, theta, loss):
        """Constants and their deviation from every start that is worth one, the least first.

        A coast shows the longer of rolling and skidding, so inertia has no slope where every
        coast seems to skid: the fit has to begin on the right side.
        """
        tried = [self.solve(start, loss) for start in self.starts(theta)]
        return sorted(tried, key=lambda each: each[1])

    @property
    def coasts(self):
        """Which readings are of coasts."""
        kinds = np.repeat(np.arange(len(self.bench.counts)), self.bench.counts)
        return np.isin(kinds, (7, 8))

    def rough(self):
        """The constants that the readings without the coasts give."""
        kept, self.used = self.used, self.used & ~self.coasts
        theta, _ = self.solve(self.start, "soft_l1", 1e-3)
        self.used = kept
        self.weigh(theta)
        if (self.used & self.coasts).any():
            grid, off = self.scan(theta)
            theta = grid[off.argmin()]
            self.weigh(theta)  # a coast's own error goes with its length
        return theta

    def scan(self, theta, measure=_soft):
        """Inertias from all skids to all rolls, each with its best adhesion, and deviations."""
        lever = self.known.wheel_diameter / 2 / self.known.gear_ratio
        low = np.log(0.2 * self.known.train_mass * lever**2)
        rolled = np.array(theta)
        rolled[INERTIA] = low + 25.0  # so heavy that nothing skids: distances go as inertia
        of_coasts = self.used & self.coasts
        ratio = self.read[of_coasts] / shown(rolled, self.bench, self.known)[0][of_coasts]
        high = max(rolled[INERTIA] + np.log(max(ratio.max(), 1e-12)) + 1.0, low + 1.0)
        grid = np.tile(theta, (INERTIAS, len(ADHESIONS), 1))
        grid[..., INERTIA] = np.linspace(low, high, INERTIAS)[:, None]
        grid[..., ADHESION] += self.errors.adhesion * ADHESIONS
        grid = np.clip(grid, self.middle - self.reach, self.middle + self.reach)
        off = measure(self.deviations(grid))
        best = off.argmin(axis=1)
        every = np.arange(INERTIAS)
        return grid[every, best], off[every, best]

    def most_inertia(self, theta):
        """Logarithm of the most inertia that would not have shown; one end at 97.5 %."""
        if not (self.used & self.coasts).any():
            return np.inf
        grid, off = self.scan(theta, lambda each: np.sum(each**2, axis=-1))
        return float(grid[off < off.min() + NOTICED, INERTIA].max())

    def starts(self, theta):
        """The constants so far, with each inertia that makes a dip in the scan."""
        if not (self.used & self.coasts).any():
            return [theta]
        grid, off = self.scan(theta)
        beside = np.concatenate([[np.inf], off, [np.inf]])
        dips = (off < beside[:-2]) & (off <= beside[2:]) & (off < off.min() + HOPELESS)
        return list(grid[dips])

    def worst(self, theta):
        """The reading farthest off for what the others leave it, and by how much."""
        slopes = self.slopes(theta)
        hat = np.einsum("ij,jk,ik->i", slopes, np.linalg.inv(slopes.T @ slopes), slopes)
        room = np.maximum(1 - hat, 0.02)
        off = (np.abs(self.deviations(theta)) / np.sqrt(room))[: self.used.sum()]
        place = int(np.argmax(off))
        return int(np.flatnonzero(self.used)[place]), float(off[place])
