"""Which of my motors, gears and bars?"""

from types import SimpleNamespace

from mechkit import units
from mechkit.drawings.choose import ChoosePicture, PlannedPicture
from mechkit.drive import sheet as sheets
from mechkit.drive.choice.aims import AIMS
from mechkit.drive.choice.chosen import nothing_fits, parts_of, wheel_of
from mechkit.drive.choice.stock import NothingToChoose
from mechkit.drive.questions.choose import case_of, into, pick
from mechkit.drive.questions.reach import Reach, throttle
from mechkit.panels.controls import over
from mechkit.panels.panel import Choice, Group, Panel

TITLE = "Which of my motors, gears and bars?"
#: Coast and length that a slider reaches at least, of the engine's own length.
LEAST = 0.1
#: Words on the panel for the aims behind them.
ACROSS = {"creep": "creep", "start": "start", "top speed": "top", "length": "room"}
UP = {"coast": "coast", "life": "life", "heat": "cool"}
#: What a drive does, for each aim: the number, and what was asked.
DOES = {
    "start": "starts at {0}",
    "creep": "creeps at {0}",
    "top": "is {0} off the wanted speed at full throttle",
    "coast": "coasts {0} from {1}",
    "coast_on": "coasts {0} from {1}",
    "life": "lasts {0} as long as the old pair",
    "cool": "could carry for ever {0} times the current that it takes when the wheels slip",
    "room": "leaves {0} of length beyond the gaps that its parts need",
}


def show(sheet=None, **more):
    """The choice among the stock of a bench sheet, the demo's without one."""
    sheet = sheet or sheets.demo()
    try:
        case = case_of(sheet.data)
        if not len(case.found.fitting.motor):
            raise NothingToChoose(nothing_fits(case.found))
    except NothingToChoose as error:
        return _nothing(sheet, str(error), more)
    return Panel(
        title=TITLE,
        groups=groups(case),
        compute=lambda values: compute(case, values),
        sentence=lambda state, system: sentence(case, state, system),
        picture=ChoosePicture,
        setting=case,
        write=lambda values: write(sheet, case, values),
        **more,
    )


def _nothing(sheet, why, more):
    """Where there is nothing to choose: the drive as planned, and why."""
    return Panel(
        title=TITLE,
        groups=(),
        compute=lambda values: why,
        sentence=lambda state, system: f"There is nothing to choose: {state}.",
        picture=PlannedPicture,
        setting=sheet.data,
        **more,
    )


def groups(case):
    """The controls: what he cares about, what it must do, how it is asked."""
    most = case.found.ask(("coast", "room"))
    engine = case.sheet.locomotive
    fast, full = engine.top_speed.value, case.sheet.supply.voltage.value
    far, free = (max(float(most[aim].max()), LEAST * engine.length.value) for aim in most)
    return (
        Group("What you care about", (
            over(Reach(0.5, 0.0, 1.0), "along", "along the front", "percent", step=0.05),
            Choice("across", "across", tuple(ACROSS), "creep"),
            Choice("up", "up", tuple(UP), "coast"),
        )),
        Group("What it must do", (
            over(Reach(0.0, 0.0, far), "least_coast", "coast at least", "length"),
            over(Reach(0.0, 0.0, free), "kept_free", "length to keep free", "length"),
        )),
        Group("Power cut from", (
            Choice("start_from", "a fixed", ("speed", "voltage"), "speed"),
            over(Reach.times(fast, 0.15, 2.0), "speed", "scale speed", "speed", steps=40,
                 when=("start_from", "speed")),
            over(throttle(full, 0.08, full / 2), "voltage", "voltage at the motor", "voltage",
                 when=("start_from", "voltage")),
        )),
    )  # fmt: skip


def compute(case, values):
    """The state that the controls ask for."""
    from_speed = values.start_from == "speed"
    up = UP[values.up]
    return pick(
        case,
        across=ACROSS[values.across],
        up="coast_on" if up == "coast" and not from_speed else up,
        speed=values.speed,
        voltage=values.voltage,
        from_speed=from_speed,
        least_coast=values.least_coast,
        kept_free=values.kept_free,
        along=values.along,
    )


def write(sheet, case, values):
    """The picked drive into a copy of the sheet, as its plan."""
    state = compute(case, SimpleNamespace(**values))
    if state.row is None:
        raise ValueError("nothing is picked: ask for less coast or less length")
    return into(sheet, case.found, state.place).save_copy()


def sentence(case, state, system):
    """What was picked, what it does, and what cannot be told from it."""
    if state.row is None:
        far, free = (
            _short_of(most, asked, AIMS[aim], system)
            for aim, most, asked in zip(
                ("coast", "room"), state.most, (state.least_coast, state.kept_free), strict=True
            )
        )
        return (
            f"Nothing that fits coasts that far and leaves that much length: of {len(case.found.fitting.motor):,} "
            f"drives the farthest coasts {far}, the shortest leaves {free}."
        )  # fmt: skip
    found, place, front = case.found, state.place, state.front
    motor, gears, _ = parts_of(found, place)
    wheel = wheel_of(found, int(place.cut), system)
    if state.mass:
        wheel = f"flywheel {wheel}"
    bands = {aim: _band(front, aim, state.row, system) for aim in front.aims}
    asked = {
        "coast": units.show(min(state.speed, state.top), "speed", system)
        + (", the most it reaches" if state.top < state.speed else ""),
        "coast_on": units.show(state.voltage, "voltage", system, 1),
    }
    said = [DOES[aim].format(band, asked.get(aim)) for aim, band in bands.items()]
    like = len(state.alike())
    told = ""
    if like:
        told = f"; {like} more on the front could not be told from it on the track"
    rest = {
        "start": DOES["start"].format(units.show(state.start, "voltage", system)),
        "top": f"runs {units.show(state.top, 'speed', system)} at scale on full throttle",
        "room": DOES["room"].format(AIMS["room"].say(state.left, system)),
    }
    more = " and ".join(words for aim, words in rest.items() if aim == "top" or aim not in bands)
    return (
        f"{state.row + 1} of {len(front)} that nothing else beats, among {state.count:,} that fit: "
        f"motor {motor}; gears {gears}; {wheel}. It {' and '.join(said)}{told}. It {more}."
    )


def _band(front, aim, row, system):
    """A number with its band, the unit once."""
    words = AIMS[aim].say(front.values[aim][row], system)
    low, high = (AIMS[aim].say(end[aim][row], system) for end in (front.low, front.high))
    return words if low == high else f"{words} ({low.split(chr(0xA0))[0]} to {high})"


def _short_of(most, asked, aim, system):
    """The most that there is, finer where it would read as what was asked."""
    if most < asked and aim.say(most, system) == aim.say(asked, system):
        said = [[units.show(each, aim.kind, system, n) for each in (most, asked)] for n in range(6)]
        return next((text for text, other in said if text != other), said[-1][0])
    return aim.say(most, system)
