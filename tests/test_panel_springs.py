"""The panel of the drivers on uneven rail: its loads, its sentences, its picture, its copies."""

import io

import numpy as np
import pytest
from PIL import Image

from mechkit.drawings.style import Look
from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import Knowledge
from mechkit.drive.decisions import findings, fittings
from mechkit.drive.model.spread import Spread
from mechkit.drive.model.suspension import RIGID_RATE
from mechkit.drive.questions import springs as stand
from mechkit.panels import springs
from mechkit.panels.controls import Choice, Slider
from tests.strange_sheets import similar

BENCH = sheet.demo()
CASE = stand.Case(BENCH.data)
CONTROLS = springs.show(BENCH).controls
SLIDERS = [control for control in CONTROLS.values() if isinstance(control, Slider)]
WEIGHT, CENTER, PITCH = 0.328 * 9.80665, 20.5e-3, 22e-3


def panel(**values):
    made = springs.show(BENCH)
    for name, value in values.items():
        made.set(name, value)
    return made


def state(**values):
    return panel(**values).state


# -- the numbers ------------------------------------------------------------------------


def test_rigid_on_a_joint_two_axles_carry_by_the_lever():
    held = state(kind="rigid", joint=0.25e-3, axle="2")
    assert held.loads == pytest.approx(
        [WEIGHT * (PITCH - CENTER) / PITCH, WEIGHT * CENTER / PITCH, 0.0], rel=1e-6
    )
    # The line over the first two rail points passes the third at twice the joint's height.
    yields = (2 * held.loads[1] - held.loads[0]) / RIGID_RATE
    assert held.gaps == pytest.approx([0, 0, 2 * 0.25e-3 - yields], rel=1e-9)
    assert held.lifted == [3]


def test_inside_the_slots_the_loads_solve_weight_and_moment():
    held = state(joint=0.25e-3, axle="2")
    x, heights = np.array([0, PITCH, 2 * PITCH]), np.array([0, 0.25e-3, 0])
    # Unknown: heave z and pitch p; the load of an axle is its own weight, which no spring bears,
    # and rate * (height - z - p x)
    own = float(CASE.bare.unsprung)
    rows = held.rate * np.array([[3, x.sum()], [x.sum(), (x**2).sum()]])
    right = held.rate * np.array([heights.sum(), heights @ x])
    right -= WEIGHT - 3 * own, WEIGHT * CENTER - own * x.sum()
    z, p = np.linalg.solve(rows, right)
    assert held.loads == pytest.approx(own + held.rate * (heights - z - p * x), rel=1e-6)
    assert held.rises == pytest.approx(heights - z - p * x - 0.4e-3, abs=1e-9)
    assert held.frame == pytest.approx((z + 0.4e-3, p), abs=1e-9)


@pytest.mark.parametrize("joint", [-0.5e-3, 0.0, 0.5e-3])
def test_beams_share_by_moments_whatever_the_joint(joint):
    held = state(kind="equalized", joint=joint, axle="3")
    assert held.loads.sum() == pytest.approx(WEIGHT)
    assert held.loads @ [0, PITCH, 2 * PITCH] == pytest.approx(WEIGHT * CENTER)
    assert held.loads[1] == pytest.approx(held.loads[2])
    assert held.contact["equalized"] == 1.0


@pytest.mark.parametrize("kind", stand.KINDS)
@pytest.mark.parametrize("axle", ["1", "2", "3"])
@pytest.mark.parametrize("joint", [-0.5e-3, 0.5e-3])
def test_weight_and_moment_balance_everywhere(kind, axle, joint):
    held = state(kind=kind, joint=joint, axle=axle)
    assert held.loads.sum() == pytest.approx(WEIGHT, rel=1e-6)
    assert held.loads @ [0, PITCH, 2 * PITCH] == pytest.approx(WEIGHT * CENTER, rel=1e-6)
    assert not np.any((held.gaps > 0) & (held.loads > 0))


def test_a_dip_deeper_than_the_slot_leaves_air_under_the_wheel():
    held = state(wire_diameter=0.4e-3, joint=-0.5e-3, axle="2")
    assert held.lifted == [2]
    assert held.gaps[1] == pytest.approx(0.5e-3, abs=5e-6)  # both ends on their lower stops


