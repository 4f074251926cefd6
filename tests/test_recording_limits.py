"""What a recording may be: files that phones make, what the sheet's drive cannot do, memory."""

import os
import shutil
import subprocess
import sys
import wave
import zipfile

import numpy as np
import pytest

from mechkit.drive import sheet
from mechkit.drive.diagnosis import diagnose, limits, orders, plausible
from mechkit.drive.diagnosis.diagnose import CannotTell
from mechkit.drive.diagnosis.recording import Recording, RecordingError, read
from mechkit.drive.diagnosis.shafts import Train
from mechkit.launch import CHECKOUT
from tests.spoiled_recordings import riff

DATA = sheet.demo().data
TRAIN = Train(DATA, DATA.as_is)


def record(kind, value, *, rate=200.0, seconds=20.0):
    """An even record of one level, with a little life in it."""
    time = np.arange(int(rate * seconds)) / rate
    return Recording(kind, time, value * (1 + 0.02 * np.sin(2 * np.pi * 1.3 * time)))


# -- files that phones and desks make ----------------------------------------------------

PACKED = {
    "run.m4a": (b"\x00\x00\x00\x20ftypM4A \x00\x00\x02\x00" + bytes(900), "M4A, MP4 or 3GP"),
    "run.3gp": (b"\x00\x00\x00\x18ftyp3gp4" + bytes(900), "M4A, MP4 or 3GP"),
    "run.amr": (b"#!AMR\n" + bytes(range(30, 90)) * 9, "AMR"),
    "run.ogg": (b"OggS\x00\x02" + bytes(900), "OGG"),
    "run.flac": (b"fLaC\x00" + bytes(900), "FLAC"),
    "run.mp3": (b"ID3\x04" + bytes(900), "MP3"),
    "bare.mp3": (b"\xff\xfb\x90\x64" + bytes(900), "MP3"),
    "run.aac": (b"\xff\xf1\x50\x80" + bytes(900), "AAC"),
    "run.caf": (b"caff\x00\x01" + bytes(900), "CAF"),
    "run.aiff": (b"FORM\x00\x00\x10\x00AIFF" + bytes(900), "AIFF"),
    "run.webm": (b"\x1aE\xdf\xa3" + bytes(900), "WebM"),
}


@pytest.mark.parametrize("name", PACKED)
def test_a_phones_own_file_is_refused_with_the_way_to_a_wav(name, tmp_path):
    raw, kind = PACKED[name]
    (tmp_path / name).write_bytes(raw)
    with pytest.raises(RecordingError) as refused:
        read(tmp_path / name)
    said = str(refused.value)
    assert kind in said and "export it as WAV (PCM)" in said and "\n" not in said
    assert said.endswith(f"ffmpeg -i {name} {name.split('.')[0]}.wav")


@pytest.mark.skipif(os.name == "nt", reason="another shell, another way to quote")
def test_the_way_to_a_wav_can_be_pasted_whatever_the_name(tmp_path):
    path = tmp_path / "crawl, 3 V; it's slow.m4a"
    path.write_bytes(PACKED["run.m4a"][0])
    with pytest.raises(RecordingError) as refused:
        read(path)
    assert str(refused.value).endswith(
        """ffmpeg -i 'crawl, 3 V; it'"'"'s slow.m4a' 'crawl, 3 V; it'"'"'s slow.wav'"""
    )


@pytest.mark.skipif(not shutil.which("ffmpeg"), reason="no converter here")
def test_the_way_to_a_wav_leads_there(tmp_path):
    with wave.open(str(tmp_path / "first.wav"), "wb") as file:
        file.setparams((1, 2, 8000, 0, "NONE", ""))
        file.writeframes(np.round(9e3 * np.sin(np.arange(16000) / 5)).astype("<i2").tobytes())
    command = ["ffmpeg", "-loglevel", "error", "-i"]
    subprocess.run([*command, "first.wav", "run.m4a"], cwd=tmp_path, check=True)
    with pytest.raises(RecordingError, match=r"ffmpeg -i run\.m4a run\.wav"):
        read(tmp_path / "run.m4a")
    subprocess.run([*command, "run.m4a", "run.wav"], cwd=tmp_path, check=True)
    assert read(tmp_path / "run.wav").duration == pytest.approx(2.0, rel=0.1)


def test_a_spreadsheet_is_refused_with_the_way_to_a_csv(tmp_path):
    with zipfile.ZipFile(tmp_path / "run.xlsx", "w") as book:
        book.writestr("sheet1.xml", "<c/>")
    with pytest.raises(RecordingError, match=r"is a spreadsheet .*; save its one sheet as CSV"):
        read(tmp_path / "run.xlsx")


# -- what the drive cannot do ------------------------------------------------------------


def test_the_most_is_what_motor_and_voltage_allow():
    """By hand from the demo's sheet: 15100 rpm free at 12 V on a supply of 12 V, 30 to 1."""
    free, volts = DATA.as_is.motor.no_load, DATA.supply.voltage.value
    by_hand = free.speed.value * volts / free.voltage.value / 30
    assert plausible.fastest(TRAIN) == pytest.approx(1.15 * by_hand)
    least = min(one.value for one in DATA.as_is.motor.resistance)
    assert plausible.stalled(TRAIN) == pytest.approx(volts / least)


@pytest.mark.parametrize("rpm", [8000, 20_000, 1e9, 1e300])
def test_a_motors_speed_in_the_axles_column_is_told_with_the_remedy(rpm):
    with pytest.raises(
        CannotTell, match=r"12.0\sV this drive turns.*divide it by the gear ratio, 30;"
    ):
        diagnose.diagnose(record("speed", rpm * np.pi / 30), DATA)


