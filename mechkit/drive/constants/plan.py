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
from mechkit.drive.model.spread import Spread
from mechkit.drive.model.train import GEAR_MESH, Train
from mechkit.drive.sheet.schema import State

#: Friction of the oiled bearings that a bent shaft rubs in, common practice.
BEARING_FRICTION = (0.10, 0.16)
#: Real bearings have clearance and real shafts, beds and sleeves give: the share of what rigid
#: ones would rub with; common practice, no source.
GIVES = (0.05, 1.0)
#: No part of the gearbox takes more than this share of what the whole was measured to take.
MOST = 0.9
#: What fresh grease makes of the drag, and another motor; common practice, no source.
NEW_GREASE, NEW_MOTOR = (0.35, 1.9), (0.6, 1.4)
#: Torque at rest over torque in motion, of a motor that was never started alone; and the most
#: that any part can have.
STICTION, MOST_STICTION = (1.1, 1.6), 3.0
#: One breakaway to the next, relative standard error; common practice, no source.
BREAKAWAY = 0.03
#: The worst grease first.
GREASES = ("dry", "starved", "greased")
#: Friction of a mesh lies within the table's band, and as far outside again; a factor, common
#: practice, no source.
BEYOND = 1.6


@dataclass(frozen=True)
class Side:
    """A state's part of the drive: its motor, train and alignment, and the flywheel's inertia."""

    state: State
    motor: Motor
    train: Train
    offset: Amount
    bearing_span: float
    flywheel_inertia: Amount
    motor_stiction: Amount | None


def friction_of_bend(side: Side, friction):
    """Friction of a shaft that rigid bearings bend, all three of them [N*m]."""
    state = side.state
    return alignment.friction_torque(
        friction=friction,
        offset=side.offset,
        bearing_span=side.bearing_span,
        span=state.alignment.span.value,
        shaft_diameter=state.motor.shaft_diameter.value,
        elastic_modulus=Material("steel").elastic_modulus,
    )


def bend(before: Drive, side: Side, spread: Spread):
    """Friction of the bent shaft as it is [N*m]: bounded by what the gearbox was measured to take."""
    rigid = friction_of_bend(side, spread.factor("bearing friction", *BEARING_FRICTION))
    gives = spread.factor("how far bearings give", *GIVES)
    box = np.maximum(before.inner_friction - side.motor.friction_torque, 0.0)
    return np.minimum(gives * rigid, MOST * box)


def planned_drive(before: Drive, old: Side, new: Side, spread: Spread) -> Drive:
    """The measured engine with another motor, train, alignment, grease or flywheel."""
    through, back = _losses(before, old.train, new.train, spread)
    rolling = before.rolling_force * before.wheel_diameter / 2 / new.train.ratio / through
    box = np.maximum(before.inner_friction - old.motor.friction_torque, 0.0)
    more_bend = _straightened(before, old, new, spread)
    # what lies behind the motor: gearbox and train
    change = np.maximum(more_bend, -MOST * box) + rolling - before.rolling_torque
    running = (
        before.running_friction + new.motor.friction_torque - old.motor.friction_torque + change
    )
    own, own_new = (_at_rest(before, old, side, spread) for side in (old, new))
    behind = np.maximum(before.running_friction - old.motor.friction_torque, 1e-9)
    stiction = np.clip((before.starting_friction - own) / behind, 1.0, MOST_STICTION)
    starting = before.starting_friction + own_new - own + stiction * change
    drag = 1.0
    if new.train.lubrication != old.train.lubrication:
        drag = drag * spread.factor("drag of fresh grease", *NEW_GREASE)
    if new.motor is not old.motor:
        drag = drag * spread.factor("drag of another motor", *NEW_MOTOR)
    return replace(
        before,
        motor=new.motor,
        gear_ratio=new.train.ratio,
        flywheel_inertia=new.flywheel_inertia,
        running_friction=running,
        starting_friction=np.maximum(starting, running),
        damping=before.damping * drag,
        efficiency=through,
        back_efficiency=back,
        lost_motion=new.train.lost_motion(before.wheel_diameter),
    )


def _losses(before: Drive, old: Train, new: Train, spread: Spread):
    """Mesh efficiency both ways: as measured where the worm pair stays as it is."""
    straight = spread.factor("gear mesh efficiency", *GEAR_MESH)
    if new.same_worm_mesh(old):
        if new.same_bearing(old) and len(new.gears) == len(old.gears):
            return before.efficiency, before.back
        friction = old.friction(before.efficiency, straight)
    else:
        low, high = new.friction_band[0] / BEYOND, new.friction_band[1] * BEYOND
        if new.same_worm_pair(old):
            # better grease rubs no more than was measured, worse grease no less
            was = old.friction(before.efficiency, straight)
            better = GREASES.index(new.lubrication) > GREASES.index(old.lubrication)
            bound = np.minimum if better else np.maximum
            low, high = bound(low, was), bound(high, was)
        pair = f"{new.worm.material} on {new.gears[0].material}, {new.lubrication}"
        friction = spread.factor(f"worm friction, {pair}", low, high)
    through = new.efficiency(friction, straight)
    return through, new.back_efficiency(through, straight)


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
    return spread.factor("stiction of the new motor", *STICTION) * side.motor.friction_torque
