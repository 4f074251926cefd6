"""What to change: motor, ratio, axle, flywheel, mesh, wear, each held against its limit."""

from dataclasses import replace

import numpy as np

from mechkit import flywheel, gears, worm
from mechkit.drive.constants.knowledge import NEW_MOTOR, Knowledge
from mechkit.drive.decisions import cures, placing
from mechkit.drive.decisions.decision import Ask, Decision, Exact, fixed, impossible, judge
from mechkit.drive.decisions.findings import (
    creep_voltage,
    end_play_limit,
    felt,
    gains,
    pair,
    start_limit,
)
from mechkit.drive.model import read, wearing
from mechkit.drive.model.parts import Material
from mechkit.drive.model.train import GEAR_MESH
from mechkit.motor import winding
from mechkit.names import STANDARD_GRAVITY

#: Winding and magnet of a small motor stand this much over the room; maker's sheets say 85 °C.
WINDING_RISE = 60.0  # K
#: No winding outlives such a rise; what settles above it, or never, counts as this.
BURNT = 250.0  # K
#: Run below this part of the first bending critical speed; common practice.
WHIRL_PART = 0.7
#: Balance grade of small electric rotors, ISO 21940-11.
BALANCE_GRADE = 6.3e-3  # m/s
#: The motor stalls at so many times what slips the wheels: a warm winding, a tight spot.
MARGIN = 1.5
#: A motor that does not turn shakes nothing: the speed that balance is then asked at [rad/s].
SLOWEST = 1.0
#: More of the worm's torque than this at its thrust bearing is worth a ball bearing; common
#: practice.
COLLAR_SHARE = 0.10
#: Whether the train pushes once the power is cut at top speed.
CUT = {True: "as soon as the power is cut", False: "not when the power is cut at speed"}
#: Least pairs of teeth in contact; handbooks.
CONTACT = 1.2
#: The part of its yield strength that a tooth may see, standing still too; common practice.
TOOTH_PART = 0.5
#: The table of form factors begins with so many teeth: fewer are undercut too far.
LEAST_TEETH = 12


def asked(known: Knowledge) -> dict[str, Ask]:
    """What is asked of the running gear, in the order in which parts are bought and turned."""
    wheels: dict[str, Ask] = {"coast": wheel} if known.wheel else {}
    return {
        "speed": speed,
        "planned start": start,
        "slip": slip,
        "heat": heat,
        "axle": placing.axle,
        "reach": placing.reach,
        "walls": placing.walls,
        **wheels,
        "backlash": mesh,
        "thrust": thrust,
        "contact ratio": contact_ratio,
        "teeth": teeth,
        "hours": hours,
        "planned end play": play,
    }


def speed(known: Knowledge) -> Decision:
    """Top speed as planned."""
    sheet = known.sheet
    wanted = sheet.locomotive.top_speed.value
    return judge(
        known.spread,
        "speed",
        value=np.abs(known.planned.speed_at(sheet.supply.voltage.value) / wanted - 1),
        limit=0.25,
        cure=lambda: cures.speed(known, known.planned),
        ratio=f"{known.planned.gear_ratio:g}",
        top=known.spread.band(known.planned.speed_at(sheet.supply.voltage.value), "speed"),
        wanted=fixed(wanted, "speed"),
    )


def start(known: Knowledge) -> Decision:
    """Starting voltage as planned, and the speed of a slow pass."""
    own = known.side(known.sheet.planned).motor_stiction
    if own is None:
        own = known.planned.motor.friction_torque
    return judge(
        known.spread,
        "planned start",
        value=known.planned.starting_voltage,
        limit=start_limit(known.sheet),
        cure=lambda: cures.start(known.planned, own, start_limit(known.sheet)),
        slow=fixed(creep_voltage(known.sheet), "voltage"),
        creep=known.spread.band(known.planned.speed_at(creep_voltage(known.sheet)), "speed"),
    )


def slip(known: Knowledge) -> Decision:
    """The wheels must slip before the motor stalls."""
    sheet, drive = known.sheet, known.planned
    return judge(
        known.spread,
        "slip",
        value=drive.stall_margin(sheet.supply.voltage.value),
        limit=MARGIN,
        cure=lambda: cures.slip(drive, sheet.supply.voltage.value, MARGIN),
        pull=known.spread.band(drive.pull_at_slip, "force"),
        torque=known.spread.band(drive.slip_torque(), "torque"),
        grade=fixed(sheet.track.grade.value, "percent"),
        cars=known.cars,
    )


