"""What to change: motor, ratio, axle, flywheel, mesh, wear, each held against its limit."""

import numpy as np

from mechkit import flywheel, gears, runout, winding
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions.decision import Decision, Exact, fixed, impossible, judge
from mechkit.drive.decisions.findings import END_PLAY_LIMIT, START_LIMIT
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
        "Ratio and speed",
        "Is it as fast as the engine it stands for?",
        value=np.abs(known.planned.speed_at(sheet.supply.voltage.value) / wanted - 1),
        limit=0.25,
        kind="percent",
        sense="at most",
        finding="At {ratio} : 1 full throttle gives {top} at scale, off the wanted {wanted} "
        "by {value}.",
        action="Keep the ratio if this pleases; a tooth more on the axle gear costs in proportion.",
        notebook="gears",
        reason="A quarter either way is within one notch of the throttle.",
        ratio=f"{known.planned.gear_ratio:g}",
        top=known.spread.band(known.planned.speed_at(sheet.supply.voltage.value), "speed"),
        wanted=fixed(wanted, "speed"),
    )


def start(known: Knowledge) -> Decision:
    """Starting voltage as planned, and the speed of a slow pass."""
    return judge(
        known.spread,
        "planned start",
        "Motor",
        "Does it start early and creep?",
        value=known.planned.starting_voltage,
        limit=START_LIMIT,
        kind="voltage",
        sense="at most",
        finding="Breaks away at {value}; at 3 V it passes at {creep} at scale.",
        action="Turn the worm with your fingers until the wheel has gone round once: if it is stiff "
        "anywhere, the number will not come. Never force the axle: the worm locks.",
        notebook="rebuild",
        reason="A good rebuild makes a slow pass near 3 V (common practice).",
        creep=known.spread.band(known.planned.speed_at(3.0), "speed"),
    )


def slip(known: Knowledge) -> Decision:
    """The wheels must slip before the motor stalls."""
    sheet, drive = known.sheet, known.planned
    return judge(
        known.spread,
        "slip",
        "Pull",
        "Do the wheels slip before the motor stalls?",
        value=drive.stall_margin(sheet.supply.voltage.value),
        limit=1.5,
        kind="number",
        sense="at least",
        finding="The drivers slip at a pull of {pull}; that takes {torque} at the motor, which "
        "stalls at {value} times as much. Up {grade} it takes {cars} cars.",
        action="Nothing to do while the wheels slip first: a slipping wheel saves the winding "
        "and the teeth.",
        notebook="rebuild",
        reason="Half as much again covers a warm winding and a tight spot (common practice).",
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
        "thermal_resistance": table.thermal_resistance.value,
    }
    burns = winding.continuous_current(temperature_rise=BURNT, **cooling)
    rise = winding.temperature_rise(current=np.minimum(current, burns), **cooling)
    settles = "the winding settles {value} above the room."
    if rise[0] >= 0.999 * BURNT:
        settles = "the winding never settles: it passes {value} above the room and burns out."
    return judge(
        known.spread,
        "heat",
        "Motor",
        "Does the winding stay whole at slip?",
        value=rise,
        limit=WINDING_RISE,
        kind="rise",
        sense="at most",
        finding="Slipping for minutes on end it draws {current} and " + settles,
        action="Stalled at full throttle the winding makes {stalled}: cut the power first, "
        "then look."
        if rise[0] <= WINDING_RISE
        else "A motor with a larger torque constant or better cooled, a higher ratio or less friction "
        "draws less. Stalled at full throttle the winding makes {stalled}: cut the power first.",
        notebook="rebuild",
        reason="Small motors carry about 85 °C in the winding; see the maker's sheet.",
        current=known.spread.band(current, "current"),
        stalled=known.spread.band(known.sheet.supply.voltage.value**2 / motor.resistance, "power"),
    )


