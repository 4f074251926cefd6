"""What happens when the power goes away?"""

from mechkit import units
from mechkit.drawings.motion import MotionPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.questions.motion import LOSSES, Case, Trip, trip
from mechkit.drive.questions.reach import Reach
from mechkit.panels.controls import over
from mechkit.panels.panel import Choice, Group, Panel, Slider

#: The least speed that is told of a full-size engine [m/s]; what creeps slower just starts.
CREEPS = 0.02


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
    wheel: tuple[Slider, ...] = ()
    if case.wheel:
        wheel = (over(case.outers, "outer", "flywheel's diameter", "length", steps=40),)
    moment = Reach(case.shown, 0.0, case.shown)
    return (
        Group("Throttle and track", (
            over(case.voltage, "voltage", "throttle opened to", "voltage"),
            Choice("loss", "then the rails are", tuple(LOSSES), "open"),
            over(case.dead, "dead", "length of the dead rail", "length", when=("loss", "dead")),
            over(moment, "moment", "look at it after", "time", steps=150),
        )),
        Group("Drive as planned", (
            *wheel,
            over(case.runouts, "total_runout", "its axle gear's total runout", "fine", steps=30),
        )),
        Group("Train", (
            over(case.cars, "cars", "cars behind the tender", "mass", steps=20),
            over(case.grade, "grade", "up a grade of", "ripple", steps=20),
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
    ways = {"before": ("As it is", state.before), "after": ("As planned", state.after)}
    told = " ".join(_told(*way, state, system) for way in ways.values())
    spread = case.friction_spread["after"]
    if spread > 1:
        return f"{told} Friction as planned, and with it the coast, is a guess."
    within = units.show(spread, "percent")
    return f"{told} Friction as planned, and with it the coast, is known within {within}."


def _told(name, way, state, system):
    """One trip."""
    volts = units.show(state.voltage, "voltage", system)
    start = way.starting_voltage
    if start is None:
        return f"{name}, it does not start on {volts}{_slides(way, system)}."
    if way.running <= 0:
        volts = units.show(start, "voltage", system)
        return f"{name}, it breaks away at {volts}, but does not get away{_slides(way, system)}."
    creep = f", creeps at {units.show(way.creep, 'speed', system, 1)}" if way.creep > CREEPS else ""
    hop = f", hops {units.show(way.hop, 'ripple')} once a wheel turn" if way.hop is not None else ""
    return (
        f"{name}, it starts at {units.show(start, 'voltage', system)}{creep}{hop} and "
        f"{_stops(way, state, system)}{_slides(way, system)}."
    )


def _stops(way, state, system):
    """What becomes of it without power."""
    fast = units.show(way.running, "speed", system)
    if way.coast is None:
        slow = units.show(way.slowest, "speed", system)
        if not state.dead:
            return f"is still rolling, at {slow}, when one has looked long enough"
        return f"rolls over the dead rail, down to {slow} from {fast}"
    far = units.show(way.coast, "length", system, 0 if system == "metric" else 2)
    where = " on the dead rail" if state.dead else ""
    return f"stops{where} after {far} from {fast}"


def _slides(way, system):
    """Wheels that slide, where it is more than a hair."""
    if way.slipped < 1e-3:
        return ""
    return f", its wheels sliding {units.show(way.slipped, 'length', system, 0 if system == 'metric' else 2)}"
