"""A drive on the track: start, speed, coast, pull and heat, from its constants.

One class for any state: as it is (constants fitted to readings), planned (constants
predicted) or measured after.  Numbers may be arrays, one value a draw.
"""

from dataclasses import dataclass

import numpy as np

from mechkit import flywheel, motor, runout, scale, traction
from mechkit.drive.model import coasting
from mechkit.drive.model.parts import Amount, Motor
from mechkit.names import STANDARD_GRAVITY

#: Rounds in which a winding settles warm.
ROUNDS = 2


@dataclass(frozen=True)
class Drive:
    """Everything that decides how the engine runs, seen from the motor's shaft.

    ``starting_friction`` and ``running_friction`` [N*m] hold all friction from the brushes
    to the rail, rolling included; ``damping`` [N*m*s/rad] is what comes on top with speed.
    ``rolling_force`` [N] keeps the train rolling by itself; ``lost_motion`` [m] at the rim
    holds backlash and the worm's end play together.  ``back_efficiency`` [-] counts when the
    train drives; left out, it is 2 - 1 / efficiency, as of a worm of small lead angle.
    ``adhesion`` [-] is drawbar pull at slip over the weight on the drivers, so that the
    drivers hold that and the train's own rolling.  ``crawl_efficiency`` [-] is the mesh's at a
    crawl, where its friction is more; as at speed where left out.  ``full`` [V] is full
    throttle, from which it is as warm as a steady run leaves it; it starts cold.  ``hauled`` [N]
    is what of the rolling hangs at the drawbar: it takes of the drivers' hold and adds none.
    """

    motor: Motor
    gear_ratio: float
    wheel_diameter: Amount
    flywheel_inertia: Amount
    starting_friction: Amount
    running_friction: Amount
    damping: Amount
    efficiency: Amount
    engine_mass: Amount
    train_mass: Amount
    mass_on_drivers: Amount
    adhesion: Amount
    scale: float
    rolling_force: Amount = 0.0
    lost_motion: Amount = 0.0
    back_efficiency: Amount | None = None
    crawl_efficiency: Amount | None = None
    full: Amount = 0.0
    hauled: Amount = 0.0

    # -- what follows -----------------------------------------------------------------

    @property
    def lever(self):
        """Travel at the rim for an angle of the motor [m]."""
        return self.wheel_diameter / 2 / self.gear_ratio

    @property
    def back(self):
        """Share of the rim's torque that reaches the motor while the train drives [-]."""
        return 2 - 1 / self.efficiency if self.back_efficiency is None else self.back_efficiency

    @property
    def rolling_torque(self):
        """What the train's own rolling takes at the motor [N*m]."""
        return self.rolling_force * self.lever / self.efficiency

    @property
    def inner_friction(self):
        """Running friction of motor and gearbox, without the train [N*m]."""
        return self.running_friction - self.rolling_torque

    @property
    def inner_stiction(self):
        """Friction at rest of motor and gearbox, without the train [N*m]."""
        return self.starting_friction - self.rolling_torque

    @property
    def turning_inertia(self):
        """Rotor and flywheel [kg*m^2]."""
        return self.motor.rotor_inertia + self.flywheel_inertia

    @property
    def rim_limit(self):
        """Force at the rim at which the drivers slip or skid [N]."""
        return self.pull_at_slip + self.rolling_force - self.hauled

    # -- where things are compared ---------------------------------------------------

    def rail_speed(self, motor_speed):
        """Speed of the model for a speed of the motor [m/s]."""
        return motor_speed / self.gear_ratio * self.wheel_diameter / 2

    def motor_speed(self, rail_speed):
        """Speed of the motor for a speed of the model [rad/s]."""
        return rail_speed / (self.wheel_diameter / 2) * self.gear_ratio

    @property
    def felt_mass(self):
        """What rotor and flywheel feel like at the rail, beside the train [kg]."""
        return flywheel.equivalent_mass(
            inertia=self.turning_inertia,
            gear_ratio=self.gear_ratio,
            wheel_diameter=self.wheel_diameter,
        )

    # -- running ------------------------------------------------------------------------

    @property
    def starting_voltage(self):
        """Voltage at which the engine breaks away [V]."""
        return self.motor.brush_drop + motor.starting_voltage(
            torque=self.starting_friction,
            resistance=self.motor.resistance,
            torque_constant=self.motor.torque_constant,
        )

    def load_torque(self, pull):
        """Torque at the motor for a pull at the rail [N*m]."""
        return pull * self.lever / self.efficiency

    def _runs(self, warm: Motor, voltage, pull):
        """Speed and current of a motor that is so warm."""
        load = self.load_torque(pull)
        speed = motor.speed(
            voltage=warm.left(voltage),
            torque=load,
            resistance=warm.resistance,
            torque_constant=warm.torque_constant,
            friction_torque=self.running_friction,
            damping=self.damping,
        )
        torque = self.running_friction + load + self.damping * speed
        held = motor.stall_current(voltage=warm.left(voltage), resistance=warm.resistance)
        current = motor.current(torque=torque, torque_constant=warm.torque_constant)
        return speed, np.minimum(current, held)

    def running_motor(self, voltage, pull=0.0) -> Motor:
        """The motor as warm as a steady run on a voltage leaves it."""
        warm = self.motor
        for _ in range(ROUNDS):
            warm = self.motor.warmed(self._runs(warm, voltage, pull)[1])
        return warm

    def motor_speed_at(self, voltage, pull=0.0):
        """Steady speed of the motor [rad/s]."""
        return self._runs(self.running_motor(voltage, pull), voltage, pull)[0]

    def speed_at(self, voltage, pull=0.0):
        """Steady speed, as of the full-size engine [m/s]."""
        rail = self.rail_speed(self.motor_speed_at(voltage, pull))
        return scale.prototype_speed(model_speed=rail, ratio=self.scale)

    def current_at(self, voltage, pull=0.0):
        """Steady current [A]."""
        return self._runs(self.running_motor(voltage, pull), voltage, pull)[1]

    def hop(self, ripple, turns, voltage):
        """Swing of the train's speed, mean to peak, that a gear's own swing leaves of it [-].

        ``ripple`` [-] with the motor held, of a gear that makes so many ``turns`` for one of
        the motor; nothing where the engine stands on that voltage.
        """
        speed = self.motor_speed_at(voltage)
        felt = runout.felt_ripple(
            speed_ripple=ripple,
            turns=turns,
            speed=np.where(speed > 0, speed, 1.0),
            inertia=self.turning_inertia,
            mass=self.train_mass,
            lever=self.lever,
            efficiency=self.efficiency,
            force=self.rolling_force,
            damping=self.damping + self.running_motor(voltage).shorted_damping,
        )
        return np.where(speed > 0, felt, 0.0)[()]

    # -- stopping -----------------------------------------------------------------------

    def bodies(self, shorted=False) -> coasting.Bodies:
        """What decides a stop; rails shorted after a run on full throttle."""
        brake = self.running_motor(self.full).shorted_damping if shorted else 0.0
        return coasting.Bodies(
            inertia=self.turning_inertia,
            mass=self.train_mass,
            lever=self.lever,
            friction=self.inner_friction,
            breakaway=self.inner_stiction,
            damping=self.damping + brake,
            rolling=self.rolling_force,
            limit=self.rim_limit,
            gain=1 / self.efficiency,
            back=self.back,
            lost_motion=self.lost_motion,
        )

    def coast(self, rail_speed, shorted=False):
        """Distance from a cut of the power to standstill on level track [m]."""
        return coasting.stop(self.bodies(shorted), rail_speed)[0]

    def coast_time(self, rail_speed, shorted=False):
        """Time from a cut of the power to standstill on level track [s]."""
        return coasting.stop(self.bodies(shorted), rail_speed)[1]

    def skid(self, rail_speed):
        """Distance in which the train stops on locked drivers [m]."""
        return self.train_mass * rail_speed**2 / (2 * (self.rim_limit + self.rolling_force))

    def pushed(self, rail_speed):
        """True where the train drives the motor as soon as the power is cut at a speed [m/s].

        Left alone, the motor would slow down faster than the train.
        """
        own = self.inner_friction + self.damping * self.motor_speed(rail_speed)
        return own / self.turning_inertia * self.lever > self.rolling_force / self.train_mass

    # -- pulling ------------------------------------------------------------------------

    @property
    def pull_at_slip(self):
        """Drawbar pull at which the drivers slip [N]."""
        return traction.adhesion_limit(
            load=self.mass_on_drivers * STANDARD_GRAVITY, adhesion=self.adhesion
        )

    @property
    def at_crawl(self):
        """Efficiency of the mesh at a crawl [-]."""
        return self.efficiency if self.crawl_efficiency is None else self.crawl_efficiency

    def slip_torque(self):
        """Torque at the motor when the drivers slip [N*m]."""
        return self.inner_friction + self.rim_limit * self.lever / self.at_crawl

    def stall_margin(self, voltage):
        """Stall torque over the torque at slip: above 1 the wheels slip before it stalls."""
        return self.motor.stall_torque(voltage) / self.slip_torque()

    def heat_at_slip(self):
        """Heat in the winding with the drivers slipping at a crawl [W]."""
        current = motor.current(
            torque=self.slip_torque(), torque_constant=self.motor.torque_constant
        )
        return current**2 * self.motor.resistance
