"""How big a flywheel for how long a coast?"""

from mechkit import units
from mechkit.drawings.flywheel import FlywheelPicture
from mechkit.drive.coast import CRAWL, DEMO, coast, speed_at
from mechkit.panels.panel import Choice, Group, Panel, Slider

MATERIALS = ("brass", "steel", "tungsten alloy")
KMH, RPM = 1 / 3.6, 0.10471975511965977


def show(case=DEMO, **more):
    """The flywheel panel of an engine."""
    return Panel(
        title="How big a flywheel for how long a coast?",
        groups=groups(case),
        compute=lambda values: compute(case, values),
        sentence=sentence,
        picture=FlywheelPicture,
        setting=case,
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
            Slider("speed", "speed of the full-size engine", "speed", 8 * KMH, 100 * KMH, case.start_speed, 2 * KMH,
                   when=("start_from", "speed")),
            Slider("voltage", "voltage at the motor", "voltage", 1.0, 16.0, case.voltage, 0.25,
                   when=("start_from", "voltage")),
            Slider("friction", "friction of the drive, at the motor", "torque", 0.1e-3, 1.5e-3,
                   case.after.running_friction, 0.01e-3),
        )),
        Group("Shaft and truth", (
            Slider("bore", "bore and shaft", "length", 1.5e-3, 3.2e-3, case.bore, 0.05e-3),
            Slider("off_center", "off center", "fine", 0.0, 50e-6, case.off_center, 1e-6),
        )),
    )  # fmt: skip


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

    def fast(speed):
        return units.show(speed, "speed", system).replace("\u00a0", "\u00a0scale\u00a0")

    if state.start_speed <= 0:
        return "Does not start at this voltage: there is nothing to coast from."
    parts = [
        f"Coasts {far(state.open.stop)} ({far(state.open_low)} to {far(state.open_high)}; "
        f"{state.engine_lengths:.1f} engine lengths) from {fast(state.start_speed)} with the rails "
        f"open, {far(state.shorted.stop)} with them shorted"
    ]
    if state.skids:
        parts[0] += ", and adhesion, not the drive, decides that stop"
    if state.start_speed > CRAWL:
        parts.append(
            f"from {fast(CRAWL)} it is {far(state.crawl)}, so it does not carry a crawl over a dead spot"
        )
    coasting = "; ".join(parts) + "."
    fit = (
        ""
        if state.fits
        else "Rubs in the boiler. "
        if state.room <= 0
        else f"Only {units.show(state.room, 'length', system)} of room in the boiler. "
    )
    rpm = f"{state.whirl / RPM / 1000:.0f}\u00a0000\u00a0rpm"
    shaking = (
        f"At top speed it shakes with {state.shake:.1f} times its own weight; it whirls first at {rpm}, "
        f"{state.whirl_margin:.1f} times top speed."
    )
    return f"{fit}{coasting} {shaking}"
