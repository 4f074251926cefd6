"""Why does brass on brass wear?"""

from mechkit import units
from mechkit.drawings.wear import WearPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.model.wearing import OPENING
from mechkit.drive.questions.wear import Case, Rubbing, rub
from mechkit.panels.panel import Choice, Group, Panel, Slider

KMH = 1 / 3.6


def show(sheet=None, **more):
    """The wear panel of the engine in a bench sheet, the demo's without one."""
    sheet = sheet or sheets.demo()
    case = Case(sheet.data)
    old = case.sheet.as_is
    return Panel(
        title="Why does brass on brass wear?",
        groups=(
            Group("Pair", (
                Choice("worm_material", "worm", ("brass", "steel", "hardened steel"), old.worm.material),
                Choice("gear_material", "gear", ("brass", "bronze", "acetal"), old.gears[0].material),
            )),
            Group("Grease", (
                Choice("lubrication", "the mesh is", ("dry", "starved", "greased"), old.mesh.lubrication),
            )),
            Group("Running", (
                Slider("hours", "hours of running", "hours", 0.0, 40 * 3600.0, 2 * 3600.0, 0.5 * 3600),
                Slider("share", "pull, of what it can", "percent", 0.0, 1.0, 0.25, 0.05),
                Slider("speed", "speed of the full-size engine", "speed", 8 * KMH, 100 * KMH, 24 * KMH, 4 * KMH),
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
    return f"{number:.1g}" if number < 0.95 else f"{number:.0f}"


def sentence(state: Rubbing, system):
    """Ratio first, hours second and as a band, then which flank."""
    opening = units.show(OPENING, "fine", system)
    low, middle, high = state.ratio
    hours = [count(life / 3600) for life in state.life]
    more, less = ("gear", "worm") if state.gear_depth >= state.worm_depth else ("worm", "gear")
    depth = max(state.gear_depth, state.worm_depth), min(state.gear_depth, state.worm_depth)
    times = depth[0] / depth[1] if depth[1] else 0
    which = (
        f"; the {more} loses {count(times)} times the depth of the {less}" if times > 1.2 else ""
    )
    pair = f"{state.worm_material.capitalize()} worm on {state.gear_material} gear, {state.lubrication}"
    lasts = "this is the pair as it is"
    if abs(middle - 1) > 0.02:
        lasts = f"lasts {count(middle)} times ({count(low)} to {count(high)}) as long as the pair as it is"
    after = f"After {state.hours:g} hours it has opened by some {units.show(state.opening, 'fine', system)}."
    if state.left < 1:
        after = f"After {state.hours:g} hours the teeth are worn out."
    return (
        f"{pair}: {lasts}{which}. {after} The first {opening} take {hours[1]} hours, or anything from {hours[0]} to {hours[2]}: "
        "trust the ratio, and look at the grease."
    )
