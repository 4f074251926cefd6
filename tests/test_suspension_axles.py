"""Axle loads of a frame on one-sided springs."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from mechkit import suspension
from mechkit.names import STANDARD_GRAVITY
from tests.independent import contact

few = settings(max_examples=50, deadline=None)
SLOTS = {"preloads": 0.5, "travel_up": 2e-4, "travel_down": 2e-4}
THREE = {"positions": [0, 0.03, 0.06], "rates": 400, "mass": 0.3, "center_of_gravity": 0.03}


def numbers(draw, count, *kinds):
    """An array of so many numbers of one kind, or of several kinds mixed."""
    return np.array(draw(st.lists(st.one_of(*kinds), min_size=count, max_size=count)))


@st.composite
def frames(draw, most=6, spread=0.004):
    """A sprung frame somewhere on uneven rail."""
    axles = draw(st.integers(2, most))
    gaps = numbers(draw, axles - 1, st.floats(0.002, 0.03))
    positions = np.concatenate([[0.0], np.cumsum(gaps)])
    return {
        "positions": positions,
        "rates": numbers(draw, axles, st.floats(30.0, 8000.0)),
        "rail_heights": numbers(draw, axles, st.floats(-spread, spread)),
        "mass": draw(st.floats(0.1, 1.0)),
        "center_of_gravity": positions[-1] * draw(st.floats(0.01, 0.99)),
    }


def weight(frame):
    return frame["mass"] * STANDARD_GRAVITY


@few
@given(frames())
def test_loads_are_those_of_the_one_contact_set_that_statics_allows(frame):
    loads = suspension.axle_loads(**frame)
    np.testing.assert_allclose(loads, contact.by_sets(**frame), atol=1e-9 * weight(frame))


@few
@given(frames(most=12))
def test_loads_store_the_least_energy(frame):
    loads = suspension.axle_loads(**frame)
    np.testing.assert_allclose(loads, contact.by_energy(**frame), atol=1e-8 * weight(frame))


@few
@given(frames(most=12))
def test_loads_balance_and_springs_only_push(frame):
    loads, heavy = suspension.axle_loads(**frame), weight(frame)
    pressed = suspension.spring_compressions(**frame)
    assert np.all(loads >= 0)
    assert np.isclose(loads.sum(), heavy, rtol=1e-12)
    moment = (loads * (frame["positions"] - frame["center_of_gravity"])).sum()
    assert abs(moment) < 1e-12 * heavy * np.ptp(frame["positions"])
    np.testing.assert_allclose(loads, frame["rates"] * np.maximum(pressed, 0.0), atol=1e-9 * heavy)


@few
@given(frames(), st.floats(-0.01, 0.01), st.floats(-0.2, 0.2))
def test_a_straight_grade_changes_nothing(frame, lift, slope):
    tilted = frame["rail_heights"] + lift + slope * frame["positions"]
    np.testing.assert_allclose(
        suspension.axle_loads(**{**frame, "rail_heights": tilted}),
        suspension.axle_loads(**frame),
        atol=1e-9 * weight(frame),
    )


@few
@given(frames())
def test_turned_round_the_engine_stands_alike(frame):
    turned = {
        "positions": -frame["positions"],
        "center_of_gravity": -frame["center_of_gravity"],
    }
    np.testing.assert_allclose(
        suspension.axle_loads(**{**frame, **turned}),
        suspension.axle_loads(**frame),
        atol=1e-10 * weight(frame),
    )


@few
@given(frames(), st.integers(0, 5), st.floats(0.0001, 0.003))
def test_a_hump_never_takes_load_from_its_axle(frame, axle, hump):
    assume(axle < len(frame["positions"]))
    raised = frame["rail_heights"].copy()
    raised[axle] += hump
    before = suspension.axle_loads(**frame)[axle]
    after = suspension.axle_loads(**{**frame, "rail_heights": raised})[axle]
    assert after >= before - 1e-10 * weight(frame)


@few
@given(frames(most=2))
def test_two_axles_leave_springs_and_rail_no_say(frame):
    far, middle = frame["positions"][1], frame["center_of_gravity"]
    expected = weight(frame) * np.array([far - middle, middle]) / far
    np.testing.assert_allclose(suspension.axle_loads(**frame), expected, rtol=1e-11)


@few
@given(frames(), st.integers(0, 2**32 - 1))
def test_many_places_at_once_are_each_place_by_itself(frame, seed):
    rail = np.random.default_rng(seed).normal(0, 0.001, (3, 4, len(frame["positions"])))
    together = suspension.axle_loads(**{**frame, "rail_heights": rail})
    assert together.shape == rail.shape
    for place in np.ndindex(3, 4):
        alone = suspension.axle_loads(**{**frame, "rail_heights": rail[place]})
        np.testing.assert_allclose(together[place], alone, atol=1e-12 * weight(frame))


def test_mass_center_and_rates_sweep_too():
    loads = suspension.axle_loads(
        positions=THREE["positions"],
        rates=np.array([[300.0], [500.0]])[:, None, :] * np.ones(3),
        rail_heights=0.0,
        mass=np.array([0.2, 0.3, 0.4]),
        center_of_gravity=np.array([0.02, 0.03, 0.04]),
    )
    assert loads.shape == (2, 3, 3)
    np.testing.assert_allclose(loads.sum(-1)[0], STANDARD_GRAVITY * np.array([0.2, 0.3, 0.4]))


@few
@given(st.data(), st.integers(2, 8), st.sampled_from([0.01, 0.2, 0.4, 0.5, 0.6]))
def test_axles_at_one_place_level_rail_and_even_spacing(data, axles, where):
    """Ties everywhere: nothing must hang on which of two alike is taken first."""

    def some(*values):
        return numbers(data.draw, axles, st.sampled_from(values))

    frame = {
        "positions": some(0.0, 0.01, 0.02, 0.03, 0.05),
        "rates": some(100.0, 400.0, 3000.0),
        "rail_heights": some(0.0, 0.001, -0.001, 0.004),
        "mass": 0.3,
    }
    assume(np.ptp(frame["positions"]) > 0)
    frame["center_of_gravity"] = frame["positions"].min() + where * np.ptp(frame["positions"])
    np.testing.assert_allclose(
        suspension.axle_loads(**frame), contact.by_energy(**frame), atol=1e-10 * weight(frame)
    )


def test_a_frame_balanced_on_one_axle():
    loads = suspension.axle_loads(**THREE, rail_heights=[0, 0.05, 0])
    np.testing.assert_allclose(loads, [0, 0.3 * STANDARD_GRAVITY, 0], atol=1e-12)


def test_two_axles_at_one_place_share_by_their_rates():
    loads = suspension.axle_loads(
        positions=[0, 0, 0.06], rates=[100, 300, 400], rail_heights=0, mass=0.3,
        center_of_gravity=0.03,
    )  # fmt: skip
    assert np.isclose(loads[1], 3 * loads[0])


@few
@given(frames(spread=0.0005), st.floats(0.0, 2.0))
def test_preload_in_wide_slots_is_a_higher_rail(frame, preload):
    slots = {"preloads": preload, "travel_up": 1.0, "travel_down": 1.0}
    higher = frame["rail_heights"] + preload / frame["rates"]
    np.testing.assert_allclose(
        suspension.axle_loads_with_stops(**frame, **slots),
        suspension.axle_loads(**{**frame, "rail_heights": higher}),
        atol=1e-9 * weight(frame),
    )


@st.composite
def slots(draw, axles):
    """Preloads and travel for each axle, often none at all."""

    def some(high):
        return numbers(draw, axles, st.just(0.0), st.floats(0.01 * high, high))

    return {"preloads": some(2.0), "travel_up": some(0.002), "travel_down": some(0.002)}


@few
@given(st.data(), st.floats(1e4, 1e6))
def test_loads_in_slots_are_those_of_the_one_state_that_statics_allows(data, stop_rate):
    frame = data.draw(frames(most=3, spread=0.002))
    whole = {**frame, **data.draw(slots(len(frame["positions"]))), "stop_rate": stop_rate}
    np.testing.assert_allclose(
        suspension.axle_loads_with_stops(**whole),
        contact.in_slots(**whole),
        atol=1e-8 * weight(frame),
    )


@few
@given(st.data(), st.floats(1e4, 1e6))
def test_loads_in_slots_follow_from_where_the_axles_stand(data, stop_rate):
    frame = data.draw(frames(most=8, spread=0.002))
    slot = data.draw(slots(len(frame["positions"])))
    whole = {**frame, **slot, "stop_rate": stop_rate}
    loads = suspension.axle_loads_with_stops(**whole)
    rises = suspension.axle_rises_with_stops(**whole)
    heavy = weight(frame)
    assert np.isclose(loads.sum(), heavy, rtol=1e-12)
    assert np.all(rises >= -slot["travel_down"])
    spring = slot["preloads"] + frame["rates"] * rises
    stop = stop_rate * np.maximum(rises - slot["travel_up"], 0.0)
    inside = (rises > -slot["travel_down"]) & (loads > 0)
    np.testing.assert_allclose(loads[inside], (spring + stop)[inside], atol=1e-7 * heavy)
    bottom = rises == -slot["travel_down"]
    assert np.all(loads[bottom] <= np.maximum(spring[bottom], 0.0) + 1e-7 * heavy)


def test_an_axle_at_the_bottom_is_not_taken_for_one_at_the_top():
    """At both ends of the slot an axle is equally stiff; only its place tells them apart."""
    whole = {
        "positions": [0.0201, 0.0677, 0.0786],
        "rates": [2543.0, 318.0, 538.0],
        "rail_heights": [-7.43e-06, 1.92e-05, -2.09e-06],
        "preloads": [0.0898, 0.3632, 0.4455],
        "travel_up": [0.00153, 0.00116, 0.00055],
        "travel_down": [0.0, 0.00184, 0.0],
        "mass": 0.4377,
        "center_of_gravity": 0.0762,
        "stop_rate": 50156.0,
    }
    np.testing.assert_allclose(
        suspension.axle_loads_with_stops(**whole), contact.in_slots(**whole), rtol=1e-9
    )


def test_a_truck_spring_takes_its_preload_from_the_drivers():
    def drivers(preload):
        return suspension.axle_loads_with_stops(
            positions=[0, 0.03, 0.05, 0.07], rates=[30, 400, 400, 400],
            preloads=[preload, 0.8, 0.8, 0.8], travel_up=0.002, travel_down=0.002,
            rail_heights=0, mass=0.3, center_of_gravity=0.048,
        )[1:].sum()  # fmt: skip

    shares = [drivers(preload) for preload in (0.0, 0.1, 0.2, 0.3)]
    assert np.all(np.diff(shares) < -0.05)


@few
@given(st.integers(2, 9), st.integers(0, 2**32 - 1), st.floats(0.01, 0.99))
def test_a_rigid_frame_rests_on_the_highest_line_over_two_rail_points(axles, seed, where):
    random = np.random.default_rng(seed)
    positions = np.cumsum(random.uniform(0.005, 0.03, axles))
    frame = {
        "positions": positions,
        "rail_heights": random.normal(0, 0.001, axles),
        "mass": 0.3,
        "center_of_gravity": positions[0] + where * np.ptp(positions),
    }
    loads = suspension.rigid_axle_loads(**frame)
    np.testing.assert_allclose(loads, contact.rigid(**frame), atol=1e-10 * weight(frame))


def test_straight_rail_lets_a_rigid_frame_use_all_its_axles():
    loads = suspension.rigid_axle_loads(
        positions=[0, 0.03, 0.06], rail_heights=[0, 0.001, 0.002], mass=0.3,
        center_of_gravity=0.03,
    )  # fmt: skip
    np.testing.assert_allclose(loads, 0.1 * STANDARD_GRAVITY, rtol=1e-6)


def test_softer_springs_keep_the_wheels_down_where_a_rigid_frame_cannot():
    dip = [0, -0.0002, 0]
    sprung = suspension.axle_loads(**THREE, rail_heights=dip)
    rigid = suspension.rigid_axle_loads(
        positions=THREE["positions"], rail_heights=dip, mass=0.3, center_of_gravity=0.03
    )
    assert sprung[1] > 0.9 * STANDARD_GRAVITY / 10
    assert rigid[1] == 0


@pytest.mark.parametrize("outside", [0.0, 0.06, 0.07, -0.001])
@pytest.mark.parametrize("ask", ["axle_loads", "spring_compressions"])
def test_a_frame_that_cannot_stand_is_refused(ask, outside):
    with pytest.raises(ValueError, match=r"must be greater than 0 and less than 0\.06 m"):
        getattr(suspension, ask)(**{**THREE, "center_of_gravity": outside}, rail_heights=0)


@pytest.mark.parametrize(
    ("name", "value", "message"),
    [
        ("positions", [0.03], "positions = [0.03]: must be two axles or more"),
    ],
)
def test_bad_input_is_refused(name, value, message):
    with pytest.raises(ValueError) as refused:
        suspension.axle_loads(**{**THREE, "rail_heights": 0, name: value})
    assert str(refused.value).startswith(message)


@pytest.mark.parametrize("positions", [[0.03, 0.03, 0.03], [[0, 0.03, 0.06], [0.03, 0.03, 0.03]]])
def test_axles_all_in_one_place_are_refused(positions):
    frame = {"positions": positions, "rail_heights": 0, "mass": 0.3, "center_of_gravity": 0.03}
    for ask, more in (
        (suspension.rigid_axle_loads, {}),
        (suspension.axle_loads, {"rates": 400}),
        (suspension.axle_loads_with_stops, {"rates": 400, **SLOTS}),
    ):
        with pytest.raises(
            ValueError, match=r"^positions = \[.*: must be .* not all in one place$"
        ):
            ask(**frame, **more)


@pytest.mark.parametrize("rates", [1e-10, 1e-12, 1e-30, 1e-300])
@pytest.mark.parametrize("preloads", [0.0, 0.1, 1.2])
def test_a_spring_without_rate_presses_with_its_preload(rates, preloads):
    """The limit of softer and softer springs is there, and not lost beside the stops' stiffness."""
    frame = {**THREE, "rail_heights": [0, 3e-4, 0], "travel_up": 5e-4, "travel_down": 5e-4}
    soft, softer = (
        suspension.axle_loads_with_stops(**{**frame, "rates": rate}, preloads=preloads)
        for rate in (1e-6, rates)
    )
    np.testing.assert_allclose(softer, soft, atol=1e-8)
    assert softer.sum() == pytest.approx(weight(frame), rel=1e-12)