def test_panel_and_decisions_agree():
    known = Knowledge(BENCH.data, Spread(draws=2))
    worst = min(state(joint=s * 0.25e-3, axle=a).share for s in (1, -1) for a in "123")
    assert worst == pytest.approx(fittings.share(known).value.value, rel=1e-9)
    rigid = min(
        state(kind="rigid", joint=s * 0.25e-3, axle=a).share for s in (1, -1) for a in "123"
    )
    assert rigid == pytest.approx(findings.contact(known).value.value, abs=1e-9)
    held = state()
    assert held.stress == pytest.approx(fittings.stress(known).value.value)
    assert held.allowed == pytest.approx(fittings.stress(known).limit.value)
    assert held.spare == pytest.approx(fittings.sag(known).value.value)


def test_worst_of_ten_by_drawing_ten():
    draws = np.abs(np.random.default_rng(7).standard_normal((50_000, 10))).max(-1)
    assert draws.mean() == pytest.approx(stand.WORST_OF_TEN, abs=0.01)


def test_smooth_rail_keeps_all_and_softer_springs_keep_more():
    assert state(unevenness=0.0).contact == {"rigid": 1.0, "sprung": 1.0, "equalized": 1.0}
    rough = {"unevenness": 1e-3}
    soft, stiff = state(**rough), state(**rough, wire_diameter=0.26e-3, preload=0.0)
    assert soft.contact["rigid"] < stiff.contact["sprung"] < soft.contact["sprung"]


# -- the sentence -----------------------------------------------------------------------


def test_sentence_says_the_numbers_in_both_systems():
    made = panel()
    held = made.state
    for number in ("0.25\u00a0mm under axle 2", f"{held.share * 100:.0f}\u00a0%", "axle 3 would hang",
                   f"{held.rate:.0f}\u00a0N/m", f"{held.stress / 1e6:.0f}\u00a0MPa"):  # fmt: skip
        assert number in made.words
    made.wear(system="inch")
    for number in ("0.010\u00a0in under", f"{held.rate / 175.126835:.2f}\u00a0lbf/in",
                   f"{held.stress / 6.894757e6:.0f}\u00a0ksi", "Wire 0.0079\u00a0in"):  # fmt: skip
        assert number in made.words


def test_sentence_says_what_is_wrong():
    assert "axle 3 hangs 0.47\u00a0mm in the air" in panel(kind="rigid").words
    assert "takes a set" in panel(wire_diameter=0.4e-3).words
    assert (
        "push all axles onto the lower stop, and there it rides as if rigid"
        in panel(preload=2e-3).words
    )
    assert "sits on the upper stop of all axles" in panel(wire_diameter=0.12e-3).words
    assert "push axle 3 onto the lower stop" in panel(preload=0.9e-3).words
    assert "a dip of" in panel(joint=-0.1e-3).words
    assert "On level rail," in panel(joint=0.0).words


# -- the picture ------------------------------------------------------------------------


@pytest.mark.parametrize(
    "look", [Look(), Look(dark=True, size="hall", system="inch")], ids=["desk", "hall"]
)
def test_every_end_of_every_control_draws(look):
    made = springs.show(BENCH, look=look)
    seen = {made.frame()}
    for control in CONTROLS.values():
        ends = control.options if isinstance(control, Choice) else (control.low, control.high)
        for end in ends:
            made.set(control.name, end)
            seen.add(made.frame())
        made.reset()
    # Every end looks different; the choices and the joint's upper end begin where the sheet stands.
    assert len(seen) >= 2 * len(SLIDERS)


def test_still_is_a_picture_with_its_sentence():
    made = panel()
    still, frame = (Image.open(io.BytesIO(data)) for data in (made.still(), made.frame()))
    assert still.format == "PNG" and still.width == frame.width
    assert still.height > frame.height


@pytest.mark.parametrize("places", [["0 mm", "25 mm"], ["0 mm", "18 mm", "36 mm", "54 mm"]])
def test_other_wheel_arrangements_stand_too(places):
    other = BENCH.with_values({"locomotive.driver_axles": places})
    made = springs.show(other)
    for kind in stand.KINDS:
        made.set("kind", kind)
        assert made.state.loads.sum() == pytest.approx(WEIGHT, rel=1e-6)
        assert made.frame()


# -- the sheet --------------------------------------------------------------------------


@pytest.fixture
def own(tmp_path):
    """A copy of the demo's sheet in a folder of its own."""
    path = tmp_path / "engine.toml"
    path.write_text(BENCH.text, encoding="utf-8")
    return sheet.load(path)


def test_controls_start_where_the_sheet_stands():
    values, table = springs.show(BENCH).values, BENCH.data.planned.springs
    assert values["kind"] == table.kind
    for name in springs.KEYS:
        assert values[name] == getattr(table, name).value
    assert values["joint"] == values["unevenness"] == BENCH.data.track.rail_unevenness.value


