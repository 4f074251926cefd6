"""What an assembly drawing shows: one state of a bench sheet, laid out from one axle."""

from dataclasses import dataclass
from functools import cached_property

from mechkit.drawings import gearing, paper
from mechkit.drawings.style import Look
from mechkit.drive.model import layout as placing
from mechkit.drive.model.body import OUTSIDE, body_of
from mechkit.drive.model.layout import Item, Layout
from mechkit.drive.sheet.schema import BenchSheet, Room, State


@dataclass(frozen=True)
class Scene:
    """One state of one sheet, the layout in which it is drawn, and how it is to look."""

    sheet: BenchSheet
    look: Look
    name: str
    state: State
    layout: Layout

    @property
    def rooms(self) -> list[Room]:
        """The stretches of the body."""
        return self.sheet.envelope.rooms

    @property
    def shaft(self) -> float:
        """Height of the drive shaft over the rail [m]."""
        return self.sheet.envelope.shaft_height.value

    @property
    def gap(self) -> float:
        """Free space wanted around what turns [m]."""
        return self.sheet.envelope.gap.value

    @property
    def axles(self) -> list[float]:
        """Places of the driven axles [m]."""
        return [at.value for at in self.sheet.locomotive.driver_axles]

    @property
    def tread(self) -> float:
        """Driver diameter [m]."""
        return self.sheet.locomotive.driver_diameter.value

    @property
    def place(self) -> str:
        """Which axle is driven; as it is that is a guess, since no reading says it."""
        words = self.layout.words[0].upper() + self.layout.words[1:]
        return words if self.name == "planned" else f"{words} (assumed)"

    @property
    def away(self) -> int:
        """1 where the motor lies behind the driven axle, -1 ahead of it."""
        return -1 if self.layout.forward else 1

    @cached_property
    def stack(self) -> gearing.Stack:
        """The gears in mesh."""
        axle = (self.layout.at, self.tread / 2)
        return gearing.stack(self.state, axle, self.shaft, -self.away)

    def item(self, name: str) -> Item | None:
        """A part in line by its name, if there is one."""
        return next((item for item in self.layout.items if item.name == name), None)

    @property
    def motor(self) -> Item:
        """The motor where it lies."""
        return next(item for item in self.layout.items if item.name == "motor")

    def room_of(self, item: Item) -> Room:
        """The room in which a part is tightest; where it leaves the body, the room it leaves."""
        named = [room for room in self.rooms if room.name == item.room]
        middle = (item.start + item.end) / 2

        def off(room):
            return max(room.start.value - middle, middle - room.end.value, 0.0)

        return named[0] if named else min(self.rooms, key=off)

    def struck(self, item: Item) -> tuple[tuple[float, float], float] | None:
        """Center and diameter of the axle or gear that a part runs through, if it does."""
        if item.clearance >= 0:
            return None
        axles = (one for one in body_of(self.sheet).obstacles if one.across and not one.down)
        round_ = [((one.start, one.level), 2 * one.radius, one.name) for one in axles]
        round_ += [(gear.center, gear.outside, gear.name) for gear in self.stack.gears]
        return next(((at, size) for at, size, name in round_ if name == item.room), None)

    def number(self, value: float) -> str:
        """A length as it stands on this drawing."""
        return paper.number(value, self.look)

    def clears(self, item: Item) -> str:
        """How a part lies in the body, in words."""
        room = max(abs(item.clearance), 0.0)
        if item.room == OUTSIDE:
            return f"reaches {self.number(room)} past the body"
        if item.clearance < 0:
            return f"strikes the {item.room} by {self.number(room)}"
        tight = f", {self.number(self.gap)} wanted" if item.clearance < self.gap else ""
        return f"clears the {item.room} by {self.number(room)}{tight}"


def scene(sheet: BenchSheet, look: Look, state="planned", layout: Layout | None = None) -> Scene:
    """Take one state of the sheet, on the roomiest axle unless a layout is given."""
    drive: State = getattr(sheet, state)
    layout = layout or placing.candidates(drive, body_of(sheet))[0]
    return Scene(sheet, look, state, drive, layout)


def reach(room: Room) -> tuple[float, float]:
    """Lowest and highest point of a room over the rail [m]."""
    if room.shape == "round":
        assert room.height and room.diameter
        half = room.diameter.value / 2
        return room.height.value - half, room.height.value + half
    assert room.bottom and room.top
    return room.bottom.value, room.top.value
