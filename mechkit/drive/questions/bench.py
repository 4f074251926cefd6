"""An evening at the bench: which readings are asked for, what stands in their boxes, what they answer."""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from mechkit import scale
from mechkit.drive.constants.knowledge import Knowledge, known_of
from mechkit.drive.decisions import findings
from mechkit.drive.decisions.rebuild import headlines, quantities, rebuild
from mechkit.drive.model import layout
from mechkit.drive.model.body import body_of
from mechkit.drive.model.spread import Spread
from mechkit.drive.sheet import Sheet
from mechkit.drive.sheet.clash import said, value_at
from mechkit.drive.sheet.hour import answers, openings, steps, taken
from mechkit.drive.sheet.keys import Key, dotted, find, keys, loc_of
from mechkit.drive.sheet.schema import BenchSheet, Room, State, Table
from mechkit.drive.sheet.store import value_in
from mechkit.drive.sheet.syntax import parse
from mechkit.drive.sheet.typed import unit_of
from mechkit.names import STANDARD_GRAVITY
from mechkit.units import System, half, show

#: Enough draws to have an answer itself; its band follows.
QUICK = 10
#: The boxes that stand first, of which each answers for itself.
FIRST = (
    "locomotive.scale",
    "locomotive.weight",
    "locomotive.weight_on_drivers",
    "measured_before.starting_voltage",
    "measured_before.runs[1].voltage",
    "measured_before.runs[1].distance",
    "measured_before.runs[1].time",
)
#: What one table of a list is called.
ONE = {"runs": "run", "coasts": "coast", "rooms": "room", "gears": "gear"}


@dataclass(frozen=True)
class Box:
    """One box: its key, what it is, the unit of a bare number, and what stands in it or for it."""

    key: str
    words: str
    unit: str
    value: str
    stand_in: str
    why: str
    options: tuple[str, ...]


@dataclass(frozen=True)
class Row:
    """The boxes of one table; ``more`` is its place in the list where it may be one of several."""

    title: str
    place: str
    boxes: tuple[Box, ...]


@dataclass(frozen=True)
class Asked:
    """A reading of the hour with its boxes."""

    name: str
    words: str
    how: str
    minutes: float
    taken: bool
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Card:
    """A quarter of an hour at the bench."""

    name: str
    words: str
    readings: tuple[Asked, ...]

    @property
    def taken(self) -> int:
        """How many of its readings were taken."""
        return sum(one.taken for one in self.readings)


@cache
def _data():
    return tomllib.loads(Path(__file__).with_name("bench.toml").read_text("utf-8"))


def cards(sheet: Sheet, system: System = "metric") -> tuple[Card, ...]:
    """Every card with its boxes, as the sheet stands now; each box stands once."""
    text, asked, lacks = parse(sheet.text, sheet.path), set[str](), set(sheet.lacks)
    return tuple(
        Card(
            one["name"],
            one["words"],
            tuple(_asked(sheet, text, name, system, asked, lacks) for name in one["readings"]),
        )
        for one in _data()["card"]
    )


def _asked(
    sheet: Sheet, text, name: str, system: System, before: set[str], lacks: set[str]
) -> Asked:
    """A reading with the boxes that no reading before it has."""
    step = steps()[name]
    places = [one for key in step.keys for one in _places(sheet, text, key) if one not in before]
    before.update(places)
    return Asked(
        name,
        step.words,
        _data()["how"].get(name, ""),
        step.minutes,
        taken(sheet.data, step) and not lacks.intersection(step.keys),
        tuple(_rows(sheet, text, places, system)),
    )


def first(sheet: Sheet, system: System = "metric") -> tuple[Box, ...]:
    """The boxes that stand first."""
    text = parse(sheet.text, sheet.path)
    return tuple(_box(sheet, text, place, system) for place in FIRST)


def _rows(sheet: Sheet, text, asked: list[str], system: System) -> Iterator[Row]:
    """Boxes by the tables that they stand in."""
    found: dict[str, list[str]] = {}
    for place in asked:
        found.setdefault(place.rpartition(".")[0], []).append(place)
    for table, places in found.items():
        loc = loc_of(table)
        number = loc[-1] if isinstance(loc[-1], int) else None
        title = f"{ONE.get(str(loc[-2]), loc[-2])} {number + 1}" if number is not None else ""
        boxes = tuple(_box(sheet, text, place, system) for place in places)
        yield Row(title, table if number is not None else "", boxes)


def _places(sheet: Sheet, text, key: str) -> Iterator[str]:
    """The places of a key: once for each table of the lists on its way, all keys of a table."""
    first_, *rest = key.split(".")
    yield from _walk(sheet, text, (first_,), rest)


