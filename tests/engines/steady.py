"""What a steady engine does: start, speed, current, pull, in closed form or by one root.

Steady current I balances the motor's friction, what rubs and drags behind it, and the rim's
force through the mesh; the winding is warm by its own heat.
"""

from dataclasses import dataclass, field
from math import inf

import numpy as np
from scipy.optimize import brentq

from tests.engines.parts import Engine, State

COPPER = 0.00393  # 1/K at 20 deg C


@dataclass(frozen=True)
class Works:
    """One state of one engine as the numbers that move it."""

    engine: Engine
    state: State
    lever: float = field(init=False)
    rubbing: float = field(init=False)
    sticking: float = field(init=False)
    damping: float = field(init=False)

    def __post_init__(self):
        """Rim travel an angle of the motor; friction before the mesh, running and at rest."""
        state, motor = self.state, self.state.motor
        other = state.side_torque + state.box
        put = object.__setattr__
        put(self, "lever", self.engine.wheel / 2 / state.ratio)
        put(self, "rubbing", motor.friction + other)
        put(self, "sticking", motor.friction * motor.stiction + other * state.box_stiction)
        put(self, "damping", motor.damping + state.mesh.drag)

    # -- standing -----------------------------------------------------------------------

    @property
    def starting_torque(self) -> float:
        """Torque at which it breaks away [N*m]."""
        rim = self.engine.rolling_force * self.state.box_stiction
        return self.sticking + rim * self.lever * self.state.gain(0.0, True)

    @property
    def starting_voltage(self) -> float:
        """Voltage at which it breaks away, winding cold [V]."""
        motor = self.state.motor
        return motor.brush_drop + motor.resistance * self.starting_torque / motor.constant

    # -- running ------------------------------------------------------------------------

    def heated(self, current: float, warmth: float) -> tuple[float, float, float]:
        """Resistance, torque constant and rise [K], a share ``warmth`` of the way to settled."""
        motor = self.state.motor
        watts = motor.resistance * current**2 * motor.thermal * warmth
        if COPPER * watts >= 1:
            return inf, motor.constant, inf
        rise = watts / (1 - COPPER * watts)
        return (
            motor.resistance * (1 + COPPER * rise),
            motor.constant * (1 - motor.magnet * rise),
            rise,
        )

    def load(self, speed, pull: float = 0.0):
        """Torque that a steady speed of the motor takes [N*m]."""
        rim = (self.engine.rolling_force + pull) * self.lever
        return self.rubbing + self.damping * speed + rim * self.state.gain(speed, True)

    def running(self, voltage: float, pull: float = 0.0, warmth: float = 0.0):
        """Steady speed of the motor [rad/s] and current [A]; None where it does not run on."""
        motor = self.state.motor
        ohms, constant = motor.resistance, motor.constant
        speed = current = 0.0
        for _ in range(60):
            volts = voltage - motor.brush_drop

            def over(at, ohms=ohms, constant=constant, volts=volts):
                return constant * (volts - constant * at) / ohms - self.load(at, pull)

            top = volts / constant
            tried = np.linspace(top, 0.0, 60) if volts > 0 else []
            below = next((n for n, at in enumerate(tried) if over(at) > 0), None)
            if not below:
                return None
            found = brentq(over, tried[below], tried[below - 1], xtol=1e-9, rtol=1e-13)
            last, speed = current, found
            current = (volts - constant * speed) / ohms
            if not warmth or abs(current - last) < 1e-11:
                break
            ohms, constant, _ = self.heated(current, warmth)
            if ohms == inf:
                return None
        return speed, current

    def rail(self, motor_speed: float) -> float:
        """Speed of the model [m/s]."""
        return motor_speed * self.lever

    def rise_at(self, voltage: float) -> float:
        """How much warmer the winding settles, running free on a voltage [K]."""
        found = self.running(voltage, warmth=1.0)
        return self.heated(found[1], 1.0)[2] if found else inf

    # -- what friction and pull are -----------------------------------------------------

    def middle(self) -> float:
        """A middling speed of the motor, where numbers that fade with speed are stated [rad/s]."""
        found = self.running(self.engine.voltage)
        return 0.5 * found[0] if found else 0.0

    @property
    def efficiency(self) -> float:
        """Motor to axle through worm, thrust collar and straight gears, at a middling speed."""
        return 1 / self.state.gain(self.middle(), True)

    @property
    def running_friction(self) -> float:
        """All friction at the motor but what grows with speed, the train's rolling included."""
        return self.load(0.0) + (
            self.state.gain(self.middle(), True) - self.state.gain(0.0, True)
        ) * (self.engine.rolling_force * self.lever)

    def slip_torque(self) -> float:
        """Torque at the motor with the drivers slipping at a crawl [N*m]."""
        return self.rubbing + self.engine.rim_limit * self.lever * self.state.gain(0.0, True)

    def stall_margin(self, voltage: float) -> float:
        """Stall torque over the torque at slip."""
        motor = self.state.motor
        stalled = motor.constant * (voltage - motor.brush_drop) / motor.resistance
        return stalled / self.slip_torque()

    @property
    def felt_mass(self) -> float:
        """Rotor and flywheel as a mass at the rail [kg]."""
        return self.state.inertia / self.lever**2
