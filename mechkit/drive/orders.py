"""Order tracking: what repeats with a shaft's turn, while the speed changes as it likes.

An order is how often something happens in one turn of the axle: 1 the axle itself, 2 the rods.
"""

from dataclasses import dataclass

import numpy as np
from scipy import ndimage, signal

#: Slower than this order counts as drift of the speed, not as a fault.
DRIFT = 0.45
#: Distance of the orders at which the floor under a line is looked for.
BESIDE = np.array([-0.40, -0.31, -0.22, 0.22, 0.31, 0.40])
#: Harmonics of the mesh tone, and how much each counts in the search for it.
COMB = np.array([1.0, 0.8, 0.6, 0.4])
#: How far the tone must stand above chance [dB], found by trial on invented recordings.
CLEAR = 4.0
#: Most that a steady drive changes its speed in a second, of itself.
HASTE = 0.6
MAINS = (50.0, 60.0)  # 1/s
HUM = 1000.0  # 1/s, the highest line of the mains that is looked for
NOTCH = 1.5  # 1/s wide
#: Power of a mains line over what is beside it, above which it is taken out.
STANDS_OUT = 10.0


@dataclass(frozen=True)
class Lines:
    """The strength of each order, in the signal's unit, and the floor that noise alone makes."""

    orders: np.ndarray
    amplitude: np.ndarray
    floor: np.ndarray

    def at(self, order):
        """Strength and floor of one of the orders."""
        place = int(np.argmin(np.abs(self.orders - order)))
        return float(self.amplitude[place]), float(self.floor[place])


def turned(time, speed):
    """Turns since the start at each time, from a speed of rotation [rad/s] that may change."""
    steps = np.diff(time) * (speed[1:] + speed[:-1]) / 2
    return np.concatenate([[0.0], np.cumsum(steps)]) / (2 * np.pi)


def lines(turns, value, orders) -> Lines:
    """Strength of several orders at once, with the drift fitted beside them.

    Least squares on the samples where they lie in the turn: a changing speed crowds or
    spreads them, and the lines stay sharp.
    """
    orders = np.asarray(orders, dtype=float)
    span = turns[-1] - turns[0]
    place = (turns - turns[0]) / span
    # The straight line takes what the cosines cannot, a drift that goes on at the ends.
    drift = np.cos(np.pi * np.outer(place, np.arange(int(2 * span * DRIFT) + 2)))
    drift = np.hstack([drift, place[:, None]])
    wave = np.exp(2j * np.pi * np.outer(turns, orders))
    columns = np.hstack([drift, wave.real, wave.imag])
    solution, *_ = np.linalg.lstsq(columns, value, rcond=None)
    count = len(orders)
    parts = solution[drift.shape[1] :]
    rest = value - columns @ solution
    return Lines(orders, np.hypot(parts[:count], parts[count:]), _floor(turns, rest, orders))


def _floor(turns, rest, orders):
    """Root mean square of what is left beside each order."""
    beside = (orders[:, None] + BESIDE).ravel()
    found = np.exp(-2j * np.pi * np.outer(beside, turns)) @ rest * 2 / len(turns)
    return np.sqrt(np.mean(np.abs(found.reshape(len(orders), -1)) ** 2, axis=1))


# -- the speed, from the recording itself -----------------------------------------------


class Unsure(ValueError):
    """No tone that could be the mesh, or more than one."""


def mesh_tone(value, rate, lowest, highest):
    """The frequency of the mesh tone over the time, by the ridge of its harmonics.

    Returns
    -------
    time, frequency : arrays
        Middle of each window [s], the tone in it [1/s]

    Raises
    ------
    Unsure
        The tone does not stand out of the noise.
    """
    pitch, time, raised = _whitened(value, rate, lowest)
    ladder = np.geomspace(lowest, highest, int(np.log(highest / lowest) / 0.004) + 2)
    score = _comb(pitch, raised, ladder)
    path = _ridge(score, time[1] - time[0], np.log(ladder[1] / ladder[0]))
    height = float(np.mean(score[np.arange(len(path)), path]))
    chance = float(np.mean(np.percentile(score, 90, axis=1)))
    if height < chance + CLEAR:
        raise Unsure("the mesh tone does not stand out of the noise")
    tone = ndimage.gaussian_filter1d(np.log(ladder[path]), 1.5, mode="nearest")
    return time, np.exp(tone)