def _walk(sheet: Sheet, text, loc, rest) -> Iterator[str]:
    here = find(loc)
    if here.table and here.many:
        # one more than there is stands open for the next
        there = value_in(text, loc)
        written = len(there) if isinstance(there, list) else 0
        assumed = len(value_at(sheet.data, loc) or ())
        more = 1 if str(loc[-1]) in ONE and str(loc[-1]) != "gears" else 0
        for n in range(max(assumed, written) + more):
            yield from _walk_in(sheet, text, (*loc, n), rest, here.table)
    elif here.table:
        yield from _walk_in(sheet, text, loc, rest, here.table)
    else:
        yield dotted(loc)


def _walk_in(sheet, text, loc, rest, table: type[Table]) -> Iterator[str]:
    if rest:
        yield from _walk(sheet, text, (*loc, rest[0]), rest[1:])
        return
    for name in keys(table):
        yield from _walk(sheet, text, (*loc, name), [])


def _box(sheet: Sheet, text, place: str, system: System) -> Box:
    loc = loc_of(place)
    key = find(loc)
    stands = value_in(text, loc)
    why = sheet.data.assumed.get(place, "") if stands is None else ""
    return Box(
        key=place,
        words=key.words,
        unit=unit_of(key, system),
        value=_typed(stands),
        stand_in=_stand_in(sheet, loc, key) if why else "",
        why=why,
        options=("yes", "no") if key.kind == "yes" else key.options,
    )


