"""What you can hold in your hand: frozen parts whose methods call the handbook.

The numbers of a part may be arrays (one value a draw); the parts do not care.
"""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from mechkit import flywheel, gears, motor, tables, worm

#: No winding outlives more [K].
HOTTEST = 200.0

Amount = Any  # a float, or an array with one value a draw


@dataclass(frozen=True)
class Material:
    """A material of the shop, by its name in the table."""

    name: str

    @property
    def density(self):
        """Density [kg/m^3]."""
        return tables.value("materials", self.name, "density")

    @property
    def elastic_modulus(self):
        """Modulus of elasticity [Pa]."""
        return tables.value("materials", self.name, "elastic_modulus")

    @property
    def yield_strength(self):
        """Yield strength [Pa], the low end of what the sources give."""
        return tables.band("materials", self.name, "yield_strength")[0]

    @property
    def hardness(self):
        """Indentation hardness [Pa], the low end of what the sources give."""
        return tables.band("materials", self.name, "hardness")[0]

    @property
    def shear_modulus(self):
        """Modulus of rigidity of an isotropic metal [Pa]."""
        return self.elastic_modulus / (2 * (1 + self.poisson))

    @property
    def poisson(self):
        """Poisson's ratio [-]."""
        return tables.value("materials", self.name, "poisson")


@dataclass(frozen=True)
class Motor:
    """A motor by its constants, in SI.

    ``friction_torque`` [N*m] is its own at any speed, ``damping`` [N*m*s/rad] more with speed;
    ``brush_drop`` [V] is lost between leads and winding.  Steady heat warms the winding by
    ``heating`` [K/W], and its magnet loses ``magnet`` [1/K] of the torque constant.
    """

    resistance: Amount
    torque_constant: Amount
    friction_torque: Amount
    rotor_inertia: Amount
    damping: Amount = 0.0
    brush_drop: Amount = 0.0
    heating: Amount = 0.0
    magnet: Amount = 0.0

    def warmed(self, current) -> "Motor":
        """The motor as a steady current warms it [A]."""
        rise = np.minimum(self.heating * current**2 * self.resistance, HOTTEST)
        for _ in range(2):
            hot = motor.warm_resistance(resistance=self.resistance, temperature_rise=rise)
            rise = np.minimum(self.heating * current**2 * hot, HOTTEST)
        return replace(
            self,
            resistance=motor.warm_resistance(resistance=self.resistance, temperature_rise=rise),
            torque_constant=self.torque_constant * (1 - self.magnet * rise),
        )

    def left(self, voltage):
        """What the brushes leave of a voltage [V]."""
        return np.maximum(voltage - self.brush_drop, 0.0)

    def stall_torque(self, voltage):
        """Torque at standstill [N*m]."""
        return self.torque_constant * motor.stall_current(
            voltage=self.left(voltage), resistance=self.resistance
        )

    @property
    def shorted_damping(self):
        """Braking torque per speed with the leads shorted [N*m*s/rad]."""
        return motor.shorted_damping(
            torque_constant=self.torque_constant, resistance=self.resistance
        )


@dataclass(frozen=True)
class Worm:
    """A worm by what is measured on it."""

    material: str
    starts: int
    module: Amount
    outside_diameter: Amount
    length: Amount
    bore: Amount

    @property
    def pitch_diameter(self):
        """Outside diameter less an addendum of one module on both sides [m]."""
        return self.outside_diameter - 2 * self.module

    @property
    def root_diameter(self):
        """Diameter over the bottom of the thread [m]: 2.2 modules deep."""
        return self.outside_diameter - 4.4 * self.module

    @property
    def lead_angle(self):
        """Lead angle [rad]."""
        return worm.lead_angle(
            starts=self.starts, module=self.module, pitch_diameter=self.pitch_diameter
        )


@dataclass(frozen=True)
class Gear:
    """A gear by what is measured on it; the module follows from teeth and diameter."""

    name: str
    teeth: int
    material: str
    outside_diameter: Amount
    face_width: Amount
    total_runout: Amount

    @property
    def module(self):
        """Module of a full-depth gear with that outside diameter [m]."""
        return self.outside_diameter / (self.teeth + 2)

    @property
    def pitch_diameter(self):
        """Pitch diameter [m]."""
        return gears.pitch_diameter(module=self.module, teeth=self.teeth)


@dataclass(frozen=True)
class Flywheel:
    """A bored disc on the motor's shaft."""

    outer: Amount
    width: Amount
    bore: Amount
    density: Amount

    @property
    def inertia(self):
        """Moment of inertia [kg*m^2]."""
        return flywheel.ring_inertia(
            outer=self.outer, width=self.width, density=self.density, bore=self.bore
        )

    @property
    def mass(self):
        """Mass [kg]."""
        return flywheel.ring_mass(
            outer=self.outer, width=self.width, density=self.density, bore=self.bore
        )

    def whirl(self, overhang, span, shaft):
        """First bending critical speed on a shaft in two bearings, overhung to its middle [rad/s]."""
        return flywheel.critical_speed(
            mass=self.mass,
            overhang=overhang,
            span=span,
            shaft_diameter=shaft,
            elastic_modulus=Material("steel").elastic_modulus,
        )
