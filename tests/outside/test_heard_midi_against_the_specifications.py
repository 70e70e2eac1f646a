"""MIDI of what is heard, against the arithmetic of the specifications, read back with mido.

MIDI Polyphonic Expression (RP-053): RPN 6 on the first channel tells how many member channels
follow; RPN 0 the range of bends. MIDI 1.0: pitch bend has 14 bits, 8192 in the middle, and
reaches over two semitones after power-up. MIDI Tuning Standard: key = 69 + 12 · log2(f / 440).
All from memory.
"""

import io
import math

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.acoustics.synthesis import SoundedTone
from reedchord.errors import RequestError
from reedchord.saxophones import saxophone
from reedchord.sounding.hear_midi import midi_bytes
from reedchord.sounding.hearing import Hearing

HALF_A_STEP_CENTS = 200 / 8192 / 2
TICKS_PER_SECOND = 960


def tone(hz, onset=0.0, seconds=1.0, level_db=0.0, course=()):
    return SoundedTone(hz, onset, seconds, level_db, course=course)


def messages(*tones, **fields):
    """Return the messages of a file with their moments in ticks."""
    file = mido.MidiFile(file=io.BytesIO(midi_bytes(Hearing("tern", tones, **fields))))
    assert (file.type, file.ticks_per_beat, len(file.tracks)) == (0, 480, 1)
    now, read = 0, []
    for message in file.tracks[0]:
        now += message.time
        read.append((now, message))
    return read


def sounded(read):
    """Return each note as (channel, onset, end, cents above key 0), bends of its channel in."""
    bends, open_notes, found = {}, {}, []
    for ticks, message in read:
        if message.type == "pitchwheel":
            bends[message.channel] = message.pitch
        elif message.type == "note_on" and message.velocity:
            cents = 100 * message.note + bends[message.channel] * 200 / 8192
            open_notes[message.channel, message.note] = (ticks, cents)
        elif message.type in ("note_off", "note_on"):
            onset, cents = open_notes.pop((message.channel, message.note))
            found.append((message.channel, onset, ticks, cents))
    assert not open_notes
    return found


@given(st.floats(min_value=30, max_value=8_000))
def test_key_and_bend_give_the_frequency(hz):
    ((_, _, _, cents),) = sounded(messages(tone(hz)))
    assert abs(cents - (6900 + 1200 * math.log2(hz / 440))) <= HALF_A_STEP_CENTS + 1e-9


def parameters(read):
    """Return registered parameters as a receiver sets them: (channel, number) to data."""
    chosen, found = {}, {}
    for _, message in read:
        if message.type != "control_change":
            continue
        if message.control in (100, 101):
            chosen[message.channel, message.control] = message.value
        elif message.control == 6:
            number = chosen[message.channel, 101], chosen[message.channel, 100]
            found[message.channel, number] = message.value
    return found


def test_the_zone_and_the_range_of_bends_are_announced():
    read = messages(tone(440), tone(660))
    found = parameters(read)
    assert found[0, (0, 6)] == 15
    channels = {message.channel for _, message in read if message.type == "note_on"}
    assert len(channels) == 2
    assert 0 not in channels
    assert all(found[channel, (0, 0)] == 2 for channel in channels)


def test_tones_that_sound_together_have_channels_of_their_own():
    tones = [tone(200 + 20 * n) for n in range(15)]
    read = messages(*tones)
    assert {channel for channel, *_ in sounded(read)} == set(range(1, 16))


def test_the_drums_of_general_midi_come_last():
    # Channel 10, which is 9 counted from 0 (General MIDI; from memory).
    tones = [tone(200 + 20 * n) for n in range(14)]
    assert 9 not in {channel for channel, *_ in sounded(messages(*tones))}


def test_more_than_fifteen_tones_at_once_are_refused():
    tones = [tone(200 + 20 * n, onset=2) for n in range(16)]
    with pytest.raises(RequestError, match=r"at 2.0 seconds more than 15 tones"):
        messages(*tones)


def test_channels_are_used_again_after_a_tone_has_ended():
    tones = [tone(200 + n, onset=n * 0.5, seconds=0.5) for n in range(60)]
    assert len(sounded(messages(*tones))) == 60


def test_onsets_and_ends_are_kept_to_a_tick():
    ((_, onset, end, _),) = sounded(messages(tone(440, onset=1.25, seconds=0.5)))
    assert (onset, end) == (1.25 * TICKS_PER_SECOND, 1.75 * TICKS_PER_SECOND)


def velocities(read):
    return [message.velocity for _, message in read if message.type == "note_on"]


def test_twelve_decibels_softer_is_half_the_velocity():
    # 40 · log10(velocity / 127) dB (Downloadable Sounds 1; from memory).
    loud, soft = velocities(messages(tone(440), tone(660, level_db=-12)))
    assert (loud, soft) == (64, 32)


def test_a_course_is_told_by_expression():
    read = messages(tone(440, seconds=1, course=((0, -24), (1, 0))))
    told = [m.value for _, m in read if m.type == "control_change" and m.control == 11]
    assert told == sorted(told)
    assert told[0] == pytest.approx(127 / 4, abs=1)
    assert told[-1] > 110


@pytest.mark.parametrize(
    ("name", "program"),
    # General MIDI counts soprano, alto, tenor and baritone saxophone from 65 (from memory).
    [("soprano", 65), ("alto", 66), ("tenor", 67), ("baritone", 68), ("bass", 68)],
)
def test_the_sound_is_that_of_the_saxophone(name, program):
    read = messages(tone(440), saxophone=saxophone(name))
    asked = {message.program + 1 for _, message in read if message.type == "program_change"}
    assert asked == {program}


def test_the_same_hearing_gives_the_same_bytes():
    hearing = Hearing("tern", (tone(440), tone(663.2, 0.5)))
    assert midi_bytes(hearing) == midi_bytes(hearing)


def test_what_no_key_reaches_is_refused():
    with pytest.raises(RequestError, match="outside the keys of MIDI"):
        messages(tone(15_000))
