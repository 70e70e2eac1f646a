"""How `measure` compares with librosa's pYIN, and how well it does on real notes.

`pytest -m benchmark -s tests/benchmarks/test_measure_ratio.py` prints the tables. librosa brings
a compiler of a hundred megabytes, so it is in the extra `benchmark` and not in CI.
"""

from __future__ import annotations

import time

import numpy as np
import pytest

from reedchord.acoustics.sound_reading import Sound
from reedchord.measuring.measure import measure
from truth.note_mixtures import (
    HEADER,
    development_notes,
    held_out_notes,
    swung_notes,
    tally_of_mixtures,
    tally_of_singles,
    together,
    tones_of,
)
from truth.sampled_saxophones import PATCHES, SOUND_FONT, sound_font_notes

pytestmark = [
    pytest.mark.benchmark,
    pytest.mark.filterwarnings("ignore"),
    pytest.mark.skipif(
        not (SOUND_FONT.exists() and PATCHES.exists()),
        reason="the Debian packages fluid-soundfont-gm and freepats are not installed",
    ),
]
RUNS = 5
RANGE_HZ = (50.0, 2000.0)


def fastest(*functions):
    """Return the least processor time of each in several runs by turns, in seconds.

    By turns, because a shared machine is slow for seconds at a time.
    """
    spent = [[] for _ in functions]
    for _ in range(RUNS):
        for function, own in zip(functions, spent, strict=True):
            start = time.process_time()
            function()
            own.append(time.process_time() - start)
    return map(min, spent)


def test_against_pyin_on_the_same_takes():
    librosa = pytest.importorskip("librosa", reason="librosa is in the extra `benchmark`")
    lowest, highest = RANGE_HZ
    print("\nseconds of processor time; cents against the label of the sample")
    for name in ("Baritone C#3(L)", "Tenor G4(L)", "Alto C5(L)", "Soprano C6(L)"):
        note = next(note for note in sound_font_notes() if note.name == name)
        for seconds in (1.5, 6.0):
            samples = note.lasting(seconds)

            take = Sound("take", samples, note.rate_hz, 1)

            def pyin(samples=samples, rate_hz=note.rate_hz):
                return librosa.pyin(samples, fmin=lowest, fmax=highest, sr=rate_hz)[0]

            pyin()
            theirs, ours = fastest(pyin, lambda take=take: measure(take))
            heard = 6900 + 1200 * np.log2(np.nanmedian(pyin()) / 440) - note.label_cents
            own = min(
                (cents - note.label_cents for cents, _ in tones_of(samples, note.rate_hz)), key=abs
            )
            print(
                f"{name:<18}{seconds:4.1f} s   pYIN {theirs:.3f} ({heard:+.1f})   "
                f"measure {ours:.3f} ({own:+.1f})   {theirs / ours:.0f} times as fast"
            )


def test_real_notes_in_noise():
    sets = {
        "fixed on: sound font, tenor, baritone": development_notes(),
        "fixed on: the same with vibrato": swung_notes(),
        "sound font, all four members": list(sound_font_notes()),
        **held_out_notes(),
    }
    print(f"\n{HEADER}")
    tallies = {}
    for name, notes in sets.items():
        print(tally_of_singles(notes).row(f"{name}, single"))
        for snr_db in (40, 20, 10, 0):
            tallies[name, snr_db] = tally_of_mixtures(notes, snr_db, 100)
            print(tallies[name, snr_db].row(f"{name}, {snr_db} dB"))
    for snr_db in (40, 20, 10, 0):
        held_out = together([tallies[name, snr_db] for name in held_out_notes()])
        print(held_out.row(f"all that were held out, {snr_db} dB"))
