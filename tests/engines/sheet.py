"""The bench sheet of an invented engine, under the schema of the day, as a machinist writes it."""

from dataclasses import dataclass
from math import degrees

from tests.engines import bench
from tests.engines.hand import INCH, MM, Bench, Hand, bench_of, faultless
from tests.engines.made import Chance, Faultless
from tests.engines.parts import Engine, State
from tests.engines.steady import Works

#: Springs under an equalizer; the schema has no word of its own for it.
KINDS = {"rigid": "rigid", "sprung": "sprung", "equalized": "sprung"}
ARRANGEMENT = {True: ("0-{0}-0", "2-{0}-2"), False: ("4-{0}-0", "2-{0}-0", "2-{0}-2")}


@dataclass(frozen=True)
class Written:
    """A sheet's text and the bench that it came from."""

    text: str
    bench: Bench


def sheet_text(engine: Engine, seed: int) -> str:
    """The text of one bench sheet."""
    return write(engine, seed).text


def write(engine: Engine, seed: int, perfect: bool = False) -> Written:
    """One evening's sheet of an engine: the same seed, the same errors; or ``perfect``, none."""
    chance = (Faultless if perfect else Chance)(seed, engine.seed, 7)
    found = Works(engine, engine.before).running(engine.voltage)
    assert found
    tools = bench_of(chance, engine.units, engine.pull_at_slip, found[1], engine.mass)
    if perfect:
        tools = faultless(tools)
    hand = Hand(chance, tools)
    states = _States(hand, engine)
    before = states.of(engine.before, "as_is")
    # Who plans nothing copies what he has written.
    after = states.of(engine.after, "planned")
    blocks = [
        _head(hand, engine), before, after, _envelope(hand, engine), _drawer(hand, engine),
        bench.track(hand, engine, engine.before, "measured_before"),
        bench.track(hand, engine, engine.after, "measured_after") if tools.after else [],
    ]  # fmt: skip
    return Written("\n".join("\n".join(block) + "\n" for block in blocks if block), tools)


def _head(hand: Hand, engine: Engine) -> list[str]:
    """Engine, supply, instruments, track."""
    chance, tools = hand.chance, hand.bench
    wheels = 2 * len(engine.axles)
    kind = "tank engine" if engine.tank else "tender engine"
    arrangement = chance.one(ARRANGEMENT[engine.tank]).format(wheels)
    speed = engine.top_speed
    mph = hand.in_inches()
    axles = ", ".join(
        hand.length(at, 0.1 * MM, inch=False) if at else '"0 mm"' for at in engine.axles
    )
    kg = hand.mass
    lines = [
        f'title = "No. {engine.seed}, a {kind} that nobody built (invented)"',
        "",
        "[locomotive]",
        f"scale = {engine.scale:g}",
        f'wheel_arrangement = "{arrangement}"',
        f'top_speed = "{speed / 0.44704:.0f} mph"'
        if mph
        else f'top_speed = "{speed * 3.6:.0f} km/h"',
        f"weight = {kg(engine.mass)}",
        f"weight_on_drivers = {kg(engine.driver_mass)}",
        f"trailing_weight = {kg(engine.trailing)}",
        f"length = {hand.length(engine.length, tools.ruler)}",
        f"driver_diameter = {hand.length(engine.wheel, written=tools.writes)}",
        f"axle_diameter = {hand.length(engine.axle_diameter)}",
        f"driver_axles = [{axles}]",
        f"center_of_gravity = {hand.length(engine.center_of_gravity, 1 * MM, written=True, inch=False)}",
        f"crankpin_clearance = {hand.fine(engine.pin_clearance, written=False)}",
        f"crank_throw = {hand.length(engine.throw)}",
        f"frame_live = {str(engine.frame_live).lower()}",
    ]
    if chance.yes(0.4):
        off = max(degrees(engine.quartering) + hand.off(1.0), 0.0)
        lines.append(f'quartering_error = "{off:.1f} +/- 1 deg"')
    gauged = chance.yes(0.35)
    if gauged:
        apart = engine.gauge - 2 * engine.flange - max(0.03 * engine.gauge, 0.3 * MM)
        backs = ", ".join(hand.length(apart, inch=False) for _ in engine.axles)
        lines += [f"back_to_back = [{backs}]"]
        lines += [f"flange_width = {hand.length(engine.flange, inch=False)}"]
    lines += [
        "",
        "[supply]",
        f'voltage = "{engine.voltage:g} V"',
        f'kind = "{chance.one(("direct", "direct", "direct", "pulsed", "digital"))}"',
        "",
        "[instruments]",
        f"caliper = {_tool(tools.caliper, tools.units == 'inch')}",
        f"lathe = {_tool(tools.lathe)}",
        f"ruler = {_tool(tools.ruler)}",
        f'stopwatch = "{tools.stopwatch:g} s"',
        f'meter = "{100 * tools.meter:g} %"',
    ]
    if tools.micrometer:
        lines.append(f"micrometer = {_tool(tools.micrometer, tools.units == 'inch')}")
    if tools.indicator:
        lines.append(f"indicator = {_tool(tools.indicator, tools.indicator > 0.01001 * MM)}")
    if tools.frame_rate:
        lines.append(f"frame_rate = {tools.frame_rate:g}")
    lines += ["", "[track]"]
    if chance.yes(0.8):
        lines.append(f"rail_unevenness = {hand.fine(engine.unevenness, good_to=0.05 * MM)}")
    else:
        lines.append('rail_unevenness = "0 mm"')
    lines += [
        f"adhesion = {hand.share(engine.adhesion, chance.between(0.08, 0.2))}",
        f"rolling_resistance = {hand.share(engine.rolling, chance.between(0.1, 0.3))}",
        f'grade = "{100 * engine.grade:.1f} %"',
        f"car_weight = {kg(engine.car)}",
    ]
    if gauged:
        lines.append(f"gauge = {hand.length(engine.gauge, inch=False)}")
    return lines


