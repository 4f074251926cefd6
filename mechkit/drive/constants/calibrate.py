"""Readings into constants: the machinist's own measurements become his own mechanism."""

from dataclasses import dataclass

import numpy as np

from mechkit import flywheel, motor
from mechkit.drive.model.parts import Motor
from mechkit.drive.model.spread import Spread, doubt
from mechkit.drive.sheet.schema import MotorTable, Run
from mechkit.units import Reading

#: Where no data sheet gives the rotor: iron and copper together, common practice.
ROTOR_DENSITY = 7000.0  # kg/m^3


def motor_constants(table: MotorTable, meter: float, spread: Spread, name: str) -> Motor:
    """The constants of a motor from resistance, no-load and stall readings.

    The stalled reading counts as one more resistance reading.  ``meter`` is the meter's
    error as a fraction.
    """
    readings = list(table.resistance)
    if table.stall:
        volts, amps = table.stall.voltage, table.stall.current
        held = volts.value / amps.value
        readings.append(Reading(held, 2 * held * doubt(volts, amps)))
    resistance = spread.mean(f"{name} resistance", readings, meter * readings[0].value)
    free = table.no_load
    current = spread.reading(f"{name} no-load current", free.current, meter * free.current.value)
    speed = spread.reading(f"{name} no-load speed", free.speed, 0.01 * free.speed.value)
    constant = motor.torque_constant(
        voltage=spread.reading(f"{name} no-load voltage", free.voltage),
        no_load_speed=speed,
        no_load_current=current,
        resistance=resistance,
    )
    friction = motor.friction_torque(torque_constant=constant, no_load_current=current)
    return Motor(resistance, constant, friction, rotor_inertia(table, spread, name))


def rotor_inertia(table: MotorTable, spread: Spread, name: str):
    """From the data sheet, or a cylinder of iron and copper of the rotor's size.

    The estimate is good to a quarter; the data sheet to a twentieth.
    """
    if table.rotor_inertia:
        given = table.rotor_inertia
        return spread.reading(f"{name} rotor inertia", given, 0.05 * given.value)
    outer = table.rotor_diameter.value if table.rotor_diameter else 0.7 * table.body_diameter.value
    width = table.rotor_length.value if table.rotor_length else 0.5 * table.body_length.value
    cylinder = flywheel.ring_inertia(outer=outer, width=width, density=ROTOR_DENSITY)
    return spread.reading(f"{name} rotor inertia", Reading(cylinder, 0.5 * cylinder))


@dataclass(frozen=True)
class DriveFriction:
    """What turning the whole drive takes at the motor's shaft.

    ``running`` [N*m] at any speed, ``damping`` [N*m*s/rad] more with speed, and the
    ``efficiency`` [-] with which torque passes the worm and gears to the rail.
    """

    running: np.ndarray
    damping: np.ndarray
    efficiency: np.ndarray
    residual: float


def drive_friction(
    runs: list[Run], constants: Motor, gear_ratio, wheel_diameter, stopwatch, spread, name
) -> DriveFriction:
    """Least squares over steady runs: motor torque = running + damping·speed + pull/leverage.

    The current tells the torque, so every run needs it; the stop-watch tells the speed, a hung
    weight the pull.  At least one run with a pull tells the efficiency; three runs without tell the rest.
    """
    wheel = wheel_diameter / 2
    current = np.array([run.current.value for run in runs if run.current])
    time = np.array([run.time.value for run in runs])
    speed = np.array([run.distance.value for run in runs]) / time / wheel * gear_ratio
    pull = np.array([run.pull.value for run in runs])
    k = constants.torque_constant[0]
    # Scatter of one reading: half a percent of the current, and the thumb on the watch
    # through the damping, each with what he wrote himself; the meter's and the constant's
    # common error comes in below.
    amps = np.hypot(0.005, [doubt(run.current) for run in runs])
    unsure = np.hypot(stopwatch / 2 / time, [doubt(run.distance, run.time) for run in runs])
    matrix = np.column_stack([np.ones_like(speed), speed, pull * wheel / gear_ratio])
    torque = k * current
    weight = 1 / (amps * torque)
    solution, *_ = np.linalg.lstsq(matrix * weight[:, None], torque * weight, rcond=None)
    weight = 1 / np.hypot(amps * torque, solution[1] * speed * unsure)
    weighted = matrix * weight[:, None]
    solution, *_ = np.linalg.lstsq(weighted, torque * weight, rcond=None)
    covariance = np.linalg.inv(weighted.T @ weighted)
    residual = float(np.max(np.abs(matrix @ solution - torque) / torque))
    running, damping, leverage = spread.jointly(
        [f"{name} running friction", f"{name} drag with speed", f"{name} mesh efficiency"],
        solution,
        covariance,
    )
    common = constants.torque_constant / k
    return DriveFriction(running * common, damping * common, 1 / (leverage * common), residual)
