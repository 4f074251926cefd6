"""A flywheel in its boiler: how far it carries the engine, and what it asks of the shaft.

The planned drive with another wheel on its shaft: distances from a given speed with the rails
open and shorted, the room around it, its shaking and its first whirl.
"""

from dataclasses import dataclass, replace
from functools import cached_property
from math import floor, log10

import numpy as np

from mechkit import flywheel, scale
from mechkit.drive.constants.knowledge import known_of, nominal
from mechkit.drive.constants.plan import SPAN
from mechkit.drive.decisions.plan import BALANCE_GRADE
from mechkit.drive.model import coasting, read
from mechkit.drive.model.body import body_of, radial_clearance
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.layout import candidates
from mechkit.drive.model.parts import Amount, Flywheel, Material
from mechkit.drive.model.spread import DRAWS
from mechkit.drive.questions.reach import Reach
from mechkit.drive.sheet.schema import BenchSheet, FlywheelTable, Room
from mechkit.names import STANDARD_GRAVITY
from mechkit.units import Reading

#: Least room all round a wheel that turns in a boiler [m]; common practice, no source.
LEAST_ROOM = 0.5e-3
#: However free it runs, motor and gearbox keep this share of what the train takes [-].
LEAST_FRICTION = 0.02
#: Sheet metal of the boiler, where the sheet does not say; common practice.
BOILER_WALL = 0.8e-3  # m
#: Half the indicator's swing on the rim of a wheel that is still to be turned; common practice.
TRUED = 10e-6  # m
#: A slow pass, of full throttle; common practice.
SLOW = 0.25
#: A ring with a smaller share of its bore outside is no flywheel [-].
RIM = 1.1


def first(value) -> float:
    """The number as read, without its draws."""
    return float(np.ravel(value)[0])


@dataclass(frozen=True, eq=False)
class FlywheelCase:
    """An engine that is to have a flywheel, and the room that it leaves for it; all in SI.

    ``before`` is the drive as it is, ``after`` the planned one, both with their draws; its
    flywheel is what the panel changes.  ``gap`` lies between the motor's bearing and the
    flywheel's near face, ``bush`` is what the bore is larger than the shaft in it, and
    ``turned`` [-] how well a wheel's inertia is known, one a draw.
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
    start_speed: float
    turned: Amount = 1.0
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
        return first(drive.motor_speed_at(self.voltage)) or first(
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
    drive = _with(case, wheel, friction)
    rail = scale.model_speed(prototype_speed=start_speed, ratio=drive.scale)
    stops = np.ravel(drive.coast(rail))
    low, high = np.percentile(stops[-DRAWS:], [2.5, 97.5])
    fastest = case.fastest(drive)
    shake = flywheel.unbalance_force(mass=wheel.mass, eccentricity=off_center, speed=fastest)
    whirl = wheel.whirl(case.gap + width / 2, case.bearing_span, bore - case.bush)
    plain = nominal(drive)
    slow = plain.rail_speed(plain.motor_speed_at(SLOW * case.voltage))
    return Coast(
        outer=outer, width=width, bore=bore, material=material, off_center=off_center,
        mass=wheel.mass, felt_mass=first(drive.felt_mass), start_speed=start_speed,
        top_speed=first(drive.speed_at(case.voltage)),
        open=run(drive, start_speed), open_low=float(low), open_high=float(high),
        shorted=run(drive, start_speed, shorted=True),
        before=run(case.before, start_speed),
        skid=_skid(drive, start_speed),
        skidding=float(coasting.skidding(plain.bodies(), rail)),
        crawl=first(plain.coast(slow)),
        engine_lengths=first(stops) / case.engine_length,
        room=case.boiler_bore / 2 - abs(case.shaft_above_boiler) - outer / 2,
        shake=float(shake / (wheel.mass * STANDARD_GRAVITY)),
        allowed_off_center=case.allowed(drive),
        whirl=float(whirl), whirl_margin=float(whirl / fastest),
    )  # fmt: skip


def _with(case, wheel: Flywheel, friction) -> Drive:
    """The planned drive with a wheel on its shaft, and with so much running friction."""
    drive = case.after
    more = friction - first(drive.running_friction)
    least = (1 + LEAST_FRICTION) * drive.rolling_torque
    running = np.maximum(drive.running_friction + more, least)
    return replace(
        drive,
        flywheel_inertia=wheel.inertia * case.turned,
        running_friction=running,
        starting_friction=np.maximum(drive.starting_friction + more, running),
    )


def speed_at(case, *, friction, voltage):
    """Steady speed on a voltage, of the full-size engine [m/s]."""
    wheel = Flywheel(case.outer, case.width, case.bore, Material(case.material).density)
    return first(_with(case, wheel, friction).speed_at(voltage))


def run(drive: Drive, start_speed, *, shorted=False) -> Run:
    """The run from a speed of the full-size engine to the stand, power cut at distance 0."""
    drive = nominal(drive)
    rail = scale.model_speed(prototype_speed=start_speed, ratio=drive.scale)
    way, speed = coasting.curve(drive.bodies(shorted), rail)
    full = scale.prototype_speed(model_speed=np.maximum(speed, 0.0), ratio=drive.scale)
    return Run(distance=np.append(way, way[-1]), speed=np.append(full, 0.0))


def _skid(drive: Drive, start_speed) -> Run:
    """The shortest stop that adhesion allows: drivers locked."""
    speed = start_speed * np.linspace(1, 0, 40)
    drive = nominal(drive)
    left = drive.skid(scale.model_speed(prototype_speed=speed, ratio=drive.scale))
    return Run(distance=left[0] - left, speed=speed)


def case_of(data: BenchSheet) -> FlywheelCase:
    """What the flywheel panel starts from.

    The room is the first round one that the shaft runs through, else the first box, as wide
    as it is free around the shaft.
    """
    known = known_of(data)
    motor, engine = data.planned.motor, data.locomotive
    name, bore, above = _room(data.envelope.rooms, data.envelope.shaft_height.value)
    wheel = data.planned.flywheel or _first_wheel(data, bore - 2 * abs(above))
    turned = read.flywheel_of(data.planned)
    known_to = known.flywheel_inertia(data.planned) / turned.inertia if turned else 1.0
    return FlywheelCase(
        before=known.before,
        after=known.planned,
        material=wheel.material,
        outer=wheel.outside_diameter.value,
        width=wheel.width.value,
        bore=turned.bore if turned else wheel.bore.value,
        off_center=wheel.off_center.value,
        gap=read.wheel_gap(data.planned),
        bearing_span=wheel.bearing_span.value,
        motor_diameter=motor.body_diameter.value,
        motor_length=motor.body_length.value,
        boiler_bore=bore,
        boiler_wall=BOILER_WALL,
        shaft_above_boiler=above,
        engine_length=engine.length.value,
        voltage=data.supply.voltage.value,
        start_speed=engine.top_speed.value,
        turned=known_to,
        bush=(turned.bore if turned else wheel.bore.value) - motor.shaft_diameter.value,
        room_name=name,
    )


def free_of(data: BenchSheet) -> float:
    """Diameter on the drive shaft that would just touch the room [m]."""
    _, bore, above = _room(data.envelope.rooms, data.envelope.shaft_height.value)
    return bore - 2 * abs(above)


def _room(rooms: list[Room], height: float) -> tuple[str, float, float]:
    """The room's name, its bore, and how far the shaft lies above its center [m]."""
    through = [room for room in rooms if radial_clearance(room, height, 0.0) > 0]
    room = next((room for room in through if room.shape == "round"), (through or rooms)[0])
    if room.shape == "round":
        assert room.diameter and room.height
        return room.name, room.diameter.value, height - room.height.value
    return room.name, 2 * radial_clearance(room, height, 0.0), 0.0


