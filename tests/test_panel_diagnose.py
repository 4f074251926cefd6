"""The diagnosis panel: an invented recording and those on the disk, and the shaft that turns red."""

from types import SimpleNamespace

import numpy as np
import pytest

from mechkit import units
from mechkit.drive import sheet
from mechkit.drive.diagnosis import diagnose as judge
from mechkit.drive.diagnosis import limits, orders, recording
from mechkit.drive.questions import diagnose as listening
from mechkit.panels import diagnose
from tests import legible
from tests.strange_sheets import strange

DEMO = sheet.demo()
CASE = listening.Case(DEMO.data)
CALM = {
    "source": "invented", "axle": 0.0, "idler": 0.0, "rods": 0.0, "noise": 0.01, "drift": 0.15, "seconds": 8.0,
}  # fmt: skip


def hear(**changes):
    return listening.listen(CASE, **(CALM | changes))


@pytest.fixture(scope="module")
def panel():
    return diagnose.show(DEMO)


@pytest.mark.parametrize(
    ("fault", "shaft"),
    [({"axle": 200e-6}, "axle"), ({"idler": 150e-6}, "idler"), ({"rods": 0.08}, "rods")],
)
def test_the_fault_that_was_put_in_is_named_and_no_other(fault, shaft):
    assert hear(**fault).said.shafts == (shaft,)
    assert hear().said.shafts == ()


def test_the_swing_read_is_the_swing_that_the_drive_makes():
    """The motion's own turn against what comes back out of noise and drift."""
    turn = CASE.swing(CASE.turning("axle gear", 200e-6))
    made = 2 * np.abs(
        np.mean(turn[:-1] * np.exp(-2j * np.pi * np.arange(len(turn) - 1) / (len(turn) - 1)))
    )
    (found,) = hear(axle=200e-6, noise=0.002).said.findings
    assert found.swing == pytest.approx(made, rel=0.05)
    # A light motor gives way: less than the gear alone, and more than half of it.
    assert 100e-6 < found.total_runout < 200e-6


def test_the_spectrum_holds_a_wave_at_its_order_however_the_speed_drifts():
    time = np.linspace(0, 10, 2000)
    turns = 1.5 * time + 0.4 * np.sin(time)
    order, level = orders.spectrum(turns, 3.0 + 0.05 * np.sin(2 * np.pi * 1.37 * turns), 5.0)
    assert order[np.argmax(level)] == pytest.approx(1.37, abs=0.03)
    assert level.max() == pytest.approx(0.05, rel=0.03)
    assert order[-1] <= 5.0 and level[order > 2].max() < 0.001


def test_too_short_a_record_cannot_tell_and_says_so(panel):
    state = hear(seconds=2.0)
    assert state.said is None and "record longer" in state.reason
    assert len(state.orders)  # the turns are known, so what there is can be looked at
    text = diagnose.sentence(CASE, state, "metric")
    assert text.startswith("Cannot tell: the record holds 3.1 turns") and text.endswith("longer.")
    panel.set("seconds", 2.0)
    picture = panel.picture(panel.look, panel.setting, 1.0)
    picture.frame(panel.state)
    assert picture.nothing.text.get_visible()
    assert {verdict.text.text for _, verdict, _ in picture.told} == {"not judged"}
    panel.reset()


def test_what_would_not_show_is_told_and_holds():
    quiet = hear(noise=0.05)
    text = diagnose.sentence(CASE, quiet, "metric")
    least = float(text.split("less than ")[1].split("\u00a0")[0]) * 1e-6
    # The motor takes some of it away, so it takes more than that to be seen.
    assert hear(noise=0.05, axle=0.9 * least).said.shafts == ()
    assert hear(noise=0.05, axle=min(2.0 * least, 250e-6)).said.shafts == ("axle",)


