"""By trying: fine samples and counting instead of formulas (numpy, scipy)."""

from itertools import count

import numpy as np
from scipy.optimize import minimize_scalar

GRAVITY = 9.80665


def maximum_efficiency(*, no_load_current, stall_current):
    """Best of shaft power over electric power as the current varies [-].

    A motor of one volt and one newton meter an ampere that has these two currents.
    """
    resistance = 1.0 / stall_current

    def loss(current):
        speed = 1.0 - resistance * current
        return -(current - no_load_current) * speed / current

    found = minimize_scalar(
        loss,
        bounds=(no_load_current, stall_current),
        method="bounded",
        options={"xatol": 1e-12},
    )
    return -float(found.fun)


def _along_and_onto(mass, grade):
    """Weight along the track and onto it, from vectors."""
    track = np.array([1.0, grade]) / np.linalg.norm([1.0, grade])
    weight = np.array([0.0, -mass * GRAVITY])
    along = -weight @ track
    return along, np.linalg.norm(weight + along * track)


def train_resistance(*, mass, grade, rolling_coefficient, curve_coefficient=0.0):
    """Grade, rolling and curve from the vector of the weight [N]."""
    along, onto = _along_and_onto(mass, grade)
    return along + (rolling_coefficient + curve_coefficient) * onto


def grade_resistance(*, mass, grade):
    """Weight along the track [N]."""
    return _along_and_onto(mass, grade)[0]


def cars_up_grade(
    *, force, engine_mass, car_mass, grade, rolling_coefficient, curve_coefficient=0.0
):
    """Couple on cars one by one until it is too much."""
    for cars in count():
        mass = engine_mass + (cars + 1) * car_mass
        if force < train_resistance(
            mass=mass,
            grade=grade,
            rolling_coefficient=rolling_coefficient,
            curve_coefficient=curve_coefficient,
        ):
            return cars
    return None


def _geared(mass, inertia, gear_ratio, wheel_diameter):
    """Acceleration of a mass on the rail and a geared wheel, pushed by 1 N.

    Unknown: acceleration of the mass, of the wheel, force between them.
    """
    travel = wheel_diameter / 2 / gear_ratio
    equations = np.array([[mass, 0.0, 1.0], [0.0, inertia, -travel], [1.0, -travel, 0.0]])
    return np.linalg.solve(equations, [1.0, 0.0, 0.0])[0]


def equivalent_mass(*, inertia, gear_ratio, wheel_diameter):
    """What a push of 1 N feels beyond a mass of one gram [kg]."""
    return 1.0 / _geared(0.001, inertia, gear_ratio, wheel_diameter) - 0.001


def reflected_inertia(*, mass, gear_ratio, wheel_diameter):
    """What a twist at the motor feels of a mass at the rail [kg*m^2]."""
    travel = wheel_diameter / 2 / gear_ratio
    equations = np.array([[1e-9, 0.0, travel], [0.0, mass, -1.0], [travel, -1.0, 0.0]])
    return 1.0 / np.linalg.solve(equations, [1.0, 0.0, 0.0])[0] - 1e-9


def coast_distance(*, angle, gear_ratio, wheel_diameter):
    """Steps of a many-sided wheel that tips from side to side [m]."""
    sides = 100_000
    side = wheel_diameter * np.sin(np.pi / sides)
    return float(angle / gear_ratio * sides / (2 * np.pi) * side)
