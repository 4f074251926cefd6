"""A gear on a pin: how far it tilts, and the hub that holds it straight."""

import math

import pytest

from mechkit.drive import sheet
from mechkit.drive.decisions.decision import SAFE
from mechkit.drive.decisions.rebuild import changes_asked, rebuild
from mechkit.publish import worklist

HUB = "planned.hub"
#: A loose bore in a mesh that was felt, so that only the hub is in question.
LOOSE = {f"{HUB}.clearance": "0.050 mm", f"{HUB}.length": "0 mm",
         "planned.mesh.backlash": "0.060 +/- 0.002 mm",
         "planned.mesh.worm_backlash": "0.060 +/- 0.002 mm"}  # fmt: skip


def decided(key, changes=None):
    data = sheet.demo()
    changes = dict(changes or {})
    return rebuild(data.with_values(changes).data).decision(key)


def test_the_swing_by_the_corners_of_the_bore():
    """A bore of length L askew on a pin by c / L: its end is off by c / 2 and the face's part of c / 2."""
    shift, lean = 0.030e-3 / 2, math.tan(0.030e-3 / 6.0e-3) * 3.0e-3 / 2
    found = decided("tilt")
    assert found.value.value == pytest.approx(2 * (shift + lean), rel=1e-5)
    assert found.numbers["bare"].value == pytest.approx(4 * shift, rel=1e-6)
    assert found.limit.value == pytest.approx(0.5 * 0.060e-3 / math.tan(math.radians(20)), rel=1e-3)


def test_a_longer_hub_swings_less_but_never_less_than_its_clearance():
    lengths = ["0 mm", "1 mm", "3 mm", "12 mm", "150 mm"]
    swings = [decided("tilt", {f"{HUB}.length": one}).value.value for one in lengths]
    assert swings == sorted(swings, reverse=True)
    assert swings[-1] > 0.030e-3


def test_too_loose_it_takes_a_hub_and_the_cure_passes():
    broken = decided("tilt", LOOSE)
    assert broken.verdict == "wrong"
    healed = LOOSE | {f"{HUB}.length": f"{broken.numbers['needed'].value * 1e3:.5f} mm"}
    assert decided("tilt", healed).kept >= SAFE - 0.01


def test_where_no_hub_does_a_closer_bore_does():
    loose = LOOSE | {f"{HUB}.clearance": "0.150 +/- 0.002 mm"}
    broken = decided("tilt", loose)
    assert "No hub" in broken.todo()
    closer = f"{broken.numbers['needed'].value * 1e3:.5f} +/- 0.0005 mm"
    assert decided("tilt", loose | {f"{HUB}.clearance": closer}).kept >= SAFE - 0.01


@pytest.mark.parametrize(("key", "outside"), [("hub", "1.8 mm"), ("hub rim", "6.6 mm")])
def test_a_sleeve_too_thin_or_too_thick_is_told_a_size_that_goes(key, outside):
    broken = decided(key, {f"{HUB}.outside": outside})
    assert broken.verdict == "wrong"
    size = f"{broken.numbers['needed'].value * 1e3:.5f} mm"
    assert decided(key, {f"{HUB}.outside": size}).kept >= SAFE - 0.01


def test_the_sleeve_is_drawn_and_stands_in_the_work():
    job = rebuild(sheet.demo().data)
    part = next(one for one in job.parts if one.name == "Hub of the idler")
    assert part.sizes["length"].value == pytest.approx(6.0e-3)
    assert part.sizes["bore"].value < part.sizes["outside"].value < 3.0e-3
    lines = [line.words for line in worklist.do(job, "metric")]
    assert lines.index("Turn the hub of the idler") < lines.index("Hub the gear on its pin")
    gone = job.sheet.planned.model_copy(update={"hub": None})
    bare = rebuild(job.sheet.model_copy(update={"planned": gone}))
    assert "hub" not in changes_asked(bare.known)
    assert [one.name for one in bare.parts] == ["Adapter sleeve", "Flywheel"]


@pytest.mark.parametrize("changes", [{f"{HUB}.pin": "5 mm"}, {f"{HUB}.clearance": "0 mm"},
                                     {f"{HUB}.gear": "no such gear"}])  # fmt: skip
def test_what_cannot_be_is_answered_all_the_same(changes):
    assert decided("tilt", changes).value.value >= 0
