"""What is wrong with the engine as it stands, and how sure that is."""

import numpy as np

from mechkit import gears, rods, runout, suspension, wheelsets, worm, worm_loads
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import workshop
from mechkit.drive.decisions.decision import Decision, Exact, fixed, judge
from mechkit.drive.model.frogs import Frog
from mechkit.names import STANDARD_GRAVITY

#: A rebuilt engine starts below this; common practice.
START_LIMIT = 1.5  # V
#: Worm end play beyond this becomes a lurch; common practice (a shim is about 0.13 mm).
END_PLAY_LIMIT = 0.13e-3  # m
#: Least share of its load that keeps a wheel picking up; common practice.
LEAST_SHARE = 0.25
GROUP = "What is wrong"


def find(known: Knowledge) -> list[Decision]:
    """Every question of the first half hour at the bench, the worst first."""
    asked = [
        too_fast(known),
        late_start(known),
        hop(known),
        dead_stop(known),
        wear_away(known),
        side_load(known),
        lurch(known),
        contact(known),
    ]
    engine = known.sheet.locomotive
    if engine.frame_live:
        asked.append(insulation(known))
    if engine.quartering_error:
        asked.append(quartering(known))
    if engine.back_to_back and engine.flange_width and known.frog:
        asked.append(back_to_back(known, known.frog))
    return sorted(asked, key=lambda decision: decision.kept)


def too_fast(known: Knowledge) -> Decision:
    """Full throttle against the full-size engine's top speed."""
    sheet = known.sheet
    wanted = sheet.locomotive.top_speed.value
    return judge(
        known.spread,
        "fast",
        GROUP,
        "Does it run too fast?",
        value=known.before.speed_at(sheet.supply.voltage.value),
        limit=1.25 * wanted,
        kind="speed",
        sense="at most",
        finding="Full throttle gives {value} at scale; the engine it stands for ran {wanted}.",
        action="Fewer turns of the axle per volt: a motor with a larger torque constant, "
        "a higher ratio, or both.",
        notebook="gears",
        reason="A quarter over the full-size engine's top speed is as much as looks right.",
        wanted=fixed(wanted, "speed"),
    )


def late_start(known: Knowledge) -> Decision:
    """Starting voltage, and whose friction it is."""
    drive = known.before
    own = drive.motor.friction_torque / drive.running_friction
    return judge(
        known.spread,
        "start",
        GROUP,
        "Does it start late?",
        value=drive.starting_voltage,
        limit=START_LIMIT,
        kind="voltage",
        sense="at most",
        finding="It breaks away at {value}. Running friction at the motor is {friction}; "
        "the motor's own is {own} of it, the rest is drive.",
        action="Cut friction where it is made: alignment first, then the mesh, then the motor.",
        notebook="rebuild",
        reason="A good rebuild makes a slow pass near 3 V, so it must start well below "
        "(common practice).",
        friction=known.spread.band(drive.running_friction, "torque"),
        own=known.spread.band(own, "percent"),
    )


def hop(known: Knowledge) -> Decision:
    """Runout of the axle gear against what the backlash forgives."""
    angle = known.sheet.as_is.mesh.pressure_angle.value
    gear = known.gears_before[-1]
    off = runout.eccentricity(total_runout=gear.total_runout)
    base = gears.base_diameter(module=gear.module, teeth=gear.teeth, pressure_angle=angle)
    ripple = runout.speed_ripple(eccentricity=off, base_diameter=base)
    drive, volts = known.before, known.sheet.supply.voltage.value
    return judge(
        known.spread,
        "hop",
        GROUP,
        "Does the mesh bind once a wheel turn?",
        value=gear.total_runout,
        limit=runout.binding_runout(backlash=known.backlash_before, pressure_angle=angle),
        kind="fine",
        sense="at most",
        finding="The {gear} swings {value} on the indicator; with the backlash it has, the mesh "
        "binds above {limit}. On top, its speed swings by ±{swing} once a turn.",
        action="Bore the gear out by {stock} or more on the diameter, far enough for a bush with half "
        "a millimeter (20 thousandths) of wall, or replace it; then set the backlash again.",
        notebook="gears",
        reason="The center distance closes by half the indicator's swing. No bore cleans up with less "
        "than about 0.025 mm, a thousandth (common practice).",
        gear=gear.name,
        swing=known.spread.band(drive.hop(ripple, 1 / drive.gear_ratio, volts), "ripple"),
        stock=known.spread.band(workshop.truing_cut(gear.total_runout), "fine"),
    )


