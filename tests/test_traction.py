"""Traction: small grades, whole cars, the stop that adhesion sets."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import flywheel, scale, tables, traction
from mechkit.names import STANDARD_GRAVITY

some = settings(max_examples=50, deadline=None)
CARS = {"engine_mass": 0.4, "car_mass": 0.11, "grade": 0.02, "rolling_coefficient": 0.02}
masses = st.floats(0.05, 5.0)
grades = st.floats(0.0, 0.1)
shares = st.floats(0.001, 0.1)


@some
@given(masses, st.floats(1e-4, 0.05))
def test_a_hundredth_of_grade_takes_a_hundredth_of_weight(mass, grade):
    force = traction.grade_resistance(mass=mass, grade=grade)
    rule = mass * STANDARD_GRAVITY * grade
    assert rule * (1 - grade**2 / 2) * (1 - 1e-12) < force < rule
    falling = traction.grade_resistance(mass=mass, grade=-grade)
    np.testing.assert_allclose(falling, -force)


def test_a_wall_carries_the_whole_weight():
    force = traction.grade_resistance(mass=1.0, grade=1e9)
    np.testing.assert_allclose(force, STANDARD_GRAVITY)


@some
@given(masses, shares, shares)
def test_on_the_level_train_resistance_is_rolling_and_curve(mass, rolling, curve):
    force = traction.train_resistance(
        mass=mass, grade=0.0, rolling_coefficient=rolling, curve_coefficient=curve
    )
    alone = [
        traction.rolling_resistance(mass=mass, rolling_coefficient=share)
        for share in (rolling, curve)
    ]
    np.testing.assert_allclose(force, sum(alone))


@some
@given(masses, shares)
def test_a_car_begins_to_roll_where_the_grade_is_its_rolling_coefficient(mass, rolling):
    balance = traction.train_resistance(mass=mass, grade=-rolling, rolling_coefficient=rolling)
    np.testing.assert_allclose(balance, 0.0, atol=1e-12)


@some
@given(st.floats(1e-6, 0.01), st.floats(5.0, 60.0), st.floats(0.05, 1.0), st.floats(0.008, 0.05))
def test_pull_and_torque_are_inverse(torque, ratio, efficiency, wheel):
    own = {"gear_ratio": ratio, "efficiency": efficiency, "wheel_diameter": wheel}
    pull = traction.tractive_force(torque=torque, **own)
    np.testing.assert_allclose(traction.torque_for_pull(force=pull, **own), torque)
    turned = traction.driver_speed(model_speed=0.2, wheel_diameter=wheel)
    np.testing.assert_allclose(pull * 0.2, efficiency * torque * turned * ratio)


@some
@given(st.floats(0.0, 3.0), masses, st.floats(0.03, 0.5), grades, shares)
def test_the_pull_takes_these_cars_and_not_one_more(force, engine, car, grade, rolling):
    track = {"grade": grade, "rolling_coefficient": rolling}
    cars = traction.cars_up_grade(force=force, engine_mass=engine, car_mass=car, **track)
    assert cars >= 0
    assert cars == np.floor(cars)
    needed, more = (
        traction.train_resistance(mass=engine + count * car, **track) for count in (cars, cars + 1)
    )
    assert cars == 0 or needed <= force * (1 + 1e-12)
    assert more > force * (1 - 1e-12)


@some
@given(st.integers(0, 60), masses, st.floats(0.03, 0.5), grades, shares)
def test_the_pull_that_just_does_takes_them_all(cars, engine, car, grade, rolling):
    track = {"grade": grade, "rolling_coefficient": rolling}
    pull = traction.train_resistance(mass=engine + cars * car, **track)
    assert traction.cars_up_grade(force=pull, engine_mass=engine, car_mass=car, **track) == cars


def test_an_engine_that_cannot_lift_itself_takes_no_cars():
    assert traction.cars_up_grade(force=0.05, **CARS) == 0
    steeper = traction.cars_up_grade(force=0.63, **{**CARS, "grade": np.array([0.0, 0.02, 0.04])})
    assert steeper[0] > steeper[1] > steeper[2]


@some
@given(st.floats(0.01, 1.0), st.floats(0.05, 0.4), masses, st.floats(0.1, 1.0))
def test_the_stop_is_what_uniform_braking_gives(speed, adhesion, mass, share):
    distance = traction.stopping_distance(
        model_speed=speed, adhesion=adhesion, mass=mass, mass_on_drivers=share * mass
    )
    on_drivers = share * mass * STANDARD_GRAVITY
    braking = traction.adhesion_limit(load=on_drivers, adhesion=adhesion)
    np.testing.assert_allclose(braking * distance, mass * speed**2 / 2)


def test_adhesion_sets_the_stop_of_a_locked_drive():
    speed = scale.model_speed(prototype_speed=48 * 0.44704, ratio=64.0)
    skid = traction.stopping_distance(
        model_speed=speed, adhesion=0.2, mass=1.0, mass_on_drivers=0.8
    )
    assert 0.034 < skid < 0.037


def test_a_shorted_flywheel_stop_is_still_longer_than_the_skid():
    speed = scale.model_speed(prototype_speed=31 * 0.44704, ratio=64.0)
    turning = 30.0 * traction.driver_speed(model_speed=speed, wheel_diameter=0.016)
    inertia = flywheel.reflected_inertia(mass=0.4, gear_ratio=30.0, wheel_diameter=0.016) + 5.5e-7
    skid = traction.stopping_distance(
        model_speed=speed, adhesion=0.2, mass=0.4, mass_on_drivers=0.32
    )
    ways = [
        flywheel.coast_distance(
            angle=flywheel.coast_angle(
                inertia=inertia, speed=turning, torque=4e-4, damping=damping
            ),
            gear_ratio=30.0,
            wheel_diameter=0.016,
        )
        for damping in (2e-7, 0.014**2 / 22)
    ]
    assert ways[0] > 5 * ways[1]
    assert ways[0] > skid


def test_bands_of_the_track_are_marked_as_practice():
    for row in tables.rows("traction"):
        assert row.source == "common_practice"
        assert row.low < row.high
