"""Where notes and rests of a bar begin, and what a beat means there."""

from fractions import Fraction

import pytest

from reedchord.errors import InputError, RequestError
from reedchord.musicxml.document import read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.rhythm import parse_beat
from samples import note, score


def music(*bars, **options):
    return PartMusic(read_score(score(*bars, **options)).parts[0])


def bar(text, **options):
    return music(text, **options).bar(0)


def in_voice(text, voice, staff="1"):
    return text.replace("<voice>1</voice>", f"<voice>{voice}</voice>").replace(
        "</note>", f"<staff>{staff}</staff></note>"
    )


BACK = "<backup><duration>{}</duration></backup>"
ON = "<forward><duration>{}</duration></forward>"


def test_notes_follow_each_other():
    events = bar(note("C4", 2) + note() + note("E4")).events
    assert [(e.onset_quarters, e.duration_quarters) for e in events] == [(0, 2), (2, 1), (3, 1)]
    assert [e.is_rest for e in events] == [False, True, False]


def test_a_chord_is_one_event():
    chord = note("C4", 2) + note("E4", 2).replace("<note>", "<note><chord/>") + note("F4", 2)
    first, second = bar(chord).events
    assert [str(pitch) for pitch in first.pitches] == ["C4", "E4"]
    assert first.children == (1, 2)  # the bar's attributes are child 0
    assert second.onset_quarters == 2


def test_a_direction_inside_a_chord_does_not_end_it():
    # W3C MusicXML issues 35 and 170; suite file 21f.
    chord = note("C4") + "<direction/>" + note("E4").replace("<note>", "<note><chord/>")
    (only,) = bar(chord).events
    assert only.children == (1, 3)


def test_grace_notes_take_no_time_and_no_place():
    grace = "<note><grace/><pitch><step>D</step><octave>4</octave></pitch></note>"
    events = bar(grace + note("C4") + grace + note("E4")).events
    assert [e.onset_quarters for e in events] == [0, 1]


def test_backup_and_forward_part_the_voices():
    timeline = bar(note("C4", 4) + BACK.format(4) + ON.format(2) + in_voice(note("E4", 2), 2))
    one, two = timeline.events
    assert (one.voice, two.voice) == ("1", "2")
    assert (two.onset_quarters, two.end_quarters) == (2, 4)
    assert timeline.ends == {"1": 4, "2": 4}


def test_divisions_may_change_inside_a_bar():
    # Suite file 03c has the same.
    change = "<attributes><divisions>8</divisions></attributes>"
    first, second, third = bar(note("C4") + change + note("D4", 8) + note("E4", 4)).events
    assert (second.onset_quarters, second.duration_quarters) == (1, 1)
    assert third.duration_quarters == Fraction(1, 2)
    assert (first.divisions, third.divisions) == (1, 8)


def test_triplets_are_exact():
    events = bar(note("C4") * 3, divisions=3).events
    assert [e.onset_quarters for e in events] == [0, Fraction(1, 3), Fraction(2, 3)]


def test_a_beat_is_the_metre_s_lower_number():
    timeline = bar(note("C4") * 6, divisions=2)
    assert timeline.onset_of(parse_beat("2.5")) == Fraction(3, 2)
    assert [timeline.beat_at(e.onset_quarters) for e in timeline.events] == [
        "1",
        "1.5",
        "2",
        "2.5",
        "3",
        "3.5",
    ]
    assert timeline.beat_at(Fraction(4, 3)) == "2+1/3"


ROUNDED = "".join(note("C4", length) for length in (85, 85, 86)) + note("D4", 768)
"""A triplet as programs round it that count 256 to the quarter, as in music21's Lindenbaum."""


@pytest.mark.parametrize(
    ("beat", "onset"),
    [("1+1/3", "85/256"), ("1+85/256", "85/256"), ("1+2/3", "85/128"), ("1.5", "1/2"), ("2", "1")],
)
def test_a_beat_is_where_the_score_rounds_it(beat, onset):
    timeline = bar(ROUNDED, divisions=256)
    assert timeline.onset_of(parse_beat(beat)) == Fraction(onset)
    assert timeline.simple_beat_at(Fraction(85, 256)) == "1+1/3"


def test_beats_are_told_as_they_are_meant():
    with pytest.raises(RequestError) as caught:
        bar(ROUNDED, divisions=256).event_at(Fraction(1, 2))
    assert "begins on beat 1+1/3" in caught.value.message
    assert caught.value.hint == "Something begins on beat 1, 1+1/3, 1+2/3, 2."


def test_attributes_on_the_first_beat_count_for_it():
    eighths = "<attributes><time><beats>6</beats><beat-type>8</beat-type></time></attributes>"
    timeline = music(note() * 4, eighths + note() * 3).bar(1)
    assert timeline.onset_of(parse_beat("3")) == 1


def test_a_transposition_in_mid_bar_holds_from_there():
    change = "<attributes><transpose><chromatic>-2</chromatic></transpose></attributes>"
    timeline = bar(note() * 2 + change + note() * 2)
    states = [timeline.state_at(Fraction(onset)).transpose() for onset in (0, 1, 2, 3)]
    assert [transpose.semitones for transpose in states] == [-9, -9, -2, -2]


def test_an_event_by_voice_and_staff():
    timeline = bar(note("C4", 4) + BACK.format(4) + in_voice(note("E4", 4), 2, 2))
    assert timeline.event_at(Fraction(0), voice="2").staff == "2"
    assert timeline.event_at(Fraction(0), staff="1").voice == "1"
    with pytest.raises(RequestError) as caught:
        timeline.event_at(Fraction(0))
    assert caught.value.code == "address.several-voices"
    assert "voice 1, staff 1, voice 2, staff 2" in str(caught.value)


