"""The sheet's tables read into parts, once; nothing above opens the tables for a size again."""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from mechkit.drive.model.parts import Amount, Flywheel, Gear, Material, Worm
from mechkit.drive.model.spread import Spread, doubt
from mechkit.drive.model.train import Train
from mechkit.drive.sheet.schema import BenchSheet, InstrumentsTable, State
from mechkit.drive.sheet.standing_in import or_stand_in
from mechkit.units import Reading

#: How a size is asked for: its name in a band, what stands in the sheet, and the finest that its
#: instrument reads [m].
Ask = Callable[[str, Reading, float], Amount]

#: Free space on the diameter for a part that slides on by hand; common practice.
SLIDE = 0.03e-3  # m
#: Free length between flywheel and motor where no flywheel is planned; common practice.
NEAR = 3.0e-3  # m
#: Where the worm's own backlash was not felt: from half to twice that of the last pair; common
#: practice, no source.
LIKE = (0.5, 2.0)
#: How far off a bar's density can be, relative standard error: heavy alloys come in grades
#: [kg/m^3 and more]; common practice.
METAL, HEAVY = {"brass": 0.004, "tungsten alloy": 0.02}, 12000.0
#: What the flywheel's sizes are called where a band comes from them.
OUTSIDE, WIDTH = "outside of the flywheel", "width of the flywheel"


def as_read(name: str, reading: Reading, finest: float = 0.0) -> Amount:
    """A size without draws."""
    return reading.value


def places_of(sheet: BenchSheet, ask: Ask = as_read) -> list[Amount]:
    """The driven axles behind the first, from which they are counted [m]."""
    caliper = sheet.instruments.caliper.value
    return [
        ask(f"place of axle {n}", at, caliper) if at.value else 0.0
        for n, at in enumerate(sheet.locomotive.driver_axles, 1)
    ]


@dataclass(frozen=True)
class Wheels:
    """Drivers, axles and side rods, as far as a part of the drive can strike them [m]."""

    tread: Amount
    axle: Amount
    throw: Amount
    backs: Amount
    rods: Amount
    rod: Amount


def wheels_of(sheet: BenchSheet, ask: Callable[[str, Reading], Amount] = as_read) -> Wheels:
    """The running gear; what was not measured of its width is assumed."""
    engine = sheet.locomotive

    def sized(name: str, key: str):
        return ask(name, or_stand_in(sheet, f"locomotive.{key}"))

    return Wheels(
        tread=ask("driver diameter", engine.driver_diameter),
        axle=ask("diameter of the driver axles", engine.axle_diameter),
        throw=ask("crank throw", engine.crank_throw),
        backs=sized("width between the drivers", "back_to_back"),
        rods=sized("width between the side rods", "rods_apart"),
        rod=sized("depth of the side rods", "rod_depth"),
    )


def slid_on(shaft):
    """Bore that slides on a shaft with room for compound [m], up to what a caliper shows."""
    return np.ceil((shaft + SLIDE) * 1e5 - 1e-6) / 1e5


def wheel_gap(state: State, ask: Callable[[str, Reading], Amount] = as_read) -> Amount:
    """Free length between the flywheel and the bearing it hangs out from [m]."""
    wheel = state.flywheel
    if wheel is None:
        return NEAR
    overhang, width = ask("overhang of the flywheel", wheel.overhang), ask(WIDTH, wheel.width)
    return np.maximum(overhang - width / 2, 0.0)


def finest_runout(tools: InstrumentsTable) -> float:
    """The finest that a runout can be read [m]."""
    return (tools.indicator or tools.caliper).value


def worm_of(state: State) -> Worm:
    """The worm of a state as a part."""
    table = state.worm
    return Worm(
        material=table.material,
        starts=table.starts,
        module=table.module.value,
        outside_diameter=table.outside_diameter.value,
        length=table.length.value,
        bore=table.bore.value,
    )


def gears_of(state: State, tools: InstrumentsTable, spread: Spread) -> list[Gear]:
    """The gears of a state as parts; runout is as uncertain as the indicator."""
    finest, caliper = finest_runout(tools), tools.caliper.value
    return [
        Gear(
            name=gear.name,
            teeth=gear.teeth,
            material=gear.material,
            outside_diameter=spread.reading(
                f"outside of the {gear.name}", gear.outside_diameter, caliper
            ),
            face_width=spread.reading(f"face of the {gear.name}", gear.face_width, caliper),
            total_runout=spread.reading(f"runout of the {gear.name}", gear.total_runout, finest),
        )
        for gear in state.gears
    ]


