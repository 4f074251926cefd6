"""Stack-up: arrows added at their worst and by chance; wobble."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import runout
from tests.independent import chance

some = settings(max_examples=50, deadline=None)
stacks = st.lists(st.floats(1e-9, 1e-4), min_size=1, max_size=6)


def test_stacks_lie_along_the_last_axis():
    two = np.array([[1e-5, 1.5e-5, 8e-6], [0.0, 3e-6, 4e-6]])
    np.testing.assert_allclose(runout.worst_case_stack(eccentricities=two), [33e-6, 7e-6])
    np.testing.assert_allclose(runout.root_sum_square_stack(eccentricities=two)[1], 5e-6)  # 3, 4, 5


@some
@given(stacks, st.integers(0, 5))
def test_root_sum_square_lies_between_the_largest_and_the_worst(parts, seed):
    worst = runout.worst_case_stack(eccentricities=parts)
    likely = runout.root_sum_square_stack(eccentricities=parts)
    assert max(parts) <= likely * (1 + 1e-12)
    assert likely <= worst * (1 + 1e-12)
    angles = np.random.default_rng(seed).uniform(0, 2 * np.pi, len(parts))
    assert abs(np.exp(1j * angles) @ np.array(parts)) <= worst * (1 + 1e-12)


@settings(max_examples=3, deadline=None)
@given(st.lists(st.floats(1e-6, 1e-4), min_size=2, max_size=3))
def test_root_sum_square_is_what_chance_makes(parts):
    ours = runout.root_sum_square_stack(eccentricities=parts)
    assert ours == pytest.approx(chance.root_sum_square_stack(eccentricities=parts), rel=0.003)


def test_a_longer_bore_wobbles_less():
    wobble = runout.face_wobble(clearance=1e-5, length=np.array([0.002, 0.004]), diameter=0.012)
    assert wobble[1] == pytest.approx(wobble[0] / 2)


def test_wobble_from_clearance_shifts_the_teeth_by_clearance_over_length():
    face = runout.face_wobble(clearance=1e-5, length=0.002, diameter=0.012)
    shift = runout.wobble_eccentricity(face_runout=face, diameter=0.012, face_width=0.002)
    assert shift == pytest.approx(1e-5 / 2)  # a bore as long as the face: half its clearance
