"""What the work changes: each part of the true drive stays, or is replaced by another true part."""

from dataclasses import replace

from tests.engines import made
from tests.engines.made import Chance
from tests.engines.parts import DENSITY, Bar, Drawer, GearSet, Motor, State, Worm

CHANGES = {"motor": 0.7, "gears": 0.6, "grease": 0.7, "alignment": 0.65, "thrust": 0.4,
           "flywheel": 0.7, "springs": 0.3, "runout": 0.5}  # fmt: skip
NOTHING = 0.12


def regear(chance: Chance, worm: Worm, gears, how: str, true: bool):
    """Another worm and gears between the same centers: new materials, starts or module."""
    starts, module, pitch = worm.starts, worm.module, worm.pitch
    if how == "starts":
        starts = 3 - starts if starts < 3 else 2
    if how == "module":
        module = chance.one([m for m in made.MODULES if 0.75 <= m / worm.module <= 1.35])
    teeth = [max(round(one.teeth * worm.module / module), 8) for one in gears]
    pitch += worm.module * gears[0].teeth - module * teeth[0]
    thread, first, last = (chance.one(made.MATERIALS) for _ in range(3))
    # An acetal worm is a rarity, and a plastic gear never lies under a plastic worm for long.
    if thread == "acetal" and chance.yes(0.8):
        thread = "steel"
    new = replace(worm, material=thread, starts=starts, module=module, outside=pitch + 2 * module)
    cut = []
    for n, one in enumerate(gears):
        material = first if n == 0 else last
        cut.append(made.gear(chance, one.name, teeth[n], material, module, true, bool(one.throat)))
    return new, tuple(cut)


def bored(chance: Chance, worm: Worm, shaft: float) -> Worm | None:
    """The worm with a bore that takes the shaft, straight or through a sleeve; None if neither."""
    root = worm.pitch - 2.4 * worm.module
    larger = [d for d in made.SHAFTS if shaft * 1.18 < d <= shaft * 1.75 and d < 0.82 * root]
    if larger and chance.yes(0.35):
        return replace(worm, bore=chance.one(larger))
    return replace(worm, bore=shaft) if shaft < 0.82 * root else None


def on_shaft(chance: Chance, state: State) -> State | None:
    """The state with a sleeve where the bore is larger than the shaft; None where it is smaller."""
    shaft, bore = state.motor.shaft, state.worm.bore
    if bore < shaft - 1e-9:
        return None
    if bore <= shaft + 1e-9:
        return replace(state, adapter=None)
    if bore - shaft < 0.3e-3:
        return None
    return replace(state, adapter=state.adapter or made.adapter(chance, state.worm))


def better(chance: Chance, before: State, room, voltage, size):
    """The drive after the work and the names of what was changed; None where it cannot be."""
    if chance.yes(NOTHING):
        return before, ()
    cut = [name for name, odds in CHANGES.items() if chance.yes(odds)] or ["motor"]
    state = before
    if "motor" in cut:
        kind = chance.one(("ironless", "iron core"), (7, 3))
        new = made.motor(chance, "new", kind, room, voltage, size)
        state = replace(state, motor=new)
        if state.flywheel:
            state = replace(state, flywheel=made.flywheel(chance, new, room, size))
    worm, gears, mesh = state.worm, state.gears, state.mesh
    if "gears" in cut:
        how = chance.one(("material", "starts", "module"), (6, 2, 2))
        worm, gears = regear(chance, worm, gears, how, true=True)
        fitted = bored(chance, worm, state.motor.shaft)
        if fitted is None:
            return None
        worm = fitted
    elif "runout" in cut:
        gears = tuple(replace(one, runout=one.runout * chance.between(0.1, 0.5)) for one in gears)
    if "gears" in cut or "grease" in cut:
        kind = "greased" if "grease" in cut else mesh.lubrication
        other = made.mesh(chance, kind, worm.module, size)
        # What the old grease drags stays in a box that is not cleaned.
        mesh = replace(other, angle=mesh.angle if worm.module == state.worm.module else other.angle)
        if "grease" not in cut:
            mesh = replace(mesh, drag=state.mesh.drag)
        if "gears" not in cut:
            mesh = replace(mesh, backlash=state.mesh.backlash, spur=state.mesh.spur)
            mesh = replace(mesh, worm_backlash=state.mesh.worm_backlash)
    if "thrust" in cut:
        worm = replace(worm, thrust="ball", collar=made.collar(chance, "ball", worm.bore))
        worm = replace(worm, end_play=min(worm.end_play, chance.wide(0.02e-3, 0.1e-3)))
    state = replace(state, worm=worm, gears=gears, mesh=mesh)
    if "alignment" in cut:
        straight = before.alignment.offset * chance.between(0.05, 0.7)
        state = replace(state, alignment=replace(before.alignment, offset=straight))
    if "flywheel" in cut:
        state = replace(state, flywheel=made.flywheel(chance, state.motor, room, size))
    fitted = on_shaft(chance, state)
    return (fitted, tuple(cut)) if fitted else None


def stocked(chance: Chance, before: State, after: State, room, voltage, size) -> Drawer:
    """Two or three motors, gear sets and bars; the planned ones often among them."""
    motors: list[Motor] = []
    for n in range(chance.whole(2, 3)):
        kind = chance.one(("ironless", "iron core"))
        motors.append(made.motor(chance, f"{kind} {n + 1}", kind, room, voltage, size))
    if chance.yes(0.6):
        motors[0] = replace(after.motor, name="the planned one")
    sets = []
    short = after.gears if len(after.gears) < 3 else after.gears[-1:]
    for n in range(chance.whole(2, 3)):
        how = chance.one(("material", "starts", "module"))
        worm, gears = regear(chance, after.worm, short, how, true=True)
        fitted = bored(chance, worm, motors[n % len(motors)].shaft)
        rubs = made.mesh(chance, after.mesh.lubrication, worm.module, size)
        if fitted and gears[-1].teeth >= 6:
            sets.append(GearSet(f"set {n + 1}", fitted, gears, replace(rubs, drag=after.mesh.drag)))
    if len(after.gears) < 3 and (not sets or chance.yes(0.5)):
        sets.append(GearSet("as planned", after.worm, after.gears, after.mesh))
    motors = [m for m in motors if made.LEAST_OHMS < m.resistance < made.MOST_OHMS]
    if not sets or not motors:
        return Drawer()
    bars = []
    for n in range(chance.whole(1, 3)):
        material = chance.one(tuple(DENSITY))
        wide = made.rounded(room * chance.between(0.6, 1.3), 0.5e-3)
        bars.append(
            Bar(f"{material} {n + 1}", material, max(wide, 6.5e-3), chance.between(0.02, 0.3))
        )
    return Drawer(tuple(motors), tuple(sets), tuple(bars))
