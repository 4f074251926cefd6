"""What the worm's shaft runs in, against sums worked by hand."""

import numpy as np
import pytest

from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions.plan import at_slip
from mechkit.drive.decisions.shafting import FLAT, shims
from mechkit.drive.sheet import demo
from tests.decided import decided


def bearings(key, **changes):
    """One decision of the demo's bearings with some keys changed."""
    return decided(demo().with_values(changes), "shafting", key)


def test_plain_bearings_rub_with_what_pushes_the_worm_off_its_gear():
    """Friction 0.1265, the middle of 0.10 to 0.16, times the load, times half a bore of 2 mm."""
    plain = demo().with_value("planned.bearings.kind", "plain")
    known = known_of(plain.data)
    _, apart, _ = at_slip(known)
    by_hand = (0.10 * 0.16) ** 0.5 * float(apart[0]) * 1e-3 / float(known.planned.slip_torque()[0])
    assert decided(plain, "shafting", "worm bearings").value.value == pytest.approx(
        by_hand, rel=1e-6
    )


def test_balls_are_the_cure_where_plain_bearings_take_too_much():
    thick = {"planned.bearings.kind": "plain", "planned.bearings.bore": "6 mm"}
    plain = bearings("worm bearings", **thick)
    assert plain.verdict == "wrong"
    assert "ball bearings" in plain.todo()
    cured = bearings("worm bearings", **{**thick, "planned.bearings.kind": "ball"})
    assert cured.verdict == "good"


@pytest.mark.parametrize("left", np.linspace(0.0, 1.2e-3, 9))
def test_shims_bring_the_play_down_and_never_below(left):
    found = shims(left + 0.05e-3, 0.05e-3).thick
    assert sum(found) <= left + 1e-9
    assert left - sum(found) < min(FLAT) + 1e-9


def test_a_bowed_shim_goes_with_the_cube_of_its_thickness_and_the_cure_holds():
    thin = bearings("bowed shim", **{"planned.bearings.shim_thickness": "0.05 mm"})
    thick = bearings("bowed shim", **{"planned.bearings.shim_thickness": "0.10 mm"})
    assert thick.value.value / thin.value.value == pytest.approx(8.0, rel=1e-6)
    steep = {"track.grade": "12 %", "planned.bearings.shim_thickness": "0.02 mm"}
    soft = bearings("bowed shim", **steep)
    assert soft.verdict == "wrong"
    needed = f"{1e3 * soft.numbers['needed'].value:.3f} mm"
    cured = bearings("bowed shim", **{**steep, "planned.bearings.shim_thickness": needed})
    assert cured.verdict != "wrong"


def test_what_pushes_back_is_the_train_on_the_grade_less_its_rolling():
    """528 g down 12 % less 0.018 of its weight, at the gear of 12 mm under wheels of 16.2 mm."""
    push = 0.528 * 9.80665 * (0.12 - 0.018) * 16.2 / 12.0
    found = bearings("bowed shim", **{"track.grade": "12 %"}).limit.value
    assert found == pytest.approx(push, rel=0.03)
