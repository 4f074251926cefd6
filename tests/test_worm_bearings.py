"""The bearings either side of the worm, the shims beside them, and a bowed one as their spring."""

from math import atan, cos, hypot, pi, radians, sin

import numpy as np
import pytest

from mechkit.drive import sheet
from mechkit.drive.decisions import worm_bearings
from mechkit.drive.decisions.decision import SAFE
from mechkit.drive.decisions.rebuild import changes_asked, rebuild
from mechkit.publish import worklist

HELD, BOW = "planned.bearings", "planned.bowed_shim"


@pytest.fixture(scope="module")
def job():
    return rebuild(sheet.demo().data)


def decided(key, changes=None):
    return rebuild(sheet.demo().with_values(changes or {}).data).decision(key)


# -- bearings --------------------------------------------------------------------------------


def test_the_load_across_the_shaft_by_plain_statics(job):
    """Shigley's worm: along W, apart W sin a / (cos a cos l - f sin l), around W's lead share."""
    drive, train = job.known.planned, job.known.train_planned
    friction = train.friction(drive.at_crawl, (0.93 * 0.98) ** 0.5)[0]
    along = worm_bearings.at_slip(job.known)[0][0]
    lead, angle = atan(0.4 / 6.0), radians(20)
    down = cos(angle) * cos(lead) - friction * sin(lead)
    apart = along * sin(angle) / down
    around = along * (cos(angle) * sin(lead) + friction * cos(lead)) / down
    across = job.decision("bearings").numbers["across"].value
    assert across == pytest.approx(hypot(apart, around), rel=0.03)  # the collar's share on top


def test_a_plain_bush_rubs_at_the_shaft(job):
    """Friction 0.10, the middle of 0.05 to 0.20, on 3 N at 1 mm."""
    assert worm_bearings.rubbing(job.known, "plain", 3.0)[0] == pytest.approx(0.3e-3, rel=1e-3)


def test_balls_by_palmgren(job):
    """1e-7 f0 (nu n)^(2/3) d^3 in N mm, cSt, rpm and mm; two of them, and 0.0012 of the load."""
    nu, factor = (15 * 60) ** 0.5, (0.7 * 2) ** 0.5
    by_hand = 2 * 1e-7 * factor * (nu * 8000) ** (2 / 3) * 3.5**3 * 1e-3
    by_hand += (0.0010 * 0.0015) ** 0.5 * 3.0 * 1e-3
    found = worm_bearings.rubbing(job.known, "ball", 3.0, 8000 * pi / 30)[0]
    assert found == pytest.approx(by_hand, rel=1e-3)


def test_balls_save_more_the_more_lies_on_them(job):
    loads = np.array([0.0, 0.5, 1.0, 3.0])
    saved = [
        worm_bearings.rubbing(job.known, "plain", load)[0]
        - worm_bearings.rubbing(job.known, "ball", load)[0]
        for load in loads
    ]
    assert saved == sorted(saved)
    assert saved[0] < 0 < saved[-1]


def test_too_much_grease_is_cured_by_the_other_kind():
    broken = decided("bearings", {f"{HELD}.bore": "5 mm", f"{HELD}.outside": "11 mm"})
    assert broken.verdict == "wrong"
    assert "With plain bushes" in broken.todo()
    plain = {f"{HELD}.bore": "5 mm", f"{HELD}.kind": "plain"}
    assert decided("bearings", plain).kept >= SAFE - 0.01


def test_a_bearing_too_small_for_the_thrust_names_one_that_is_not():
    """A quarter of 28 N for the smallest ball bearing of the table, and an engine ten times heavy."""
    small = {f"{HELD}.bore": "1.5 mm", f"{HELD}.outside": "4 mm"}
    assert decided("bearing size", small).limit.value == pytest.approx(28 / 4)
    heavy = {
        "locomotive.weight": "4.5 kg", "locomotive.weight_on_drivers": "4 kg",
        "measured_before.drawbar_pull": "7.7 N", "measured_after.drawbar_pull": "7.7 N",
    }  # fmt: skip
    broken = decided("bearing size", small | heavy)
    assert broken.verdict == "wrong"
    said = broken.numbers
    healed = {f"{HELD}.{key}": f"{said[key].value * 1e3:.4f} mm" for key in ("bore", "outside")}
    assert decided("bearing size", heavy | healed).kept >= SAFE - 0.01


# -- shims -----------------------------------------------------------------------------------


def test_the_best_of_the_drawer_goes_in(job):
    """0.35 less 0.076 wants 0.274: a 0.25 alone comes nearer than any other sum."""
    assert job.decision("shims").numbers["stack"].shims == (0.25e-3,)
    assert job.decision("shims").numbers["left"].value == pytest.approx(0.10e-3)


def test_an_empty_sum_is_no_shim():
    one = decided("shims", {f"{HELD}.end_play_found": "0.09 mm"})
    assert one.numbers["stack"].say() == "no shim"
    assert one.verdict == "good"


