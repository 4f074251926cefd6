"""The bench sheet's keys: what may stand in the file, in which unit, and what it means.

One class a table of the file.  The description of each key is the comment that the blank
template carries, so this file, the template and the error messages cannot drift apart.
"""

from typing import Literal

from pydantic import Field, PrivateAttr

from mechkit import gears
from mechkit.drive.sheet.gearbox import (
    BearingsTable,
    BedTable,
    BowedShimTable,
    GroundPinTable,
    HubTable,
    SeatTable,
)
from mechkit.drive.sheet.quantities import (
    AngleOrNone,
    Cooling,
    Current,
    Finest,
    Force,
    Fraction,
    Frequency,
    Friction,
    Inductance,
    Inertia,
    Length,
    LengthOrNone,
    Mass,
    MassOrNone,
    Meter,
    Module,
    Number,
    Position,
    Pressure,
    Resistance,
    Rotation,
    Scale,
    Size,
    Speed,
    Stress,
    Stretch,
    StretchOrNone,
    Time,
    Voltage,
    Wire,
    pitch_of,
)
from mechkit.drive.sheet.table import Table, key

Material = Literal["brass", "steel", "hardened steel", "acetal", "bronze", "nickel silver"]
HeavyMaterial = Literal["brass", "steel", "tungsten alloy"]


class LocomotiveTable(Table):
    """The engine as it stands on the bench."""

    scale: Scale = key("scale ratio: 64 for 1:64", gt=1, le=300)
    wheel_arrangement: str = key("as 4-6-0", default="", max_length=20)
    top_speed: Speed = key("speed of the full-size engine that the model should reach")
    weight: Mass = key("engine alone, ready to run")
    weight_on_drivers: Mass = key("scale under the drivers, truck off the scale")
    trailing_weight: MassOrNone = key(
        "tender and whatever always runs with it", default="0 g", validate_default=True
    )
    length: Length = key("engine and tender over the couplers")
    driver_diameter: Size = key("on the tread")
    axle_diameter: Size = key("driver axle where the gear sits")
    driver_axles: list[Position] = key("behind the first driver axle", min_length=2, max_length=8)
    center_of_gravity: Position = key("of what the drivers carry, behind the first driver axle")
    crankpin_clearance: LengthOrNone = key("rod hole less crankpin")
    crank_throw: Size = key("crankpin off the axle's center")
    quartering_error: AngleOrNone | None = key(
        "of the worst driver axle against the best: one pin plumb, the other off level",
        default=None,
    )
    back_to_back: list[Size] = key(
        "between the backs of a pair of drivers, each axle in turn", default=[], max_length=24
    )
    flange_width: Size | None = key("of a driver, where it meets the railhead", default=None)
    rods_apart: Size | None = key("between the insides of the side rods", default=None)
    rod_depth: Size | None = key("of a side rod over its eyes, up and down", default=None)
    frame_live: bool = key("true where one rail reaches the frame")
    feeding_wheels: list[int] = key(
        "that bring current from either rail, tender too: first the one rail, then the other",
        default=[],
        max_length=2,
    )


class SupplyTable(Table):
    """What the track brings."""

    voltage: Voltage = key("full throttle at the track")
    kind: Literal["direct", "pulsed", "digital"] = key("direct, pulsed or digital")
    frequency: Frequency | None = key(
        "of its pulses, or of the decoder's; from its sheet, or by the pitch of the motor's hum",
        default=None,
    )


class InstrumentsTable(Table):
    """The finest that each instrument can be trusted to."""

    caliper: Finest = key("for all lengths that nothing finer measured")
    micrometer: Finest | None = key("leave out if you have none", default=None)
    indicator: Finest | None = key("for runout; leave out if you have none", default=None)
    lathe: Finest = key("what your turning holds, diameter to diameter")
    ruler: Size = key("for coast distances")
    stopwatch: Time = key("your thumb, both ends")
    frame_rate: float | None = key(
        "of your phone's films, frames a second; leave out if you count none",
        default=None,
        gt=0,
        le=1000,
    )
    meter: Meter = key("volts and amps, of the reading")


