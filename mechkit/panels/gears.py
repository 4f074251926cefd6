"""Which gear is this, and how deep should it mesh?"""

from math import radians

from mechkit import units
from mechkit.drawings.gears import GearsPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.questions.gears import Case, Meshing, mesh
from mechkit.panels.panel import Choice, Group, Panel, Slider

ANGLES = {"20°": radians(20), "14.5°": radians(14.5)}


def show(sheet=None, **more):
    """The gear panel of the engine in a bench sheet, the demo's without one."""
    sheet = sheet or sheets.demo()
    case = Case(sheet.data)
    start = case.distance(ANGLES["20°"])
    nominal = case.module * (case.first.teeth + case.second.teeth) / 2
    old = sheet.data.as_is.gears[-1]
    return Panel(
        title="Which gear is this, and how deep should it mesh?",
        groups=(
            Group("A gear on the caliper", (
                Slider("teeth", "teeth counted", "number", 8.0, 60.0, float(case.second.teeth), 1.0),
                Slider("outside", "over the tooth tops", "length", 3e-3, 26e-3, case.second.outside_diameter.value, 0.02e-3),
            )),
            Group("The mesh", (
                Slider("distance", "center distance", "length", nominal - 0.05e-3, nominal + 0.3e-3, start, 0.01e-3),
                Choice("angle", "pressure angle", tuple(ANGLES), "20°"),
            )),
            Group("The axle gear", (
                Slider("total_runout", "total runout", "fine", 0.0, 300e-6, old.total_runout.value, 2e-6),
                Slider("turn", "turn of the wheel", "angle", 0.0, radians(360), 0.0, radians(2)),
            )),
        ),
        compute=lambda values: mesh(
            case,
            teeth=round(values.teeth),
            outside=values.outside,
            distance=values.distance,
            total_runout=values.total_runout,
            turn=values.turn,
            pressure_angle=ANGLES[values.angle],
        ),
        sentence=sentence,
        picture=GearsPicture,
        setting=case,
        write=lambda values: write(sheet, case, values),
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
        pressure_angle=ANGLES[values["angle"]],
    )
    last = len(sheet.data.planned.gears)
    return sheet.with_values({
        "planned.mesh.backlash": units.plain(max(state.mean, 0.0), "m"),
        f"planned.gears[{last}].total_runout": units.plain(values["total_runout"], "m"),
    }).save_copy()  # fmt: skip


def sentence(state: Meshing, system):
    """What the gear is, and what the mesh does in one turn."""

    def fine(value):
        return units.show(value, "fine", system)

    best, *rest = state.candidates
    likely = f"{best.designation} ({best.likelihood:.0%})"
    if abs(best.deviation) > 0.06e-3 + 0.004 * state.outside:
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
    return (
        f"The gear on the caliper: {gear}. At {units.show(state.distance, 'length', system)} the mesh has "
        f"{fine(state.mean)} of backlash, {swing} as the wheel turns: {verdict}. At least {state.contact_ratio:.2f} "
        f"pairs of teeth carry; speed swings by ±{units.show(state.ripple, 'ripple', system)} once a turn."
    )