def dead_stop(known: Knowledge) -> Decision:
    """Coasting against a quarter of the train's length."""
    sheet, drive = known.sheet, known.before
    wanted = sheet.locomotive.top_speed.value
    rail = wanted / sheet.locomotive.scale
    locking = worm.locking_friction(
        lead_angle=known.worm_before.lead_angle,
        pressure_angle=sheet.as_is.mesh.pressure_angle.value,
    )
    return judge(
        known.spread,
        "stop",
        GROUP,
        "Does it stop dead?",
        value=drive.coast(rail),
        limit=0.25 * sheet.locomotive.length.value,
        kind="length",
        sense="at least",
        finding="From {wanted} at scale it comes to rest in {value}; on locked wheels it would "
        "skid {skid}. With more friction in the mesh than {locking} the wheels cannot turn a worm "
        "of this lead.",
        action="A flywheel on the worm's side of the mesh, and less friction between it and "
        "the rail.",
        notebook="flywheel",
        reason="A quarter of the engine's length is the least that looks like weight.",
        wanted=fixed(wanted, "speed"),
        skid=known.spread.band(drive.skid(rail), "length"),
        locking=fixed(float(locking), "friction"),
    )


def wear_away(known: Knowledge) -> Decision:
    """How many times longer the planned worm pair lasts: ratio first."""
    state = known.sheet.as_is
    return judge(
        known.spread,
        "wear",
        GROUP,
        "Does it wear its gears away?",
        value=known.wear.before,
        limit=known.wear.limit,
        kind="hours",
        sense="at least",
        finding="{pair}, {lubrication}: the planned pair lasts {ratio} as long. As it is, the "
        "mesh opens by {opening} in some {value} of running.",
        action="Unlike materials, the softer on the gear; grease that stays.",
        notebook="wear",
        reason="Wear rates are known within a factor of ten and more; trust the ratio, not "
        "the hours.",
        pair=f"{state.worm.material.capitalize()} worm on {state.gears[0].material} gear",
        lubrication=state.mesh.lubrication,
        ratio=known.spread.band(known.wear.ratio, "times"),
        opening=fixed(known.wear.opening, "fine"),
    )


def side_load(known: Knowledge) -> Decision:
    """Friction of a shaft bent by poor alignment against the motor's own."""
    own = known.before.motor.friction_torque
    place = known.sheet.as_is.alignment
    return judge(
        known.spread,
        "alignment",
        GROUP,
        "Is the shaft bent by its bearings?",
        value=known.side_before,
        limit=0.5 * own,
        kind="torque",
        sense="at most",
        finding="The shaft is {offset} off line over {span}; its bearings rub with {value}, "
        "against {own} in the motor itself.",
        action="Shim the motor until the shaft turns freely with the cover tight, or drive "
        "through a soft coupling; two bearings a shaft.",
        notebook="rebuild",
        reason="More than half of the motor's own friction is worth a shim.",
        offset=fixed(place.offset.value, "fine"),
        span=fixed(place.span.value, "length"),
        own=known.spread.band(own, "torque"),
    )


def lurch(known: Knowledge) -> Decision:
    """Worm end play: thrust turns round on a down grade and the worm jumps."""
    play = known.spread.reading(
        "worm end play", known.sheet.as_is.worm.end_play, known.sheet.instruments.caliper.value
    )
    turned = worm_loads.lurch(end_play=play, wheel_diameter=known.gears_before[-1].pitch_diameter)
    return judge(
        known.spread,
        "end play",
        GROUP,
        "Does the worm jump in its bearings?",
        value=play,
        limit=END_PLAY_LIMIT,
        kind="fine",
        sense="at most",
        finding="The worm moves {value} endwise; each time the thrust turns round, as on a down "
        "grade, the engine lurches by {jump} at the rail.",
        action="Shim until {limit} or less is left and it still turns freely.",
        notebook="gears",
        reason="A shim is about 0.13 mm, 5 thousandths (common practice).",
        jump=known.spread.band(turned * known.before.wheel_diameter / 2, "length"),
    )


def joint_loads(known: Knowledge, rates) -> np.ndarray:
    """Axle loads with each axle in turn on a high and on a low joint [N], one row a case."""
    raised = known.sheet.track.rail_unevenness.value * np.eye(len(known.axle_positions))
    return suspension.axle_loads(
        positions=known.axle_positions,
        rates=rates,
        rail_heights=np.vstack([raised, -raised]),
        mass=known.sheet.locomotive.weight_on_drivers.value,
        center_of_gravity=known.sheet.locomotive.center_of_gravity.value,
    )


def mean_load(known: Knowledge) -> float:
    """What one driven axle carries on the average [N]."""
    weight = known.sheet.locomotive.weight_on_drivers.value * STANDARD_GRAVITY
    return weight / len(known.axle_positions)


