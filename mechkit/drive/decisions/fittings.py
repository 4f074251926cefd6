"""What holds the parts together: sleeve and fits, springs, electrics, each with its limit."""

import numpy as np

from mechkit import fits, joints, knurl_joints, rods, runout, spring_stock, springs
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import workshop
from mechkit.drive.decisions.decision import Decision, fixed, judge
from mechkit.drive.decisions.findings import LEAST_SHARE, joint_loads, mean_load
from mechkit.drive.model.parts import Material
from mechkit.drive.model.read import SLIDE
from mechkit.units import Reading

#: Steel on brass, pressed dry: friction that holds; handbooks give 0.10 to 0.20.
PRESS_FRICTION = 0.12
#: A joint should hold so many times the torque it sees; common practice.
HOLD = 5.0
#: A fine straight knurl, 84 to the inch, crests of 90 degrees; common practice, no source.
KNURL = {"knurl_pitch": 0.3e-3, "crest_angle": np.pi / 2}
#: What is left where a press fit is too narrow to turn.
KNURLED = (
    " If no compound may be used: crests raised on the shaft under a file (glasses on, the shaft on "
    "a hard block and never in its bearings) hold from {bitten} over the bore and yield the sleeve "
    "at {burst}."
)
#: Where the table of wire begins [m]; thinner wire is stronger, and counts as this.
THINNEST = 0.1016e-3
#: What a quartering jig made at the bench holds [rad]; common practice, no source.
JIG = np.radians(2.0)


def decide(known: Knowledge) -> list[Decision]:
    """Sleeve, springs and electrics."""
    decided = []
    if known.sheet.planned.adapter:
        decided += [hold(known), press(known), true(known)]
    table = known.sheet.planned.springs
    if table.kind == "sprung":
        decided.append(share(known))
        decided += [sag(known), stress(known)] if table.travel else []
        decided += [solid(known)] if table.travel and table.free_length else []
    if known.sheet.locomotive.crankpin_clearance:
        decided.append(quartering(known))
    return [*decided, electrics(known)]


def _stall(known: Knowledge):
    """The most torque that the joint can ever see [N*m]."""
    return known.planned.motor.stall_torque(known.sheet.supply.voltage.value)


def hold(known: Knowledge) -> Decision:
    """Bonded sleeve against the stalled motor."""
    table = known.sheet.planned.adapter
    assert table
    shaft = known.sheet.planned.motor.shaft_diameter.value
    strength = known.spread.reading("bond strength", table.bond_strength)
    bonded = joints.bond_torque(shear_strength=strength, diameter=shaft, length=table.length.value)
    part = workshop.adapter(known.sheet)
    assert part
    return judge(
        known.spread,
        "bond",
        value=bonded,
        limit=HOLD * _stall(known),
        length=fixed(table.length.value, "length"),
        stall=known.spread.band(_stall(known), "torque"),
        bore=part.sizes["bore"],
        outside=part.sizes["outside"],
    )


def press(known: Knowledge) -> Decision:
    """Whether a press fit could be made with these instruments."""
    table = known.sheet.planned.adapter
    assert table
    shaft = known.sheet.planned.motor.shaft_diameter.value
    sleeve, steel = Material(table.material), Material("steel")
    pair = {
        "diameter": shaft,
        "hub_outer": known.sheet.planned.worm.bore.value,
        "hub_modulus": sleeve.elastic_modulus,
        "hub_poisson": sleeve.poisson,
        "shaft_modulus": steel.elastic_modulus,
        "shaft_poisson": steel.poisson,
    }
    name = {"soft": "soft brass", "half hard": "half-hard brass"}[table.temper]
    metal = Material(name if table.material == "brass" else "steel")
    strength, torque = metal.yield_strength, HOLD * float(_stall(known)[0])
    window = joints.yield_interference(yield_strength=strength, **pair)
    needed = joints.interference_for_torque(
        torque=torque,
        length=table.length.value,
        friction=PRESS_FRICTION,
        **pair,
    )
    bitten, burst = knurl_joints.knurl_window(
        torque=torque,
        length=table.length.value,
        friction=PRESS_FRICTION,
        yield_strength=strength,
        hardness=metal.hardness,
        **KNURL,
        **pair,
    )
    narrow = window - needed < 2 * workshop.tolerance(known.sheet)
    least, most = fits.fit_interference(diameter=shaft, hole_class="H7", shaft_class="p6")
    return judge(
        known.spread,
        "press",
        case="narrow" if narrow else "wide",
        value=float(window - needed),
        limit=2 * workshop.tolerance(known.sheet),
        needed=fixed(float(needed), "micron"),
        window=fixed(float(window), "micron"),
        least=fixed(float(least), "micron"),
        most=fixed(float(most), "micron"),
        bitten=fixed(float(bitten), "micron"),
        burst=fixed(float(burst), "micron"),
    )