class TrackTable(Table):
    """The railway it has to run on."""

    rail_unevenness: LengthOrNone = key("straightedge and feeler, the worst of ten places")
    adhesion: Friction = key("pull at slip over weight on drivers")
    rolling_resistance: Friction = key("pull to keep it rolling, drive out, over weight")
    gauge: Size | None = key("inside to inside of the railheads, at a turnout", default=None)
    standard: Literal["NMRA", "NEM"] | None = key(
        "that the turnouts were built to; NMRA first if you do not know", default=None
    )
    grade: Fraction = key("steepest on the line, rise over run")
    car_weight: Mass = key("one car of your trains")


class NoLoad(Table):
    """Motor alone, running free."""

    voltage: Voltage = key("at the motor's terminals")
    current: Current = key("running free")
    speed: Rotation = key("rpm of the shaft")


class Stall(Table):
    """Shaft held, two seconds."""

    voltage: Voltage = key("low, so that the winding stays cold")
    current: Current = key("with the shaft held")


class MotorTable(Table):
    """A motor on the bench."""

    kind: Literal["iron core", "ironless"] = key("iron core cogs by hand, ironless does not")
    cogging: Literal["none", "light", "strong"] | None = key(
        "turned by the fingers with its leads open: none, light or strong", default=None
    )
    resistance: list[Resistance] = key("at several armature positions, cold", min_length=1)
    no_load: NoLoad = key("motor alone")
    stall: Stall | None = key("one stalled reading; checks the resistance", default=None)
    starting_voltage: Voltage | None = key("motor alone, the least that turns it", default=None)
    inductance: Inductance | None = key("for pulsed packs", default=None)
    rotor_inertia: Inertia | None = key("from the data sheet, if it says", default=None)
    rotor_diameter: Size | None = key("else the rotor's size, seen from outside", default=None)
    rotor_length: Size | None = key("of the rotor's iron", default=None)
    thermal_resistance: Cooling = key(
        "kelvin a watt, winding to air", default="40", validate_default=True
    )
    body_diameter: Size = key("over the case")
    body_length: Size = key("without the shaft")
    shaft_diameter: Size = key("where the worm or flywheel sits")
    insulated: bool = key("true where neither brush reaches the case")


class WormTable(Table):
    """The worm."""

    material: Material = key("of the thread")
    starts: int = key("threads seen at the end", ge=1, le=6)
    module: Module = key('axial; pi times it is the pitch of the thread; or a pitch, as "48 pitch"')
    outside_diameter: Size = key("over the thread")
    length: Size = key("of the threaded part")
    bore: Size = key("of the worm")
    end_play: LengthOrNone = key("push and pull on the worm shaft")
    thrust_bearing: Literal["plain", "ball"] = key("what takes the worm's thrust")


class GearTable(Table):
    """One gear, in order from the worm to the axle."""

    name: str = key("what you call it", min_length=1, max_length=30)
    teeth: int = key("counted", ge=6, le=200)
    material: Material = key("of the teeth")
    outside_diameter: Size = key("over the tooth tops")
    face_width: Size = key("of the teeth")
    total_runout: LengthOrNone = key(
        "indicator's whole swing on the tooth tops, in its own bearings"
    )


class MeshTable(Table):
    """How the last pair meshes."""

    backlash: LengthOrNone = key("at the pitch circle, felt at four places, the mean")
    worm_backlash: LengthOrNone | None = key(
        "of the gear under the worm, felt the same way with the worm held", default=None
    )
    pressure_angle: Pressure = key(
        "20 deg unless it is old", default="20 deg", validate_default=True
    )
    lubrication: Literal["dry", "starved", "greased"] = key("dry, starved or greased")


class FlywheelTable(Table):
    """A flywheel on the motor's shaft."""

    material: HeavyMaterial = key("of the disc")
    outside_diameter: Size = key("of the disc")
    width: Size = key("along the shaft")
    bore: Size = key("for the shaft")
    off_center: LengthOrNone = key("half the indicator's swing on the rim")
    bearing_span: Size = key("between the motor's two bearings")
    overhang: Size = key("from the near bearing to the middle of the disc")
    end: Literal["worm", "far"] = key(
        "of the motor's shaft that it sits on: toward the worm, or the far one", default="worm"
    )


