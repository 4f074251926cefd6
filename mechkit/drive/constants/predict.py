"""From the sheet to three drives: as it is, as planned, and as measured after the work."""

from dataclasses import dataclass

import numpy as np

from mechkit import alignment, bearings, motor, tables, traction, worm
from mechkit.drive.constants import calibrate
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Flywheel, Gear, Material, Motor, Worm
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet.schema import BenchSheet, Measured, State

#: Efficiency of one straight gear mesh, common practice for small drives.
GEAR_MESH = (0.93, 0.98)
#: Friction of the oiled bearings that a bent shaft rubs in, common practice.
BEARING_FRICTION = (0.10, 0.16)
#: What the planned drive's grease adds with speed when nothing is measured, N*m*s/rad.
GREASE_DRAG = (0.12e-6, 0.25e-6)
#: Torque at rest over torque in motion in bearings and brushes, common practice.
STICTION = (1.1, 1.6)


def gear_ratio(state: State) -> float:
    """Turns of the motor for one of the axle; idlers between do not count."""
    return state.gears[-1].teeth / state.worm.starts


def worm_of(state: State) -> Worm:
    """The worm of a state as a part."""
    table = state.worm
    return Worm(
        starts=table.starts,
        module=table.module.value,
        outside_diameter=table.outside_diameter.value,
        length=table.length.value,
        bore=table.bore.value,
    )


def gears_of(state: State, spread: Spread, indicator: float, name: str) -> list[Gear]:
    """The gears of a state as parts; runout is as uncertain as the indicator."""
    return [
        Gear(
            name=gear.name,
            teeth=gear.teeth,
            material=gear.material,
            outside_diameter=gear.outside_diameter.value,
            face_width=gear.face_width.value,
            total_runout=spread.reading(f"{name} {gear.name} runout", gear.total_runout, indicator),
        )
        for gear in state.gears
    ]


def flywheel_of(state: State) -> Flywheel | None:
    """The flywheel of a state as a part, if there is one."""
    table = state.flywheel
    if table is None:
        return None
    return Flywheel(
        outer=table.outside_diameter.value,
        width=table.width.value,
        bore=table.bore.value,
        density=Material(table.material).density,
    )


def worm_friction(state: State) -> tuple[float, float]:
    """The band of the coefficient of friction in the worm mesh, either way round in the table."""
    first, second = state.worm.material, state.gears[0].material
    pair = f"{first} on {second}"
    if pair not in tables.names("friction"):
        pair = f"{second} on {first}"
    return tables.band("friction", pair, state.mesh.lubrication)


#: One breakaway to the next, standard error as a fraction: common practice, no source.
BREAKAWAY = 0.03


@dataclass(frozen=True)
class Common:
    """What does not change with the rebuild: engine, track, adhesion."""

    wheel_diameter: np.ndarray
    engine_mass: np.ndarray
    train_mass: np.ndarray
    mass_on_drivers: np.ndarray
    adhesion: np.ndarray
    rolling: np.ndarray
    scale: float

    @property
    def rolling_force(self):
        """Pull that keeps engine and tender rolling [N]."""
        return traction.rolling_resistance(mass=self.train_mass, rolling_coefficient=self.rolling)


def common_of(sheet: BenchSheet, spread: Spread) -> Common:
    """Draw what both states share, once, so that before and after hang together."""
    engine, track = sheet.locomotive, sheet.track
    mass = spread.reading("weight", engine.weight)
    trailing = spread.reading("trailing weight", engine.trailing_weight)
    return Common(
        wheel_diameter=spread.reading(
            "driver diameter", engine.driver_diameter, sheet.instruments.caliper.value
        ),
        engine_mass=mass,
        train_mass=mass + trailing,
        mass_on_drivers=spread.reading("weight on drivers", engine.weight_on_drivers),
        adhesion=spread.reading("adhesion", track.adhesion, 0.2 * track.adhesion.value),
        rolling=spread.reading("rolling resistance", track.rolling_resistance),
        scale=engine.scale,
    )