def true(known: Knowledge) -> Decision:
    """How far the gaps of the sleeve can throw the worm off center."""
    mesh = known.sheet.planned.mesh
    return judge(
        known.spread,
        "true",
        value=known.spread.reading(
            "gaps of the sleeve",
            Reading(2 * SLIDE, 2 * (2 / 3) ** 0.5 * workshop.tolerance(known.sheet)),
        ),
        limit=0.5
        * runout.binding_runout(
            backlash=known.backlash_planned, pressure_angle=mesh.pressure_angle.value
        ),
    )


def share(known: Knowledge) -> Decision:
    """The lightest driver on the worst joint."""
    rate = float(known.rates(known.sheet.planned.springs)[0])
    return judge(
        known.spread,
        "springs",
        value=float(np.min(joint_loads(known, known.rates(known.sheet.planned.springs))))
        / mean_load(known),
        limit=LEAST_SHARE,
        rate=fixed(rate, "rate"),
        rough=fixed(known.sheet.track.rail_unevenness.value, "length"),
    )


def sag(known: Knowledge) -> Decision:
    """Where the axle sits in its slot."""
    table = known.sheet.planned.springs
    assert table.travel
    rate = float(known.rates(table)[0])
    load, travel = mean_load(known), table.travel.value
    sits = springs.deflection(force=load, rate=rate) - table.preload.value
    return judge(
        known.spread,
        "ride height",
        value=min(sits, travel - sits),
        limit=known.sheet.track.rail_unevenness.value,
        preload=fixed(table.preload.value, "length"),
        load=fixed(load, "force"),
        sits=fixed(sits, "length"),
        travel=fixed(travel, "length"),
    )


def stress(known: Knowledge) -> Decision:
    """Wire stress with the axle at its upper stop."""
    table = known.sheet.planned.springs
    assert table.wire_diameter and table.mean_diameter and table.travel
    each = float(known.rates(table)[0]) / table.springs_per_axle
    force = each * (table.preload.value + table.travel.value)
    wire = max(table.wire_diameter.value, THINNEST)
    strength = spring_stock.music_wire_strength(wire_diameter=wire)
    return judge(
        known.spread,
        "spring stress",
        value=springs.coil_shear_stress(
            force=force,
            wire_diameter=table.wire_diameter.value,
            mean_diameter=table.mean_diameter.value,
        ),
        limit=float(spring_stock.allowable_shear_stress(tensile_strength=strength)),
        force=fixed(force, "force"),
    )


def solid(known: Knowledge) -> Decision:
    """Length that is left before the coils touch, with the axle at its upper stop."""
    table = known.sheet.planned.springs
    assert table.free_length and table.wire_diameter and table.active_coils and table.travel
    least = springs.solid_length(
        wire_diameter=table.wire_diameter.value, total_coils=table.active_coils.value + 2
    )
    pressed = table.free_length.value - table.preload.value - table.travel.value
    return judge(
        known.spread,
        "solid",
        value=pressed,
        limit=1.1 * float(least),
        least=fixed(float(least), "length"),
    )


def quartering(known: Knowledge) -> Decision:
    """What the rods' holes forgive against what a jig holds."""
    clearance, throw = known.crankpin_clearance, known.crank_throw
    return judge(
        known.spread,
        "rods",
        value=rods.forgiven_quartering(crankpin_clearance=clearance, crank_throw=throw),
        limit=JIG,
        clearance=known.spread.band(clearance, "length"),
        throw=known.spread.band(throw, "length"),
    )


def electrics(known: Knowledge) -> Decision:
    """The motor against the frame, and what the pack must deliver."""
    motor = known.sheet.planned.motor
    touching = float(known.sheet.locomotive.frame_live and not motor.insulated)
    current = known.planned.motor
    return judge(
        known.spread,
        "electrics",
        value=touching,
        limit=0.5,
        state="A brush reaches the case and the frame is live: insulate it."
        if touching
        else "Brushes and frame are apart.",
        stall=known.spread.band(known.sheet.supply.voltage.value / current.resistance, "current"),
    )
