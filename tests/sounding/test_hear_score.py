"""Scores as they are heard: when, how long, how loud and at which pitch."""

import math
from itertools import pairwise

import pytest

from ensemble_scores import heron_against, with_part
from reedchord.acoustics.sound_writing import SoundFormat
from reedchord.acoustics.synthesis import RATE_HZ, rendered
from reedchord.checks.example import Example
from reedchord.ensemble.ensemble import Tuning, ensemble
from reedchord.ensemble.ensemble_sounds import true_sounds
from reedchord.errors import InputError, RequestError
from reedchord.musicxml.document import read_score
from reedchord.placement.place import place
from reedchord.placement.standing import standing_placements
from reedchord.score_time.tempo import tempo_map
from reedchord.score_time.whole_score import whole_score
from reedchord.sounding.hear_files import heard_bytes
from reedchord.sounding.hear_score import ScoreWish, hear_score
from reedchord.sounding.hearing import PLAIN, Reading
from samples import COLLECTION, HERON, RESTS, at, note, score
from shapes.test_every_shape import SHAPES, placed
from tiny_scores import BELL, tiny_score
from truth.heard_pitch import beats_per_second


def tiny(music, **fields):
    return tiny_score(Example(music, "", **fields))


def heard(data, **wish):
    return hear_score(data, ScoreWish(**wish))


def times(hearing):
    """Return onset and end of every tone, each pair once."""
    return sorted(
        {
            (round(one.onset_seconds, 6), round(one.onset_seconds + one.duration_seconds, 6))
            for one in hearing.tones
        }
    )


def keys(hearing):
    return sorted({round(69 + 12 * math.log2(one.frequency_hz / 440), 4) for one in hearing.tones})


def test_pitches_and_durations_are_those_of_the_ensemble_and_the_tempo():
    data = heron_against(note("D4", 2, type_="half") + note("G3", 2, type_="half"))
    whole = whole_score(read_score(data))
    tempo = tempo_map(whole)
    expected = sorted(
        (
            sound.concert.hz(),
            tempo.seconds(sound.onset_quarters),
            tempo.seconds_between(sound.onset_quarters, sound.end_quarters),
        )
        for sound in true_sounds(whole, standing_placements(whole.score))
    )
    found = sorted((t.frequency_hz, t.onset_seconds, t.duration_seconds) for t in heard(data).tones)
    assert len(found) == 5
    for one, other in zip(found, expected, strict=True):
        assert one == pytest.approx(other)


def test_the_beating_that_tuning_tells_is_heard():
    # Against a D4 of the keyboard the heron's second tone, D4 -36 cents, beats some six times.
    data = heron_against(note("D4", 4, type_="whole"))
    pair = next(p for p in ensemble(read_score(data), Tuning()).pairs if p.tone.tone == 2)
    hearing = heard(data)
    near = [one for one in hearing.tones if abs(one.frequency_hz - 292) < 10]
    assert len(near) == 2
    samples = rendered(near)
    told = pair.beating.beats_per_second
    assert beats_per_second(samples, RATE_HZ) == pytest.approx(told, abs=0.3)


def test_tones_of_a_sonority_are_rich_and_other_notes_plain():
    hearing = heard(heron_against(note("A4", 4, type_="whole")))
    plain = [one for one in hearing.tones if one.timbre == PLAIN]
    assert [round(one.frequency_hz) for one in plain] == [440]
    assert len(hearing.tones) == 4


def test_alone_leaves_the_other_parts_out():
    data = heron_against(note("A4", 4, type_="whole"))
    assert len(heard(data, alone=True).tones) == 3
    assert len(heard(data, parts=["P2"]).tones) == 1


def test_tempered_and_another_a4():
    data = heron_against(note("A4", 4, type_="whole"))
    assert keys(heard(data, reading=Reading(is_tempered=True))) == [55, 62, 69, 71]
    moved = 12 * math.log2(442 / 440)
    assert keys(heard(data, reading=Reading(442, True)))[2] == pytest.approx(69 + moved, abs=1e-4)


