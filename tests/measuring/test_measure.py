"""Takes of made-up sound, whose tones are known, measured."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from reedchord.acoustics.spectrum import WINDOW_SECONDS
from reedchord.acoustics.synthesis import SoundedTone, rendered
from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.dynamics import Dynamic
from reedchord.measuring.measure import measure
from reedchord.measuring.measured_tones import compared, taken_tones
from reedchord.saxophones import FAMILY, saxophone
from reedchord.sonority_fields import Presence
from reedchord.sounding.hear import Way, hear_sonority
from takes import RATE_HZ, TONES_HZ, build_up, crescendo, held, sound

ALTO = saxophone("alto")
RESOLUTION_HZ = 4 / WINDOW_SECONDS


def off_cents(measured, heights_hz):
    assert len(measured.tones) == len(heights_hz)
    return [
        1200 * np.log2(tone.frequency_hz / hz)
        for tone, hz in zip(measured.tones, sorted(heights_hz), strict=True)
    ]


@settings(max_examples=15, deadline=None)
@given(
    st.floats(110, 300),
    st.sampled_from([(1.41, 2.23), (1.63, 3.37), (1.29, 2.71), (1.87, 2.6)]),
    st.integers(0, 5),
)
def test_what_is_synthesised_is_measured_within_two_cents(lowest_hz, ratios, seed):
    """Where no tone lies within 21.5 Hz of another's harmonics, which the window cannot part."""
    heights = [lowest_hz, *(lowest_hz * ratio for ratio in ratios)]
    harmonics = [(hz, n * other) for hz in heights for other in heights for n in range(1, 5)]
    assume(all(one == other or abs(one - other) > RESOLUTION_HZ for one, other in harmonics))
    found = measure(sound(held(heights, seed=seed)))
    assert max(map(abs, off_cents(found, heights))) < 2
    for off, tone in zip(off_cents(found, heights), found.tones, strict=True):
        assert abs(off) <= tone.uncertainty_cents + 1  # drift moves the mean by up to a cent


@pytest.mark.parametrize("member", FAMILY.values(), ids=lambda member: member.name)
def test_written_and_concert_pitch_belong_together_on_each_saxophone(member):
    found = measure(sound(held()), saxophone=member)
    for tone in found.tones:
        concert, written = found.concert(tone.frequency_hz), found.written(tone.frequency_hz)
        assert concert.hz() == pytest.approx(tone.frequency_hz, rel=1e-4)
        assert member.concert(written).cents == concert.cents
        assert abs(written.deviation_cents) <= 50


def test_another_a4_moves_all_names_and_no_frequency():
    low, high = (measure(sound(held()), a4_hz=hz) for hz in (440.0, 442.0))
    for one, other in zip(low.tones, high.tones, strict=True):
        assert one.frequency_hz == other.frequency_hz
        gap = low.concert(one.frequency_hz).cents - high.concert(other.frequency_hz).cents
        assert float(gap) == pytest.approx(1200 * np.log2(442 / 440), abs=0.11)


def test_partials_are_ranked_by_level_and_say_which_tone_they_would_be_of():
    found = measure(sound(held()))
    levels = [partial.level_db for partial in found.partials]
    assert levels == sorted(levels, reverse=True)
    assert levels[0] == 0
    for tone in found.tones:
        for number in tone.partials:
            partial = found.partials[number - 1]
            assert partial.tone == tone.number
            assert partial.frequency_hz / tone.frequency_hz == pytest.approx(
                partial.harmonic, rel=0.01
            )


def test_entries_of_a_build_up_lie_within_a_twentieth_of_a_second():
    onsets = (0.2, 1.1, 2.0)
    found = measure(sound(build_up(onsets)), saxophone=ALTO)
    assert found.entries == ((1,), (2,), (3,))
    for tone, onset in zip(found.tones, onsets, strict=True):
        # The attack rises for 0.06 s, so that half of the amplitude comes 0.03 s later.
        assert tone.onset_seconds == pytest.approx(onset + 0.03, abs=0.05)


@pytest.mark.parametrize("late_hz", [693.0, 702.0])
def test_a_late_tone_near_a_twelfth_of_the_first_is_not_pulled_to_it(late_hz):
    """Before it enters, the third harmonic of 233 Hz lies there: 699 Hz."""
    found = measure(sound(build_up((0.1, 1.2, 2.5), 4.0, (233.0, 415.0, late_hz))))
    assert max(map(abs, off_cents(found, (233.0, 415.0, late_hz)))) < 2


