"""What to buy and what to do, in the order of the work, from the difference of the two states."""

from collections.abc import Iterator
from typing import NamedTuple

from mechkit.drawings import paper
from mechkit.drive.decisions import workshop
from mechkit.drive.decisions.rebuild import Rebuild
from mechkit.drive.sheet.schema import GearTable
from mechkit.units import Reading, System, show

#: Held in the chuck and lost to parting off; common practice.
CHUCK = 15e-3
#: Bar over the finished diameter, so that the rim is turned; common practice.
SKIN = 1e-3
#: A gear planned to run with less than this share of its runout is trued.
TRUED = 0.7
#: Where hands can get hurt as a gear goes back on its axle.
SEATED = {"knurl": ("press",), "compound": ("press", "bond"), "bush": ("bond",)}


class Line(NamedTuple):
    """One line to tick: what, the details, and the caution that goes with it."""

    words: str
    detail: str = ""
    cautions: tuple[str, ...] = ()


def buy(done: Rebuild, system: System) -> Iterator[Line]:
    """What must be on the bench before work begins."""
    old, new = done.sheet.as_is, done.sheet.planned

    def size(reading: Reading | float) -> str:
        value = reading.value if isinstance(reading, Reading) else reading
        return show(value, "length", system)

    def round_(reading: Reading | float) -> str:
        return f"⌀\u00a0{size(reading)}"

    motor = new.motor
    if motor != old.motor:
        yield Line(
            f"Motor, {motor.kind}",
            f"{round_(motor.body_diameter)} × {size(motor.body_length)}, shaft "
            f"{size(motor.shaft_diameter)}; free at {show(motor.no_load.voltage.value, 'voltage', system, 1)}: "
            f"{show(motor.no_load.speed.value, 'rotation', system)}",
        )
    if new.worm.model_dump(exclude={"end_play"}) != old.worm.model_dump(exclude={"end_play"}):
        worm = new.worm
        yield Line(
            f"Worm, {worm.material}",
            f"{paper.teeth_size(worm.module)}, {worm.starts} start{'s' * (worm.starts > 1)}, "
            f"{round_(worm.outside_diameter)} × {size(worm.length)}, bore {size(worm.bore)}",
        )
    if new.worm.thrust_bearing != old.worm.thrust_bearing:
        yield Line(f"Thrust bearing, {new.worm.thrust_bearing}", "for the worm shaft")
    for n, gear in enumerate(new.gears):
        before = old.gears[n] if n < len(old.gears) else None
        if not before or (gear.teeth, gear.material) != (before.teeth, before.material):
            yield Line(
                f"{gear.name[0].upper()}{gear.name[1:]}, {gear.material}",
                f"{gear.teeth} teeth, {round_(gear.outside_diameter)}, face {size(gear.face_width)}",
            )
    for _, gear in trued(done):
        yield Line(
            f"Bar for a bush in the {gear.name}, brass",
            f"{size(gear.face_width.value + CHUCK)} long with what the chuck holds; as thick as its bore "
            "comes out when it runs true, and a millimeter (40 thousandths) more",
        )
    for part in done.parts:
        outer = part.sizes["outside"].value
        along = (part.sizes.get("length") or part.sizes["width"]).value
        yield Line(
            f"Bar for the {part.name.lower()}, {part.material}",
            f"at least {round_(outer + SKIN)}, {size(along + CHUCK)} long with what the chuck holds",
        )
    if new.adapter and new.adapter.hold == "bond":
        yield Line("Retaining compound and degreaser", "read both sheets before you open them")
    springs = new.springs
    if springs.kind == "sprung" and springs != old.springs and springs.wire_diameter:
        assert springs.mean_diameter and springs.active_coils
        count = springs.springs_per_axle * len(done.sheet.locomotive.driver_axles)
        yield Line(
            f"{count} coil springs, music wire",
            f"wire {size(springs.wire_diameter)}, mean {round_(springs.mean_diameter)}, "
            f"{springs.active_coils.value:g} active coils",
        )
    if new.bearings and new.bearings.kind == "ball":
        held = new.bearings
        outside = f", {round_(held.outside)} outside" if held.outside else ""
        yield Line("2 flanged ball bearings", f"bore {size(held.bore)}{outside}")
    yield Line("Shims and grease", "shim stock for end play; grease that suits the gear's material")
    if done.sheet.locomotive.frame_live:
        yield Line("Insulation for the motor", "sleeves for its screws, a sheet under its case")


