"""What happens when the power goes away?"""

from mechkit import units
from mechkit.drawings.motion import SHOWN, MotionPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.questions.motion import LOSSES, Case, Trip, trip
from mechkit.panels.panel import Choice, Group, Panel, Slider


def show(sheet=None, **more):
    """The two drives of a bench sheet on one throttle, the demo's without one."""
    sheet = sheet or sheets.demo()
    case = Case(sheet.data)
    return Panel(
        title="What happens when the power goes away?",
        groups=groups(case),
        compute=lambda values: trip(case, **({"outer": 0.0} | vars(values))),
        sentence=lambda state, system: sentence(case, state, system),
        picture=MotionPicture,
        setting=case,
        write=(lambda values: write(sheet, case, values)) if case.wheel else None,
        **more,
    )


def groups(case):
    """The controls: throttle and track, the planned drive, the train."""
    volts = case.sheet.supply.voltage.value
    outer, swings = case.outer, case.runout["after"]
    wheel: tuple[Slider, ...] = ()
    if case.wheel:
        bore = case.wheel.bore.value
        wheel = (
            Slider(
                "outer",
                "flywheel's diameter",
                "length",
                bore,
                max(20e-3, outer),
                outer,
                0.25e-3,
            ),
        )
    return (
        Group("Throttle and track", (
            Slider("voltage", "throttle opened to", "voltage", 0.5, max(16.0, volts), volts, 0.25),
            Choice("loss", "then the rails are", tuple(LOSSES), "open"),
            Slider("dead", "length of the dead rail", "length", 5e-3, 400e-3, 60e-3, 5e-3,
                   when=("loss", "dead")),
            Slider("moment", "look at it after", "time", 0.0, SHOWN, SHOWN, 0.05),
        )),
        Group("Drive as planned", (
            *wheel,
            Slider("total_runout", "its axle gear's total runout", "fine", 0.0,
                   max(150e-6, swings), swings, 5e-6),
        )),
        Group("Train", (
            Slider("cars", "cars behind the tender", "mass", 0.0, 1.0, 0.0, 0.05),
            Slider("grade", "up a grade of", "ripple", 0.0, 0.04, 0.0, 0.0025),
        )),
    )  # fmt: skip


def write(sheet, case, values):
    """Flywheel and axle gear into a copy of the sheet."""
    return sheet.with_values({
        "planned.flywheel.outside_diameter": units.plain(values["outer"], "m"),
        f"planned.gears[{len(case.sheet.planned.gears)}].total_runout":
            units.plain(values["total_runout"], "m"),
    }).save_copy()  # fmt: skip


def sentence(case, state: Trip, system):
    """Both trips in the trade's words, and how well the coast is known."""
    ways = {"As it is": state.before, "As planned": state.after}
    told = " ".join(_told(name, way, state, system) for name, way in ways.items())
    spread = units.show(case.friction_spread["after"], "percent")
    return f"{told} Friction as planned, and with it the coast, is known within {spread}."


def _told(name, way, state, system):
    """One trip."""
    volts = units.show(state.voltage, "voltage", system)
    start = way.starting_voltage
    if start is None:
        return f"{name}, it does not start on {volts}."
    creep = units.show(way.creep, "speed", system, 1)
    hop = f", hops {units.show(way.hop, 'ripple')} once a wheel turn" if way.hop is not None else ""
    return (
        f"{name}, it starts at {units.show(start, 'voltage', system)}, creeps at {creep}{hop} and "
        f"{_stops(way, state, system)}{_slides(way, system)}."
    )


def _stops(way, state, system):
    """What becomes of it without power."""
    fast = units.show(way.running, "speed", system)
    if way.coast is None:
        slow = units.show(way.slowest, "speed", system)
        return f"rolls over the dead rail, down to {slow} from {fast}"
    far = units.show(way.coast, "length", system, 0 if system == "metric" else 2)
    where = " on the dead rail" if state.dead else ""
    return f"stops{where} after {far} from {fast}"


def _slides(way, system):
    """Wheels that slide, where it is more than a hair."""
    if way.slipped < 1e-3:
        return ""
    return f", its wheels sliding {units.show(way.slipped, 'length', system, 0 if system == 'metric' else 2)}"
