"""What is heard of a sonority: levels by presence, entries by the record, true cents."""

import math

import pytest

from reedchord.acoustics.synthesis import RATE_HZ, rendered
from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.dynamics import Dynamic
from reedchord.errors import InputError, RequestError
from reedchord.measuring.measure import PRESENT_FROM_DB
from reedchord.placement.style import Manner
from reedchord.sonority_fields import Presence
from reedchord.sounding.hear import Way, WayText, hear_sonority, way_from_text
from reedchord.sounding.hearing import Reading
from samples import HERON, sonority
from truth.heard_pitch import cents_off

BAND = tuple(read_collection(shipped_path(COLLECTION)))

TERN = sonority(
    "tern",
    tones=[
        {"written": "E4-19", "presence": {"p-mf": "faint", "f": "clear"}},
        {"written": "Bqf4+14", "presence": {"p-f": "dominant"}},
        {"written": "G#5-12", "presence": {"p": "absent", "f": "clear"}},
    ],
    build_up=[2, 1, 3],
    dynamics="p-f",
)
HUSH = sonority("hush", tones=[{"written": "C5", "presence": {"p": "absent", "mf-f": "clear"}}])


def heard(record=TERN, **way):
    return hear_sonority(record, Way(**way))


def levels(hearing):
    return [tone.level_db for tone in hearing.tones]


def test_tones_sound_at_concert_pitch_with_their_cents():
    # Written E4 for alto sounds G3, MIDI key 55 (ISO 16: 440 · 2^((key - 69) / 12) Hz).
    tones = heard(dynamic=Dynamic.F).tones
    assert tones[0].frequency_hz == pytest.approx(440 * 2 ** ((55 - 0.19 - 69) / 12))
    assert tones[1].frequency_hz == pytest.approx(440 * 2 ** ((61.5 + 0.14 - 69) / 12))


def test_another_a4_moves_everything():
    tones = heard(dynamic=Dynamic.F, reading=Reading(a4_hz=442)).tones
    assert tones[0].frequency_hz == pytest.approx(442 * 2 ** ((55 - 0.19 - 69) / 12))


def test_tempered_rounds_to_the_keyboard():
    tones = heard(dynamic=Dynamic.F, reading=Reading(is_tempered=True)).tones
    assert [round(69 + 12 * math.log2(t.frequency_hz / 440), 6) for t in tones] == [
        55,
        62,
        71,
    ]


def test_levels_follow_presence():
    assert levels(heard(dynamic=Dynamic.F)) == [-6, 0, -6]
    assert levels(heard(dynamic=Dynamic.P)) == [-18, 0]


def test_an_emphasised_tone_is_louder():
    assert levels(heard(dynamic=Dynamic.F, emphasised=1)) == [3, 0, -6]
    assert levels(heard(HERON, dynamic=Dynamic.MF)) == [-6, -3.5, -6]  # the record's own


def test_what_is_absent_or_unsaid_is_told():
    assert heard(dynamic=Dynamic.P).told == ("tone 3 is absent at p, and not heard",)
    assert heard(dynamic=Dynamic.FF).told == (
        "the record says that tern speaks at p-f, not at ff",
        "nobody has said how prominent tones 1, 2 and 3 are at ff: heard as clear",
    )
    assert levels(heard(dynamic=Dynamic.FF)) == [-6, -6, -6]


def test_without_a_mark_it_is_mf_or_the_nearest_that_is_possible():
    assert heard(HERON).told[0] == "no dynamic is named: heard at mf"
    quiet = sonority("quiet", "C5", dynamics="pp-p")
    assert heard(quiet).told[0] == "no dynamic is named: heard at p"
    assert heard(quiet, manner=Manner.VERY_SOFT).told[0] == "no dynamic is named: heard at pp"


def test_softer_marks_are_softer_and_none_is_louder_than_ff():
    below = [heard(HERON, dynamic=mark).below_loudest_db for mark in Dynamic]
    assert below == sorted(below, reverse=True)
    assert heard(HERON, dynamic=Dynamic.FFFF).below_loudest_db == 0


