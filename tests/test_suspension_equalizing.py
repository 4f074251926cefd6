"""Levers, beams, unlike springs."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import suspension
from mechkit.names import STANDARD_GRAVITY

few = settings(max_examples=50, deadline=None)
FOUR = {"positions": [0, 0.02, 0.042, 0.066], "mass": 0.35}


@few
@given(st.floats(0.1, 1.0), st.floats(0.001, 0.999), st.floats(0.01, 0.1))
def test_both_axles_together_carry_the_weight(mass, where, wheelbase):
    frame = {"mass": mass, "center_of_gravity": where * wheelbase}
    one = suspension.lever_load(**frame, position_1=0.0, position_2=wheelbase)
    two = suspension.lever_load(**frame, position_1=wheelbase, position_2=0.0)
    assert np.isclose(one + two, mass * STANDARD_GRAVITY)
    assert one >= 0
    assert two >= 0


@few
@given(st.floats(0.05, 0.95), st.sampled_from([[1, 1, 2, 2], [1, 2, 2, 2], [2, 2, 1, 1]]))
def test_beams_balance_weight_and_moment_and_split_evenly(where, groups):
    groups = np.array(groups)
    places = np.array(FOUR["positions"])
    ends = places[groups == 1].mean(), places[groups == 2].mean()
    center = ends[0] + where * (ends[1] - ends[0])
    loads = suspension.equalized_loads(**FOUR, groups=groups, center_of_gravity=center)
    assert np.isclose(loads.sum(), 0.35 * STANDARD_GRAVITY)
    assert np.isclose((loads * (places - center)).sum(), 0, atol=1e-12)
    for group in (1, 2):
        assert np.ptp(loads[groups == group]) < 1e-12


def test_very_soft_springs_forget_the_rail_as_beams_do():
    soft = suspension.axle_loads(
        positions=[0, 0.03, 0.06], rates=0.01, rail_heights=[0, 0.001, 0], mass=0.3,
        center_of_gravity=0.03,
    )  # fmt: skip
    beams = suspension.equalized_loads(
        positions=[0, 0.03, 0.06], groups=[1, 1, 2], mass=0.3, center_of_gravity=0.03
    )
    np.testing.assert_allclose(soft, beams, rtol=1e-4)


@few
@given(
    st.floats(0.1, 1.0), st.floats(50.0, 5000.0), st.floats(50.0, 5000.0), st.floats(-0.01, 0.01)
)
def test_middle_axle_is_the_one_of_the_solver(mass, end_rate, middle_rate, rail_height):
    line = suspension.middle_axle_load(
        mass=mass, end_rate=end_rate, middle_rate=middle_rate, rail_height=rail_height
    )
    loads = suspension.axle_loads(
        positions=[0, 0.03, 0.06], rates=[end_rate, middle_rate, end_rate],
        rail_heights=[0, rail_height, 0], mass=mass, center_of_gravity=0.03,
    )  # fmt: skip
    assert np.isclose(line, loads[1], atol=1e-11)


def test_the_share_of_the_drivers():
    loads = np.array([[0.4, 1.0, 1.0, 0.6], [0.0, 1.0, 1.0, 0.0]])
    share = suspension.driver_share(loads=loads, drivers=[0, 1, 1, 0])
    np.testing.assert_allclose(share, [2 / 3, 1])


@few
@given(
    st.lists(st.tuples(st.floats(0.0, 2.0), st.integers(0, 1)), min_size=1, max_size=6),
    st.floats(0.1, 10.0),
)
def test_drivers_and_carriers_share_the_weight(axles, times):
    loads, driven = np.array(axles).T
    loads[0] += 0.1  # something carries
    share = suspension.driver_share(loads=loads, drivers=driven)
    assert 0 <= share <= 1
    assert np.isclose(share + suspension.driver_share(loads=loads, drivers=1 - driven), 1)
    assert np.isclose(suspension.driver_share(loads=times * loads, drivers=driven), share)
    turned = suspension.driver_share(loads=loads[::-1], drivers=driven[::-1])
    assert np.isclose(turned, share)
    assert np.isclose(suspension.driver_share(loads=loads, drivers=np.ones(len(loads))), 1)
    assert suspension.driver_share(loads=loads, drivers=np.zeros(len(loads))) == 0


def test_center_of_gravity_sweeps():
    centers = np.linspace(0.02, 0.05, 7)
    loads = suspension.equalized_loads(**FOUR, groups=[1, 1, 2, 2], center_of_gravity=centers)
    assert loads.shape == (7, 4)
    assert np.all(np.diff(loads[:, 0]) < 0)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"groups": [1, 1, 1, 1]}, "groups = [1.0, 1.0, 1.0, 1.0]: must be 1 or 2 for each axle"),
        ({"groups": [1, 1, 2, 3]}, "groups = 3: must be at least 1 and at most 2"),
        ({"groups": [1, 1, 2, 1.5]}, "groups = 1.5: must be a whole number of at least 1"),
        ({"groups": [1, 1, 2, 0]}, "groups = 0: must be a whole number of at least 1"),
        ({"center_of_gravity": 0.06}, "center_of_gravity = 0.06 m: must be at least 0.01"),
    ],
)
def test_bad_beams_are_refused(change, message):
    good = {**FOUR, "groups": [1, 1, 2, 2], "center_of_gravity": 0.03}
    with pytest.raises(ValueError) as refused:
        suspension.equalized_loads(**{**good, **change})
    assert str(refused.value).startswith(message)


LEVER = {"mass": 0.3, "center_of_gravity": 0.02, "position_1": 0.0, "position_2": 0.06}


def test_a_lever_needs_two_places():
    with pytest.raises(ValueError, match=r"must be greater than 0\.02 m and less than 0\.02 m"):
        suspension.lever_load(**{**LEVER, "position_1": 0.02, "position_2": 0.02})


def test_bad_loads_are_refused():
    with pytest.raises(ValueError, match=r"^loads = -1 N: must be at least 0"):
        suspension.driver_share(loads=[-1.0, 1.0], drivers=[1, 0])
    with pytest.raises(ValueError, match=r"^loads = 0 N: must be greater than 0"):
        suspension.driver_share(loads=[0.0, 0.0], drivers=[1, 0])
    with pytest.raises(ValueError, match=r"^loads = 0 N: must be greater than 0"):
        suspension.driver_share(loads=[[0.0, 0.0], [1.0, 1.0]], drivers=[1, 0])
    with pytest.raises(ValueError, match=r"^drivers = 2: must be at least 0 and at most 1"):
        suspension.driver_share(loads=[1.0, 1.0], drivers=[2, 0])
    for half in (0.5, -1.0):
        with pytest.raises(ValueError, match=rf"^drivers = {half:.6g}: must be a whole number of"):
            suspension.driver_share(loads=[1.0, 1.0], drivers=[half, 0])
