"""The engine's body: the rooms that it has for a drive, and what stands in their way.

All is seen along the shaft and from the side: x behind the first driver axle, y over the rail, and
aside from the engine's middle, in which the drive shaft lies.
"""

import itertools
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from mechkit.drive.model import read
from mechkit.drive.model.parts import Amount
from mechkit.drive.model.read import as_read
from mechkit.drive.sheet.schema import BenchSheet, Room
from mechkit.units import Reading

#: How a size is asked for: its name in a band, and what stands in the sheet.
Ask = Callable[[str, Reading], Amount]

#: Rounding, not metal.
NOTHING = 1e-9
#: Where a part leaves all rooms.
OUTSIDE = "outside the body"
#: How axles are told apart.
COUNTED = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
#: Places along the rim of what stands at both sides at which it is measured.
RIM = np.radians(np.linspace(0.0, 90.0, 31))


@dataclass(frozen=True)
class Obstacle:
    """What is in the way: all within ``radius`` of a level line from ``start`` to ``end``.

    It lies all across the engine, or from ``aside`` of its middle outward on both sides; with
    ``down`` it fills everything below the line instead.
    """

    name: str
    start: Amount
    end: Amount
    level: Amount
    radius: Amount = 0.0
    aside: Amount = 0.0
    down: bool = False

    @property
    def across(self) -> bool:
        """Whether it crosses the engine's middle."""
        return not np.any(self.aside)

    def clears(self, start, end, height, radius) -> Amount:
        """Free space to a round part on a shaft at that height [m]; negative where it strikes.

        What stands at both sides is measured from its outline's box: no more than there is.
        """
        along = np.maximum(np.maximum(self.start - end, start - self.end), 0.0)
        over = height - self.level
        if self.down:
            return _free(along, np.hypot(np.maximum(over, 0.0), self.aside) - radius)
        if not self.across:
            up = np.maximum(np.abs(over) - self.radius, 0.0)
            return _free(np.maximum(along - self.radius, 0.0), np.hypot(up, self.aside) - radius)
        up = np.abs(over) - radius
        inward = np.minimum(end - self.start, self.end - start)
        inside = (along <= 0) & (up < 0)
        deep = np.maximum(up, -inward)
        return np.where(inside, deep, np.hypot(along, np.maximum(up, 0.0))) - self.radius

    def exactly(self, start, end, height, radius) -> Amount:
        """The same of what stands at both sides, by its rim."""
        if self.across or self.down:
            return self.clears(start, end, height, radius)
        along = np.maximum(np.maximum(self.start - end, start - self.end), 0.0)
        over = np.abs(height - self.level)
        least = np.inf
        for turned in RIM:
            up = np.maximum(over - self.radius * np.sin(turned), 0.0)
            there = np.maximum(along - self.radius * np.cos(turned), 0.0)
            least = np.minimum(least, _free(there, np.hypot(up, self.aside) - radius))
        return least


def _free(along, around) -> Amount:
    """Distance from what is free along the shaft and around it."""
    return np.where(along > 0, np.hypot(along, np.maximum(around, 0.0)), around)


