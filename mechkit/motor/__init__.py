"""Permanent-magnet motors: constants and speed, windings and their heat, pulses.

The formulas are called from here: ``motor.torque_constant``.  They stand, a page each, in

======== ==========================================================
running  constants from the bench, speed, current, start, ripple
winding  torque and voltage, warm winding and magnet, heat
pulsed   pulses with gaps: where they begin, what is left of the mean
======== ==========================================================
"""

from mechkit.motor.pulsed import (
    conduction_share,
    gapless_back_emf,
    gapless_frequency,
    gapless_inductance,
    gapped_heating,
    pulsed_current,
)
from mechkit.motor.running import (
    current,
    friction_torque,
    maximum_efficiency,
    mechanical_time_constant,
    ripple_current,
    shorted_damping,
    speed,
    stall_current,
    starting_voltage,
    torque_constant,
)
from mechkit.motor.winding import (
    continuous_current,
    copper_loss,
    pulse_heating,
    speed_from_back_emf,
    stall_time,
    temperature_rise,
    torque_from_current,
    warm_resistance,
    warm_torque_constant,
)

__all__ = [
    "conduction_share",
    "continuous_current",
    "copper_loss",
    "current",
    "friction_torque",
    "gapless_back_emf",
    "gapless_frequency",
    "gapless_inductance",
    "gapped_heating",
    "maximum_efficiency",
    "mechanical_time_constant",
    "pulse_heating",
    "pulsed_current",
    "ripple_current",
    "shorted_damping",
    "speed",
    "speed_from_back_emf",
    "stall_current",
    "stall_time",
    "starting_voltage",
    "temperature_rise",
    "torque_constant",
    "torque_from_current",
    "warm_resistance",
    "warm_torque_constant",
]
