"""Reading takes: formats, channels, rates, and files that are no sound."""

import numpy as np
import pytest
import soundfile

from reedchord.acoustics.sound_reading import read_sound
from reedchord.errors import InputError, RequestError
from takes import held, write

TAKE = held(seconds=0.6)


@pytest.mark.parametrize("suffix", ["wav", "flac", "ogg"])
@pytest.mark.parametrize("rate_hz", [22_050, 44_100, 48_000])
def test_formats_and_rates(tmp_path, suffix, rate_hz):
    read = read_sound(write(tmp_path / f"take.{suffix}", TAKE, rate_hz))
    assert (read.rate_hz, read.channels, read.clipped_runs) == (rate_hz, 1, 0)
    assert read.seconds == pytest.approx(len(TAKE) / rate_hz)
    # Vorbis keeps the sound, not the samples.
    assert np.corrcoef(read.samples, TAKE)[0, 1] > 0.99


def test_stereo_is_the_mean_of_both_channels(tmp_path):
    read = read_sound(write(tmp_path / "two.wav", np.stack([TAKE, TAKE / 2], axis=1)))
    assert read.channels == 2
    assert read.samples == pytest.approx(0.75 * TAKE, abs=1e-4)


def test_channels_that_would_cancel_are_not_added(tmp_path):
    read = read_sound(write(tmp_path / "two.wav", np.stack([TAKE, -TAKE], axis=1)))
    assert read.is_one_channel_left_out
    assert read.samples == pytest.approx(TAKE, abs=1e-4)


def test_clipping_is_noticed_and_a_loud_low_tone_is_none(tmp_path):
    assert read_sound(write(tmp_path / "a.wav", np.clip(6 * TAKE, -0.9, 0.9))).clipped_runs > 20
    low = 0.99 * np.sin(2 * np.pi * 55 * np.arange(44_100) / 44_100)
    assert read_sound(write(tmp_path / "b.wav", low)).clipped_runs == 0


def test_samples_that_are_no_numbers_are_silent(tmp_path):
    samples = TAKE.copy()
    samples[1000:1003] = np.nan, np.inf, -np.inf
    soundfile.write(tmp_path / "take.wav", samples, 44_100, subtype="FLOAT")
    read = read_sound(tmp_path / "take.wav").samples
    assert np.all(read[1000:1003] == 0)
    assert np.delete(read, range(1000, 1003)) == pytest.approx(
        np.delete(TAKE, range(1000, 1003)), abs=1e-6
    )


def test_a_part_of_a_take(tmp_path):
    path = write(tmp_path / "take.wav", TAKE)
    part = read_sound(path, from_seconds=0.2, to_seconds=0.5)
    assert part.samples == pytest.approx(TAKE[8820:22_050], abs=1e-4)


def test_what_is_no_sound_is_told_with_its_path(tmp_path):
    text = tmp_path / "take.wav"
    text.write_text("a letter", encoding="utf-8")
    with pytest.raises(InputError, match=r"take\.wav: this cannot be read as sound") as no_sound:
        read_sound(text)
    assert no_sound.value.code == "take.no-sound"
    with pytest.raises(InputError, match="there is no such file"):
        read_sound(tmp_path / "nothing.wav")
    with pytest.raises(InputError, match="is a folder"):
        read_sound(tmp_path)


def test_too_short_and_too_long_are_told(tmp_path):
    with pytest.raises(RequestError, match=r"0\.05 s of sound, too short"):
        read_sound(write(tmp_path / "short.wav", TAKE[:2205]))
    with pytest.raises(RequestError, match="too short"):
        read_sound(write(tmp_path / "take.wav", TAKE), from_seconds=5)
    with pytest.raises(RequestError, match="61 s of sound") as long:
        read_sound(write(tmp_path / "long.wav", np.zeros(61 * 8000), 8000))
    assert "--from" in str(long.value)