def test_write_changes_only_a_copy_and_only_what_was_moved(own):
    made = springs.show(own)
    made.set("wire_diameter", 0.18e-3)
    path = made.write(dict(made.values))
    assert own.path.read_text("utf-8") == BENCH.text and path != own.path
    copy = sheet.load(path).data.planned.springs
    assert copy.wire_diameter.value == pytest.approx(0.18e-3)
    assert copy.mean_diameter.text == "1.80 mm"
    assert copy.active_coils == BENCH.data.planned.springs.active_coils


def test_rigid_is_written_and_beams_are_refused(own):
    made = springs.show(own)
    made.set("kind", "rigid")
    assert sheet.load(made.write(dict(made.values))).data.planned.springs.kind == "rigid"
    made.set("kind", "equalized")
    with pytest.raises(ValueError, match="rigid and sprung"):
        made.write(dict(made.values))


def test_a_sheet_without_springs_gets_the_usual_ones(own):
    rigid = own.with_values(
        {f"planned.springs.{key}": None for key in ("wire_diameter", "mean_diameter", "active_coils",
                                                     "preload", "free_length", "travel")}
        | {"planned.springs.kind": "rigid"}
    )  # fmt: skip
    made = springs.show(rigid)
    assert made.values["kind"] == "rigid" and made.frame()
    made.set("kind", "sprung")
    table = sheet.load(made.write(dict(made.values))).data.planned.springs
    assert table.kind == "sprung" and table.travel.value == pytest.approx(0.8e-3)


# -- other engines ----------------------------------------------------------------------


def test_wire_thinner_than_the_table_is_taken_as_its_thinnest():
    made = springs.show(BENCH.with_value("planned.springs.wire_diameter", "0.09 mm"))
    thinnest = 201e3 * 6.894757e3 / 0.004**0.145 * 0.45  # the textbook's fit at 0.004 in [Pa]
    assert made.state.allowed == pytest.approx(thinnest, rel=0.03)
    assert made.controls["wire_diameter"].low < 0.09e-3


def test_a_spring_that_is_longer_closed_than_free_is_told():
    held = panel(wire_diameter=0.4e-3, active_coils=12.0)
    assert "no such spring: its coils alone are 5.60\u00a0mm high, and it is 4.20\u00a0mm long" in held.words  # fmt: skip
    assert "the coils touch before it" in panel(wire_diameter=0.3e-3, active_coils=9.0).words
    assert "touch" not in panel().words


def test_no_wire_is_ever_thicker_than_its_coil():
    bench = BENCH.with_values({
        "planned.springs.wire_diameter": "0.7 mm", "planned.springs.mean_diameter": "0.9 mm",
        "planned.springs.active_coils": 2,
    })  # fmt: skip
    made = springs.show(bench)
    wire, mean = made.controls["wire_diameter"], made.controls["mean_diameter"]
    assert wire.high < mean.low
    made.set("wire_diameter", wire.high)
    made.set("mean_diameter", mean.low)


def test_a_weight_read_beyond_the_axles_stands_just_inside_and_says_so():
    bench = BENCH.with_value("locomotive.center_of_gravity", "-0.5 +/- 1 mm")
    made = springs.show(bench)
    assert made.state.loads.sum() == pytest.approx(WEIGHT, rel=1e-6)
    assert "ahead of the first driver nothing stands" in made.words
    assert "nothing stands" not in panel().words


@pytest.mark.parametrize(("kind", "shown"), [("rigid", False), ("sprung", True)])
def test_springs_are_on_sliders_where_there_are_any(kind, shown):
    """The sentence speaks of what is set, and the sliders that move nothing are away."""
    made = panel(kind=kind)
    assert ("sprung so" in made.words) == shown
    assert all(CONTROLS[name].when == ("kind", "sprung") for name in springs.KEYS)


@pytest.mark.parametrize("size", [0.4, 2.8])
def test_usual_springs_carry_an_engine_of_any_size_at_mid_slot(size):
    bare = {f"planned.springs.{key}": None for key in ("wire_diameter", "mean_diameter",
            "active_coils", "preload", "free_length", "travel")}  # fmt: skip
    made = springs.show(
        similar(BENCH, size, 1.0).with_values(bare | {"planned.springs.kind": "rigid"})
    )
    made.set("kind", "sprung")
    assert 0.3 < made.state.sits.mean() / made.state.travel < 0.7
    assert made.state.exists and not made.state.touches and made.state.stress < made.state.allowed