def test_tempo_and_ties():
    moments = [0, 0.666667, 2.666667, 5.333333]
    assert times(heard(tiny("mf C5/4 D5/2. | E5/1", tempo=90))) == list(pairwise(moments))
    tie = '<tie type="start"/>', '<tie type="stop"/>'
    first, last = (note("B4", 4, type_="whole", more=sign) for sign in tie)
    assert times(heard(score(first, last))) == [(0, 4)]  # eight quarters at the assumed 120


def test_tones_that_enter_one_by_one_sound_on():
    data = place(
        score(note(quarters=4, type_="whole")),
        [at(1, build_up=True, order=[2, 1, 3], steps=["quarter", "quarter"])],
        COLLECTION,
    ).data
    entries = [(one.onset_seconds, one.duration_seconds) for one in heard(data).tones]
    assert entries == [(0, 2), (0.5, 1.5), (1, 1)]


def test_two_sonorities_in_a_tremolo_take_turns():
    data = place(score(note(quarters=4, type_="whole")), [at(1, tremolo="egret")], COLLECTION).data
    hearing = heard(data)
    heron = HERON.concert(1).hz()
    first = [t for t in hearing.tones if abs(t.frequency_hz - heron) < 1e-6]
    strokes = [one.onset_seconds for one in first]
    step = first[0].duration_seconds
    assert len(strokes) > 2
    assert [b - a for a, b in pairwise(strokes)] == pytest.approx([2 * step] * (len(strokes) - 1))
    ends = [one.onset_seconds + one.duration_seconds for one in hearing.tones]
    assert max(ends) == pytest.approx(2)


def test_a_measured_tremolo_of_one_note_has_its_strokes():
    # Two strokes through a quarter's stem are sixteenths (common practice, no source).
    assert len(heard(tiny("mf C5/4~2 r/2.")).tones) == 4


def test_an_unmeasured_tremolo_goes_eight_times_a_second():
    assert len(heard(tiny("mf C5/4~z r/2.")).tones) == 8


@pytest.mark.parametrize(
    ("wish", "seconds"),
    [
        ({}, [(0, 4), (4, 8), (8, 12)]),
        ({"bars": "2"}, [(0, 4)]),
        ({"bars": "2-3"}, [(0, 4), (4, 8)]),
        ({"bars": "3,1"}, [(0, 4), (4, 8)]),
        ({"repeats": True}, [(0, 4), (4, 8), (8, 12), (12, 16), (16, 20)]),
        ({"repeats": True, "bars": "2"}, [(0, 4), (4, 8)]),
    ],
)
def test_bars_and_repeats(wish, seconds):
    back = '<barline location="right"><repeat direction="backward"/></barline>'
    edits = (
        ('</note></measure><measure number="3"', f'</note>{back}</measure><measure number="3"'),
    )
    data = tiny("mf C5/1 | D5/1 | E5/1", edits=edits)
    assert times(heard(data, **wish)) == seconds


def test_a_note_that_reaches_into_the_excerpt_sounds_from_its_beginning():
    tie = '<tie type="start"/>', '<tie type="stop"/>'
    first, last = (note("B4", 4, type_="whole", more=sign) for sign in tie)
    assert times(heard(score(first, last), bars="2")) == [(0, 2)]


def test_presence_follows_the_dynamic():
    # The bell's third tone is absent at p, faint at mf, clear at f; the second is dominant.
    def third(mark):
        found = [t for t in heard(tiny(f"{mark} bell/1")).tones if t.frequency_hz > 500]
        return found[0].level_db if found else None

    second = {
        mark: max(t.level_db for t in heard(tiny(f"{mark} bell/1")).tones) for mark in ("mf", "f")
    }
    assert third("p") is None
    assert third("mf") - second["mf"] == -20.5
    assert third("f") - second["f"] == -8.5


