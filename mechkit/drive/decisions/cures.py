"""What would pass where a limit is broken: the model solved for the number in question.

Each number passes in as many of the draws as a verdict of *go* asks for.
"""

from collections.abc import Callable
from dataclasses import replace
from math import ceil
from typing import Any

import numpy as np

from mechkit import flywheel, motor, runout
from mechkit.drive.constants.knowledge import Knowledge, nominal
from mechkit.drive.decisions.decision import SAFE, Cure, Exact, fixed
from mechkit.drive.model import wearing
from mechkit.drive.model.body import body_of, radial_clearance
from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Material
from mechkit.drive.model.train import Train
from mechkit.drive.sheet.schema import State
from mechkit.units import Reading

#: Ratios that gears of this size reach: worms of up to six starts, gears of up to 200 teeth.
RATIOS = (2.0, 200.0)
#: A wheel as it is usually turned: so wide for its diameter.
SQUAT = 0.75
#: A gear so many times as wide still goes into a gearbox.
WIDEST = 2.0
#: What a small shop makes worms and gears of, the commoner first.
WORMS, GEARS = ("steel", "hardened steel"), ("brass", "bronze", "acetal")
#: Halvings of an interval at most, and the part of itself to which an edge is found: finer than
#: any page prints it.
HALVINGS, CLOSE = 24, 3e-4


def edge(passes: Callable[[float], float], broken: float, safe: float) -> float | None:
    """Nearest to ``broken`` that passes in `SAFE` of the draws; None where ``safe`` does not.

    ``passes`` gives the share of draws and grows from the one to the other.
    """
    if passes(safe) < SAFE:
        return None
    for _ in range(HALVINGS):
        if abs(safe - broken) <= CLOSE * max(abs(safe), abs(broken)):
            break
        middle = (broken + safe) / 2
        if passes(middle) < SAFE:
            broken = middle
        else:
            safe = middle
    return safe


def share(condition) -> float:
    """Share of the draws in which something holds."""
    return float(np.mean(np.ravel(condition)[1:])) if np.size(condition) > 1 else float(condition)


def safely(amounts, most: bool = True) -> float:
    """What `SAFE` of the draws stay below, or above."""
    return float(np.quantile(np.ravel(amounts), SAFE if most else 1 - SAFE))


def with_ratio(drive: Drive, ratio) -> Drive:
    """The drive with another gear ratio and the same losses in its meshes."""
    other = replace(drive, gear_ratio=ratio)
    rolling = other.rolling_torque - drive.rolling_torque
    return replace(
        other,
        running_friction=drive.running_friction + rolling,
        starting_friction=drive.starting_friction + rolling,
    )


def speed(known: Knowledge, drive: Drive) -> Cure:
    """The ratio that gives the wanted top speed, or what the motor would have to turn."""
    sheet, one = known.sheet, nominal(drive)
    wanted, volts = sheet.locomotive.top_speed.value, sheet.supply.voltage.value
    turns = one.motor_speed(wanted / sheet.locomotive.scale)
    numbers = {
        "turns": fixed(turns, "rotation"),
        "now": fixed(float(one.motor_speed_at(volts)), "rotation"),
    }
    ratios = np.linspace(*RATIOS, 1981)
    speeds = with_ratio(one, ratios).speed_at(volts)
    best = int(np.argmin(np.abs(speeds / wanted - 1)))
    if abs(speeds[best] / wanted - 1) > 0.02:
        return "motor", numbers
    return "ratio", numbers | {"needed": f"{ratios[best]:.0f}"}


def start(drive: Drive, own, limit: float) -> Cure:
    """Friction at rest that starts in time; the motor's ``own`` [N*m] may be more."""
    part = drive.motor
    held = motor.stall_current(voltage=part.left(limit), resistance=part.resistance)
    least = safely(part.torque_constant * held, most=False)
    case = "friction" if np.ravel(own)[0] < least else "motor"
    now = fixed(float(np.ravel(drive.starting_friction)[0]), "torque")
    return case, {"needed": fixed(least, "torque"), "now": now}


