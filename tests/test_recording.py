"""Recordings: read as another reader reads them, or refused in one line."""

import os
import struct
import subprocess
import sys
import tracemalloc
import warnings
from pathlib import Path

import numpy as np
import pytest
import scipy.io
from scipy.io import wavfile

from mechkit.drive import sheet
from mechkit.drive.diagnosis import diagnose, limits
from mechkit.drive.diagnosis.recording import RecordingError, read
from mechkit.launch import CHECKOUT
from tests import recordings
from tests.recordings import Drive
from tests.spoiled_recordings import riff

#: Sounds that ship with SciPy for its own tests.
SOUNDS = Path(scipy.io.__file__).parent / "tests" / "data"
READ_ALIKE = [
    "test-44100Hz-2ch-32bit-float-le.wav",
    "test-44100Hz-le-1ch-4bytes.wav",
    "test-48000Hz-2ch-64bit-float-le-wavex.wav",
    "test-8000Hz-le-2ch-1byteu.wav",
]


@pytest.mark.skipif(not SOUNDS.is_dir(), reason="SciPy came without its tests")
@pytest.mark.filterwarnings("ignore:Chunk .non-data.")
@pytest.mark.parametrize("name", READ_ALIKE)
def test_sounds_are_read_as_scipy_reads_them(name):
    rate, theirs = wavfile.read(SOUNDS / name)
    full = 128 if theirs.dtype == np.uint8 else 1 if theirs.dtype.kind == "f" else 2.0**31
    theirs = theirs.reshape(len(theirs), -1).astype(float) / full
    theirs = theirs[:, np.argmax(theirs.std(axis=0))]
    ours = read(SOUNDS / name)
    assert ours.rate == pytest.approx(rate)
    assert ours.value == pytest.approx(theirs - theirs.mean(), abs=1e-9)


@pytest.mark.skipif(not SOUNDS.is_dir(), reason="SciPy came without its tests")
@pytest.mark.parametrize("path", sorted(SOUNDS.glob("*.wav")), ids=lambda p: p.stem)
def test_odd_sounds_are_read_or_refused_in_one_line(path):
    try:
        assert np.all(np.isfinite(read(path).value))
    except RecordingError as error:
        assert "\n" not in str(error)


def test_24_bits_are_read_as_scipy_reads_them(tmp_path):
    whole = np.round(np.sin(np.arange(400) / 9) * 0.8 * 2**23).astype(int)
    data = b"".join(struct.pack("<i", n)[:3] for n in whole)
    (tmp_path / "a.wav").write_bytes(riff(data, bits=24))
    theirs = wavfile.read(tmp_path / "a.wav")[1] / 2.0**31
    assert read(tmp_path / "a.wav").value == pytest.approx(theirs - theirs.mean(), abs=1e-9)


