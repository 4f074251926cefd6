"""The bench sheet's two drives on one throttle, in time: what starts, swings, hums and rolls on."""

from dataclasses import replace

import numpy as np

from mechkit import gear_sizes, runout, scale, worm
from mechkit.drive import predict
from mechkit.drive.detail import Detail, Shaft, lost_motion
from mechkit.drive.drives import nominal
from mechkit.drive.knowledge import Knowledge
from mechkit.drive.motion import simulate
from mechkit.drive.performance import Drive
from mechkit.drive.schema import State
from mechkit.drive.supply import Supply, cut, ramp, steady
from mechkit.drive.traces import Motion
from mechkit.units import System, show

#: How long the throttle opens, stays, and is shut [s]: long enough for several wheel turns.
OPENS, STAYS, SHUT = 3.0, 6.0, 4.0
#: How long it is given to come to a stand, against the closed form's time, and at most [s].
PATIENCE, LONGEST = 1.6, 120.0
#: Share of the friction, and of the pull at slip, that rolling takes at most.
ROLLING = 0.95


def detail_of(known: Knowledge, state: State) -> Detail:
    """What the sheet says of a state that only time needs.

    Gears swing the speed by their runout, an idler at both of its meshes, on opposite sides
    because the sheet has no key for another place; their friction's swing and the cogging are
    not on the sheet and left out.  Rolling resistance acts on the train, not through the mesh as in
    `Drive`: a coast comes out some 10 % longer.
    """
    engine = known.sheet.locomotive
    module, angle = state.worm.module.value, state.mesh.pressure_angle.value
    shafts = tuple(
        Shaft(
            gear.name,
            turns=state.worm.starts / gear.teeth,
            teeth=gear.teeth,
            eccentricity=float(runout.eccentricity(total_runout=gear.total_runout.value)),
            base_diameter=float(
                gear_sizes.base_diameter(module=module, teeth=gear.teeth, pressure_angle=angle)
            ),
            meshes=1.0
            if gear is state.gears[-1]
            else float(runout.idler_swing(pressure_angle=angle)),
        )
        for gear in state.gears
    )
    play = state.mesh.backlash.value if state.mesh.backlash else 0.0
    lost = lost_motion(
        backlash=play,
        end_play=state.worm.end_play.value if state.worm.end_play else 0.0,
        worm_lead=float(worm.lead(module=module, starts=state.worm.starts)),
        worm_speed_ratio=predict.gear_ratio(state),
        wheel_diameter=engine.driver_diameter.value,
        gear_diameter=module * state.gears[-1].teeth,
    )
    rolling = float(known.common.rolling_force[0])
    return Detail(rolling_force=rolling, lost_motion=float(lost), shafts=shafts)


def runnable(drive: Drive, detail: Detail) -> tuple[Drive, Detail]:
    """A drive as read that can be run in time.

    No friction at rest is less than in motion, and none of the train's rolling is more than
    the whole drive's or than the drivers can pull, for it ran: readings that say otherwise
    scatter, and are taken as equal.
    """
    drive = nominal(drive)
    lever = drive.wheel_diameter / 2 / drive.gear_ratio
    held = drive.running_friction * drive.efficiency / lever
    most = ROLLING * min(held, float(drive.pull_at_slip))
    return (
        replace(drive, starting_friction=max(drive.starting_friction, drive.running_friction)),
        replace(detail, rolling_force=min(detail.rolling_force, most)),
    )


def patience(drive: Drive, rail_speed: float, shortest: float, shorted: bool = False) -> float:
    """How long to wait until it stands after the power has gone [s]."""
    rolls = float(np.ravel(drive.coast_time(rail_speed, shorted))[0])
    return float(np.clip(PATIENCE * rolls, shortest, LONGEST))


def both(known: Knowledge, voltage: float) -> tuple[Motion, Motion]:
    """As it is and as planned: the throttle opened to a voltage, held, and the power cut.

    Raises
    ------
    ValueError
        The readings are too few for a drive as it is.
    """
    if known.before is None:
        raise ValueError("measured_before holds too few readings for a drive as it is")
    sheet = known.sheet
    ways = (
        runnable(known.before, detail_of(known, sheet.as_is)),
        runnable(known.planned, detail_of(known, sheet.planned)),
    )
    waits = [
        patience(one, float(one.rail_speed(one.motor_speed_at(voltage))), SHUT) for one, _ in ways
    ]
    throttle = Supply((ramp(0.0, voltage, OPENS), steady(voltage, STAYS), cut(max(waits))))
    before, after = (simulate(drive, throttle, None, detail) for drive, detail in ways)
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
