"""The search for the mesh tone on sounds that were recorded and not computed: notes of a cello.

Source and license of the sounds: `tests/open_recordings/README.md`.
"""

from pathlib import Path

import numpy as np
import pytest

from mechkit.drive.diagnosis import orders, recording

FOLDER = Path(__file__).parent / "open_recordings"
#: Each note's semitones over A = 440 1/s, as any table of pitches has them.
NOTES = {"C2": -33, "D2": -31, "C3": -21, "C4": -9, "C5": 3}
#: A quarter tone: nearer to this note than to the next, which is what a name promises.
QUARTER_TONE = 2 ** (1 / 24) - 1


@pytest.fixture(scope="module", params=NOTES)
def note(request):
    """A note's sound and its pitch [1/s]."""
    sound = recording.read(FOLDER / f"cello_{request.param}.wav")
    return sound, 440.0 * 2 ** (NOTES[request.param] / 12)


def test_the_sound_is_read_as_it_was_stored(note):
    sound, _ = note
    assert sound.kind == "sound" and sound.rate == pytest.approx(8000)
    assert sound.duration == pytest.approx(1.5, abs=1e-3)
    assert np.abs(sound.value).max() == pytest.approx(0.9, abs=1e-3)


@pytest.mark.parametrize(("lowest", "highest"), [(27, 600), (55, 800)])
def test_the_tone_found_is_the_note_that_was_played(note, lowest, highest):
    """C2 and D2 are louder in their third and fifth harmonic than in themselves."""
    sound, pitch = note
    clean = orders.without_hum(sound.value, sound.rate)
    _, tone = orders.mesh_tone(clean, sound.rate, lowest, highest)
    assert tone == pytest.approx(np.full_like(tone, pitch), rel=QUARTER_TONE)