TONE = np.round(20000 * np.sin(np.arange(8000) / 5)).astype("<i2").tobytes()
RUN = "".join(f"{n / 100},{60 + n % 7}\n" for n in range(100))
JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00" + bytes(range(256)) * 40
BROKEN = {
    "empty.wav": (b"", "is empty"),
    "header only.wav": (riff(b""), "holds no sound"),
    "cut.wav": (riff(TONE)[:30], "damaged"),
    "silent.wav": (riff(bytes(16000)), "is silent"),
    "clipped.wav": (riff(np.clip(np.frombuffer(TONE, "<i2") * 3.0, -32768, 32767).astype("<i2").tobytes()), "clipped"),
    "nan.wav": (riff(np.full(500, np.nan, "<f4").tobytes(), code=3, bits=32), "no numbers"),
    "huge.wav": (riff(np.full(500, 1e306, "<f8").tobytes(), code=3, bits=64), "far too large"),
    "slow.wav": (riff(TONE, rate=7), "7 samples a second"),
    "zero.wav": (riff(TONE, rate=0), "0 samples a second"),
    "mad.wav": (riff(TONE, rate=2**32 - 1), "samples a second"),
    "no channel.wav": (riff(TONE, channels=0), "0 channels"),
    "many.wav": (riff(TONE, channels=4000), "4000 channels"),
    "packed.wav": (riff(TONE, code=85), "compressed"),
    "picture.wav": (JPEG, "neither a WAV nor a CSV"),
    "picture.csv": (JPEG, "neither a WAV nor a CSV"),
    "utf16.csv": (("time,speed\n" + RUN).encode("utf-16"), "neither a WAV nor a CSV"),
    "latin.csv": ("time,speed,größe\n".encode("latin-1"), "UTF-8"),
    "empty.csv": (b"\n\n", "is empty"),
    "head.csv": (b"time,speed\n", "has 0 readings"),
    "few.csv": (b"time,speed\n0,1\n1,2\n", "has 2 readings"),
    "no head.csv": (RUN.encode(), "first line with the columns"),
    "no time.csv": (("stamp,speed\n" + RUN).encode(), "first line with the columns"),
    "no value.csv": (("time,weight\n" + RUN).encode(), "first line with the columns"),
    "unit.csv": (("time [s],speed [furlong]\n" + RUN).encode(), "furlong"),
    "huge.csv": (("time,speed\n" + RUN + "1.00,1e306\n").encode(), "line 102: has a value beyond all measure"),
    "nano.csv": (("time [ns],current\n" + RUN).encode(), "readings a second, by its times: write their unit"),
    "days.csv": (("time [day],current\n" + RUN).encode(), "has 1 readings in its first minute"),
    "beyond.csv": (("time [day],current\n" + RUN + "1e308,7\n").encode(), "line 102: has a value beyond all measure"),
    "back.csv": (("time,speed\n" + RUN + "0.5,60\n").encode(), "line 102: the time does not go on"),
    "same.csv": (("time,speed\n" + RUN + "0.99,60\n").encode(), "line 102"),
    "comma.csv": (("time;speed\n" + "0,01;60,5\n" * 80).encode(), "line 2: has decimal commas"),
    "commas.csv": (("time,speed\n" + "0,01,60,5\n" * 80).encode(), "are those decimal commas"),
    "words.csv": (("time,speed\n" + RUN + "1.00,fast\n").encode(), "line 102: has a cell that is no number"),
    "nan.csv": (("time,speed\n" + RUN + "1.00,nan\n").encode(), "line 102: has a value that is no finite"),
    "missing.csv": (("time,speed\n" + RUN + "1.00\n").encode(), "line 102: has 1 columns, not 2"),
}  # fmt: skip


@pytest.mark.parametrize("name", BROKEN)
def test_what_is_no_recording_is_said_in_one_line(name, tmp_path, capsys):
    raw, said = BROKEN[name]
    (tmp_path / name).write_bytes(raw)
    assert diagnose.main(tmp_path / name, sheet.DEMO) == 1
    out, line = capsys.readouterr()
    assert not out
    assert line.startswith(f"mechkit: {tmp_path / name} ")
    assert said in line
    assert line.count("\n") == 1


def test_what_is_no_file_is_said_in_one_line(tmp_path):
    with pytest.raises(RecordingError, match="is a folder, not a recording"):
        read(tmp_path)
    with pytest.raises(RecordingError, match="is not there"):
        read(tmp_path / "run.wav")
    with pytest.raises(RecordingError, match="null"):
        read("run\0.wav")
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe.wav")
        with pytest.raises(RecordingError, match="not an ordinary file"):
            read(tmp_path / "pipe.wav")


@pytest.mark.parametrize("name", ["long.wav", "long.csv"])
def test_a_gigabyte_is_refused_unread(name, tmp_path, capsys):
    with (tmp_path / name).open("wb") as file:
        file.write(riff(TONE, said=2**32 - 1) if name.endswith("wav") else b"time,speed\n0,60\n")
        file.truncate(2**30)
    tracemalloc.start()
    assert diagnose.main(tmp_path / name, sheet.DEMO) == 1
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert most < 20_000_000  # the bench sheet's own
    line = capsys.readouterr().err
    assert "larger than 50 MB: cut it" in line and line.count("\n") == 1


