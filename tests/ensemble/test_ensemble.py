"""Sonorities among the other parts: who sounds what, how far apart, how fast it beats."""

import re

import pytest

from ensemble_scores import heron_against, with_part
from reedchord.collection import Collection
from reedchord.ensemble.ensemble import Tuning, ensemble
from reedchord.ensemble.ensemble_picture import ensemble_picture
from reedchord.ensemble.ensemble_remedies import remedies
from reedchord.ensemble.ensemble_report import bar_beats, ensemble_data, ensemble_text
from reedchord.errors import RequestError
from reedchord.musicxml.document import read_score
from reedchord.pitch import parse_pitch
from reedchord.placement.place import place
from samples import ALTO, COLLECTION, RESTS, at, note, score, sonority

WHOLE = 4


def hz(pitch, a4=440.0):
    """Return a frequency by ISO 16, from a keyboard's number and cents."""
    return a4 * 2 ** (float(parse_pitch(pitch).cents - 6900) / 1200)


def found(data, **fields):
    return ensemble(read_score(data), Tuning(**fields))


def pairs(data, **fields):
    return [
        (
            pair.tone.tone,
            str(pair.other.concert),
            pair.beating.interval.name,
            round(pair.beating.cents),
        )
        for pair in found(data, **fields).pairs
    ]


def test_a_unison_a_few_cents_away():
    # Written G#5-12 on alto sounds B4-12.
    data = heron_against(note("B4", 4, type_="whole"))
    assert pairs(data) == [(3, "B4", "unison", 12)]
    [pair] = found(data).pairs
    assert pair.beating.beats_per_second == pytest.approx(hz("B4") - hz("B4-12"))


@pytest.mark.parametrize(
    ("other", "expected"),
    [
        ("G4", [(1, "G4", "octave", 19)]),
        ("G5", [(1, "G5", "two octaves", 19)]),
        ("D5", [(1, "D5", "twelfth", 17), (2, "D5", "octave", 36)]),
        ("C4", []),
    ],
)
def test_octaves_and_twelfths(other, expected):
    assert pairs(heron_against(note(other, 4, type_="whole"))) == expected


def test_the_second_note_of_a_tremolo_sounds_from_its_beginning():
    tremolo = '<notations><ornaments><tremolo type="{}">3</tremolo></ornaments></notations>'
    first, second = (
        note(pitch, 2, type_="whole").replace("</note>", f"{tremolo.format(way)}</note>")
        for pitch, way in (("B4", "start"), ("C5", "stop"))
    )
    spans = {
        str(pair.other.concert): (pair.onset_quarters, pair.end_quarters)
        for pair in found(heron_against(first + second), within_cents=120).pairs
        if pair.tone.tone == 3
    }
    assert spans == {"B4": (0, 4), "C5": (0, 4)}


def test_tied_notes_are_one_sound_and_repeated_ones_are_several():
    tied = note("B4", 2, type_="half", more='<tie type="start"/>') + note(
        "B4", 2, type_="half", more='<tie type="stop"/>'
    )
    assert [(p.onset_quarters, p.end_quarters) for p in found(heron_against(tied)).pairs] == [
        (0, 4)
    ]
    repeated = note("B4", 2, type_="half") * 2
    assert [p.onset_quarters for p in found(heron_against(repeated)).pairs] == [0, 2]
    assert "bar 1, beats 1, 3" in ensemble_text(found(heron_against(repeated)))


def test_other_parts_transpose_and_chords_have_all_their_notes():
    # A clarinet in B flat: written C#5 sounds B4.
    clarinet = "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>"
    sharp = note("C5", 4, type_="whole").replace("<octave>", "<alter>1</alter><octave>")
    chord = sharp + note("A4", 4, type_="whole").replace("<note>", "<note><chord/>")
    assert pairs(heron_against(chord, opening=clarinet)) == [
        (1, "G4", "octave", 19),
        (3, "B4", "unison", 12),
    ]


