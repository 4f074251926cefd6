"""Which shaft, how strongly, what runout: held against recordings made from the mechanism."""

import numpy as np
import pytest
from scipy import signal

from mechkit.drive import sheet
from mechkit.drive.constants.knowledge import known_of
from mechkit.drive.diagnosis import diagnose, orders
from mechkit.drive.diagnosis.diagnose import CannotTell
from mechkit.drive.diagnosis.recording import Recording, read
from mechkit.drive.diagnosis.shafts import Shaft, Train
from mechkit.launch import CHECKOUT
from tests import bench_diagnose, recordings
from tests.recordings import Drive, Fault

EXAMPLES = CHECKOUT / "notebooks" / "recordings"


@pytest.fixture(scope="module")
def trials():
    """Every invented recording with its answer."""
    return list(bench_diagnose.trials())


@pytest.fixture(scope="module")
def bench():
    """The demo's bench sheet."""
    return sheet.demo().data


def with_idler(bench, teeth):
    """The bench sheet with another idler."""
    idler, axle = bench.as_is.gears
    gears = [idler.model_copy(update={"teeth": teeth}), axle]
    return bench.model_copy(update={"as_is": bench.as_is.model_copy(update={"gears": gears})})


def test_the_shaft_is_right_and_healthy_drives_are_left_alone(trials):
    right, alarms = bench_diagnose.shares(trials)
    print(bench_diagnose.table(trials))
    assert len(trials) >= 200
    assert right >= 0.95
    assert alarms <= 0.03


def test_no_kind_of_record_hides_behind_the_others(trials):
    for kind in bench_diagnose.FAULTS:
        right, alarms = bench_diagnose.shares([one for one in trials if one.kind == kind])
        assert right >= 0.9, kind
        assert alarms <= 0.05, kind


def test_runout_from_the_axles_speed_is_within_a_fifth(trials):
    errors = bench_diagnose.runout_errors(trials, "speed")
    assert len(errors) > 50
    assert np.max(np.abs(errors)) < 0.2
    assert abs(np.median(errors)) < 0.05


def test_runout_from_current_is_within_a_third(trials):
    errors = bench_diagnose.runout_errors(trials, "current")
    assert len(errors) > 30
    assert np.max(np.abs(errors)) < 0.33


# -- the mechanism ----------------------------------------------------------------------


@pytest.mark.parametrize("runout", [20e-6, 100e-6, 250e-6])
def test_the_swing_of_an_axle_gear_is_that_of_a_crossed_belt(bench, runout):
    places = np.linspace(0, 1, 2000)
    speed = recordings.swing(Drive(), runout)(places)
    swing = Train(bench, bench.as_is).swing_of(Shaft("axle", "axle", 1.0), runout)
    assert swing == pytest.approx(np.ptp(speed) / 2, rel=0.01)


def test_the_swing_of_an_idler_and_a_worm_is_that_of_their_flanks(bench):
    train = Train(bench, bench.as_is)
    _, speed = recordings.idler_swing(Drive(), 100e-6)
    assert train.swing_of(Shaft("idler", "idler", 1.5), 100e-6) == pytest.approx(
        np.ptp(speed) / 2, rel=1e-3
    )
    _, speed = recordings.worm_swing(Drive(), 100e-6)
    assert train.swing_of(Shaft("motor", "motor", 30.0), 100e-6) == pytest.approx(
        np.ptp(speed) / 2, rel=1e-3
    )


def test_the_lag_is_that_of_the_rotor_turned_by_the_motor(bench):
    """R J / k^2 of the motor as its readings have it; the rotor near the cylinder of its size."""
    part = known_of(bench).before.motor
    by_hand = part.resistance[0] * part.rotor_inertia[0] / part.torque_constant[0] ** 2
    assert Train(bench, bench.as_is).lag == pytest.approx(by_hand)
    assert by_hand == pytest.approx(bench_diagnose.lag(), rel=0.25)


