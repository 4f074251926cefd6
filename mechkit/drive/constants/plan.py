"""The plan as a difference: the measured engine, with what each change makes of it.

Nothing is promised from tables that was measured on the engine: what stays costs what it was
measured to cost, no part can cost more than was measured, and a plan of nothing gives the
measured engine back.
"""

from dataclasses import dataclass, replace

import numpy as np

from mechkit import alignment
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Amount, Material, Motor
from mechkit.drive.model.read import values
from mechkit.drive.model.spread import Spread
from mechkit.drive.model.train import GEAR_MESH, Train
from mechkit.drive.sheet.schema import State
from mechkit.units import Reading

#: The span between a motor's bearings as a share of its body; common practice.
SPAN = 0.8
#: Friction of the oiled bearings that a bent shaft rubs in, common practice.
BEARING_FRICTION = (0.10, 0.16)
#: Real bearings have clearance and real shafts, beds and sleeves give: the share of what rigid
#: ones would rub with; common practice, no source.
GIVES = (0.05, 1.0)
#: No part of the gearbox takes more than this share of what the whole was measured to take.
MOST = 0.9
#: Drag of a worm of 6 mm in grease [N*m*s/rad], from thin to stiff; it goes with the worm's size
#: cubed, and a mesh with little or none drags less; common practice, no source.
GREASE_DRAG, WORM_SIZE = (0.01e-6, 3.0e-6), 6e-3
LESS = {"greased": 1.0, "starved": 0.35, "dry": 0.1}
#: What a gearbox keeps of its friction when it is put together anew; common practice, no source.
ANEW = (0.3, 1.5)
#: Torque at rest over torque in motion, of a motor that was never started alone; and the most
#: that any part can have.
STICTION, MOST_STICTION = (1.1, 1.6), 3.0
#: One breakaway to the next, relative standard error; common practice, no source.
BREAKAWAY = 0.03
#: Friction of a mesh put together anew lies within this factor of what is expected of it; common
#: practice, no source.
BEYOND = 3.5
#: A mesh that passed less than this would not turn at all.
LEAST_THROUGH = 0.01
#: No mesh was ever measured to rub less.
LEAST_FRICTION = 0.01


@dataclass(frozen=True)
class Side:
    """A state's part of the drive: its motor, train and alignment, and the flywheel's inertia."""

    state: State
    motor: Motor
    train: Train
    offset: Amount
    span: Amount
    shaft_diameter: Amount
    bearing_span: Amount
    flywheel_inertia: Amount
    motor_stiction: Amount | None
    cogging: Amount = 0.0


def friction_of_bend(side: Side, friction):
    """Friction of a shaft that rigid bearings bend, all three of them [N*m]."""
    return alignment.friction_torque(
        friction=friction,
        offset=side.offset,
        bearing_span=side.bearing_span,
        span=side.span,
        shaft_diameter=side.shaft_diameter,
        elastic_modulus=Material("steel").elastic_modulus,
    )


def bearing_span(state: State) -> tuple[Reading, float]:
    """Between the two bearings of a state's motor [m], or its body and the share of it."""
    own = getattr(state.motor, "bearing_span", None)
    if own:
        return own, 1.0
    if state.flywheel:
        return state.flywheel.bearing_span, 1.0
    return state.motor.body_length, SPAN


def bend(before: Drive, side: Side, spread: Spread):
    """Friction of the bent shaft as it is [N*m]: bounded by what the gearbox was measured to take."""
    rigid = friction_of_bend(side, spread.factor("bearing friction", *BEARING_FRICTION))
    gives = spread.factor("how far bearings give", *GIVES)
    box = np.maximum(before.inner_friction - side.motor.friction_torque, 0.0)
    return np.minimum(gives * rigid, MOST * box)


