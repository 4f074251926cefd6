"""All that is known once the sheet is read: parts, drives and draws, made once, asked often."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from mechkit import springs, traction
from mechkit.drive.constants import predict, told
from mechkit.drive.constants.calibrate import motor_constants
from mechkit.drive.model import frogs, layout, wearing
from mechkit.drive.model.parts import Material
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet.schema import BenchSheet, SpringsTable

#: A frame without springs still gives: axle, frame and rail together, common practice.
RIGID_RATE = 2.0e5  # N/m


@dataclass(frozen=True)
class Knowledge:
    """One sheet, drawn once: every question asks the same draws."""

    sheet: BenchSheet
    spread: Spread

    @cached_property
    def finest_runout(self) -> float:
        """The finest that a runout can be read [m]."""
        tools = self.sheet.instruments
        return (tools.indicator or tools.caliper).value

    @cached_property
    def common(self):
        """Engine, track and adhesion."""
        return predict.common_of(self.sheet, self.spread)

    @cached_property
    def motor_before(self):
        """The motor as it is."""
        return motor_constants(
            self.sound_motor, self.sheet.instruments.meter.value, self.spread, "old motor"
        )

    @cached_property
    def motor_planned(self):
        """The motor as planned."""
        return motor_constants(
            self.sheet.planned.motor, self.sheet.instruments.meter.value, self.spread, "new motor"
        )

    @cached_property
    def told_before(self):
        """All readings of the drive as it is, weighed together."""
        return told.ask(self.sheet, self.sheet.as_is, self.sheet.measured_before)

    @cached_property
    def told_after(self):
        """All readings taken after the work, weighed together; None before it."""
        return told.ask(self.sheet, self.sheet.planned, self.sheet.measured_after)

    @cached_property
    def sound_motor(self):
        """The readings of the motor as it is, without those that do not belong."""
        return told.sound_motor(self.sheet.as_is.motor, self.told_before)

    @cached_property
    def sound_before(self):
        """The readings on the track as it is, without runs that do not belong."""
        return told.sound_runs(self.sheet.measured_before, self.told_before)

    @cached_property
    def sound_after(self):
        """The readings on the track after the work, without runs that do not belong."""
        return told.sound_runs(self.sheet.measured_after, self.told_after)

    @cached_property
    def before(self):
        """The drive as it is, from the readings on the track."""
        sheet = self.sheet
        drive = predict.measured_drive(
            sheet,
            sheet.as_is,
            self.sound_before,
            self.motor_before,
            self.common,
            self.spread,
            "before",
        )
        if drive is None:
            raise ValueError(
                "measured_before: the drive as it is needs a starting voltage and at least four "
                "runs with their current, one of them with a pull"
            )
        return drive

    @cached_property
    def planned(self):
        """The drive as planned."""
        return predict.planned_drive(
            self.sheet.planned, self.motor_planned, self.common, self.spread
        )

    @cached_property
    def after(self):
        """The drive as measured after the work; None before it."""
        sheet = self.sheet
        return predict.measured_drive(
            sheet,
            sheet.planned,
            self.sound_after,
            self.motor_planned,
            self.common,
            self.spread,
            "after",
        )

    @property
    def asked(self):
        """What the readings of each state tell, its drive, all readings, and those counted with."""
        sheet, motor = self.sheet, self.sheet.planned.motor
        return (
            (
                "before",
                self.told_before,
                self.before,
                (sheet.as_is.motor, sheet.measured_before),
                (self.sound_motor, self.sound_before),
            ),
            (
                "after",
                self.told_after,
                self.after,
                (motor, sheet.measured_after),
                (motor, self.sound_after),
            ),
        )

    @cached_property
    def gears_before(self):
        """The gears as they are."""
        return predict.gears_of(self.sheet.as_is, self.spread, self.finest_runout, "old")

    @cached_property
    def gears_planned(self):
        """The gears as planned."""
        return predict.gears_of(self.sheet.planned, self.spread, self.finest_runout, "new")

    @cached_property
    def worm_before(self):
        """The worm as it is."""
        return predict.worm_of(self.sheet.as_is)

    @cached_property
    def worm_planned(self):
        """The worm as planned."""
        return predict.worm_of(self.sheet.planned)

    @cached_property
    def wheel(self):
        """The flywheel as planned, if any."""
        return predict.flywheel_of(self.sheet.planned)

    @cached_property
    def backlash_before(self):
        """Backlash of the last pair as it is [m]."""
        return self.spread.reading("old backlash", self.sheet.as_is.mesh.backlash)

    @cached_property
    def backlash_planned(self):
        """Backlash of the last pair as planned [m]."""
        return self.spread.reading("new backlash", self.sheet.planned.mesh.backlash)

    @cached_property
    def side_before(self):
        """Friction of the bent shaft as it is [N*m]."""
        return predict.side_friction(self.sheet.as_is, self.spread, "old")

    # -- wear ---------------------------------------------------------------------------

    @cached_property
    def wear(self):
        """Both worm pairs at half of the top speed, pulling a quarter of what they can."""
        sheet, spread = self.sheet, self.spread
        rail = 0.5 * sheet.locomotive.top_speed.value / sheet.locomotive.scale
        lives = []
        for name, state, thread, gears, drive in (
            ("old", sheet.as_is, self.worm_before, self.gears_before, self.before),
            ("new", sheet.planned, self.worm_planned, self.gears_planned, self.planned),
        ):
            pair = (state.worm.material, state.gears[0].material, state.mesh.lubrication)
            rates = [
                spread.factor(f"wear rate of the {name} {member}", *band)
                for member, band in zip(("worm", "gear"), wearing.pair_bands(*pair), strict=True)
            ]
            pitch, rolling = gears[-1].pitch_diameter, self.common.rolling_force
            lives.append(wearing.on_duty(state, thread, pitch, drive, rolling, rail, rates))
        return wearing.Wear(*lives)

    # -- suspension ---------------------------------------------------------------------

    @cached_property
    def axle_positions(self) -> np.ndarray:
        """The driven axles behind the first [m]."""
        return np.array([at.value for at in self.sheet.locomotive.driver_axles])

    def rates(self, table: SpringsTable) -> np.ndarray:
        """Spring rate of each axle, all its springs together [N/m]."""
        rate = RIGID_RATE
        if table.kind == "sprung":
            assert table.wire_diameter and table.mean_diameter and table.active_coils
            rate = table.springs_per_axle * springs.coil_spring_rate(
                wire_diameter=table.wire_diameter.value,
                mean_diameter=table.mean_diameter.value,
                active_coils=table.active_coils.value,
                shear_modulus=Material("steel").shear_modulus,
            )
        return np.full(len(self.axle_positions), rate)

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
        return int(
            traction.cars_up_grade(
                force=self.planned.pull_at_slip[0],
                engine_mass=self.common.train_mass[0],
                car_mass=self.sheet.track.car_weight.value,
                grade=self.sheet.track.grade.value,
                rolling_coefficient=self.sheet.track.rolling_resistance.value,
            )
        )
