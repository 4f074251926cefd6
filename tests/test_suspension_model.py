"""The drivers on their springs, held against a contact solver of scipy that knows no `mechkit`."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import minimize

from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import findings, fittings
from mechkit.drive.model import suspension
from mechkit.drive.model.spread import Spread
from mechkit.drive.questions import springs as questions

BENCH = sheet.demo()
GRAVITY = 9.80665
#: Of an axle box against its stop, as the handbook takes it.
STOP = 1e6
SPRUNG = suspension.of(BENCH.data.planned.springs, BENCH.data)


def changed(**keys):
    """The demo's sheet with some keys of the planned springs, or of anything, changed."""
    short = {"cg": "locomotive.center_of_gravity", "rough": "track.rail_unevenness"}
    return BENCH.with_values(
        {short.get(key, f"planned.springs.{key}"): value for key, value in keys.items()}
    ).data


def known(**keys):
    return Knowledge(changed(**keys), Spread(draws=200))


def by_energy(stands, heights):
    """Loads and rises by the least energy of frame, wheelsets and their contacts.

    Each axle is a body of its own weight between rail and frame: the rail pushes up, the spring
    pushes it off the frame, the stops push it back.  Heights in micrometers, forces in newtons.
    """
    x, count = stands.positions * 1e3, len(stands.positions)
    k, stop = (value * 1e-6 for value in (float(stands.rate), STOP))
    rail = 1e2 * stop
    own = float(stands.unsprung)
    weight = stands.mass * GRAVITY - count * own
    moment = stands.mass * GRAVITY * float(stands.center_of_gravity) * 1e3 - own * x.sum()
    up, before = stands.travel * 1e6, stands.preload * 1e6
    heights = heights * 1e6

    def energy(z):
        frame, boxes = z[0] + z[1] * x, z[2:]
        rise = boxes - frame
        coil, low, high = rise + before, np.minimum(rise, 0.0), np.maximum(rise - up, 0.0)
        sunk = np.maximum(heights - boxes, 0.0)
        coil = np.maximum(coil, 0.0)
        total = (k * coil**2 + stop * low**2 + stop * high**2 + rail * sunk**2).sum() / 2
        total += weight * z[0] + moment * z[1] + own * boxes.sum()
        push = k * coil + stop * low + stop * high
        slope = push - rail * sunk + own
        return total, np.array([weight - push.sum(), moment - push @ x, *slope])

    start = np.array([-before, 0.0, *heights])
    for _ in range(4):  # from where it came to rest, until nothing moves
        start = minimize(energy, start, jac=True, method="BFGS", options={"gtol": 1e-9}).x
    # piecewise straight: one solution of the pieces that are met is exact
    for _ in range(3):
        start = start - np.linalg.pinv(_curvature(energy, start), rcond=1e-13) @ energy(start)[1]
    assert np.abs(energy(start)[1]).max() < 1e-6
    boxes = start[2:]
    return rail * np.maximum(heights - boxes, 0.0), (boxes - start[0] - start[1] * x) * 1e-6


def _curvature(energy, at):
    step = 1e-4
    return np.stack([
        (energy(at + step * one)[1] - energy(at - step * one)[1]) / (2 * step)
        for one in np.eye(len(at))
    ])  # fmt: skip


CASES = {
    "demo": {},
    "hard on the stop": {"preload": "0.9 mm"},
    "all on the stop": {"preload": "2.0 mm"},
    "soft": {"wire_diameter": "0.14 mm"},
    "stiff": {"wire_diameter": "0.30 mm", "preload": "0 mm"},
    "nose heavy": {"cg": "8 mm"},
    "short slot": {"travel": "0.3 mm"},
}


@pytest.mark.parametrize("keys", CASES.values(), ids=CASES)
@pytest.mark.parametrize("heights", [(0, 0, 0), (0, 0.25, 0), (-0.25, 0, 0), (0, 0, 0.25)])
def test_loads_and_rises_are_those_of_an_independent_solver(keys, heights):
    data = changed(**keys)
    stands = suspension.of(data.planned.springs, data)
    heights = np.array(heights) * 1e-3
    loads, rises = by_energy(stands, heights)
    assert stands.loads(heights) == pytest.approx(loads, abs=2e-4)
    on_rail = loads > 1e-3
    assert stands.rises(heights)[on_rail] == pytest.approx(np.maximum(rises, 0)[on_rail], abs=2e-6)


def test_axles_ride_by_their_own_loads():
    """Weight and moment by hand: what each axle brings, less its own weight, over the rate."""
    x, weight = np.array([0, 22e-3, 44e-3]), 0.328 * GRAVITY
    rows = np.array([np.ones(3), x, [1, -2, 1]])  # the middle one brings the mean of its neighbors
    loads = np.linalg.solve(rows, [weight, weight * 20.5e-3, 0.0])
    assert SPRUNG.level_loads == pytest.approx(loads)
    sits = (loads - SPRUNG.unsprung) / SPRUNG.rate - 0.4e-3
    assert SPRUNG.ride == pytest.approx(sits, abs=1e-9)
    assert SPRUNG.spare == pytest.approx(sits.min())
    assert np.ptp(SPRUNG.ride) > 0.15e-3


