"""Readings that cannot all be true, each found before anything is computed from them.

A contradiction is refused only where spreads and instruments cannot explain it: what is
merely unwise is for the build sheet to say.
"""

import itertools
from collections.abc import Iterator
from statistics import fmean

from mechkit.drive.sheet.clash import above, clash, least, most, said, value_at
from mechkit.drive.sheet.faults import Fault
from mechkit.drive.sheet.keys import dotted
from mechkit.drive.sheet.part_clashes import STALL_AGREES, part_clashes
from mechkit.drive.sheet.schema import BenchSheet, Measured, Room, Run, State
from mechkit.drive.sheet.size_clashes import engine_clashes
from mechkit.drive.sheet.stock_clashes import stock_clashes
from mechkit.names import STANDARD_GRAVITY
from mechkit.units import plain, show

#: Full-size drivers lie between these, common practice, no source.
FULL_SIZE_DRIVER = (0.4, 2.6)
#: A strong or unloaded power pack gives so many times the stated full throttle; common practice.
STRONG_PACK = 1.2
#: An engine takes no less than this share of what its motor takes alone: a worn-in motor on few
#: volts may take half; common practice, no source.
LEAST_CURRENT = 1 / 3
#: A warm magnet is weaker, and so the motor faster, than on the bench.
WARM_MAGNET = 0.08


def contradictions(data: BenchSheet) -> list[Fault]:
    """Every pair of readings that cannot both be true; each names both keys and both values."""
    parts = [*_engine(data), *_rooms(data), *engine_clashes(data)]
    parts += [
        *part_clashes(data, data.as_is, "as_is"),
        *part_clashes(data, data.planned, "planned"),
        *stock_clashes(data),
    ]
    if parts:
        return parts
    # Readings on the track are judged by the parts, so these must hang together first.
    return [
        *_track(data, data.measured_before, data.as_is, "measured_before", "as_is"),
        *_track(data, data.measured_after, data.planned, "measured_after", "planned"),
    ]


def _engine(data) -> Iterator[Fault]:
    def at(key):
        return ("locomotive", key)

    engine = data.locomotive
    yield from above(data, at("weight_on_drivers"), at("weight"))
    yield from above(data, at("axle_diameter"), at("driver_diameter"), equal=True)
    yield from above(data, at("crankpin_clearance"), at("crank_throw"), equal=True)
    yield from _wheelsets(data, at)
    if 2 * least(engine.crank_throw) >= most(engine.driver_diameter):
        why = "the crankpin would lie outside the tread"
        yield clash(data, at("crank_throw"), "does not go with", at("driver_diameter"), why)
    full = engine.driver_diameter.value * engine.scale
    if not FULL_SIZE_DRIVER[0] <= full <= FULL_SIZE_DRIVER[1]:
        why = f"the full-size driver would be {full:.2f} m"
        yield clash(data, at("driver_diameter"), "does not go with", at("scale"), why)
    yield from _axles(data, at("driver_axles"), at("driver_diameter"))
    last = (*at("driver_axles"), len(engine.driver_axles) - 1)
    yield from above(data, last, at("length"), equal=True)
    center = engine.center_of_gravity
    if least(center) >= engine.driver_axles[-1].value:
        why = "the drivers cannot carry what lies behind them"
        yield clash(data, at("center_of_gravity"), "lies behind the last,", last, why)
    if most(center) <= engine.driver_axles[0].value:
        first = (*at("driver_axles"), 0)
        why = "the drivers cannot carry what lies ahead of them"
        yield clash(data, at("center_of_gravity"), "lies ahead of the first,", first, why)


def _wheelsets(data, at) -> Iterator[Fault]:
    """Wheels that would not go between the rails."""
    gauge, flange = data.track.gauge, data.locomotive.flange_width
    wide = list(above(data, at("flange_width"), ("track", "gauge"), equal=True))
    yield from wide
    if wide:
        return
    for n, apart in enumerate(data.locomotive.back_to_back):
        place = (*at("back_to_back"), n)
        if flange and gauge and least(apart) + 2 * least(flange) > most(gauge):
            why = f"with two flanges of {said(flange)} they stand wider than the rails"
            yield clash(data, place, "does not go with", ("track", "gauge"), why)
        else:
            yield from above(data, place, ("track", "gauge"), equal=True)


