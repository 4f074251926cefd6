"""A flywheel in its boiler: how far it carries the engine, and what it asks of the shaft.

One composition of the handbook for one flywheel: distances from a given speed with the rails
open and shorted, the room around it, its shaking and its first whirl.
"""

from dataclasses import dataclass, replace

import numpy as np

from mechkit import flywheel, scale
from mechkit.drive.model import coasting
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Flywheel, Material
from mechkit.names import STANDARD_GRAVITY

#: Balance grade of a small turned rotor [m/s]; ISO 21940-11 lists G6.3 for flywheels.
BALANCE_GRADE = 6.3e-3
#: Stay below this share of the first whirl; common practice.
WHIRL_SHARE = 0.7
#: Least room all round a wheel that turns in a boiler [m]; common practice, no source.
LEAST_ROOM = 0.5e-3
#: A crawl [m/s of the full-size engine]: 5 mph.
CRAWL = 2.2352
#: Steps in which wheels that skid fall from their first speed to standstill.
_FALLING = np.linspace(1, 0, 40)


@dataclass(frozen=True)
class FlywheelCase:
    """An engine that is to have a flywheel, and the room that it leaves for it; all in SI.

    ``before`` is the drive as it is, ``after`` the planned one; its flywheel is what the
    panel changes.  ``gap`` lies between the motor's bearing and the flywheel's near face.
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
    skidding: float
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
        return self.skidding > 0.5


def coast(case, *, outer, width, bore, material, off_center, friction, start_speed):
    """Judge one flywheel.

    Parameters
    ----------
    case : FlywheelCase
        The engine and its room.
    outer, width, bore : float
        The flywheel [m]
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
    share = 1 + case.friction_spread * np.array([1.0, 0.0, -1.0])
    low, rails_open, high = runs(replace(drive, running_friction=friction * share), start_speed)
    fastest = float(drive.motor_speed_at(case.voltage))
    shake = flywheel.unbalance_force(mass=wheel.mass, eccentricity=off_center, speed=fastest)
    whirl = flywheel.critical_speed(
        mass=wheel.mass,
        overhang=case.gap + width / 2,
        span=case.bearing_span,
        shaft_diameter=bore,
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
        skidding=float(coasting.skidding(drive.bodies(), _rail(drive, start_speed))),
        crawl=float(drive.coast(_rail(drive, min(CRAWL, start_speed)))),
        engine_lengths=rails_open.stop / case.engine_length,
        room=case.boiler_bore / 2 - abs(case.shaft_above_boiler) - outer / 2,
        shake=float(shake / (wheel.mass * STANDARD_GRAVITY)),
        allowed_off_center=flywheel.permissible_eccentricity(
            balance_grade=BALANCE_GRADE, speed=fastest
        ),
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

    One run for each running friction of the drive.
    """
    ways, speeds = coasting.curve(drive.bodies(shorted), _rail(drive, start_speed))
    full = scale.prototype_speed(model_speed=speeds, ratio=drive.scale)
    return [Run(*run) for run in zip(np.atleast_2d(ways), np.atleast_2d(full), strict=True)]


def _skid(drive, start_speed):
    """The shortest stop that adhesion allows: drivers locked."""
    speed = start_speed * _FALLING
    left = drive.skid(_rail(drive, speed))
    return Run(distance=left[0] - left, speed=speed)
