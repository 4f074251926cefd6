"""``draw(seed)``: one invented engine, or another draw where the first could not exist."""

from dataclasses import replace
from itertools import pairwise
from math import cos, pi

from tests.engines import made, planned
from tests.engines.made import Chance
from tests.engines.parts import Alignment, Drawer, Engine, Gear, Room, State
from tests.engines.steady import Works

SCALES = (22.5, 32, 43.5, 45, 48, 64, 76.2, 87.1, 120, 160)
SUPPLIES = (6.0, 9.0, 10.0, 12.0, 12.0, 14.0, 16.0, 18.0, 20.0, 24.0)
MOST_DRAWS = 2000


def draw(seed: int) -> Engine:
    """The engine of a seed; ``rejected`` counts the draws that could not exist."""
    for attempt in range(MOST_DRAWS):
        engine = once(seed, attempt)
        if not impossible(engine):
            return replace(engine, rejected=attempt)
    raise RuntimeError(f"seed {seed}: no engine in {MOST_DRAWS} draws")


def plain(engine: Engine) -> Engine:
    """The engine without what no reading of a sheet can tell: brush drop, a magnet that tires,
    friction in the mesh that fades with speed.
    """

    def of(state: State) -> State:
        motor = replace(state.motor, brush_drop=0.0, magnet=0.0)
        return replace(state, motor=motor, mesh=replace(state.mesh, rise=0.0))

    before = of(engine.before)
    after = before if engine.after is engine.before else of(engine.after)
    return replace(engine, before=before, after=after)


def once(seed: int, attempt: int) -> Engine | str:
    """One draw, or why its parts do not go together."""
    chance = Chance(seed, attempt)
    scale = SCALES[seed % len(SCALES)] if attempt < 1000 else chance.one(SCALES)
    size = 64 / scale
    wheel = made.rounded(chance.between(0.78, 1.7) / scale, 0.05e-3)
    count = chance.one((2, 3, 4, 5, 6), (3, 5, 4, 2, 1))
    places = [0.0]
    for _ in range(count - 1):
        places.append(places[-1] + made.rounded(wheel * chance.between(1.08, 1.45), 0.1e-3))
    voltages = [v for v in SUPPLIES if (v >= 12 or size <= 1.4) and (v <= 16 or size >= 0.7)]
    voltage = chance.one(voltages)
    top = wheel * scale * chance.between(8, 16)
    boiler = chance.between(1.1, 1.8) / scale
    above = boiler * chance.between(-0.04, 0.22)
    free = max(0.3e-3, 0.04 * boiler) * chance.between(1, 2)
    room = min(boiler - 2 * abs(above) - 2 * free, 42e-3)
    if room < 5.5e-3:
        return "no motor is so small"
    before = as_is(chance, wheel, room, voltage, size, top / scale)
    if isinstance(before, str):
        return before
    tank = chance.yes(0.3)
    mass = 0.410 * size**2.2 * chance.wide(0.6, 1.6)
    on_drivers = mass * (chance.between(0.93, 1.0) if tank else chance.between(0.62, 0.92))
    if tank and chance.yes(0.4):
        on_drivers = mass
    load = on_drivers * 9.81 / count / 2
    before = replace(
        before,
        springs=made.springs(chance, chance.one(("rigid", "sprung", "equalized"), (5, 4, 2)), load, size),
    )  # fmt: skip
    done = planned.better(chance, before, room, voltage, size)
    if done is None:
        return "the new parts do not go together"
    after, cut = done
    if "springs" in cut:
        kind = chance.one(("sprung", "equalized"), (3, 1))
        after = replace(after, springs=made.springs(chance, kind, load, size))
    height = wheel / 2 + reach(chance, before)
    bottom = height + above - boiler / 2
    if bottom < 0.2 * wheel:
        return "the boiler would lie on the axles"
    rooms = body(chance, (before, after), places, wheel, boiler, height, above, free, size)
    rear, front = max(r.end for r in rooms), min(r.start for r in rooms)
    long = rear - front + wheel * chance.between(0.6, 1.6)
    stock = Drawer()
    if chance.yes(0.4):
        stock = planned.stocked(chance, before, after, room, voltage, size)
    middle = places[-1] / 2
    return Engine(
        seed=seed,
        scale=scale,
        tank=tank,
        wheel=wheel,
        mass=mass,
        driver_mass=on_drivers,
        trailing=chance.between(2e-3, 6e-3) * size if tank else mass * chance.between(0.12, 0.6),
        rolling=chance.wide(0.008, 0.04),
        grip=chance.between(0.12, 0.30),
        voltage=voltage,
        top_speed=top,
        axles=tuple(places),
        axle_diameter=made.rounded(wheel * chance.between(0.14, 0.24), 0.05e-3),
        center_of_gravity=middle + places[-1] * chance.between(-0.18, 0.18),
        length=long if tank else long * chance.between(1.35, 1.75),
        throw=made.rounded(wheel * chance.between(0.2, 0.27), 0.05e-3),
        pin_clearance=chance.wide(0.04e-3, 0.25e-3) * min(size, 1.5) ** 0.5,
        quartering=abs(chance.normal(0.02)),
        gauge=chance.one((1.435, 1.067, 0.914, 0.762), (6, 1, 2, 1)) / scale,
        flange=max(0.035 / scale, 0.4e-3) * chance.between(1.0, 1.4),
        frame_live=chance.yes(0.6),
        shaft_height=height,
        rooms=tuple(rooms),
        car=0.095 * size**2.2 * chance.wide(0.4, 2.0),
        grade=chance.between(0.005, 0.04),
        unevenness=chance.wide(0.05e-3, 0.5e-3) * min(size, 2) ** 0.5,
        before=before,
        after=after,
        cut=cut,
        drawer=stock,
        units=chance.one(("metric", "inch", "mixed"), (4, 2, 4)),
    )