def test_a_cue_is_nobody_s_place():
    cue = note("C5").replace("<note>", "<note><cue/>")
    timeline = bar(cue + BACK.format(1) + in_voice(note(), 2))
    assert timeline.event_at(Fraction(0)).is_rest
    assert timeline.events[0].is_cue


@pytest.mark.parametrize(
    ("beat", "code", "words"),
    [
        ("2", "address.inside", "middle of a note that begins on beat 1"),
        ("4", "address.inside", "middle of a rest that begins on beat 3"),
        ("5", "address.no-such-beat", "beat 1, 3"),
    ],
)
def test_where_nothing_begins(beat, code, words):
    timeline = bar(note("C4", 2) + note(quarters=2))
    with pytest.raises(RequestError) as caught:
        timeline.event_at(timeline.onset_of(parse_beat(beat)))
    assert caught.value.code == code
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (note().replace("<duration>1</duration>", ""), "score.no-duration"),
        (note().replace(">1<", ">-1<", 1), "score.number"),
        (note().replace("<note>", "<note><chord/>"), "score.lone-chord"),
        (note() + BACK.format(1) + note().replace("<note>", "<note><chord/>"), "score.lone-chord"),
        (BACK.format(1) + note(), "score.backup"),
        ("<backup/>", "score.no-duration"),
        (note() * 10_001, "score.size"),
        (in_voice(note(), "x" * 300), "score.name"),
        (
            "".join(
                f"<attributes><divisions>{10**29 + odd}</divisions></attributes>{note()}"
                for odd in (7, 9)
            ),
            "score.time",
        ),
    ],
)
def test_bars_that_cannot_be_read(text, code):
    with pytest.raises(InputError) as caught:
        bar(text)
    assert caught.value.code == code
    assert (caught.value.where.part, caught.value.where.bar) == ("P1 (Alto Saxophone)", "1")


@pytest.mark.parametrize(
    ("pitch", "text"),
    [
        ("<step>B</step><alter>-0.5</alter><octave>4</octave>", "B4-50"),
        ("<step>F</step><alter>+1</alter><octave>5</octave>", "F#5"),
        ("<step> C </step><alter>0</alter><octave> 4 </octave>", "C4"),
    ],
)
def test_pitches_are_exact(pitch, text):
    (event,) = bar(note("C4").replace("<step>C</step><octave>4</octave>", pitch)).events
    assert [str(one) for one in event.pitches] == [text]


@pytest.mark.parametrize(
    "pitch",
    [
        "<step>H</step><octave>4</octave>",
        "<step>CD</step><octave>4</octave>",
        "<octave>4</octave>",
        "<step>C</step>",
        "<step>C</step><octave>four</octave>",
        "<step>C</step><alter>sharp</alter><octave>4</octave>",
        "<step>C</step><alter>1e999999999</alter><octave>4</octave>",
        "<step>C</step><alter>1/3</alter><octave>4</octave>",
        "<step>C</step><alter>99</alter><octave>4</octave>",
        "<step>C</step><octave>99</octave>",
        "<step>C</step><octave>4.5</octave>",
    ],
)
def test_pitches_that_cannot_be_read(pitch):
    (event,) = bar(note("C4").replace("<step>C</step><octave>4</octave>", pitch)).events
    with pytest.raises(InputError) as caught:
        assert event.pitches
    assert caught.value.code == "score.no-pitch"


TIE = '<tie type="{}"/>'


def test_a_chain_of_ties_leads_over_barlines_in_its_voice():
    both = TIE.format("stop") + TIE.format("start")
    read = music(
        note("C4", 4, more=TIE.format("start")),
        note("C4", 4, more=both) + BACK.format(4) + in_voice(note("C4", 4), 2),
        note("C4", 2, more=TIE.format("stop")) + note("D4", 2),
    )
    chain = read.tied_from(0, read.bar(0).events[0])
    assert [(index, event.duration_quarters) for index, event in chain] == [(0, 4), (1, 4), (2, 2)]


def test_a_tie_into_nothing_ends_there():
    read = music(note("C4", 4, more=TIE.format("start")), note("D4", 4))
    assert len(read.tied_from(0, read.bar(0).events[0])) == 1


def test_a_part_with_words_has_lyrics():
    sung = note("C4").replace("</note>", "<lyric><text>oh</text></lyric></note>")
    ours = note("C4").replace("</note>", '<lyric name="cents"><text>+14</text></lyric></note>')
    assert music(sung).has_lyrics
    assert not music(ours).has_lyrics


def test_a_multi_bar_rest_covers_its_bars():
    style = (
        "<attributes><measure-style><multiple-rest>{}</multiple-rest></measure-style></attributes>"
    )
    read = music(note(), style.format(2) + note(), note(), note(), style.format("x") + note())
    assert read.multi_bar_rests == {1: range(1, 3), 2: range(1, 3), 4: range(4, 5)}


def test_a_multi_bar_rest_inside_another_counts_for_nothing():
    rest = (
        "<attributes><measure-style><multiple-rest>99999</multiple-rest></measure-style>"
        "</attributes>"
    )
    many = music(*[rest] * 400)
    assert set(many.multi_bar_rests.values()) == {range(400)}


def test_a_voice_without_a_name_is_the_first():
    (event,) = bar(in_voice(note(), " ")).events
    assert event.voice == "1"