def test_one_reading_far_off_is_told():
    made = record("speed", 10.0)
    made.value[77] = 1e4
    with pytest.raises(CannotTell, match="comes to 95493 rpm"):
        diagnose.diagnose(made, DATA)


def test_milliamperes_in_the_amperes_column_are_told_with_the_remedy():
    with pytest.raises(
        CannotTell, match=r"if it is in milliamperes, name the column current \[mA\]"
    ):
        diagnose.diagnose(record("current", 180.0, rate=500.0), DATA)


@pytest.mark.parametrize(
    ("kind", "value"),
    [("speed", 1.9 * plausible.fastest(TRAIN)), ("current", 1.9 * plausible.stalled(TRAIN))],
)
def test_what_a_strong_supply_could_do_is_not_refused(kind, value):
    assert not plausible.objection(record(kind, value), TRAIN)


@pytest.mark.parametrize("frames", [64, 96, 128, 2000])
def test_a_sound_too_short_for_six_turns_at_full_speed_says_how_long(frames, tmp_path, capsys):
    tone = np.round(2e4 * np.sin(np.arange(frames) / 5)).astype("<i2")
    (tmp_path / "click.wav").write_bytes(riff(tone.tobytes(), rate=48_000))
    assert diagnose.main(tmp_path / "click.wav", sheet.DEMO) == 1
    said = capsys.readouterr().err
    assert "6 turns of the axle, the fewest that will do, take" in said and said.count("\n") == 1


# -- bounded sums ------------------------------------------------------------------------


def test_a_fit_in_parts_is_the_fit_of_the_whole(monkeypatch):
    rng = np.random.default_rng(5)
    turns = np.sort(rng.uniform(0, 70, 5000))
    value = (
        0.3 * np.sin(2 * np.pi * turns + 1)
        + 0.1 * np.cos(3 * np.pi * turns)
        + rng.standard_normal(5000)
    )
    wanted = [1.0, 1.5, 2.0, 3.0]
    waves = np.exp(2j * np.pi * np.outer(turns, wanted))
    place = (turns - turns[0]) / (turns[-1] - turns[0])
    drift = np.cos(np.pi * np.outer(place, np.arange(int(2 * 0.45 * (turns[-1] - turns[0])) + 2)))
    columns = np.hstack([drift, place[:, None], waves.real, waves.imag])
    # A wave that the samples cannot show is held down by this much, as in the sums.
    down = np.sqrt(1e-9 * np.mean(np.sum(columns**2, axis=0))) * np.eye(columns.shape[1])
    whole, wanted_of = np.vstack([columns, down]), np.concatenate([value, np.zeros(len(down))])
    solution = np.linalg.lstsq(whole, wanted_of, rcond=None)[0][-8:]
    for rows in (limits.ROWS, 777, 60):
        monkeypatch.setattr(limits, "ROWS", rows)
        found = orders.lines(turns, value, wanted)
        assert found.amplitude == pytest.approx(np.hypot(solution[:4], solution[4:]), rel=1e-6)


@pytest.mark.parametrize("shape", [(1, 1), (59, 3), (60, 60), (500, 61), (1000, 190)])
def test_sums_in_pieces_are_the_product(shape):
    waves = np.random.default_rng(2).standard_normal(shape)
    assert orders._squared(waves) == pytest.approx(waves.T @ waves, abs=1e-9)


def test_readings_thinned_out_keep_the_swing():
    made = record("speed", 10.0, rate=20_000.0)
    turns, time, _ = diagnose.in_turns(made, TRAIN)
    assert len(time) < len(made.time) / 5
    assert turns[-1] == pytest.approx(20 * 10.0 / (2 * np.pi), rel=0.02)
    swing = orders.lines(turns, np.interp(time, made.time, made.value) / 10.0, [1.0, 2.0])
    assert max(swing.amplitude) < 0.02


LARGEST = """
import pathlib, re, sys
import numpy as np
from mechkit.drive import sheet
from mechkit.drive.diagnosis import diagnose, limits, recording
from tests.spoiled_recordings import riff
path, kind = sys.argv[1:]
if kind == "sound":
    tone = np.round(2e4 * np.sin(np.arange(limits.LARGEST // 4 - 100) / 400)).astype("<i2")
    raw = riff(np.repeat(tone, 2).tobytes(), rate=192_000, channels=2)
else:
    lines = [f"{n / 7000:.4f},{200 + n % 7}" for n in range(358_000)]
    raw = f"time,{kind}\\n".encode() + "\\n".join(lines).encode()
with open(path, "wb") as file:
    file.write(raw)
del raw
try:
    print(diagnose.report(diagnose.diagnose(recording.read(path), sheet.demo().data))[0])
except diagnose.CannotTell as error:
    print(error)
# Its own peak: what the caller of a process has held counts in the other figure.
print(re.search(r"VmHWM:\\s+(\\d+)", pathlib.Path("/proc/self/status").read_text())[1])
"""


@pytest.mark.skipif(sys.platform != "linux", reason="memory is counted otherwise elsewhere")
@pytest.mark.parametrize("kind", ["sound", "speed", "current"])
def test_the_largest_files_are_judged_in_bounded_memory(kind, tmp_path):
    done = subprocess.run(
        [sys.executable, "-c", LARGEST, str(tmp_path / "long"), kind], cwd=CHECKOUT,
        capture_output=True, text=True, timeout=300,
        env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-800:]
    *said, most = done.stdout.splitlines()
    assert len(said) == 1
    assert 1024 * int(most) < 650e6
