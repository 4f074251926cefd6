"""A trip on one throttle: both drives start, run steadily, and lose their power.

The trip is run in time with plain shafts; how the speed hops within one turn of the wheels is
run apart, at the speed that the trip reaches, with the axle gear off center.
"""

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from math import hypot

import numpy as np

from mechkit import runout, scale, traction
from mechkit.drive.constants.knowledge import known_of, nominal
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Flywheel, Material
from mechkit.drive.motion.detail import Detail
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Circuit, Section, Supply, Track, cut, ramp, steady
from mechkit.drive.motion.traces import Course, Motion
from mechkit.drive.questions import in_time
from mechkit.drive.questions.flywheel import RIM, free_of
from mechkit.drive.questions.reach import Reach, round_up, throttle
from mechkit.drive.sheet.schema import BenchSheet

#: The throttle opens, stays, and the power goes; then there is time to come to a stand, at
#: least so much of it, of which the picture shows the first at least [s].
OPENS, GOES, STANDS, SEEN = in_time.OPENS, in_time.OPENS + 3.0, 8.0, 4.0
#: What the rails are then, and the circuit that it leaves; a dead rail only feeds nothing.
LOSSES: dict[str, Circuit] = {
    "open": "open",
    "shorted": "shorted",
    "braked": "braked",
    "dead": "fed",
}
#: Across the rails of a throttle that brakes [ohm]; invented.
BRAKE = 20.0
#: Turned at least, before a turn is watched, and the slowest turn that is waited for [s].
SETTLES, SLOWEST = 0.25, 30.0
#: Error of a step [-]; no line on the screen shows less.
FINE = 1e-4
#: Times at which a run is drawn, beside the solver's own.
_DRAWN = 120
_TURN = np.linspace(0.0, 1.0, 73)


@dataclass(frozen=True)
class Way:
    """One drive's trip; speeds of the full-size engine [m/s], all else in SI.

    ``coast`` [m] from the loss of power to the stand, None where it runs on.  ``slowest`` is
    its least speed after the loss.  ``hop`` [-] is the swing of the speed once a wheel turn,
    mean to peak, and ``turn`` [-] the speed over one turn less its mean, per mean; None where
    the wheels do not turn once.
    """

    time: np.ndarray
    speed: np.ndarray
    distance: np.ndarray
    starting_voltage: float | None
    creep: float | None
    running: float
    current: float
    coast: float | None
    slowest: float
    slipped: float
    hop: float | None
    turn: np.ndarray | None

    def at(self, moment):
        """Distance from where the power goes [m], at a time [s]."""
        return float(np.interp(moment, self.time, self.distance))


@dataclass(frozen=True)
class Trip:
    """Both drives on one throttle."""

    before: Way
    after: Way
    voltage: float
    loss: str
    dead: float
    moment: float


@dataclass(frozen=True)
class Load:
    """What both have to pull, and where: cars [kg] and a grade [-]."""

    cars: float
    grade: float