def test_a_header_with_another_rate_does_not_change_the_shaft(tmp_path):
    """Everything sounds lower alike: the shaft is reckoned from the teeth; only the rpm is off."""
    _, value = recordings.sound_record(np.random.default_rng(3), Drive(), {"idler": 0.3}, rate=8000)
    whole = np.round(value / np.max(np.abs(value)) * 26_000).astype("<i2")
    said, wrong = {}, 44_100 / 48_000
    for rate in (8000, round(8000 * wrong)):
        (tmp_path / "a.wav").write_bytes(riff(whole.tobytes(), rate=rate))
        said[rate] = diagnose.diagnose(read(tmp_path / "a.wav"), sheet.demo().data)
    true, lying = said.values()
    assert true.shafts == lying.shafts == ("idler",)
    assert lying.slowest == pytest.approx(wrong * true.slowest, rel=0.05)


def test_a_table_too_large_says_so(tmp_path):
    (tmp_path / "long.csv").write_bytes(b"time,speed\n" + b"0.001,100\n" * 500_000)
    with pytest.raises(RecordingError, match="larger than 5 MB, too much for a table"):
        read(tmp_path / "long.csv")


@pytest.mark.skipif(sys.platform != "linux", reason="the limit is Linux's")
def test_the_largest_file_that_is_read_stays_within_memory(tmp_path):
    import resource  # Linux and its kin alone

    path = tmp_path / "long.wav"
    path.write_bytes(riff(TONE * (limits.LARGEST // len(TONE) - 1), rate=192_000))
    code = (
        "import sys; from mechkit.drive.diagnosis import recording;"
        "r = recording.read(sys.argv[1]); print(r.duration, r.notes)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(path)],
        cwd=CHECKOUT,
        capture_output=True,
        text=True,
        env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (2 * 10**9, 2 * 10**9)),
    )
    assert done.returncode == 0, done.stderr[-300:]
    assert "Only the first 60 s" in done.stdout


def test_a_header_that_promises_too_much_gives_what_is_there(tmp_path):
    (tmp_path / "a.wav").write_bytes(riff(TONE, said=2**32 - 1))
    assert len(read(tmp_path / "a.wav").time) == 8000


def test_stereo_and_8_bits_are_read_with_a_word(tmp_path):
    both = np.zeros((8000, 2), np.uint8) + 128
    both[:, 1] += np.round(90 * np.sin(np.arange(8000) / 5)).astype(np.int8).view(np.uint8)
    wavfile.write(tmp_path / "a.wav", 8000, both)
    got = read(tmp_path / "a.wav")
    assert got.value.std() == pytest.approx(90 / 128 / np.sqrt(2), rel=0.02)
    assert [note.split()[0] for note in got.notes] == ["Of", "8"]


@pytest.mark.parametrize(
    ("head", "kind", "factor"),
    [
        ("time [ms],current [mA]", "current", 1e-3),
        ("Time (ms);Current (mA)", "current", 1e-3),
        ("time [ms]\taxle speed [rpm]", "speed", np.pi / 30),
        ("\ufefftime [ms],speed", "speed", np.pi / 30),
        ("# a remark\n\ntime [ms],wheel speed [rad/s]", "speed", 1.0),
    ],
)
def test_columns_come_in_units(head, kind, factor, tmp_path):
    mark = next(one for one in ";\t," if one in head)
    rows = "\r\n".join(f"{n * 10}{mark}{-50 - n}" for n in range(100))
    (tmp_path / "a.csv").write_text(f"{head}\r\n{rows}\r\n", "utf-8")
    got = read(tmp_path / "a.csv")
    assert got.kind == kind
    assert got.time[-1] == pytest.approx(0.99)
    # Run backward, a meter shows less than nothing.
    assert got.value[3] == pytest.approx(53 * factor)


def test_no_warning_escapes(tmp_path):
    (tmp_path / "a.wav").write_bytes(riff(TONE))
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        read(tmp_path / "a.wav")
