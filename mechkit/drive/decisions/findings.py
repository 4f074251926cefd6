"""What is wrong with the engine as it stands, and how sure that is."""

from typing import Any

import numpy as np

from mechkit import runout, wheels, worm
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import cures, workshop
from mechkit.drive.decisions.decision import Ask, Decision, Exact, answered, fixed, judge
from mechkit.drive.model import read
from mechkit.drive.model.train import Train
from mechkit.drive.sheet.hour import answers
from mechkit.drive.sheet.schema import BenchSheet, State

#: A rebuilt engine starts below this part of full throttle, 1.5 V of 12; common practice.
START_PART = 1 / 8
#: The throttle of a slow pass, as a part of full throttle: 3 V of 12; common practice.
CREEP_PART = 1 / 4
#: Worm end play beyond this part of the module, a tenth of the tooth's pitch, becomes a lurch:
#: on module 0.4 a shim of 0.13 mm; common practice.
END_PLAY_PART = 0.1 * np.pi
#: Least share of its load that keeps a wheel picking up; common practice.
LEAST_SHARE = 0.25
GROUP = "What is wrong"


def find(known: Knowledge) -> list[Decision]:
    """Every question of the first half hour at the bench that can be answered, the worst first."""
    return sorted(answered(known, "wrong", asked(known)), key=lambda decision: decision.kept)


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of this engine as it stands, by the key of each question."""
    found: dict[str, Ask] = {
        "fast": too_fast,
        "start": late_start,
        "hop": hop,
        "stop": dead_stop,
        "wear": wear_away,
        "alignment": side_load,
        "end play": lurch,
        "contact": contact,
    }
    engine = known.sheet.locomotive
    if len(known.gears_before) > 1:
        found["jam"] = jam
    if engine.frame_live:
        found["insulation"] = insulation
    if engine.quartering_error:
        found["quartering"] = quartering
    if engine.back_to_back and engine.flange_width and known.frog:
        found["back-to-back"] = back_to_back
    return found


def too_fast(known: Knowledge) -> Decision:
    """Full throttle against the full-size engine's top speed."""
    sheet = known.sheet
    wanted = sheet.locomotive.top_speed.value
    return judge(
        known.spread,
        "fast",
        value=known.before.speed_at(sheet.supply.voltage.value),
        limit=1.25 * wanted,
        cure=(lambda: cures.speed(known, known.before))
        if answers(sheet, "constant", "torque_constant")
        else None,  # a cure is a ratio, and of what is now
        wanted=fixed(wanted, "speed"),
    )


def start_limit(sheet: BenchSheet) -> float:
    """Voltage below which a good engine starts [V]."""
    return START_PART * sheet.supply.voltage.value


def creep_voltage(sheet: BenchSheet) -> float:
    """Voltage of a slow pass [V]."""
    return CREEP_PART * sheet.supply.voltage.value


def end_play_limit(state: State) -> float:
    """End play of the worm beyond which it lurches [m]."""
    return END_PLAY_PART * state.worm.module.value


def late_start(known: Knowledge) -> Decision:
    """Starting voltage, and whose friction it is."""
    drive = known.before
    own = drive.motor.friction_torque / drive.running_friction
    whose = answers(known.sheet, "headline", "friction")
    return judge(
        known.spread,
        "start",
        case="told" if whose else "open",
        value=drive.starting_voltage,
        limit=start_limit(known.sheet),
        cure=(lambda: cures.start(drive, drive.motor.friction_torque, start_limit(known.sheet)))
        if whose
        else None,
        friction=known.spread.band(drive.running_friction, "torque"),
        own=known.spread.band(own, "percent"),
    )


def hop(known: Knowledge) -> Decision:
    """Runout of the axle gear against what the backlash forgives."""
    angle = known.sheet.as_is.mesh.pressure_angle.value
    gear = known.gears_before[-1]
    ripple = known.train_before.axle_ripple
    drive, volts = known.before, known.sheet.supply.voltage.value
    return judge(
        known.spread,
        "hop",
        value=gear.total_runout,
        limit=runout.binding_runout(backlash=known.backlash_before, pressure_angle=angle),
        gear=gear.name,
        swing=known.spread.band(drive.hop(ripple, 1 / drive.gear_ratio, volts), "ripple"),
        stock=known.spread.band(workshop.truing_cut(gear.total_runout), "fine"),
    )


def jam(known: Knowledge) -> Decision:
    """Runout of the gear under the worm against the backlash of its own meshes."""
    train, play = known.train_before, read.worm_play(known.train_before, known.spread)
    return judge(
        known.spread,
        "jam",
        case=felt(train),
        value=train.gears[0].total_runout,
        limit=runout.binding_runout(
            backlash=np.minimum(play, train.backlash), pressure_angle=train.pressure_angle
        ),
        gear=train.gears[0].name,
        worm_play=known.spread.band(play, "fine"),
        play=known.spread.band(train.backlash, "fine"),
    )


