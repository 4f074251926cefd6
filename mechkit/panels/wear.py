"""Why does brass on brass wear?"""

from mechkit import units
from mechkit.drawings.wear import WearPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.model.wearing import DUTY
from mechkit.drive.questions.reach import Reach
from mechkit.drive.questions.wear import GREASES, Case, Rubbing, rub
from mechkit.panels.controls import offered, over
from mechkit.panels.panel import Choice, Group, Panel

#: What a small shop makes worms and gears of.
WORMS, GEARS = ("brass", "steel", "hardened steel"), ("brass", "bronze", "acetal")
#: Hours and multiples below which nobody counts.
LEAST = 0.01


def show(sheet=None, **more):
    """The wear panel of the engine in a bench sheet, the demo's without one."""
    sheet = sheet or sheets.demo()
    case = Case(sheet.data)
    worm, gear, grease = case.old
    worms, gears = offered(WORMS, worm, case.planned[0]), offered(GEARS, gear, case.planned[1])
    return Panel(
        title="Why does brass on brass wear?",
        groups=(
            Group("Pair", (
                Choice("worm_material", "worm", worms, worm),
                Choice("gear_material", "gear", gears, gear),
            )),
            Group("Grease", (
                Choice("lubrication", "the mesh is", GREASES, grease),
            )),
            Group("Running", (
                over(case.hours, "hours", "hours of running", "hours"),
                over(Reach(DUTY, 0.0, 1.0), "share", "pull, of what it can", "percent", step=0.05),
                over(case.speed, "speed", "speed of the full-size engine", "speed", steps=20,
                     settled=True),
            )),
        ),
        compute=lambda values: rub(
            case,
            worm_material=values.worm_material,
            gear_material=values.gear_material,
            lubrication=values.lubrication,
            hours=values.hours / 3600,
            share=values.share,
            speed=values.speed,
        ),
        sentence=sentence,
        picture=WearPicture,
        setting=case,
        write=lambda values: sheet.with_values({
            "planned.worm.material": values["worm_material"],
            "planned.gears[1].material": values["gear_material"],
            "planned.mesh.lubrication": values["lubrication"],
        }).save_copy(),
        **more,
    )  # fmt: skip


def count(number):
    """A number known within a factor: one or two digits."""
    if number >= 9.5:
        digits = 10 ** max(0, len(f"{number:.0f}") - 2)
        return f"{round(number / digits) * digits:,}".replace(",", "\u2009")
    if number < LEAST:
        return f"less than {LEAST}"
    return f"{number:.1g}" if number < 0.95 else f"{number:.0f}"


def sentence(state: Rubbing, system):
    """Ratio first, hours second and as a band, then which flank."""
    opening = units.show(state.limit, "fine", system)
    low, middle, high = state.ratio
    hours = [count(life / 3600) for life in state.life]
    more, less = ("gear", "worm") if state.gear_depth >= state.worm_depth else ("worm", "gear")
    depth = max(state.gear_depth, state.worm_depth), min(state.gear_depth, state.worm_depth)
    times = depth[0] / depth[1] if depth[1] else 0
    which = (
        f"; the {more} loses {count(times)} times the depth of the {less}" if times > 1.2 else ""
    )
    pair = f"{state.worm_material.capitalize()} worm on {state.gear_material} gear, {state.lubrication}"
    lasts = (
        f"lasts {count(middle)} times ({count(low)} to {count(high)}) as long as the pair as it is"
    )
    if state.as_it_is:
        lasts = "this is the pair as it is"
        if abs(middle - 1) > 0.02:
            lasts += f", which in the planned size lasts {count(middle)} times as long"
    run = f"{state.hours:g}" if state.hours < 1e5 else count(state.hours)
    after = f"After {run} hours it has opened by some {units.show(state.opening, 'fine', system)}."
    if state.left < 1:
        after = f"After {run} hours the teeth are worn out."
    return (
        f"{pair}: {lasts}{which}. {after} The first {opening} take {hours[1]} hours, or anything from {hours[0]} to {hours[2]}: "
        "trust the ratio, and look at the grease."
    )
