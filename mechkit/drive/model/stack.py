"""How the gears stand between the driven axle and the worm, seen from the side."""

import itertools
from dataclasses import dataclass

import numpy as np

from mechkit import gears as pairs
from mechkit import worm
from mechkit.drive.model.parts import Amount
from mechkit.drive.model.read import nominal_train
from mechkit.drive.model.train import SPACE, Train
from mechkit.drive.sheet.schema import State

#: A mesh may stand so much wider than nominal: the contact ratio is still about 1.3.
OPEN = 0.25  # modules


@dataclass(frozen=True)
class Seat:
    """One gear where it turns: away from the motor and above the driven axle."""

    name: str
    aside: float
    up: float
    outside: float


@dataclass(frozen=True)
class Stack:
    """The gears from the worm to the axle on one straight line that leans as it must.

    ``short`` is how far the gear under the worm stands off its place: more than nothing where the
    worm is too high for it, less where it is too low.  The worm stands over its gear, and so
    ``aside`` of the axle, away from the motor.
    """

    seats: tuple[Seat, ...]
    aside: float
    short: float


def down_of(train: Train) -> float:
    """From the worm's axis down to that of the gear under it [m]."""
    first = train.gears[0]
    return worm.center_distance(
        pitch_diameter=train.worm.pitch_diameter, module=first.module, teeth=first.teeth
    )


def links_of(train: Train) -> list[float]:
    """Center distances from gear to gear, from the worm's down to the axle's [m]."""
    return [
        float(
            pairs.center_distance_for_backlash(
                module=two.module,
                teeth_1=one.pitch_diameter / two.module,
                teeth_2=two.teeth,
                pressure_angle=train.pressure_angle,
                backlash=min(train.backlash, SPACE * two.module),
            )
        )
        for one, two in itertools.pairwise(train.gears)
    ]


def stack_of(state: State, height: float) -> Stack:
    """Stand the gears under a worm so high over the driven axle [m]."""
    train = nominal_train(state)
    rise, links = float(height - down_of(train)), links_of(train)
    reach = sum(links)
    met = min(max(rise, -reach), reach)
    aside = (reach**2 - met**2) ** 0.5 if reach else 0.0
    # A single gear turns on the axle, wherever the worm is.
    down = [sum(links[n:]) / reach if reach else 0.0 for n in range(len(train.gears))]
    seats = tuple(
        Seat(gear.name, part * aside, part * met, gear.outside_diameter)
        for gear, part in zip(train.gears, down, strict=True)
    )
    return Stack(seats, aside, rise - met)


def allowed(state: State) -> float:
    """How far the gear under the worm may stand off its place and still mesh [m]."""
    return OPEN * sum(gear.module for gear in nominal_train(state).gears)


def off_place(train: Train, height: Amount) -> Amount:
    """How far the gear under the worm stands off its place, either way [m]."""
    return np.maximum(np.abs(height - down_of(train)) - sum(links_of(train)), 0.0)