def test_what_cannot_stand_is_refused_by_its_own_name():
    slots = {"preloads": 0.1, "travel_up": 1e-3, "travel_down": 1e-3, "stop_rate": 1e5}
    for place in (-0.001, 0.061):
        with pytest.raises(ValueError, match=r"^center_of_gravity = "):
            suspension.axle_loads_with_stops(
                **{**THREE, "center_of_gravity": place}, **slots, rail_heights=0.0
            )
    with pytest.raises(ValueError, match=r"^mass = "):
        suspension.rigid_axle_loads(
            positions=[0, 0.03, 0.06], rail_heights=0.0, mass=-0.3, center_of_gravity=0.03
        )


def test_several_frames_at_once_are_each_alone():
    """Two frames, each with its own ends: where one could not stand the other does."""
    both = {**THREE, "positions": np.array([[0, 0.01, 0.02], [0.03, 0.05, 0.08]]), "rates": 400.0}
    both |= {"center_of_gravity": np.array([0.012, 0.06]), "rail_heights": 0.0}
    slots = {"preloads": 0.1, "travel_up": 1e-3, "travel_down": 1e-3, "stop_rate": 1e5}
    for function, more in ((suspension.axle_loads, {}), (suspension.axle_loads_with_stops, slots)):
        together = function(**both, **more)
        for row, place in enumerate(both["center_of_gravity"]):
            own = {**both, "positions": both["positions"][row], "center_of_gravity": place}
            np.testing.assert_allclose(together[row], function(**own, **more), rtol=1e-12)
    rigid = {
        name: both[name] for name in ("positions", "center_of_gravity", "rail_heights", "mass")
    }
    together = suspension.rigid_axle_loads(**rigid)
    for row in range(2):
        own = {name: np.asarray(value)[row] for name, value in rigid.items() if np.ndim(value)}
        alone = suspension.rigid_axle_loads(**{**rigid, **own})
        np.testing.assert_allclose(together[row], alone, rtol=1e-9)


def test_a_stop_is_a_meganewton_a_meter_unless_told():
    frame = {**THREE, "rates": 400.0, "rail_heights": [0.0, 3e-4, 0.0], **SLOTS}
    for function in (suspension.axle_loads_with_stops, suspension.axle_rises_with_stops):
        told, softer = (function(**frame, stop_rate=rate) for rate in (1e6, 0.9e6))
        np.testing.assert_array_equal(function(**frame), told)
        assert not np.array_equal(softer, told)
