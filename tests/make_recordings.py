"""Write the invented recordings that lie beside the notebooks: ``python3 -m tests.make_recordings``."""

from pathlib import Path

import numpy as np
from scipy.io import wavfile

from tests.recordings import Drive, Fault, sound_record, speed_record

FOLDER = Path(__file__).parents[1] / "notebooks" / "recordings"
RATE = 8000


def sound(name, seed, depths):
    """A phone's sound, 16 bits."""
    _, value = sound_record(np.random.default_rng(seed), Drive(), depths, seconds=5.0, rate=RATE)
    wavfile.write(FOLDER / name, RATE, np.round(value * 32767).astype(np.int16))


def speed(name, seed, fault):
    """Axle speed against time, as an optical pick-up on a wheel gives it."""
    time, value = speed_record(np.random.default_rng(seed), Drive(), fault, seconds=8.0, rate=200.0)
    rows = [f"{t:.3f},{v * 30 / np.pi:.2f}" for t, v in zip(time, value, strict=True)]
    head = [
        "# Invented: made by tests/make_recordings.py, no engine ran.",
        "time [s],axle speed [rpm]",
    ]
    (FOLDER / name).write_text("\n".join(head + rows) + "\n", "utf-8")


def main():
    """All of them."""
    FOLDER.mkdir(exist_ok=True)
    sound("hops_once_a_turn.wav", 17, {"axle": 0.3})
    sound("runs_true.wav", 18, {})
    speed("axle_speed.csv", 19, Fault({"axle": 152e-6, "idler": 15e-6}))
    (FOLDER / "README.md").write_text(
        "# Recordings to try\n\n"
        "All three are invented: computed by `python3 -m tests.make_recordings`; no engine ran.\n"
        "They belong to `ten_wheeler.toml`, and `python3 -m mechkit diagnose RECORDING SHEET` "
        "reads them.\n\n"
        "| file | what it stands for |\n|---|---|\n"
        "| `hops_once_a_turn.wav` | sound, the axle at fault |\n"
        "| `runs_true.wav` | sound, nothing at fault |\n"
        "| `axle_speed.csv` | axle speed, an axle gear of 0.152 mm (6 thou) total runout |\n",
        "utf-8",
    )


if __name__ == "__main__":
    main()