def test_in_a_crescendo_a_tone_comes_in():
    hearing = heard(tiny("p < bell/1 | ! f C5/1"))
    upper = next(t for t in hearing.tones if abs(t.frequency_hz - BELL.concert(3).hz()) < 1e-6)
    levels = [level for _, level in upper.course]
    assert upper.course[0][0] == 0
    assert levels[0] < -60
    assert levels[-1] == 0
    assert levels == sorted(levels)


def test_fp_begins_loud():
    hearing = heard(tiny("fp C5/1"))
    levels = [level for _, level in hearing.tones[0].course]
    assert levels[0] == 0
    assert levels[1] == -9  # from f to p are three marks


def test_slap_and_very_soft_have_their_sound():
    slap, soft = (
        heard(place(RESTS, [at(1, manner=manner)], COLLECTION).data).tones
        for manner in ("slap", "very soft")
    )
    assert {t.duration_seconds for t in slap} == {0.5}
    assert all(t.timbre.attack_seconds >= 0.3 for t in soft)
    assert max(t.level_db for t in soft) < max(t.level_db for t in slap)


def test_what_is_assumed_is_told():
    told = heard(place(RESTS, [at(1)], COLLECTION).data).told
    assert told[0] == "no tempo is marked for the score: quarter = 120 is assumed"
    assert "P1 (Alto Saxophone): where no dynamic is marked yet, mf is assumed" in told
    unsaid = "nobody has said how prominent tones 1, 2 and 3 of heron are at mf: heard as clear"
    assert unsaid in told
    (absent,) = heard(tiny("p bell/2 bell/2")).told
    beginning = "tone 3 of bell is absent at p, and not heard: Alto Saxophone, bar 1, beat 1"
    assert absent.startswith(beginning)
    assert "; bar 1, beat 3" in absent
    bare = heard(tiny("mf C5/1")).told
    assert bare[0] == "no sonority stands in the score: all notes are plain tones"


def test_grace_notes_are_told_not_to_be_heard():
    told = heard(tiny("mf bell/g C5/1")).told
    assert any("it is a grace note, and those are not heard" in words for words in told)


@pytest.mark.parametrize(
    ("data", "wish", "code"),
    [
        (RESTS, {}, "hear.nothing"),
        (RESTS, {"alone": True}, "score.no-placements"),
        (RESTS, {"bars": "9"}, "score.no-such-bar"),
        (RESTS, {"parts": ["Oboe"]}, "score.no-such-part"),
        (
            with_part(place(RESTS, [at(1)], COLLECTION).data, *[note() * 4] * 3),
            {"parts": ["P2"]},
            "hear.nothing",
        ),
        (place(RESTS, [at(1)], COLLECTION).data, {"alone": True, "bars": "2"}, "hear.nothing"),
    ],
)
def test_what_cannot_be_heard_is_refused(data, wish, code):
    with pytest.raises(RequestError) as refused:
        heard(data, **wish)
    assert refused.value.code == code


def test_what_is_too_long_to_render_can_still_be_midi():
    hearing = heard(tiny("mf C5/1 " + "| C5/1 " * 230))
    with pytest.raises(RequestError, match="this lasts 15 minutes, and 15 is the most"):
        heard_bytes(hearing, SoundFormat.WAV)
    assert heard_bytes(hearing, None).startswith(b"MThd")


@pytest.mark.parametrize("odd", SHAPES, ids=lambda odd: odd.name)
def test_in_every_shape_of_score_the_sonority_sounds(odd):
    hearing = heard(placed(odd).data, alone=True, repeats=True)
    assert len(keys(hearing)) == len(HERON.tones)


def test_a_note_that_is_a_rest_as_well_is_told_with_its_place():
    both = note("B4").replace("<note>", "<note><rest/>") + note("B4") * 3
    with pytest.raises(InputError, match=r"part P1.*bar 1: a note has a pitch and is a rest"):
        heard(score(both))
