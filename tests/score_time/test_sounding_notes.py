from __future__ import annotations

from fractions import Fraction

import pytest

from reedchord.musicxml.bar_state import Transpose
from reedchord.musicxml.document import read_score
from reedchord.pitch import parse_pitch
from reedchord.score_time.sounding_notes import Attack, concert_pitch, sounding_notes
from reedchord.score_time.whole_score import whole_score
from samples import note, score

C = note("C4")


def notes(*bars, **how):
    whole = whole_score(read_score(score(*bars, **how)))
    return sounding_notes(whole, whole.parts[0])


def with_notations(text, inside, ties=""):
    start, end = text.split("<duration>1</duration>")
    body = end.replace("</note>", f"<notations>{inside}</notations></note>")
    return f"{start}<duration>1</duration>{ties}{body}"


def tied(kind):
    return with_notations(C, f'<tied type="{kind}"/>', f'<tie type="{kind}"/>')


def slur(kind):
    return with_notations(C, f'<slur type="{kind}" number="1"/>')


def tremolo(strokes, kind="single"):
    return with_notations(C, f'<ornaments><tremolo type="{kind}">{strokes}</tremolo></ornaments>')


def test_an_alto_sounds_a_major_sixth_lower():
    (first, *_) = notes(C * 4)
    assert [str(pitch) for pitch in first.pitches] == ["Eb3"]


def test_a_concert_score_sounds_as_it_is_written():
    header = "<defaults><concert-score/></defaults>"
    (first, *_) = notes(C * 4, header=header)
    assert [str(pitch) for pitch in first.pitches] == ["C4"]


@pytest.mark.parametrize(
    ("semitones", "steps", "sounds"),
    [(-9, -5, "Eb3"), (-9, None, "Eb3"), (-2, None, "Bb3"), (-14, None, "Bb2"), (3, None, "Eb4")],
)
def test_a_missing_diatonic_is_completed_by_common_practice(semitones, steps, sounds):
    assert concert_pitch(parse_pitch("C4"), Transpose(semitones, steps)) == parse_pitch(sounds)


def test_ties_make_one_note_over_the_barline():
    found = notes(C * 3 + tied("start"), tied("stop") + C * 3)
    assert [str(n.onset_quarters) for n in found] == ["0", "1", "2", "3", "5", "6", "7"]
    assert found[3].duration_quarters == 2


def test_rests_and_cues_do_not_sound():
    cue = C.replace("<note>", "<note><cue/>")
    assert len(notes(note() + cue + C * 2)) == 2


def test_under_a_slur_only_the_first_note_is_tongued():
    found = notes(C + slur("start") + C + slur("stop"))
    assert [n.attack for n in found] == [
        Attack.TONGUED,
        Attack.TONGUED,
        Attack.SLURRED,
        Attack.SLURRED,
    ]


@pytest.mark.parametrize(
    ("text", "attacks"),
    [
        (C, 1),
        (tremolo(1), 2),
        (tremolo(3), 8),
        (tremolo(0, "unmeasured"), None),
        (tremolo(3, "start"), 8),  # as many as the note between whose strokes its own fall
        (tremolo("many"), None),
    ],
)
def test_a_tremolo_begins_a_note_again_and_again(text, attacks):
    assert notes(text + C * 3)[0].attacks == attacks


def test_an_eighth_with_one_stroke_is_two_sixteenths():
    eighths = tremolo(1).replace("<type>quarter", "<type>eighth")
    assert notes(eighths * 2, divisions=2)[0].attacks == 2
    assert notes(eighths * 2, divisions=2)[0].duration_quarters == Fraction(1, 2)
