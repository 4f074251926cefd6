"""All that is known once the sheet is read: parts, drives and draws, made once, asked often."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from mechkit import traction
from mechkit.drive.constants import plan, readings
from mechkit.drive.constants.identify import Identified, identify
from mechkit.drive.constants.motors import BRUSH, motor_constants, rotor_inertia
from mechkit.drive.constants.readings import Given, Known
from mechkit.drive.constants.weighing import GEAR_MESH, Numbers
from mechkit.drive.model import cogging, frogs, layout, read, suspension, wearing
from mechkit.drive.model.body import Body, body_of
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Motor
from mechkit.drive.model.spread import Spread, doubt
from mechkit.drive.sheet.keys import bare
from mechkit.drive.sheet.schema import BenchSheet, Measured, MotorTable, State
from mechkit.units import Reading

#: How far off adhesion and rolling can be where nothing is written behind them, relative
#: standard errors; common practice, no source.
ADHESION_ERROR, ROLLING_ERROR = 0.10, 0.15
#: Tables of friction are of clean metal, and small meshes run so much easier; how far off the
#: mesh efficiency can then be, relative standard error; common practice, no source.
TABLE_OVER, MESH_ERROR = 1.6, 0.5
#: What a gearbox passes on that nobody looked into, with the error of any; common practice, no
#: source.
UNSEEN = 0.33
#: How far off a ratio can be that nobody counted, relative standard error; only what a wheel
#: rolls for a turn of the motor is ever asked, so it stands behind the wheel's diameter.
UNCOUNTED_RATIO = 0.4
#: Friction of a worm mesh at a crawl over the same at speed: published curves fall to a third,
#: small drives in grease less, and plastics may rub less at a crawl; common practice.
CRAWL = (0.8, 1.8)
#: A flywheel as turned: its inertia's relative standard error; common practice.
WHEEL_ERROR = 0.02
#: A wheel too thin for the instruments is off by no more than this, a logarithm.
MOST_OFF = 0.5
#: What the motors are called where a band comes from them.
OLD_MOTOR, NEW_MOTOR = "old motor", "new motor"
#: The two evenings on the track.
BEFORE, AFTER = "before the work", "after the work"
#: Sheets that are kept in mind: asking twice costs nothing.
KEPT = 6
#: A rotor is at least this part of what turns, whatever the coasts say.
LEAST_ROTOR = 0.02
#: An engine is at least this part of its train, whatever the scales' errors say.
LEAST_ENGINE = 0.02


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
        through = float(train.efficiency((low * high) ** 0.5 / TABLE_OVER, GEAR_MESH))
        if not self._counted(state):
            through = UNSEEN
        rotor, error = rotor_inertia(state.motor)
        wheel = read.flywheel_of(state)
        turning = rotor + (float(wheel.inertia) if wheel else 0.0)
        tread = engine.driver_diameter
        return Known(
            train=train,
            wheel_diameter=Given(
                tread.value,
                float(
                    np.hypot(
                        doubt(tread) or tools.caliper.value / 2 / tread.value,
                        0.0 if self._counted(state) else UNCOUNTED_RATIO,
                    )
                ),
            ),
            train_mass=Given(whole, float(np.hypot(mass.sigma, behind.sigma)) / whole),
            mass_on_drivers=Given(engine.weight_on_drivers.value, doubt(engine.weight_on_drivers)),
            adhesion=Given(track.adhesion.value, doubt(track.adhesion) or ADHESION_ERROR),
            rolling=Given(
                track.rolling_resistance.value, doubt(track.rolling_resistance) or ROLLING_ERROR
            ),
            inertia=Given(turning, (rotor * error + (turning - rotor) * WHEEL_ERROR) / turning),
            efficiency=Given(through, MESH_ERROR),
            brush_drop=Given(*(part * self.sheet.supply.voltage.value for part in BRUSH)),
            free_speed=state.motor.no_load.speed.value,
            thermal_resistance=state.motor.thermal_resistance.value,
        )

    def _counted(self, state: State) -> bool:
        """Whether the teeth of a state were counted, so that its ratio is known."""
        name = "as_is" if state is self.sheet.as_is else "planned"
        ratio = {f"{name}.gears", f"{name}.gears.teeth", f"{name}.worm.starts"}
        return not ratio & {bare(key) for key in self.sheet.assumed}

    def _identified(self, state: State, measured: Measured) -> Identified:
        tools = self.sheet.instruments
        bench = readings.bench_of(state.motor, measured, tools)
        if not self._counted(state):
            # a stop hangs on the ratio twice over, and so does what a pull asks of the motor
            alone = tuple(run for run in bench.runs if not run.pull)
            bench = replace(bench, coasts=(), runs=alone or bench.runs)
        return identify(bench, self._known(state), readings.errors_of(tools, measured))

    @cached_property
    def told_before(self) -> Identified:
        """All readings of the drive as it is, weighed together."""
        return self._identified(self.sheet.as_is, self.sheet.measured_before)

    @cached_property
    def told_after(self) -> Identified | None:
        """All readings taken after the work, weighed together; None before it."""
        measured = self.sheet.measured_after
        if not (measured.runs or measured.coasts or measured.starting_voltage):
            return None
        return self._identified(self.sheet.planned, measured)

    @cached_property
    def numbers(self) -> Numbers:
        """What the readings of the engine as it is tell, with their draws."""
        return self.told_before.draws(self.spread, BEFORE)

    # -- drives -------------------------------------------------------------------------

    def _drive(self, found: Numbers, state: State, name: str = OLD_MOTOR) -> Drive:
        """The drive of a state by what its readings tell."""
        train, inertia = self.train_of(state), self.flywheel_inertia(state)
        rotor = np.maximum(found.inertia - inertia, LEAST_ROTOR * found.inertia)
        alone = np.minimum(found.motor_rubbing, found.running_friction)
        slow = train.friction(found.efficiency, GEAR_MESH) * self.spread.factor(
            "friction of the mesh at a crawl", *CRAWL
        )
        # three scales, one engine: the drivers carry no more than it weighs
        engine = np.maximum(
            found.train - self.sheet.locomotive.trailing_weight.value, LEAST_ENGINE * found.train
        )
        return Drive(
            motor=Motor(
                found.resistance,
                found.torque_constant,
                alone,
                rotor,
                found.motor_damping,
                found.brush,
                self.spread.reading(f"cooling of the {name}", state.motor.thermal_resistance)
                * np.maximum(found.warmth, 0.0),
                found.magnet,
            ),
            full=self.sheet.supply.voltage.value,
            gear_ratio=train.ratio,
            wheel_diameter=found.wheel,
            flywheel_inertia=inertia,
            starting_friction=found.starting_friction,
            running_friction=found.running_friction,
            damping=found.damping,
            efficiency=found.efficiency,
            engine_mass=engine,
            train_mass=found.train,
            mass_on_drivers=np.minimum(found.drivers, engine),
            adhesion=found.adhesion,
            scale=self.sheet.locomotive.scale,
            rolling_force=found.rolling_force,
            lost_motion=train.lost_motion(found.wheel),
            back_efficiency=train.back_efficiency(found.efficiency, GEAR_MESH),
            crawl_efficiency=train.efficiency(slow, GEAR_MESH),
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
        return self._drive(self.told_after.draws(self.spread, AFTER), self.sheet.planned, NEW_MOTOR)

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
        said = read.values(table, MotorTable)
        if said == read.values(self.sheet.as_is.motor, MotorTable):
            return self.before.motor
        if said == read.values(self.sheet.planned.motor, MotorTable):
            name = NEW_MOTOR
        return motor_constants(
            table, self.numbers, self.sheet.supply.voltage.value, self.spread, name
        )

    @cached_property
    def motor_planned(self) -> Motor:
        """The motor as planned."""
        return self.motor_of(self.sheet.planned.motor)

    def flywheel_inertia(self, state: State):
        """Inertia of a state's flywheel, as well as it was measured or will be turned [kg*m^2]."""
        wheel = read.flywheel_of(state)
        if wheel is None:
            return 0.0
        off = read.flywheel_error(state, wheel, self.sheet.instruments)
        size = f"size of the flywheel, {1e3 * wheel.outer:.5g} by {1e3 * wheel.width:.5g} mm"
        return wheel.inertia * np.exp(min(off, MOST_OFF) * self.spread.error(size))

    def side(self, state: State, name: str = NEW_MOTOR) -> plan.Side:
        """What a plan changes, of one state."""
        constants = self.motor_of(state.motor, name)
        if constants is self.before.motor:
            name = OLD_MOTOR
        start, alone = state.motor.starting_voltage, None
        # one motor, one span, whichever state writes its flywheel down
        home = state
        if constants is self.before.motor:
            home = self.sheet.as_is
        elif state.motor == self.sheet.planned.motor:
            home = self.sheet.planned
        between, share = plan.bearing_span(home)
        if start:
            off = float(np.hypot(plan.BREAKAWAY, doubt(start)))
            volts = start.value * (1 + off * self.spread.error(f"starting voltage of the {name}"))
            alone = constants.stall_torque(volts / self.numbers.volts)
            alone = np.maximum(alone, constants.friction_torque)
        return plan.Side(
            state=state,
            motor=constants,
            train=self.train_of(state),
            offset=self.spread.reading("shaft offset", state.alignment.offset),
            span=self.spread.reading(
                "free length of the shaft", state.alignment.span, self.sheet.instruments.ruler.value
            ),
            shaft_diameter=self.size(f"shaft of the {name}", state.motor.shaft_diameter),
            bearing_span=share * self.size(f"bearings of the {name}", between),
            flywheel_inertia=self.flywheel_inertia(state),
            motor_stiction=alone,
            cogging=cogging.peak(
                state.motor, constants, self.sheet.supply.voltage.value, self.spread, name
            ),
        )

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
        """Both worm pairs as an engine works on the average, and what each change alone does."""
        old, new = self.sheet.as_is, self.sheet.planned
        was, will = wearing.pair_of(old), wearing.pair_of(new)
        return wearing.Wear(
            before=self.life(old),
            planned=self.life(new),
            greased=self.life(old, (*was[:2], will[2])),
            relined=self.life(old, (*will[:2], was[2])),
            opening=wearing.opening(old),
            opening_planned=wearing.opening(new),
        )

    def life(self, state: State, pair: wearing.Pair | None = None, share=wearing.DUTY, speed=None):
        """Running time until a worm pair is worn out in the size of a state [s].

        The state's own pair, and half of the full-size engine's top speed, where left out.
        """
        engine, train = self.sheet.locomotive, self.train_of(state)
        rail = (wearing.PACE * engine.top_speed.value if speed is None else speed) / engine.scale
        force = wearing.mesh_force(self.before, train, share)
        turning = wearing.worm_speed(self.before, train, rail)
        rates = wearing.rates(pair or wearing.pair_of(state), self.spread)
        return wearing.life(state, train.worm, force, turning, rates)

    # -- suspension ---------------------------------------------------------------------

    @cached_property
    def springs_before(self) -> suspension.Suspension:
        """The drivers as they stand."""
        same = read.values(self.sheet.as_is.springs) == read.values(self.sheet.planned.springs)
        name = "springs" if same else "old springs"
        return suspension.of(self.sheet.as_is.springs, self.sheet, self.spread, name)

    @cached_property
    def springs_planned(self) -> suspension.Suspension:
        """The drivers as planned."""
        return suspension.of(self.sheet.planned.springs, self.sheet, self.spread)

    # -- wheels and rods ----------------------------------------------------------------

    def size(self, name: str, reading: Reading):
        """A length that a caliper measured, with its draws [m]."""
        return self.spread.reading(name, reading, self.sheet.instruments.caliper.value)

    @property
    def crankpin_clearance(self):
        """Play of a crankpin in its rod [m]."""
        return self.size("crankpin clearance", self.sheet.locomotive.crankpin_clearance)

    @property
    def crank_throw(self):
        """Crankpin off the axle's center [m]."""
        return self.size("crank throw", self.sheet.locomotive.crank_throw)

    @cached_property
    def frog(self) -> frogs.Frog | None:
        """The standard's frog on the track that it runs on; None where the table has none."""
        return frogs.of(self.sheet.track)

    # -- room and load ------------------------------------------------------------------

    @cached_property
    def layouts(self) -> list[layout.Layout]:
        """Every axle and direction, the roomiest first."""
        return layout.candidates(self.sheet.planned, body_of(self.sheet))

    @cached_property
    def body(self) -> Body:
        """The engine's body, each size with its draws."""
        return body_of(self.sheet, self.size, self.spread.reading)

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
