"""Takes of made-up sound, for tests: tones that enter one by one, a crescendo, faults."""

import numpy as np
import soundfile

from reedchord.acoustics.sound_reading import Sound
from reedchord.acoustics.synthesis import SoundedTone, rendered

RATE_HZ = 44_100
TONES_HZ = (180.0, 311.5, 640.3)


def sound(samples, rate_hz=RATE_HZ, name="take.wav"):
    return Sound(name, np.asarray(samples, dtype=float), rate_hz, 1)


def held(heights_hz=TONES_HZ, levels_db=(0, -6, -18), seconds=2.0, seed=0):
    """Return tones that sound together."""
    tones = zip(heights_hz, levels_db, strict=True)
    return rendered([SoundedTone(hz, 0.1, seconds, db) for hz, db in tones], seed=seed)


def build_up(onsets_seconds=(0.2, 1.1, 2.0), end_seconds=3.4, heights_hz=TONES_HZ):
    """Return tones that enter one by one."""
    return rendered(
        [
            SoundedTone(hz, onset, end_seconds - onset, level)
            for hz, onset, level in zip(heights_hz, onsets_seconds, (0, -4, -8), strict=True)
        ]
    )


def crescendo(levels_db, heights_hz=(180.0, 311.5, 733.0), seconds=6.0, range_db=30.0):
    """Return tones whose levels in the three thirds of a crescendo are given."""
    whole = 0.0
    for hz, thirds in zip(heights_hz, levels_db, strict=True):
        plain = rendered([SoundedTone(hz, 0.1, seconds, 0)], seed=int(hz))
        course = np.linspace(0, 1, len(plain))
        level = np.choose(np.minimum((3 * course).astype(int), 2), thirds)
        gain = np.convolve(np.pad(10 ** (level / 20), 2000, "edge"), np.ones(4001) / 4001, "valid")
        whole = whole + plain * gain * 10 ** ((course - 1) * range_db / 20)
    return whole


def write(path, samples, rate_hz=RATE_HZ):
    soundfile.write(path, samples, rate_hz)
    return path
