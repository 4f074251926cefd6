"""Recordings to listen to: what lies on the disk, and one that is invented to order.

The invented one is run in time: each fault alone, through one turn of its shaft; what they
make of the speed is laid over one another on a speed that drifts, and read with noise.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

import numpy as np

from mechkit import runout
from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import known_of, nominal
from mechkit.drive.diagnosis import diagnose, orders, recording
from mechkit.drive.diagnosis.diagnose import CannotTell, Diagnosis
from mechkit.drive.diagnosis.recording import Recording
from mechkit.drive.diagnosis.shafts import Train
from mechkit.drive.motion.detail import Detail
from mechkit.drive.motion.detail import Shaft as Turning
from mechkit.drive.questions import in_time
from mechkit.drive.questions import motion as trip
from mechkit.drive.questions.reach import Reach
from mechkit.drive.sheet.schema import BenchSheet

#: Where the demo's recordings lie, and what each is called on a button.
FOLDER = sheet.DEMO.parent / "recordings"
SHIPPED = {"hops": "hops_once_a_turn.wav", "true": "runs_true.wav", "speed": "axle_speed.csv"}
INVENTED, OWN = "invented", "mine"
#: Readings of the invented speed in a turn of the axle, and in a turn of the motor at least.
FINE, LEAST = 86.3, 2.5
#: How slowly it drifts, and how long it is at first, in turns of the axle.
WANDERS, LONG = 0.108, 11.1
#: The invented engine runs on so many times its starting voltage.
ABOVE_START = 1.5


@dataclass(frozen=True)
class Heard:
    """A recording and what it says; ``said`` is None where it cannot tell, with the ``reason``.

    ``orders`` and ``level`` are the spectrum, empty where not even the turns are known.
    """

    kind: str
    said: Diagnosis | None
    reason: str
    orders: np.ndarray
    level: np.ndarray


class Case:
    """The drive of a bench sheet, its shafts, and the recordings to choose from."""

    def __init__(self, data: BenchSheet, own: str | Path | None = None, planned: bool = False):
        known = known_of(data)
        self.data, self.planned = data, planned
        self.state = data.planned if self.planned else data.as_is
        self.train = Train(data, self.state)
        self.drive = nominal(known.planned if planned else known.before)
        self.detail = in_time.detail_of(self.state)
        self.voltage = ABOVE_START * float(self.drive.starting_voltage)
        motor_speed = float(self.drive.motor_speed_at(self.voltage))
        self.speed = float(self.drive.rail_speed(motor_speed))
        self.pace = motor_speed / self.drive.gear_ratio / (2 * np.pi)
        #: Recordings on the disk are of the demo's drive and tell nothing of another.
        self.files: dict[str, Path] = {}
        if self.state == sheet.demo().data.as_is:
            self.files |= {name: FOLDER / file for name, file in SHIPPED.items()}
        if own:
            self.files[OWN] = Path(own)
        self.read = lru_cache(8)(lambda name: heard(self, recording.read(self.files[name])))
        self._swing = lru_cache(32)(trip.one_turn)

    # -- what is worth trying on this engine --------------------------------------------

    def runout(self, gear: str) -> Reach:
        """Total runouts of one of its gears [m]."""
        given = next(one for one in self.state.gears if one.name == gear).total_runout.value
        return Reach(given, 0.0, max(0.625 * self.state.worm.module.value, 2 * given))

    @property
    def seconds(self) -> Reach:
        """Lengths of the invented recording, from too few turns to twice enough [s]."""
        return Reach.times(_two_digits(LONG / self.pace), 0.25, 2.0)

    @property
    def rate(self) -> float:
        """Readings of the invented speed in a second [1/s]."""
        return _two_digits(max(FINE, LEAST * self.drive.gear_ratio) * self.pace)

    @property
    def idler(self):
        """The idler of the train, None without one."""
        return next((shaft for shaft in self.train.shafts if shaft.kind == "idler"), None)

    def swing(self, shaft: Turning):
        """Speed over one turn of a shaft less its mean, per mean, from the drive in time."""
        plain = Detail(shafts=(shaft,))
        _, turn = self._swing(self.drive, plain, self.voltage, 0.0, self.speed)
        return turn

    def turning(self, gear: str, total_runout: float) -> Turning:
        """One of the sheet's gears, off center by another runout than the sheet's."""
        found = next(one for one in self.detail.shafts if one.name == gear)
        return replace(found, eccentricity=float(runout.eccentricity(total_runout=total_runout)))


def _two_digits(value: float) -> float:
    """A number that is as good as another near it."""
    return float(f"{value:.2g}")


def invented(case: Case, *, axle, idler, rods, noise, drift, seconds) -> Recording:
    """A recording of the axle's speed, made up.

    Parameters
    ----------
    case : Case
        The engine.
    axle, idler : float
        Total runout of the axle gear and of the idler [m]
    rods : float
        Swing of the friction, twice a wheel turn, of the mean [-]
    noise : float
        Standard deviation of a reading, of the speed [-]
    drift : float
        Slow swing of the speed, of its mean [-]
    seconds : float
        Length [s]
    """
    time = np.arange(int(seconds * case.rate)) / case.rate
    wanders = _two_digits(WANDERS * case.pace)
    pace = case.pace * (1 + drift * np.sin(2 * np.pi * wanders * time + 0.5))
    turns = orders.turned(time, 2 * np.pi * pace)
    ratio = case.drive.gear_ratio
    on_axle = case.turning(case.detail.shafts[-1].name, axle)
    swings = [(1.0, on_axle)]
    if case.idler:
        swings.append((case.idler.order, case.turning(case.idler.name, idler)))
    swings.append((2.0, Turning("rods", turns=2 / ratio, teeth=1, friction_swing=rods)))
    total = np.ones_like(time)
    for order, shaft in swings:
        turn = case.swing(shaft) if shaft.eccentricity or shaft.friction_swing else None
        if turn is not None:
            total += np.interp(np.mod(turns * order, 1), np.linspace(0, 1, len(turn)), turn)
    readings = 1 + noise * np.random.default_rng(4).standard_normal(len(time))
    return Recording("speed", time, 2 * np.pi * pace * total * readings)


def heard(case: Case, record: Recording) -> Heard:
    """What a recording says, and its spectrum."""
    said, reason = None, ""
    order = level = np.zeros(0)
    try:
        turns, _, value = diagnose.in_turns(record, case.train)
        order, level = orders.spectrum(turns, value, case.train.shafts[-1].order + 1.0)
        said = diagnose.diagnose(record, case.data, case.planned)
    except CannotTell as error:
        reason = str(error)
    return Heard(record.kind, said, reason, order, level)


def listen(case: Case, *, source, axle, idler, rods, noise, drift, seconds) -> Heard:
    """Listen to a recording by its name, or to the invented one."""
    if source != INVENTED:
        return case.read(source)
    made = invented(
        case, axle=axle, idler=idler, rods=rods, noise=noise, drift=drift, seconds=seconds
    )
    return heard(case, made)