class Case:
    """The two drives of a bench sheet, and the numbers that a trip starts from."""

    def __init__(self, data: BenchSheet):
        known = known_of(data)
        self.sheet = data
        self.engine_length = data.locomotive.length.value
        self.scale = data.locomotive.scale
        self.rolling = data.track.rolling_resistance.value
        self.wheel = data.planned.flywheel
        drives = {"before": known.before, "after": known.planned}
        states = {"before": data.as_is, "after": data.planned}
        self.drives = {name: nominal(drive) for name, drive in drives.items()}
        self.details = {
            name: in_time.detail_of(state, self.drives[name]) for name, state in states.items()
        }
        self.friction_spread = {
            name: float(np.ptp(np.percentile(drive.running_friction[1:], [2.5, 97.5])))
            / (2 * self.drives[name].running_friction)
            for name, drive in drives.items()
        }
        self.runout = {
            name: 2 * self.details[name].shafts[-1].eccentricity for name in self.details
        }
        # One slider moves at a time: what it does not touch is not run again.
        self._rise = lru_cache(16)(_rise)
        self._fall = lru_cache(16)(_fall)
        self._turn = lru_cache(16)(one_turn)

    # -- what is worth trying on this engine --------------------------------------------

    @property
    def voltage(self) -> Reach:
        """The throttle [V]."""
        return throttle(self.sheet.supply.voltage.value, low=0.04)

    @property
    def dead(self) -> Reach:
        """Dead rails, in lengths of the engine and its tender [m]."""
        return Reach.times(0.4 * self.engine_length, 0.08, 6.6)

    @property
    def outers(self) -> Reach:
        """Diameters of the planned flywheel [m]."""
        assert self.wheel
        free, least = free_of(self.sheet), RIM * self.wheel.bore.value
        return Reach(self.outer, 0.4 * free, 1.06 * free, least=least)

    @property
    def runouts(self) -> Reach:
        """Total runouts of the planned axle gear [m]."""
        swings = self.runout["after"]
        return Reach(swings, 0.0, max(0.375 * self.sheet.planned.worm.module.value, 2 * swings))

    @property
    def cars(self) -> Reach:
        """Cars behind the tender, to so many times the engine's own weight [kg]."""
        return Reach(0.0, 0.0, 2.5 * self.sheet.locomotive.weight.value)

    @property
    def grade(self) -> Reach:
        """Grades, to twice the steepest on the line [-]."""
        return Reach(0.0, 0.0, max(0.04, 2 * self.sheet.track.grade.value))

    @cached_property
    def shown(self) -> float:
        """Time that the fields show: until either stands that runs on full throttle [s]."""
        drives = [*self.drives.values()]
        if self.wheel:
            drives.append(self.planned(self.outers.high))
        volts = self.voltage.start
        times = [
            float(drive.coast_time(drive.rail_speed(drive.motor_speed_at(volts))))
            for drive in drives
        ]
        return round_up(GOES + max(SEEN, 1.1 * max(times)), 1.0)

    @property
    def outer(self):
        """Outside diameter of the planned flywheel, 0 without one [m]."""
        return self.wheel.outside_diameter.value if self.wheel else 0.0

    def planned(self, outer: float) -> Drive:
        """The planned drive with a flywheel turned to another diameter."""
        drive = self.drives["after"]
        if not self.wheel:
            return drive
        inertia = 0.0
        if outer > self.wheel.bore.value:
            inertia = Flywheel(
                outer=outer,
                width=self.wheel.width.value,
                bore=self.wheel.bore.value,
                density=Material(self.wheel.material).density,
            ).inertia
        return replace(drive, flywheel_inertia=inertia)


def trip(case: Case, *, voltage, loss, dead, outer, total_runout, cars, grade, moment) -> Trip:
    """Run both drives.

    Parameters
    ----------
    case : Case
        The engine.
    voltage : float
        Voltage to which the throttle opens [V]
    loss : str
        What the rails are when the power goes, one of `LOSSES`.
    dead : float
        Length of the dead rail [m]
    outer : float
        Outside diameter of the planned flywheel [m]
    total_runout : float
        Total runout of the planned axle gear [m]
    cars : float
        Mass behind the tender [kg]
    grade : float
        Rise of the track [-]
    moment : float
        When to look [s]
    """
    load = Load(cars, grade)
    dead = dead if loss == "dead" else 0.0
    before = _way(
        case, "before", case.drives["before"], load, case.runout["before"], voltage, loss, dead
    )
    after = _way(case, "after", case.planned(outer), load, total_runout, voltage, loss, dead)
    return Trip(before, after, voltage, loss, dead, moment)


def _way(case, name, drive, load, swings, voltage, loss, dead) -> Way:
    """One drive's trip."""
    detail = case.details[name]
    drive, plain = _loaded(case, in_time.smooth(drive, detail), detail, load)
    rise = case._rise(drive, plain, voltage, load.grade)
    there = rise.course([GOES])
    speed = max(float(there.speed[0]), 0.0)  # what rolls back on its grade does not run
    fall = case._fall(drive, plain, voltage, load.grade, speed, loss, dead, case.shown - GOES)
    hop, turn = None, None
    if speed > 0:
        base = detail.shafts[-1]
        off = float(runout.eccentricity(total_runout=swings))
        gear = replace(base, eccentricity=off)
        hop, turn = case._turn(drive, replace(plain, shafts=(gear,)), voltage, load.grade, speed)
    first = _drawn(rise, GOES, 0.0, 0.0)
    second = _drawn(fall, case.shown - GOES, GOES, float(there.distance[0]))
    origin = float(there.distance[0])
    stand = fall.last("stands")
    start = rise.starting_voltage
    return Way(
        time=np.concatenate([first.time, second.time]),
        speed=_full(case, np.concatenate([first.speed, second.speed])),
        distance=np.concatenate([first.distance, second.distance]) - origin,
        starting_voltage=start,
        creep=None if start is None else _creep(case, drive, load, start),
        running=float(_full(case, speed)),
        current=float(there.current[0]),
        coast=stand.distance if stand and stand.distance > 0 else None if speed > 0 else 0.0,
        slowest=float(_full(case, second.speed.min())),
        slipped=rise.slipped + fall.slipped,
        hop=hop,
        turn=turn,
    )


