"""The engine of a bench sheet as a flywheel sees it."""

import numpy as np

from mechkit.drive.constants.knowledge import known_of, nominal
from mechkit.drive.model import read
from mechkit.drive.questions.flywheel import FlywheelCase
from mechkit.drive.sheet.schema import BenchSheet, Room

#: Sheet metal of the boiler, where the sheet does not say; common practice.
BOILER_WALL = 0.8e-3  # m


def case_of(data: BenchSheet) -> FlywheelCase:
    """What the flywheel panel starts from.

    The boiler is the round room of the envelope; a box counts by its width.
    """
    known = known_of(data)
    motor, wheel = data.planned.motor, data.planned.flywheel
    turned = read.flywheel_of(data.planned)
    room = next((room for room in data.envelope.rooms if room.shape == "round"), None)
    bore, above = _bore(room or data.envelope.rooms[0], data.envelope.shaft_height.value)
    friction = np.percentile(known.planned.running_friction[1:], [2.5, 97.5])
    after = nominal(known.planned)
    outer = wheel.outside_diameter.value if wheel else bore - 2 * (above + 1e-3)
    width = wheel.width.value if wheel else 0.75 * outer
    return FlywheelCase(
        before=nominal(known.before),
        after=after,
        material=wheel.material if wheel else "brass",
        outer=outer,
        width=width,
        bore=turned.bore if turned else float(read.slid_on(motor.shaft_diameter.value)),
        off_center=wheel.off_center.value if wheel else 10e-6,
        gap=read.wheel_gap(data.planned),
        bearing_span=wheel.bearing_span.value if wheel else 0.8 * motor.body_length.value,
        motor_diameter=motor.body_diameter.value,
        motor_length=motor.body_length.value,
        boiler_bore=bore,
        boiler_wall=BOILER_WALL,
        shaft_above_boiler=above,
        engine_length=data.locomotive.length.value,
        voltage=data.supply.voltage.value,
        friction_spread=float(np.ptp(friction) / 2 / after.running_friction),
        start_speed=data.locomotive.top_speed.value,
    )


def _bore(room: Room, height: float) -> tuple[float, float]:
    """Inside diameter of a room, and how far the shaft lies above its center [m]."""
    if room.shape == "round":
        assert room.diameter and room.height
        return room.diameter.value, height - room.height.value
    assert room.width and room.top and room.bottom
    return room.width.value, height - (room.top.value + room.bottom.value) / 2