def running_in(done: Rebuild, system: System) -> str:
    """How long, on what, and which number should fall to what."""
    if not any(line.key == "current" for line in done.headlines):
        return ""
    current = done.headline("current").planned
    volts = show(done.sheet.supply.voltage.value / 3, "voltage", system, 1)
    full = show(done.sheet.supply.voltage.value, "voltage", system, 1)
    most = show(current.high, current.kind, system, current.decimals(system))
    return (
        f"On {volts}, light, half an hour each way, with a drop of oil in every bearing and "
        f"fresh grease after it. The current on {full} should fall toward {current.plain(system)} and "
        f"stay; above {most} after an hour something binds: line it up again before it wears "
        "(common practice)."
    )


def trued(done: Rebuild) -> Iterator[tuple[GearTable, GearTable]]:
    """The gears that are kept and planned to run truer than they do, as they are and planned."""
    for was, now in zip(done.sheet.as_is.gears, done.sheet.planned.gears, strict=False):
        same = (was.teeth, was.material) == (now.teeth, now.material)
        if same and now.total_runout.value < TRUED * was.total_runout.value:
            yield was, now


def do(done: Rebuild, system: System) -> Iterator[Line]:
    """The work, step by step: what there is something to say of."""
    return (line for line in _steps(done, system) if line.detail)


def _steps(done: Rebuild, system: System) -> Iterator[Line]:
    new = done.sheet.planned
    decided = {one.key: one for one in (*done.faults, *done.decisions)}

    def todo(*keys: str) -> str:
        return " ".join(decided[key].todo(system) for key in keys if key in decided)

    def found(key: str) -> str:
        return f"{decided[key].words(system)} {todo(key)}" if key in decided else ""

    yield Line("Measure what came", "Motor shaft and worm bore first: parts are turned to them.")
    yield Line("Try the fit with a dummy", todo("axle"))
    for was, gear in trued(done):
        last = gear is new.gears[-1]
        cut = show(workshop.truing_cut(was.total_runout.value), "fine", system)
        how = f"Bore it true, {cut} or more, and bush it, or replace it."
        how = (todo("hop") or how) if last else how
        yield Line(f"True the {gear.name}", how, ("lathe",))
    if new.seat:
        with_care = ("lathe", *SEATED[new.seat.hold])
        yield Line("Seat the gear on its axle", todo("seat throw", "seat press", "seat"), with_care)
    for part in done.parts:
        sizes = "; ".join(f"{size.words} {size.say(system)}" for size in part.sizes.values())
        notes = " ".join([f"{sizes[0].upper()}{sizes[1:]}.", *part.notes])
        yield Line(f"Turn the {part.name.lower()}", notes, ("lathe",))
    if new.ground_pin:
        bored = todo("pin wall", "pin fit", "pin", "pin true")
        yield Line("Or bore a ground pin instead", bored, ("lathe", "bond"))
    if new.hub:
        yield Line("Hub the gear on its pin", todo("tilt", "hub"), ("bond",))
    if new.flywheel:
        # It stands between motor and worm, so it goes on first.
        yield Line("Bond the flywheel", todo("balance", "whirl"), ("bond", "wheel"))
    if new.adapter and new.adapter.hold == "bond":
        yield Line("Bond sleeve and worm", f"{todo('bond')} {todo('true')}", ("bond",))
    elif new.adapter:
        yield Line("Fit sleeve and worm", f"{todo('press')} {todo('true')}", ("press",))
    refit = [one.key for one in done.faults if one.key in ("back-to-back", "quartering")]
    if refit and any(gear is new.gears[-1] for _, gear in trued(done)):
        yield Line("Put the pulled wheel back", todo(*sorted(refit)))
    yield Line("Set the mesh", found("backlash"))
    if new.bearings:
        yield Line("Seat the worm's bearings", todo("bearings", "bearing size"), ("press",))
    endwise = [found("planned end play"), todo("shims", "bow", "bow friction", "bow stress")]
    yield Line("Shim the worm", " ".join(filter(None, endwise)))
    if new.springs.kind == "sprung":
        rides = todo("ride height") if new.springs.travel else todo("springs")
        yield Line("Spring the drivers", rides, ("spring",))
    yield Line("Line up motor and gearbox", todo("alignment", "bed", "planned start"))
    yield Line("Wire, insulate and meter", todo("electrics", "pick-up", "pulses"), ("electric",))
    yield Line("Weigh it", todo("ballast"))
    yield Line("Run in", running_in(done, system), ("power",))
    yield Line(
        "Measure again",
        "The same readings on the same track, written into [measured_after] of the bench sheet; "
        "then build this sheet anew.",
    )
