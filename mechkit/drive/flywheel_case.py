"""The engine of a bench sheet as a flywheel sees it."""

from math import floor, log10

import numpy as np

from mechkit.drive.coast import LEAST_ROOM, FlywheelCase
from mechkit.drive.drives import before_of, nominal
from mechkit.drive.knowledge import Knowledge
from mechkit.drive.layout import candidates, radial_clearance
from mechkit.drive.schema import BenchSheet, FlywheelTable, Room
from mechkit.drive.spread import Spread
from mechkit.drive.stock import SPAN, near_of
from mechkit.units import Reading

#: Sheet metal of the boiler, where the sheet does not say; common practice.
BOILER_WALL = 0.8e-3  # m
#: Half the indicator's swing on the rim of a wheel that is still to be turned; common practice.
TRUED = 10e-6  # m


def case_of(data: BenchSheet) -> FlywheelCase:
    """What the flywheel panel starts from.

    The room is the first round one that the shaft runs through, else the first box, as wide
    as it is free around the shaft.
    """
    known = Knowledge(data, Spread(draws=400))
    motor, engine = data.planned.motor, data.locomotive
    name, bore, above = _room(data.envelope.rooms, data.envelope.shaft_height.value)
    wheel = data.planned.flywheel or _first_wheel(data, bore - 2 * abs(above))
    friction = np.percentile(known.planned.running_friction[1:], [2.5, 97.5])
    before, after = before_of(known), nominal(known.planned)
    return FlywheelCase(
        before=before and nominal(before),
        after=after,
        material=wheel.material,
        outer=wheel.outside_diameter.value,
        width=wheel.width.value,
        bore=wheel.bore.value,
        off_center=wheel.off_center.value,
        gap=max(wheel.overhang.value - wheel.width.value / 2, 0.0),
        bearing_span=wheel.bearing_span.value,
        motor_diameter=motor.body_diameter.value,
        motor_length=motor.body_length.value,
        boiler_bore=bore,
        boiler_wall=BOILER_WALL,
        shaft_above_boiler=above,
        engine_length=engine.length.value,
        voltage=data.supply.voltage.value,
        friction_spread=float(np.ptp(friction) / 2 / after.running_friction),
        start_speed=engine.top_speed.value,
        bush=wheel.bore.value - motor.shaft_diameter.value,
        room_name=name,
    )


def free_of(data: BenchSheet) -> float:
    """Diameter on the drive shaft that would just touch the room [m]."""
    _, bore, above = _room(data.envelope.rooms, data.envelope.shaft_height.value)
    return bore - 2 * abs(above)


def _room(rooms: list[Room], height: float) -> tuple[str, float, float]:
    """The room's name, its bore, and how far the shaft lies above its center [m]."""
    through = [room for room in rooms if radial_clearance(room, height, 0.0) > 0]
    room = next((room for room in through if room.shape == "round"), (through or rooms)[0])
    if room.shape == "round":
        assert room.diameter and room.height
        return room.name, room.diameter.value, height - room.height.value
    return room.name, 2 * radial_clearance(room, height, 0.0), 0.0


def _first_wheel(data: BenchSheet, free: float) -> FlywheelTable:
    """A wheel to begin with, where none is planned: the heaviest rim that the body takes.

    ``free`` is the diameter that would touch [m].  Where nothing fits, a small one.
    """
    planned, room = data.planned, data.envelope
    near, shaft = near_of(planned), planned.motor.shaft_diameter.value
    gap = max(room.gap.value, LEAST_ROOM)
    axles = [at.value for at in data.locomotive.driver_axles]
    outers = max(free - 2 * gap, 2 * shaft) * np.linspace(1.0, 0.5, 11)
    sizes = [
        (_rounded(o), _rounded(o * share)) for o in outers for share in (0.75, 0.5, 0.35, 0.25)
    ]

    def wheel(outer, width):
        return FlywheelTable(
            material="brass",
            outside_diameter=Reading(outer),
            width=Reading(width),
            bore=Reading(shaft),
            off_center=Reading(TRUED),
            bearing_span=Reading(SPAN * planned.motor.body_length.value),
            overhang=Reading(near + width / 2),
        )

    for outer, width in sorted(sizes, key=lambda size: -(size[0] ** 4) * size[1]):
        state = planned.model_copy(update={"flywheel": wheel(outer, width)})
        best = candidates(state, room.rooms, room.shaft_height.value, axles)[0]
        item = next(item for item in best.items if item.name == "flywheel")
        if item.clearance >= gap - 1e-9 and best.end_room >= 0:
            return wheel(outer, width)
    return wheel(*min(sizes))


def _rounded(size: float) -> float:
    """Down to a size that he would turn it to: a twentieth of its first digit.

    >>> _rounded(0.01487), _rounded(0.00513)
    (0.0145, 0.0051)
    """
    step = 10 ** floor(log10(size)) / 20
    return round(floor(size / step + 1e-9) * step, 9)