def axle(known: Knowledge) -> list[Decision]:
    """Which axle to drive, and the room that is left."""
    best, gap = known.layout, known.sheet.envelope.gap.value
    second = known.layouts[1]
    return [
        judge(
            known.spread,
            "axle",
            "Which axle",
            "Which axle, and does it fit without a notch?",
            value=best.least,
            limit=gap,
            kind="length",
            sense="at least",
            finding="Drive {words}: the {part} clears the {room} by {value} at the nearest point. "
            "Second best is {second}, {second_least}."
            if best.least >= 0
            else "Nothing fits: best is {words}, and there the {part} ({room}) sticks out; its "
            "clearance is {value}.",
            action="Check with a card disc of the part's size before you cut metal.",
            notebook="rebuild",
            reason="A flywheel clears the boiler by 1 to 2 mm (common practice).",
            words=best.words,
            part=best.tightest.name,
            room=best.tightest.room,
            second=second.words,
            second_least=fixed(second.least, "length"),
        ),
        judge(
            known.spread,
            "length",
            "Length budget",
            "Is there length enough?",
            value=best.end_room,
            limit=gap,
            kind="length",
            sense="at least",
            finding="From the worm's middle to the far end of the motor the drive is {length} "
            "long; {value} are left to the end of the room.",
            action="Spend what is left on a wider flywheel or on wires.",
            notebook="rebuild",
            reason="Leave room for wires and for the motor to come out again.",
            length=fixed(best.length, "length"),
        ),
    ]


