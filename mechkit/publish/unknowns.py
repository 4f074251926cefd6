"""What was not measured, what was taken in its place, and what no computation here can tell."""

from collections.abc import Iterator
from typing import NamedTuple

from mechkit import tables
from mechkit.drive.decisions.rebuild import Rebuild
from mechkit.drive.model.spread import Band
from mechkit.drive.sheet.schema import Measured, State
from mechkit.publish.verdict import joined
from mechkit.units import show


class Unknown(NamedTuple):
    """A reading that the sheet does not hold, and what stands in for it."""

    words: str
    instead: str


def unknowns(done: Rebuild) -> list[Unknown]:
    """Every optional reading that was left out and matters to a number on the page."""
    sheet = done.sheet
    found = []
    if not sheet.instruments.micrometer:
        found.append(Unknown("a micrometer", "sizes are held to the caliper"))
    if not sheet.instruments.indicator:
        found.append(Unknown("a test indicator", "runout is as uncertain as the caliper"))
    found += _motor(sheet.as_is, "old motor")
    found += _motor(sheet.planned, "new motor") if done.plans else []
    found += _supply(done)
    if not sheet.track.adhesion.spread:
        found.append(Unknown("the spread of adhesion", "a fifth either way"))
    found += _wheels(done)
    found += _springs(sheet.planned)
    found += _track(sheet.measured_before, "before")
    if done.known.after is None:
        found.append(
            Unknown(
                "anything on the track after the work",
                "the column “measured” stays empty; a starting voltage, a run or a coast fills it",
            )
        )
    else:
        found += _track(sheet.measured_after, "after")
    return found


def _motor(state: State, name: str) -> Iterator[Unknown]:
    motor = state.motor
    if not motor.rotor_inertia:
        how = "estimated from the rotor's size, good to half" if motor.rotor_diameter else (
            "estimated from the size of the motor's body, good to half"
        )  # fmt: skip
        yield Unknown(f"the {name}'s rotor inertia", how)
    if not motor.stall:
        yield Unknown(f"a stalled reading of the {name}", "resistance stands on the ohmmeter alone")
    if not motor.starting_voltage:
        yield Unknown(
            f"the {name}'s own starting voltage",
            "friction at rest taken as 1.1 to 1.6 times running",
        )


def _supply(done: Rebuild) -> Iterator[Unknown]:
    kind = done.sheet.supply.kind
    mean = "speeds and currents are those at its mean voltage"
    if kind == "pulsed":
        yield Unknown("the height and the rhythm of the pulses", mean)
    elif kind == "digital":
        low, high = tables.band("contacts", "digital track", "track_voltage")
        always = show(low, "voltage", decimals=0), show(high, "voltage", decimals=0)
        yield Unknown(
            "what the decoder makes of the track's voltage",
            f"{mean}; wheels and rails have the whole of it at a crawl too, {always[0]} to "
            f"{always[1]} by common practice, which breaks films that a few volts do not",
        )


def _wheels(done: Rebuild) -> Iterator[Unknown]:
    engine, track = done.sheet.locomotive, done.sheet.track
    if not engine.quartering_error:
        yield Unknown("the quartering error", "whether the rods bind is not judged")
    lacks = [
        words
        for words, there in (
            ("the drivers' back-to-back", engine.back_to_back),
            ("the width of their flanges", engine.flange_width),
            ("the track's gauge", track.gauge),
        )
        if not there
    ]
    instead = "whether the drivers pass the frogs is not judged"
    if lacks:
        yield Unknown(joined(lacks), instead)
    elif not done.known.frog:
        assert track.gauge
        named = f" of {track.standard}" if track.standard else ""
        gauge = show(track.gauge.value, "length")
        yield Unknown(f"a standard{named} in the table for a gauge of {gauge}", instead)


def _springs(planned: State) -> Iterator[Unknown]:
    springs = planned.springs
    if springs.kind != "sprung":
        return
    if not springs.travel:
        yield Unknown(
            "the travel of the axle boxes (planned.springs.travel)",
            "neither ride height nor stress nor touching coils are judged",
        )
    elif not springs.free_length:
        yield Unknown(
            "the springs' length unloaded (planned.springs.free_length)",
            "whether the coils touch is not judged",
        )


def _track(measured: Measured, when: str) -> Iterator[Unknown]:
    if not measured.drawbar_pull:
        yield Unknown(f"drawbar pull {when}", "pull at slip from weight and adhesion")
    if not measured.coasts:
        yield Unknown(f"coasting {when}", "distances are computed only")


#: What stays open however well he measures.
LIMITS = (
    "Wear rates are known within a factor of ten and more: trust the ratio between two pairs, not "
    "the hours.",
    "Readings hold for this engine on this track on the day they were taken; curves, dirt and cold "
    "grease are not in them.",
    "Nothing is said about fatigue, about a magnet that was weakened before, or about the strength "
    "of a solder joint.",
    "While coasting the mesh is taken as driving forward: the flywheel pushes the worm.",
    "Limits marked common practice are rules of the trade without a source; the reasons beside the "
    "decisions say which.",
)


def instruments(done: Rebuild) -> list[tuple[str, Band]]:
    """The instruments, and the finest that each can be trusted to."""
    tools = done.sheet.instruments
    kinds = {"caliper": "length", "micrometer": "length", "indicator": "fine", "lathe": "length",
             "ruler": "length", "stopwatch": "time", "meter": "percent"}  # fmt: skip
    found = []
    for name, kind in kinds.items():
        reading = getattr(tools, name)
        if reading:
            name += ", assumed" * (f"instruments.{name}" in done.sheet.assumed)
            found.append((name, Band(reading.value, reading.value, reading.value, kind)))
    return found


def readings(done: Rebuild) -> list[tuple[str, str]]:
    """What the page stands on: a count of each kind of reading."""
    sheet = done.sheet
    found = []
    for name, key in (("old motor", "as_is"), ("new motor", "planned")):
        motor = getattr(sheet, key).motor
        read = {
            f"resistance {len(motor.resistance)} times": f"{key}.motor.resistance"
            not in sheet.assumed,
            "running free": f"{key}.motor.no_load.speed" not in sheet.assumed,
            "stalled": motor.stall,
            "starting alone": motor.starting_voltage,
        }
        found.append(
            (name, ", ".join(words for words, there in read.items() if there) or "nothing")
        )
    for name, measured in (("before", sheet.measured_before), ("after", sheet.measured_after)):
        parts = [
            f"{len(some)} {words if len(some) != 1 else words.rstrip('s')}"
            for some, words in (
                (measured.starting_voltage, "starting voltages"),
                (measured.runs, "steady runs"),
                (measured.coasts, "coasts"),
            )
            if some
        ]
        parts += ["drawbar pull"] if measured.drawbar_pull else []
        found.append((f"on the track {name}", ", ".join(parts) or "nothing"))
    return found
