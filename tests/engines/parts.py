"""What an invented engine is made of: its true constants, in SI.  Everything is invented."""

from dataclasses import dataclass
from math import cos, exp, pi, tan

G = 9.80665
DENSITY = {"brass": 8490.0, "steel": 7850.0, "tungsten alloy": 17500.0}
STEEL = 205e9  # Pa, modulus of elasticity


@dataclass(frozen=True)
class Motor:
    """A motor: ``friction`` [N*m] and ``damping`` [N*m*s/rad] are its own, brushes included.

    ``stiction`` is torque at rest over ``friction``, cogging included; ``magnet`` what the
    torque constant loses a kelvin of the winding; ``rated`` [V] where it runs free on the bench.
    """

    name: str
    kind: str
    resistance: float
    constant: float
    brush_drop: float
    friction: float
    damping: float
    stiction: float
    rotor_inertia: float
    inductance: float
    thermal: float
    magnet: float
    rated: float
    rotor_diameter: float
    rotor_length: float
    body_diameter: float
    body_length: float
    shaft: float
    insulated: bool

    def free(self, voltage: float) -> tuple[float, float]:
        """Speed and current of the motor alone."""
        k, r = self.constant, self.resistance
        speed = (k * (voltage - self.brush_drop) / r - self.friction) / (k * k / r + self.damping)
        return speed, (voltage - self.brush_drop - k * speed) / r


@dataclass(frozen=True)
class Worm:
    """The worm; ``collar`` [m] is friction times radius of what takes its thrust."""

    material: str
    starts: int
    module: float
    outside: float
    length: float
    bore: float
    end_play: float
    thrust: str
    collar: float

    @property
    def pitch(self) -> float:
        """Pitch diameter [m]."""
        return self.outside - 2 * self.module

    @property
    def tan_lead(self) -> float:
        """Tangent of the lead angle."""
        return self.starts * self.module / self.pitch


@dataclass(frozen=True)
class Gear:
    """One gear; ``throat`` [m] is how much larger than full depth its tops are turned."""

    name: str
    teeth: int
    material: str
    face: float
    runout: float
    throat: float = 0.0


@dataclass(frozen=True)
class Mesh:
    """What rubs in the mesh.

    The worm's friction is ``friction`` at speed and (1 + ``rise``) times that at rest, falling
    with the sliding speed over ``fade`` [m/s].  ``spur`` is the efficiency of one straight mesh,
    ``drag`` [N*m*s/rad] what the grease takes with speed; ``worm_backlash`` stands in no sheet.
    """

    friction: float
    rise: float
    fade: float
    spur: float
    drag: float
    backlash: float
    worm_backlash: float
    angle: float
    lubrication: str


@dataclass(frozen=True)
class Alignment:
    """A shaft bent by ``offset``: a cantilever over ``span`` would be ``1/softness`` as stiff.

    ``grip`` is bearing friction times the number of bearings that feel the whole side load.
    """

    offset: float
    span: float
    softness: float
    grip: float


@dataclass(frozen=True)
class Springs:
    """What the drivers ride on; sizes are zero where there are none."""

    kind: str
    wire: float = 0.0
    mean: float = 0.0
    coils: float = 0.0
    preload: float = 0.0
    free: float = 0.0
    travel: float = 0.0


@dataclass(frozen=True)
class Flywheel:
    """A plain bored disc; ``off_center`` [m] is its center of mass off the shaft's axis."""

    material: str
    outside: float
    width: float
    bore: float
    off_center: float
    bearing_span: float
    overhang: float

    @property
    def inertia(self) -> float:
        """Two cylinders, the one taken out of the other [kg*m^2]."""
        return DENSITY[self.material] * self.width * pi / 32 * (self.outside**4 - self.bore**4)


@dataclass(frozen=True)
class Adapter:
    """The sleeve from shaft to worm."""

    material: str
    temper: str
    length: float
    hold: str
    strength: float


