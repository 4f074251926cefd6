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
        "Adapter and fits",
        "Does the bonded sleeve hold the worm?",
        value=bonded,
        limit=HOLD * _stall(known),
        kind="torque",
        sense="at least",
        finding="Retaining compound over {length} holds {value}; the stalled motor gives "
        "{stall}. Bore {bore}, outside {outside}.",
        action="Degrease both, bond with the shaft's other end supported, let it cure; hot "
        "(about 150 °C) it lets go again. Gloves, air, and the maker's sheet.",
        notebook="fits",
        reason="Five times the stall torque covers a thin or hungry joint (common practice).",
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
        "Adapter and fits",
        "Could you press it instead?",
        value=float(window - needed),
        limit=2 * workshop.tolerance(known.sheet),
        kind="micron",
        sense="at least",
        finding="{needed} of interference would hold it, and at {window} the sleeve yields: a "
        "window of {value}. Your lathe and instruments hold {limit}; a standard H7/p6 spans "
        "{least} to {most}.",
        action="Do not size a press fit by numbers here: bond it, or match it to the part. Never "
        "press through the motor's bearings." + (KNURLED if narrow else ""),
        notebook="fits",
        reason="A tolerance finer than the instruments is a wish.",
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
        "Adapter and fits",
        "Does the worm run true on its sleeve?",
        value=known.spread.reading(
            "gaps of the sleeve",
            Reading(2 * SLIDE, 2 * (2 / 3) ** 0.5 * workshop.tolerance(known.sheet)),
        ),
        limit=0.5
        * runout.binding_runout(
            backlash=known.backlash_planned, pressure_angle=mesh.pressure_angle.value
        ),
        kind="fine",
        sense="at most",
        finding="If both gaps close on the same side the worm swings {value} on the indicator; "
        "half of what would bind the mesh is {limit}.",
        action="Cure it between centers or in a V-block, and turn it under the indicator while "
        "the compound is still wet.",
        notebook="fits",
        reason="The worm may use up half of what the backlash forgives, the gear the other half.",
    )


def share(known: Knowledge) -> Decision:
    """The lightest driver on the worst joint."""
    rate = float(known.rates(known.sheet.planned.springs)[0])
    return judge(
        known.spread,
        "springs",
        "Springs",
        "Do all drivers stay on the rail?",
        value=float(np.min(joint_loads(known, known.rates(known.sheet.planned.springs))))
        / mean_load(known),
        limit=LEAST_SHARE,
        kind="percent",
        sense="at least",
        finding="{rate} an axle: on a joint of {rough} the lightest driver keeps {value} of its "
        "share.",
        action="Softer springs follow more; they need more travel.",
        notebook="springs",
        reason="A quarter of its share keeps a wheel picking up (common practice).",
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
        "Springs",
        "Is there travel both ways?",
        value=min(sits, travel - sits),
        limit=known.sheet.track.rail_unevenness.value,
        kind="length",
        sense="at least",
        finding="Pre-compressed by {preload}, each axle rides {sits} above its lower stop under "
        "{load}, in a slot of {travel}: {value} on the shorter side.",
        action="Shim under the springs lowers it, a weaker spring raises it; aim at mid-slot.",
        notebook="springs",
        reason="The shorter side must take the worst joint.",
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
        "Springs",
        "Do the springs keep their length?",
        value=springs.coil_shear_stress(
            force=force,
            wire_diameter=table.wire_diameter.value,
            mean_diameter=table.mean_diameter.value,
        ),
        limit=float(spring_stock.allowable_shear_stress(tensile_strength=strength)),
        kind="stress",
        sense="at most",
        finding="At the upper stop each spring carries {force}: {value} in the wire.",
        action="Thicker wire on a larger coil if not. Wear glasses: small springs fly.",
        notebook="springs",
        reason="45 % of the wire's strength (Shigley).",
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
        "Springs",
        "Do the coils touch before the axle stops?",
        value=pressed,
        limit=1.1 * float(least),
        kind="length",
        sense="at least",
        finding="At the upper stop the spring is {value} long; its coils touch at {least}.",
        action="A longer pocket or fewer coils if not.",
        notebook="springs",
        reason="A tenth to spare, so that the stop stops it and not the spring.",
        least=fixed(float(least), "length"),
    )


def quartering(known: Knowledge) -> Decision:
    """What the rods' holes forgive against what a jig holds."""
    clearance, throw = known.crankpin_clearance, known.crank_throw
    return judge(
        known.spread,
        "rods",
        "Running gear",
        "Do the rods forgive how the wheels are quartered?",
        value=rods.forgiven_quartering(crankpin_clearance=clearance, crank_throw=throw),
        limit=JIG,
        kind="angle",
        sense="at least",
        finding="{clearance} of play on a throw of {throw} forgives {value} between two axles; a "
        "jig made at the bench holds {limit}.",
        action="A bind of the rods comes twice a wheel turn, a gear's once: take the rods off to "
        "tell. Ease a tight hole with a broach, the least that frees it.",
        notebook="gears",
        reason="Both rods are tightest together, with the cranks at 45 degrees.",
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
        "Electrics",
        "Is the motor clear of the live frame?",
        value=touching,
        limit=0.5,
        kind="number",
        sense="at most",
        finding="{state} Stalled at full throttle the motor would draw {stall}.",
        action="Meter from each brush to the frame before power. If it runs backward, swap the "
        "two wires; one more mesh, or the motor turned end for end, turns it round too.",
        notebook="rebuild",
        reason="One rail reaches the frame.",
        state="A brush reaches the case and the frame is live: insulate it."
        if touching
        else "Brushes and frame are apart.",
        stall=known.spread.band(known.sheet.supply.voltage.value / current.resistance, "current"),
    )
