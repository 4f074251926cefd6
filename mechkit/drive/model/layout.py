"""Where the drive fits: every axle and both directions tried against the rooms of the body."""

from dataclasses import dataclass

import numpy as np

from mechkit.drive.model import read
from mechkit.drive.sheet.schema import Room, State

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


def radial_clearance(room: Room, height: float, diameter: float) -> float:
    """Free space all round a part of that diameter on a shaft at that height [m]."""
    if room.shape == "round":
        assert room.height and room.diameter
        return room.diameter.value / 2 - abs(height - room.height.value) - diameter / 2
    assert room.bottom and room.top and room.width
    nearest = min(room.width.value / 2, room.top.value - height, height - room.bottom.value)
    return nearest - diameter / 2


def clearances(rooms, start, end, height, diameter):
    """Room all round parts, the place of the tightest room, and what lies outside all rooms.

    Arrays broadcast: many parts at once.  The clearance is infinite where no room is passed.
    """
    inside, least, tightest = np.asarray(0.0), np.asarray(np.inf), np.asarray(-1)
    for place, room in enumerate(rooms):
        passed = np.minimum(room.end.value, end) - np.maximum(room.start.value, start)
        inside = inside + np.maximum(passed, 0.0)
        free = np.where(passed > 0, radial_clearance(room, height, diameter), np.inf)
        tightest = np.where(free < least, place, tightest)
        least = np.minimum(least, free)
    return least, tightest, np.maximum((end - start) - inside, 0.0)


def _clearance(rooms, start, end, height, diameter):
    """The least clearance of one part over the rooms that it passes, and that room's name."""
    least, tightest, outside = clearances(rooms, start, end, height, diameter)
    if tightest < 0 or outside > 1e-9:
        return -float(outside), "outside the body"
    return float(least), rooms[int(tightest)].name


def parts_in_line(state: State) -> list[tuple[str, float, float, float]]:
    """The parts from the worm's middle outward: name, gap before it, length, diameter."""
    parts = [
        (
            "worm",
            -state.worm.length.value / 2,
            state.worm.length.value,
            state.worm.outside_diameter.value,
        )
    ]
    gap = WALL + FREE
    if state.flywheel:
        wheel = state.flywheel
        parts.append(("flywheel", gap, wheel.width.value, wheel.outside_diameter.value))
        gap = read.wheel_gap(state)
    motor = state.motor
    parts.append(("motor", gap, motor.body_length.value, motor.body_diameter.value))
    return parts


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


def end_of(rooms: list[Room], forward: bool) -> float:
    """Where the body ends in that direction [m]."""
    if forward:
        return min(room.start.value for room in rooms)
    return max(room.end.value for room in rooms)


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
    return Layout(axle, forward, at, tuple(items), end_room)


def candidates(state: State, rooms: list[Room], height: float, axles: list[float]) -> list[Layout]:
    """Every axle and both directions, the roomiest first."""
    tried = [
        lay(state, rooms, height, axle, at, forward)
        for axle, at in enumerate(axles)
        for forward in (True, False)
    ]
    return sorted(tried, key=lambda layout: (round(layout.least, 5), layout.end_room), reverse=True)
