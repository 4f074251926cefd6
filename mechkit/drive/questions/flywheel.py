"""A flywheel in its boiler: how far it carries the engine, and what it asks of the shaft.

One composition of the handbook for one flywheel: distances from a given speed with the rails
open and shorted, the room around it, its shaking and its first whirl.
"""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from mechkit import flywheel, scale
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Flywheel, Material
from mechkit.drive.questions.reach import Reach
from mechkit.names import STANDARD_GRAVITY

#: Balance grade of a small turned rotor [m/s]; ISO 21940-11 lists G6.3 for flywheels.
BALANCE_GRADE = 6.3e-3
#: Stay below this share of the first whirl; common practice.
WHIRL_SHARE = 0.7
#: Least room all round a wheel that turns in a boiler [m]; common practice, no source.
LEAST_ROOM = 0.5e-3
#: However wide its band, friction never vanishes [-].
LEAST_FRICTION = 0.1
#: A ring with a smaller share of its bore outside is no flywheel [-].
RIM = 1.1
#: A crawl [m/s of the full-size engine]: 5 mph.
CRAWL = 2.2352
#: Steps in which a run falls from its first speed to standstill.
_FALLING = np.linspace(1, 0, 40)


@dataclass(frozen=True)
class FlywheelCase:
    """An engine that is to have a flywheel, and the room that it leaves for it; all in SI.

    ``before`` is the drive as it is, ``after`` the planned one; its
    flywheel is what the panel changes.  ``gap`` lies between the motor's bearing and the
    flywheel's near face, ``bush`` is what the bore is larger than the shaft in it.
    """

    before: Drive
    after: Drive
    material: str
    outer: float
    width: float
    bore: float
    off_center: float
    gap: float
    bearing_span: float
    motor_diameter: float
    motor_length: float
    boiler_bore: float
    boiler_wall: float
    shaft_above_boiler: float
    engine_length: float
    voltage: float
    friction_spread: float
    start_speed: float
    bush: float = 0.0
    room_name: str = "boiler"

    @property
    def free(self) -> float:
        """Diameter of the wheel that would just touch the boiler [m]."""
        return self.boiler_bore - 2 * abs(self.shaft_above_boiler)

    @cached_property
    def bores(self) -> Reach:
        """Bores worth trying, for shafts from three quarters of the motor's up."""
        shaft = self.bore - self.bush
        low, high = (share * shaft + self.bush for share in (0.75, 1.6))
        return Reach(self.bore, low, high, most=(self.bore + self.outer) / 2 / RIM)

    @cached_property
    def outers(self) -> Reach:
        """Outside diameters worth trying: from a rim on every bore to where the boiler is struck."""
        return Reach(self.outer, 0.4 * self.free, 1.06 * self.free, least=RIM * self.bores.high)

    @cached_property
    def widths(self) -> Reach:
        """Widths worth trying."""
        return Reach(self.width, 0.2 * self.free, 1.2 * self.free)

    @cached_property
    def off_centers(self) -> Reach:
        """Offsets worth trying: to several times what full throttle allows."""
        return Reach(self.off_center, 0.0, max(6 * self.allowed(self.after), 2 * self.off_center))

    def fastest(self, drive: Drive) -> float:
        """Speed of the motor on full throttle [rad/s]; of the motor alone, where it does not run."""
        return float(drive.motor_speed_at(self.voltage)) or float(
            replace(drive, running_friction=0.0, damping=0.0).motor_speed_at(self.voltage)
        )

    def allowed(self, drive: Drive) -> float:
        """How far off center full throttle allows [m]."""
        return float(
            flywheel.permissible_eccentricity(
                balance_grade=BALANCE_GRADE, speed=self.fastest(drive)
            )
        )


@dataclass(frozen=True)
class Run:
    """One way to stop: the speed over the distance, and where it ends [m/s of the engine, m]."""

    distance: np.ndarray
    speed: np.ndarray

    @property
    def stop(self):
        """Where it stands [m]."""
        return float(self.distance[-1])