def _tool(value: float, inch: bool = False) -> str:
    """The fineness of an instrument."""
    return f'"{value / INCH:.4f} in"' if inch else f'"{round(value / MM, 4):g} mm"'


class _States:
    """States as tables; a part that stays is written once and copied."""

    def __init__(self, hand: Hand, engine: Engine):
        self.hand, self.engine, self.kept = hand, engine, {}

    def once(self, what, key, make):
        """The lines of a part, as they were written the first time."""
        if (what, key) not in self.kept:
            self.kept[what, key] = make()
        return self.kept[what, key]

    def of(self, state: State, name: str) -> list[str]:
        """All tables of one state."""
        hand, lines = self.hand, []
        worm, gears, mesh = state.worm, state.gears, state.mesh
        motor = self.once("motor", state.motor, lambda: bench.motor_table(hand, state.motor, "?"))
        lines += [f"[{name}.motor]", *motor[1:], "", f"[{name}.worm]"]
        lines += self.once("worm", worm, lambda: _worm(hand, worm))
        tops = [state.gear_outside(n) for n in range(len(gears))]
        tables = self.once("gears", (gears, *tops), lambda: _gears(hand, gears, tops))
        for table in tables:
            lines += ["", f"[[{name}.gears]]", *table]
        felt = (mesh.backlash, mesh.angle, mesh.lubrication)
        lines += ["", f"[{name}.mesh]", *self.once("mesh", felt, lambda: _mesh(hand, mesh))]
        bent = state.alignment
        lines += ["", f"[{name}.alignment]"]
        lines += self.once("alignment", bent, lambda: _alignment(hand, bent))
        lines += ["", f"[{name}.springs]"]
        lines += self.once("springs", state.springs, lambda: _springs(hand, state.springs))
        wheel, sleeve = state.flywheel, state.adapter
        if wheel:
            lines += ["", f"[{name}.flywheel]"]
            lines += self.once("flywheel", wheel, lambda: _flywheel(hand, wheel))
        if sleeve:
            lines += ["", f"[{name}.adapter]"]
            lines += self.once("adapter", sleeve, lambda: _adapter(sleeve))
        return lines


def _worm(hand, worm):
    return [
        f'material = "{worm.material}"',
        f"starts = {worm.starts}",
        f"module = {hand.stock_size(worm.module)}",
        f"outside_diameter = {hand.length(worm.outside)}",
        f"length = {hand.length(worm.length)}",
        f"bore = {hand.stock_size(worm.bore)}",
        f"end_play = {hand.fine(worm.end_play, good_to=0.02 * MM, written=False)}",
        f'thrust_bearing = "{worm.thrust}"',
    ]


def _gears(hand, gears, tops):
    return [
        [
            f'name = "{gear.name}"',
            f"teeth = {gear.teeth}",
            f'material = "{gear.material}"',
            f"outside_diameter = {hand.length(outside)}",
            f"face_width = {hand.length(gear.face)}",
            f"total_runout = {hand.fine(gear.runout, written=False)}",
        ]
        for gear, outside in zip(gears, tops, strict=True)
    ]