@pytest.mark.parametrize("name", listening.SHIPPED)
def test_a_recording_on_the_disk_is_judged_as_by_the_command(name):
    file = listening.FOLDER / listening.SHIPPED[name]
    said = judge.diagnose(recording.read(file), DEMO.data)
    heard = hear(source=name)
    assert heard.said.shafts == said.shafts and heard.said.turns == said.turns
    assert heard.orders.size and heard is hear(source=name)  # read once


def test_the_sentence_tells_runout_in_both_systems(panel):
    (found,) = panel.state.said.findings
    metric, inch = (diagnose.sentence(CASE, panel.state, system) for system in ("metric", "inch"))
    for text in (metric, inch):
        assert units.show(found.total_runout, "fine") in text
        assert "thou" in text and f"{found.over_floor:.0f} times" in text
        assert found.shaft.hand_tests[0] in text
    assert metric.index("µm") < metric.index("thou") and inch.index("thou") < inch.index("µm")


@pytest.mark.parametrize(
    ("faults", "said"),
    [
        ({"rods": 0.08}, "The rods stand out: "),
        ({"idler": 150e-6}, "The idler stands out: "),
        ({"rods": 0.08, "idler": 150e-6}, " So does the idler. "),
        ({"rods": 0.03, "idler": 200e-6}, " So do the rods. "),
    ],
)
def test_one_shaft_stands_out_and_several_stand_out(faults, said):
    assert said in diagnose.sentence(CASE, hear(**faults), "metric")


def test_the_guilty_shaft_turns_red_and_no_other(panel):
    picture = panel.picture(panel.look, panel.setting, 1.0)
    for changes, red in (({"axle": 0.0, "rods": 0.08}, [1]), ({"idler": 150e-6, "axle": 0.0}, [2])):
        picture.frame(hear(**changes))
        assert [n for n, part in enumerate(picture.parts) if part.patch.get_visible()] == red


def test_one_s_own_recording_comes_first(tmp_path):
    own = tmp_path / "bench.csv"
    own.write_bytes((listening.FOLDER / "axle_speed.csv").read_bytes())
    made = diagnose.show(DEMO, own)
    assert made.values["source"] == "mine" and made.state.said.shafts == ("axle",)
    with pytest.raises(recording.RecordingError, match="is not there"):
        diagnose.show(DEMO, tmp_path / "none.wav")


@pytest.mark.parametrize("gears", [1, 3])
def test_a_drive_with_more_or_fewer_gears_is_drawn(gears):
    state = DEMO.data.as_is
    first, last = state.gears
    more = [
        first.model_copy(update={"name": f"idler {n}", "teeth": 18 + n}) for n in range(gears - 1)
    ]
    data = DEMO.data.model_copy(update={"as_is": state.model_copy(update={"gears": [*more, last]})})
    made = diagnose.show(SimpleNamespace(data=data))
    made.wear(size="hall")
    picture = made._picture()
    picture.frame(made.state)
    pieces = list(legible.letters(picture))
    assert len(picture.parts) == gears + 2 and pieces
    assert not any(
        one.overlaps(other) for n, (_, one) in enumerate(pieces) for _, other in pieces[:n]
    )


def test_the_demo_s_recordings_are_heard_for_the_demo_s_drive_alone():
    other = listening.Case(strange("bronze worm, steel gears").data)
    assert not other.files and set(CASE.files) == set(listening.SHIPPED)
    assert diagnose.show(strange("bronze worm, steel gears")).controls["source"].options == ("invented",)  # fmt: skip


@pytest.mark.parametrize("name", ["1:160 on 6 V", "1:22.5 on 24 V", "wobbly, and starts easily"])
def test_an_invented_recording_is_as_long_as_it_takes(name):
    """Turns of the axle decide, not seconds: enough of them, and readings enough in each."""
    made = diagnose.show(strange(name))
    case = made.setting
    assert made.state.said.turns > limits.FEWEST_TURNS
    assert case.rate / case.pace > 2 * case.drive.gear_ratio
    made.set("seconds", made.controls["seconds"].low)
    assert made.state.said is None and "record longer" in made.words
