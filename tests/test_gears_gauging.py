"""Gauging: spans, and how sure a caliper can be of an unknown gear."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from mechkit import gears, tables
from mechkit.gears import gauging
from tests.independent import chance, plane

some = settings(max_examples=50, deadline=None)
ALPHA = np.radians(20)
READ = {
    "outside_diameter": 0.01196, "teeth": 28.0, "uncertainty": 5e-5, "addendum_coefficient": 1.0,
}  # fmt: skip


def test_a_gear_has_whole_teeth_and_jaws_reach_over_nearly_half_of_them():
    with pytest.raises(ValueError) as error:
        gears.identify(**{**READ, "teeth": 27.5})
    assert str(error.value) == "teeth = 27.5: must be a whole number of at least 3"
    odd = {"module": 0.0004, "teeth": 15, "pressure_angle": ALPHA}
    assert gears.span_measurement(**odd, spanned_teeth=7) > 6 * gears.base_pitch(
        module=0.0004, pressure_angle=ALPHA
    )
    almost = gears.diameter_over_odd_teeth(reading=0.00675, teeth=15, tip_land=0.000449)
    assert almost > 0.00675


@some
@given(st.floats(2e-4, 1e-3), st.integers(12, 60), st.floats(0.24, 0.45))
def test_one_tooth_more_adds_one_base_pitch(module, count, angle):
    gear = {"module": module, "teeth": count, "pressure_angle": angle}
    few, more = (gears.span_measurement(**gear, spanned_teeth=k) for k in (2, 3))
    pitch = gears.base_pitch(module=module, pressure_angle=angle)
    assert more - few == pytest.approx(pitch, rel=1e-9)
    # and the base circle is as many base pitches round as there are teeth
    rim = np.pi * gears.base_diameter(**gear)
    assert rim == pytest.approx(count * pitch)


@settings(max_examples=15, deadline=None)
@given(st.integers(16, 60), st.sampled_from([14.5, 20.0, 25.0]))
def test_span_agrees_with_jaws_in_the_plane(count, degrees):
    gear = {"module": 4e-4, "teeth": count, "pressure_angle": np.radians(degrees)}
    spanned = int(gears.spanned_teeth(teeth=count, pressure_angle=gear["pressure_angle"]))
    ours = gears.span_measurement(**gear, spanned_teeth=spanned)
    assert ours == pytest.approx(plane.span_measurement(**gear, spanned_teeth=spanned), rel=1e-5)


@some
@given(st.integers(9, 80), st.floats(0.24, 0.45))
def test_recommended_jaws_touch_near_the_pitch_circle(count, angle):
    spanned = gears.spanned_teeth(teeth=count, pressure_angle=angle)
    gear = {"module": 1.0, "teeth": count, "pressure_angle": angle}
    assume(spanned < count / 2)
    span = gears.span_measurement(**gear, spanned_teeth=spanned)
    at_pitch_circle = count * np.sin(angle)  # the chord that touches there
    off = abs(span - at_pitch_circle)
    assert off <= np.pi * np.cos(angle) / 2 * (1 + 1e-9) or spanned == 2
    assert spanned == int(spanned) >= 2


@pytest.mark.parametrize(("teeth", "degrees"), [(18, 20), (27, 20), (36, 20), (54, 20), (36, 25)])
def test_of_two_spans_equally_near_the_pitch_circle_it_is_the_larger(teeth, degrees):
    """Whatever the last digit of the angle."""
    for angle in (np.radians(degrees), np.pi * degrees / 180, np.nextafter(np.radians(degrees), 0)):
        gear = {"module": 1.0, "teeth": teeth, "pressure_angle": angle}
        chosen = gears.spanned_teeth(teeth=teeth, pressure_angle=angle)
        off = [
            gears.span_measurement(**gear, spanned_teeth=k) - teeth * np.sin(angle)
            for k in (chosen - 1, chosen)
        ]
        assert chosen == teeth * degrees / 180 + 1
        assert off[1] == pytest.approx(-off[0])


def test_an_odd_count_reads_small_enough_to_pass_for_an_inch_gear():
    size = gears.outside_diameter(module=4e-4, teeth=15)
    land = gears.tooth_thickness(module=4e-4, teeth=15, pressure_angle=ALPHA, diameter=size)
    reading = size / 2 * (1 + np.cos(np.pi / 15 - land / size))
    misled, *_ = gears.identify(outside_diameter=reading, teeth=15, uncertainty=2e-5)
    assert misled.designation == "64 DP"
    righted = gears.diameter_over_odd_teeth(reading=reading, teeth=15, tip_land=land)
    assert righted == pytest.approx(size, abs=1e-6)  # a micrometer
    found, *_ = gears.identify(outside_diameter=righted, teeth=15, uncertainty=2e-5)
    assert found.designation == "module 0.4"


@some
@given(st.integers(4, 60), st.floats(0.003, 0.03), st.floats(0.0, 0.25))
def test_what_two_jaws_read_over_an_odd_count_is_undone(half, size, share):
    """The reading by geometry: one jaw on a tip, the other across the tips beside the gap."""
    count = 2 * half + 1
    land = share * np.pi * size / count
    tips = size / 2 * np.exp(1j * (np.pi + np.array([-1, 1]) * (np.pi / count - land / size)))
    reading = size / 2 - tips.real.min()
    read = {"reading": reading, "teeth": count, "tip_land": land}
    assert gears.diameter_over_odd_teeth(**read) == pytest.approx(size, rel=1e-3)
    assert gears.diameter_over_odd_teeth(**read) >= reading


@some
@given(st.integers(4, 30), st.floats(0.003, 0.03), st.floats(1.1, 5.0))
def test_more_teeth_and_wider_tips_ask_for_less(half, reading, times):
    count, land = 2 * half + 1, 0.05 * reading / half
    sharp, blunt, fine = (
        gears.diameter_over_odd_teeth(reading=reading, teeth=teeth, tip_land=tip)
        for teeth, tip in ((count, 0.0), (count, land), (count + 2, 0.0))
    )
    assert reading < blunt < sharp
    assert reading < fine < sharp
    large = gears.diameter_over_odd_teeth(
        reading=times * reading, teeth=count, tip_land=times * land
    )
    assert large == pytest.approx(times * blunt, rel=1e-9)


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(["module 0.3", "module 0.4", "48 DP", "64 DP"]), st.integers(14, 60),
    st.sampled_from([14.5, 20.0]), st.floats(0.0, 5e-5), st.floats(1.0, 3.0),
)  # fmt: skip
def test_a_true_gear_is_found_by_its_spans_however_thinned(name, count, degrees, thin, rough):
    gear = {
        "module": gauging._series()[name], "teeth": count, "pressure_angle": np.radians(degrees),
    }  # fmt: skip
    span, next_span = (gears.span_measurement(**gear, spanned_teeth=k) for k in (2, 3))
    size = gears.outside_diameter(module=gear["module"], teeth=count)
    fine = {"outside_diameter": size, "teeth": count, "uncertainty": 2e-6}
    found = gears.identify_by_spans(**fine, span=span - thin, next_span=next_span - thin)
    assert found[0].designation == name
    assert found[0].pressure_angle == pytest.approx(gear["pressure_angle"])
    shares = [one.likelihood for one in found]
    assert shares == sorted(shares, reverse=True)
    assert 0.97 < sum(shares) < 1 + 1e-9
    worse = gears.identify_by_spans(
        **{**fine, "uncertainty": rough * 2e-6}, span=span, next_span=next_span
    )
    assert worse[0].likelihood <= found[0].likelihood + 1e-9


def test_series_is_sourced_and_within_what_is_promised():
    rows = tables.rows("gear_series")
    assert all(row.source in tables.sources() and row.where for row in rows)
    modules = gauging._series().values()
    assert min(modules) == pytest.approx(2e-4)
    assert max(modules) == pytest.approx(1e-3)
    assert gauging._series()["64 DP"] == pytest.approx(0.396875e-3)


@pytest.mark.parametrize("name", gauging._series())
def test_a_true_gear_is_found(name):
    module = gauging._series()[name]
    size = gears.outside_diameter(module=module, teeth=30)
    first, *rest = gears.identify(outside_diameter=size, teeth=30, uncertainty=1e-6)
    assert first.designation == name
    assert first.likelihood > 0.5
    assert first.deviation == pytest.approx(0, abs=1e-12)
    assert all(first.likelihood >= other.likelihood for other in rest)


def test_a_caliper_cannot_tell_sizes_that_lie_close():
    size = gears.outside_diameter(module=4e-4, teeth=14)
    rough = gears.identify(outside_diameter=size, teeth=14, uncertainty=6e-5)
    assert {c.designation for c in rough[:2]} == {"module 0.4", "64 DP"}
    assert rough[1].likelihood > 0.1
    fine = gears.identify(outside_diameter=size, teeth=14, uncertainty=1e-5)
    assert fine[0].likelihood > 0.99


@some
@given(st.floats(0.005, 0.03), st.integers(12, 40), st.floats(5e-6, 2e-4))
def test_likelihoods_are_those_of_a_normal_reading(size, count, uncertainty):
    read = {"outside_diameter": size, "teeth": count, "uncertainty": uncertainty}
    ours, other = np.array(gears.identify(**read)), chance.identify(**read)
    assert ours[:, 2].sum() == pytest.approx(1, abs=0.03)
    np.testing.assert_allclose(ours[:, 2], other[:, 2], rtol=1e-6)


def test_stub_teeth_are_read_as_stub():
    size = gears.outside_diameter(module=4e-4, teeth=30, addendum_coefficient=0.8)
    first, *_ = gears.identify(
        outside_diameter=size, teeth=30, uncertainty=1e-5, addendum_coefficient=0.8
    )
    assert first.designation == "module 0.4"


def test_nothing_that_fits_shows_in_the_deviation():
    first, *_ = gears.identify(outside_diameter=0.05, teeth=20, uncertainty=5e-5)
    assert first.deviation > 100 * 5e-5


@pytest.mark.parametrize("degrees", [14.5, 20.0])
def test_spans_tell_the_pressure_angle(degrees):
    gear = {"module": 4e-4, "teeth": 28, "pressure_angle": np.radians(degrees)}
    thinned = 3e-5  # off every span alike: cut for backlash
    span, next_span = (gears.span_measurement(**gear, spanned_teeth=k) - thinned for k in (3, 4))
    first, *_ = gears.identify_by_spans(
        outside_diameter=0.012, teeth=28, span=span, next_span=next_span, uncertainty=1e-5
    )
    assert first.designation == "module 0.4"
    assert first.pressure_angle == pytest.approx(np.radians(degrees))
    assert first.likelihood > 0.9


def test_two_spans_scatter_more_than_one_reading():
    # a base pitch off by one standard deviation of a difference costs as much as a diameter
    # off by one standard deviation of a reading
    pitch, sigma = gears.base_pitch(module=4e-4, pressure_angle=ALPHA), 2e-5
    read = {"teeth": 28, "span": 3e-3, "uncertainty": 2 * sigma}
    size = gears.outside_diameter(module=4e-4, teeth=28)
    shares = []
    for off_size, off_pitch in ((sigma, 0.0), (0.0, np.sqrt(2) * sigma)):
        found = gears.identify_by_spans(
            outside_diameter=size + off_size, next_span=3e-3 + pitch + off_pitch, **read
        )
        rows = {(c.designation, round(np.degrees(c.pressure_angle), 1)): c for c in found}
        shares.append(rows["module 0.4", 20.0].likelihood / rows["module 0.4", 14.5].likelihood)
    off = gears.base_pitch(module=4e-4, pressure_angle=np.radians(14.5)) - pitch
    # against 14.5 degrees only the base pitch speaks
    assert shares[0] == pytest.approx(np.exp((off / sigma) ** 2 / 4))
    moved = off - np.sqrt(2) * sigma
    assert shares[1] == pytest.approx(np.exp((moved / sigma) ** 2 / 4 - 0.5))
