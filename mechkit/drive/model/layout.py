"""Where the drive fits: every axle and both directions tried against the rooms of the body."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from mechkit.drive.model import read
from mechkit.drive.model.parts import Amount
from mechkit.drive.model.read import as_read
from mechkit.drive.sheet.schema import Room, State
from mechkit.units import Reading

#: How a size is asked for: its name in a band, and what stands in the sheet.
Ask = Callable[[str, Reading], Amount]

#: From the thread's end to the outside of the gearbox wall with its bearing; common practice.
WALL = 2.0e-3
#: Free length between the gearbox and the next part; common practice.
FREE = 1.0e-3


@dataclass(frozen=True)
class Item:
    """A turned or bought part on the drive shaft: where it lies and what room it has."""

    name: str
    start: float
    end: float
    diameter: float
    clearance: float
    room: str


@dataclass(frozen=True)
class Layout:
    """One way to lay the drive: the driven axle, the direction, the parts in line."""

    axle: int
    forward: bool
    worm_at: float
    items: tuple[Item, ...]
    end_room: float

    @property
    def least(self):
        """The tightest part's clearance all round [m]; negative where something must go."""
        return min(item.clearance for item in self.items)

    @property
    def tightest(self):
        """The part with the least clearance."""
        return min(self.items, key=lambda item: item.clearance)

    @property
    def length(self):
        """From the worm's middle to the far end of the motor [m]."""
        return max(
            max(abs(item.start - self.worm_at), abs(item.end - self.worm_at)) for item in self.items
        )

    @property
    def words(self):
        """As it is said in the shop."""
        return f"axle {self.axle + 1}, motor {'ahead of' if self.forward else 'behind'} it"


@dataclass(frozen=True)
class Left:
    """What a layout leaves, one value a draw: all round, to the end of the body; and how long it is."""

    least: Amount
    end_room: Amount
    length: Amount


def radial_clearance(room: Room, height, diameter, ask: Ask = as_read):
    """Free space all round a part of that diameter on a shaft at that height [m]."""

    def size(key):
        return ask(f"{key} of the {room.name}", getattr(room, key))

    if room.shape == "round":
        return size("diameter") / 2 - abs(height - size("height")) - diameter / 2
    sides = size("width") / 2, size("top") - height, height - size("bottom")
    return np.minimum(np.minimum(sides[0], sides[1]), sides[2]) - diameter / 2


def ends_of(rooms: list[Room], ask: Ask = as_read) -> list[tuple[Amount, Amount]]:
    """Where each room begins and ends [m]; rooms that meet share the place, and its doubt."""
    met: dict[float, tuple[str, Reading]] = {}
    for room in rooms:
        for words, at in (
            (f"front of the {room.name}", room.start),
            (f"rear of the {room.name}", room.end),
        ):
            name, known = met.get(at.value, (words, at))
            met[at.value] = name, max(known, at, key=lambda one: one.spread)
    return [(ask(*met[room.start.value]), ask(*met[room.end.value])) for room in rooms]


def clearances(rooms, start, end, height, diameter, ask: Ask = as_read):
    """Room all round parts, the place of the tightest room, and what lies outside all rooms.

    Arrays broadcast: many parts at once, or many draws.  The clearance is infinite where no room
    is passed.
    """
    inside, least, tightest = np.asarray(0.0), np.asarray(np.inf), np.asarray(-1)
    for place, (room, ends) in enumerate(zip(rooms, ends_of(rooms, ask), strict=True)):
        passed = np.minimum(ends[1], end) - np.maximum(ends[0], start)
        inside = inside + np.maximum(passed, 0.0)
        free = np.where(passed > 0, radial_clearance(room, height, diameter, ask), np.inf)
        tightest = np.where(free < least, place, tightest)
        least = np.minimum(least, free)
    return least, tightest, np.maximum((end - start) - inside, 0.0)


def _clearance(rooms, start, end, height, diameter):
    """The least clearance of one part over the rooms that it passes, and that room's name."""
    least, tightest, outside = clearances(rooms, start, end, height, diameter)
    if tightest < 0 or outside > 1e-9:
        return -float(outside), "outside the body"
    return float(least), rooms[int(tightest)].name


def parts_in_line(state: State, ask: Ask = as_read) -> list[tuple[str, Amount, Amount, Amount]]:
    """The parts from the worm's middle outward: name, gap before it, length, diameter."""
    long = ask("length of the worm", state.worm.length)
    across = ask("outside of the worm", state.worm.outside_diameter)
    parts = [("worm", -long / 2, long, across)]
    gap = WALL + FREE
    if state.flywheel:
        wheel = state.flywheel
        sizes = ask(read.WIDTH, wheel.width), ask(read.OUTSIDE, wheel.outside_diameter)
        parts.append(("flywheel", gap, *sizes))
        gap = read.wheel_gap(state, ask)
    motor = state.motor
    sizes = (
        ask("length of the motor", motor.body_length),
        ask("diameter of the motor", motor.body_diameter),
    )
    return [*parts, ("motor", gap, *sizes)]


def places(parts, at, forward: bool):
    """Where the parts in line lie, from the worm outward: name, start, end, diameter.

    Lengths and gaps may be arrays, one value a drive.
    """
    direction = -1.0 if forward else 1.0
    reach = 0.0
    for name, gap, length, diameter in parts:
        near = at + direction * (reach + gap)
        far = near + direction * length
        reach = reach + gap + length
        yield name, *((far, near) if forward else (near, far)), diameter


def end_of(rooms: list[Room], forward: bool, ask: Ask = as_read) -> Amount:
    """Where the body ends in that direction [m]."""
    starts, ends = zip(*ends_of(rooms, ask), strict=True)
    if forward:
        return np.min(np.broadcast_arrays(*starts), axis=0)
    return np.max(np.broadcast_arrays(*ends), axis=0)


def left(chosen: Layout, state: State, rooms: list[Room], height, at, ask: Ask) -> Left:
    """What a layout leaves, each size as it is asked for; shaft height and axle may be drawn."""
    least, edge = np.inf, end_of(rooms, chosen.forward, ask)
    for name, start, end, diameter in places(parts_in_line(state, ask), at, chosen.forward):
        if name == "worm":
            continue
        around, _, outside = clearances(rooms, start, end, height, diameter, ask)
        least = np.minimum(least, np.where(outside > 1e-9, -outside, around))
        far = start if chosen.forward else end
    return Left(
        least=least,
        end_room=far - edge if chosen.forward else edge - far,
        length=np.abs(far - at),
    )


def lay(
    state: State, rooms: list[Room], height: float, axle: int, at: float, forward: bool
) -> Layout:
    """Lay the drive from one axle in one direction."""
    items = [
        Item(name, start, end, diameter, *_clearance(rooms, start, end, height, diameter))
        for name, start, end, diameter in places(parts_in_line(state), at, forward)
        if name != "worm"  # it sits in its gearbox between the frames
    ]
    edge = end_of(rooms, forward)
    end_room = items[-1].start - edge if forward else edge - items[-1].end
    return Layout(axle, forward, at, tuple(items), float(end_room))


def candidates(state: State, rooms: list[Room], height: float, axles: list[float]) -> list[Layout]:
    """Every axle and both directions, the roomiest first."""
    tried = [
        lay(state, rooms, height, axle, at, forward)
        for axle, at in enumerate(axles)
        for forward in (True, False)
    ]
    return sorted(tried, key=lambda layout: (round(layout.least, 5), layout.end_room), reverse=True)