class AdapterTable(Table):
    """The sleeve from the motor's shaft to the worm's bore."""

    material: Literal["brass", "steel"] = key("of the sleeve")
    temper: Literal["soft", "half hard"] = key("soft unless you know better", default="soft")
    length: Size = key("in the worm")
    hold: Literal["bond", "press"] = key("retaining compound, or pressed")
    bond_strength: Stress = key(
        "shear, cured and cold, from the maker's sheet", default="10 MPa", validate_default=True
    )


class AlignmentTable(Table):
    """How straight motor and gearbox stand to each other."""

    offset: LengthOrNone = key("motor shaft off the line of the gearbox bearings")
    span: Size = key("over which the shaft must bend for it")


class SpringsTable(Table):
    """What the drivers ride on."""

    kind: Literal["rigid", "sprung"] = key("rigid or sprung")
    wire_diameter: Wire | None = key("of the spring wire", default=None)
    mean_diameter: Size | None = key("outside less one wire", default=None)
    active_coils: Number | None = key("coils that work", default=None)
    springs_per_axle: int = key("both sides together", default=2, ge=1, le=8)
    preload: LengthOrNone = key(
        "compression with the axle at its lower stop", default="0 mm", validate_default=True
    )
    free_length: Size | None = key("unloaded", default=None)
    travel: Size | None = key("of the axle box, stop to stop", default=None)


class State(Table):
    """The drive in one state: as it is, or planned."""

    motor: MotorTable
    worm: WormTable
    gears: list[GearTable] = Field(min_length=1, max_length=4)
    mesh: MeshTable
    alignment: AlignmentTable
    springs: SpringsTable
    flywheel: FlywheelTable | None = None
    adapter: AdapterTable | None = None
    seat: SeatTable | None = None
    bearings: BearingsTable | None = None
    bowed_shim: BowedShimTable | None = None
    hub: HubTable | None = None
    ground_pin: GroundPinTable | None = None
    bed: BedTable | None = None


class Room(Table):
    """A stretch of the body that the drive may use."""

    name: str = key("boiler, firebox ...", min_length=1, max_length=30)
    start: Position = key("front end, behind the first driver axle", alias="from")
    end: Position = key("rear end", alias="to")
    shape: Literal["round", "box"] = key("round or box")
    height: Position | None = key("round: center over the rail", default=None)
    diameter: Size | None = key("round: inside", default=None)
    bottom: Position | None = key("box: over the rail", default=None)
    top: Position | None = key("box: over the rail", default=None)
    width: Size | None = key("box: inside", default=None)


class FrameTable(Table):
    """The frame's plates, where they stand into the rooms."""

    top: Position = key("of its plates, over the rail")
    width: Size = key("inside, from plate to plate")
    start: Position | None = key(
        "front end, behind the first driver axle; else all along", alias="from", default=None
    )
    end: Position | None = key("rear end", alias="to", default=None)


class EnvelopeTable(Table):
    """The room there is for the drive."""

    shaft_height: Size = key("drive shaft over the rail")
    gap: LengthOrNone = key(
        "free space wanted around turning parts", default="1.0 mm", validate_default=True
    )
    frame: FrameTable | None = None
    rooms: list[Room] = Field(min_length=1, max_length=8)


class Run(Table):
    """One steady run on level track."""

    voltage: Voltage = key("at the track")
    current: Current | None = key("steady; a lap by the watch alone has none", default=None)
    distance: Stretch = key("measured stretch")
    time: Time = key("over that stretch")
    pull: Force = key(
        "hanging weight on a string, if any; or its grams or ounces",
        default="0 N",
        validate_default=True,
    )