def test_the_weight_of_a_driver_axle_is_that_of_one():
    """Two discs a little over half full and a shaft: some grams on a 16 mm wheel."""
    mass = suspension.wheelset_mass(16.2e-3, 3.175e-3)
    disc = np.pi / 4 * 16.2**2 * 2.43e-3  # cm^3
    shaft = np.pi / 4 * 3.175**2 * 16.2e-3
    assert mass * 1e3 == pytest.approx(7.85 * (2 * 0.55 * disc + shaft), rel=1e-3)


def test_what_the_springs_bear_is_less_than_what_the_scale_reads():
    heavy = replace(SPRUNG, wheelset=2 * SPRUNG.wheelset)
    assert heavy.level_loads == pytest.approx(SPRUNG.level_loads)
    assert np.all(heavy.ride < SPRUNG.ride)


def test_preload_above_the_load_is_rigid_and_says_so():
    decided = fittings.sag(known(preload="2 mm"))
    assert decided.verdict == "wrong"
    assert "rigid on its lower stop" in decided.words()
    assert fittings.share(known(preload="2 mm")).verdict == "wrong"


def test_the_preload_that_is_named_cures_it():
    for keys in ({"preload": "2 mm"}, {"preload": "0 mm"}, {}):
        stands = known(**keys, travel="1.2 mm").springs_planned.as_read
        for preload in stands.preloads:
            cured = replace(stands, preload=preload)
            assert cured.spare == pytest.approx(stands.unevenness, abs=1e-9)
        middle = replace(stands, preload=sum(stands.preloads) / 2)
        assert middle.spare > stands.unevenness


def test_where_no_preload_does_a_slot_or_softer_springs_are_named():
    short = known(travel="0.6 mm")
    assert "a slot of 0.70" in fittings.sag(short).todo()
    stands = replace(short.springs_planned.as_read, travel=0.6995781e-3)
    assert stands.preloads[0] == pytest.approx(stands.preloads[1], abs=1e-8)
    stiff = known(wire_diameter="0.4 mm")
    assert "softer springs" in fittings.sag(stiff).todo()
    stands = stiff.springs_planned.as_read
    soft = replace(
        stands, active_coils=stands.active_coils * stands.rate / stands.most_rate, preload=0.0
    )
    assert soft.ride.min() == pytest.approx(stands.unevenness, rel=1e-6)


def test_the_worst_axle_turns_with_the_weight():
    assert "axle 3" in fittings.sag(known()).words()
    assert "axle 1" in fittings.sag(known(cg="23.5 mm")).words()


def test_page_and_panel_ask_one_suspension():
    for keys in ({}, {"preload": "0.9 mm"}, {"cg": "12 mm"}):
        one, case = known(**keys), questions.Case(changed(**keys))
        stands = case.on("sprung", **{key: case.given(key) for key in ("wire_diameter", "mean_diameter", "active_coils", "preload")})  # fmt: skip
        for decided, value, limit in (
            (fittings.share(one), stands.share, None),
            (fittings.sag(one), stands.spare, stands.unevenness),
            (fittings.stress(one), stands.stress, stands.allowed_stress),
            (fittings.solid(one), stands.pressed, suspension.SOLID_ROOM * stands.solid),
            (findings.contact(one), case.on("rigid").share, None),
        ):
            assert decided.value.value == pytest.approx(float(value), rel=1e-9, abs=1e-12)
            assert limit is None or decided.limit.value == pytest.approx(float(limit), rel=1e-9)


@pytest.mark.parametrize("decide", [fittings.share, fittings.sag, fittings.stress, fittings.solid])
def test_every_spring_decision_has_a_band(decide):
    value = decide(known()).value
    assert value.low < value.value < value.high
    assert value.sources


def test_wire_read_by_micrometer_carries_four_times_its_doubt_into_the_rate():
    rate = known().springs_planned.rate
    wire, mean, coils = 0.005 / 0.2, 0.01 / 1.8, 0.125 / 5  # standard errors, relative
    expected = np.sqrt((4 * wire) ** 2 + (3 * mean) ** 2 + coils**2)
    assert np.std(np.log(rate[1:])) == pytest.approx(expected, rel=0.1)


def test_a_sheet_without_slot_is_judged_by_its_lower_stops():
    data = changed(travel=None, free_length=None)
    stands = suspension.of(data.planned.springs, data)
    assert stands.share == pytest.approx(float(SPRUNG.share), rel=1e-9)
    assert not {"ride height", "solid"} & {
        one.key for one in fittings.springs(Knowledge(data, Spread(draws=20)))
    }
