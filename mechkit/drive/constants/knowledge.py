"""All that is known once the sheet is read: parts, drives and draws, made once, asked often."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from mechkit import motor, traction
from mechkit.drive.constants import plan, readings
from mechkit.drive.constants.identify import Identified, identify
from mechkit.drive.constants.motors import motor_constants, rotor_inertia
from mechkit.drive.constants.readings import Given, Known
from mechkit.drive.constants.weighing import GEAR_MESH, Numbers
from mechkit.drive.model import frogs, layout, read, suspension, wearing
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Motor
from mechkit.drive.model.spread import Spread, doubt
from mechkit.drive.sheet.schema import BenchSheet, Measured, MotorTable, State

#: How far off adhesion and rolling can be where nothing is written behind them, relative
#: standard errors; common practice, no source.
ADHESION_ERROR, ROLLING_ERROR = 0.10, 0.15
#: How far off the table's mesh efficiency can be, relative standard error; common practice.
MESH_ERROR = 0.5
#: A flywheel as turned: its inertia's relative standard error; common practice.
WHEEL_ERROR = 0.01
#: What the motors are called where a band comes from them, and the two evenings on the track.
OLD_MOTOR, NEW_MOTOR = "old motor", "new motor"
BEFORE, AFTER = "before the work", "after the work"
#: Sheets that are kept in mind: asking twice costs nothing.
KEPT = 6
#: The span between a motor's bearings as a share of its body; common practice.
SPAN = 0.8
#: A rotor is at least this part of what turns, whatever the coasts say.
LEAST_ROTOR = 0.02


@dataclass(frozen=True)
class Knowledge:
    """One sheet, drawn once: every question asks the same draws."""

    sheet: BenchSheet
    spread: Spread

    @property
    def finest_runout(self) -> float:
        """The finest that a runout can be read [m]."""
        return read.finest_runout(self.sheet.instruments)

    # -- what the readings tell ---------------------------------------------------------

    def _known(self, state: State) -> Known:
        """What is known of a state beside its readings."""
        engine, track, tools = self.sheet.locomotive, self.sheet.track, self.sheet.instruments
        train = read.nominal_train(state)
        mass, behind = engine.weight, engine.trailing_weight
        whole = mass.value + behind.value
        low, high = train.friction_band
        through = float(train.efficiency((low * high) ** 0.5 / plan.BEYOND, GEAR_MESH))
        rotor, error = rotor_inertia(state.motor)
        wheel = read.flywheel_of(state)
        turning = rotor + (float(wheel.inertia) if wheel else 0.0)
        tread = engine.driver_diameter
        return Known(
            train=train,
            wheel_diameter=Given(
                tread.value, doubt(tread) or tools.caliper.value / 2 / tread.value
            ),
            train_mass=Given(whole, float(np.hypot(mass.sigma, behind.sigma)) / whole),
            mass_on_drivers=Given(engine.weight_on_drivers.value, doubt(engine.weight_on_drivers)),
            adhesion=Given(track.adhesion.value, doubt(track.adhesion) or ADHESION_ERROR),
            rolling=Given(
                track.rolling_resistance.value, doubt(track.rolling_resistance) or ROLLING_ERROR
            ),
            inertia=Given(turning, (rotor * error + (turning - rotor) * WHEEL_ERROR) / turning),
            efficiency=Given(through, MESH_ERROR),
            thermal_resistance=state.motor.thermal_resistance.value,
        )

    def _identified(self, state: State, measured: Measured) -> Identified:
        tools = self.sheet.instruments
        bench = readings.bench_of(state.motor, measured, tools)
        return identify(bench, self._known(state), readings.errors_of(tools, measured))

    @cached_property
    def told_before(self) -> Identified:
        """All readings of the drive as it is, weighed together."""
        return self._identified(self.sheet.as_is, self.sheet.measured_before)

    @cached_property
    def told_after(self) -> Identified | None:
        """All readings taken after the work, weighed together; None before it."""
        measured = self.sheet.measured_after
        read = (measured.runs, measured.coasts, measured.starting_voltage, measured.drawbar_pull)
        if not any(read):
            return None
        return self._identified(self.sheet.planned, measured)

    @cached_property
    def numbers(self) -> Numbers:
        """What the readings of the engine as it is tell, with their draws."""
        return self.told_before.draws(self.spread, BEFORE)

    # -- drives -------------------------------------------------------------------------

    def _drive(self, found: Numbers, state: State) -> Drive:
        """The drive of a state by what its readings tell."""
        train, wheel = self.train_of(state), read.flywheel_of(state)
        inertia = float(wheel.inertia) if wheel else 0.0
        rotor = np.maximum(found.inertia - inertia, LEAST_ROTOR * found.inertia)
        rolling = found.rolling_force * found.lever / found.efficiency
        alone = np.minimum(found.motor_friction, found.running_friction - rolling)
        trailing = self.sheet.locomotive.trailing_weight.value
        return Drive(
            motor=Motor(found.resistance, found.torque_constant, alone, rotor),
            gear_ratio=train.ratio,
            wheel_diameter=found.wheel,
            flywheel_inertia=inertia,
            starting_friction=found.starting_friction,
            running_friction=found.running_friction,
            damping=found.damping,
            efficiency=found.efficiency,
            engine_mass=np.maximum(found.train - trailing, found.drivers),
            train_mass=found.train,
            mass_on_drivers=found.drivers,
            adhesion=found.adhesion,
            scale=self.sheet.locomotive.scale,
            rolling_force=found.rolling_force,
            lost_motion=train.lost_motion(found.wheel),
            back_efficiency=train.back_efficiency(found.efficiency, GEAR_MESH),
        )

    @cached_property
    def before(self) -> Drive:
        """The drive as it is, by the readings on the track."""
        return self._drive(self.numbers, self.sheet.as_is)

    @cached_property
    def after(self) -> Drive | None:
        """The drive as measured after the work; None before it."""
        if self.told_after is None:
            return None
        return self._drive(self.told_after.draws(self.spread, AFTER), self.sheet.planned)

    @cached_property
    def planned(self) -> Drive:
        """The drive as planned: the measured one with what changes."""
        return self.drive_of(self.sheet.planned)

    def drive_of(self, state: State, name: str = NEW_MOTOR) -> Drive:
        """The measured drive with the parts of another state, its motor by a name."""
        old, new = self.side(self.sheet.as_is, OLD_MOTOR), self.side(state, name)
        return plan.planned_drive(self.before, old, new, self.spread)

    def motor_of(self, table: MotorTable, name: str = NEW_MOTOR) -> Motor:
        """A motor by its bench readings; the one that is in the engine as the track shows it."""
        name = self._called(table, name)
        if name == OLD_MOTOR:
            return self.before.motor
        found = self.numbers
        meter = {"volts": found.volts, "amps": found.amps, "ohms": found.ohms}
        return motor_constants(table, meter, self.spread, name)

    def _called(self, table: MotorTable, name: str) -> str:
        """What a motor is called: the same readings are the same motor, wherever they stand."""
        said = read.values(table, MotorTable)
        for state, known in ((self.sheet.as_is, OLD_MOTOR), (self.sheet.planned, NEW_MOTOR)):
            if said == read.values(state.motor, MotorTable):
                return known
        return name

    @cached_property
    def motor_planned(self) -> Motor:
        """The motor as planned."""
        return self.motor_of(self.sheet.planned.motor)

    def side(self, state: State, name: str = NEW_MOTOR) -> plan.Side:
        """What a plan changes, of one state."""
        wheel = read.flywheel_of(state)
        name = self._called(state.motor, name)
        constants = self.motor_of(state.motor, name)
        start, alone = state.motor.starting_voltage, None
        if start:
            volts = start.value * (
                1 + plan.BREAKAWAY * self.spread.error(f"starting voltage of the {name}")
            )
            alone = constants.torque_constant * motor.stall_current(
                voltage=volts / self.numbers.volts, resistance=constants.resistance
            )
            alone = np.maximum(alone, constants.friction_torque)
        return plan.Side(
            state=state,
            motor=constants,
            train=self.train_of(state),
            offset=self.spread.reading("shaft offset", state.alignment.offset),
            bearing_span=self._bearing_span(state),
            flywheel_inertia=float(wheel.inertia) if wheel else 0.0,
            motor_stiction=alone,
        )

    def _bearing_span(self, state: State) -> float:
        """Between the two bearings of a state's motor [m], wherever the sheet says it."""
        said = read.values(state.motor, MotorTable)
        for one in (state, self.sheet.as_is, self.sheet.planned):
            if one.flywheel and read.values(one.motor, MotorTable) == said:
                return one.flywheel.bearing_span.value
        return SPAN * state.motor.body_length.value

    def train_of(self, state: State):
        """Worm and gears of a state."""
        return read.train_of(state, self.sheet.instruments, self.spread)

    @cached_property
    def train_before(self):
        """Worm and gears as they are."""
        return self.train_of(self.sheet.as_is)

    @cached_property
    def train_planned(self):
        """Worm and gears as planned."""
        return self.train_of(self.sheet.planned)

    @property
    def gears_before(self):
        """The gears as they are."""
        return self.train_before.gears

    @property
    def gears_planned(self):
        """The gears as planned."""
        return self.train_planned.gears

    @property
    def worm_before(self):
        """The worm as it is."""
        return self.train_before.worm

    @property
    def worm_planned(self):
        """The worm as planned."""
        return self.train_planned.worm

    @cached_property
    def wheel(self):
        """The flywheel as planned, if any."""
        return read.flywheel_of(self.sheet.planned)

    @property
    def backlash_before(self):
        """Backlash of the last pair as it is [m]."""
        return self.train_before.backlash

    @property
    def backlash_planned(self):
        """Backlash of the last pair as planned [m]."""
        return self.train_planned.backlash

    @cached_property
    def side_before(self):
        """Friction of the bent shaft as it is [N*m]."""
        return plan.bend(self.before, self.side(self.sheet.as_is), self.spread)

    # -- wear ---------------------------------------------------------------------------

    @cached_property
    def wear(self):
        """Both worm pairs at half of the top speed, pulling a quarter of what they can."""
        sheet = self.sheet
        return wearing.Wear(
            self.life(sheet.as_is, self.before), self.life(sheet.planned, self.planned)
        )

    def life(self, state: State, drive: Drive):
        """Running time until a state's worm pair is worn out, at half of the top speed [s]."""
        train, engine = self.train_of(state), self.sheet.locomotive
        pair = (state.worm.material, state.gears[0].material, state.mesh.lubrication)
        rates = [
            self.spread.factor(f"wear rate of the {member}, {', '.join(pair)}", *band)
            for member, band in zip(("worm", "gear"), wearing.pair_bands(*pair), strict=True)
        ]
        rail, pitch = 0.5 * engine.top_speed.value / engine.scale, train.axle_gear.pitch_diameter
        return wearing.on_duty(state, train.worm, pitch, drive, drive.rolling_force, rail, rates)

    # -- suspension ---------------------------------------------------------------------

    @cached_property
    def axle_positions(self) -> np.ndarray:
        """The driven axles behind the first [m]."""
        return np.array([at.value for at in self.sheet.locomotive.driver_axles])

    def rates(self, table) -> np.ndarray:
        """Spring rate of each axle, all its springs together [N/m]."""
        return suspension.rates(table, len(self.axle_positions))

    # -- wheels and rods ----------------------------------------------------------------

    @cached_property
    def crankpin_clearance(self):
        """Play of a crankpin in its rod [m]."""
        tools, engine = self.sheet.instruments, self.sheet.locomotive
        return self.spread.reading(
            "crankpin clearance", engine.crankpin_clearance, tools.caliper.value
        )

    @cached_property
    def crank_throw(self):
        """Crankpin off the axle's center [m]."""
        tools, engine = self.sheet.instruments, self.sheet.locomotive
        return self.spread.reading("crank throw", engine.crank_throw, tools.caliper.value)

    @cached_property
    def frog(self) -> frogs.Frog | None:
        """The standard's frog on the track that it runs on; None where the table has none."""
        return frogs.of(self.sheet.track)

    # -- room and load ------------------------------------------------------------------

    @cached_property
    def layouts(self) -> list[layout.Layout]:
        """Every axle and direction, the roomiest first."""
        room = self.sheet.envelope
        return layout.candidates(
            self.sheet.planned,
            room.rooms,
            room.shaft_height.value,
            [float(at) for at in self.axle_positions],
        )

    @property
    def layout(self) -> layout.Layout:
        """The layout that is chosen."""
        return self.layouts[0]

    @cached_property
    def cars(self) -> int:
        """Cars that the planned engine takes up the steepest grade."""
        drive = self.planned
        rolling = drive.rolling_force[0] / (drive.train_mass[0] * traction.STANDARD_GRAVITY)
        return int(
            traction.cars_up_grade(
                force=drive.rim_limit[0],
                engine_mass=drive.train_mass[0],
                car_mass=self.sheet.track.car_weight.value,
                grade=self.sheet.track.grade.value,
                rolling_coefficient=rolling,
            )
        )


def known_of(sheet: BenchSheet) -> Knowledge:
    """What is known of a sheet; every door asks the same draws."""
    for kept in _kept:
        if kept.sheet is sheet:
            return kept
    _kept.append(Knowledge(sheet, Spread()))
    del _kept[:-KEPT]
    return _kept[-1]


_kept: list[Knowledge] = []


def nominal(drive: Drive) -> Drive:
    """The drive as read, without its draws."""

    def first(part, skip=()):
        return {
            name: None if value is None else float(np.ravel(value)[0])
            for name, value in vars(part).items()
            if name not in skip
        }

    return replace(drive, motor=Motor(**first(drive.motor)), **first(drive, ("motor",)))