def as_is(chance: Chance, wheel, room, voltage, size, rail) -> State | str:
    """The drive as it is, geared so that it runs somewhat fast, or much."""
    motor = made.motor(
        chance, "old", chance.one(("iron core", "ironless"), (7, 3)), room, voltage, size
    )
    speed = 0.75 * motor.free(voltage)[0]
    ratio = speed * wheel / 2 / (rail * chance.wide(0.9, 2.4))
    starts = chance.one((1, 2, 3), (7, 3, 1)) if ratio < 26 else chance.one((1, 2), (8, 1))
    teeth = round(ratio * starts)
    if not 12 <= teeth <= 70:
        return "no axle gear has so many teeth"
    fits = [m for m in made.MODULES if 0.42 * wheel <= (teeth + 2) * m <= 0.83 * wheel]
    if not fits:
        return "no module fits the axle gear"
    module = chance.one(fits)
    between = chance.one((0, 1, 2, 3), (4, 6, 2, 1))
    thread = chance.one(made.MATERIALS, (5, 3, 2, 0.4, 1, 1))
    names = ["idler", "second idler", "third idler"][:between]
    gears: list[Gear] = []
    for n, name in enumerate([*names, "axle gear"]):
        count = teeth if n == between else chance.whole(12, 26)
        material = chance.one(made.MATERIALS, (5, 1, 1, 2, 2, 1))
        straight = between == 0 and chance.yes(0.5)
        gears.append(made.gear(chance, name, count, material, module, chance.yes(0.4), straight))
    bore = motor.shaft
    thrust = chance.one(("plain", "ball"), (3, 1))
    worm = made.worm(chance, thread, starts, module, bore, thrust, size)
    if chance.yes(0.2):
        worm = planned.bored(chance, worm, motor.shaft) or worm
    offset = chance.wide(0.01e-3, 0.25e-3) * min(size, 1.5) if chance.yes(0.75) else 0.0
    span = made.rounded(max(motor.body_length * chance.between(0.5, 1.2), 4e-3), 0.5e-3)
    kind = chance.one(("dry", "starved", "greased"), (1, 4, 4))
    wheel_on = made.flywheel(chance, motor, room, size) if chance.yes(0.3) else None
    state = State(
        motor=motor,
        worm=worm,
        gears=tuple(gears),
        mesh=made.mesh(chance, kind, module, size),
        alignment=Alignment(offset, span, chance.wide(0.02, 0.6), chance.between(0.2, 0.6)),
        springs=made.Springs("rigid"),
        box=motor.friction * chance.wide(0.02, 1.2),
        box_stiction=chance.between(1.05, 1.8),
        flywheel=wheel_on,
    )
    return planned.on_shaft(chance, state) or "the worm does not go on the shaft"


def reach(chance: Chance, state: State) -> float:
    """From the axle up to the drive shaft: worm over its gear, the others leaning as they must."""
    module, gears = state.worm.module, state.gears
    high = (state.worm.pitch + module * gears[0].teeth) / 2
    for one, two in pairwise(gears):
        lean = cos(chance.between(0, pi / 2.4) if len(gears) > 2 else chance.between(0, 0.9))
        high += module * (one.teeth + two.teeth) / 2 * lean
    return made.rounded(high, 0.1e-3)