def _typed(value) -> str:
    """What stands in the file, as a hand would type it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return "; ".join(_typed(one) for one in value)
    return f"{value:g}" if isinstance(value, float) else str(value)


def _stand_in(sheet: Sheet, loc, key: Key) -> str:
    """What stands in for a reading that was not taken."""
    try:
        value = value_at(sheet.data, loc)
    except IndexError:
        return ""
    if value is None or key.table:
        return ""
    if isinstance(value, list):
        return "; ".join(_plain(one) for one in value)
    return _plain(value)


def _plain(value) -> str:
    if isinstance(value, bool | str):
        return _typed(value)
    return said(value).strip('"').replace("+/-", "±")


# -- what is answered -----------------------------------------------------------------------


@dataclass(frozen=True)
class Answer:
    """A question with its answer; ``sign`` is that of a verdict, or empty."""

    words: str
    text: str
    sign: str = ""


@dataclass(frozen=True)
class Waiting:
    """Questions that wait together, for which readings, and how long these take."""

    words: str
    readings: tuple[str, ...]
    minutes: float


@dataclass(frozen=True)
class Answers:
    """What the bench has told so far."""

    beside: dict[str, str]
    known: tuple[Answer, ...]
    wrong: tuple[Answer, ...]
    waiting: tuple[Waiting, ...]


def beside(sheet: Sheet, system: System = "metric") -> dict[str, str]:
    """The answers beside the first boxes at once, still without their bands."""
    if sheet.lacks:
        return {}
    known = Knowledge(sheet.data, Spread(draws=QUICK))
    asked = quantities(known)
    numbers = {
        key: known.spread.band(asked[key][2](known.before), asked[key][1]).plain(system)
        for key in ("pull", "start", "top")
        if answers(sheet.data, "headline", key)
    }
    return dict(_beside(sheet.data, numbers, {}, system))


def answered(sheet: Sheet, system: System = "metric") -> Answers:
    """What can be answered now."""
    if sheet.lacks:
        return Answers({}, (), (), ())
    data, known = sheet.data, known_of(sheet.data)
    lines = {line.key: line for line in headlines(known)}
    faults = {one.key: one for one in findings.find(known)}
    asked = [("headline", key) for key in quantities(known)]
    asked += [("wrong", key) for key in findings.asked(known)]
    numbers = {key: line.before.say(system) for key, line in lines.items()}
    return Answers(
        beside=dict(_beside(data, numbers, faults, system)),
        known=tuple(Answer(line.words, line.before.say(system)) for line in lines.values()),
        wrong=tuple(
            Answer(one.question, one.words(system), one.verdict) for one in faults.values()
        ),
        waiting=tuple(
            Waiting(
                "; ".join(question.words for question in one.questions),
                tuple(step.name for step in one.steps),
                one.minutes,
            )
            for one in openings(data, asked)
        ),
    )


#: What a verdict adds to the answer beside a box.
LATE = {"wrong": " That is late.", "watch": " Perhaps late.", "good": " That is early enough."}
FAST = {"wrong": " That is too fast.", "watch": " Perhaps too fast."}


def _beside(data: BenchSheet, numbers, faults, system: System) -> Iterator[tuple[str, str]]:
    """The answer beside each of the first boxes."""
    engine, wish = data.locomotive, data.locomotive.top_speed.value
    model = float(scale.model_speed(prototype_speed=wish, ratio=engine.scale))
    yield (
        "locomotive.scale",
        f"{show(wish, 'speed', system)} of the full-size engine is "
        f"{show(model, 'length', system, 0 if system == 'metric' else 1)} a second on your rails.",
    )
    full = engine.weight.value * engine.scale**3
    yield (
        "locomotive.weight",
        f"{show(engine.weight.value * STANDARD_GRAVITY, 'force', system)} on the rails; "
        f"as dense as it is, the full-size engine would weigh {full / 1000:.0f} tonnes.",
    )
    verdicts = {key: fault.verdict for key, fault in faults.items()}
    if pull := numbers.get("pull"):
        yield "locomotive.weight_on_drivers", f"It pulls {pull} until its wheels slip."
    if start := numbers.get("start"):
        late = LATE.get(verdicts.get("start", ""), "")
        yield "measured_before.starting_voltage", f"It breaks away at {start}.{late}"
    if top := numbers.get("top"):
        volts = show(data.supply.voltage.value, "voltage", system, 1)
        fast = FAST.get(verdicts.get("fast", ""), "")
        yield "measured_before.runs[1].time", f"{top} at scale on {volts}.{fast}"


def worth(sheet: Sheet, system: System = "metric") -> dict[str, str]:
    """What each reading that was not taken would do for the numbers that are answered."""
    job = rebuild(sheet.data)
    words = {line.key: line.words for line in job.headlines}
    return {
        one.step.name: (
            f"“{words[one.key]}” would go from ±{half(one.without, one.kind, system)} to "
            f"±{half(one.with_it, one.kind, system)}"
        )
        for one in job.worth
    }


# -- the engine, to scale -------------------------------------------------------------------


@dataclass(frozen=True)
class Engine:
    """What a side view is drawn from, all lengths in meters over the rail and behind the first axle."""

    axles: tuple[float, ...]
    tread: float
    axle: float
    throw: float
    gravity: float
    long: float
    shaft: float
    #: Name, front, rear, lowest, highest of each room.
    rooms: tuple[tuple[str, float, float, float, float], ...]
    #: Name, front, rear and diameter of each part on the shaft.
    parts: tuple[tuple[str, float, float, float], ...]
    shaft_diameter: float
    #: Place, height and outside diameter of each gear.
    gears: tuple[tuple[float, float, float], ...]


def engine(sheet: Sheet) -> Engine:
    """The engine as it is, with stand-ins for what nobody measured."""
    data = sheet.data
    state, body, loco = data.as_is, data.envelope, data.locomotive
    axles = tuple(one.value for one in loco.driver_axles)
    laid = layout.candidates(state, body_of(data))[0]
    worm = state.worm
    half = worm.length.value / 2
    thread = ("worm", laid.worm_at - half, laid.worm_at + half, worm.outside_diameter.value)
    return Engine(
        axles=axles,
        tread=loco.driver_diameter.value,
        axle=loco.axle_diameter.value,
        throw=loco.crank_throw.value,
        gravity=loco.center_of_gravity.value,
        long=loco.length.value,
        shaft=body.shaft_height.value,
        rooms=tuple(
            (room.name, room.start.value, room.end.value, *_reach(room)) for room in body.rooms
        ),
        parts=(thread, *((one.name, one.start, one.end, one.diameter) for one in laid.items)),
        shaft_diameter=state.motor.shaft_diameter.value,
        gears=tuple(_gears(state, laid.worm_at, loco.driver_diameter.value / 2)),
    )


def _reach(room: Room) -> tuple[float, float]:
    """Lowest and highest of a room over the rail."""
    if room.shape == "round" and room.height and room.diameter:
        half = room.diameter.value / 2
        return room.height.value - half, room.height.value + half
    return room.bottom.value if room.bottom else 0.0, room.top.value if room.top else 0.0


def _gears(state: State, at: float, height: float) -> Iterator[tuple[float, float, float]]:
    """The axle gear on its axle, the others one over the other up to the worm."""
    above = None
    for gear in reversed(state.gears):
        pitch = gear.outside_diameter.value * gear.teeth / (gear.teeth + 2)
        if above is not None:
            height += (above + pitch) / 2
        yield at, height, gear.outside_diameter.value
        above = pitch