@dataclass(frozen=True)
class Coast:
    """What one flywheel does and what it asks; all in SI."""

    outer: float
    width: float
    bore: float
    material: str
    off_center: float
    mass: float
    felt_mass: float
    start_speed: float
    top_speed: float
    open: Run
    open_low: float
    open_high: float
    shorted: Run
    before: Run
    skid: Run
    crawl: float
    engine_lengths: float
    room: float
    shake: float
    allowed_off_center: float
    whirl: float
    whirl_margin: float

    @property
    def fits(self):
        """True where it turns free in the boiler."""
        return self.room >= LEAST_ROOM

    @property
    def skids(self):
        """True where adhesion and not the drive decides the stop with the rails open."""
        return self.open.stop <= self.skid.stop * (1 + 1e-9)


def coast(case, *, outer, width, bore, material, off_center, friction, start_speed):
    """Judge one flywheel.

    Parameters
    ----------
    case : FlywheelCase
        The engine and its room.
    outer, width, bore : float
        The flywheel [m]; the shaft in its bore is a bush thinner
    material : str
        Of the table of materials.
    off_center : float
        How far its center of mass lies off the shaft's axis [m]
    friction : float
        Running friction of the whole drive at the motor [N*m]
    start_speed : float
        Speed at which the power is cut, of the full-size engine [m/s]
    """
    wheel = Flywheel(outer=outer, width=width, bore=bore, density=Material(material).density)
    drive = replace(case.after, flywheel_inertia=wheel.inertia, running_friction=friction)
    least = max(1 - case.friction_spread, LEAST_FRICTION)
    share = np.array([[1 + case.friction_spread], [1.0], [least]])
    low, rails_open, high = runs(replace(drive, running_friction=friction * share), start_speed)
    fastest = case.fastest(drive)
    shake = flywheel.unbalance_force(mass=wheel.mass, eccentricity=off_center, speed=fastest)
    whirl = flywheel.critical_speed(
        mass=wheel.mass,
        overhang=case.gap + width / 2,
        span=case.bearing_span,
        shaft_diameter=bore - case.bush,
        elastic_modulus=Material("steel").elastic_modulus,
    )
    return Coast(
        outer=outer, width=width, bore=bore, material=material, off_center=off_center,
        mass=wheel.mass, felt_mass=drive.felt_mass, start_speed=start_speed,
        top_speed=float(drive.speed_at(case.voltage)),
        open=rails_open, open_low=low.stop, open_high=high.stop,
        shorted=runs(drive, start_speed, shorted=True)[0],
        before=runs(case.before, start_speed)[0],
        skid=_skid(drive, start_speed),
        crawl=float(drive.coast(_rail(drive, min(CRAWL, start_speed)))),
        engine_lengths=rails_open.stop / case.engine_length,
        room=case.boiler_bore / 2 - abs(case.shaft_above_boiler) - outer / 2,
        shake=float(shake / (wheel.mass * STANDARD_GRAVITY)),
        allowed_off_center=case.allowed(drive),
        whirl=float(whirl), whirl_margin=float(whirl / fastest),
    )  # fmt: skip


def speed_at(case, *, friction, voltage):
    """Steady speed on a voltage, of the full-size engine [m/s]."""
    return float(replace(case.after, running_friction=friction).speed_at(voltage))


def _rail(drive, speed):
    """Speed of the model for one of the full-size engine [m/s]."""
    return scale.model_speed(prototype_speed=speed, ratio=drive.scale)


def runs(drive, start_speed, *, shorted=False):
    """The runs from a speed of the full-size engine to standstill, power cut at distance 0.

    One run for each running friction of the drive.  The speed falls along one curve for a
    drive, wherever on it the power is cut; so what is left to go at each speed follows from
    `Drive.coast`, which also keeps to adhesion.
    """
    speed = start_speed * _FALLING
    left = np.atleast_2d(drive.coast(_rail(drive, speed), shorted=shorted))
    return [Run(distance=row[0] - row, speed=speed) for row in left]


def _skid(drive, start_speed):
    """The shortest stop that adhesion allows: drivers locked."""
    speed = start_speed * _FALLING
    left = drive.skid(_rail(drive, speed))
    return Run(distance=left[0] - left, speed=speed)
