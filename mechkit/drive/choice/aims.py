"""What can be cared about in a drive, each as a number: creep, coast, top speed, pull, life, margins."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from mechkit import motor, scale
from mechkit.drive.decisions.plan import WINDING_RISE
from mechkit.drive.model.drive import Drive
from mechkit.units import System, show


class Aim(NamedTuple):
    """One thing to care about: words, kind of number, decimals, and whether more is better."""

    words: str
    kind: str
    places: int
    more: bool
    short: str

    def say(self, value, system: System = "metric"):
        """A number of this aim, as it stands in a sentence."""
        places = self.places + (2 if self.kind == "length" and system == "inch" else 0)
        if self.kind == "times":  # known within a factor of ten: two digits are one too many
            value, places = float(f"{value:.2g}"), 1 if value < 10 else 0
        return show(value, self.kind, system, places)


AIMS = {
    "start": Aim("voltage at which it starts", "voltage", 2, False, "starts at"),
    "creep": Aim("speed at the voltage that just starts it", "speed", 1, False, "creeps at"),
    "top": Aim("off the wanted speed at full throttle", "percent", 0, False, "off top speed"),
    "coast": Aim("coast from a fixed speed", "length", 0, True, "coasts"),
    "coast_on": Aim("coast from a fixed voltage", "length", 0, True, "coasts on"),
    "pull": Aim("pull that it keeps up", "force", 2, True, "pulls"),
    "life": Aim("life of the worm pair against the old one", "times", 0, True, "lasts"),
    "cool": Aim("current for ever over current at slip", "number", 1, True, "heat margin"),
    "room": Aim("length that is left", "length", 1, True, "length left"),
}  # fmt: skip


@dataclass(frozen=True)
class Running:
    """Drives, one in each row, asked at a fixed speed and at a fixed voltage; SI.

    ``speed`` and ``wanted`` [m/s] are of the full-size engine.  Every aim is a method.
    """

    drive: Drive
    worm_life: Any
    old_life: Any
    length_left: Any
    thermal_resistance: Any
    full: float
    wanted: float
    speed: float
    voltage: float

    def start(self):
        """Voltage at which it starts [V]."""
        return self.drive.starting_voltage

    def creep(self):
        """Speed at the voltage that just starts it: friction at rest less friction in motion."""
        return self.drive.speed_at(self.drive.starting_voltage)

    def top(self):
        """How far full throttle is off the wanted speed, as a fraction of it."""
        return np.abs(self.top_speed() / self.wanted - 1)

    def coast(self):
        """Coast with the rails open from the fixed speed, or from top speed where that is less."""
        return self.drive.coast(np.minimum(self._fixed(), self._rail(self.full)))

    def coast_on(self):
        """Coast with the rails open from the fixed voltage [m]."""
        return self.drive.coast(self._rail(self.voltage))

    def pull(self):
        """The least of three pulls: wheels slip, winding grows too hot, motor stalls [N]."""
        torque = np.minimum(
            self.current_for_ever() * self.drive.motor.torque_constant,
            self.drive.motor.stall_torque(self.full),
        )
        spare = np.maximum(torque - self.drive.running_friction, 0.0)
        return np.minimum(spare / self.drive.load_torque(1.0), self.drive.pull_at_slip)

    def life(self):
        """How many times as long as the worm pair as it is [-]."""
        return self.worm_life / self.old_life

    def cool(self):
        """Current that the winding carries for ever over the current with the wheels slipping."""
        constant = self.drive.motor.torque_constant
        slip = motor.current(torque=self.drive.slip_torque(), torque_constant=constant)
        return self.current_for_ever() / slip

    def room(self):
        """Length that is left in the body beyond the free space wanted [m]."""
        return self.length_left

    # -- beside the aims ----------------------------------------------------------------

    def current_for_ever(self):
        """Current that warms the winding by what it may [A]."""
        return motor.continuous_current(
            temperature_rise=WINDING_RISE,
            resistance=self.drive.motor.resistance,
            thermal_resistance=self.thermal_resistance,
        )

    def top_speed(self):
        """Speed at full throttle, of the full-size engine [m/s]."""
        return self.drive.speed_at(self.full)

    def speed_on(self):
        """Speed at the fixed voltage, of the full-size engine [m/s]."""
        return self.drive.speed_at(self.voltage)

    def volts_for(self):
        """Voltage that the fixed speed takes [V]."""
        part = self.drive.motor
        drop = motor.starting_voltage(
            torque=self._torque_at_speed(),
            resistance=part.resistance,
            torque_constant=part.torque_constant,
        )
        return drop + part.torque_constant * self.drive.motor_speed(self._fixed())

    def current_for(self):
        """Current that the fixed speed takes [A]."""
        return motor.current(
            torque=self._torque_at_speed(), torque_constant=self.drive.motor.torque_constant
        )

    def current_on(self):
        """Current at the fixed voltage [A]."""
        return self.drive.current_at(self.voltage)

    def _fixed(self):
        """The fixed speed, of the model [m/s]."""
        return scale.model_speed(prototype_speed=self.speed, ratio=self.drive.scale)

    def _torque_at_speed(self):
        turning = self.drive.motor_speed(self._fixed())
        return self.drive.running_friction + self.drive.damping * turning

    def _rail(self, voltage):
        return self.drive.rail_speed(self.drive.motor_speed_at(voltage))

    def ask(self, aims: Sequence[str]):
        """The numbers by aim."""
        return {aim: getattr(self, aim)() for aim in aims}


def points(numbers):
    """A row for each drive, a column for each aim, all so that less is better."""
    return np.column_stack([each * (-1 if AIMS[aim].more else 1) for aim, each in numbers.items()])


def check_aims(aims: Sequence[str]) -> tuple[str, ...]:
    """The aims, or a refusal that lists those there are."""
    for aim in aims:
        if aim not in AIMS:
            raise ValueError(f"{aim!r} is nothing to choose by: one of {', '.join(AIMS)}")
    if not aims or len(set(aims)) != len(aims):
        raise ValueError("name at least one aim, and each of them once")
    return tuple(aims)
