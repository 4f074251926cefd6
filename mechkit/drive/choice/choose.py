"""Which of his motors, gear sets and bars? Every drive tried at once, and those that fit."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np

from mechkit.drive.choice import stock
from mechkit.drive.choice.aims import Running
from mechkit.drive.choice.envelope import Envelope, envelope, wheels
from mechkit.drive.constants.knowledge import Knowledge, known_of
from mechkit.drive.model import read
from mechkit.drive.model.body import body_of
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.layout import Layout, lay
from mechkit.drive.model.parts import Motor
from mechkit.drive.sheet.schema import BenchSheet, State

#: Steps of a wheel's diameter and width that are worth turning.
STEP = 0.5e-3  # m
#: More candidates than this take seconds and teach nothing: the step is doubled until they are less.
MOST = 400_000


class Place(NamedTuple):
    """Where candidates stand in the stock: motors, gear sets, wheels; ``cut`` counts all wheels."""

    motor: np.ndarray
    gears: np.ndarray
    cut: np.ndarray


@dataclass(frozen=True)
class Stock:
    """Everything that can be said of the stock before anyone asks: worked once, filtered often."""

    sheet: BenchSheet
    step: float
    cuts: stock.Cuts
    drives: list[list[Drive]]
    envelope: Envelope
    lives: np.ndarray
    old_life: np.ndarray

    @cached_property
    def fitting(self) -> Place:
        """Every candidate that fits."""
        return Place(*np.nonzero(self.envelope.fits))

    @property
    def tried(self) -> int:
        """How many candidates there are."""
        return self.envelope.fits.size

    @cached_property
    def base(self) -> Drive:
        """The drives as read, (motor, gear set, 1)."""
        return stock.nominal(self.drives)

    @cached_property
    def inertia(self):
        """Inertia of every wheel on every motor [kg*m^2]."""
        shafts = [one.shaft_diameter.value for one in self.sheet.stock.motors]
        made = wheels(self.cuts, np.array(shafts)[:, None])
        return np.where(self.cuts.width > 0, made.inertia, 0.0)

    def ask(self, aims: Sequence[str], place: Place | None = None, *, speed=None, voltage=None):
        """The numbers of some aims by aim, for some places or for all that fit.

        ``speed`` [m/s] of the full-size engine is the wanted top speed, ``voltage`` [V] half of
        full throttle unless told.
        """
        place = self.fitting if place is None else place
        heat = np.array([one.thermal_resistance.value for one in self.sheet.stock.motors])
        # A wheel changes nothing but inertia and length: the rest is asked once a motor and set.
        everyone = self._asked(
            replace(self.base, flywheel_inertia=self.inertia[:, None]),
            self.lives[:, :1],
            self.old_life[0],
            self.envelope.margins["length"],
            heat[:, None, None],
            speed,
            voltage,
        )
        shape = self.envelope.shape
        return {
            aim: np.broadcast_to(numbers, shape)[place]
            for aim, numbers in everyone.ask(aims).items()
        }

    def running(self, place: Place, *, speed=None, voltage=None, draws=False):
        """The drives at a few places, one in each row; with ``draws``, all draws across."""
        inertia = self.inertia[place.motor, place.cut]
        heat = np.array([one.thermal_resistance.value for one in self.sheet.stock.motors])
        heat, lives = heat[place.motor], self.lives[place.gears]
        left = np.broadcast_to(self.envelope.margins["length"], self.envelope.shape)[place]
        if draws:
            drive = stock.drawn(self.drives, place.motor, place.gears, inertia)
            heat, left, old = heat[:, None], left[:, None], self.old_life
        else:
            drive = replace(_rows(self.base, place), flywheel_inertia=inertia)
            lives, old = lives[:, 0], self.old_life[0]
        return self._asked(drive, lives, old, left, heat, speed, voltage)

    def _asked(self, drive, lives, old, left, heat, speed, voltage):
        full, wanted = self.sheet.supply.voltage.value, self.sheet.locomotive.top_speed.value
        return Running(
            drive, lives, old, left, heat, full, wanted,
            wanted if speed is None else speed, full / 2 if voltage is None else voltage,
        )  # fmt: skip

    def state(self, place: Place) -> State:
        """One candidate as a planned state of the sheet."""
        motor_, gears, cut = (int(n) for n in place)
        planned = self.sheet.planned
        state = stock.state_of(
            planned, self.sheet.stock.motors[motor_], self.sheet.stock.gear_sets[gears]
        )
        if not self.cuts.width[cut]:
            return state
        bar = self.sheet.stock.bars[self.cuts.bar[cut]]
        return stock.with_wheel(
            state, bar.material, self.cuts.outer[cut], self.cuts.width[cut], read.wheel_gap(planned)
        )

    def layout(self, place: Place) -> Layout:
        """How one candidate lies."""
        axle, forward = self.envelope.lies[int(self.envelope.placing[tuple(place)])]
        return lay(self.state(place), body_of(self.sheet), axle, forward)


def _rows(base: Drive, place: Place) -> Drive:
    """The drives as read of some places, one in each row."""

    def pick(value):
        return value[place.motor, place.gears, 0]

    part = Motor(**{name: pick(value) for name, value in vars(base.motor).items()})
    rest = {
        name: pick(value) for name, value in vars(base).items() if name not in {"motor", "scale"}
    }
    return Drive(motor=part, scale=base.scale, **rest)


def choose(sheet: BenchSheet, step: float = STEP) -> Stock:
    """Try every motor, gear set and wheel in stock.

    Parameters
    ----------
    sheet : BenchSheet
        With motors and gear sets in its stock; bars are optional.
    step : float
        Steps of a wheel's diameter and width [m]; never finer than the lathe holds

    Raises
    ------
    NothingToChoose
        One line with the key to fill.
    """
    for kind, words in stock.WANTED.items():
        if not getattr(sheet.stock, kind):
            raise stock.NothingToChoose(words)
    known = known_of(sheet)
    drives = stock.drives_of(known)
    pairs = len(sheet.stock.motors) * len(sheet.stock.gear_sets)
    step = stock.finest_step(sheet, step)
    while pairs * len(cuts := stock.cuts_of(sheet, step)) > MOST:
        step *= 2
    return Stock(
        sheet, step, cuts, drives, envelope(sheet, stock.nominal(drives), cuts),
        *_lives(known),
    )  # fmt: skip


def _lives(known: Knowledge):
    """Lives of the worm pairs in stock, (gear set, draw), and of the pair as it is [s]."""
    sheet, first = known.sheet, known.sheet.stock.motors[0]
    states = [stock.state_of(sheet.planned, first, one) for one in sheet.stock.gear_sets]
    lives = [known.life(state)[: stock.DRAWS + 1] for state in (*states, sheet.as_is)]
    return np.array(lives[:-1]), lives[-1]