def _axles(data, axles, driver) -> Iterator[Fault]:
    places = data.locomotive.driver_axles
    if abs(places[0].value) > places[0].spread:
        yield Fault((*axles, 0), f"= {said(places[0])}: axles are counted from the first, write 0")
    for n, (one, two) in enumerate(itertools.pairwise(places)):
        if two.value <= one.value:
            yield clash(data, (*axles, n + 1), "is not behind", (*axles, n))
        elif most(two) - least(one) < least(data.locomotive.driver_diameter):
            why = f"with the axle before at {said(one)} the drivers would overlap"
            yield clash(data, (*axles, n + 1), "does not go with", driver, why)


ROOM_KEYS = {"round": ("height", "diameter"), "box": ("bottom", "top", "width")}


def _rooms(data) -> Iterator[Fault]:
    """Every room is a room, and the shaft runs through one of them."""
    whole = True
    for n, room in enumerate(data.envelope.rooms):
        faults = list(_room(data, room, ("envelope", "rooms", n)))
        whole = whole and not faults
        yield from faults
    shaft = data.envelope.shaft_height
    reaches = [_reach(room) for room in data.envelope.rooms] if whole else []
    if reaches and not any(low < shaft.value < high for low, high in reaches):
        low, high = (plain(end, "m") for end in reaches[0])
        words = f"= {said(shaft)} runs through no room; envelope.rooms[1] = {low} to {high}"
        yield Fault(("envelope", "shaft_height"), words, rests_on=(("envelope", "rooms"),))


def _room(data, room: Room, place) -> Iterator[Fault]:
    if room.end.value <= room.start.value:
        yield clash(data, (*place, "to"), "is not behind", (*place, "from"))
    for shape, keys in ROOM_KEYS.items():
        for key in keys:
            given = getattr(room, key) is not None
            shaped = f'{dotted((*place, "shape"))} = "{room.shape}"'
            if shape == room.shape and not given:
                yield Fault((*place, key), f"is missing, but {shaped} needs it", missing=True)
            if shape != room.shape and given:
                words = f"= {said(getattr(room, key))} does not go with {shaped}"
                yield Fault((*place, key), words)
    if room.top and room.bottom and room.top.value <= room.bottom.value:
        yield clash(data, (*place, "top"), "is not above", (*place, "bottom"))


def _reach(room: Room):
    """Lowest and highest point of a room over the rail."""
    if room.shape == "round":
        assert room.height and room.diameter
        half = room.diameter.value / 2
        return room.height.value - half, room.height.value + half
    assert room.bottom and room.top
    return room.bottom.value, room.top.value


def _track(data, measured: Measured, state: State, name, drive) -> Iterator[Fault]:
    """What was measured on the track, against the drive that it was measured with."""
    throttle = most(data.supply.voltage) * STRONG_PACK
    volts: list[tuple[str | int, ...]]
    volts = [(name, "starting_voltage", n) for n in range(len(measured.starting_voltage))]
    volts += [(name, "runs", n, "voltage") for n in range(len(measured.runs))]
    volts += [(name, "coasts", n, "voltage") for n in range(len(measured.coasts))]
    for place in volts:
        if least(value_at(data, place)) > throttle:
            why = "full throttle cannot be less"
            yield clash(data, place, "does not go with", ("supply", "voltage"), why)
    for n, run in enumerate(measured.runs):
        yield from _run(data, run, state, (name, "runs", n), drive)
        pull, slip = run.pull, measured.drawbar_pull
        if slip and least(pull) > 1.15 * most(slip):
            why = "the wheels would have slipped"
            yield clash(
                data, (name, "runs", n, "pull"), "is more than", (name, "drawbar_pull"), why
            )
    yield from _adhesion(data, measured.drawbar_pull, name)
    yield from _coasts(data, measured.coasts, name)


