"""Traction: what holds a train back, what pulls it, what slips and what stops it.

========================== ==========================================================
grade_resistance           force of a grade
rolling_resistance         force of rolling on the level
train_resistance           grade, rolling and curve together
adhesion_limit             pull at which the drivers slip
tractive_force             pull at the rim from the motor's torque
torque_for_pull            torque at the motor for a pull at the rim
cars_up_grade              number of cars that a pull takes up a grade
stopping_distance          shortest stop on locked drivers
driver_speed               speed of the drivers
========================== ==========================================================

Models have no standard values for adhesion, rolling and curves: measure them.  Put a car on a
tilted track: it starts to roll at its rolling coefficient, a locked engine slides at its
adhesion, both read as rise over run.  The table ``traction`` holds the usual bands.
"""

import numpy as np

from mechkit import check
from mechkit.names import STANDARD_GRAVITY


def grade_resistance(*, mass, grade):
    """Force with which a grade holds a train back.

    Parameters
    ----------
    mass : float or array
        Mass of engine and train [kg], greater than 0
    grade : float or array
        Grade, rise over run [-]; negative when it falls

    Returns
    -------
    force : float or array
        Force along the track [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Exact for any slope; the usual 1 % of the weight for each 1 % of grade is its limit.
    Source: statics of the inclined plane.

    Examples
    --------
    >>> round(float(grade_resistance(mass=0.4, grade=0.02)), 4)
    0.0784
    """
    check.positive(mass=mass)
    check.finite(grade=grade)
    return mass * STANDARD_GRAVITY * grade / np.hypot(1, grade)


def rolling_resistance(*, mass, rolling_coefficient):
    """Force of rolling on the level.

    Parameters
    ----------
    mass : float or array
        Mass of engine and train [kg], greater than 0
    rolling_coefficient : float or array
        Rolling resistance per weight [-], at least 0

    Returns
    -------
    force : float or array
        Force along the track [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Plain axle ends, straight track; about 0.02 by common practice.  Source: definition.

    Examples
    --------
    >>> round(rolling_resistance(mass=0.4, rolling_coefficient=0.02), 3)
    0.078
    """
    check.positive(mass=mass)
    check.not_negative(rolling_coefficient=rolling_coefficient)
    return mass * STANDARD_GRAVITY * rolling_coefficient


def train_resistance(*, mass, grade, rolling_coefficient, curve_coefficient=0.0):
    """Force of grade, rolling and curve together.

    Parameters
    ----------
    mass : float or array
        Mass of engine and train [kg], greater than 0
    grade : float or array
        Grade, rise over run [-]; negative when it falls
    rolling_coefficient : float or array
        Rolling resistance per weight [-], at least 0
    curve_coefficient : float or array
        Extra resistance per weight in a curve, measured [-], at least 0

    Returns
    -------
    force : float or array
        Force along the track [N]; negative when it runs away

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The full-size rule for curves must not be stretched to model radii: pull the train round
    with a spring balance.  Source: statics of the inclined plane.

    Examples
    --------
    >>> round(float(train_resistance(mass=0.4, grade=0.02, rolling_coefficient=0.02)), 3)
    0.157
    """
    check.positive(mass=mass)
    check.finite(grade=grade)
    check.not_negative(rolling_coefficient=rolling_coefficient)
    check.not_negative(curve_coefficient=curve_coefficient)
    resistance = grade + rolling_coefficient + curve_coefficient
    return mass * STANDARD_GRAVITY * resistance / np.hypot(1, grade)


def adhesion_limit(*, load, adhesion):
    """Pull at which the drivers slip.

    Parameters
    ----------
    load : float or array
        Load on the drivers [N], at least 0
    adhesion : float or array
        Adhesion coefficient of wheel on rail [-], at least 0

    Returns
    -------
    force : float or array
        Pull at the rim [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    All drivers coupled.  About 0.2 (0.15 to 0.25) by common practice.  Source: Coulomb's law.

    Examples
    --------
    >>> round(adhesion_limit(load=3.14, adhesion=0.2), 2)
    0.63
    """
    check.not_negative(load=load, adhesion=adhesion)
    return adhesion * load


def tractive_force(*, torque, gear_ratio, efficiency, wheel_diameter):
    """Pull at the rim of the drivers from the motor's torque.

    Parameters
    ----------
    torque : float or array
        Torque of the motor after its own friction [N*m], at least 0
    gear_ratio : float or array
        Turns of the motor for one of the axle [-], greater than 0
    efficiency : float or array
        Efficiency from motor shaft to rim [-], 0 < efficiency <= 1
    wheel_diameter : float or array
        Diameter of the driver over the tread [m], greater than 0

    Returns
    -------
    force : float or array
        Pull at the rim [N]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    As long as the drivers do not slip: see `adhesion_limit`.  Source: balance of power.

    Examples
    --------
    >>> drive = dict(gear_ratio=30.0, efficiency=0.42, wheel_diameter=0.016)
    >>> round(tractive_force(torque=0.4e-3, **drive), 2)
    0.63
    """
    check.not_negative(torque=torque)
    check.positive(gear_ratio=gear_ratio, efficiency=efficiency, wheel_diameter=wheel_diameter)
    check.up_to(0.0, 1.0, efficiency=efficiency)
    return 2 * torque * gear_ratio * efficiency / wheel_diameter