def _full(case, speed):
    """Speed of the full-size engine [m/s]."""
    return scale.prototype_speed(model_speed=np.maximum(speed, 0.0), ratio=case.scale)


def _loaded(case, drive: Drive, detail: Detail, load: Load) -> tuple[Drive, Detail]:
    """The drive with cars behind it; their rolling goes through the mesh as the engine's does."""
    train = drive.train_mass + np.array([0.0, load.cars])
    without, behind = traction.rolling_resistance(mass=train, rolling_coefficient=case.rolling)
    pull = float(behind - without)
    torque = float(drive.load_torque(pull))
    loaded = replace(
        drive,
        train_mass=drive.train_mass + load.cars,
        running_friction=drive.running_friction + torque,
        starting_friction=drive.starting_friction + torque,
        rolling_force=drive.rolling_force + pull,
        hauled=pull,
    )
    return loaded, replace(detail, shafts=())


def _creep(case, drive: Drive, load: Load, voltage: float) -> float:
    """Steady speed on the voltage at which it has just broken away."""
    pull = float(traction.grade_resistance(mass=drive.train_mass, grade=load.grade))
    motor_speed = drive.motor_speed_at(voltage, pull)
    return float(_full(case, drive.rail_speed(motor_speed)))


def _rise(drive, detail, voltage, grade) -> Motion:
    """From rest to the speed at which the power goes."""
    throttle = Supply((ramp(0.0, voltage, OPENS), steady(voltage, GOES - OPENS)))
    return simulate(drive, throttle, Track((Section(grade=grade),)), detail, tolerance=FINE)


def _fall(drive, detail, voltage, grade, speed, loss, dead, shortest) -> Motion:
    """From the loss of the power on."""
    circuit = LOSSES[loss]
    wait = in_time.patience(drive, speed, max(STANDS, shortest), circuit == "shorted")
    phase = cut(wait, circuit, BRAKE if circuit == "braked" else 0.0)
    sections: tuple[Section, ...] = (Section(grade=grade),)
    if circuit == "fed":
        phase = steady(voltage, wait)
        sections = (Section(dead, grade, dead=True), *sections)
    return simulate(
        drive, Supply((phase,)), Track(sections), detail, model_speed=speed, tolerance=FINE
    )


def one_turn(drive, detail, voltage, grade, speed):
    """What the detail's one shaft does to the speed in its turn, once that has settled.

    Returns its swing [-], mean to peak, and the speed over the turn less its mean, per mean;
    twice None where it does not turn once.
    """
    (shaft,) = detail.shafts
    around = 2 * np.pi / (shaft.turns * drive.motor_speed(speed))
    if around > SLOWEST:
        return None, None
    first = max(around / 2, SETTLES)
    time = first + 1.1 * around
    track = Track((Section(grade=grade),))
    run = simulate(
        drive, Supply((steady(voltage, time),)), track, detail, model_speed=speed, tolerance=FINE
    )
    times = np.linspace(first, time, 160)
    course: Course = run.course(times)
    turns = (course.motor_angle - course.motor_angle[0]) * shaft.turns / (2 * np.pi)
    if turns[-1] < 1 or np.any(np.diff(turns) <= 0):
        return None, None
    over = np.interp(_TURN, turns, course.speed)
    mean = over[:-1].mean()
    if mean <= 0:  # the motor turns, the wheels slip, the train stands
        return None, None
    swing = over / mean - 1
    wave = np.exp(-2j * np.pi * _TURN[:-1])
    hop = 2 * hypot(*(f(np.mean(swing[:-1] * wave)) for f in (np.real, np.imag)))
    return float(hop), swing


def _drawn(run: Motion, seen: float, start: float, origin: float) -> Course:
    """A run at times close enough to draw it as long as it is seen, from a time and a place on."""
    node = run.table[0]
    end = float(node[-1])
    times = np.union1d(np.linspace(0.0, min(seen, end), _DRAWN), node)
    course = run.course(times)
    return replace(course, time=course.time + start, distance=course.distance + origin)


__all__ = ["BRAKE", "GOES", "LOSSES", "OPENS", "Case", "Trip", "Way", "one_turn", "trip"]