def _ratio(passes: Callable[[Drive], float], drive: Drive) -> str | None:
    """The next whole ratio with which something passes."""
    now = float(drive.gear_ratio)
    found = edge(lambda ratio: passes(with_ratio(drive, ratio)), now, RATIOS[1])
    return None if found is None else f"{ceil(found - 1e-6)}"


def slip(drive: Drive, volts: float, limit: float) -> Cure:
    """The ratio, or the stall torque, with which the wheels slip first."""
    ratio = _ratio(lambda one: share(one.stall_margin(volts) >= limit), drive)
    stall = fixed(limit * safely(drive.slip_torque()), "torque")
    return ("ratio", {"needed": ratio, "stall": stall}) if ratio else ("motor", {"stall": stall})


def heat(drive: Drive, thermal_resistance: float, rise: float) -> Cure:
    """The ratio, or the cooling, with which the winding stays whole at slip."""

    def room(one: Drive):
        for_ever = motor.continuous_current(
            temperature_rise=rise,
            resistance=one.motor.resistance,
            thermal_resistance=thermal_resistance,
        )
        return for_ever * one.motor.torque_constant / one.slip_torque()

    ratio = _ratio(lambda one: share(room(one) >= 1), drive)
    cooled = thermal_resistance * safely(room(drive), most=False) ** 2
    numbers = {"cooling": f"{cooled:.2g}"}
    return ("ratio", numbers | {"needed": ratio}) if ratio else ("cooling", numbers)


def _across(known: Knowledge, state: State) -> float:
    """The largest wheel that the body takes, where there is one now or it would stand [m]."""
    gap, room = known.sheet.envelope.gap.value, known.sheet.envelope
    item = next((one for one in known.layout.items if one.name == "flywheel"), None)
    if item and state.flywheel:
        return float(body_of(known.sheet).widest(item.start, item.end)) - 2 * gap
    return max(
        2 * (radial_clearance(each, room.shaft_height.value, 0.0) - gap) for each in room.rooms
    )


def _turned(drive: Drive, material: str, outer: float, width: float, bore: float) -> Drive:
    inertia = flywheel.ring_inertia(
        outer=outer, width=width, density=Material(material).density, bore=bore
    )
    return replace(drive, flywheel_inertia=inertia)


def _freed(drive: Drive, part: float) -> Drive:
    """The drive with a part of its own friction left."""
    running, starting = drive.inner_friction, drive.inner_stiction
    return replace(
        drive,
        running_friction=drive.rolling_torque + part * running,
        starting_friction=drive.rolling_torque + part * starting,
        damping=part * drive.damping,
    )


def coast(known: Knowledge, drive: Drive, state: State, limit: float, widest: float) -> Cure:
    """A wheel within the body that rolls far enough, or else the friction that would let it.

    The diameter alone first; then as wide as the body lets it; ``widest`` [m] is what there is.
    """
    rail = known.sheet.locomotive.top_speed.value / known.sheet.locomotive.scale
    wheel, bore = state.flywheel, state.motor.shaft_diameter.value
    across = _across(known, state)
    material = wheel.material if wheel else "brass"
    now = wheel.outside_diameter.value if wheel else 1.5 * bore

    def width_of(outer: float) -> float:
        return wheel.width.value if wheel else min(SQUAT * outer, max(widest, 1e-3))

    def rolls(outer: float, width: float) -> float:
        return share(_turned(drive, material, outer, width, bore).coast(rail) >= limit)

    numbers: dict[str, Any] = {"material": material}
    outer = None
    if across > now:
        outer = edge(lambda size: rolls(size, width_of(size)), now, across)
    if outer is not None:
        up = ceil(outer * 1e4 - 1e-6) / 1e4
        size = {"needed": Exact(up, "length"), "wide": Exact(width_of(up), "length")}
        return "wheel", numbers | size
    largest = max(across, now)
    wide = edge(
        lambda width: rolls(largest, width), width_of(largest), max(widest, width_of(largest))
    )
    if wide is not None:
        size = {"needed": Exact(largest, "length"), "wide": Exact(wide, "length")}
        return "wheel", numbers | size
    best = _turned(drive, material, largest, max(widest, width_of(largest)), bore)
    part = edge(lambda left: share(_freed(best, left).coast(rail) >= limit), 1.0, 1e-3)
    numbers |= {
        "needed": Exact(largest, "length"),
        "rolls": known.spread.band(best.coast(rail), "length"),
    }
    if part is None:
        return "nothing", numbers
    friction = float(np.ravel(best.inner_friction)[0])
    return "friction", numbers | {
        "friction": fixed(part * friction, "torque"), "now": fixed(friction, "torque"),
    }  # fmt: skip