def test_tones_enter_in_the_order_of_the_record():
    tones = heard(dynamic=Dynamic.F, build_up=True, seconds=6).tones
    assert [tone.onset_seconds for tone in tones] == [2, 0, 4]
    assert {tone.onset_seconds + tone.duration_seconds for tone in tones} == {6}


def test_a_tone_that_is_absent_leaves_no_gap_in_a_build_up():
    tones = heard(dynamic=Dynamic.P, build_up=True, seconds=6).tones
    assert [tone.onset_seconds for tone in tones] == [4, 0]


def test_a_slap_is_short_and_dies_away():
    (tone, *_) = heard(dynamic=Dynamic.F, manner=Manner.SLAP).tones
    assert tone.duration_seconds == 0.5
    assert tone.timbre.decay_seconds < 0.5
    assert tone.timbre.burst_db > 0


@pytest.mark.parametrize(
    ("record", "way", "code"),
    [
        (HUSH, {"dynamic": Dynamic.P}, "hear.silent"),
        (HERON, {"build_up": True}, "hear.build-up"),
        (TERN, {"build_up": True, "manner": Manner.SLAP}, "hear.slap-build-up"),
    ],
)
def test_what_cannot_be_heard_is_refused(record, way, code):
    with pytest.raises(RequestError) as refused:
        heard(record, **way)
    assert refused.value.code == code


def test_a_way_is_read_from_text():
    typed = WayText("ff", "G#5-12", "Very-Soft", build_up=True, seconds=2.5)
    way = way_from_text(typed, TERN, Reading())
    assert way == Way(Dynamic.FF, 3, Manner.VERY_SOFT, build_up=True, seconds=2.5)
    assert way_from_text(WayText(), TERN, Reading()) == Way()


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        (WayText(at="loud"), "'loud' is no dynamic mark"),
        (WayText(emphasise="9"), "9 is not among the tones of tern"),
        (WayText(emphasise="C2"), "C2 is not among the tones of tern"),
        (WayText(manner="slip"), "'slip' is no way of playing\n  Did you mean slap?"),
    ],
)
def test_text_that_is_no_way_is_refused(typed, sentence):
    with pytest.raises((InputError, RequestError)) as refused:
        way_from_text(typed, TERN, Reading())
    assert sentence in str(refused.value)


def test_the_record_s_own_emphasis_keeps_what_presence_means():
    # `measure` calls dominant what lies within 3 dB of the loudest tone, clear within 12.
    twins = sonority(
        "twins",
        tones=[
            {"written": "C5", "presence": {"f": "dominant"}},
            {"written": "F#5", "presence": {"f": "dominant"}},
            {"written": "D6", "presence": {"f": "clear"}},
            {"written": "A6", "presence": {"f": "faint"}},
        ],
        emphasised=1,
    )
    lowered = [level - 2.5 for level in levels(heard(twins, dynamic=Dynamic.F))]
    bounds = {presence: level for level, presence in PRESENT_FROM_DB}
    for tone, level in zip(twins.tones, lowered, strict=True):
        assert level >= bounds[tone.presence_at(Dynamic.F)]
    assert lowered[2] < bounds[Presence.DOMINANT]
    assert lowered[3] < bounds[Presence.CLEAR]


@pytest.mark.parametrize("record", BAND, ids=lambda record: record.id)
def test_every_invented_sonority_is_measured_back_within_two_cents(record):
    hearing = hear_sonority(record, Way())
    samples = rendered(hearing.tones, peak=hearing.peak)
    tones = [tone.frequency_hz for tone in hearing.tones]
    for hz in tones:
        if not _is_covered(hz, tones):
            assert abs(cents_off(samples, RATE_HZ, hz)) < 2


def _is_covered(hz, tones):
    """Tell whether a partial of another tone lies so near that a spectrum shows one peak."""
    partials = [number * other for other in tones if other != hz for number in range(2, 11)]
    return any(abs(1200 * math.log2(partial / hz)) < 50 for partial in partials)