def planned_drive(before: Drive, old: Side, new: Side, spread: Spread) -> Drive:
    """The measured engine with another motor, train, alignment, grease or flywheel."""
    through, back = _losses(before, old, new, spread)
    rolling = before.rolling_force * before.wheel_diameter / 2 / new.train.ratio / through
    box = np.maximum(before.inner_friction - old.motor.friction_torque, 0.0)
    more = _straightened(before, old, new, spread)
    if opened(old, new):
        kept = spread.factor("what a gearbox put together anew keeps of its friction", *ANEW)
        more = more + (box + np.minimum(more, 0.0)) * (kept - 1)
    # what lies behind the motor: gearbox and train
    change = np.maximum(more, -box) + rolling - before.rolling_torque
    running = (
        before.running_friction + new.motor.friction_torque - old.motor.friction_torque + change
    )
    # few readings leave it open whose friction it is; motor and train take theirs in any case
    least = np.minimum(before.running_friction, new.motor.friction_torque + rolling)
    running = np.maximum(running, least)
    own, own_new = (_at_rest(before, old, side, spread) for side in (old, new))
    behind = np.maximum(before.running_friction - old.motor.friction_torque, 1e-9)
    stiction = np.clip((before.starting_friction - own) / behind, 1.0, MOST_STICTION)
    starting = before.starting_friction + own_new - own + stiction * change
    drag = before.damping - old.motor.damping
    if opened(old, new):
        drag = grease_drag(new.train, spread)
    return replace(
        before,
        motor=new.motor,
        gear_ratio=new.train.ratio,
        flywheel_inertia=new.flywheel_inertia,
        running_friction=running,
        starting_friction=np.maximum(starting, running),
        damping=new.motor.damping + np.maximum(drag, 0.0),
        efficiency=through,
        back_efficiency=back,
        crawl_efficiency=through * before.crawl_efficiency / before.efficiency,
        lost_motion=new.train.lost_motion(before.wheel_diameter),
    )


def grease_drag(train: Train, spread: Spread):
    """Drag with speed of a mesh in grease that nobody has run in it yet [N*m*s/rad]."""
    size = LESS[train.lubrication] * (train.worm.pitch_diameter / WORM_SIZE) ** 3
    return size * spread.factor(
        f"drag of the {train.lubrication} mesh, put together anew", *GREASE_DRAG
    )


def opened(old: Side, new: Side) -> bool:
    """Whether the gearbox is taken apart: anything of worm, gears or mesh is another."""
    return any(
        values(getattr(old.state, part)) != values(getattr(new.state, part))
        for part in ("worm", "gears", "mesh")
    )


def mesh_friction(before: Drive, old: Train, new: Train, straight, spread: Spread):
    """Friction of a worm mesh put together anew, from that which was measured.

    It goes with the root of what the table says of both pairs, for half of what was measured is
    how this engine was made, and lies within a factor of that.
    """
    measured = np.maximum(old.friction(before.efficiency, straight), LEAST_FRICTION)
    tabled = [float(np.prod(train.friction_band)) ** 0.25 for train in (old, new)]
    pair = f"{new.worm.material} on {new.gears[0].material}, {new.lubrication}"
    within = spread.factor(f"worm friction, {pair}", 1 / BEYOND, BEYOND)
    return measured * tabled[1] / tabled[0] * within


def _losses(before: Drive, old: Side, new: Side, spread: Spread):
    """Mesh efficiency both ways: as measured where the gearbox stays shut."""
    if not opened(old, new):
        return before.efficiency, before.back
    straight = spread.factor("gear mesh efficiency", *GEAR_MESH)
    friction = mesh_friction(before, old.train, new.train, straight, spread)
    through = np.maximum(new.train.efficiency(friction, straight), LEAST_THROUGH)
    return through, new.train.back_efficiency(through, straight)


def _straightened(before: Drive, old: Side, new: Side, spread: Spread):
    """What another alignment adds to the friction of the bent shaft, or takes from it [N*m]."""
    rubs = spread.factor("bearing friction", *BEARING_FRICTION)
    rigid, rigid_new = (friction_of_bend(side, rubs) for side in (old, new))
    gives = spread.factor("how far bearings give", *GIVES)
    share = np.minimum(rigid_new / np.maximum(rigid, 1e-12), 1e6)
    bent = bend(before, old, spread)
    return np.where(rigid > 1e-12, bent * (share - 1), gives * rigid_new)


def _at_rest(before: Drive, old: Side, side: Side, spread: Spread):
    """What the motor alone takes to break away [N*m]."""
    if side.motor_stiction is not None:
        return side.motor_stiction
    if side.motor is old.motor:
        whole = before.starting_friction / before.running_friction
        return np.clip(whole, 1.0, MOST_STICTION) * side.motor.friction_torque
    rubs = spread.factor("stiction of the new motor", *STICTION) * side.motor.friction_torque
    return rubs + side.cogging
