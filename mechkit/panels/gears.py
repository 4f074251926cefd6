"""Which gear is this, and how deep should it mesh?"""

from math import degrees, radians

from mechkit import units
from mechkit.drawings.gears import GearsPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.questions.gears import Case, Meshing, mesh
from mechkit.drive.questions.reach import Reach
from mechkit.panels.controls import over
from mechkit.panels.panel import Choice, Group, Panel

#: Pressure angles of full-depth teeth [deg].
ANGLES = (20.0, 14.5)


def show(sheet=None, **more):
    """The gear panel of the engine in a bench sheet, the demo's without one."""
    sheet = sheet or sheets.demo()
    case = Case(sheet.data)
    planned = round(degrees(case.pressure_angle), 2)
    angles = {f"{angle:g}°": radians(angle) for angle in dict.fromkeys((*ANGLES, planned))}
    turn = Reach(0.0, 0.0, radians(360))
    return Panel(
        title="Which gear is this, and how deep should it mesh?",
        groups=(
            Group("A gear on the caliper", (
                over(case.teeth, "teeth", "teeth counted", "number", step=1.0),
                over(case.outsides, "outside", "over the tooth tops", "length", steps=1000),
            )),
            Group("The mesh", (
                over(case.distances, "distance", "center distance", "length", steps=30),
                Choice("angle", "pressure angle", tuple(angles), f"{planned:g}°"),
            )),
            Group("The axle gear", (
                over(case.runouts, "total_runout", "total runout", "fine", steps=150),
                over(turn, "turn", "turn of the wheel", "angle", step=radians(2)),
            )),
        ),
        compute=lambda values: mesh(
            case,
            teeth=round(values.teeth),
            outside=values.outside,
            distance=values.distance,
            total_runout=values.total_runout,
            turn=values.turn,
            pressure_angle=angles[values.angle],
        ),
        sentence=lambda state, system: sentence(state, system, case.alone),
        picture=GearsPicture,
        setting=case,
        write=lambda values: write(sheet, case, values | {"angle": angles[values["angle"]]}),
        **more,
    )  # fmt: skip


def write(sheet, case, values):
    """Backlash and runout into a copy of the sheet."""
    state = mesh(
        case,
        teeth=round(values["teeth"]),
        outside=values["outside"],
        distance=values["distance"],
        total_runout=values["total_runout"],
        turn=0.0,
        pressure_angle=values["angle"],
    )
    last = len(sheet.data.planned.gears)
    return sheet.with_values({
        "planned.mesh.backlash": units.plain(max(state.mean, 0.0), "m"),
        f"planned.gears[{last}].total_runout": units.plain(values["total_runout"], "m"),
    }).save_copy()  # fmt: skip


def sentence(state: Meshing, system, alone=False):
    """What the gear is, and what the mesh does in one turn."""

    def fine(value):
        return units.show(value, "fine", system)

    best, *rest = state.candidates
    likely = f"{best.designation} ({best.likelihood:.0%})"
    if not state.standard:
        gear = f"no standard gear: {best.designation} would be {fine(abs(best.deviation))} off"
    elif rest:
        gear = f"{likely}, then {rest[0].designation} ({rest[0].likelihood:.0%})"
    else:
        gear = likely
    swing = f"{fine(state.tightest)} to {fine(state.loosest)}"
    verdict = (
        f"it binds once a turn; {fine(state.binding)} of runout is all that it forgives"
        if state.tightest < 0
        else f"the runout of {fine(2 * state.eccentricity)} is forgiven up to {fine(state.binding)}"
    )
    carry = (
        f"At least {state.contact_ratio:.2f} pairs of teeth carry"
        if state.contact_ratio > 0
        else "At its widest the teeth no longer reach each other"
    )
    pair = (
        "the axle gear, shown with its twin because the worm drives it directly,"
        if alone
        else "the mesh"
    )
    return (
        f"The gear on the caliper: {gear}. At {units.show(state.distance, 'length', system)} {pair} has "
        f"{fine(state.mean)} of backlash, {swing} as the wheel turns: {verdict}. {carry}; "
        f"speed swings by ±{units.show(state.ripple, 'ripple', system)} once a turn."
    )
