"""What holds the parts together: sleeve and fits, springs, electrics, each with its limit."""

import numpy as np

from mechkit import fits, runout, wheels
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import workshop
from mechkit.drive.decisions.decision import Ask, Decision, Exact, fixed, judge
from mechkit.drive.decisions.findings import LEAST_SHARE
from mechkit.drive.model.parts import Material
from mechkit.drive.model.read import SLIDE
from mechkit.drive.model.suspension import SOLID_ROOM
from mechkit.units import Reading

#: Steel on brass, pressed dry: friction that holds; handbooks give 0.10 to 0.20.
PRESS_FRICTION = 0.12
#: A joint should hold so many times the torque it sees; common practice.
HOLD = 5.0
#: No sleeve is thinner over its pin than this.
LEAST_WALL = 1.02
#: A fine straight knurl, 84 to the inch, crests of 90 degrees; common practice, no source.
KNURL = {"knurl_pitch": 0.3e-3, "crest_angle": np.pi / 2}
#: What is left where a press fit is too narrow to turn.
KNURLED = (
    " If no compound may be used: crests raised on the shaft under a file (glasses on, the shaft on "
    "a hard block and never in its bearings) hold from {bitten} over the bore and yield the sleeve "
    "at {burst}."
)
#: What a quartering jig made at the bench holds [rad]; common practice, no source.
JIG = np.radians(2.0)


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of sleeve, springs, rods and electrics."""
    found: dict[str, Ask] = {}
    if known.sheet.planned.adapter:
        found["bond"] = sleeve
    if known.sheet.planned.springs.kind == "sprung":
        found["springs"] = springs
    if known.sheet.locomotive.crankpin_clearance:
        found["rods"] = quartering
    return found | {"electrics": electrics}


def sleeve(known: Knowledge) -> list[Decision]:
    """How the worm is held, and how true."""
    return [hold(known), press(known), true(known)]


def springs(known: Knowledge) -> list[Decision]:
    """What the drivers are to ride on."""
    table = known.sheet.planned.springs
    decided = [share(known)]
    decided += [sag(known), stress(known)] if table.travel else []
    return decided + ([solid(known)] if table.travel and table.free_length else [])


def _stall(known: Knowledge):
    """The most torque that the joint can ever see [N*m]."""
    return known.planned.motor.stall_torque(known.sheet.supply.voltage.value)


def _finely(known: Knowledge, name: str, reading: Reading):
    """A diameter that is worth the micrometer, with its draws [m]."""
    tools = known.sheet.instruments
    return known.spread.reading(name, reading, (tools.micrometer or tools.caliper).value)


def _pin(known: Knowledge):
    """The motor's shaft in its sleeve [m]."""
    return _finely(known, "shaft of the motor", known.sheet.planned.motor.shaft_diameter)


def hold(known: Knowledge) -> Decision:
    """Bonded sleeve against the stalled motor."""
    table = known.sheet.planned.adapter
    assert table
    shaft, length = _pin(known), known.size("length of the sleeve", table.length)
    strength = known.spread.reading("bond strength", table.bond_strength)
    bonded = fits.bond_torque(shear_strength=strength, diameter=shaft, length=length)
    part = workshop.adapter(known.sheet)
    assert part
    return judge(
        known.spread,
        "bond",
        value=bonded,
        limit=HOLD * _stall(known),
        length=known.spread.band(length, "length"),
        stall=known.spread.band(_stall(known), "torque"),
        bore=part.sizes["bore"],
        outside=part.sizes["outside"],
    )