def test_the_missing_shim_is_named_and_passes():
    thick = {f"{HELD}.end_play_found": "1.20 mm"}
    broken = decided("shims", thick)
    assert broken.verdict == "wrong"
    needed = broken.numbers["needed"].value
    assert needed == pytest.approx(1.20e-3 - 0.003 * 25.4e-3)
    assert (
        decided("shims", thick | {f"{HELD}.shims[1]": f"{needed * 1e3:.4f} mm"}).verdict == "good"
    )


# -- a bowed shim ----------------------------------------------------------------------------


def test_the_bow_by_hand(job):
    """E b t^3 N^4 / (3.97 D^3) of spring tables, times the 0.15 mm that it is pressed."""
    rate = 110.5e9 * 0.9e-3 * 0.05e-3**3 * 2**4 / (3.97 * 3.1e-3**3)
    said = job.decision("bow")
    assert said.value.value == pytest.approx(rate * 0.15e-3 * (0.7 * 1.4) ** 0.5, rel=0.02)
    assert said.limit.value < said.numbers["slip"].value
    stress = 6 * 110.5e9 * 0.20e-3 * 0.05e-3 / 4.0e-3**2
    assert job.decision("bow stress").value.value == pytest.approx(stress, rel=0.01)


def test_a_wider_gap_pushes_less_until_it_is_loose():
    gaps = ["0.08 mm", "0.12 mm", "0.2 mm", "0.4 mm"]
    pushes = [decided("bow", {f"{BOW}.gap": gap}).value.value for gap in gaps]
    assert pushes == sorted(pushes, reverse=True)
    assert pushes[-1] == 0


@pytest.mark.parametrize(
    ("changes", "key"),
    [({f"{BOW}.gap": "0.24 mm"}, "gap"), ({f"{BOW}.thickness": "0.025 +/- 0.001 mm"}, "thickness")],
)
def test_what_does_not_hold_the_worm_is_cured(changes, key):
    broken = decided("bow", changes)
    assert broken.verdict == "wrong"
    healed = changes | {f"{BOW}.{key}": f"{broken.numbers['needed'].value * 1e3:.5f} mm"}
    if key == "thickness":  # the same bow on thicker sheet
        grown = broken.numbers["needed"].value - 0.025e-3
        healed |= {
            f"{BOW}.free_height": f"{0.25 + grown * 1e3:.5f} mm",
            f"{BOW}.gap": f"{broken.numbers['gap'].value * 1e3 + grown * 1e3:.5f} mm",
            f"{BOW}.thickness": f"{broken.numbers['needed'].value * 1e3:.5f} +/- 0.001 mm",
        }
    assert decided("bow", healed).kept >= SAFE - 0.02


STIFF = {
    f"{BOW}.thickness": "0.10 +/- 0.002 mm", f"{BOW}.free_height": "0.50 mm",
    f"{BOW}.gap": "0.12 mm", f"{HELD}.kind": "plain",
}  # fmt: skip
#: A train that rolls by itself pushes the worm little, and less preload does.
EASY = {
    f"{BOW}.free_height": "0.35 mm", f"{BOW}.gap": "0.06 mm", f"{HELD}.kind": "plain",
    "track.rolling_resistance": "0.004",
}  # fmt: skip


def test_a_stiff_one_is_put_against_balls():
    broken = decided("bow friction", STIFF)
    assert broken.verdict == "wrong"
    assert "rings of ball bearings" in broken.todo()
    assert decided("bow friction", STIFF | {f"{HELD}.kind": "ball"}).kept >= SAFE - 0.01


def test_one_squeezed_too_far_gets_a_gap_that_still_holds_the_worm():
    broken = decided("bow friction", EASY)
    assert broken.verdict == "wrong"
    healed = EASY | {f"{BOW}.gap": f"{broken.numbers['needed'].value * 1e3:.5f} mm"}
    assert decided("bow friction", healed).kept >= SAFE - 0.01
    assert decided("bow", healed).kept >= SAFE - 0.01


def test_bowed_too_far_it_takes_a_set_and_the_cure_passes():
    soft = {f"{BOW}.yield_strength": "200 MPa"}
    broken = decided("bow stress", soft)
    assert broken.verdict == "wrong"
    lower = soft | {f"{BOW}.free_height": f"{broken.numbers['needed'].value * 1e3:.5f} mm"}
    assert decided("bow stress", lower).verdict != "wrong"


# -- the page --------------------------------------------------------------------------------


def test_the_work_has_its_lines_only_where_the_sheet_has_the_tables(job):
    lines = {line.words: line.detail for line in worklist.do(job, "metric")}
    assert "Seat the worm's bearings" in lines
    assert "250" in lines["Shim the worm"]
    assert "rod" in lines["Shim the worm"]
    assert any("flanged ball" in line.words for line in worklist.buy(job, "metric"))
    gone = job.sheet.planned.model_copy(update={"bearings": None, "bowed_shim": None})
    bare = rebuild(job.sheet.model_copy(update={"planned": gone}))
    assert not {"bearings", "shims", "bow"} & changes_asked(bare.known).keys()
    assert "Seat the worm's bearings" not in {line.words for line in worklist.do(bare, "metric")}