def test_a_flywheel_hides_the_axle_from_the_current(bench):
    time, value = recordings.current_record(
        np.random.default_rng(3), Drive(), Fault({"axle": 150e-6}), lag=0.06
    )
    wheel = bench.planned.flywheel.model_copy(
        update={"material": "tungsten alloy", "width": bench.planned.flywheel.outside_diameter}
    )
    heavy = bench.as_is.model_copy(update={"flywheel": wheel})
    said = diagnose.diagnose(
        Recording("current", time, value), bench.model_copy(update={"as_is": heavy})
    )
    assert not said.findings
    assert sum("flywheel hides" in words for words in said.not_judged) >= 3


# -- orders -------------------------------------------------------------------------------


def test_turns_follow_a_changing_speed():
    time = np.sort(np.random.default_rng(1).uniform(0, 5, 4000))
    turns = orders.turned(time, 2 * np.pi * (3 + 0.4 * time))
    assert turns == pytest.approx(3 * (time - time[0]) + 0.2 * (time**2 - time[0] ** 2), abs=1e-9)


def test_lines_are_read_where_the_speed_drifts_and_samples_lie_unevenly():
    time = np.sort(np.random.default_rng(2).uniform(0, 8, 3000))
    turns = 2 * time + 0.3 * np.sin(0.8 * time)
    value = 5 + 0.7 * time - 0.02 * time**2
    value += 0.03 * np.sin(2 * np.pi * turns + 1) + 0.01 * np.cos(2 * np.pi * 1.5 * turns)
    found = orders.lines(turns, value, [1.0, 1.5, 2.0])
    assert found.at(1.0)[0] == pytest.approx(0.03, rel=0.02)
    assert found.at(1.5)[0] == pytest.approx(0.01, rel=0.05)
    assert found.at(2.0)[0] < 5e-4


def test_the_mesh_tone_is_that_of_scipys_chirp():
    rate, time = 4000, np.arange(16000) / 4000
    rng = np.random.default_rng(4)
    value = sum(
        signal.chirp(time, n * 90, 4, n * 150, phi=40 * n) / n for n in (1, 2, 3)
    ) + 0.5 * rng.standard_normal(len(time))
    at, tone = orders.mesh_tone(value, rate, 30, 300)
    assert tone == pytest.approx(90 + 15 * at, rel=0.015)


@pytest.mark.parametrize("mains", [50.0, 60.0])
def test_hum_is_taken_out_and_a_passing_tone_is_left(mains):
    rate, time = 4000, np.arange(16000) / 4000
    hum = sum(np.sin(2 * np.pi * n * mains * time + n) for n in (1, 2, 3))
    passing = signal.chirp(time, 80, 4, 260)
    inside = slice(2000, 14000)
    left = orders.without_hum(hum + passing, rate) - passing
    assert np.std(left[inside]) < 0.15 * np.std(hum)
    assert orders.without_hum(passing, rate) == pytest.approx(passing)


def test_a_bad_motor_behind_two_starts_does_not_halve_the_speed():
    rate, time = 4000, np.arange(16000) / 4000
    motor = 2 * np.pi * 54.5 * time
    teeth = np.sin(2 * motor) + 0.6 * np.sin(4 * motor + 1)
    value = teeth * (1 + 0.3 * np.sin(motor)) + 0.1 * np.random.default_rng(5).standard_normal(
        16000
    )
    assert np.median(orders.mesh_tone(value, rate, 30, 300, starts=2)[1]) == pytest.approx(
        109, rel=0.01
    )


# -- what no recording tells ----------------------------------------------------------------


@pytest.mark.parametrize(("teeth", "together"), [(30, "axle or idler"), (15, "rods or idler")])
def test_shafts_that_turn_alike_are_answered_as_such(bench, teeth, together):
    made = recordings.speed_record(
        np.random.default_rng(6),
        Drive(idler=teeth),
        Fault({"axle": 180e-6} if teeth == 30 else {}, 0.02 if teeth == 15 else 0.0),
    )
    said = diagnose.diagnose(Recording("speed", *made), with_idler(bench, teeth))
    assert [found.shaft.name for found in said.findings] == [together]
    assert said.findings[0].total_runout is None
    assert any(
        together in words and "no recording tells them apart" in words for words in said.not_judged
    )


