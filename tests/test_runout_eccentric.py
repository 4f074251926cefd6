"""Runout: dial and offset, ripple, the tight spot, what a skim takes off."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import gears, runout
from tests.independent import plane

some = settings(max_examples=50, deadline=None)
ALPHA = np.radians(20)
FELT = {
    "speed_ripple": 0.01, "turns": 1 / 30, "speed": 600.0, "inertia": 7e-7, "mass": 0.4,
    "lever": 2.7e-4, "efficiency": 0.42, "force": 0.08, "damping": 9e-6,
}  # fmt: skip
offsets, angles = st.floats(0.0, 2e-4), st.floats(0.2, 0.5)


def test_an_idlers_second_mesh_is_within_one_turn_of_the_first():
    assert runout.idler_swing(pressure_angle=ALPHA, around=2 * np.pi) > 0
    with pytest.raises(
        ValueError, match=r"around = 6\.3 rad: must be at least 0 and at most 6\.28"
    ):
        runout.idler_swing(pressure_angle=ALPHA, around=6.3)


@some
@given(offsets)
def test_what_comes_off_is_what_the_dial_shows(total_runout):
    offset = runout.eccentricity(total_runout=total_runout)
    assert runout.truing_stock(eccentricity=offset) == pytest.approx(total_runout)


@some
@given(angles, st.floats(0.0, 0.4))
def test_an_idler_swings_alike_on_either_side_of_where_its_lines_of_action_are_one(angle, apart):
    """And as the far side of a rhomb of unit sides, which that angle opens."""
    near, far = (
        runout.idler_swing(pressure_angle=angle, around=2 * angle + x) for x in (-apart, apart)
    )
    opened = np.hypot(np.cos(apart) - 1, np.sin(apart))
    assert (near, far) == pytest.approx((opened, opened), abs=1e-12)


@some
@given(st.floats(0.0, 0.05), st.floats(0.004, 0.03))
def test_ripple_and_offset_undo_each_other(ripple, base):
    offset = runout.eccentricity_from_ripple(speed_ripple=ripple, base_diameter=base)
    assert runout.speed_ripple(eccentricity=offset, base_diameter=base) == pytest.approx(ripple)


@some
@given(offsets, angles, st.floats(0.004, 0.03))
def test_ripple_is_the_slope_of_the_transmission_error(offset, angle, pitch_circle):
    error = runout.transmission_error(eccentricity=offset, pressure_angle=angle)
    amplitude = error / 2 / (pitch_circle / 2)  # radians at the gear, per radian of its turn
    base = pitch_circle * np.cos(angle)
    assert runout.speed_ripple(eccentricity=offset, base_diameter=base) == pytest.approx(amplitude)


@some
@given(st.floats(1e-6, 2e-4), angles, st.floats(0.9, 1.1))
def test_binds_exactly_at_the_binding_runout(backlash, angle, times):
    limit = runout.binding_runout(backlash=backlash, pressure_angle=angle)
    offset = runout.eccentricity(total_runout=limit * times)
    left = runout.tight_spot_backlash(backlash=backlash, eccentricity=offset, pressure_angle=angle)
    if abs(times - 1) > 1e-9:
        assert (left < 0) == (times > 1)


@some
@given(st.floats(0.0, 0.05), st.floats(0.01, 0.5), st.floats(5.0, 2000.0), st.floats(0.2, 1.0))
def test_without_damping_and_force_the_motor_gives_way_by_its_share_of_the_inertia(
    ripple, turns, speed, efficiency
):
    """What the motor pushes weighs the more with it, the more is lost on the way."""
    bare = {**FELT, "force": 0.0, "damping": 0.0, "turns": turns, "speed": speed}
    felt = runout.felt_ripple(**{**bare, "speed_ripple": ripple, "efficiency": efficiency})
    train = 0.4 * 2.7e-4**2 / efficiency
    assert felt == pytest.approx(ripple * 7e-7 / (7e-7 + train))


def test_what_holds_the_motor_fast_lets_the_whole_ripple_through():
    heavy, stiff = ({**FELT, name: 1e3} for name in ("inertia", "damping"))
    assert runout.felt_ripple(**heavy) == pytest.approx(0.01)
    assert runout.felt_ripple(**stiff) == pytest.approx(0.01)
    assert runout.felt_ripple(**{**FELT, "mass": 0.0, "force": 0.0}) == pytest.approx(0.01)


def test_a_heavier_flywheel_passes_more_of_it_and_a_heavier_train_less():
    more = np.geomspace(1.0, 30.0, 12)
    free = {**FELT, "force": 0.0, "damping": 0.0}
    wheels = runout.felt_ripple(**{**free, "inertia": 7e-8 * more})
    trains = runout.felt_ripple(**{**FELT, "mass": 0.1 * more})
    assert np.all(np.diff(wheels) > 0) and np.all(np.diff(trains) < 0)


@some
@given(st.floats(0.0, 0.1), st.floats(0.1, 10.0))
def test_the_felt_ripple_follows_the_gears_own(ripple, times):
    once, more = (
        runout.felt_ripple(**{**FELT, "speed_ripple": size}) for size in (ripple, ripple * times)
    )
    assert more == pytest.approx(once * times)
    with pytest.raises(ValueError, match=r"^efficiency = 1\.2: must be at least 0 and at most 1$"):
        runout.felt_ripple(**{**FELT, "efficiency": 1.2})


def test_an_off_center_gear_is_a_center_distance_that_breathes():
    offset = 1e-5
    pair = {"module": 0.0004, "teeth_1": 14, "teeth_2": 28, "pressure_angle": ALPHA}
    around = 0.0084 + np.array([2 * offset + offset, 2 * offset, 2 * offset - offset])
    wide, mean, tight = gears.backlash_approximate(**pair, center_distance=around)
    swing = runout.backlash_swing(eccentricity=offset, pressure_angle=ALPHA)
    assert swing == pytest.approx(wide - tight)
    left = runout.tight_spot_backlash(backlash=mean, eccentricity=offset, pressure_angle=ALPHA)
    assert left == pytest.approx(tight)


def mesh(degrees, opening, teeth=(14, 28)):
    """Backlash and working pressure angle, exact, of a pair that stands so many modules wide."""
    pair = {"module": 1.0, "teeth_1": teeth[0], "teeth_2": teeth[1]}
    pair["pressure_angle"] = np.radians(degrees)
    pair["center_distance"] = sum(teeth) / 2 + opening
    return gears.backlash(**pair), gears.working_pressure_angle(**pair)


@pytest.mark.parametrize(
    ("degrees", "cutter", "working"), [(20, [3, 6], [-2, -4]), (14.5, [5, 10], [-4, -7])]
)
def test_which_pressure_angle_errs_safe_where_a_mesh_binds(degrees, cutter, working):
    """A gear binds where its offset has taken up the whole opening, whatever the angle."""
    opening = np.array([1 / 8, 1 / 4])
    play, angle = mesh(degrees, opening)
    for used, percent in ((np.radians(degrees), cutter), (angle, working)):
        allowed = runout.binding_runout(backlash=play, pressure_angle=used)
        np.testing.assert_array_equal(np.round(100 * (allowed / (2 * opening) - 1)), percent)
        left = runout.tight_spot_backlash(backlash=play, eccentricity=opening, pressure_angle=used)
        assert np.all((left < 0) == (used is angle))  # nothing is left, in truth


def test_the_swing_takes_the_working_pressure_angle():
    opening, offset = np.array([1 / 8, 1 / 4]), 1 / 20
    swing = mesh(20, opening + offset)[0] - mesh(20, opening - offset)[0]
    by = {"eccentricity": offset, "pressure_angle": mesh(20, opening)[1]}
    np.testing.assert_allclose(runout.backlash_swing(**by), swing, rtol=0.02)
    by["pressure_angle"] = ALPHA
    low = 1 - runout.backlash_swing(**by) / swing
    np.testing.assert_array_equal(np.round(100 * low), [5, 10])


def test_a_centered_gear_does_nothing():
    still = {"eccentricity": 0.0}
    assert runout.transmission_error(**still, pressure_angle=ALPHA) == 0
    assert runout.speed_ripple(**still, base_diameter=0.01) == 0
    assert runout.backlash_swing(**still, pressure_angle=ALPHA) == 0
    assert runout.truing_stock(**still) == 0


def test_gears_that_touch_turn_unevenly_by_a_plain_sine():
    # the whole wave of touching gears, not only its first harmonic
    module, offset, turns = 4e-3, 2e-5, np.arange(8) * np.pi / 4
    errors = plane._errors(plane.Pair(module, 20, 30, ALPHA), 25.2 * module, offset, turns)
    wave = np.ptp(errors) * 30 * module / 2
    promised = runout.transmission_error(eccentricity=offset, pressure_angle=ALPHA)
    assert wave <= promised * 1.001
    assert wave > promised * np.cos(np.pi / 8) * 0.999  # eight samples may miss the peak by that