def test_a_build_up_from_above():
    found = measure(sound(build_up((2.0, 1.1, 0.2))), saxophone=ALTO)
    assert found.entries == ((3,), (2,), (1,))


def test_a_faint_tone_enters_after_the_burst_of_the_first_attack():
    record = read_collection(shipped_path(COLLECTION))["alto-tide-mill"]
    heard = hear_sonority(record, Way(Dynamic.MF, build_up=True, seconds=4.0))
    found = measure(sound(rendered(heard.tones)), saxophone=record.saxophone)
    assert found.entries == tuple((number,) for number in record.build_up)


def test_tones_that_start_together_are_one_entry():
    [entry] = measure(sound(held())).entries
    assert sorted(entry) == [1, 2, 3]


def test_a_tone_that_enters_late_in_a_level_take_is_present():
    samples = rendered(
        [SoundedTone(hz, on, 4 - on, -3) for hz, on in ((233, 0.1), (415, 1.2), (720, 2.9))]
    )
    found = measure(sound(samples))
    assert [band.name for band in found.bands] == ["as played"]
    assert [len(tone.presence) for tone in found.tones] == [1, 1, 1]
    assert Presence.ABSENT not in [tone.presence[0] for tone in found.tones]


def test_presence_by_thirds_of_a_crescendo():
    levels = ((-18, 0, -6), (0, -6, -18), (-70, -70, 0))
    found = measure(sound(crescendo(levels)), saxophone=ALTO)
    assert [band.name for band in found.bands] == ["soft third", "middle third", "loud third"]
    words = [[str(word) for word in tone.presence] for tone in found.tones]
    assert words[:2] == [["faint", "dominant", "clear"], ["dominant", "clear", "faint"]] or (
        words[:2] == [["clear", "dominant", "clear"], ["dominant", "clear", "faint"]]
    )
    assert words[2][0] == "absent"
    assert words[2][2] == "dominant"


def test_a_level_take_has_one_band_and_says_nothing_about_dynamics():
    [band] = measure(sound(held())).bands
    assert band.name == "as played"


def remarks(samples, **more):
    return " ".join(measure(sound(samples), **more).remarks)


def test_silence_and_noise_have_no_tones():
    assert "silent" in remarks(np.zeros(RATE_HZ))
    noise = 0.1 * np.random.default_rng(4).normal(size=2 * RATE_HZ)
    found = measure(sound(noise))
    assert found.tones == ()
    assert "no tone stands out of the noise" in found.remarks[0]


def test_a_constant_voltage_is_silence():
    assert "silent" in remarks(np.full(RATE_HZ, 0.3))


def test_a_slide_is_measured_and_said_to_wander():
    # Its partials sound one after the other: at no moment do most of them sound.
    moments = np.arange(3 * RATE_HZ) / RATE_HZ
    turns = np.cumsum(300 * 2 ** (moments / 6)) / RATE_HZ
    slide = sum(0.1 * np.sin(2 * np.pi * n * turns) / n for n in range(1, 11))
    found = measure(sound(slide + 1e-4 * np.random.default_rng(1).normal(size=len(slide))))
    assert max(tone.wander_cents for tone in found.tones) > 5