def torque_for_pull(*, force, gear_ratio, efficiency, wheel_diameter):
    """Torque at the motor for a pull at the rim.

    Parameters
    ----------
    force : float or array
        Pull at the rim [N], at least 0
    gear_ratio : float or array
        Turns of the motor for one of the axle [-], greater than 0
    efficiency : float or array
        Efficiency from motor shaft to rim [-], 0 < efficiency <= 1
    wheel_diameter : float or array
        Diameter of the driver over the tread [m], greater than 0

    Returns
    -------
    torque : float or array
        Torque of the motor after its own friction [N*m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Put in the adhesion limit and it is the torque at which the drivers slip; a motor that
    stalls below it overheats instead.  Source: balance of power.

    Examples
    --------
    >>> drive = dict(gear_ratio=30.0, efficiency=0.42, wheel_diameter=0.016)
    >>> round(torque_for_pull(force=0.63, **drive) * 1e3, 2)   # mN m
    0.4
    """
    check.not_negative(force=force)
    check.positive(gear_ratio=gear_ratio, efficiency=efficiency, wheel_diameter=wheel_diameter)
    check.up_to(0.0, 1.0, efficiency=efficiency)
    return force * wheel_diameter / (2 * gear_ratio * efficiency)


def cars_up_grade(
    *, force, engine_mass, car_mass, grade, rolling_coefficient, curve_coefficient=0.0
):
    """Number of cars that a pull takes up a grade.

    Parameters
    ----------
    force : float or array
        Pull at the rim, the smaller of motor and adhesion [N], at least 0
    engine_mass : float or array
        Mass of the engine [kg], greater than 0
    car_mass : float or array
        Mass of one car [kg], greater than 0
    grade : float or array
        Grade, rise over run [-], at least 0
    rolling_coefficient : float or array
        Rolling resistance per weight [-], greater than 0
    curve_coefficient : float or array
        Extra resistance per weight in a curve, measured [-], at least 0

    Returns
    -------
    cars : float or array
        Number of cars, whole [-]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    The engine lifts itself first, then whole cars; `train_resistance` for both.
    Source: balance of forces at a steady speed.

    Examples
    --------
    >>> cars = dict(car_mass=0.11, grade=0.02, rolling_coefficient=0.02)
    >>> float(cars_up_grade(force=0.63, engine_mass=0.4, **cars))
    10.0
    """
    check.not_negative(force=force, grade=grade, curve_coefficient=curve_coefficient)
    check.positive(engine_mass=engine_mass, car_mass=car_mass)
    check.positive(rolling_coefficient=rolling_coefficient)
    per_mass = train_resistance(
        mass=1.0,
        grade=grade,
        rolling_coefficient=rolling_coefficient,
        curve_coefficient=curve_coefficient,
    )
    pulled = force / per_mass * (1 + 1e-12)  # a pull that just does is no car short by rounding
    return np.maximum(0.0, np.floor((pulled - engine_mass) / car_mass))


def stopping_distance(*, model_speed, adhesion, mass, mass_on_drivers):
    """Shortest stop of an engine whose drivers are locked, on the level.

    Parameters
    ----------
    model_speed : float or array
        Speed of the model when the drivers lock [m/s], at least 0
    adhesion : float or array
        Adhesion coefficient of wheel on rail [-], greater than 0
    mass : float or array
        Mass of engine and train [kg], greater than 0
    mass_on_drivers : float or array
        Mass that the drivers carry [kg], 0 < mass_on_drivers <= mass

    Returns
    -------
    distance : float or array
        Distance along the track [m]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    A locked drive does not stop the engine, adhesion does: no brake, worm or shorted motor
    stops shorter.  The train's own rolling resistance helps a little and is not counted.
    Source: any mechanics text, uniform deceleration.

    Examples
    --------
    >>> round(stopping_distance(model_speed=0.33, adhesion=0.2, mass=0.4, mass_on_drivers=0.32), 3)
    0.035
    """
    check.not_negative(model_speed=model_speed)
    check.positive(adhesion=adhesion, mass=mass, mass_on_drivers=mass_on_drivers)
    check.up_to(0.0, mass, mass_on_drivers=mass_on_drivers)
    return model_speed**2 * mass / (2 * adhesion * STANDARD_GRAVITY * mass_on_drivers)


def driver_speed(*, model_speed, wheel_diameter):
    """Speed of rotation of the drivers.

    Parameters
    ----------
    model_speed : float or array
        Speed of the model [m/s], at least 0
    wheel_diameter : float or array
        Diameter of the driver over the tread [m], greater than 0

    Returns
    -------
    speed : float or array
        Speed of rotation [rad/s]

    Raises
    ------
    ValueError
        An argument is outside its range, NaN or infinite.

    Notes
    -----
    Wheels roll without slip.  Source: rolling of a wheel.

    Examples
    --------
    >>> round(driver_speed(model_speed=0.308, wheel_diameter=0.016), 2)
    38.5
    """
    check.not_negative(model_speed=model_speed)
    check.positive(wheel_diameter=wheel_diameter)
    return 2 * model_speed / wheel_diameter


check.formulas(__name__)