def press(known: Knowledge) -> Decision:
    """Whether a press fit could be made with these instruments."""
    table = known.sheet.planned.adapter
    assert table
    shaft, length = _pin(known), known.size("length of the sleeve", table.length)
    bore = _finely(known, "bore of the worm", known.sheet.planned.worm.bore)
    sleeve, steel = Material(table.material), Material("steel")
    pair = {
        "diameter": shaft,
        "hub_outer": np.maximum(bore, LEAST_WALL * shaft),
        "hub_modulus": sleeve.elastic_modulus,
        "hub_poisson": sleeve.poisson,
        "shaft_modulus": steel.elastic_modulus,
        "shaft_poisson": steel.poisson,
    }
    name = {"soft": "soft brass", "half hard": "half-hard brass"}[table.temper]
    metal = Material(name if table.material == "brass" else "steel")
    strength, torque = metal.yield_strength, HOLD * _stall(known)
    window = fits.yield_interference(yield_strength=strength, **pair)
    needed = fits.interference_for_torque(
        torque=torque,
        length=length,
        friction=PRESS_FRICTION,
        **pair,
    )
    bitten, burst = fits.knurl_window(
        torque=torque,
        length=length,
        friction=PRESS_FRICTION,
        yield_strength=strength,
        hardness=metal.hardness,
        **KNURL,
        **pair,
    )
    narrow = window[0] - needed[0] < 2 * workshop.tolerance(known.sheet)
    least, most = fits.fit_interference(
        diameter=known.sheet.planned.motor.shaft_diameter.value, hole_class="H7", shaft_class="p6"
    )
    return judge(
        known.spread,
        "press",
        case="narrow" if narrow else "wide",
        value=window - needed,
        limit=2 * workshop.tolerance(known.sheet),
        needed=known.spread.band(needed, "micron"),
        window=known.spread.band(window, "micron"),
        least=fixed(float(least), "micron"),
        most=fixed(float(most), "micron"),
        bitten=known.spread.band(bitten, "micron"),
        burst=known.spread.band(burst, "micron"),
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
    planned = known.springs_planned
    return judge(
        known.spread,
        "springs",
        value=planned.share,
        limit=LEAST_SHARE,
        rate=known.spread.band(planned.rate, "rate"),
        rough=known.spread.band(planned.unevenness, "length"),
    )


def sag(known: Knowledge) -> Decision:
    """Where the axles sit in their slots, and the worst of them."""
    planned, band = known.springs_planned, known.spread.band
    read = planned.as_read
    axle, state = int(np.argmin(read.spares)), "rides"
    if read.free_ride.min() <= 0:
        axle, state = int(np.argmin(read.free_ride)), "stands rigid on its lower stop,"
    elif read.free_ride.max() >= read.travel:
        axle, state = int(np.argmax(read.free_ride)), "has sunk onto its upper stop,"
    least, most = read.preloads
    return judge(
        known.spread,
        "ride height",
        case="softer" if most < 0 else "longer" if least > most else "preload",
        value=planned.spare,
        limit=planned.unevenness,
        axle=axle + 1,
        state=state,
        preload=band(planned.preload, "length"),
        load=band(planned.level_loads[:, axle], "force"),
        own=band(planned.unsprung, "force"),
        sits=band(planned.ride[:, axle], "length"),
        travel=band(planned.travel, "length"),
        least=Exact(float(least), "length"),
        most=Exact(float(most), "length"),
        slot=fixed(float(read.least_travel), "length"),
        softest=fixed(float(read.most_rate), "rate"),
    )


def stress(known: Knowledge) -> Decision:
    """Wire stress with an axle at its upper stop."""
    planned = known.springs_planned
    return judge(
        known.spread,
        "spring stress",
        value=planned.stress,
        limit=planned.allowed_stress,
        force=known.spread.band(planned.force_at_stop, "force"),
    )


def solid(known: Knowledge) -> Decision:
    """Length that is left before the coils touch, with an axle at its upper stop."""
    planned = known.springs_planned
    return judge(
        known.spread,
        "solid",
        value=planned.pressed,
        limit=SOLID_ROOM * planned.solid,
        least=known.spread.band(planned.solid, "length"),
    )


def quartering(known: Knowledge) -> Decision:
    """What the rods' holes forgive against what a jig holds."""
    clearance, throw = known.crankpin_clearance, known.crank_throw
    return judge(
        known.spread,
        "rods",
        value=wheels.forgiven_quartering(crankpin_clearance=clearance, crank_throw=throw),
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
