"""The train of gears from the motor's shaft to the axle: ratio, losses both ways, lost motion."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

import numpy as np

from mechkit import gears as pairs
from mechkit import runout, tables, worm
from mechkit.drive.model.parts import Amount, Gear, Worm

#: Efficiency of one straight gear mesh, common practice for small drives.
GEAR_MESH = (0.93, 0.98)

#: A worm in its own plane is a rack, and a rack is a gear of endlessly many teeth.
RACK = 1e8
#: No backlash is larger than a tooth space, half the pitch.
SPACE = 0.499 * pi

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
    worm_backlash: Amount | None = None

    @property
    def ratio(self) -> float:
        """Turns of the motor for one of the axle; idlers between do not count."""
        return self.gears[-1].teeth / self.worm.starts

    @property
    def axle_gear(self) -> Gear:
        """The gear on the axle."""
        return self.gears[-1]

    @property
    def driver_teeth(self) -> float:
        """Teeth of what drives the axle gear: of the idler before it, or of the worm as a rack."""
        return self.gears[-2].teeth if len(self.gears) > 1 else RACK

    def center_distance(self, backlash):
        """Where the axle gear stands to what drives it, for a backlash of their mesh [m]."""
        module, teeth = self.axle_gear.module, self.axle_gear.teeth
        if len(self.gears) == 1:
            nearest = worm.center_distance(
                pitch_diameter=self.worm.pitch_diameter, module=module, teeth=teeth
            )
            return nearest + backlash / (2 * np.tan(self.pressure_angle))
        return pairs.center_distance_for_backlash(
            module=module,
            teeth_1=self.driver_teeth,
            teeth_2=teeth,
            pressure_angle=self.pressure_angle,
            backlash=np.minimum(backlash, SPACE * module),
        )

    def contact_ratio(self, backlash):
        """Pairs of teeth in contact at the axle gear, for a backlash of their mesh [-]."""
        module, teeth = self.axle_gear.module, self.axle_gear.teeth
        distance = self.center_distance(backlash)
        if len(self.gears) == 1:
            distance = distance + (RACK * module - self.worm.pitch_diameter) / 2
        return pairs.contact_ratio(
            module=module,
            teeth_1=self.driver_teeth,
            teeth_2=teeth,
            pressure_angle=self.pressure_angle,
            addendum=module,
            center_distance=distance,
        )

    @property
    def axle_ripple(self):
        """Swing of the axle's speed, mean to peak, that the axle gear's runout makes [-].

        With the motor held; the train feels less of it.
        """
        gear = self.axle_gear
        base = pairs.base_diameter(
            module=gear.module, teeth=gear.teeth, pressure_angle=self.pressure_angle
        )
        off = runout.eccentricity(total_runout=gear.total_runout)
        return runout.speed_ripple(eccentricity=off, base_diameter=base)

    def closing(self, *gears: Gear):
        """Backlash that these gears' runouts take from their mesh at its tightest tooth [m].

        A center off by half the indicator's swing comes so much nearer; two gears that turn at
        different speeds meet with both their worst teeth sooner or later.
        """
        return sum(gear.total_runout for gear in gears) * np.tan(self.pressure_angle)

    @property
    def friction_band(self) -> tuple[float, float]:
        """Friction in the worm mesh, by its pair and grease."""
        return friction_band(self.worm.material, self.gears[0].material, self.lubrication)

    @property
    def collar(self):
        """Torque that the thrust takes at its bearing, over what a worm without loss would take.

        A plain face rubs halfway between the bore and the root of the thread; balls roll.
        """
        return worm.collar_loss(
            friction=COLLAR[self.thrust_bearing],
            collar_diameter=(self.worm.root_diameter + self.worm.bore) / 2,
            pitch_diameter=self.worm.pitch_diameter,
            lead_angle=self.worm.lead_angle,
        )

    def efficiency(self, friction, gear_mesh):
        """Motor to axle, by the friction in the worm mesh and one straight mesh's efficiency."""
        own = worm.efficiency(
            lead_angle=self.worm.lead_angle,
            friction=friction,
            pressure_angle=self.pressure_angle,
        )
        return gear_mesh ** (len(self.gears) - 1) / (1 / own + self.collar)

    def end_loads(self, torque, efficiency, gear_mesh):
        """What a torque at the worm [N*m] does to its shaft.

        Thrust [N], the force that pushes worm and gear apart [N], and the share of the torque
        that rubs at the thrust bearing [-].
        """
        whole = gear_mesh ** (len(self.gears) - 1) / efficiency
        rubs = np.minimum(self.collar / whole, 1.0)
        thread = {
            "torque": torque * (1 - rubs),
            "pitch_diameter": self.worm.pitch_diameter,
            "lead_angle": self.worm.lead_angle,
            "friction": self.friction(efficiency, gear_mesh),
            "pressure_angle": self.pressure_angle,
        }
        return worm.thrust(**thread), worm.separating_force(**thread), rubs

    def friction(self, efficiency, gear_mesh):
        """Friction in the worm mesh that a measured efficiency tells."""
        whole = gear_mesh ** (len(self.gears) - 1) / efficiency
        return worm.friction_from_efficiency(
            lead_angle=self.worm.lead_angle,
            efficiency=1 / np.maximum(whole - self.collar, 1.0),
            pressure_angle=self.pressure_angle,
        )

    def back_efficiency(self, efficiency, gear_mesh):
        """Axle to motor, for a measured efficiency; below zero where the worm locks."""
        own = worm.back_driving_efficiency(
            lead_angle=self.worm.lead_angle,
            friction=self.friction(efficiency, gear_mesh),
            pressure_angle=self.pressure_angle,
        )
        return gear_mesh ** (len(self.gears) - 1) * (own - self.collar)

    def lost_motion(self, wheel_diameter):
        """Backlash at the pitch circles and end play of the worm, both as travel at the rim [m]."""
        lead = worm.lead(starts=self.worm.starts, module=self.worm.module)
        felt = self.backlash if self.worm_backlash is None else self.backlash + self.worm_backlash
        at_gear = felt / self.axle_gear.pitch_diameter
        at_worm = pi * self.end_play / (lead * self.ratio)
        return wheel_diameter * (at_gear + at_worm)
