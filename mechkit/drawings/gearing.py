"""The worm and gears of a drive as outlines that stand in mesh, to scale, over the driven axle."""

from dataclasses import dataclass

import numpy as np

from mechkit import gears
from mechkit.drawings import shapes
from mechkit.drive.questions.gears import SPACE
from mechkit.drive.sheet.schema import State

#: Full-depth teeth in a worm's axial section.
ADDENDUM, DEDENDUM = 1.0, 1.25


@dataclass(frozen=True)
class Placed:
    """One gear where it turns: its center and the angle at which a tooth points."""

    name: str
    material: str
    teeth: int
    module: float
    center: tuple[float, float]
    angle: float
    outside: float
    pressure_angle: float

    @property
    def pitch(self):
        """Pitch diameter [m]."""
        return self.module * self.teeth

    @property
    def outline(self):
        """Its teeth, as involutes."""
        return shapes.gear(
            self.center,
            self.module,
            self.teeth,
            pressure_angle=self.pressure_angle,
            angle=self.angle,
        )


@dataclass(frozen=True)
class Stack:
    """The gears from the worm to the axle, and how far they fall short of the worm [m].

    ``short`` is negative where a single gear would run into the worm.
    """

    gears: tuple[Placed, ...]
    short: float


def stack(state: State, axle: tuple[float, float], shaft_height: float, toward: float) -> Stack:
    """Stand the gears between the driven axle and the worm.

    Idlers between lean to the side ``toward`` (1 or -1) where the gears are taller than the
    shaft is high.
    """
    modules = [gear.outside_diameter.value / (gear.teeth + 2) for gear in state.gears]
    pitch = [m * gear.teeth for m, gear in zip(modules, state.gears, strict=True)]
    thread = state.worm.outside_diameter.value - 2 * state.worm.module.value
    height = shaft_height - (thread + pitch[0]) / 2  # of the gear under the worm
    links = [
        gears.center_distance_for_backlash(
            module=modules[n + 1],
            teeth_1=pitch[n] / modules[n + 1],
            teeth_2=state.gears[n + 1].teeth,
            pressure_angle=state.mesh.pressure_angle.value,
            backlash=min(state.mesh.backlash.value, SPACE * np.pi * modules[n + 1] / 2),
        )
        for n in range(len(pitch) - 1)
    ]
    centers, short = _centers(np.asarray(axle, float), height, np.array(links), toward)
    angles = _angles(centers, pitch, [gear.teeth for gear in state.gears])
    return Stack(
        tuple(
            Placed(
                gear.name,
                gear.material,
                gear.teeth,
                module,
                (float(center[0]), float(center[1])),
                float(angle),
                gear.outside_diameter.value,
                state.mesh.pressure_angle.value,
            )
            for gear, module, center, angle in zip(
                state.gears, modules, centers, angles, strict=True
            )
        ),
        short,
    )


def _centers(axle, height, links, toward):
    """Centers from the worm's gear down to the axle, on one straight line."""
    rise, reach = height - axle[1], links.sum()
    if reach == 0.0:
        return [axle], rise
    up = np.clip(rise / reach, -1.0, 1.0)
    line = np.array([toward * np.sqrt(1 - up**2), up])
    left = np.append(np.cumsum(links[::-1])[::-1], 0.0)  # from each gear down to the axle
    return [axle + far * line for far in left], max(rise - reach, 0.0)


def _angles(centers, pitch, teeth):
    """Where a tooth of each gear points, so that each tooth stands in the next one's space."""
    angles = [np.pi / 2 + np.pi / teeth[0]]  # a space straight up, under a tooth of the worm
    for n in range(1, len(centers)):
        step = centers[n] - centers[n - 1]
        line = np.arctan2(step[1], step[0])
        along = (angles[-1] - line) * pitch[n - 1] / 2 + np.pi * pitch[n - 1] / teeth[n - 1] / 2
        angles.append(line + np.pi - along / (pitch[n] / 2))
    return angles


def worm_halves(state: State, center, tooth_at):
    """The worm in axial section: its upper and its lower half, a lower tooth at ``tooth_at``."""
    worm = state.worm
    module, radius = worm.module.value, worm.outside_diameter.value / 2
    pitch = np.pi * module
    x = np.linspace(-1, 1, 2) * worm.length.value / 2 + center[0]
    halves = []
    for sign, tooth in ((1, tooth_at + worm.starts * pitch / 2), (-1, tooth_at)):
        first = tooth - pitch * np.ceil((tooth - x[0]) / pitch + 1)
        count = int(np.ceil((x[1] - first) / pitch)) + 2
        rack = shapes.rack(
            (first, radius - ADDENDUM * module),
            module,
            count,
            pressure_angle=state.mesh.pressure_angle.value,
            addendum=ADDENDUM,
            dedendum=DEDENDUM,
        )
        inner = rack[(rack[:, 0] > x[0]) & (rack[:, 0] < x[1])]
        ends = np.column_stack([x, np.interp(x, rack[:, 0], rack[:, 1])])
        bore = [(x[1], worm.bore.value / 2), (x[0], worm.bore.value / 2)]
        half = np.vstack([ends[:1], inner, ends[1:], bore])
        halves.append(half * (1, sign) + (0, center[1]))
    return halves