def test_an_octave_line_changes_nothing_since_pitches_stand_as_they_sound():
    # MusicXML: an octave line moves notes away from their true pitch on the staff only, and
    # <pitch> holds the true one (from memory; music21 reads it so).
    line = '<direction><direction-type><octave-shift type="down" size="8"/></direction-type>'
    assert pairs(heron_against(f"{line}</direction>" + note("B4", 4, type_="whole"))) == [
        (3, "B4", "unison", 12)
    ]


def test_notes_that_are_held_over_the_barline_are_heard():
    tied = note("B4", 4, type_="whole", more='<tie type="start"/>')
    held = note("B4", 4, type_="whole", more='<tie type="stop"/>')
    base = with_part(score(note() * 4, note(quarters=4, type_="whole")), tied, held)
    data = place(base, [at(2)], COLLECTION).data
    [pair] = found(data).pairs
    assert (pair.onset_quarters, pair.end_quarters) == (4, 8)
    assert "bar 2, beat 1" in ensemble_text(found(data))


def test_rests_cues_and_what_comes_later_do_not_beat():
    cue = note("B4", 4, type_="whole").replace("<note>", "<note><cue/>")
    assert pairs(heron_against(cue)) == []
    later = heron_against(note(quarters=4, type_="whole"), note("B4", 4, type_="whole"))
    assert pairs(later) == []


def test_another_sonority_sounds_as_its_record_says():
    base = with_part(RESTS, note() * 4, note() * 4, note() * 4, name="Alto 2", opening=ALTO)
    base = base.replace(b"Alto 2", b"Alto Saxophone 2")
    data = place(base, [at(1), at(1, part="P2")], COLLECTION).data
    in_unison = [p for p in found(data).pairs if p.tone.tone == p.other.tone]
    assert [p.beating.beats_per_second for p in in_unison] == [0] * 6


def test_a4_changes_beats_and_not_cents():
    data = heron_against(note("B4", 4, type_="whole"))
    [low], [high] = found(data, a4_hz=440).pairs, found(data, a4_hz=444).pairs
    assert high.beating.cents == pytest.approx(low.beating.cents)
    assert high.beating.beats_per_second == pytest.approx(low.beating.beats_per_second * 444 / 440)


def test_only_the_emphasised_tone_and_only_some_parts():
    data = heron_against(note("B4", 4, type_="whole"))
    assert pairs(data, only_emphasised=True) == []
    assert pairs(data, part_ids=frozenset(["P1"])) == []
    brought_out = heron_against(note("B4", 4, type_="whole"), emphasised=3)
    assert pairs(brought_out, only_emphasised=True) == [(3, "B4", "unison", 12)]


def test_a_build_up_beats_from_when_its_tone_enters():
    data = heron_against(
        note("B4", 4, type_="whole"), build_up=True, order=(1, 2, 3), steps=("quarter", "quarter")
    )
    assert min(pair.onset_quarters for pair in found(data).pairs) == 2


def test_both_sonorities_of_a_tremolo_sound_through_it():
    # The egret's tones, written C#4 and A4+25 on alto, sound E3 and C4+25.
    data = heron_against(chord_of("B4", "C4"), tremolo="egret")
    told = found(data)
    assert {
        (p.tone.placement.sonority.id, p.tone.tone, str(p.other.concert), p.beating.interval.name)
        for p in told.pairs
        if p.beating.interval.name == "unison"
    } == {("heron", 3, "B4", "unison"), ("egret", 2, "C4", "unison")}
    assert {(p.onset_quarters, p.end_quarters) for p in told.pairs} == {(0, 4)}


def chord_of(first, second):
    upper = note(second, 4, type_="whole").replace("<note>", "<note><chord/>")
    return note(first, 4, type_="whole") + upper


def test_a_tempered_chord_is_as_rough_as_on_the_keyboard():
    even = sonority("even", "E4", "B4")
    base = with_part(score(note(quarters=4, type_="whole")), note("C5", 4, type_="whole"))
    data = place(base, [at(1, name="even")], Collection({"even": even}, {}, "tests")).data
    [one] = found(data).placements
    assert one.roughness.ratio == pytest.approx(1)