def heat(known: Knowledge) -> Decision:
    """The winding at slip, held for ever."""
    table = known.sheet.planned.motor
    motor = known.planned.motor
    current = known.planned.slip_torque() / motor.torque_constant
    cooling = {
        "resistance": motor.resistance,
        "thermal_resistance": known.spread.reading(
            f"cooling of the {NEW_MOTOR}", table.thermal_resistance
        ),
    }
    burns = winding.continuous_current(temperature_rise=BURNT, **cooling)
    rise = winding.temperature_rise(current=np.minimum(current, burns), **cooling)
    settled = "settles" if rise[0] < 0.999 * BURNT else "burns"
    return judge(
        known.spread,
        "heat",
        case=settled if rise[0] > WINDING_RISE else "cool",
        value=rise,
        limit=WINDING_RISE,
        cure=lambda: cures.heat(known.planned, table.thermal_resistance.value, WINDING_RISE),
        current=known.spread.band(current, "current"),
        stalled=known.spread.band(known.sheet.supply.voltage.value**2 / motor.resistance, "power"),
    )


def wheel(known: Knowledge) -> list[Decision]:
    """The flywheel: what it gives, how it shakes, where it whirls."""
    sheet, drive, part = known.sheet, known.planned, known.wheel
    table = sheet.planned.flywheel
    assert table and part
    top = drive.motor_speed_at(sheet.supply.voltage.value)
    rail = sheet.locomotive.top_speed.value / sheet.locomotive.scale
    least = 0.25 * sheet.locomotive.length.value
    coast, slow = drive.coast(rail), creep_voltage(sheet)
    off = known.spread.reading("flywheel off center", table.off_center, known.finest_runout)
    whirl = part.whirl(
        table.overhang.value,
        table.bearing_span.value,
        sheet.planned.motor.shaft_diameter.value,
    )
    shake = flywheel.unbalance_force(mass=part.mass, eccentricity=off, speed=top)
    return [
        judge(
            known.spread,
            "coast",
            value=coast,
            limit=least,
            cure=lambda: cures.coast(
                known,
                drive,
                sheet.planned,
                least,
                table.width.value + max(known.layout.end_room - sheet.envelope.gap.value, 0.0),
            ),
            outer=fixed(part.outer, "length"),
            width=fixed(part.width, "length"),
            mass=fixed(float(part.mass), "mass"),
            wanted=fixed(sheet.locomotive.top_speed.value, "speed"),
            shorted=known.spread.band(drive.coast(rail, shorted=True), "length"),
            slow=fixed(slow, "voltage"),
            creep=known.spread.band(
                drive.coast(drive.rail_speed(drive.motor_speed_at(slow))), "length"
            ),
        ),
        judge(
            known.spread,
            "balance",
            value=off,
            limit=flywheel.permissible_eccentricity(
                balance_grade=BALANCE_GRADE, speed=np.maximum(top, SLOWEST)
            ),
            top=known.spread.band(top, "rotation"),
            shake=known.spread.band(shake / (part.mass * STANDARD_GRAVITY), "number"),
            gap=fixed((part.bore - sheet.planned.motor.shaft_diameter.value) / 2, "micron"),
        ),
        judge(
            known.spread,
            "whirl",
            value=top,
            limit=WHIRL_PART * whirl,
            cure=lambda: cures.whirl(
                part,
                table,
                sheet.planned.motor.shaft_diameter.value,
                lambda critical: WHIRL_PART * critical,
                top,
            ),
            whirl=known.spread.band(whirl, "rotation"),
        ),
    ]


def mesh(known: Knowledge) -> list[Decision]:
    """Backlash of each mesh against what the runouts of its gears take at the tightest tooth."""
    state, train = known.sheet.planned, known.train_planned
    last, pair = train.axle_gear, train.gears[-2:]
    distance = train.center_distance(state.mesh.backlash.value)
    needed = train.closing(*pair)
    found = [
        judge(
            known.spread,
            "backlash",
            value=train.backlash,
            limit=needed,
            cure=lambda: cures.backlash(train.backlash, needed, train.pressure_angle),
            driver=pair[0].name if len(pair) > 1 else "worm",
            driven=last.name,
            distance=Exact(float(np.ravel(distance)[0]), "center"),
            papers=max(1, round(state.mesh.backlash.value / 2.5e-05)),
        )
    ]
    if len(pair) > 1:
        play, taken = read.worm_play(train, known.spread), train.closing(train.gears[0])
        found.append(
            judge(
                known.spread,
                "worm backlash",
                case=felt(train),
                value=play,
                limit=taken,
                cure=lambda: cures.backlash(play, taken, train.pressure_angle),
                gear=train.gears[0].name,
            )
        )
    return found


