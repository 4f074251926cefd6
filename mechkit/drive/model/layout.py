"""Where the drive fits: every axle and both directions tried against the engine's body."""

from dataclasses import dataclass

import numpy as np

from mechkit.drive.model import read
from mechkit.drive.model.body import NOTHING, OUTSIDE, Ask, Body, Obstacle
from mechkit.drive.model.parts import Amount
from mechkit.drive.model.read import as_read
from mechkit.drive.model.stack import Stack, stack_of
from mechkit.drive.sheet.schema import State

#: From the thread's end to the outside of the gearbox wall with its bearing; common practice.
WALL = 2.0e-3
#: Free length between the gearbox and the next part; common practice.
FREE = 1.0e-3


@dataclass(frozen=True)
class Item:
    """A part of the drive: where it lies, what is nearest to it and how far that is."""

    name: str
    start: float
    end: float
    diameter: float
    clearance: float
    room: str


@dataclass(frozen=True)
class Layout:
    """One way to lay the drive: the driven axle, the direction, the parts in line.

    ``at`` is the axle's place and ``worm_at`` the worm's, which stands over the gear under it.
    """

    axle: int
    forward: bool
    at: float
    worm_at: float
    worm: Item
    items: tuple[Item, ...]
    gears: tuple[Item, ...]
    stack: Stack
    end_room: float

    @property
    def _counted(self) -> tuple[Item, ...]:
        """What turns in free space, and gears where they strike."""
        return (*self.items, self.worm, *(gear for gear in self.gears if gear.clearance < 0))

    @property
    def least(self):
        """The tightest part's clearance all round [m]; negative where something must go."""
        return self.tightest.clearance

    @property
    def tightest(self):
        """The part with the least clearance."""
        return min(self._counted, key=lambda item: item.clearance)

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


def parts_in_line(state: State, ask: Ask = as_read) -> list[tuple[str, Amount, Amount, Amount]]:
    """The parts from the worm's middle outward: name, gap before it, length, diameter."""
    long = ask("length of the worm", state.worm.length)
    across = ask("outside of the worm", state.worm.outside_diameter)
    parts = [("worm", -long / 2, long, across)]
    first, motor = WALL + FREE, state.motor
    body = (
        ask("length of the motor", motor.body_length),
        ask("diameter of the motor", motor.body_diameter),
    )
    wheel = state.flywheel
    if wheel is None:
        return [*parts, ("motor", first, *body)]
    disc = ask(read.WIDTH, wheel.width), ask(read.OUTSIDE, wheel.outside_diameter)
    gap = read.wheel_gap(state, ask)
    if wheel.end == "far":
        return [*parts, ("motor", first, *body), ("flywheel", gap, *disc)]
    return [*parts, ("flywheel", first, *disc), ("motor", gap, *body)]


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


def discs(stack: Stack, at, level, forward: bool) -> tuple[Obstacle, ...]:
    """The gears of a stack over an axle, as what a part on the shaft can strike."""
    away = 1.0 if forward else -1.0
    return tuple(
        Obstacle(
            seat.name,
            at + away * seat.aside,
            at + away * seat.aside,
            level + seat.up,
            seat.outside / 2,
        )
        for seat in stack.seats
    )


def gear_clearances(turning: tuple[Obstacle, ...], body: Body, axle: int):
    """Of each gear: what is nearest to it, and how far that is; its own axle does not count."""
    for gear in turning:
        down = gear.level - gear.radius
        near = [(down, "rail")] + [
            (np.hypot(gear.start - one.start, gear.level - one.level) - gear.radius - one.radius,
             one.name)
            for n, one in enumerate(body.obstacles[: len(body.axles)])
            if n != axle or gear is not turning[-1]
        ]  # fmt: skip
        yield gear, near


def left(chosen: Layout, state: State, body: Body) -> Left:
    """What a layout leaves, each size as the body asks for it."""
    least: Amount = np.inf
    at = body.axles[chosen.axle] + (chosen.worm_at - chosen.at)
    turning = discs(chosen.stack, body.axles[chosen.axle], body.tread / 2, chosen.forward)
    for name, start, end, diameter in places(parts_in_line(state, body.ask), at, chosen.forward):
        others = turning[1:] if name == "worm" else turning
        around, _, outside = body.clearances(start, end, diameter, others, name != "worm")
        least = np.minimum(least, np.where(outside > NOTHING, -outside, around))
        far = start if chosen.forward else end
    for _, near in gear_clearances(turning, body, chosen.axle):
        for free, _ in near:
            least = np.minimum(least, np.where(free < 0, free, np.inf))
    return Left(least=least, end_room=body.left(at, far), length=np.abs(far - at))


def lay(state: State, body: Body, axle: int, forward: bool) -> Layout:
    """Lay the drive from one axle in one direction."""
    at = body.axles[axle]
    stack = stack_of(state, body.shaft_height - body.tread / 2)
    worm_at = at + (stack.aside if forward else -stack.aside)
    turning = discs(stack, at, body.tread / 2, forward)
    worm, *items = [
        _item(body, turning[1:] if name == "worm" else turning, name, start, end, diameter)
        for name, start, end, diameter in places(parts_in_line(state), worm_at, forward)
    ]
    trained = []
    for gear, near in gear_clearances(turning, body, axle):
        free, other = min(near)
        ends = gear.start - gear.radius, gear.start + gear.radius
        trained.append(Item(gear.name, *ends, 2 * gear.radius, float(free), other))
    far = items[-1].start if forward else items[-1].end
    room = float(body.left(worm_at, far))
    return Layout(
        axle, forward, at, worm_at, worm, tuple(items), tuple(trained), stack, room
    )  # fmt: skip


def _item(body: Body, gears: tuple[Obstacle, ...], name, start, end, diameter) -> Item:
    """One part as read, and what is nearest to it."""
    # the worm sits in its gearbox between the frames
    least, nearest, outside = body.clearances(start, end, diameter, gears, name != "worm")
    if outside > NOTHING or nearest < 0:
        return Item(name, start, end, diameter, -float(outside), OUTSIDE)
    names = [*body.names, *(gear.name for gear in gears)]
    return Item(name, start, end, diameter, float(least), names[int(nearest)])


def candidates(state: State, body: Body) -> list[Layout]:
    """Every axle and both directions, the roomiest first."""
    tried = [
        lay(state, body, axle, forward)
        for axle in range(len(body.axles))
        for forward in (True, False)
    ]
    return sorted(tried, key=lambda layout: (round(layout.least, 5), layout.end_room), reverse=True)