def test_shafts_that_turn_nearly_alike_take_a_longer_record(bench):
    made = recordings.speed_record(
        np.random.default_rng(6), Drive(idler=28), Fault({"axle": 180e-6}), seconds=12, pace=1.5
    )
    said = diagnose.diagnose(Recording("speed", *made), with_idler(bench, 28))
    assert [found.shaft.name for found in said.findings] == ["axle or idler"]
    assert any("it takes 28 turns of known speed" in one for one in said.not_judged)


def test_two_idlers_that_turn_alike_are_one_answer(bench):
    first, last = bench.as_is.gears
    second = first.model_copy(update={"name": "second idler"})
    more = bench.as_is.model_copy(update={"gears": [first, second, last]})
    made = recordings.speed_record(np.random.default_rng(6), Drive(), Fault({"idler": 180e-6}))
    said = diagnose.diagnose(Recording("speed", *made), bench.model_copy(update={"as_is": more}))
    assert [found.shaft.name for found in said.findings] == ["second idler or idler"]
    assert said.findings[0].total_runout is None


def test_a_drive_without_an_idler_is_judged(bench):
    alone = bench.as_is.model_copy(update={"gears": bench.as_is.gears[-1:]})
    made = recordings.speed_record(np.random.default_rng(6), Drive(), Fault({"axle": 180e-6}))
    said = diagnose.diagnose(Recording("speed", *made), bench.model_copy(update={"as_is": alone}))
    assert said.shafts == ("axle",)


@pytest.mark.parametrize("shaft", ["axle", "idler", "rods"])
def test_a_long_sound_is_as_sharp_as_a_short_one(bench, shaft):
    made = recordings.sound_record(
        np.random.default_rng(1), Drive(), {shaft: 0.25}, seconds=25, rate=4000
    )
    said = diagnose.diagnose(Recording("sound", *made), bench)
    assert said.shafts == (shaft,)
    assert said.findings[0].swing == pytest.approx(0.25, rel=0.25)


def test_a_phones_own_rate_and_small_speaker_do_not_matter(bench):
    rate = 44_100
    time, value = recordings.sound_record(
        np.random.default_rng(10), Drive(), {"axle": 0.3}, rate=rate, hum=0.02
    )
    thin = signal.sosfilt(signal.butter(2, 200, "high", fs=rate, output="sos"), value)
    assert diagnose.diagnose(Recording("sound", time, thin), bench).shafts == ("axle",)


def test_a_sound_cannot_part_the_motor_from_the_teeth_of_a_single_start(bench):
    made = recordings.sound_record(np.random.default_rng(7), Drive(), {"axle": 0.3})
    said = diagnose.diagnose(Recording("sound", *made), bench)
    assert said.shafts == ("axle",)
    assert said.findings[0].total_runout is None
    lines = diagnose.report(said)
    assert any("no scale for runout" in line for line in lines)
    assert any("motor and worm: turns as often as teeth pass" in line for line in lines)


def test_one_bump_a_turn_is_told_from_a_swing(bench):
    for shaft, bump in (("axle bump", True), ("axle", False)):
        made = recordings.sound_record(np.random.default_rng(8), Drive(), {shaft: 0.3})
        assert diagnose.diagnose(Recording("sound", *made), bench).findings[0].bump is bump


def noise(rng, rate=6000, seconds=4):
    """A rush without a tone."""
    return np.arange(rate * seconds) / rate, 0.1 * rng.standard_normal(rate * seconds)


def hum(rng):
    """Mains alone, and a little noise."""
    time, value = noise(rng)
    return time, 0.05 * value + sum(np.sin(2 * np.pi * 50 * n * time) / n for n in (1, 2, 3))


def short(rng):
    """A second and a half of a slow run."""
    return recordings.speed_record(rng, Drive(), Fault({"axle": 150e-6}), seconds=1.5, pace=1.5)


def stopped(rng):
    """A run with a rest in it."""
    time, value = recordings.speed_record(rng, Drive(), Fault())
    return time, np.where(time > 8, 0, value)


def unloaded(rng):
    """A motor that pulls nothing."""
    return recordings.current_record(rng, Drive(), Fault(), lag=0.06, load=0.0)