def test_a_quarter_tone_beside_a_unison_is_rougher_than_the_unison():
    data = heron_against(note("B4", 4, type_="whole"))
    [one] = found(data).placements
    assert one.roughness.as_it_sounds > one.roughness.on_keyboard


def test_remedies_lie_nearer_and_keep_the_saxophone():
    nearer = sonority("nearer", "E4-19", "Bqf4+14", "G#5-2", emphasised=2)
    farther = sonority("farther", "E4-19", "Bqf4+14", "G#5-40", emphasised=2)
    tenor = sonority("tenor", "A4", "Eqf5", "C#6", saxophone="tenor")
    collection = Collection({s.id: s for s in (nearer, farther, tenor)}, {}, "tests")
    told = found(heron_against(note("B4", 4, type_="whole")))
    [offered] = remedies(told, collection).values()
    assert [remedy.instead.sonority.id for remedy in offered] == ["nearer"]
    assert "nearer" in ensemble_text(told, {1: offered})
    assert ensemble_data(told, {1: offered})["placements"][0]["nearer"] == [
        {"sonority": "nearer", "mean_cents": 1.0}
    ]


def test_the_report_says_who_and_how_fast():
    told = found(heron_against(note("B4", 4, type_="whole")))
    text = ensemble_text(told)
    assert "tone 3 B4 −12¢  B4, Flute  unison   +12¢    3.4/s  bar 1, beat 1" in text
    assert "inside one" in text.replace("\n", " ")
    assert bar_beats(told) == {0: pytest.approx(hz("B4") - hz("B4-12"))}


def test_a_score_without_sonorities_is_refused():
    with pytest.raises(RequestError, match="holds no sonorities"):
        found(RESTS)


@pytest.mark.parametrize("a4_hz", [0, 44, 4400, float("nan"), float("inf")])
def test_nobody_tunes_to_such_a_pitch(a4_hz):
    with pytest.raises(RequestError, match="no pitch to tune to"):
        Tuning(a4_hz=a4_hz)


def test_a_grace_note_is_told_and_left_out():
    grace = note("C5", type_="eighth").replace("<note>", "<note><grace/>")
    grace = grace.replace("<duration>1</duration>", "")
    base = with_part(score(grace + note("C5", 4, type_="whole")), note("B4", 4, type_="whole"))
    told = found(place(base, [at(1, grace=1)], COLLECTION).data)
    assert told.pairs == []
    assert "grace note" in told.left_out[0]


def test_the_picture_is_black_and_white_and_the_same_each_time():
    told = found(heron_against(note("B4", 4, type_="whole")))
    drawn = ensemble_picture(told)
    assert drawn == ensemble_picture(told)
    assert "bar 1: 3 beats a second in all" in drawn.words
    assert "#" not in drawn.svg
    assert {"black", "white"} >= set(_colours(drawn.svg))


def _colours(svg):
    return set(re.findall(r'(?:fill|stroke)="([^"]+)"', svg)) - {"none"}


def test_a_long_score_gets_rows_that_stay_on_the_paper():
    bars = [note(quarters=4, type_="whole")] * 30
    base = with_part(score(*bars), *[note("B4", 4, type_="whole")] * 30)
    data = place(base, [at(bar) for bar in range(1, 31)], COLLECTION).data
    drawn = ensemble_picture(found(data))
    rights = [float(x) for x in re.findall(r"H(-?[\d.]+)", drawn.svg)]
    assert max(rights) <= drawn.width_mm
    assert len(bar_beats(found(data))) == 30


def test_a_moment_of_a_rounded_triplet_is_printed_as_it_is_meant():
    # Programs that count 256 divisions to a quarter write thirds of it as 85, 86 or 171.
    finer = "<attributes><divisions>256</divisions></attributes>"
    data = heron_against(finer + note(quarters=85, type_=None) + note("B4", 939, type_=None))
    assert "bar 1, beat 1+1/3\n" in ensemble_text(found(data))
    [pair] = ensemble_data(found(data))["placements"][0]["pairs"]
    assert pair["onset_quarters"] == "85/256"