def backlash(play, taken, angle) -> Cure:
    """The backlash that keeps play at the tightest tooth, or the runout for this backlash."""
    forgiven = runout.binding_runout(backlash=np.maximum(play, 0.0), pressure_angle=angle)
    return "mesh", {
        "needed": fixed(safely(taken), "fine"),
        "swing": fixed(safely(forgiven, most=False), "fine"),
    }


def contact_ratio(train: Train, limit: float) -> Cure:
    """The largest backlash that still hands over in time."""
    backlash = float(np.ravel(train.backlash)[0])
    found = edge(lambda gap: share(train.contact_ratio(gap) >= limit), backlash, 0.0)
    return ("nothing", {}) if found is None else ("backlash", {"needed": fixed(found, "fine")})


def teeth(stress, limit: float, face: float, module: float) -> Cure:
    """Face width, or module of the whole train, that carries it."""
    over = safely(stress / limit)
    return "wider", {
        "face": fixed(face * over, "length"),
        "module": fixed(module * over**0.5, "length"),  # a larger gear also sees less force
    }


def whirl(part, wheel, shaft: float, limit_of: Callable, top) -> Cure:
    """The overhang, or the shaft, that keeps it below the critical speed."""

    def passes(overhang: float) -> float:
        return share(top <= limit_of(part.whirl(overhang, wheel.bearing_span.value, shaft)))

    here = wheel.overhang.value
    found = edge(passes, here, wheel.width.value / 2)
    now = limit_of(part.whirl(here, wheel.bearing_span.value, shaft))
    thicker = {"shaft": fixed(shaft * safely(top / now) ** 0.5, "length")}
    if found is None:
        return "shaft", thicker
    return "overhang", thicker | {"needed": fixed(found, "length")}


def alignment(side, limit, offset: float) -> Cure:
    """How near to its line a shaft must stand."""
    return "offset", {"needed": fixed(offset / safely(side / limit), "fine")}


def hours(known: Knowledge, state: State, limit: float) -> Cure:
    """A wider gear, or another pair or grease, that lasts long enough."""

    def lasts(face: float) -> float:
        first = state.gears[0].model_copy(update={"face_width": Reading(face)})
        return share(
            known.life(state.model_copy(update={"gears": [first, *state.gears[1:]]})) >= limit
        )

    now = state.gears[0].face_width.value
    wider = edge(lasts, now, WIDEST * now)
    if wider is not None:
        return "wider", {"face": fixed(wider, "length")}
    worm, gear, grease = wearing.pair_of(state)
    for pair in (
        (worm, gear, "greased"),
        *((one, other, kept) for kept in (grease, "greased") for one in WORMS for other in GEARS),
    ):
        if share(known.life(state, pair) >= limit) >= SAFE:
            return "pair", {"other": f"{pair[0]} worm on {pair[1]} gear, {pair[2]}"}
    return "nothing", {}