def slow_meter(rng):
    """A meter of ten readings a second."""
    return recordings.current_record(rng, Drive(), Fault(), lag=0.06, rate=10.0, seconds=20)


@pytest.mark.parametrize(
    ("make", "kind", "why", "better"),
    [
        (noise, "sound", "does not stand out", "breadth from the gearbox"),
        (hum, "sound", "does not stand out|mains hum", "breadth from the gearbox"),
        (noise, "current", "does not stand out|hardly more", "record"),
        (short, "speed", "turns of the axle", "record longer"),
        (stopped, "speed", "stands still", "record a steady run"),
        (unloaded, "current", "hardly more than the motor takes alone", "record while it pulls"),
        (slow_meter, "current", "10 samples a second are too few", "are wanted"),
    ],
)
def test_what_cannot_be_told_is_said_with_a_better_way(bench, make, kind, why, better):
    for seed in range(3):
        made = make(np.random.default_rng(seed))
        if kind == "current" and make is noise:
            made = made[0], 0.2 + 0.05 * made[1]
        with pytest.raises(CannotTell, match=why) as refused:
            diagnose.diagnose(Recording(kind, *made), bench)
        assert better in str(refused.value)
        assert "\n" not in str(refused.value)


def test_a_record_too_coarse_for_the_motor_still_judges_the_axle(bench):
    made = recordings.speed_record(
        np.random.default_rng(9), Drive(), Fault({"axle": 180e-6}), rate=40.0, seconds=15
    )
    said = diagnose.diagnose(Recording("speed", *made), bench)
    assert said.shafts == ("axle",)
    assert said.not_judged == ("motor and worm: too quick for 40 readings a second.",)


# -- the command ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "verdict"),
    [
        ("hops_once_a_turn.wav", "At fault: axle (sound"),
        ("runs_true.wav", "No shaft stands out (sound"),
        ("axle_speed.csv", "At fault: axle (speed"),
    ],
)
def test_the_recordings_to_try_say_what_their_page_promises(name, verdict, capsys):
    assert (EXAMPLES / name).stat().st_size < 100_000
    assert f"`{name}`" in (EXAMPLES / "README.md").read_text("utf-8")
    assert diagnose.main(EXAMPLES / name, sheet.DEMO) == 0
    assert capsys.readouterr().out.startswith(verdict)


def test_the_answer_gives_micrometers_and_thousandths_and_the_next_test(capsys):
    assert diagnose.main(EXAMPLES / "axle_speed.csv", sheet.DEMO) == 0
    out = capsys.readouterr().out
    assert "µm" in out and "thou)" in out
    assert "By hand: Loosen the gearbox cover" in out
    assert "Power off before fingers go near" in out


def test_a_run_after_the_rebuild_is_judged_by_the_plan(bench):
    record = read(EXAMPLES / "axle_speed.csv")
    assert diagnose.diagnose(record, bench, planned=True).shafts == ("axle",)


def test_cannot_tell_is_1_and_one_line(tmp_path, capsys):
    rows = "".join(f"{n / 100},{120 + n % 3}\n" for n in range(100))
    (tmp_path / "run.csv").write_text("time,speed\n" + rows, "utf-8")
    assert diagnose.main(tmp_path / "run.csv", sheet.DEMO) == 1
    line = capsys.readouterr().err
    assert line.startswith(
        f"mechkit: cannot tell from {tmp_path / 'run.csv'}: the record holds 2.0 turns"
    )
    assert line.count("\n") == 1


@pytest.mark.parametrize(("starts", "multiple"), [(1, 3), (2, 3), (3, 1)])
def test_lines_at_thirds_are_the_tone_s_own_unless_the_worm_has_three_starts(starts, multiple):
    """Then a bad motor may put them there, and the teeth's tone is the one found."""
    pitch = np.arange(0.0, 2000.0)
    raised = np.zeros((4, len(pitch)))
    raised[:, 100::100] = 20.0
    assert orders._overtone(pitch, raised, np.full(4, 300.0), 20.0, starts) == multiple
    raised[:, 100::100] = 0.0
    raised[:, 300::300] = 20.0
    assert orders._overtone(pitch, raised, np.full(4, 300.0), 20.0, starts) == 1
