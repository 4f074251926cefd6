"""The motor alone on the bench: resistance, free running and a stalled reading into constants."""

import math

import numpy as np

from mechkit import flywheel, motor
from mechkit.drive.constants.readings import MOST_LOST, Errors, scatter
from mechkit.drive.model.parts import Amount, Motor
from mechkit.drive.model.spread import Spread, doubt
from mechkit.drive.sheet.schema import MotorTable

#: Where no data sheet gives the rotor: iron and copper together, common practice.
ROTOR_DENSITY = 7000.0  # kg/m^3
#: Rotor over case, diameter and length, where nothing of it was measured; common practice.
ROTOR_DIAMETER, ROTOR_LENGTH = 0.7, 0.5
#: How far off the rotor's inertia can be, relative standard error: by data sheet, by the
#: rotor's own size, by the size of the case; common practice, no source.
BY_SHEET, BY_SIZE, BY_CASE = 0.025, 0.25, 0.5


def motor_constants(
    table: MotorTable, meter: dict[str, Amount], spread: Spread, name: str
) -> Motor:
    """The constants of a motor that has been nowhere but on the bench, by what it is called.

    The stalled reading counts as one more resistance reading.  ``meter`` holds the draws of the
    meter's common errors, which every motor of an evening shares.
    """
    each = Errors(meter=0.0, stopwatch=0.0, ruler=0.0)
    values = [reading.value / meter["ohms"] for reading in table.resistance]
    errors = [math.hypot(each.brush, doubt(reading)) for reading in table.resistance]
    if table.stall:
        volts, amps = table.stall.voltage, table.stall.current
        values.append(volts.value / amps.value * meter["amps"] / meter["volts"])
        errors.append(math.hypot(each.brush, each.digit, doubt(volts, amps)))
    ohms = np.array([np.ravel(value)[0] for value in values])
    off = (ohms / ohms.mean() - 1) / errors
    times = scatter(float(off @ off), len(ohms) - 1.0)
    resistance = sum(
        value * np.exp(times * error * spread.error(f"resistance reading {n} of the {name}"))
        for n, (value, error) in enumerate(zip(values, errors, strict=True), 1)
    ) / len(values)
    free = table.no_load
    voltage = free.voltage.value / meter["volts"]
    digit = math.hypot(each.digit, doubt(free.current))
    current = free.current.value / meter["amps"]
    current = current * np.exp(digit * spread.error(f"free-running current of the {name}"))
    current = np.minimum(current, MOST_LOST * voltage / resistance)
    rotation = math.hypot(each.rotation, doubt(free.speed, free.voltage))
    turns = np.exp(rotation * spread.error(f"free-running speed of the {name}"))
    constant = motor.torque_constant(
        voltage=voltage,
        no_load_speed=free.speed.value * turns,
        no_load_current=current,
        resistance=resistance,
    )
    friction = motor.friction_torque(torque_constant=constant, no_load_current=current)
    inertia, error = rotor_inertia(table)
    inertia = inertia * np.exp(error * spread.error(f"rotor inertia of the {name}"))
    return Motor(resistance, constant, friction, inertia)


def rotor_inertia(table: MotorTable) -> tuple[float, float]:
    """Inertia of the rotor [kg*m^2] and its relative error: off the data sheet, or a cylinder."""
    if given := table.rotor_inertia:
        return given.value, doubt(given) or BY_SHEET
    diameter, length = table.rotor_diameter, table.rotor_length
    cylinder = flywheel.ring_inertia(
        outer=diameter.value if diameter else ROTOR_DIAMETER * table.body_diameter.value,
        width=length.value if length else ROTOR_LENGTH * table.body_length.value,
        density=ROTOR_DENSITY,
    )
    return float(cylinder), BY_SIZE if diameter and length else BY_CASE