def _first_wheel(data: BenchSheet, free: float) -> FlywheelTable:
    """A wheel to begin with, where none is planned: the heaviest rim that the body takes.

    ``free`` is the diameter that would touch [m].  Where nothing fits, a small one.
    """
    planned, room = data.planned, data.envelope
    near, shaft = read.wheel_gap(planned), planned.motor.shaft_diameter.value
    gap = max(room.gap.value, LEAST_ROOM)
    body = body_of(data)
    outers = max(free - 2 * gap, 2 * shaft) * np.linspace(1.0, 0.5, 11)
    sizes = [
        (_rounded(o), _rounded(o * share)) for o in outers for share in (0.75, 0.5, 0.35, 0.25)
    ]

    def wheel(outer, width):
        return FlywheelTable(
            material="brass",
            outside_diameter=Reading(outer),
            width=Reading(width),
            bore=Reading(shaft),
            off_center=Reading(TRUED),
            bearing_span=Reading(SPAN * planned.motor.body_length.value),
            overhang=Reading(near + width / 2),
        )

    for outer, width in sorted(sizes, key=lambda size: -(size[0] ** 4) * size[1]):
        state = planned.model_copy(update={"flywheel": wheel(outer, width)})
        best = candidates(state, body)[0]
        item = next(item for item in best.items if item.name == "flywheel")
        if item.clearance >= gap - 1e-9 and best.end_room >= 0:
            return wheel(outer, width)
    return wheel(*min(sizes))


def _rounded(size: float) -> float:
    """Down to a size that he would turn it to: a twentieth of its first digit.

    >>> _rounded(0.01487), _rounded(0.00513)
    (0.0145, 0.0051)
    """
    step = 10 ** floor(log10(size)) / 20
    return round(floor(size / step + 1e-9) * step, 9)
