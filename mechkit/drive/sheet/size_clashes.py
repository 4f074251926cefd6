"""Sizes that can be read and cannot be: parts that no bench has seen beside each other."""

import re
from collections.abc import Iterator

from mechkit.drive.sheet.clash import above, clash, least, most, said
from mechkit.drive.sheet.faults import Fault
from mechkit.drive.sheet.schema import State
from mechkit.units import plain

#: A sleeve may stand out of its worm, a motor's bearings out of its case, but not so many times.
STANDS_OUT = 2.0
#: No engine of this size rolls so many of its own lengths.
ROLLS = 100.0
#: No watch times a run over less [m].
STRETCH = 20e-3
#: Wheels under one engine, and in one group.
MOST_WHEELS, MOST_IN_GROUP = 40, 20
_ARRANGEMENT = re.compile(r"[0-9]{1,3}(?:\s*[-+–]\s*[0-9]{1,3})+\s*[A-Za-z]{0,3}")


def size_clashes(data, state: State, at) -> Iterator[Fault]:
    """What is out of all proportion within one state of the drive."""
    driver, axle = ("locomotive", "driver_diameter"), ("locomotive", "axle_diameter")
    slack = 2 * data.instruments.caliper.value
    if not state.adapter and most(state.worm.bore) + slack < least(state.motor.shaft_diameter):
        why = "it does not go on"
        yield clash(data, at("worm.bore"), "is less than", at("motor.shaft_diameter"), why)
    for n in range(len(state.gears)):
        place = (*at("gears"), n)
        why = "no gear of a drive is longer than it is wide"
        yield from above(data, (*place, "face_width"), (*place, "outside_diameter"), why)
    last = (*at("gears"), len(state.gears) - 1, "outside_diameter")
    yield from above(data, last, driver, "it would stand on the rail", equal=True)
    root = most(state.gears[-1].outside_diameter) - 4.4 * least(state.worm.module)
    if root <= least(data.locomotive.axle_diameter):
        why = f"under teeth of module {said(state.worm.module)} no metal is left for it"
        yield clash(data, axle, "does not go into", last, why, (at("worm.module"),))
    if state.adapter and least(state.adapter.length) > STANDS_OUT * most(state.worm.length):
        why = "it stands in the worm"
        yield clash(data, at("adapter.length"), "does not go with", at("worm.length"), why)
    wheel = state.flywheel
    if wheel and least(wheel.bearing_span) > STANDS_OUT * most(state.motor.body_length):
        body = at("motor.body_length")
        why = "these are the motor's own bearings"
        yield clash(data, at("flywheel.bearing_span"), "does not go with", body, why)


def engine_clashes(data) -> Iterator[Fault]:
    """What is out of all proportion of the engine as a whole."""
    length = ("locomotive", "length")
    whole = most(data.locomotive.length)
    for n, room in enumerate(data.envelope.rooms):
        if max(abs(room.start.value), abs(room.end.value)) > whole:
            key = "from" if abs(room.start.value) > whole else "to"
            why = "that is beyond the engine"
            yield clash(data, ("envelope", "rooms", n, key), "does not go with", length, why)
    for name in ("measured_before", "measured_after"):
        for n, coast in enumerate(getattr(data, name).coasts):
            far = coast.distance
            if far and least(far) > ROLLS * whole:
                why = (
                    f"no engine rolls {far.value / data.locomotive.length.value:.0f} of its lengths"
                )
                place = (name, "coasts", n, "distance")
                yield clash(data, place, "does not go with", length, why)
        for n, run in enumerate(getattr(data, name).runs):
            if run.distance.value < STRETCH:
                words = f"= {said(run.distance)}: time it over {plain(STRETCH, 'm')} at least"
                yield Fault((name, "runs", n, "distance"), words)
    yield from _arrangement(data.locomotive.wheel_arrangement)


def _arrangement(text: str) -> Iterator[Fault]:
    """Wheels in groups, as 4-6-0; other ways to write it stay as they are."""
    if not _ARRANGEMENT.fullmatch(text.strip()):
        return
    groups = [int(number) for number in re.findall(r"[0-9]+", text)]
    odd = [one for one in groups if one % 2]
    if odd or max(groups) > MOST_IN_GROUP or sum(groups) > MOST_WHEELS:
        words = f'= "{text}": wheels are counted on both sides, as 4-6-0'
        yield Fault(("locomotive", "wheel_arrangement"), words)