class Coast(Table):
    """Power cut at a steady run: how far it rolls, or how long, or both."""

    voltage: Voltage = key("before the cut")
    rails: Literal["open", "shorted"] = key("after the cut")
    distance: StretchOrNone | None = key("by ruler, or off a film with a ruler in it", default=None)
    time: Time | None = key("by stop-watch, if it is long enough", default=None)
    frames: int | None = key(
        "else frames of a film, from the cut to standstill; needs frame_rate of the instruments",
        default=None,
        ge=1,
        le=100000,
    )


class Measured(Table):
    """Readings of the engine on the track."""

    starting_voltage: list[Voltage] = key("forward and backward", default=[])
    drawbar_pull: Force | None = key(
        "at wheel slip, spring scale, or the weight that hung", default=None
    )
    runs: list[Run] = Field(default=[])
    coasts: list[Coast] = Field(default=[])


class StockMotor(MotorTable):
    """A motor in the drawer; its readings as for every motor."""

    name: str = key("what you call it", min_length=1, max_length=30)
    bearing_span: Size | None = key(
        "between its two bearings; else four fifths of the body", default=None
    )


class GearSet(Table):
    """A worm with the gears that go with it, in the drawer."""

    name: str = key("what you call it", min_length=1, max_length=30)
    worm_material: Material = key("of the thread")
    starts: int = key("threads seen at the end of the worm", ge=1, le=6)
    module: Module | None = key("axial, of the worm; or give diametral_pitch", default=None)
    diametral_pitch: float | None = key(
        "teeth an inch of pitch diameter, instead of module", default=None, gt=4, le=400
    )
    worm_diameter: Size = key("over the thread")
    worm_length: Size = key("of the threaded part")
    worm_bore: Size = key("of the worm")
    gear_material: Material = key("of the gear under the worm")
    idler_teeth: int | None = key(
        "between worm and axle gear; leave out if there is none", default=None, ge=6, le=200
    )
    wheel_teeth: int = key("of the axle gear", ge=6, le=200)
    face_width: Size = key("of the teeth")
    center_distance: Size | None = key(
        "worm to the gear under it, if you have measured it; checks the rest", default=None
    )

    @property
    def pitch(self) -> str:
        """Its diametral pitch in words, where that was written."""
        return pitch_of(self.module) if self.module else f"{self.diametral_pitch:g} pitch"

    @property
    def axial_module(self) -> float:
        """Module [m], from whichever of the two keys is given."""
        if self.module is not None:
            return self.module.value
        assert self.diametral_pitch
        pitch = self.diametral_pitch / 25.4e-3
        return float(gears.module_from_diametral_pitch(diametral_pitch=pitch))


class Bar(Table):
    """A bar that a flywheel can be turned from."""

    name: str = key("what you call it", min_length=1, max_length=30)
    material: HeavyMaterial = key("of the bar")
    diameter: Size = key("over the bar, as it comes")
    length: Length = key("that is left of it")


class StockTable(Table):
    """What lies in the drawer to choose from."""

    motors: list[StockMotor] = Field(default=[], max_length=40)
    gear_sets: list[GearSet] = Field(default=[], max_length=40)
    bars: list[Bar] = Field(default=[], max_length=40)


class BenchSheet(Table):
    """One locomotive: as it is, as planned, as measured."""

    title: str = key("what stands over the build sheet", min_length=1, max_length=120)
    locomotive: LocomotiveTable
    supply: SupplyTable
    instruments: InstrumentsTable
    track: TrackTable
    as_is: State
    planned: State
    envelope: EnvelopeTable
    measured_before: Measured = Measured()
    measured_after: Measured = Measured()
    stock: StockTable = StockTable()
    #: The keys that nobody measured, as ``planned.gears[2].teeth``, and why each is what it is.
    _assumed: dict[str, str] = PrivateAttr(default_factory=dict)

    @property
    def assumed(self) -> dict[str, str]:
        """The keys that stand-ins stand in for, and the reason of each."""
        return self._assumed

    def with_assumed(self, assumed: dict[str, str]) -> "BenchSheet":
        """The same sheet, told which of its keys are stand-ins."""
        same = self.model_copy()
        same._assumed = assumed
        return same
