"""Lengths placed in generated scores: voices end where they ended, and all can be undone."""

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.errors import ReedchordError
from reedchord.musicxml.document import read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.place import place
from reedchord.placement.strip import strip
from reedchord.rhythm import beat_text, spelled_values
from samples import ALTO, COLLECTION, at
from truth.musicxml_schema import schema_errors
from truth.sounding_strands import sounding_strands

TENOR = "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>"
TRIPLET = (
    "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes>"
    "</time-modification>"
)


def entry(pitch, quarters, voice, divisions, *, in_triplet=False):
    """Return a note or a rest; members of triplets are written half as long again."""
    (value,) = spelled_values(quarters * Fraction(3, 2) if in_triplet else quarters)
    what = f"<pitch><step>{pitch}</step><octave>4</octave></pitch>" if pitch else "<rest/>"
    return (
        f"<note>{what}<duration>{quarters * divisions}</duration><voice>{voice}</voice>"
        f"<type>{value.type}</type>{'<dot/>' * value.dots}{TRIPLET if in_triplet else ''}</note>"
    )


@st.composite
def voice_of_a_bar(draw, beats, voice, divisions):
    """Fill a bar of quarters with rests, notes and triplets of either."""
    text, left = "", beats
    pitches = st.sampled_from(["", "", "", "C", "D"])
    while left:
        kind = draw(st.sampled_from(["plain", "plain", "triplet"]))
        if kind == "triplet":
            third = Fraction(1, 3)
            text += "".join(
                entry(draw(pitches), third, voice, divisions, in_triplet=True) for _ in range(3)
            )
            left -= 1
        else:
            quarters = draw(st.sampled_from([n for n in (1, 2, 3, 4) if n <= left]))
            text += entry(draw(pitches), Fraction(quarters), voice, divisions)
            left -= quarters
    return text


@st.composite
def scores(draw):
    """Return a score of three bars in one or two voices, with divisions of 3 or 12."""
    beats = draw(st.sampled_from([2, 3, 4, 5]))
    divisions = draw(st.sampled_from([3, 12]))
    transpose = draw(st.sampled_from([ALTO, TENOR]))
    attributes = (
        f"<attributes><divisions>{divisions}</divisions><time><beats>{beats}</beats>"
        f"<beat-type>4</beat-type></time>{transpose}</attributes>"
    )
    voices = draw(st.integers(1, 2))
    bars = []
    for number in (1, 2, 3):
        music = draw(voice_of_a_bar(beats, 1, divisions))
        if voices == 2:
            music += f"<backup><duration>{beats * divisions}</duration></backup>"
            music += draw(voice_of_a_bar(beats, 2, divisions))
        head = attributes if number == 1 else ""
        bars.append(f'<measure number="{number}">{head}{music}</measure>')
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n<score-partwise version="4.0"><part-list>'
        '<score-part id="P1"><part-name>Alto Saxophone</part-name></score-part></part-list>'
        f'<part id="P1">{"".join(bars)}</part></score-partwise>\n'
    ).encode()


BEATS = st.integers(0, 16).map(lambda quarter: beat_text(1 + Fraction(quarter, 4)))
LENGTHS = st.sampled_from(["16th", "eighth", "quarter", "quarter.", "half", "whole", "breve"])
WAYS = st.sampled_from(
    [
        {},
        {"build_up": True, "order": [2, 1, 3]},
        {"build_up": True, "fade": True, "order": [3, 1, 2]},
        {"bring_out": True},
        {"tremolo": "egret"},
    ]
)
ANY_WAY = st.builds(
    lambda bar, beat, lasting, voice, way: at(
        bar, beat, lasting=lasting, voice=voice, saxophone="alto", **way
    ),
    st.integers(1, 3),
    BEATS,
    LENGTHS,
    st.integers(1, 2),
    WAYS,
)
PLAIN = st.builds(
    lambda bar, beat, lasting, voice: at(bar, beat, lasting=lasting, voice=voice, saxophone="alto"),
    st.integers(1, 3),
    BEATS,
    LENGTHS,
    st.integers(1, 2),
)


def ends(data):
    music = PartMusic(read_score(data).parts[0])
    return [music.bar(index).ends for index in range(3)]


@settings(deadline=None, max_examples=150)
@given(scores(), st.lists(ANY_WAY, min_size=1, max_size=3))
def test_a_length_and_its_course_are_placed_whole_or_refused(data, wishes):
    try:
        result = place(data, wishes, COLLECTION)
    except ReedchordError:
        return
    assert ends(result.data) == ends(data)
    assert strip(result.data).data == data
    assert place(result.data, list(reversed(wishes)), COLLECTION).data == result.data
    assert schema_errors(result.data) == []


@settings(deadline=None, max_examples=40)
@given(scores(), PLAIN)
def test_music21_hears_each_tone_as_long_as_was_asked(data, wish):
    try:
        result = place(data, [wish], COLLECTION)
    except ReedchordError:
        return
    (done,) = result.placed
    # The top tone, G sharp 5 (80), stands nowhere else in these scores.
    (top,) = [strand for strand in sounding_strands(result.data) if strand.pitch == 80]
    assert top.quarters == wish.lasting.quarters == done.target.duration_quarters
