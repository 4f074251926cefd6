"""A soft bed, against two springs in a row and a mass on one."""

import math

import numpy as np
import pytest

from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.decisions.bed import rate
from mechkit.drive.sheet import demo
from tests.decided import decided


def on(key, **changes):
    """One decision of the demo's bed with some keys changed."""
    return decided(
        demo().with_values({f"planned.bed.{name}": value for name, value in changes.items()}),
        "bed",
        key,
    )


def test_a_weight_and_how_far_it_sinks_tell_the_bed():
    """100 g over 0.40 mm."""
    assert float(rate(known_of(demo().data))[0]) == pytest.approx(0.1 * 9.80665 / 0.4e-3)


def test_shaft_and_bed_give_one_after_the_other():
    """0.02 mm over a steel shaft of 2 mm, 20 mm free: 3 E I / L^3, in a row with the bed."""
    stiff = 3 * 200e9 * math.pi * 2e-3**4 / 64 / 20e-3**3
    soft = 0.1 * 9.80665 / 0.4e-3
    load = on("bed").numbers["load"].value
    assert load == pytest.approx(0.02e-3 / (1 / stiff + 1 / soft), rel=0.05)


def test_the_motor_shakes_where_its_mass_on_the_bed_does():
    soft = 0.1 * 9.80665 / 0.4e-3
    assert on("bed resonance").value.value == pytest.approx(math.sqrt(soft / 0.052), rel=1e-6)


BENT = {"planned.alignment.offset": "0.15 mm"}


def sinking(rate):
    """How far 100 g sink on such a bed [mm]."""
    return f"{1e3 * 0.1 * 9.80665 / rate:.5f} mm"


@pytest.mark.parametrize("key", ["bed", "bed resonance"])
def test_a_hard_bed_is_a_no_go_and_the_cure_is_where_it_turns(key):
    """A little softer than told it is a go, half as hard again it is none."""
    bent = demo().with_values(BENT)
    hard = decided(bent.with_value("planned.bed.sinks", "0.005 mm"), "bed", key)
    assert hard.verdict == "wrong"
    needed = hard.numbers["needed"].value
    for share, good in ((0.8, True), (1.5, False)):
        tried = bent.with_value("planned.bed.sinks", sinking(share * needed))
        assert (decided(tried, "bed", key).verdict == "good") == good


def test_softer_is_never_worse_for_the_shaft():
    loads = [on("bed", sinks=f"{sinks} mm").value.value for sinks in (0.05, 0.2, 0.8)]
    assert loads == sorted(loads, reverse=True)


def test_the_limits_are_half_of_the_motors_friction_and_the_root_of_two():
    drive = known_of(demo().data).planned
    friction = float(np.ravel(drive.motor.friction_torque)[0])
    assert on("bed").limit.value == pytest.approx(friction / 2, rel=1e-9)
    top = float(drive.motor_speed_at(12.0)[0])
    assert on("bed resonance").limit.value == pytest.approx(top / math.sqrt(2), rel=1e-9)


def test_what_is_left_rubs_at_the_shaft_and_travel_asks_the_beds_own_rate():
    """Friction of 0.1265, the middle of 0.10 to 0.16, at half of 2 mm; 0.25 mm of rail."""
    found = on("bed")
    rubs = math.sqrt(0.10 * 0.16) * found.numbers["load"].value * 1e-3
    assert found.value.value == pytest.approx(rubs, rel=1e-6)
    soft = 0.1 * 9.80665 / 0.4e-3
    assert found.numbers["travel"].value == pytest.approx(0.25e-3 * soft, rel=1e-6)
    assert found.numbers["hard"].value > found.numbers["load"].value
