"""Several takes together, a take beside a record, and tones that somebody picks."""

import pytest

from reedchord.dynamics import parse_dynamic_range
from reedchord.errors import RequestError
from reedchord.measuring.measure import measure
from reedchord.measuring.measured_record import band_marks, measured_record
from reedchord.measuring.measured_tones import chosen_tones, compared, taken_tones
from reedchord.saxophones import saxophone
from reedchord.sonority import Sonority
from samples import sonority
from takes import TONES_HZ, build_up, held, sound

ALTO = saxophone("alto")


def take(shift_cents=0.0, heights_hz=TONES_HZ, seed=0, **more):
    levels = (0, -6, -18)[: len(heights_hz)]
    heights = [hz * 2 ** (shift_cents / 1200) for hz in heights_hz]
    samples = held(heights, levels, seed=seed, seconds=1.2)
    return measure(sound(samples), saxophone=ALTO, **more)


PLAIN = take()
# 180 Hz is concert F#3 -47, 311.5 Hz E flat 4 +2, 640.3 Hz E5 -50; written a sixth higher.
RECORD = sonority("gull", "D#4-47", "C5+2", "C#6-50")


def test_mean_and_spread_of_several_takes():
    shifts = (-6, 0, 6)
    tones = taken_tones([take(cents, seed=9) for cents in shifts])
    assert [tone.found_in for tone in tones] == [(1, 2, 3)] * 3
    for tone, hz in zip(tones, TONES_HZ, strict=True):
        assert tone.frequency_hz == pytest.approx(hz, rel=1e-3)
        # -6, 0 and 6 have a standard deviation of 6.
        assert tone.spread_cents == pytest.approx(6, abs=0.5)


def test_a_tone_that_one_take_lacks():
    tones = taken_tones([PLAIN, take(heights_hz=TONES_HZ[:2])])
    assert [tone.found_in for tone in tones] == [(1, 2), (1, 2), (1,)]
    assert tones[2].spread_cents is None


def test_beside_a_record_that_agrees():
    found = compared(RECORD, taken_tones([PLAIN]))
    assert [number for number, _, _ in found.pairs] == [1, 2, 3]
    assert all(abs(cents) < 2 for _, _, cents in found.pairs)
    assert (found.missing, found.new, found.is_shifted) == ((), (), False)


def test_what_is_missing_and_what_is_new():
    other = sonority("tern", "D#4-40", "F#5", "C#6-50")
    found = compared(other, taken_tones([PLAIN]))
    assert [(number, tone.number) for number, tone, _ in found.pairs] == [(1, 1), (3, 3)]
    assert [cents for _, _, cents in found.pairs] == pytest.approx([-7.3, 0], abs=2)
    assert found.missing == (2,)
    assert [tone.number for tone in found.new] == [2]


@pytest.mark.parametrize("a4_hz", [430.0, 445.0, 466.0])
def test_another_a4_is_found_out(a4_hz):
    """Played at another A4 all tones lie off alike; 466 Hz is a whole tone's half above."""
    found = compared(RECORD, taken_tones([take(a4_hz=440 * 440 / a4_hz)]))
    assert len(found.pairs) == 3
    assert found.is_shifted
    assert found.a4_hz(440.0) == pytest.approx(a4_hz, abs=1)


def test_tones_that_lie_off_each_its_own_way_are_no_tuning():
    other = sonority("plover", "D#4-30", "C5-20", "C#6-50")
    assert not compared(other, taken_tones([PLAIN])).is_shifted


def test_picked_by_number_and_by_partial():
    tones = taken_tones([PLAIN])
    assert chosen_tones(tones, "all", PLAIN) == tones
    assert [tone.label for tone in chosen_tones(tones, "3, 1", PLAIN)] == ["1", "3"]
    second = next(one for one in PLAIN.partials if (one.tone, one.harmonic) == (1, 2))
    [_, octave] = chosen_tones(tones, f"1,p{second.number}", PLAIN)
    assert octave.frequency_hz == pytest.approx(360, rel=1e-3)


@pytest.mark.parametrize("wish", ["4", "1,x", "", "p900", "0"])
def test_a_tone_that_is_not_there_is_told_with_those_that_are(wish):
    with pytest.raises(RequestError, match="is no number of a proposed tone") as none:
        chosen_tones(taken_tones([PLAIN]), wish, PLAIN)
    assert "There are 1, 2, 3 and" in none.value.hint


def record_of(one, **more):
    tones = taken_tones([one])
    data, source = measured_record(
        [one], tones, name="gull", fingering="left 1 2 3 | right 1", **more
    )
    data["source"]["entry"] = source
    return Sonority.model_validate(data)


def test_a_record_is_measured_cites_the_take_and_agrees_with_it():
    record = record_of(PLAIN, set_up="mine: alto, reed 3")
    assert (str(record.evidence), record.set_up) == ("measured", "mine: alto, reed 3")
    assert "the player's own take: take.wav" in str(record.source)
    assert all(abs(cents) < 1 for _, _, cents in compared(record, taken_tones([PLAIN])).pairs)
    assert record.build_up == ()
    assert record.dynamics is None
    assert all(not tone.presence for tone in record.tones)


def test_a_build_up_goes_into_the_record():
    one = measure(sound(build_up((2.0, 0.2, 1.1))), saxophone=ALTO)
    assert record_of(one).build_up == (2, 3, 1)


def test_presence_needs_somebody_to_say_the_dynamics():
    record = record_of(PLAIN, dynamics=parse_dynamic_range("mf"))
    assert [str(tone.presence_at("mf")) for tone in record.tones] == ["dominant", "clear", "faint"]


@pytest.mark.parametrize(
    ("dynamics", "bands", "expected"),
    [
        ("pp-ff", 3, ["pp-p", "mp-mf", "f-ff"]),
        ("p-f", 3, ["p", "mp-mf", "f"]),
        ("p-f", 1, ["p-f"]),
        ("p-mp", 3, ["p", None, "mp"]),
    ],
)
def test_marks_are_divided_among_the_bands(dynamics, bands, expected):
    marks = band_marks(parse_dynamic_range(dynamics), bands)
    assert [mark and str(mark) for mark in marks] == expected