@dataclass(frozen=True)
class State:
    """The drive in one state; ``box`` [N*m] is the friction of the gearbox's own bearings."""

    motor: Motor
    worm: Worm
    gears: tuple[Gear, ...]
    mesh: Mesh
    alignment: Alignment
    springs: Springs
    box: float
    box_stiction: float
    flywheel: Flywheel | None = None
    adapter: Adapter | None = None

    @property
    def ratio(self) -> float:
        """Turns of the motor for one of the axle."""
        return self.gears[-1].teeth / self.worm.starts

    def gear_outside(self, n: int) -> float:
        """Over the tops of a gear [m]."""
        gear = self.gears[n]
        return (gear.teeth + 2) * self.worm.module + gear.throat

    @property
    def side_torque(self) -> float:
        """Friction torque of the bent shaft [N*m]."""
        shaft, bent = self.motor.shaft, self.alignment
        force = 3 * STEEL * pi * shaft**4 / 64 * bent.offset / bent.span**3 * bent.softness
        return bent.grip * force * shaft / 2

    @property
    def inertia(self) -> float:
        """What turns with the motor [kg*m^2]."""
        return self.motor.rotor_inertia + (self.flywheel.inertia if self.flywheel else 0.0)

    def mesh_friction(self, speed: float) -> float:
        """Friction of the worm's thread at a speed of the motor [rad/s]."""
        mesh, worm = self.mesh, self.worm
        sliding = speed * worm.pitch / 2 * (1 + worm.tan_lead**2) ** 0.5
        # A trial step may look past the standstill; not farther than sense goes.
        return mesh.friction * (1 + mesh.rise * exp(min(-sliding / mesh.fade, 1.0)))

    def gain(self, speed: float, driving: bool) -> float:
        """Motor torque over rim torque over the ratio: 1/efficiency driving, below 0 where it locks.

        A power screw with a collar: the axial force of the wheel's teeth on an incline.
        """
        rub = self.mesh_friction(speed) / cos(self.mesh.angle)
        lead, collar = self.worm.tan_lead, self.worm.collar / (self.worm.pitch / 2)
        spurs = self.mesh.spur ** (len(self.gears) - 1)
        if driving:
            return ((lead + rub) / (1 - rub * lead) + collar) / lead / spurs
        return ((lead - rub) / (1 + rub * lead) - collar) / lead * spurs

    def lost_motion(self, wheel: float) -> float:
        """Travel of the rim from flank to flank [m], for a driver's diameter."""
        module, last = self.worm.module, self.gears[-1].teeth
        at_pitch = self.mesh.backlash + self.mesh.worm_backlash + self.worm.end_play
        return at_pitch * wheel / (module * last)

    @property
    def base_radius(self) -> float:
        """Base circle of the axle gear [m]."""
        return self.worm.module * self.gears[-1].teeth / 2 * cos(self.mesh.angle)

    @property
    def binding_runout(self) -> float:
        """Total runout at which the last pair binds [m]."""
        return self.mesh.backlash / tan(self.mesh.angle)


@dataclass(frozen=True)
class Room:
    """A stretch of the body, round or box; from and to behind the first driver axle."""

    name: str
    start: float
    end: float
    shape: str
    height: float = 0.0
    diameter: float = 0.0
    bottom: float = 0.0
    top: float = 0.0
    width: float = 0.0


@dataclass(frozen=True)
class GearSet:
    """A worm with its gears in the drawer: ``parts`` and ``mesh`` of the state that it makes."""

    name: str
    worm: Worm
    gears: tuple[Gear, ...]
    mesh: Mesh


@dataclass(frozen=True)
class Bar:
    """A bar for flywheels."""

    name: str
    material: str
    diameter: float
    length: float


@dataclass(frozen=True)
class Drawer:
    """What lies in stock."""

    motors: tuple[Motor, ...] = ()
    gear_sets: tuple[GearSet, ...] = ()
    bars: tuple[Bar, ...] = ()


@dataclass(frozen=True)
class Engine:
    """One engine: what stays, as it is, after the work, and what lies in the drawer.

    ``grip`` is friction of driver on rail, ``rolling`` the train's own resistance over its
    weight with the drive out; ``cut`` names what the plan changes.
    """

    seed: int
    scale: float
    tank: bool
    wheel: float
    mass: float
    driver_mass: float
    trailing: float
    rolling: float
    grip: float
    voltage: float
    top_speed: float
    axles: tuple[float, ...]
    axle_diameter: float
    center_of_gravity: float
    length: float
    throw: float
    pin_clearance: float
    quartering: float
    gauge: float
    flange: float
    frame_live: bool
    shaft_height: float
    rooms: tuple[Room, ...]
    car: float
    grade: float
    unevenness: float
    before: State
    after: State
    cut: tuple[str, ...]
    drawer: Drawer
    units: str
    rejected: int = 0

    @property
    def train(self) -> float:
        """Engine and what always runs with it [kg]."""
        return self.mass + self.trailing

    @property
    def rolling_force(self) -> float:
        """Pull that keeps the train rolling [N]."""
        return self.rolling * self.train * G

    @property
    def rim_limit(self) -> float:
        """Most force between drivers and rail [N]."""
        return self.grip * self.driver_mass * G

    @property
    def pull_at_slip(self) -> float:
        """What a spring scale behind the train reads when the drivers slip [N].

        The rail gives ``rim_limit``; the train's own rolling is overcome first.
        """
        return self.rim_limit - self.rolling_force

    @property
    def adhesion(self) -> float:
        """As the sheet defines it: pull at slip over weight on drivers."""
        return self.pull_at_slip / (self.driver_mass * G)
