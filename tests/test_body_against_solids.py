"""Drawn bodies against points: a part is filled with points, each held against what stands in its way.

Knows nothing of the model but what it says: no part with a point inside another may be called free,
and none that is clear of everything may be refused.
"""

import numpy as np
import pytest

from mechkit.drive.model import layout
from mechkit.drive.model.body import body_of
from mechkit.drive.sheet import demo
from mechkit.units import Reading

#: Bodies drawn in every run; ``BODIES = 500`` takes a few minutes.
BODIES = 30
TREAD, AXLE, BACKS = 16.2e-3, 0.125 * 25.4e-3, 12.26e-3
#: How far apart the points lie, and what is nearer than they can tell [m].
NET, BLUR = 0.4e-3, 0.6e-3
#: What the sums of the shop are off where gears stand [m].
SEATS = 0.1e-3
DATA = demo().data


def mm(value):
    return Reading(value, 0.0, f"{1e3 * value:.4f} mm")


def drawn(seed):
    """The demo's drive with another motor, shaft and body; a flywheel on every other one."""
    chance = np.random.default_rng(seed)
    height = chance.uniform(10e-3, 30e-3)
    wide, long = chance.uniform(6e-3, 22e-3), chance.uniform(10e-3, 36e-3)
    room = DATA.envelope.rooms[1].model_copy(
        update={
            "start": mm(-0.14), "end": mm(0.14), "bottom": mm(-0.05), "top": mm(0.1),
            "width": mm(0.1),
        }
    )  # fmt: skip
    frame = None
    motor = DATA.planned.motor.model_copy(
        update={"body_diameter": mm(wide), "body_length": mm(long)}
    )
    wheel = DATA.planned.flywheel if seed % 2 else None
    state = DATA.planned.model_copy(update={"motor": motor, "flywheel": wheel, "adapter": None})
    place = DATA.envelope.model_copy(
        update={"rooms": [room], "shaft_height": mm(height), "frame": frame}
    )
    return DATA.model_copy(update={"envelope": place, "planned": state}), height


def points(start, end, height, diameter):
    """Points all through a round part on the shaft: along, aside and up."""
    x = np.arange(start, end + NET, NET).clip(start, end)
    across = np.arange(-diameter / 2, diameter / 2 + NET, NET)
    grid = np.stack(np.meshgrid(x, across, across, indexing="ij"), -1).reshape(-1, 3)
    inside = np.hypot(grid[:, 1], grid[:, 2]) <= diameter / 2
    return grid[inside] + [0.0, 0.0, height]


def seats(height):
    """Where idler and axle gear turn beside the axle, by the sums of the shop: aside and up."""
    module, (idler, last) = 0.4e-3, (20, 30)
    down = (6.8e-3 - 2 * module) / 2 + module * idler / 2
    link = module * (idler + last) / 2 + 0.060e-3 / (2 * np.tan(np.radians(20)))
    up = float(np.clip(height - TREAD / 2 - down, -link, link))
    return [((link**2 - up**2) ** 0.5, up, 8.8e-3), (0.0, 0.0, 12.8e-3)]


def inside_any(cloud, one, height):
    """Whether any point lies in an axle, a driver, the rail or a gear."""
    x, aside, up = cloud.T
    if np.any(up < 0):
        return True
    at = [axle.value for axle in DATA.locomotive.driver_axles]
    for axle in at:
        from_axle = np.hypot(x - axle, up - TREAD / 2)
        if np.any(from_axle < AXLE / 2):
            return True
        if np.any((from_axle < TREAD / 2) & (np.abs(aside) > BACKS / 2)):
            return True
    way = 1 if one.forward else -1
    for lean, rise, across in seats(height):
        gear = np.hypot(x - at[one.axle] - way * lean, up - TREAD / 2 - rise)
        if np.any(gear < across / 2):
            return True
    return False


@pytest.mark.parametrize("seed", range(BODIES))
def test_no_part_through_another_is_called_free_and_none_that_is_clear_is_refused(seed):
    data, height = drawn(seed)
    for one in layout.candidates(data.planned, body_of(data)):
        for item in one.items:
            full = points(item.start, item.end, height, item.diameter)
            struck = inside_any(full, one, height)
            if struck:
                assert item.clearance < SEATS, (item, one.words)
            grown = points(item.start - BLUR, item.end + BLUR, height, item.diameter + 2 * BLUR)
            if not inside_any(grown, one, height) and item.room not in ("side rods",):
                assert item.clearance > 0, (item, one.words)


def test_a_motor_through_an_axle_is_told_by_name_and_by_how_much():
    """By hand: half of 12 mm under a shaft of 14.7 mm, an axle of 1/8 in at 8.1 mm."""
    gear = DATA.planned.gears[1].model_copy(update={"teeth": 20, "outside_diameter": mm(8.8e-3)})
    motor = DATA.planned.motor.model_copy(update={"body_diameter": mm(12e-3)})
    data, _ = drawn(0)
    state = data.planned.model_copy(update={"gears": [gear], "motor": motor})
    place = data.envelope.model_copy(update={"shaft_height": mm(14.7e-3)})
    low = data.model_copy(update={"envelope": place, "planned": state})
    laid = layout.lay(state, body_of(low), 0, forward=False)
    assert (laid.tightest.name, laid.tightest.room) == ("motor", "second axle")
    by_hand = (14.7e-3 - 6e-3) - (8.1e-3 + AXLE / 2)
    assert laid.tightest.clearance == pytest.approx(by_hand, abs=1e-6)