def _mesh(hand, mesh):
    return [
        f"backlash = {hand.fine(mesh.backlash, good_to=max(0.15 * mesh.backlash, 0.01 * MM), written=True)}",
        f'pressure_angle = "{degrees(mesh.angle):g} deg"',
        f'lubrication = "{mesh.lubrication}"',
    ]


def _alignment(hand, bent):
    good_to = max(0.3 * bent.offset, 0.01 * MM)
    said = hand.fine(bent.offset, good_to=good_to, written=True) if bent.offset else '"0 mm"'
    return [f"offset = {said}", f"span = {hand.length(bent.span, 1 * MM)}"]


def _springs(hand, springs):
    lines = [f'kind = "{KINDS[springs.kind]}"']
    if springs.kind == "rigid":
        return lines
    lines += [
        f"wire_diameter = {hand.length(springs.wire, 0.01 * MM, inch=False)}",
        f"mean_diameter = {hand.length(springs.mean, inch=False)}",
        f"active_coils = {springs.coils:g}",
        "springs_per_axle = 2",
        f"preload = {hand.length(springs.preload, 0.1 * MM, inch=False)}",
    ]
    if hand.chance.yes(0.7):
        lines.append(f"free_length = {hand.length(springs.free, 0.1 * MM, inch=False)}")
    if hand.chance.yes(0.7):
        lines.append(f"travel = {hand.length(springs.travel, 0.1 * MM, inch=False)}")
    return lines


def _flywheel(hand, wheel):
    return [
        f'material = "{wheel.material}"',
        f"outside_diameter = {hand.length(wheel.outside)}",
        f"width = {hand.length(wheel.width)}",
        f"bore = {hand.stock_size(wheel.bore)}",
        f"off_center = {hand.fine(wheel.off_center, good_to=4e-6, written=True)}",
        f"bearing_span = {hand.length(wheel.bearing_span)}",
        f"overhang = {hand.length(wheel.overhang)}",
    ]


def _adapter(sleeve):
    return [
        f'material = "{sleeve.material}"',
        f'temper = "{sleeve.temper}"',
        f'length = "{sleeve.length / MM:.1f} mm"',
        f'hold = "{sleeve.hold}"',
        f'bond_strength = "{sleeve.strength / 1e6:.0f} +/- {sleeve.strength / 4e6:.0f} MPa"',
    ]


def _envelope(hand, engine):
    lines = ["[envelope]", f"shaft_height = {hand.length(engine.shaft_height, 0.1 * MM)}"]
    for room in engine.rooms:
        lines += [
            "",
            "[[envelope.rooms]]",
            f'name = "{room.name}"',
            f'from = "{room.start / MM:.1f} mm"',
            f'to = "{room.end / MM:.1f} mm"',
            f'shape = "{room.shape}"',
        ]
        keys = ("height", "diameter") if room.shape == "round" else ("bottom", "top", "width")
        lines += [f'{key} = "{getattr(room, key) / MM:.2f} mm"' for key in keys]
    return lines


def _drawer(hand, engine):
    lines = []
    for motor in engine.drawer.motors:
        table = bench.motor_table(hand, motor, "?")
        lines += ["", "[[stock.motors]]", f'name = "{motor.name}"', *table[1:]]
    for one in engine.drawer.gear_sets:
        worm, gears = one.worm, one.gears
        lines += [
            "",
            "[[stock.gear_sets]]",
            f'name = "{one.name}"',
            f'worm_material = "{worm.material}"',
            f"starts = {worm.starts}",
            f"module = {hand.stock_size(worm.module)}",
            f"worm_diameter = {hand.length(worm.outside)}",
            f"worm_length = {hand.length(worm.length)}",
            f"worm_bore = {hand.stock_size(worm.bore)}",
            f'gear_material = "{gears[0].material}"',
            *([f"idler_teeth = {gears[0].teeth}"] if len(gears) == 2 else []),
            f"wheel_teeth = {gears[-1].teeth}",
            f"face_width = {hand.length(gears[-1].face)}",
        ]
    for bar in engine.drawer.bars:
        lines += [
            "",
            "[[stock.bars]]",
            f'name = "{bar.name}"',
            f'material = "{bar.material}"',
            f'diameter = "{bar.diameter / MM:.1f} mm"',
            f'length = "{bar.length / MM:.0f} mm"',
        ]
    return lines