def without_hum(value, rate):
    """The signal with all the mains' lines notched out, where one of the first is heard.

    The notches are so narrow that a tone which only passes through is hardly touched.
    """
    pitch, power = signal.periodogram(value, rate, "hann")
    for mains in MAINS:
        family = np.arange(mains, min(HUM, 0.45 * rate), mains)
        if not any(_stands_out(pitch, power, line) for line in family[:3]):
            continue
        for line in family:
            value = signal.filtfilt(*signal.iirnotch(line, line / NOTCH, rate), value)
    return value


def _stands_out(pitch, power, line):
    """True where a line of the mains is heard."""
    away = np.abs(pitch - line)
    beside = power[(away > 2 * NOTCH) & (away < 12 * NOTCH)]
    return power[away < NOTCH].max(initial=0) > STANDS_OUT * beside.mean()


def _whitened(value, rate, lowest):
    """Spectrogram in dB over its surroundings."""
    length = min(int(rate * np.clip(5 / lowest, 0.16, 0.5)), len(value) // 4)
    pitch, time, power = signal.spectrogram(
        value, rate, "hann", length, length * 3 // 4, nfft=4 * length, mode="psd"
    )
    loud = 10 * np.log10(power + 1e-30).T
    wide = max(9, int(1.2 * lowest / pitch[1]) | 1)
    raised = np.clip(loud - ndimage.median_filter(loud, (1, wide)), 0, 25)
    return pitch, time, raised


def _comb(pitch, raised, ladder):
    """How well each tone explains each window: its harmonics, less what lies half-way."""
    score = np.zeros((len(raised), len(ladder)))
    top = pitch[-1]
    for n, weight in enumerate(COMB, 1):
        for factor, sign in ((n, 1.0), (n - 0.5, -0.6)):
            sought = np.clip(ladder * factor / pitch[1], 0, len(pitch) - 1)
            low = np.minimum(sought.astype(int), len(pitch) - 2)
            part = raised[:, low] * (1 - sought + low) + raised[:, low + 1] * (sought - low)
            score += sign * weight * np.where(ladder * factor < top, part, 0)
    return score


def _ridge(score, hop, step):
    """The path of the highest sum that never climbs faster than a drive can."""
    reach = max(1, round(HASTE * hop / step))
    total, came = score[0], []
    for row in score[1:]:
        padded = np.pad(total, reach, constant_values=-np.inf)
        around = np.lib.stride_tricks.sliding_window_view(padded, 2 * reach + 1)
        # A wide reach costs a little, so that noise does not shake the path.
        around = around - 0.5 * np.abs(np.arange(-reach, reach + 1))
        best = np.argmax(around, axis=1)
        came.append(np.arange(len(row)) + best - reach)
        total = around[np.arange(len(row)), best] + row
    path = [int(np.argmax(total))]
    for step_back in reversed(came):
        path.append(int(step_back[path[-1]]))
    return np.array(path[::-1])


def loudness(value, rate, turns, per_turn, above):
    """Log of the sound's strength in each slice of the turn: places [turns] and level [-].

    Sound below ``above`` [1/s] and the mains hum are taken out first.  A swing of 0.1 in the
    level is a swing of ten percent in the sound.
    """
    heard = signal.sosfiltfilt(
        signal.butter(4, min(above, 0.4 * rate), "high", fs=rate, output="sos"), value
    )
    first, last = np.ceil(turns[0] * per_turn), np.floor(turns[-1] * per_turn)
    slices = np.floor(turns * per_turn) - first
    inside = (slices >= 0) & (slices < last - first)
    slices = slices[inside].astype(int)
    count = np.bincount(slices)
    power = np.bincount(slices, heard[inside] ** 2) / np.maximum(count, 1)
    power = np.maximum(power, 1e-4 * np.median(power))
    place = (np.arange(len(power)) + 0.5 + first) / per_turn
    kept = count > 0
    return place[kept], 0.5 * np.log(power[kept])
