"""How big a flywheel for how long a coast?"""

from mechkit import units
from mechkit.drawings.flywheel import FlywheelPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.questions.flywheel import case_of, coast, first, speed_at
from mechkit.drive.questions.reach import Reach, throttle
from mechkit.panels.controls import over
from mechkit.panels.panel import Choice, Group, Panel

MATERIALS = ("brass", "steel", "tungsten alloy")
#: A bore larger than its shaft by more than a slack fit is bushed [m].
BUSHED = 0.1e-3
#: Distances that whole millimeters no longer tell apart [m].
FEW = 4.5e-3


def show(sheet=None, **more):
    """The flywheel panel of the engine in a bench sheet, the demo's without one."""
    sheet = sheet or sheets.demo()
    case = case_of(sheet.data)
    return Panel(
        title="How big a flywheel for how long a coast?",
        groups=groups(case),
        compute=lambda values: compute(case, values),
        sentence=lambda state, system: sentence(state, system, case.room_name),
        picture=FlywheelPicture,
        setting=case,
        write=lambda values: write(sheet, case, values),
        **more,
    )


def groups(case):
    """The controls: the wheel, the start, the running."""
    friction = Reach.times(first(case.after.running_friction), 0.2, 5.0)
    start = Reach.times(case.start_speed, 0.15, 2.0)
    bushed = "bore, over its bush" if case.bush > BUSHED else "bore and shaft"
    return (
        Group("Flywheel", (
            over(case.outers, "outer", "outside diameter", "length"),
            over(case.widths, "width", "width", "length"),
            Choice("material", "material", MATERIALS, case.material),
        )),
        Group("Power cut from", (
            Choice("start_from", "a fixed", ("speed", "voltage"), "speed"),
            over(start, "speed", "scale speed", "speed", steps=40, when=("start_from", "speed")),
            over(throttle(case.voltage, 0.08), "voltage", "voltage at the motor", "voltage",
                 when=("start_from", "voltage")),
            over(friction, "friction", "friction at the motor", "torque"),
        )),
        Group("Shaft and truth", (
            over(case.bores, "bore", bushed, "length", steps=30),
            over(case.off_centers, "off_center", "off center", "fine", steps=40),
        )),
    )  # fmt: skip


def write(sheet, case, values):
    """The wheel into a copy of the sheet, and the shaft where another was tried."""
    wheel = {
        "material": values["material"],
        "outside_diameter": units.plain(values["outer"], "m"),
        "width": units.plain(values["width"], "m"),
        "bore": units.plain(values["bore"], "m"),
        "off_center": units.plain(values["off_center"], "m"),
        "bearing_span": units.plain(case.bearing_span, "m"),
        "overhang": units.plain(case.gap + values["width"] / 2, "m"),
    }
    changes: dict = {"planned.flywheel": wheel}
    if abs(values["bore"] - case.bore) > 1e-9:
        shaft = units.plain(values["bore"] - case.bush, "m")
        changes["planned.motor.shaft_diameter"] = shaft
    return sheet.with_values(changes).save_copy()


def compute(case, values):
    """The state that the controls ask for."""
    start = values.speed
    if values.start_from == "voltage":
        start = speed_at(case, friction=values.friction, voltage=values.voltage)
    return coast(
        case,
        outer=values.outer,
        width=values.width,
        bore=values.bore,
        material=values.material,
        off_center=values.off_center,
        friction=values.friction,
        start_speed=start,
    )


def sentence(state, system, room="boiler"):
    """What it means at the bench."""

    def far(distance):
        places = 2 if system == "inch" else int(distance < FEW)
        return units.show(distance, "length", system, places)

    if state.start_speed <= 0:
        return "It does not start on this voltage: there is nothing to coast from."
    fast = units.show(state.start_speed, "speed", system).replace("\u00a0", "\u00a0scale\u00a0")
    low, high = far(state.open_low).split("\u00a0")[0], far(state.open_high).split("\u00a0")[0]
    fit = ""
    if state.room <= 0:
        fit = f"It does not go into the {room}. "
    elif not state.fits:
        fit = f"Only {units.show(state.room, 'length', system)} of room in the {room}. "
    stop = " (adhesion decides, not the drive)" if state.skids else ""
    crawl = ""
    if state.crawl < state.open.stop:
        crawl = f"; from a slow pass only {far(state.crawl)}: it does not bridge a dead spot"
    whirl = f"first whirl at {state.whirl_margin:.1f} times top speed"
    if state.whirl_margin > 10:
        whirl = "first whirl far above top speed"
    return (
        f"{fit}Coasts {far(state.open.stop)} ({low} to {high}) from {fast} with the rails open{stop}, "
        f"{far(state.shorted.stop)} with them shorted{crawl}. "
        f"Shakes with {state.shake:.1f} of its own weight; {whirl}."
    )
