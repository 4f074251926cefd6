"""What to change: motor, ratio, axle, flywheel, mesh, wear, each held against its limit."""

import numpy as np

from mechkit import flywheel, gears, runout, winding
from mechkit.drive.constants.knowledge import NEW_MOTOR, Knowledge
from mechkit.drive.decisions.decision import Decision, Exact, fixed, impossible, judge
from mechkit.drive.decisions.findings import END_PLAY_LIMIT, START_LIMIT
from mechkit.drive.model import layout, read
from mechkit.drive.model.parts import Material
from mechkit.names import STANDARD_GRAVITY

#: Winding and magnet of a small motor stand this much over the room; maker's sheets say 85 °C.
WINDING_RISE = 60.0  # K
#: No winding outlives such a rise; what settles above it, or never, counts as this.
BURNT = 250.0  # K
#: Run below this part of the first bending critical speed; common practice.
WHIRL_PART = 0.7
#: Balance grade of small electric rotors, ISO 21940-11.
BALANCE_GRADE = 6.3e-3  # m/s
#: A motor that does not turn shakes nothing: the speed that balance is then asked at [rad/s].
SLOWEST = 1.0
#: The part of its yield strength that a tooth may see, standing still too; common practice.
TOOTH_PART = 0.5
#: The table of form factors begins with so many teeth: fewer are undercut too far.
LEAST_TEETH = 12


def decide(known: Knowledge) -> list[Decision]:
    """Every decision about running gear, in the order in which parts are bought and turned."""
    decided = [speed(known), start(known), slip(known), heat(known), *axle(known)]
    if known.wheel:
        decided += [*wheel(known)]
    return [*decided, mesh(known), contact_ratio(known), teeth(known), hours(known), play(known)]


def speed(known: Knowledge) -> Decision:
    """Top speed as planned."""
    sheet = known.sheet
    wanted = sheet.locomotive.top_speed.value
    return judge(
        known.spread,
        "speed",
        value=np.abs(known.planned.speed_at(sheet.supply.voltage.value) / wanted - 1),
        limit=0.25,
        ratio=f"{known.planned.gear_ratio:g}",
        top=known.spread.band(known.planned.speed_at(sheet.supply.voltage.value), "speed"),
        wanted=fixed(wanted, "speed"),
    )


def start(known: Knowledge) -> Decision:
    """Starting voltage as planned, and the speed of a slow pass."""
    return judge(
        known.spread,
        "planned start",
        value=known.planned.starting_voltage,
        limit=START_LIMIT,
        creep=known.spread.band(known.planned.speed_at(3.0), "speed"),
    )


def slip(known: Knowledge) -> Decision:
    """The wheels must slip before the motor stalls."""
    sheet, drive = known.sheet, known.planned
    return judge(
        known.spread,
        "slip",
        value=drive.stall_margin(sheet.supply.voltage.value),
        limit=1.5,
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
        current=known.spread.band(current, "current"),
        stalled=known.spread.band(known.sheet.supply.voltage.value**2 / motor.resistance, "power"),
    )


def axle(known: Knowledge) -> list[Decision]:
    """Which axle to drive, and the room that is left."""
    best, second = known.layouts[:2]
    left = left_by(known, best)
    gap = known.spread.reading("gap that is wanted", known.sheet.envelope.gap)
    return [
        judge(
            known.spread,
            "axle",
            case="fits" if best.least >= 0 else "sticks out",
            value=left.least,
            limit=gap,
            words=best.words,
            part=best.tightest.name,
            room=best.tightest.room,
            second=second.words,
            second_least=known.spread.band(left_by(known, second).least, "length"),
        ),
        judge(
            known.spread,
            "length",
            value=left.end_room,
            limit=gap,
            length=known.spread.band(left.length, "length"),
        ),
    ]


def left_by(known: Knowledge, chosen: layout.Layout) -> layout.Left:
    """What a layout of the planned drive leaves, with its draws."""
    room = known.sheet.envelope
    height = known.size("height of the shaft", room.shaft_height)
    at = read.places_of(known.sheet, known.spread.reading)[chosen.axle]
    return layout.left(chosen, known.sheet.planned, room.rooms, height, at, known.size)


def wheel(known: Knowledge) -> list[Decision]:
    """The flywheel: what it gives, how it shakes, where it whirls."""
    sheet, drive, part = known.sheet, known.planned, known.wheel
    table = sheet.planned.flywheel
    assert table and part
    top = drive.motor_speed_at(sheet.supply.voltage.value)
    rail = sheet.locomotive.top_speed.value / sheet.locomotive.scale
    coast = drive.coast(rail)
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
            limit=0.25 * sheet.locomotive.length.value,
            outer=fixed(part.outer, "length"),
            width=fixed(part.width, "length"),
            mass=fixed(float(part.mass), "mass"),
            wanted=fixed(sheet.locomotive.top_speed.value, "speed"),
            shorted=known.spread.band(drive.coast(rail, shorted=True), "length"),
            creep=known.spread.band(
                drive.coast(drive.rail_speed(drive.motor_speed_at(3.0))), "length"
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
            whirl=known.spread.band(whirl, "rotation"),
        ),
    ]


def mesh(known: Knowledge) -> Decision:
    """Backlash as planned against the swing of the runout."""
    state, last = known.sheet.planned, known.gears_planned[-1]
    needed = runout.backlash_swing(
        eccentricity=runout.eccentricity(total_runout=last.total_runout),
        pressure_angle=state.mesh.pressure_angle.value,
    )
    distance = known.train_planned.center_distance(state.mesh.backlash.value)
    return judge(
        known.spread,
        "backlash",
        value=known.backlash_planned,
        limit=needed,
        driver=known.gears_planned[-2].name if len(known.gears_planned) > 1 else "worm",
        driven=last.name,
        distance=Exact(float(np.ravel(distance)[0]), "center"),
        papers=max(1, round(state.mesh.backlash.value / 2.5e-05)),
    )


def contact_ratio(known: Knowledge) -> Decision:
    """Teeth in contact at that center distance."""
    return judge(
        known.spread,
        "contact ratio",
        value=known.train_planned.contact_ratio(known.backlash_planned),
        limit=1.2,
    )


def teeth(known: Knowledge) -> Decision:
    """Tooth stress of the gear under the worm with the wheels slipping."""
    drive, gear = known.planned, known.gears_planned[0]
    if gear.teeth < LEAST_TEETH:
        return impossible("teeth", case="few", teeth=gear.teeth, name=gear.name, least=LEAST_TEETH)
    force = drive.pull_at_slip * drive.wheel_diameter / known.gears_planned[-1].pitch_diameter
    return judge(
        known.spread,
        "teeth",
        case="enough",
        value=gears.bending_stress(
            tangential_force=force,
            face_width=gear.face_width,
            module=gear.module,
            lewis_form_factor=gears.lewis_form_factor(teeth=gear.teeth),
        ),
        limit=TOOTH_PART * Material(gear.material).yield_strength,
        material=gear.material,
        name=gear.name,
        force=known.spread.band(force, "force"),
    )


def hours(known: Knowledge) -> Decision:
    """Life of the planned worm pair."""
    return judge(
        known.spread,
        "hours",
        value=known.wear.planned,
        limit=known.wear.limit,
        pair=f"{known.sheet.planned.worm.material.capitalize()} worm on {known.sheet.planned.gears[0].material} gear",
        lubrication=known.sheet.planned.mesh.lubrication,
        ratio=known.spread.band(known.wear.ratio, "times"),
        opening=fixed(known.wear.opening, "fine"),
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
        limit=END_PLAY_LIMIT,
    )