def side_friction(state: State, spread: Spread, name: str):
    """Friction torque of a shaft bent by poor alignment [N*m]."""
    offset = spread.reading(f"{name} shaft offset", state.alignment.offset)
    diameter = state.motor.shaft_diameter.value
    force = alignment.side_load(
        offset=offset,
        span=state.alignment.span.value,
        shaft_diameter=diameter,
        elastic_modulus=Material("steel").elastic_modulus,
    )
    friction = spread.factor("bearing friction", *BEARING_FRICTION)
    return bearings.friction_torque(friction=friction, load=force, diameter=diameter)


def mesh_efficiency(state: State, friction, spread: Spread):
    """Worm and straight gears together, motor to axle [-]."""
    thread = worm_of(state)
    gears = spread.factor("gear mesh efficiency", *GEAR_MESH) ** (len(state.gears) - 1)
    return gears * worm.efficiency(
        lead_angle=thread.lead_angle,
        friction=friction,
        pressure_angle=state.mesh.pressure_angle.value,
    )


def _assemble(motor_part: Motor, state: State, common: Common, **frictions) -> Drive:
    wheel = flywheel_of(state)
    return Drive(
        motor=motor_part,
        gear_ratio=gear_ratio(state),
        wheel_diameter=common.wheel_diameter,
        flywheel_inertia=wheel.inertia if wheel else 0.0,
        engine_mass=common.engine_mass,
        train_mass=common.train_mass,
        mass_on_drivers=common.mass_on_drivers,
        adhesion=common.adhesion,
        scale=common.scale,
        **frictions,
    )


def measured_drive(
    sheet: BenchSheet, state: State, measured: Measured, constants: Motor, common, spread, name
) -> Drive | None:
    """The drive that the readings on the track show; None where there are too few."""
    runs = measured.metered_runs
    if len(runs) < 4 or not measured.starting_voltage:
        return None
    fitted = calibrate.drive_friction(
        runs,
        constants,
        gear_ratio(state),
        sheet.locomotive.driver_diameter.value,
        sheet.instruments.stopwatch.value,
        spread,
        name,
    )
    starts = measured.starting_voltage
    # several starts tell by their scatter how far one can be off; one alone does not
    alone = 2 * BREAKAWAY * starts[0].value if len(starts) == 1 and not starts[0].spread else 0.0
    start = spread.mean(f"{name} starting voltage", starts, alone)
    return _assemble(
        constants,
        state,
        common,
        starting_friction=constants.torque_constant
        * motor.stall_current(voltage=start, resistance=constants.resistance),
        running_friction=fitted.running,
        damping=fitted.damping,
        efficiency=fitted.efficiency,
    )


def planned_drive(state: State, constants: Motor, common: Common, spread: Spread) -> Drive:
    """The drive that the plan promises, before a chip is cut."""
    low, high = worm_friction(state)
    moving = spread.factor("worm friction, planned", low, high)
    efficiency = mesh_efficiency(state, moving, spread)
    side = side_friction(state, spread, "planned")
    lever = common.wheel_diameter / 2 / gear_ratio(state)
    running = constants.friction_torque + side + common.rolling_force * lever / efficiency
    stiction = spread.factor("stiction", *STICTION)
    own = constants.friction_torque * stiction
    if state.motor.starting_voltage:
        start = spread.reading("planned motor alone starts at", state.motor.starting_voltage)
        own = constants.torque_constant * motor.stall_current(
            voltage=start, resistance=constants.resistance
        )
    at_rest = mesh_efficiency(state, np.maximum(moving, high), spread)
    starting = own + side * stiction + common.rolling_force * stiction * lever / at_rest
    return _assemble(
        constants,
        state,
        common,
        starting_friction=starting,
        running_friction=running,
        damping=spread.factor("drag with speed, planned", *GREASE_DRAG),
        efficiency=efficiency,
    )
