"""The motor alone on the bench: resistance, free running and a stalled reading into constants."""

import math

import numpy as np
import scipy

from mechkit import flywheel, motor
from mechkit.drive.constants.readings import Errors, fine, scatter
from mechkit.drive.constants.weighing import VISCOUS, VISCOUS_ERROR, Numbers
from mechkit.drive.model.parts import Motor
from mechkit.drive.model.spread import Spread, doubt
from mechkit.drive.sheet.schema import MotorTable

#: Drop at a small motor's brushes over full throttle, and its standard error; common practice,
#: no source.
BRUSH = (0.008, 0.012)
#: Where no data sheet gives the rotor: iron and copper together, or a cup of copper with nothing
#: in it, as if it filled the rotor's size [kg/m^3]; common practice, from memory.
ROTOR_DENSITY = {"iron core": 7000.0, "ironless": 2200.0}
#: Rotor over case, diameter and length, where nothing of it was measured; common practice.
ROTOR_DIAMETER, ROTOR_LENGTH = 0.7, 0.5
#: A free motor's current takes less than this share of its volts in the winding, or it would not
#: turn; and no reading is off by more than leaves this share of it.
MOST_FREE, LEAST_READ = 0.95, 0.05
#: How far off the rotor's inertia can be, relative standard error: by data sheet, by the
#: rotor's own size, by the size of the case; common practice, no source.
BY_SHEET, BY_SIZE, BY_CASE = 0.025, 0.25, 0.5


def motor_constants(
    table: MotorTable, meter: Numbers, full: float, spread: Spread, name: str
) -> Motor:
    """The constants of a motor that has been nowhere but on the bench.

    The stalled reading counts as one more resistance reading.  ``meter`` holds the draws of the
    meter's common errors, which every motor of an evening shares; ``full`` [V] is full throttle.
    """
    each = Errors(meter=0.0, stopwatch=0.0, ruler=0.0)
    brush = np.maximum(full * (BRUSH[0] + BRUSH[1] * spread.error(f"brushes of the {name}")), 0.0)
    values = [reading.value / meter.ohms for reading in table.resistance]
    errors = [math.hypot(each.brush, fine(reading)) for reading in table.resistance]
    if table.stall:
        volts, amps = table.stall.voltage, table.stall.current
        left = np.maximum(volts.value / meter.volts - brush, 0.5 * volts.value)
        values.append(left / amps.value * meter.amps)
        errors.append(math.hypot(each.brush, each.digit, fine(volts, amps)))
    ohms = np.array([np.ravel(value)[0] for value in values])
    apart = (ohms / ohms.mean() - 1) / errors
    times = scatter(float(apart @ apart), len(ohms) - 1.0)
    resistance = sum(
        value * _off(times * error, spread.error(f"resistance reading {n} of the {name}"))
        for n, (value, error) in enumerate(zip(values, errors, strict=True), 1)
    ) / len(values)
    free = table.no_load
    digit = math.hypot(each.digit, fine(free.current))
    current = (
        free.current.value
        / meter.amps
        * _off(digit, spread.error(f"free-running current of the {name}"))
    )
    volts = np.maximum(free.voltage.value / meter.volts - brush, 0.5 * free.voltage.value)
    off = math.hypot(each.rotation, fine(free.speed, free.voltage))
    constant = motor.torque_constant(
        voltage=volts,
        no_load_speed=free.speed.value
        * _off(off, spread.error(f"free-running speed of the {name}")),
        no_load_current=np.minimum(current, MOST_FREE * volts / resistance),
        resistance=resistance,
    )
    friction = motor.friction_torque(torque_constant=constant, no_load_current=current)
    viscous = scipy.special.expit(VISCOUS + VISCOUS_ERROR * spread.error(f"drag of the {name}"))
    inertia, error = rotor_inertia(table)
    inertia = inertia * np.exp(error * spread.error(f"rotor inertia of the {name}"))
    damping = viscous * friction / free.speed.value
    cooling = spread.reading(f"cooling of the {name}", table.thermal_resistance)
    heating = cooling * np.maximum(meter.warmth, 0.0)
    return Motor(
        resistance,
        constant,
        (1 - viscous) * friction,
        inertia,
        damping,
        brush,
        heating,
        meter.magnet,
    )


def _off(error: float, draws):
    """A reading's relative error as a factor: what was read is never less than nothing."""
    return np.maximum(1 + error * draws, LEAST_READ)


def rotor_inertia(table: MotorTable) -> tuple[float, float]:
    """Inertia of the rotor [kg*m^2] and its relative error: off the data sheet, or a cylinder."""
    if given := table.rotor_inertia:
        return given.value, doubt(given) or BY_SHEET
    diameter, length = table.rotor_diameter, table.rotor_length
    cylinder = flywheel.ring_inertia(
        outer=diameter.value if diameter else ROTOR_DIAMETER * table.body_diameter.value,
        width=length.value if length else ROTOR_LENGTH * table.body_length.value,
        density=ROTOR_DENSITY[table.kind],
    )
    own = math.hypot(4 * doubt(diameter), doubt(length))
    return float(cylinder), math.hypot(own, BY_SIZE if diameter and length else BY_CASE)