def wheel(known: Knowledge) -> list[Decision]:
    """The flywheel: what it gives, how it shakes, where it whirls."""
    sheet, drive, part = known.sheet, known.planned, known.wheel
    table = sheet.planned.flywheel
    assert table and part
    top = drive.motor_speed_at(sheet.supply.voltage.value)
    rail = sheet.locomotive.top_speed.value / sheet.locomotive.scale
    coast = drive.coast(rail)
    off = known.spread.reading("flywheel off center", table.off_center, known.finest_runout)
    whirl = flywheel.critical_speed(
        mass=part.mass,
        overhang=table.overhang.value,
        span=table.bearing_span.value,
        shaft_diameter=sheet.planned.motor.shaft_diameter.value,
        elastic_modulus=Material("steel").elastic_modulus,
    )
    shake = flywheel.unbalance_force(mass=part.mass, eccentricity=off, speed=top)
    return [
        judge(
            known.spread,
            "coast",
            "Flywheel",
            "Does it coast?",
            value=coast,
            limit=0.25 * sheet.locomotive.length.value,
            kind="length",
            sense="at least",
            finding="{outer} by {width}, {mass}: from {wanted} at scale it rolls {value} with the "
            "rails open, {shorted} shorted, but only {creep} from a pass at 3 V.",
            action="A flywheel does not carry a crawl over a dead spot: clean wheels and "
            "pick-ups do.",
            notebook="flywheel",
            reason="A quarter of the engine's length is the least that looks like weight.",
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
            "Flywheel",
            "Does it run smoothly?",
            value=off,
            limit=flywheel.permissible_eccentricity(
                balance_grade=BALANCE_GRADE, speed=np.maximum(top, SLOWEST)
            ),
            kind="micron",
            sense="at most",
            finding="Off center by {value} at {top} it pulls at its shaft with {shake} times its "
            "own weight; balance grade G6.3 allows {limit}.",
            action="Bore and turn the rim in one setting. The gap for the compound alone could throw "
            "it off by {gap}: indicate the rim on its own shaft and true it while wet.",
            notebook="flywheel",
            reason="ISO 21940-11, grade 6.3 for small motors.",
            top=known.spread.band(top, "rotation"),
            shake=known.spread.band(shake / (part.mass * STANDARD_GRAVITY), "number"),
            gap=fixed((part.bore - sheet.planned.motor.shaft_diameter.value) / 2, "micron"),
        ),
        judge(
            known.spread,
            "whirl",
            "Flywheel",
            "Does the shaft whirl?",
            value=top,
            limit=WHIRL_PART * whirl,
            kind="rotation",
            sense="at most",
            finding="The overhung flywheel's first critical speed is {whirl}; the motor turns "
            "{value} at full throttle.",
            action="Keep it close to the bearing: the critical speed falls with the overhang.",
            notebook="flywheel",
            reason="Stay below 70 % of the first critical speed (common practice).",
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
        "Mesh",
        "Is there backlash at the tightest place?",
        value=known.backlash_planned,
        limit=needed,
        kind="fine",
        sense="at least",
        finding="Set {value} of backlash, {driver} to {driven}: center distance {distance}. The "
        "runout that is left swings it by {limit}.",
        action="A strip of cigarette paper is about 25 µm, one thousandth: set with {papers} on one "
        "flank, then turn the worm until the wheel has gone once all round.",
        notebook="gears",
        reason="The mesh must have play at its tightest tooth.",
        driver=known.gears_planned[-2].name if len(known.gears_planned) > 1 else "worm",
        driven=last.name,
        distance=Exact(float(distance), "center"),
        papers=max(1, round(state.mesh.backlash.value / 25e-6)),
    )


def contact_ratio(known: Knowledge) -> Decision:
    """Teeth in contact at that center distance."""
    return judge(
        known.spread,
        "contact ratio",
        "Mesh",
        "Does one tooth take over before the other lets go?",
        value=known.train_planned.contact_ratio(known.backlash_planned),
        limit=1.2,
        kind="number",
        sense="at least",
        finding="{value} pairs of teeth carry on the average.",
        action="Do not open the mesh further to cure runout: true the gear instead.",
        notebook="gears",
        reason="1.2 is the usual least (handbooks).",
    )


def teeth(known: Knowledge) -> Decision:
    """Tooth stress of the gear under the worm with the wheels slipping."""
    drive, gear = known.planned, known.gears_planned[0]
    asked = ("teeth", "Mesh", "Do the teeth hold at slip?")
    if gear.teeth < LEAST_TEETH:
        return impossible(
            *asked,
            finding="With {teeth} teeth the {name} is undercut so far that no table tells what its "
            "teeth carry; the tables begin at {least}.",
            action="Take a gear of {least} teeth or more.",
            notebook="gears",
            teeth=gear.teeth,
            name=gear.name,
            least=LEAST_TEETH,
        )
    force = drive.pull_at_slip * drive.wheel_diameter / known.gears_planned[-1].pitch_diameter
    return judge(
        known.spread,
        *asked,
        value=gears.bending_stress(
            tangential_force=force,
            face_width=gear.face_width,
            module=gear.module,
            lewis_form_factor=gears.lewis_form_factor(teeth=gear.teeth),
        ),
        limit=TOOTH_PART * Material(gear.material).yield_strength,
        kind="stress",
        sense="at most",
        finding="With the drivers slipping each tooth of the {material} {name} carries {force}: "
        "{value} at the root.",
        action="Wider teeth if not; a coarser module changes every center distance.",
        notebook="gears",
        reason="Lewis, one tooth carries all; half of the least yield strength of its material "
        "(common practice).",
        material=gear.material,
        name=gear.name,
        force=known.spread.band(force, "force"),
    )


def hours(known: Knowledge) -> Decision:
    """Life of the planned worm pair."""
    return judge(
        known.spread,
        "hours",
        "Wear",
        "How long will the new pair last?",
        value=known.wear.planned,
        limit=known.wear.limit,
        kind="hours",
        sense="at least",
        finding="{pair}, {lubrication}: {ratio} what it was; some {value} of running until the mesh "
        "has opened by {opening}.",
        action="Look at the grease after ten hours: gray means metal, clean it out and renew.",
        notebook="wear",
        reason="Ratio first, hours second: wear rates are known within a factor of ten and more.",
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
        "Mesh",
        "Is the worm held endwise?",
        value=known.spread.reading(
            "planned end play", value, known.sheet.instruments.caliper.value
        ),
        limit=END_PLAY_LIMIT,
        kind="fine",
        sense="at most",
        finding="Shim to {value}.",
        action="Warm, it must still turn freely.",
        notebook="gears",
        reason="A shim is about 0.13 mm, 5 thousandths (common practice).",
    )