@dataclass(frozen=True)
class Body:
    """Rooms and obstacles of one engine, each size as it is asked for."""

    rooms: list[Room]
    shaft_height: Amount
    axles: list[Amount]
    tread: Amount
    obstacles: tuple[Obstacle, ...]
    ask: Ask = as_read

    @property
    def names(self) -> list[str]:
        """What a part can be nearest to: the rooms, then the obstacles."""
        return [room.name for room in self.rooms] + [one.name for one in self.obstacles]

    def radial(self, room: Room, diameter) -> Amount:
        """Free space all round a part of that diameter on the shaft [m]."""
        return radial_clearance(room, self.shaft_height, diameter, self.ask)

    @cached_property
    def ends(self) -> list[tuple[Amount, Amount]]:
        """Where each room begins and ends [m]; rooms that meet share the place, and its doubt."""
        met: dict[float, tuple[str, Reading]] = {}
        for room in self.rooms:
            for words, at in (
                (f"front of the {room.name}", room.start),
                (f"rear of the {room.name}", room.end),
            ):
                name, known = met.get(at.value, (words, at))
                met[at.value] = name, max(known, at, key=lambda one: one.spread)
        return [
            (self.ask(*met[room.start.value]), self.ask(*met[room.end.value]))
            for room in self.rooms
        ]

    def clearances(self, start, end, diameter, more: tuple[Obstacle, ...] = (), roomy=True):
        """Free space round parts on the shaft, the place of what is nearest, what lies outside.

        Arrays broadcast: many parts at once, or many draws.  Without any room the space is
        infinite; ``more`` are further obstacles, of which the places follow on those of `names`.
        What has a box of its own need not lie in a room: it is not ``roomy``.
        """
        inside, least, nearest = np.asarray(0.0), np.asarray(np.inf), np.asarray(-1)
        rooms = zip(self.rooms, self.ends, strict=True) if roomy else ()
        for place, (room, ends) in enumerate(rooms):
            passed = np.minimum(ends[1], end) - np.maximum(ends[0], start)
            inside = inside + np.maximum(passed, 0.0)
            free = np.where(passed > 0, self.radial(room, diameter), np.inf)
            nearest = np.where(free < least, place, nearest)
            least = np.minimum(least, free)
        for place, one in enumerate((*self.obstacles, *more), len(self.rooms)):
            lies = start, end, self.shaft_height, np.asarray(diameter) / 2
            free = one.clears(*lies)
            if np.all(free >= least):
                continue
            free = one.exactly(*lies)
            nearest = np.where(free < least, place, nearest)
            least = np.minimum(least, free)
        outside = np.maximum((end - start) - inside, 0.0) if roomy else np.asarray(0.0)
        return least, nearest, outside

    def widest(self, start, end) -> Amount:
        """Diameter at which a part on the shaft from ``start`` to ``end`` would just touch [m]."""
        free, _, _ = self.clearances(start, end, 0.0)
        return 2 * np.maximum(free, 0.0)

    @cached_property
    def stretches(self) -> list[tuple[Amount, Amount]]:
        """Where the body is open to a shaft without a gap, from front to rear [m]."""
        through = [
            n
            for n, room in enumerate(self.rooms)
            if float(np.ravel(radial_clearance(room, _first(self.shaft_height), 0.0))[0]) > 0
        ]
        order = sorted(through, key=lambda n: self.rooms[n].start.value)
        found: list[list[int]] = []
        for n in order:
            reaches = max((self.rooms[m].end.value for m in found[-1]), default=0) if found else 0
            if found and self.rooms[n].start.value <= reaches + NOTHING:
                found[-1].append(n)
            else:
                found.append([n])
        return [
            (
                _least([self.ends[n][0] for n in one]),
                -_least([-self.ends[n][1] for n in one]),
            )
            for one in found or [list(range(len(self.rooms)))]
        ]

    def left(self, near, far) -> Amount:
        """Free length beyond the far end of a drive to the end of the stretch that it lies in [m].

        ``near`` is its other end; what lies behind a gap of the body is not free length.
        """
        forward = np.asarray(far) < np.asarray(near)
        low, high = np.minimum(near, far), np.maximum(near, far)
        best, left = np.asarray(-np.inf), np.asarray(0.0)
        for start, end in self.stretches:
            shared = np.minimum(end, high) - np.maximum(start, low)  # less than none: how far off
            free = np.where(forward, far - start, end - far)
            left = np.where(shared > best, free, left)
            best = np.maximum(shared, best)
        return left


def _first(amount) -> float:
    return float(np.ravel(amount)[0])


def _least(amounts) -> Amount:
    return np.min(np.broadcast_arrays(*amounts), axis=0)


def radial_clearance(room: Room, height, diameter, ask: Ask = as_read):
    """Free space all round a part of that diameter on a shaft at that height [m]."""

    def size(key):
        return ask(f"{key} of the {room.name}", getattr(room, key))

    if room.shape == "round":
        return size("diameter") / 2 - abs(height - size("height")) - diameter / 2
    sides = size("width") / 2, size("top") - height, height - size("bottom")
    return np.minimum(np.minimum(sides[0], sides[1]), sides[2]) - diameter / 2


def body_of(sheet: BenchSheet, ask: Ask = as_read, places: read.Ask = as_read) -> Body:
    """The body of an engine; ``places`` asks for the axles, where otherwise than for sizes."""
    room = sheet.envelope
    axles = read.places_of(sheet, places)
    wheels = read.wheels_of(sheet, ask)
    return Body(
        rooms=room.rooms,
        shaft_height=ask("height of the shaft", room.shaft_height),
        axles=axles,
        tread=wheels.tread,
        obstacles=tuple(_obstacles(sheet, axles, wheels, ask)),
        ask=ask,
    )


def _obstacles(sheet: BenchSheet, axles, wheels: read.Wheels, ask: Ask):
    """Axles, drivers, rods, frame and rail."""
    level = wheels.tread / 2
    ends = _least(axles), -_least([-at for at in axles])
    far = 10 * sheet.locomotive.length.value + abs(_first(ends[0])) + abs(_first(ends[1]))
    for at, word in zip(axles, itertools.cycle(COUNTED), strict=False):
        yield Obstacle(f"{word} axle", at, at, level, wheels.axle / 2)
    yield Obstacle("rail", -far, far, 0.0, aside=0.0, down=True)
    for at in axles:
        yield Obstacle("drivers", at, at, level, level, aside=wheels.backs / 2)
    swept = wheels.throw + wheels.rod / 2
    yield Obstacle("side rods", *ends, level, swept, aside=wheels.rods / 2)
    frame = sheet.envelope.frame
    if frame:
        yield Obstacle(
            "frame",
            ask("front of the frame", frame.start) if frame.start else -far,
            ask("rear of the frame", frame.end) if frame.end else far,
            ask("top of the frame", frame.top),
            aside=ask("width of the frame", frame.width) / 2,
            down=True,
        )
