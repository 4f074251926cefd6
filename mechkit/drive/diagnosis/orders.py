"""Order tracking: what repeats with a shaft's turn, while the speed changes as it likes.

An order is how often something happens in one turn of the axle: 1 the axle itself, 2 the rods.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import scipy

from mechkit.drive.diagnosis import limits

#: Slower than this order counts as drift of the speed, not as a fault.
DRIFT = 0.45
#: Distance of the orders at which the floor under a line is looked for.
BESIDE = np.array([-0.40, -0.31, -0.22, 0.22, 0.31, 0.40])
#: Harmonics of the mesh tone, and how much each counts in the search for it.
COMB = np.array([1.0, 0.8, 0.6, 0.4])
#: Samples and waves in a piece of a least-squares sum.
BLOCK = 60
#: Places in the spectrum for each that the window's length can part.
FINER = 4
#: What counts of a line over its surroundings [dB]: no single one may drown the others.
LOUDEST = 40.0
#: How far the tone must stand above chance [dB], found by trial on invented recordings.
CLEAR = 4.0
#: Most that a steady drive changes its speed in a second, of itself.
HASTE = 0.6
#: Height of the lines between, over that of a tone's own, above which it is an overtone itself;
#: by trial on the notes of an instrument and on invented recordings.
BETWEEN = 0.5
MAINS = (50.0, 60.0)  # 1/s
HUM = 700.0  # 1/s, the highest line of the mains that is looked for
NEAR = 1.5  # 1/s, half the width of a mains line
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


def thinned(time, value, each):
    """One reading for ``each`` so many, their mean; what is left over at the end is dropped."""
    if each < 2:
        return time, value
    whole = len(time) // each * each
    return time[:whole].reshape(-1, each).mean(axis=1), value[:whole].reshape(-1, each).mean(axis=1)


def lines(turns, value, orders) -> Lines:
    """Strength of several orders at once, with the drift fitted beside them.

    Least squares on the samples where they lie in the turn: a changing speed crowds or
    spreads them, and the lines stay sharp.
    """
    orders = np.asarray(orders, dtype=float)
    span = turns[-1] - turns[0]
    slow = np.arange(int(2 * min(span, limits.MOST_TURNS) * DRIFT) + 2)

    def columns(some):
        """The waves at some of the samples."""
        place = (turns[some] - turns[0]) / span
        wave = np.exp(2j * np.pi * np.outer(turns[some], orders))
        # The straight line takes what the cosines cannot, a drift that goes on at the ends.
        drift = np.cos(np.pi * np.outer(place, slow))
        return np.hstack([drift, place[:, None], wave.real, wave.imag])

    solution = _fitted(columns, value)
    cosine, sine = solution[-2 * len(orders) :].reshape(2, -1)
    fitted = [np.einsum("nk,k->n", columns(some), solution) for some in _parts(len(value))]
    rest = value - np.concatenate(fitted)
    return Lines(orders, np.hypot(cosine, sine), _floor(turns, rest, orders))


def spectrum(turns, value, highest):
    """Strength at every order up to the highest: places and amplitudes, for the eye.

    Read off a grid that is even in the turn, under a bell that keeps lines apart; `lines` is
    what judges.
    """
    per_turn = 2.6 * highest
    even = np.arange(turns[0], turns[-1], 1 / per_turn)
    bell = np.hanning(len(even))
    level = (scipy.signal.detrend(np.interp(even, turns, value))) * bell
    count = FINER * len(even)
    amplitude = np.abs(np.fft.rfft(level, count)) * 2 / bell.sum()
    order = np.fft.rfftfreq(count, 1 / per_turn)
    shown = order <= highest
    return order[shown], amplitude[shown]


def lines_by_stretch(turns, value, orders, stretch) -> Lines:
    """`lines` of stretches of about so many turns, averaged.

    Where the turns are reckoned from a tone, their error adds up: over a long record a line
    would smear though each stretch of it is sharp.
    """
    most = max(1, len(turns) // limits.FEWEST)
    count = min(max(1, round((turns[-1] - turns[0]) / stretch)), most)
    pieces = np.array_split(np.arange(len(turns)), count)
    found = [lines(turns[piece], value[piece], orders) for piece in pieces]
    return Lines(
        found[0].orders,
        np.mean([one.amplitude for one in found], axis=0),
        np.mean([one.floor for one in found], axis=0),
    )


def _parts(count):
    """Samples in parts whose waves may be held at once."""
    return [slice(start, start + limits.ROWS) for start in range(0, count, limits.ROWS)]


def _fitted(columns: Callable[[slice], np.ndarray], value):
    """Least squares by the normal equations: any number of samples, dozens of waves."""
    width = columns(slice(0, 1)).shape[1]
    square, target = np.zeros((width, width)), np.zeros(width)
    for some in _parts(len(value)):
        waves = columns(some)
        square += _squared(waves)
        target += np.einsum("nk,n->k", waves, value[some])
    # A wave that the samples cannot show, as at half their rate, is given no strength.
    square += 1e-9 * np.mean(np.diag(square)) * np.eye(width)
    return scipy.linalg.solve(square, target, assume_a="pos")


def _squared(waves):
    """The product of waves with each other, summed over the samples."""
    # In pieces so small that no threads are started for them: on a computer with other work
    # the threads wait for each other fifty times as long as the sums take.
    count, width = waves.shape
    waves = np.pad(waves, ((0, -count % BLOCK), (0, -width % BLOCK)))
    tiles = waves.reshape(-1, BLOCK, waves.shape[1] // BLOCK, BLOCK).transpose(2, 0, 1, 3)
    square = np.empty((len(tiles), BLOCK, len(tiles), BLOCK))
    for one, first in enumerate(tiles):
        for other, second in enumerate(tiles[: one + 1]):
            product = np.matmul(first.transpose(0, 2, 1), second).sum(axis=0)
            square[one, :, other], square[other, :, one] = product, product.T
    return square.reshape(waves.shape[1], -1)[:width, :width]


def _floor(turns, rest, orders):
    """Root mean square of what is left beside each order."""
    beside = (orders[:, None] + BESIDE).ravel()
    found = sum(
        np.einsum("kn,n->k", np.exp(-2j * np.pi * np.outer(beside, turns[some])), rest[some])
        for some in _parts(len(turns))
    )
    found = found * 2 / len(turns)
    return np.sqrt(np.mean(np.abs(found.reshape(len(orders), -1)) ** 2, axis=1))


# -- the speed, from the recording itself -----------------------------------------------


class Unsure(ValueError):
    """No tone that could be the mesh, or more than one."""


def mesh_tone(value, rate, lowest, highest, starts=1):
    """The frequency of the mesh tone over the time, by the ridge of its harmonics.

    ``starts`` of the worm are the teeth that pass in a turn of the motor.

    Returns
    -------
    time, frequency : arrays
        Middle of each window [s], the tone in it [1/s]

    Raises
    ------
    Unsure
        The tone does not stand out of the noise, or can be read in two ways.
    """
    pitch, time, raised = _whitened(value, rate, lowest, highest)
    ladder = np.geomspace(lowest, highest, int(np.log(highest / lowest) / 0.004) + 2)
    score = _comb(pitch, raised, ladder)
    path = _ridge(score, time[1] - time[0], np.log(ladder[1] / ladder[0]))
    height = float(np.median(score[np.arange(len(path)), path]))
    chance = float(np.median(np.percentile(score, 90, axis=1)))
    if height < chance + CLEAR:
        raise Unsure("the mesh tone does not stand out of the noise")
    for mains in MAINS:
        away = ladder[path] / mains - np.round(ladder[path] / mains)
        if np.mean(np.abs(away) * mains < NEAR) > 0.7:
            raise Unsure("the tone that stands out is that of the mains hum")
    found = ladder[path] / _overtone(pitch, raised, ladder[path], lowest, starts)
    tone = scipy.ndimage.gaussian_filter1d(np.log(found), 1.5, mode="nearest")
    return time, np.exp(tone) * _starts_on(pitch, raised, found, starts)


def without_hum(value, rate):
    """The signal less all the mains' lines, where one of the first is heard.

    Fitted by least squares a second at a time, with amplitudes that may drift; a tone that
    only passes through is hardly touched.
    """
    pitch, power = scipy.signal.periodogram(value, rate, "hann")
    height = [max(_height(pitch, power, mains * n) for n in (1, 2, 3)) for mains in MAINS]
    if max(height) < STANDS_OUT:
        return value
    mains = MAINS[int(np.argmax(height))]
    family = np.arange(mains, min(HUM, 0.45 * rate), mains)
    cleaned = []
    for piece in np.array_split(value, max(1, round(len(value) / rate))):
        time = np.arange(len(piece)) / rate
        wave = np.exp(2j * np.pi * np.outer(time, family))
        steady = np.hstack([wave.real, wave.imag])
        columns = np.hstack([steady, steady * (time - time.mean())[:, None]])
        cleaned.append(piece - columns @ _fitted(columns.__getitem__, piece))
    return np.concatenate(cleaned)


def _height(pitch, power, line):
    """Power of a line of the mains over what is beside it."""
    away = np.abs(pitch - line)
    beside = power[(away > 2 * NEAR) & (away < 12 * NEAR)]
    return power[away < NEAR].max(initial=0) / max(beside.mean(), 1e-30) if len(beside) else 0.0


def _whitened(value, rate, lowest, highest):
    """Spectrogram in dB over its surroundings."""
    length = min(int(rate * np.clip(5 / lowest, 0.16, 0.5)), len(value) // 4)
    pitch, time, power = scipy.signal.spectrogram(
        value, rate, "hann", length, length * 3 // 4, nfft=FINER * length, mode="psd"
    )
    needed = pitch <= (len(COMB) + 1) * highest
    pitch, power = pitch[needed], power[needed]
    loud = 10 * np.log10(power + 1e-30).T
    # A quarter from below: where lines stand close, half of the places are theirs.
    wide = int(max(2.4 * lowest, 8 * rate / length) / pitch[FINER]) | 1
    coarse = scipy.ndimage.percentile_filter(loud[:, ::FINER], 25, (1, wide))
    floor = np.repeat(coarse, FINER, axis=1)[:, : loud.shape[1]]
    raised = np.clip(loud - floor, 0, LOUDEST)
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


def _overtone(pitch, raised, tone, lowest, starts):
    """3 or 5 where the tone found is only that multiple of the true one, else 1.

    The comb asks what lies half-way between its lines, and not what lies at thirds and fifths.
    Where a worm has as many starts, a bad motor puts lines just there: `_starts_on` looks.
    """
    for multiple in (3, 5):
        if starts % multiple and np.median(tone) / multiple >= lowest:
            own, between = _heights(pitch, raised, tone / multiple, multiple)
            if between.mean() > BETWEEN * own.mean():
                return multiple
    return 1


def _heights(pitch, raised, tone, each):
    """Mean height at the multiples of a tone: at those of ``each`` times it, and the others [dB]."""
    count = np.arange(1, 2 * each + 1)
    sought = np.clip(np.outer(tone, count) / pitch[1], 0, len(pitch) - 1).round().astype(int)
    height = np.mean(np.take_along_axis(raised, sought, axis=1), axis=0)
    return height[count % each == 0], height[count % each != 0]


def _starts_on(pitch, raised, tone, starts):
    """1 where the tone found is that of the teeth; ``starts`` where it is that of a bad motor.

    A worm of several starts lets several teeth pass in a turn of the motor: a motor at fault
    adds its own tone and multiples, fainter, below and between those of the teeth.
    """
    if starts == 1:
        return 1
    teeth, others = _heights(pitch, raised, tone, starts)
    if teeth.min() > others.max():
        return starts
    if teeth.mean() > others.mean():
        raise Unsure("the tone can be that of the teeth or that of the motor")
    return 1


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
    heard = scipy.signal.sosfiltfilt(
        scipy.signal.butter(4, min(above, 0.4 * rate), "high", fs=rate, output="sos"), value
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
