"""A pair of gears: center distance opened, contact lost, backlash won and found back."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit import gears
from tests.independent import plane

some = settings(max_examples=50, deadline=None)
ALPHA = np.radians(20)
PAIR = {"module": 0.0004, "teeth_1": 14.0, "teeth_2": 28.0, "pressure_angle": ALPHA}
WIDE = {**PAIR, "center_distance": 0.0085}
MESH = {**PAIR, "addendum": 0.0004, "center_distance": 0.0085}
pairs = st.fixed_dictionaries(
    {
        "module": st.floats(2e-4, 1e-3),
        "teeth_1": st.floats(12.0, 40.0),
        "teeth_2": st.floats(12.0, 60.0),
        "pressure_angle": st.floats(0.24, 0.45),
    }
)
openings = st.floats(0.0, 0.3)  # in modules


def opened(pair, opening):
    """The pair with its centers wider by so many modules."""
    nominal = gears.center_distance(**{k: pair[k] for k in ("module", "teeth_1", "teeth_2")})
    return {**pair, "center_distance": nominal + opening * pair["module"]}


def test_messages_name_value_unit_and_limit():
    with pytest.raises(ValueError) as error:
        gears.backlash(**{**PAIR, "center_distance": 0.0075})
    assert str(error.value) == "center_distance = 0.0075 m: must be greater than 0.00789342 m"


@some
@given(pairs, openings)
def test_gears_do_not_care_which_is_first(pair, opening):
    wide = opened(pair, opening)
    swapped = {**wide, "teeth_1": wide["teeth_2"], "teeth_2": wide["teeth_1"]}
    for function in (gears.backlash, gears.backlash_approximate, gears.working_pressure_angle):
        assert function(**wide) == pytest.approx(function(**swapped), rel=1e-9, abs=1e-12)
    addendum = pair["module"]
    approach, recess = gears.path_of_contact(**wide, addendum=addendum)
    other = gears.path_of_contact(**swapped, addendum=addendum)
    assert (recess, approach) == pytest.approx(other, rel=1e-9, abs=1e-12)


@some
@given(pairs, openings)
def test_the_ratio_of_base_radii_to_the_centers_is_the_cosine(pair, opening):
    wide = opened(pair, opening)
    angle = gears.working_pressure_angle(**wide)
    assert angle >= pair["pressure_angle"] - 1e-8
    both = sum(
        gears.base_diameter(
            module=pair["module"], teeth=pair[name], pressure_angle=pair["pressure_angle"]
        )
        for name in ("teeth_1", "teeth_2")
    )
    assert np.cos(angle) * wide["center_distance"] == pytest.approx(both / 2)


@some
@given(pairs, st.floats(0.0, 0.5))
def test_center_distance_for_backlash_undoes_backlash(pair, share):
    wanted = share * pair["module"]
    distance = gears.center_distance_for_backlash(**pair, backlash=wanted)
    found = gears.backlash(**pair, center_distance=distance)
    assert found == pytest.approx(wanted, abs=1e-9 * pair["module"])


def test_center_distance_for_backlash_takes_arrays_with_zero():
    wanted = np.array([0.0, 2e-5, 1e-4])
    distances = gears.center_distance_for_backlash(**PAIR, backlash=wanted)
    assert distances[0] == pytest.approx(0.0084)
    np.testing.assert_allclose(
        gears.backlash(**PAIR, center_distance=distances), wanted, atol=1e-12
    )


@some
@given(pairs, st.floats(0.01, 0.3))
def test_the_rule_of_thumb_is_low_and_only_a_little(pair, opening):
    wide = opened(pair, opening)
    exact, rough = gears.backlash(**wide), gears.backlash_approximate(**wide)
    assert 0 < rough < exact
    closer = opened(pair, opening / 10)
    gap = exact / rough - 1
    assert gears.backlash(**closer) / gears.backlash_approximate(**closer) - 1 < 0.2 * gap


def low_by(teeth_1, teeth_2, degrees, opening):
    """By how much the rule of thumb is low."""
    pair = {"module": 1.0, "teeth_1": teeth_1, "teeth_2": teeth_2}
    pair["pressure_angle"] = np.radians(degrees)
    pair["center_distance"] = (teeth_1 + teeth_2) / 2 + opening
    return 1 - gears.backlash_approximate(**pair) / gears.backlash(**pair)


@pytest.mark.parametrize(
    ("teeth", "degrees", "percent"),
    [
        ((14, 28), 20, [3, 5]), ((14, 28), 14.5, [5, 9]),
        ((12, 12), 20, [5, 9]), ((12, 12), 14.5, [8, 14]),
    ],
)  # fmt: skip
def test_how_low_the_rule_of_thumb_is_on_small_pairs(teeth, degrees, percent):
    """The numbers of its docstring."""
    low = low_by(*teeth, degrees, np.array([1 / 8, 1 / 4]))
    np.testing.assert_array_equal(np.round(100 * low), percent)


@pytest.mark.parametrize(("degrees", "times"), [(20, 9), (14.5, 15)])
def test_the_rule_of_thumb_is_low_by_the_opening_over_the_teeth(degrees, times):
    teeth, opening = np.arange(12.0, 61.0), np.linspace(0.01, 0.25, 8)[:, None, None]
    low = low_by(teeth, teeth[:, None], degrees, opening)
    np.testing.assert_allclose(low * (teeth + teeth[:, None]) / opening, times, rtol=0.13)


@some
@given(pairs)
def test_closed_up_centers_jam(pair):
    assert gears.backlash(**opened(pair, -0.02)) < 0
    assert gears.backlash(**opened(pair, 0.0)) == pytest.approx(0, abs=1e-12)


@some
@given(pairs, openings)
def test_contact_ratio_falls_as_the_centers_open(pair, opening):
    near, far = opened(pair, opening), opened(pair, opening + 0.1)
    addendum = pair["module"]
    lost = gears.contact_ratio(**near, addendum=addendum) - gears.contact_ratio(
        **far, addendum=addendum
    )
    # A tip that runs past the flank loses its contact there; opening gives it back.
    clipped = max(gears.tip_overrun(**near, addendum=addendum)) > 0
    assert lost > 0 or clipped


@settings(max_examples=15, deadline=None)
@given(pairs, openings, st.floats(0.8, 1.1))
def test_contact_ratio_agrees_with_plane_geometry(pair, opening, coefficient):
    wide = {**opened(pair, opening), "addendum": coefficient * pair["module"]}
    assert gears.contact_ratio(**wide) == pytest.approx(plane.contact_ratio(**wide), rel=2e-6)


def test_contact_ratio_is_clipped_where_the_tip_runs_past_the_flank():
    nominal = {**MESH, "center_distance": 0.0084}
    _, overrun = gears.tip_overrun(**nominal)
    assert overrun * 1e6 == pytest.approx(9.5, abs=0.5)
    pitch = np.pi * 0.0004 * np.cos(ALPHA)
    textbook = gears.contact_ratio(**nominal) + overrun / pitch
    assert textbook == pytest.approx(1.5504, abs=5e-5)
    # opened by a few hundredths of a millimeter the tip is clear and nothing is clipped
    ratios = gears.contact_ratio(**{**MESH, "center_distance": np.array([8.45, 8.5, 8.55]) * 1e-3})
    np.testing.assert_allclose(ratios, [1.4292, 1.3129, 1.2008], atol=5e-5)


def test_clipped_at_both_ends_the_path_is_the_whole_line():
    stubby = {"module": 1e-3, "teeth_1": 8.0, "teeth_2": 8.0, "pressure_angle": ALPHA}
    path = gears.path_of_contact(**stubby, addendum=1.5e-3, center_distance=8e-3)
    assert sum(path) == pytest.approx(8e-3 * np.sin(ALPHA))


def test_gears_out_of_reach_have_no_contact():
    assert gears.contact_ratio(**{**MESH, "center_distance": 0.0093}) == 0.0


def test_centers_too_close_read_as_backlash_below_nothing():
    close = gears.backlash_approximate(**{**WIDE, "center_distance": 0.0083})
    assert close == pytest.approx(-2 * 1e-4 * np.tan(WIDE["pressure_angle"]))
