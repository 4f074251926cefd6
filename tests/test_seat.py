"""The gear's seat on a knurled axle: what is left must hold and must not throw."""

from math import pi

import pytest

from mechkit.drive import sheet
from mechkit.drive.decisions.decision import SAFE
from mechkit.drive.decisions.rebuild import changes_asked, rebuild
from mechkit.publish import worklist

SEAT = "planned.seat"
#: A coarse knurl of which more than the demo's is left.
LEFT = {f"{SEAT}.turned_to": "3.300 mm"}


def decided(key, changes=None):
    return rebuild(sheet.demo().with_values(changes or {}).data).decision(key)


def size(reading):
    return f"{reading.value * 1e3:.5f} mm"


def test_the_throw_is_the_swing_in_proportion():
    """120 µm on crests of 97.5 leave 18.5 on crests of 15: by hand, uneven alike all the way."""
    assert decided("seat throw").value.value == pytest.approx(120e-6 * 15 / 97.5, rel=1e-6)


def test_what_holds_by_hand():
    """Twice the rim's pull at a 8.1 mm arm; Lamé's thick ring, a solid axle, and the bite."""
    said = decided("seat").numbers
    torque = (0.20 * 0.328 + 0.018 * 0.528) * 9.80665 * 8.1e-3  # the train rolls too
    assert said["slip"].value == pytest.approx(torque, rel=0.03)
    axle, length, outer = 3.175e-3, 3.0e-3, 12.8e-3 - 4.5 * 0.4e-3
    pressure = 2 * said["slip"].value / (0.12 * pi * axle * length * axle / 2)
    ring = ((outer / axle) ** 2 + 1) / ((outer / axle) ** 2 - 1) + 0.31
    stretch = pressure * axle * (ring / 98.5e9 + (1 - 0.292) / 207e9)
    bite = pressure / 637e6 * pi * axle / 20 / 2  # crests of 90 degrees: as deep as half as wide
    assert said["least"].value == pytest.approx(stretch + 2 * bite, rel=0.02)


def test_compound_holds_half_the_bore_more():
    alone = decided("seat", {f"{SEAT}.hold": "knurl"})
    both = decided("seat")
    bond = 15e6 * pi * 3.175e-3 * 3.0e-3 * 3.175e-3 / 2
    assert both.value.value - alone.value.value == pytest.approx(bond / 2, rel=1e-6)


def test_what_was_not_counted_or_swung_is_a_coarse_knurl_that_throws_as_the_gear_does():
    seat = sheet.demo().data.planned.seat.model_copy(update={"crests": None, "crest_swing": None})
    data = sheet.demo().data
    data = data.model_copy(update={"planned": data.planned.model_copy(update={"seat": seat})})
    job = rebuild(data)
    swing = 0.006 * 25.4e-3
    assert job.decision("seat throw").value.value == pytest.approx(swing * 15 / 97.5, rel=1e-6)
    assert job.decision("seat").numbers["least"].value > decided("seat").numbers["least"].value


def test_more_left_throws_more_and_holds_more():
    sizes = ["3.18 mm", "3.20 mm", "3.22 mm"]
    throws = [decided("seat throw", {f"{SEAT}.turned_to": one}).value.value for one in sizes]
    holds = [decided("seat", {f"{SEAT}.turned_to": one}).value.value for one in sizes]
    assert throws == sorted(throws)
    assert holds == sorted(holds)


def test_as_found_it_throws_and_the_cure_passes():
    broken = decided("seat throw", LEFT)
    assert broken.verdict == "wrong"
    healed = {f"{SEAT}.turned_to": size(broken.numbers["needed"])}
    assert decided("seat throw", healed).kept >= SAFE - 0.01
    assert decided("seat", healed).verdict == "good"


def test_a_loose_bore_holds_with_compound_or_a_larger_knurl():
    loose = {f"{SEAT}.hold": "knurl", f"{SEAT}.bore": "3.23 mm"}
    broken = decided("seat", loose)
    assert broken.verdict == "wrong"
    assert decided("seat", loose | {f"{SEAT}.hold": "compound"}).verdict == "good"
    truer = loose | {f"{SEAT}.crest_swing": "0 mm", "planned.gears[2].total_runout": "0.1 mm"}
    more = decided("seat", truer)
    assert "run true" in more.todo()
    healed = truer | {f"{SEAT}.turned_to": size(more.numbers["needed"])}
    assert decided("seat", healed).kept >= SAFE - 0.01


def test_a_tight_bore_bursts_and_the_cure_passes():
    tight = LEFT | {f"{SEAT}.bore": "3.180 mm"}
    broken = decided("seat press", tight)
    assert broken.verdict == "wrong"
    healed = tight | {f"{SEAT}.bore": size(broken.numbers["needed"])}
    assert decided("seat press", healed).kept >= SAFE - 0.01


def test_a_bush_is_held_by_its_bond_alone():
    job = rebuild(sheet.demo().with_value(f"{SEAT}.hold", "bush").data)
    bond = 15e6 * pi * 3.175e-3 * 3.0e-3 * 3.175e-3 / 2
    assert job.decision("seat").value.value == pytest.approx(bond, rel=1e-6)
    with pytest.raises(LookupError):
        job.decision("seat press")


@pytest.mark.parametrize("hold", ["knurl", "compound", "bush"])
@pytest.mark.parametrize("turned", ["3.0 mm", "3.175 mm", "9 mm"])
def test_what_cannot_be_is_answered_all_the_same(hold, turned):
    """Turned below the axle nothing of the knurl is left, and it cannot grow."""
    changes = {f"{SEAT}.turned_to": turned, f"{SEAT}.hold": hold}
    assert decided("seat throw", changes).value.value <= 121e-6


def test_no_seat_in_the_sheet_asks_nothing_and_has_no_line_in_the_work():
    job = rebuild(sheet.demo().data)
    assert any(line.words.startswith("Seat the gear") for line in worklist.do(job, "metric"))
    plain = job.sheet.model_copy(
        update={"planned": job.sheet.planned.model_copy(update={"seat": None})}
    )
    bare = rebuild(plain)
    assert "seat" not in changes_asked(bare.known)
    assert not any(line.words.startswith("Seat the gear") for line in worklist.do(bare, "metric"))
