"""Trials on the track, run in time: where it starts, how slowly it creeps, how fast it runs."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from mechkit import check
from mechkit.drive.model.drive import Drive
from mechkit.drive.motion.detail import Detail
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Supply, Track, ramp, steady

#: How slowly the throttle is opened to find the start [V/s].
OPENING = 0.5
#: An engine that has just started is a hair above its starting voltage.
_HAIR = 1e-6


@dataclass(frozen=True)
class Creep:
    """The voltage [V] at which an engine starts, and the speed [m/s] it settles to on it."""

    voltage: float
    speed: float


def creep(
    drive: Drive,
    track: Track | None = None,
    detail: Detail | None = None,
    *,
    voltage: float = 12.0,
    time: float = 4.0,
) -> Creep | None:
    """Open the throttle slowly; stop opening as it starts, and wait.

    Parameters
    ----------
    drive, track, detail
        As in `simulate`
    voltage : float
        Highest voltage tried [V], greater than 0
    time : float
        How long it is left to creep [s], greater than 0; the speed is the mean of the last half

    Returns
    -------
    creep : Creep or None
        None where it does not start
    """
    check.positive(voltage=voltage, time=time)
    opened = simulate(drive, Supply((ramp(0.0, voltage, voltage / OPENING),)), track, detail)
    start = opened.starting_voltage
    if start is None:
        return None
    just = start * (1 + _HAIR)
    slow = Supply((ramp(0.0, just, just / OPENING), steady(just, time)))
    run = simulate(drive, slow, track, detail)
    half, end = run.course([slow.time - time / 2, run.table[0, -1]]).distance
    return Creep(start, float(end - half) / (time / 2))


def speed_curve(
    drive: Drive,
    voltages,
    track: Track | None = None,
    detail: Detail | None = None,
    *,
    time: float = 2.0,
):
    """Speed of the model on each of several voltages, one after the other in one run [m/s].

    Parameters
    ----------
    drive, track, detail
        As in `simulate`
    voltages : sequence of float
        Voltages in the order in which they are set [V]
    time : float
        How long each is held [s], greater than 0; the speed is the mean of the last quarter
    """
    check.positive(time=time)
    phases = tuple(steady(float(voltage), time) for voltage in voltages)
    run = simulate(drive, Supply(phases), track, detail)
    edges = np.linspace(0.0, float(run.table[0, -1]), len(phases) + 1)
    ends = [run.course([b - (b - a) / 4, b]).distance for a, b in pairwise(edges)]
    return np.array([(x[1] - x[0]) for x in ends]) / (time / 4)
