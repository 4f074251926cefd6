"""Cross sections of the rooms: each part in line in the room where it is tightest."""

import numpy as np

from mechkit.drawings import shapes
from mechkit.drawings.chain import Gap
from mechkit.drawings.layout import per_pixel
from mechkit.drawings.scene import Scene, reach
from mechkit.drawings.shop import CenterLine, Diameter, Dimension, Outline, Section
from mechkit.drawings.side import danger
from mechkit.drive.model.body import radial_clearance
from mechkit.drive.model.layout import Item
from mechkit.drive.sheet.schema import Room


def across(axes, view: Scene, item: Item):
    """One part in its room, seen along the shaft; y is height over the rail [m]."""
    look, room, center = view.look, view.room_of(item), (0.0, view.shaft)
    shape = outline(room)
    Outline(axes, look, shapes.path(shape), zorder=2)
    if view.gap and np.ptp(shape[:, 0]) > 2 * view.gap:
        Outline(axes, look, shapes.path(outline(room, view.gap)), weight="thin", meaning="limit",
                zorder=2.5)  # fmt: skip
    part = shapes.circle(center, item.diameter)
    shaft = shapes.circle(center, view.state.motor.shaft_diameter.value)
    if item.name == "flywheel" and view.state.flywheel:
        material = view.state.flywheel.material
        Section(axes, look, material, shapes.path(part, holes=[shaft]), zorder=3)
    else:
        Outline(axes, look, shapes.path(part), fill=look.color("sheet"), zorder=3)
    Outline(axes, look, shapes.path(shaft), weight="thin", fill=look.tint("steel"), zorder=3.5)
    CenterLine(axes, look, zorder=5).cross(center, item.diameter)
    if radial_clearance(room, view.shaft, item.diameter) < 0:
        low, high = axes.get_xlim(), axes.get_ylim()
        around = shapes.path(shapes.bar(low[0], high[0], low[1], high[1]), holes=[shape])
        danger(axes, look, shapes.path(part), around)
    sizes(axes, view, item, room)


def outline(room: Room, inset=0.0):
    """A room across, as a closed outline, all round ``inset`` smaller."""
    low, high = reach(room)
    if room.shape == "round":
        return shapes.circle((0.0, (low + high) / 2), high - low - 2 * inset)
    assert room.width
    half = room.width.value / 2 - inset
    return shapes.bar(-half, low + inset, half, high - inset)


def sizes(axes, view: Scene, item: Item, room: Room):
    """Both diameters, and the clearance where it is least."""
    look, shaft, radius = view.look, view.shaft, item.diameter / 2
    low, high = reach(room)
    knee = np.hypot(max(high - shaft, shaft - low), radius) * 0.92
    Diameter(axes, look).set((0.0, shaft), item.diameter, np.radians(48),
                             f"⌀ {view.number(item.diameter)}", knee=knee)  # fmt: skip
    if room.shape == "box":
        assert room.width
        half = room.width.value / 2
        below = low - look.spread(20) * per_pixel(axes)[0]
        Dimension(axes, look).set((-half, low), (half, low), below, view.number(2 * half))
        if half <= min(high - shaft, shaft - low):
            _gap(axes, view, (radius, shaft), (half, shaft))
            return
    else:
        Diameter(axes, look).set((0.0, (low + high) / 2), high - low, np.radians(132),
                                 f"⌀ {view.number(high - low)}")  # fmt: skip
    if shaft - low <= high - shaft:
        _gap(axes, view, (0.0, shaft - radius), (0.0, low))
    else:
        _gap(axes, view, (0.0, shaft + radius), (0.0, high))


def _gap(axes, view, start, end):
    """The clearance, in the color of danger where it is too small."""
    free = float(np.hypot(*np.subtract(end, start)))
    inside = np.dot(np.subtract(end, start), np.subtract(start, (0.0, view.shaft))) >= 0
    if not inside:
        start, end = end, start
    text = view.number(free if inside else -free)
    meaning = "ink" if inside and free >= view.gap else "danger"
    Gap(axes, view.look, meaning=meaning).set(start, end, text)