def felt(train: Train) -> str:
    """Whether the backlash at the worm is a reading."""
    return "assumed" if train.worm_backlash is None and len(train.gears) > 1 else "felt"


def dead_stop(known: Knowledge) -> Decision:
    """Coasting against a quarter of the train's length."""
    sheet, drive = known.sheet, known.before
    wanted = sheet.locomotive.top_speed.value
    rail, least = wanted / sheet.locomotive.scale, 0.25 * sheet.locomotive.length.value
    locking = worm.locking_friction(
        lead_angle=known.worm_before.lead_angle,
        pressure_angle=sheet.as_is.mesh.pressure_angle.value,
    )
    return judge(
        known.spread,
        "stop",
        value=drive.coast(rail),
        limit=least,
        cure=lambda: cures.coast(known, drive, sheet.as_is, least, known.layout.end_room),
        wanted=fixed(wanted, "speed"),
        skid=known.spread.band(drive.skid(rail), "length"),
        locking=known.spread.band(locking, "friction"),
    )


def wear_away(known: Knowledge) -> Decision:
    """How many times longer the planned worm pair lasts: ratio first."""
    return judge(
        known.spread,
        "wear",
        value=known.wear.before,
        limit=known.wear.limit,
        pair=pair(known.sheet.as_is),
        lubrication=known.sheet.as_is.mesh.lubrication,
        opening=fixed(known.wear.opening, "fine"),
        **gains(known),
    )


def pair(state: State) -> str:
    """Worm and the gear under it, in words."""
    return f"{state.worm.material.capitalize()} worm on {state.gears[0].material} gear"


def gains(known: Knowledge) -> dict[str, Any]:
    """How many times longer the new pair lasts, and what grease or materials alone would do."""
    wear, band = known.wear, known.spread.band
    return {
        "ratio": band(wear.ratio, "times"),
        "grease": band(wear.grease, "times"),
        "materials": band(wear.materials, "times"),
    }


def side_load(known: Knowledge) -> Decision:
    """Friction of a shaft bent by poor alignment against the motor's own."""
    own = known.before.motor.friction_torque
    place = known.sheet.as_is.alignment
    return judge(
        known.spread,
        "alignment",
        value=known.side_before,
        limit=0.5 * own,
        cure=lambda: cures.alignment(known.side_before, 0.5 * own, place.offset.value),
        offset=fixed(place.offset.value, "fine"),
        span=fixed(place.span.value, "length"),
        own=known.spread.band(own, "torque"),
    )


def lurch(known: Knowledge) -> Decision:
    """Worm end play: thrust turns round on a down grade and the worm jumps."""
    play = known.spread.reading(
        "worm end play", known.sheet.as_is.worm.end_play, known.sheet.instruments.caliper.value
    )
    turned = worm.lurch(end_play=play, wheel_diameter=known.gears_before[-1].pitch_diameter)
    return judge(
        known.spread,
        "end play",
        value=play,
        limit=end_play_limit(known.sheet.as_is),
        jump=known.spread.band(turned * known.before.wheel_diameter / 2, "length"),
    )


def contact(known: Knowledge) -> Decision:
    """Drivers on uneven rail as the frame is now."""
    stands = known.springs_before
    return judge(
        known.spread,
        "contact",
        value=stands.share,
        limit=LEAST_SHARE,
        rough=known.spread.band(stands.unevenness, "length"),
        lifted=stands.lifted,
        axles=stands.axles,
    )


def insulation(known: Knowledge) -> Decision:
    """The motor against a live frame."""
    return judge(
        known.spread,
        "insulation",
        case="clear" if known.sheet.as_is.motor.insulated else "touching",
        value=0.0 if known.sheet.as_is.motor.insulated else 1.0,
        limit=0.5,
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
        value=known.spread.reading("quartering error", engine.quartering_error, finest),
        limit=wheels.forgiven_quartering(crankpin_clearance=clearance, crank_throw=throw),
        clearance=known.spread.band(clearance, "length"),
        throw=known.spread.band(throw, "length"),
    )


def back_to_back(known: Knowledge) -> Decision:
    """The drivers' backs against the frogs that they must pass."""
    engine, caliper = known.sheet.locomotive, known.sheet.instruments.caliper.value
    frog = known.frog
    assert engine.flange_width and frog
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
    least, most = wheels.back_to_back_window(**limits)
    middle = (least + most) / 2
    return judge(
        known.spread,
        "back-to-back",
        value=np.max(np.abs(apart - middle), axis=0),
        limit=wheels.press_freedom(**limits),
        near=Exact(float(np.min(apart[:, 0])), "length"),
        far=Exact(float(np.max(apart[:, 0])), "length"),
        flange=Exact(float(flange[0]), "length"),
        standard=frog.name,
        least=Exact(float(least), "length"),
        most=Exact(float(most[0]), "length"),
        middle=Exact(float(middle[0]), "length"),
    )
