"""How big a flywheel for how long a coast?"""

from mechkit import units
from mechkit.drawings.flywheel import FlywheelPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.questions.flywheel import CRAWL, coast, speed_at
from mechkit.drive.questions.flywheel_case import case_of
from mechkit.panels.panel import Choice, Group, Panel, Slider

MATERIALS = ("brass", "steel", "tungsten alloy")
KMH = 1 / 3.6


def show(sheet=None, **more):
    """The flywheel panel of the engine in a bench sheet, the demo's without one."""
    sheet = sheet or sheets.demo()
    case = case_of(sheet.data)
    return Panel(
        title="How big a flywheel for how long a coast?",
        groups=groups(case),
        compute=lambda values: compute(case, values),
        sentence=sentence,
        picture=FlywheelPicture,
        setting=case,
        write=lambda values: write(sheet, case, values),
        **more,
    )


def groups(case):
    """The controls: the wheel, the start, the running."""
    return (
        Group("Flywheel", (
            Slider("outer", "outside diameter", "length", 8e-3, 20e-3, case.outer, 0.1e-3),
            Slider("width", "width", "length", 4e-3, 22e-3, case.width, 0.25e-3),
            Choice("material", "material", MATERIALS, case.material),
        )),
        Group("Power cut from", (
            Choice("start_from", "a fixed", ("speed", "voltage"), "speed"),
            Slider("speed", "scale speed", "speed", 8 * KMH, 100 * KMH, case.start_speed, 2 * KMH,
                   when=("start_from", "speed")),
            Slider("voltage", "voltage at the motor", "voltage", 1.0, 16.0, case.voltage, 0.25,
                   when=("start_from", "voltage")),
            Slider("friction", "friction at the motor", "torque", 0.1e-3, 1.5e-3,
                   case.after.running_friction, 0.01e-3),
        )),
        Group("Shaft and truth", (
            Slider("bore", "bore and shaft", "length", 1.5e-3, 3.2e-3, case.bore, 0.05e-3),
            Slider("off_center", "off center", "fine", 0.0, 50e-6, case.off_center, 1e-6),
        )),
    )  # fmt: skip


def write(sheet, case, values):
    """The wheel into a copy of the sheet."""
    wheel = {
        "material": values["material"],
        "outside_diameter": units.plain(values["outer"], "m"),
        "width": units.plain(values["width"], "m"),
        "bore": units.plain(values["bore"], "m"),
        "off_center": units.plain(values["off_center"], "m"),
        "bearing_span": units.plain(case.bearing_span, "m"),
        "overhang": units.plain(case.gap + values["width"] / 2, "m"),
    }
    return sheet.with_value("planned.flywheel", wheel).save_copy()


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


def sentence(state, system):
    """What it means at the bench."""

    def far(distance):
        return units.show(distance, "length", system, 0 if system == "metric" else 2)

    if state.start_speed <= 0:
        return "It does not start on this voltage: there is nothing to coast from."
    fast = units.show(state.start_speed, "speed", system).replace("\u00a0", "\u00a0scale\u00a0")
    low, high = far(state.open_low).split("\u00a0")[0], far(state.open_high).split("\u00a0")[0]
    fit = ""
    if state.room <= 0:
        fit = "It does not go into the boiler. "
    elif not state.fits:
        fit = f"Only {units.show(state.room, 'length', system)} of room in the boiler. "
    stop = " (adhesion decides, not the drive)" if state.skids else ""
    crawl = ""
    if state.start_speed > CRAWL:
        crawl = f"; from a crawl only {far(state.crawl)}: it does not bridge a dead spot"
    whirl = f"first whirl at {state.whirl_margin:.1f} times top speed"
    if state.whirl_margin > 10:
        whirl = "first whirl far above top speed"
    return (
        f"{fit}Coasts {far(state.open.stop)} ({low} to {high}) from {fast} with the rails open{stop}, "
        f"{far(state.shorted.stop)} with them shorted{crawl}. "
        f"Shakes with {state.shake:.1f} of its own weight; {whirl}."
    )
