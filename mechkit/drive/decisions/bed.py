"""A soft bed under the motor: the side load that it leaves, where it shakes, what travel asks of it."""

from math import sqrt

import numpy as np

from mechkit import alignment
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.constants.plan import BEARING_FRICTION
from mechkit.drive.decisions.cures import safely
from mechkit.drive.decisions.decision import Ask, Cure, Decision, fixed, judge
from mechkit.drive.model.parts import Amount, Material
from mechkit.names import STANDARD_GRAVITY

#: Of the motor's own friction, what its bent shaft may add; common practice.
SHARE = 0.5
#: A bed keeps shaking from the frame from so many times its resonance on.
QUIET = sqrt(2.0)


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of a soft bed, where it was tried."""
    return {"bed": bed} if known.sheet.planned.bed else {}


def bed(known: Knowledge) -> list[Decision]:
    """Whether it is soft enough for the shaft, and keeps what shakes from the frame."""
    return [gives(known), shakes(known)]


def rate(known: Knowledge) -> Amount:
    """Stiffness of the bed, by a weight and how far it sank [N/m]."""
    table = known.sheet.planned.bed
    assert table
    laid = known.spread.reading("weight laid on the motor", table.weight)
    return laid * STANDARD_GRAVITY / known.size("how far the motor sinks", table.sinks)


def _shaft(known: Knowledge) -> tuple[Amount, Amount]:
    """Offset of the shaft, and its stiffness [m], [N/m]."""
    side = known.side(known.sheet.planned)
    stiff = alignment.shaft_rate(
        span=side.span,
        shaft_diameter=side.shaft_diameter,
        elastic_modulus=Material("steel").elastic_modulus,
    )
    return side.offset, stiff


def gives(known: Knowledge) -> Decision:
    """The side load that is left, by what it rubs in the motor's bearings."""
    offset, stiff = _shaft(known)
    soft = rate(known)
    load = alignment.soft_side_load(offset=offset, shaft_rate=stiff, bed_rate=soft)
    shaft = known.size("shaft of the new motor", known.sheet.planned.motor.shaft_diameter)
    rubs = known.spread.factor("bearing friction", *BEARING_FRICTION) * shaft / 2
    limit = SHARE * known.planned.motor.friction_torque
    rough = known.springs_planned.unevenness
    return judge(
        known.spread,
        "bed",
        value=load * rubs,
        limit=limit,
        cure=lambda: _softer(offset, stiff, limit / rubs),
        load=known.spread.band(load, "force"),
        hard=known.spread.band(offset * stiff, "force"),
        rate=known.spread.band(soft, "rate"),
        travel=known.spread.band(rough * soft, "force"),
    )


def _softer(offset: Amount, stiff: Amount, load: Amount) -> Cure:
    """The stiffness at which the load is small enough: what shaft and bed may be together, less the shaft."""
    given = np.maximum(offset / load - 1 / stiff, 1e-12)
    return "softer", {"needed": fixed(safely(1 / given, most=False), "rate")}


def shakes(known: Knowledge) -> Decision:
    """The bed's resonance against the motor at full throttle, where it shakes most."""
    table = known.sheet.planned.bed
    assert table
    carried = known.spread.reading("weight of the motor", table.carries)
    resonance = alignment.bed_resonance(mass=carried, bed_rate=rate(known))
    top = known.planned.motor_speed_at(known.sheet.supply.voltage.value)
    limit = np.maximum(top / QUIET, 1e-6)
    return judge(
        known.spread,
        "bed resonance",
        value=resonance,
        limit=limit,
        cure=lambda: ("softer", {"needed": fixed(safely(carried * limit**2, most=False), "rate")}),
        top=known.spread.band(top, "rotation"),
    )