def test_a_tone_is_heard_no_longer_than_the_take():
    found = measure(sound(held(seconds=1.0)[RATE_HZ // 4 : RATE_HZ]))
    assert all(0 < tone.heard_seconds <= 0.75 for tone in found.tones)


def test_noise_louder_than_the_tones_is_told_without_a_minus():
    samples = held(seconds=3.0)
    noise = np.random.default_rng(5).normal(size=len(samples)) * samples.std()
    found = measure(sound(samples + 5 * noise))
    assert found.signal_to_noise_db < 0
    assert "noise lies only 0 dB below the tones: only strong tones" in found.remarks[0]


def test_a_noisy_take_keeps_its_pitches_and_says_what_is_lost():
    samples = held(seconds=3.0)
    noise = np.random.default_rng(5).normal(size=len(samples)) * samples.std()
    found = measure(sound(samples + noise))
    assert "noise lies only" in found.remarks[0]
    for tone in found.tones:
        nearest = min(TONES_HZ, key=lambda hz: abs(hz - tone.frequency_hz))
        assert abs(1200 * np.log2(tone.frequency_hz / nearest)) < 2


def test_a_short_take_says_what_cannot_be_told_apart():
    short = held()[RATE_HZ // 2 : RATE_HZ // 2 + RATE_HZ // 5]
    found = measure(sound(short))
    assert "cannot be told apart" in found.remarks[0]
    assert found.tones[0].frequency_hz == pytest.approx(TONES_HZ[0], rel=2e-3)


def test_hum_is_shown_but_left_out_of_bands_and_entries():
    samples = np.pad(held(), RATE_HZ)
    moments = np.arange(len(samples)) / RATE_HZ
    hum = 0.02 * np.sin(2 * np.pi * 50 * moments) + 0.004 * np.sin(2 * np.pi * 100 * moments)
    found = measure(sound(samples + hum), saxophone=ALTO)
    assert found.tones[0].doubt.startswith("hum of the mains, at 50 Hz")
    assert [tone.doubt for tone in found.tones[1:]] == [None] * 3
    assert sorted(number for entry in found.entries for number in entry) == [2, 3, 4]
    assert len(found.bands) == 1


def test_a_tone_below_the_lowest_note_is_doubted_on_that_saxophone_only():
    samples = held((100.7, 311.5, 640.3))
    assert "below the lowest note" in measure(sound(samples), saxophone=ALTO).tones[0].doubt
    assert measure(sound(samples), saxophone=saxophone("baritone")).tones[0].doubt is None


@pytest.mark.parametrize("partials", [1, 8])
@pytest.mark.parametrize("swing_cents", [15, 30])
def test_vibrato_is_one_tone_at_its_mean(swing_cents, partials):
    """The mean of a sine's swing is where it swings about."""
    moments = np.arange(3 * RATE_HZ) / RATE_HZ
    swing = 2 ** (swing_cents * np.sin(2 * np.pi * 5 * moments) / 1200)
    turns = 2 * np.pi * np.cumsum(600.0 * swing) / RATE_HZ
    found = measure(
        sound(sum(0.1 / number * np.sin(number * turns) for number in range(1, partials + 1)))
    )
    [tone] = found.tones
    off_cents = 1200 * np.log2(tone.frequency_hz / 600)
    assert abs(off_cents) < min(2, tone.uncertainty_cents)
    assert tone.wander_cents == pytest.approx(swing_cents / 2**0.5, rel=0.3)


def test_wide_vibrato_gives_tones_within_its_swing_however_unsure():
    moments = np.arange(3 * RATE_HZ) / RATE_HZ
    turns = np.cumsum(360.0 * 2 ** (60 * np.sin(2 * np.pi * 6 * moments) / 1200)) / RATE_HZ
    samples = sum(0.1 / number * np.sin(2 * np.pi * number * turns) for number in range(1, 9))
    tones = measure(sound(samples)).tones
    assert tones
    assert all(abs(1200 * np.log2(tone.frequency_hz / 360)) < 60 for tone in tones)


def test_two_tones_that_beat_may_be_vibrato_and_that_is_said():
    moments = np.arange(3 * RATE_HZ) / RATE_HZ
    both = sum(np.sin(2 * np.pi * hz * moments) for hz in (1200.0, 1230.0))
    found = measure(sound(0.1 * both))
    assert len(found.tones) == 2
    assert "one tone with vibrato, or two that beat" in " ".join(found.remarks)


@pytest.mark.parametrize("below_db", [20, 10, 0])
def test_how_far_noise_lies_below(below_db):
    """Against the powers that were added: white noise to 22 kHz, of which 10 kHz are looked at."""
    samples = held(seconds=3.0)
    noise = np.random.default_rng(6).normal(size=len(samples))
    noise *= samples.std() * 10 ** (-below_db / 20)
    expected = below_db + 10 * np.log10(22_050 / 10_000)
    assert measure(sound(samples + noise)).signal_to_noise_db == pytest.approx(expected, abs=1.5)


def test_tones_too_near_to_tell_apart_are_not_called_noise():
    near = measure(sound(held((180.0, 187.0, 311.5), (0, 0, -3))))
    assert "noise" not in " ".join(near.remarks)


def test_sonorities_that_are_heard_are_measured_back():
    """Where tones stand well apart, as in these of the demonstration; all are invented."""
    collection = read_collection(shipped_path(COLLECTION))
    for name in ("soprano-halyard", "alto-tide-mill", "tenor-slipway", "baritone-mooring-line"):
        record = collection[name]
        heard = hear_sonority(record, Way(Dynamic.MF))
        samples = rendered(heard.tones)
        tones = taken_tones([measure(sound(samples), saxophone=record.saxophone)])
        found = compared(record, tones)
        assert (found.missing, found.new) == ((), ())
        assert all(abs(cents) < 2 for _, _, cents in found.pairs)
