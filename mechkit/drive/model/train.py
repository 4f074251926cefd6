"""The train of gears from the motor's shaft to the axle: ratio, losses both ways, lost motion."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

import numpy as np

from mechkit import tables, worm
from mechkit.drive.model.parts import Amount, Gear, Worm

#: Efficiency of one straight gear mesh, common practice for small drives.
GEAR_MESH = (0.93, 0.98)

#: Friction of what takes the worm's thrust: an oiled plain face, balls; common practice.
COLLAR = {"plain": 0.10, "ball": 0.003}


def friction_band(first: str, second: str, lubrication: str) -> tuple[float, float]:
    """The band of a pair's coefficient of friction, either way round in the table."""
    pair = f"{first} on {second}"
    if pair not in tables.names("friction"):
        pair = f"{second} on {first}"
    return tables.band("friction", pair, lubrication)


@dataclass(frozen=True)
class Train:
    """A worm and the gears behind it, in order; all idlers but the last."""

    worm: Worm
    gears: Sequence[Gear]
    pressure_angle: float
    lubrication: str
    backlash: Amount
    end_play: Amount
    thrust_bearing: str = "ball"

    @property
    def ratio(self) -> float:
        """Turns of the motor for one of the axle; idlers between do not count."""
        return self.gears[-1].teeth / self.worm.starts

    @property
    def axle_gear(self) -> Gear:
        """The gear on the axle."""
        return self.gears[-1]

    @property
    def friction_band(self) -> tuple[float, float]:
        """Friction in the worm mesh, by its pair and grease."""
        return friction_band(self.worm.material, self.gears[0].material, self.lubrication)

    @property
    def collar(self):
        """Torque that the thrust takes at its bearing, over what a worm without loss would take.

        A plain face rubs halfway between the bore and the root of the thread; balls roll.
        """
        mean = (self.worm.root_diameter + self.worm.bore) / 4
        lever = self.worm.pitch_diameter / 2 * np.tan(self.worm.lead_angle)
        return COLLAR[self.thrust_bearing] * mean / lever

    def same_worm_mesh(self, other: "Train") -> bool:
        """Whether worm, first gear and grease are those of another train."""
        return self.same_worm_pair(other) and self.lubrication == other.lubrication

    def same_worm_pair(self, other: "Train") -> bool:
        """Whether worm and first gear are those of another train, whatever the grease."""

        def kind(train: Train):
            worm, gear = train.worm, train.gears[0]
            return worm.material, gear.material, gear.teeth, worm.starts

        def size(train: Train):
            return train.worm.module, train.worm.outside_diameter, train.pressure_angle

        # the same size in two units differs in its last digit
        alike = np.allclose(size(self), size(other), rtol=1e-9, atol=0.0)
        return kind(self) == kind(other) and alike

    def same_bearing(self, other: "Train") -> bool:
        """Whether the worm's thrust is taken as in another train."""
        return self.thrust_bearing == other.thrust_bearing

    def efficiency(self, friction, gear_mesh):
        """Motor to axle, by the friction in the worm mesh and one straight mesh's efficiency."""
        own = worm.efficiency(
            lead_angle=self.worm.lead_angle,
            friction=friction,
            pressure_angle=self.pressure_angle,
        )
        return gear_mesh ** (len(self.gears) - 1) / (1 / own + self.collar)

    def friction(self, efficiency, gear_mesh):
        """Friction in the worm mesh that a measured efficiency tells."""
        whole = gear_mesh ** (len(self.gears) - 1) / efficiency
        own = 1 / np.maximum(whole - self.collar, 1.0)
        steep = np.tan(self.worm.lead_angle)
        return np.cos(self.pressure_angle) * steep * (1 - own) / (own + steep**2)

    def back_efficiency(self, efficiency, gear_mesh):
        """Axle to motor, for a measured efficiency; below zero where the worm locks."""
        own = worm.back_driving_efficiency(
            lead_angle=self.worm.lead_angle,
            friction=self.friction(efficiency, gear_mesh),
            pressure_angle=self.pressure_angle,
        )
        return gear_mesh ** (len(self.gears) - 1) * (own - self.collar)

    def lost_motion(self, wheel_diameter):
        """Backlash at the axle gear and end play of the worm, both as travel at the rim [m]."""
        lead = worm.lead(starts=self.worm.starts, module=self.worm.module)
        at_gear = self.backlash / self.axle_gear.pitch_diameter
        at_worm = pi * self.end_play / (lead * self.ratio)
        return wheel_diameter * (at_gear + at_worm)