def train_of(state: State, tools: InstrumentsTable, spread: Spread) -> Train:
    """Worm and gears of a state, with what is lost between them.

    A module and a pressure angle are what the cutter was marked with: they are off only where he
    says so.
    """
    thread, caliper = state.worm, tools.caliper.value
    return Train(
        worm=Worm(
            material=thread.material,
            starts=thread.starts,
            module=spread.reading("module of the worm", thread.module),
            outside_diameter=spread.reading(
                "outside of the worm", thread.outside_diameter, caliper
            ),
            length=spread.reading("length of the worm", thread.length, caliper),
            bore=spread.reading("bore of the worm", thread.bore, caliper),
        ),
        gears=gears_of(state, tools, spread),
        pressure_angle=spread.reading("pressure angle", state.mesh.pressure_angle),
        lubrication=state.mesh.lubrication,
        backlash=spread.reading("backlash", state.mesh.backlash),
        end_play=spread.reading("end play of the worm", thread.end_play, caliper),
        thrust_bearing=thread.thrust_bearing,
        worm_backlash=spread.reading("backlash at the worm", state.mesh.worm_backlash)
        if state.mesh.worm_backlash and len(state.gears) > 1
        else None,
    )


def worm_play(train: Train, spread: Spread):
    """Backlash of the gear under the worm [m]: as felt, or assumed from that of the last pair."""
    if len(train.gears) == 1:
        return train.backlash
    if train.worm_backlash is not None:
        return train.worm_backlash
    return train.backlash * spread.factor("backlash at the worm, not felt", *LIKE)


def nominal_train(state: State) -> Train:
    """The same as read, without draws."""
    gears = [
        Gear(
            gear.name,
            gear.teeth,
            gear.material,
            gear.outside_diameter.value,
            gear.face_width.value,
            gear.total_runout.value,
        )
        for gear in state.gears
    ]
    return Train(
        worm=worm_of(state),
        gears=tuple(gears),
        pressure_angle=state.mesh.pressure_angle.value,
        lubrication=state.mesh.lubrication,
        backlash=state.mesh.backlash.value,
        end_play=state.worm.end_play.value,
        thrust_bearing=state.worm.thrust_bearing,
        worm_backlash=state.mesh.worm_backlash.value
        if state.mesh.worm_backlash and len(state.gears) > 1
        else None,
    )


def flywheel_of(state: State) -> Flywheel | None:
    """The flywheel of a state as a part, if there is one."""
    table = state.flywheel
    if table is None:
        return None
    return Flywheel(
        outer=table.outside_diameter.value,
        width=table.width.value,
        bore=max(table.bore.value, float(slid_on(state.motor.shaft_diameter.value))),
        density=Material(table.material).density,
    )


def flywheel_error(state: State, wheel: Flywheel, tools: InstrumentsTable) -> float:
    """How far off a flywheel's inertia can be: its sizes, as turned or as read, and its metal."""
    table, finest = state.flywheel, max(tools.lathe.value, tools.caliper.value) / 2
    assert table
    dense = METAL["tungsten alloy" if wheel.density > HEAVY else "brass"]
    across, wide = (each.sigma or finest for each in (table.outside_diameter, table.width))
    core = (wheel.bore / wheel.outer) ** 4 * doubt(table.bore)
    return math.hypot(4 * across / wheel.outer, wide / wheel.width, 4 * core, dense)


def gear_ratio(state: State) -> float:
    """Turns of the motor for one of the axle; idlers between do not count."""
    return state.gears[-1].teeth / state.worm.starts


#: Digits in which two units say the same size.
DIGITS = 12


def values(part, table=None):
    """A table by what it says and not by how it is written: two that are equal are one part.

    ``table`` is the kind of table whose keys count; the part's own where left out.
    """
    if hasattr(part, "value"):
        return tuple(float(f"{number:.{DIGITS}g}") for number in (part.value, part.spread))
    if hasattr(part, "model_fields_set"):
        return {name: values(getattr(part, name)) for name in (table or type(part)).model_fields}
    if isinstance(part, list | tuple):
        return [values(each) for each in part]
    return part
