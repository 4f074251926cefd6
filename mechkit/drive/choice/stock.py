"""What lies in the drawer, as parts: every motor with every gear set, every wheel of every bar.

A motor with a gear set makes a drive, predicted just as the planned one; a bar gives wheels
in steps that the lathe can hold.  What a draw of chance says of one part does not depend on
what else is in the drawer.
"""

from collections.abc import Callable
from dataclasses import dataclass, fields, replace

import numpy as np

from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.constants.plan import SPAN
from mechkit.drive.model import read
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Material, Motor
from mechkit.drive.sheet.schema import (
    BenchSheet,
    FlywheelTable,
    GearSet,
    GearTable,
    State,
    StockMotor,
    WormTable,
)
from mechkit.gears import sizes
from mechkit.units import Reading

#: Taken off a bar's diameter to true the rim in one setting with the bore; common practice.
SKIM = 0.3e-3  # m
#: Taken off a bar's length to face and part off; common practice.
PART_OFF = 2.5e-3  # m
#: Wheels smaller than this are collars, and longer than this many diameters shafts.
SMALLEST, LONGEST = 6e-3, 1.5
COLLAR = 2.0  # shafts
NARROWEST = 3e-3  # m
DRAWS = 400

#: How a person reads one key that must be filled in.
WANTED = {
    "motors": "stock.motors: the sheet lists no motor to choose from; add a block [[stock.motors]]",
    "gear_sets": "stock.gear_sets: the sheet lists no gear set to choose from; add a block "
    "[[stock.gear_sets]]",
}


class NothingToChoose(ValueError):
    """Why there is no choice, in one line."""


def state_of(planned: State, motor: StockMotor, gears: GearSet) -> State:
    """The planned state with a motor and a gear set from stock, without a flywheel."""
    module = gears.axial_module
    old = planned.worm
    thread = WormTable(
        material=gears.worm_material,
        starts=gears.starts,
        module=Reading(module, text=gears.pitch),
        outside_diameter=gears.worm_diameter,
        length=gears.worm_length,
        bore=gears.worm_bore,
        end_play=old.end_play,
        thrust_bearing=old.thrust_bearing,
    )
    teeth = [("idler", gears.idler_teeth)] if gears.idler_teeth else []
    train = [
        GearTable(
            name=name,
            teeth=count,
            material=gears.gear_material if n == 0 else "brass",
            outside_diameter=Reading(float(sizes.outside_diameter(module=module, teeth=count))),
            face_width=gears.face_width,
            total_runout=planned.gears[-1].total_runout,
        )
        for n, (name, count) in enumerate([*teeth, ("axle gear", gears.wheel_teeth)])
    ]
    sleeve = planned.adapter if gears.worm_bore.value > motor.shaft_diameter.value else None
    update = {"motor": motor, "worm": thread, "gears": train, "flywheel": None, "adapter": sleeve}
    return planned.model_copy(update=update)


def span_of(motor: StockMotor) -> float:
    """Between the bearings of a motor [m]."""
    return motor.bearing_span.value if motor.bearing_span else SPAN * motor.body_length.value


def with_wheel(state: State, material, outer, width, near) -> State:
    """A state with a flywheel on its motor's shaft; a width of 0 is none."""
    if not width:
        return state
    assert isinstance(state.motor, StockMotor)
    wheel = FlywheelTable(
        material=material,
        outside_diameter=Reading(float(outer)),
        width=Reading(float(width)),
        bore=Reading(float(read.slid_on(state.motor.shaft_diameter.value))),
        off_center=Reading(0.0),
        bearing_span=Reading(span_of(state.motor)),
        overhang=Reading(float(near + width / 2)),
    )
    return state.model_copy(update={"flywheel": wheel})


@dataclass(frozen=True)
class Cuts:
    """Every wheel that the bars give; ``bar`` is -1 for no wheel at all.  Lengths in meters."""

    bar: np.ndarray
    outer: np.ndarray
    width: np.ndarray
    density: np.ndarray

    def __len__(self):
        return len(self.bar)


def cuts_of(sheet: BenchSheet, step: float) -> Cuts:
    """Wheels of every bar in steps of ``step`` [m], and none."""
    found = [np.array([[-1.0, 0.0, 0.0, 1.0]])]
    thickest = max((one.shaft_diameter.value for one in sheet.stock.motors), default=0.0)
    for n, bar in enumerate(sheet.stock.bars):
        outer = _steps(max(SMALLEST, COLLAR * thickest), bar.diameter.value - SKIM, step)
        width = _steps(NARROWEST, bar.length.value - PART_OFF, step)
        size = np.array([(d, w) for d in outer for w in width if w <= LONGEST * d + 1e-9])
        if size.size:
            density = np.full(len(size), Material(bar.material).density)
            found.append(np.column_stack([np.full(len(size), n), size, density]))
    bar, outer, width, density = np.concatenate(found).T
    return Cuts(bar.astype(int), outer, width, density)


def _steps(low, high, step):
    """Multiples of a step from ``low`` to ``high``."""
    first, last = np.ceil(low / step - 1e-6), np.floor(high / step + 1e-6)
    return np.arange(first, last + 1) * step


def finest_step(sheet: BenchSheet, step: float) -> float:
    """A step that the lathe holds: never finer than what diameter differs from diameter."""
    return max(step, 2 * sheet.instruments.lathe.value)


def drives_of(known: Knowledge) -> list[list[Drive]]:
    """The drive of every motor with every gear set, without a flywheel; draws last."""
    sheet = known.sheet
    return [
        [
            known.drive_of(state_of(sheet.planned, motor, gears), motor.name)
            for gears in sheet.stock.gear_sets
        ]
        for motor in sheet.stock.motors
    ]


def merged(drives: list[Drive], shape: Callable[[np.ndarray], np.ndarray]) -> Drive:
    """Many drives as one whose numbers are arrays; ``shape`` lays (drives, draws) out.

    A part of the draws tells two drives apart.
    """

    def number(parts, name):
        values = [np.ravel(getattr(part, name))[: DRAWS + 1] for part in parts]
        return shape(np.array([np.broadcast_to(each, (DRAWS + 1,)) for each in values]))

    motor = Motor(
        **{f.name: number([drive.motor for drive in drives], f.name) for f in fields(Motor)}
    )
    rest = {
        f.name: number(drives, f.name) for f in fields(Drive) if f.name not in {"motor", "scale"}
    }
    return Drive(motor=motor, scale=drives[0].scale, **rest)


def nominal(drives: list[list[Drive]]) -> Drive:
    """The drives as read: every number an array (motor, gear set, 1)."""
    flat = [drive for row in drives for drive in row]
    return merged(flat, lambda all_: all_[:, 0].reshape(len(drives), len(drives[0]), 1))


def drawn(drives: list[list[Drive]], motor, gears, inertia) -> Drive:
    """Some of the drives with their draws, (drive, draw), and a flywheel each."""
    chosen = [drives[m][g] for m, g in zip(motor, gears, strict=True)]
    return replace(merged(chosen, lambda all_: all_), flywheel_inertia=np.asarray(inertia)[:, None])
