"""What the drive on the bench sheet can do at the most: a record beyond that is of something else."""

import math

import numpy as np

from mechkit import units
from mechkit.drive.diagnosis import limits
from mechkit.drive.diagnosis.recording import Recording
from mechkit.drive.diagnosis.shafts import Train


def objection(record: Recording, train: Train) -> str:
    """Why a record cannot be of this drive, and what helps; nothing where it can.

    Parameters
    ----------
    record : Recording
        Of any kind.
    train : Train
        The drive on the bench sheet: its motor and the voltage at hand set the most.
    """
    mean, top = abs(float(np.mean(record.value))), float(np.max(np.abs(record.value)))
    most = fastest(train)
    on = units.show(train.sheet.supply.voltage.value, "voltage", decimals=1)
    if record.kind == "speed" and _beyond(mean, top, most):
        return (
            f"the axle's speed is {_rpm(mean)} and comes to {_rpm(top)}, and on {on} this drive turns "
            f"the axle at {_rpm(most)} at the most: if it is the motor's speed, divide it by the "
            f"gear ratio, {train.shafts[-1].order:g}; else look at the column's unit"
        )
    if record.kind == "current" and _beyond(mean, top, most := stalled(train)):
        return (
            f"the current is {mean:.3g} A and comes to {top:.3g} A, and on {on} this motor takes "
            f"{most:.2g} A at the most, stalled: if it is in milliamperes, name the column current [mA]"
        )
    least = limits.FEWEST_TURNS * 2 * math.pi / fastest(train)
    if record.duration < least:
        return (
            f"it lasts {record.duration:.2g} s, and {limits.FEWEST_TURNS:.0f} turns of the axle, the fewest "
            f"that will do, take {least:.2g} s at the least: record longer"
        )
    return ""


def fastest(train: Train) -> float:
    """The axle's highest speed, with the motor running free on the supply [rad/s]."""
    return 2 * math.pi * train.tone_range[1] / train.teeth_order


def stalled(train: Train) -> float:
    """The most that the supply drives through the motor [A]."""
    least = min(reading.value for reading in train.state.motor.resistance)
    return train.sheet.supply.voltage.value / least


def _beyond(mean, top, most):
    return mean > limits.BEYOND * most or top > limits.READING_BEYOND * most


def _rpm(speed):
    """A speed of rotation, however large."""
    rpm = units.shown(speed, "rotation")
    return f"{rpm:.0f} rpm" if rpm < 1e7 else f"{rpm:.2g} rpm"