def at_slip(known: Knowledge):
    """Force along the worm, which is the one on its gear's teeth, apart, and the collar's share."""
    drive = known.planned
    straight = known.spread.factor("gear mesh efficiency", *GEAR_MESH)
    torque = drive.rim_limit * drive.lever / drive.at_crawl
    return known.train_planned.end_loads(torque, drive.at_crawl, straight)


def thrust(known: Knowledge) -> Decision:
    """What pushes the worm endwise, which way and when, and what it costs at its bearing."""
    sheet, drive, train, band = known.sheet, known.planned, known.train_planned, known.spread.band
    straight = known.spread.factor("gear mesh efficiency", *GEAR_MESH)
    along, apart, rubs = at_slip(known)
    down = drive.train_mass * STANDARD_GRAVITY * sheet.track.grade.value - drive.rolling_force
    rail = sheet.locomotive.top_speed.value / sheet.locomotive.scale
    turned = worm.lurch(end_play=train.end_play, wheel_diameter=train.axle_gear.pitch_diameter)
    balls = replace(train, thrust_bearing="ball")
    whole = straight ** (len(train.gears) - 1) / drive.at_crawl - train.collar + balls.collar
    return judge(
        known.spread,
        "thrust",
        case="turns" if float(down[0]) > 0 else "stays",
        value=rubs,
        limit=COLLAR_SHARE,
        cure=lambda: (train.thrust_bearing, {"ball": band(balls.collar / whole, "percent")}),
        along=band(along, "force"),
        apart=band(apart, "force"),
        bearing={"plain": "A plain face", "ball": "A ball bearing"}[train.thrust_bearing],
        cut=CUT[known.spread.chance(drive.pushed(rail)) >= 0.5],
        grade=fixed(sheet.track.grade.value, "percent"),
        jump=band(turned * drive.wheel_diameter / 2, "length"),
    )


def contact_ratio(known: Knowledge) -> Decision:
    """Teeth in contact at that center distance."""
    return judge(
        known.spread,
        "contact ratio",
        value=known.train_planned.contact_ratio(known.backlash_planned),
        limit=CONTACT,
        cure=lambda: cures.contact_ratio(known.train_planned, CONTACT),
    )


def teeth(known: Knowledge) -> Decision:
    """Tooth stress of the gear under the worm with the wheels slipping."""
    gear = known.gears_planned[0]
    if gear.teeth < LEAST_TEETH:
        return impossible("teeth", case="few", teeth=gear.teeth, name=gear.name, least=LEAST_TEETH)
    force, _, _ = at_slip(known)
    stress = gears.bending_stress(
        tangential_force=force,
        face_width=gear.face_width,
        module=gear.module,
        lewis_form_factor=gears.lewis_form_factor(teeth=gear.teeth),
    )
    holds = TOOTH_PART * Material(gear.material).yield_strength
    return judge(
        known.spread,
        "teeth",
        case="enough",
        value=stress,
        limit=holds,
        cure=lambda: cures.teeth(stress, holds, gear.face_width, gear.module),
        material=gear.material,
        name=gear.name,
        force=known.spread.band(force, "force"),
    )


def hours(known: Knowledge) -> Decision:
    """Life of the planned worm pair, and whether its grease or its materials earn it."""
    sheet, found = known.sheet, gains(known)
    was, will = wearing.pair_of(sheet.as_is), wearing.pair_of(sheet.planned)
    changed = was[:2] != will[:2], was[2] != will[2]
    ends = [found[part].low for part in ("materials", "grease")]
    case = {
        (False, False): "neither",
        (True, False): "materials",
        (False, True): "grease",
        (True, True): "open" if found["materials"].meets(found["grease"]) else "apart",
    }[changed]
    return judge(
        known.spread,
        "hours",
        case=case,
        value=known.wear.planned,
        limit=known.wear.limit,
        cure=lambda: cures.hours(known, sheet.planned, known.wear.limit),
        pair=pair(sheet.planned),
        lubrication=sheet.planned.mesh.lubrication,
        more="the materials" if ends[0] > ends[1] else "the grease",
        opening=fixed(known.wear.opening_planned, "fine"),
        **found,
    )


def play(known: Knowledge) -> Decision:
    """End play as planned."""
    value = known.sheet.planned.worm.end_play
    return judge(
        known.spread,
        "planned end play",
        value=known.spread.reading(
            "planned end play", value, known.sheet.instruments.caliper.value
        ),
        limit=end_play_limit(known.sheet.planned),
    )
