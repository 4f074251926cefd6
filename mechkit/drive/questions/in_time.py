"""The bench sheet's two drives on one throttle, in time: what starts, swings, hums and rolls on."""

from mechkit import gear_sizes, runout, scale
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.motion.detail import Detail, Shaft
from mechkit.drive.motion.simulate import before_and_after
from mechkit.drive.motion.supply import Supply, cut, ramp, steady
from mechkit.drive.motion.traces import Motion
from mechkit.drive.sheet.schema import State
from mechkit.units import System, show

#: How long the throttle opens, stays, and is shut [s]: long enough for several wheel turns.
OPENS, STAYS, SHUT = 3.0, 6.0, 4.0


def detail_of(known: Knowledge, state: State) -> Detail:
    """What the sheet says of a state that only time needs.

    Gears swing the speed by their runout, an idler at both of its meshes, on opposite sides
    because the sheet has no key for another place; their friction's swing and the cogging are
    not on the sheet and left out.
    """
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
    return Detail(shafts=shafts)


def both(known: Knowledge, voltage: float) -> tuple[Motion, Motion]:
    """As it is and as planned: the throttle opened to a voltage, held, and the power cut."""
    throttle = Supply((ramp(0.0, voltage, OPENS), steady(voltage, STAYS), cut(SHUT)))
    sheet = known.sheet
    return before_and_after(
        (known.before, detail_of(known, sheet.as_is)),
        (known.planned, detail_of(known, sheet.planned)),
        throttle,
    )


def tell(known: Knowledge, voltage: float, system: System = "metric") -> list[str]:
    """One line for each state, in the trade's words."""
    lines = []
    end = OPENS + STAYS
    for name, run in zip(("As it is", "As planned"), both(known, voltage), strict=True):
        start = run.starting_voltage
        if start is None:
            lines.append(f"{name}: does not start on {show(voltage, 'voltage', system)}.")
            continue
        speed = float(run.course([end]).speed[0])
        full = scale.prototype_speed(model_speed=speed, ratio=known.sheet.locomotive.scale)
        hop = run.hop(OPENS + STAYS / 3, end)
        tone = next(iter(run.tones(end).values()))
        lines.append(
            f"{name}: starts at {show(start, 'voltage', system)}, runs "
            f"{show(float(full), 'speed', system)}, hops {show(hop, 'ripple', system)} either way "
            f"once a wheel turn, its teeth hum at {tone:.0f} Hz, and rolls on "
            f"{show(run.coast_distance, 'length', system, 0 if system == 'metric' else 1)} when the power is cut."
        )
    return lines
