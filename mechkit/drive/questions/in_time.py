"""The bench sheet's two drives on one throttle, in time: what starts, swings, hums and rolls on."""

from dataclasses import replace

import numpy as np

from mechkit import gears, runout, scale
from mechkit.drive.constants.knowledge import Knowledge, nominal
from mechkit.drive.model import cogging
from mechkit.drive.model.drive import Drive
from mechkit.drive.motion.detail import Detail, Shaft
from mechkit.drive.motion.simulate import simulate
from mechkit.drive.motion.supply import Supply, cut, ramp, steady
from mechkit.drive.motion.traces import Motion
from mechkit.drive.sheet.schema import State
from mechkit.units import System, show

#: How long the throttle opens, stays, and is shut [s]: long enough for several wheel turns.
OPENS, STAYS, SHUT = 3.0, 6.0, 4.0
#: How long it is given to come to a stand, against the closed form's time, and at most [s].
PATIENCE, LONGEST = 1.6, 120.0


def detail_of(state: State, drive: Drive | None = None) -> Detail:
    """What the sheet says of a state that only time needs.

    Gears swing the speed by their runout, an idler at both of its meshes, on opposite sides
    because the sheet has no key for another place; their friction's swing is not on the sheet and
    left out, and so is cogging that nobody felt.  How strong it is hangs on the motor of the
    ``drive``; without one it does not cog.
    """
    module, angle = state.worm.module.value, state.mesh.pressure_angle.value
    shafts = tuple(
        Shaft(
            gear.name,
            turns=state.worm.starts / gear.teeth,
            teeth=gear.teeth,
            eccentricity=float(runout.eccentricity(total_runout=gear.total_runout.value)),
            base_diameter=float(
                gears.base_diameter(module=module, teeth=gear.teeth, pressure_angle=angle)
            ),
            meshes=1.0
            if gear is state.gears[-1]
            else float(runout.idler_swing(pressure_angle=angle)),
        )
        for gear in state.gears
    )
    held = cogging.felt_peak(state.motor, drive.motor, drive.full) if drive else 0.0
    return Detail(cogging=held, slots=cogging.HELD, shafts=shafts)


def smooth(drive: Drive, detail: Detail) -> Drive:
    """The drive as read without the cogging that its friction at rest holds: time adds it."""
    alone = max(drive.starting_friction - detail.cogging, drive.running_friction)
    return replace(drive, starting_friction=alone)


def patience(drive: Drive, rail_speed: float, shortest: float, shorted: bool = False) -> float:
    """How long to wait until it stands after the power has gone [s]."""
    rolls = float(np.ravel(drive.coast_time(rail_speed, shorted))[0])
    return float(np.clip(PATIENCE * rolls, shortest, LONGEST))


def both(known: Knowledge, voltage: float) -> tuple[Motion, Motion]:
    """As it is and as planned: the throttle opened to a voltage, held, and the power cut."""
    sheet = known.sheet
    drives = nominal(known.before), nominal(known.planned)
    states = sheet.as_is, sheet.planned
    ways = [(one, detail_of(state, one)) for one, state in zip(drives, states, strict=True)]
    waits = [
        patience(one, float(one.rail_speed(one.motor_speed_at(voltage))), SHUT) for one, _ in ways
    ]
    throttle = Supply((ramp(0.0, voltage, OPENS), steady(voltage, STAYS), cut(max(waits))))
    before, after = (
        simulate(smooth(drive, detail), throttle, None, detail) for drive, detail in ways
    )
    return before, after


def tell(known: Knowledge, voltage: float, system: System = "metric") -> list[str]:
    """One line for each state, in the trade's words."""
    return [
        f"{name}: {_told(known, run, voltage, system)}."
        for name, run in zip(("As it is", "As planned"), both(known, voltage), strict=True)
    ]


def _told(known: Knowledge, run: Motion, voltage: float, system: System) -> str:
    """What one of them does."""
    end = OPENS + STAYS
    start = run.starting_voltage
    if start is None:
        return f"does not start on {show(voltage, 'voltage', system)}"
    course = run.course([OPENS + STAYS / 3, end])
    speed = float(course.speed[-1])
    full = scale.prototype_speed(model_speed=max(speed, 0.0), ratio=known.sheet.locomotive.scale)
    hop, rolls = "", "is still rolling when one has looked long enough"
    turns = np.diff(course.motor_angle)[0] / (2 * np.pi * run.drive.gear_ratio)
    if turns >= 1:
        swing = show(run.hop(OPENS + STAYS / 3, end), "ripple", system)
        hop = f"hops {swing} either way once a wheel turn, "
    if run.coast_distance is not None:
        far = show(run.coast_distance, "length", system, 0 if system == "metric" else 1)
        rolls = f"rolls on {far} when the power is cut"
    tone = next(iter(run.tones(end).values()))
    return (
        f"starts at {show(start, 'voltage', system)}, runs {show(float(full), 'speed', system)}, "
        f"{hop}its teeth hum at {tone:.0f} Hz, and {rolls}"
    )