def drive_length(state: State, size: float) -> float:
    """From the worm's middle to the motor's far end, with room for a wall between [m]."""
    wall = 3.2e-3 * max(1.0, size**0.5)
    whole = state.worm.length / 2 + wall + state.motor.body_length
    if state.flywheel:
        wheel = state.flywheel
        whole += wheel.width + wheel.overhang - wheel.width / 2
    return whole + 1.2e-3 * max(1.0, size**0.5)


def body(chance: Chance, states, places, wheel, boiler, height, above, free, size):
    """A round boiler and a box behind it, long enough for the drive on one axle one way round."""
    need = max(drive_length(state, size) for state in states)
    axle = places[chance.whole(0, len(places) - 1)]
    front = -wheel * chance.between(0.5, 1.2)
    box = places[-1] + wheel * chance.between(-0.4, 0.2)
    rear = places[-1] + wheel * chance.between(0.6, 1.4)
    if chance.yes(0.8):
        rear = max(rear, axle + need + chance.between(0.2e-3, 4e-3) * size)
    else:
        front = min(front, axle - need - chance.between(0.2e-3, 4e-3) * size)
    widest = max(s.motor.body_diameter for s in states)
    widest = max([widest, *[s.flywheel.outside for s in states if s.flywheel]])
    half = widest / 2 + free
    return [
        Room("boiler", front, box, "round", height=height + above, diameter=boiler),
        Room(
            "firebox", box, rear, "box",
            bottom=max(height - half * chance.between(1.0, 1.3), 0.15 * wheel),
            top=height + half * chance.between(1.1, 1.7),
            width=2 * half * chance.between(1.0, 1.15),
        ),
    ]  # fmt: skip


def impossible(engine: Engine | str) -> str:
    """Why no such engine could stand on a bench; empty where it could."""
    if isinstance(engine, str):
        return engine
    if engine.pull_at_slip < 0.25 * engine.rim_limit:
        return "it can hardly move its own tender"
    if engine.length * engine.scale > (16 if engine.tank else 27):
        return "too long"
    for name, state in (("before", engine.before), ("after", engine.after)):
        found = _parts(engine, state) or _runs(engine, state, name)
        if found:
            return f"{name}: {found}"
    return ""


def _parts(engine: Engine, state: State) -> str:
    """What does not fit."""
    boiler = engine.rooms[0]
    room = boiler.diameter / 2 - abs(boiler.height - engine.shaft_height)
    wheel = state.flywheel
    if not made.LEAST_OHMS < state.motor.resistance < made.MOST_OHMS:
        return "no such winding"
    if state.motor.body_diameter / 2 > room - 0.15e-3:
        return "the motor is thicker than the body"
    if wheel and wheel.outside / 2 > room - 0.15e-3:
        return "the flywheel rubs"
    if state.gear_outside(-1) > 0.86 * engine.wheel:
        return "the axle gear hangs on the rail"
    if state.gears[-1].teeth * state.worm.module < 1.35 * engine.axle_diameter:
        return "the axle is thicker than its gear"
    if any(not 8 <= one.teeth <= 80 for one in state.gears):
        return "teeth"
    if state.worm.pitch - 2.4 * state.worm.module < 1.15 * state.worm.bore:
        return "no wall over the worm's bore"
    if any(one.runout >= 1.8 * state.worm.module for one in state.gears):
        return "out of mesh once a turn"
    return ""


def _runs(engine: Engine, state: State, name: str) -> str:
    """What does not run."""
    works, volts = Works(engine, state), engine.voltage
    if works.starting_voltage > 0.75 * volts:
        return "it starts too late"
    found = works.running(volts)
    if found is None:
        return "it does not run"
    speed, current = found
    full = works.rail(speed) * engine.scale / engine.top_speed
    low, high = (0.45, 3.5) if name == "before" else (0.5, 2.5)
    if not low <= full <= high:
        return "too slow" if full < low else "too fast"
    if works.rise_at(volts) > 90:
        return "it melts"
    if current > 3 or speed * 30 / pi > 22000:
        return "no such motor"
    if works.stall_margin(volts) < 0.8:
        return "far too weak"
    if not 0.05 <= works.efficiency <= 0.95:
        return "no such mesh"
    return ""