def _run(data, run: Run, state: State, place, drive) -> Iterator[Fault]:
    """One run against the motor: it cannot outrun its volts nor take more than a stalled one."""
    meter, motor = data.instruments.meter.value, state.motor
    ohms = [reading.value for reading in motor.resistance]
    limit = most(run.voltage) / min(ohms)
    if run.current and least(run.current) > limit * (1 + STALL_AGREES + 2 * meter):
        why = f"even stalled it takes no more than {show(limit, 'current')}"
        volts = (*place, "voltage")
        ohm = (drive, "motor", "resistance")
        yield clash(data, (*place, "current"), "does not go with", volts, why, (ohm,))
    free = motor.no_load
    if run.current and most(run.current) * (1 + 2 * meter) < LEAST_CURRENT * least(free.current):
        why = "the motor alone takes more"
        alone = (drive, "motor", "no_load", "current")
        yield clash(data, (*place, "current"), "does not go with", alone, why)
    per_volt = free.speed.value / (free.voltage.value - free.current.value * fmean(ohms))
    ratio = state.gears[-1].teeth / state.worm.starts
    engine, tools = data.locomotive, data.instruments
    speed = run.distance.value / run.time.value / (engine.driver_diameter.value / 2) * ratio
    unsure = (
        WARM_MAGNET + 2 * meter + run.voltage.spread / run.voltage.value
        + (tools.stopwatch.value + run.time.spread) / run.time.value
        + (tools.ruler.value + run.distance.spread) / run.distance.value
        + engine.driver_diameter.spread / engine.driver_diameter.value
    )  # fmt: skip
    if speed > per_volt * run.voltage.value * (1 + unsure):
        here = f"{said(run.distance)} in {said(run.time)}"
        words = (
            f"= {here} would turn the motor at {show(speed, 'rotation')}; at "
            f"{said(run.voltage)} {drive}.motor.no_load.speed = {said(free.speed)} allows no "
            f"more than {show(per_volt * run.voltage.value, 'rotation')}; was it another drive?"
        )
        yield Fault((*place, "time"), words, rests_on=_turning(drive))


def _turning(drive) -> tuple[tuple[str, ...], ...]:
    """What the speed of a motor on a run rests on."""
    free = (f"motor.no_load.{key}" for key in ("voltage", "current", "speed"))
    parts = (*free, "motor.resistance", "gears", "worm.starts")
    own = ((drive, *part.split(".")) for part in parts)
    return (*own, ("locomotive", "driver_diameter"))


def _adhesion(data, slip, name) -> Iterator[Fault]:
    """The pull at slip and the adhesion are one measurement, made twice."""
    if slip is None:
        return
    adhesion = data.track.adhesion
    share = slip.value / (data.locomotive.weight_on_drivers.value * STANDARD_GRAVITY)
    if not 0.6 * least(adhesion) <= share <= 1.4 * most(adhesion):
        why = f"over the weight on drivers it is {share:.2f}"
        pull, drivers = (name, "drawbar_pull"), ("locomotive", "weight_on_drivers")
        yield clash(data, pull, "does not go with", ("track", "adhesion"), why, (drivers,))


def _coasts(data, coasts, name) -> Iterator[Fault]:
    """With the rails shorted the motor brakes: it cannot roll farther than with them open."""
    for n, coast in enumerate(coasts):
        yield from _coast(data, coast, (name, "coasts", n))
    slack = 2 * data.instruments.ruler.value
    for (m, one), (n, two) in itertools.permutations(enumerate(coasts), 2):
        alike = abs(one.voltage.value - two.voltage.value) < 0.05 * one.voltage.value
        read = one.distance and two.distance
        if read and one.rails == "shorted" and two.rails == "open" and alike:
            far, near = (name, "coasts", m, "distance"), (name, "coasts", n, "distance")
            if least(one.distance) > 1.2 * most(two.distance) + slack:
                why = "shorted rails brake; are the two swapped?"
                yield clash(data, far, "is more than", near, why)


def _coast(data, coast, place) -> Iterator[Fault]:
    """Every coast was read one way, and its time one way only."""
    if not (coast.distance or coast.time or coast.frames):
        why = "is missing, and so are time and frames: a coast needs one of them"
        yield Fault((*place, "distance"), why, missing=True)
    if coast.time and coast.frames:
        yield clash(data, (*place, "frames"), "is the same thing as", (*place, "time"), "write one")
    if coast.frames and not data.instruments.frame_rate:
        why = f"is missing, but {dotted((*place, 'frames'))} = {coast.frames} needs it"
        yield Fault(("instruments", "frame_rate"), why, missing=True)
