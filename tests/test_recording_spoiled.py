"""Hundreds of spoiled recordings: an answer or one line, in bounded memory, and no traceback."""

import os
import subprocess
import sys
import warnings

import numpy as np
import pytest

from mechkit.drive import sheet
from mechkit.drive.diagnosis import diagnose, recording
from mechkit.launch import CHECKOUT
from tests import recordings
from tests.recordings import Drive
from tests.spoiled_recordings import (
    riff,
    spoiled_bytes,
    spoiled_numbers,
    spoiled_sound,
    spoiled_table,
)

#: Memory that a spoiled recording may take over what the libraries take [bytes].
MOST = 300e6
COUNT = 400


def spoiled(seed, sound, tables):
    """One spoiled recording, by its number."""
    rng = np.random.default_rng(seed)
    match seed % 4:
        case 0:
            whole = riff(np.round(sound * 30_000).astype("<i2").tobytes(), rate=4000)
            return spoiled_bytes(rng, whole)
        case 1:
            return spoiled_sound(rng, sound)
        case 2:
            return spoiled_numbers(rng)
        case _:
            table = tables[seed // 4 % 2]
            if seed // 8 % 4:
                return spoiled_table(rng, table)
            return spoiled_bytes(rng, "\n".join(table).encode())


def judged(path, data):
    """The answer to a recording, in lines; or the one line why there is none."""
    try:
        return diagnose.report(diagnose.diagnose(recording.read(path), data))
    except (recording.RecordingError, diagnose.CannotTell) as error:
        return [str(error)]


def judge_all(folder, seeds):
    """Judge them all; how many were answered."""
    warnings.simplefilter("error")
    data = sheet.demo().data
    _, sound = recordings.sound_record(
        np.random.default_rng(3), Drive(), {"idler": 0.3}, rate=4000, seconds=2.4
    )
    sound /= np.max(np.abs(sound))
    speed = sheet.DEMO.parent / "recordings" / "axle_speed.csv"
    lines = speed.read_text("utf-8").splitlines()[1:]
    time, current = recordings.current_record(
        np.random.default_rng(3), Drive(), recordings.Fault(), lag=0.01, seconds=6.0, load=0.2
    )
    tables = [
        [lines[0], *lines[1::4]],
        ["time [s],current [A]", *(f"{t:.3f},{a:.4f}" for t, a in zip(time, current, strict=True))],
    ]
    answered, path = 0, folder / "spoiled"
    for seed in seeds:
        path.write_bytes(spoiled(seed, sound, tables))
        try:
            said = judged(path, data)
        except BaseException:
            print(f"seed {seed}", file=sys.stderr)
            raise
        assert said and all(line and "\n" not in line for line in said), (seed, said)
        answered += len(said) > 1 or said[0].startswith("No shaft")
    return answered


ALONE = """
import resource, sys
from pathlib import Path
from tests.test_recording_spoiled import COUNT, judge_all
folder = Path(sys.argv[1])
judge_all(folder, [0, 1, 2, 3])
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
answered = judge_all(folder, range(COUNT))
print(answered, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="memory is counted otherwise elsewhere")
def test_spoiled_recordings_are_answered_or_refused_in_bounded_memory(tmp_path):
    done = subprocess.run(
        [sys.executable, "-c", ALONE, str(tmp_path)], cwd=CHECKOUT, capture_output=True,
        text=True, timeout=300, env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-1500:]
    answered, grown = map(int, done.stdout.split())
    assert 1024 * grown < MOST
    assert COUNT / 10 < answered < COUNT * 0.9, (
        "hardly any was spoiled, or all of them beyond reading"
    )


@pytest.mark.skipif(sys.platform == "linux", reason="done there with an eye on the memory")
def test_spoiled_recordings_are_answered_or_refused(tmp_path):
    assert judge_all(tmp_path, range(COUNT))