def contact(known: Knowledge) -> Decision:
    """Drivers on uneven rail as the frame is now."""
    loads = joint_loads(known, known.rates(known.sheet.as_is.springs))
    return judge(
        known.spread,
        "contact",
        GROUP,
        "Do all drivers stay on the rail?",
        value=float(np.min(loads)) / mean_load(known),
        limit=LEAST_SHARE,
        kind="percent",
        sense="at least",
        finding="On a joint of {rough} the lightest driven axle carries {value} of its share; "
        "{lifted} of {axles} hang in the air.",
        action="Springs soft enough to follow the joint, or equalizing levers.",
        notebook="springs",
        reason="A quarter of its share keeps a wheel picking up (common practice).",
        rough=fixed(known.sheet.track.rail_unevenness.value, "length"),
        lifted=int(np.max(np.sum(loads <= 1e-9, axis=-1))),
        axles=loads.shape[-1],
    )


def insulation(known: Knowledge) -> Decision:
    """The motor against a live frame."""
    return judge(
        known.spread,
        "insulation",
        GROUP,
        "Can the motor touch the live frame?",
        value=0.0 if known.sheet.as_is.motor.insulated else 1.0,
        limit=0.5,
        kind="number",
        sense="at most",
        finding="One rail reaches the frame and a brush reaches the motor's case: one touch is "
        "a short."
        if not known.sheet.as_is.motor.insulated
        else "One rail reaches the frame; the motor's brushes are clear of its case.",
        action="Insulate the motor: both brushes off the case, screws in sleeves; check with "
        "the meter before power.",
        notebook="rebuild",
        reason="A power pack feeds amps into a short (common practice).",
    )


def quartering(known: Knowledge) -> Decision:
    """How far the drivers are out of quarter, against what the rods forgive."""
    engine, caliper = known.sheet.locomotive, known.sheet.instruments.caliper.value
    assert engine.quartering_error
    finest = caliper / engine.crank_throw.value  # a pin off level, read by caliper
    clearance, throw = known.crankpin_clearance, known.crank_throw
    return judge(
        known.spread,
        "quartering",
        GROUP,
        "Are the drivers in quarter?",
        value=known.spread.reading("quartering error", engine.quartering_error, finest),
        limit=rods.forgiven_quartering(crankpin_clearance=clearance, crank_throw=throw),
        kind="angle",
        sense="at most",
        finding="The worst axle is {value} out of quarter against the best; {clearance} of play on "
        "a throw of {throw} forgives {limit}.",
        action="Quarter a wheel in a jig as it goes on its axle; no rod is opened out before that.",
        notebook="rebuild",
        reason="Both rods are tightest together, with the cranks at 45 degrees: a bind twice a "
        "wheel turn.",
        clearance=known.spread.band(clearance, "length"),
        throw=known.spread.band(throw, "length"),
    )


def back_to_back(known: Knowledge, frog: Frog) -> Decision:
    """The drivers' backs against the frogs that they must pass."""
    engine, caliper = known.sheet.locomotive, known.sheet.instruments.caliper.value
    assert engine.flange_width
    flange = known.spread.reading("flange width", engine.flange_width, caliper)
    apart = np.array(
        [
            known.spread.reading(f"axle {n} back-to-back", one, caliper)
            for n, one in enumerate(engine.back_to_back, 1)
        ]
    )
    limits = {
        "check_gauge": frog.check_gauge,
        "check_span": frog.check_span,
        "flange_width": flange,
    }
    least, most = wheelsets.back_to_back_window(**limits)
    middle = (least + most) / 2
    return judge(
        known.spread,
        "back-to-back",
        GROUP,
        "Do the drivers pass the frogs?",
        value=np.max(np.abs(apart - middle), axis=0),
        limit=wheelsets.press_freedom(**limits),
        kind="fine",
        sense="at most",
        finding="The drivers' backs stand {near} to {far} apart. With flanges of {flange} the frogs "
        "of {standard} take {least} to {most}; the worst is {value} off the middle of that.",
        action="A wheel that was pulled goes back to {middle}, within {limit}, on its own side: the "
        "insulated ones face one rail.",
        notebook="rebuild",
        reason="Too near, and the wheels bind between check and wing rail; too far, and a flange "
        "picks the point (NMRA S-3.2).",
        near=Exact(float(np.min(apart[:, 0])), "length"),
        far=Exact(float(np.max(apart[:, 0])), "length"),
        flange=Exact(float(flange[0]), "length"),
        standard=frog.name,
        least=Exact(float(least), "length"),
        most=Exact(float(most[0]), "length"),
        middle=Exact(float(middle[0]), "length"),
    )
