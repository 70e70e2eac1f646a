"""Notes that stay as the composer wrote them, marked as those of a sonority."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.errors import RequestError
from reedchord.musicxml.document import read_score
from reedchord.placement.found import State, find_placements
from reedchord.placement.held_plan import held_plan
from reedchord.placement.place import place
from reedchord.placement.plan import parse_plan
from reedchord.placement.strip import strip
from reedchord.placement.swap import swap
from samples import COLLECTION, HERON, RESTS, at, events, note, score, shown
from truth.musicxml_schema import schema_errors
from typed_chords import chord, fingering

HERONS = score(note() * 4, chord("E4", "B-4", "G#5"), note() * 4)
MARKED = place(HERONS, [at(2, as_written=True)], COLLECTION)


def without_marks(data):
    """Return the notes of a score without what we add: ids, footnotes, fingerings, cents."""
    text = data.decode()
    for ours in (
        r' id="rc-[^"]*"',
        r"<footnote>.*?</footnote>",
        r"<notations><technical><fingering.*?</notations>",
        r'<lyric number="\d" name="cents">.*?</lyric>',
        r"<direction.*?</direction>",
    ):
        text = re.sub(ours, "", text, flags=re.DOTALL)
    return text[text.index("<part ") :]


def test_not_a_note_changes():
    assert without_marks(MARKED.data) == without_marks(HERONS)
    assert events(MARKED.data, 2)[0].pitches == events(HERONS, 2)[0].pitches


def test_the_cents_count_from_the_notes_that_are_there():
    even = score(chord("E4", "B4", "G5"))
    [row] = place(even, [at(1, as_written=True)], COLLECTION).record.placements
    assert row.cents == ("-19", "-36", "88")
    assert b"<text>+88</text>" in place(even, [at(1, as_written=True)], COLLECTION).data


def test_label_fingering_source_and_record_are_there():
    assert b"<words>M1\ninvented</words>" in MARKED.data
    assert HERON.fingering.short().encode() in MARKED.data
    [row] = MARKED.record.placements
    assert row.ids == ("rc-1-1", "rc-1-2", "rc-1-3")
    assert row.wish.as_written


def test_the_schema_of_musicxml_holds():
    assert schema_errors(MARKED.data) == schema_errors(HERONS) == []


def test_strip_gives_the_bytes_back():
    assert strip(MARKED.data).data == HERONS


def test_the_plan_of_the_score_gives_the_same_score():
    plan = parse_plan(held_plan(MARKED.data))
    again = place(HERONS, plan.placements, COLLECTION, plan.style, whole=True)
    assert again.data == MARKED.data


def test_a_placement_beside_it_leaves_it_as_it_is():
    both = place(MARKED.data, [at(1)], COLLECTION)
    assert without_marks(both.data).count("<chord/>") == 4
    assert [row.wish.as_written for row in both.record.placements] == [False, True]
    assert strip(both.data).data == HERONS


def test_a_placement_in_its_place_writes_the_sonority_itself():
    written = place(MARKED.data, [at(2)], COLLECTION)
    assert b"parentheses" in written.data
    assert strip(written.data).data == HERONS


def test_swap_writes_the_other_one_and_swapping_back_gives_the_notes_again():
    crane = swap(MARKED.data, "heron", COLLECTION["crane"]).placed
    assert shown(events(crane.data, 2)[0]) == ["B3", "D#5"]
    assert swap(crane.data, "crane", HERON).placed.data == MARKED.data


def test_it_is_taken_out_of_an_edited_score_too():
    edited = MARKED.data.replace(b"</part-name>", b" I</part-name>")
    stripped = strip(edited)
    assert (stripped.count, stripped.stay) == (1, 0)
    assert stripped.data == HERONS.replace(b"</part-name>", b" I</part-name>")


def test_notes_that_the_composer_changed_since_stay_changed_without_our_marks():
    def edited(data):
        return data.replace(b"<octave>5</octave>", b"<octave>3</octave>").replace(
            b"<step>B</step>", b"<step>A</step>"
        )

    stripped = strip(edited(MARKED.data))
    assert (stripped.count, stripped.stay) == (1, 0)
    assert stripped.data == edited(HERONS)


def test_another_can_be_placed_over_notes_that_were_changed_since():
    edited = MARKED.data.replace(b"<octave>5</octave>", b"<octave>3</octave>")
    placed = place(edited, [at(2, name="crane")], COLLECTION)
    assert shown(events(placed.data, 2)[0]) == ["B3", "D#5"]


def test_a_fingering_of_the_composers_own_stays():
    mine = score(chord("E4", "B-4", "G#5", more=fingering(HERON.fingering.short())))
    marked = place(mine, [at(1, as_written=True)], COLLECTION)
    assert marked.data.count(b"</fingering>") == 1
    assert not [w for w in marked.warnings if "fingering" in w]
    assert strip(marked.data).data == mine
    edited = marked.data.replace(b"</part-name>", b" I</part-name>")
    assert strip(edited).data == mine.replace(b"</part-name>", b" I</part-name>")


def test_words_that_are_there_are_not_written_twice():
    mine = MARKED.data.decode()
    words = mine[mine.index("<direction ") : mine.index("</direction>") + len("</direction>")]
    with_words = score(note() * 4, words + chord("E4", "B-4", "G#5"), note() * 4)
    marked = place(with_words, [at(2, as_written=True)], COLLECTION)
    assert marked.data.count(b"<words>") == 1
    assert strip(marked.data).data == with_words


def test_some_of_the_tones():
    two = score(chord("E4", "G#5"))
    [row] = place(two, [at(1, as_written=True, tones=(1, 3))], COLLECTION).record.placements
    assert row.numbers == (1, 3)
    with pytest.raises(RequestError, match="2 notes stand here, and 3 tones"):
        place(two, [at(1, as_written=True)], COLLECTION)


@pytest.mark.parametrize(
    ("fields", "named"),
    [
        ({"build_up": True, "order": (1, 2, 3)}, "build-up"),
        ({"lasting": "half"}, "for"),
        ({"dynamics": "pp"}, "dynamics"),
        ({"slur": True}, "slur"),
    ],
)
def test_what_would_change_the_notes_is_refused(fields, named):
    with pytest.raises(RequestError, match=f"{named}.* would change them"):
        place(HERONS, [at(2, as_written=True, **fields)], COLLECTION)


def test_a_rest_has_no_notes_to_keep():
    with pytest.raises(RequestError, match="a rest stands here"):
        place(RESTS, [at(1, as_written=True)], COLLECTION)


def test_a_chain_of_ties_is_one_sonority():
    start, stop = '<tie type="start"/>', '<tie type="stop"/>'
    tied = chord("E4", "B-4", "G#5").replace("</duration>", f"</duration>{start}")
    ended = chord("E4", "B-4", "G#5").replace("</duration>", f"</duration>{stop}")
    data = score(tied, ended)
    marked = place(data, [at(1, as_written=True)], COLLECTION)
    [found] = find_placements(read_score(marked.data), marked.record)
    assert (found.state, len(found.chain)) == (State.INTACT, 2)
    assert marked.data.count(b"</lyric>") == 3
    assert strip(marked.data).data == data


def test_a_beamed_chord_and_one_in_a_tuplet_stay_so():
    tuplet = "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes>"
    tuplet += '</time-modification><beam number="1">begin</beam>'
    data = score(
        chord("E4", "B-4", "G#5", quarters=2, type_="eighth", more=tuplet)
        + note(quarters=10, type_=None),
        divisions=3,
    )
    marked = place(data, [at(1, as_written=True)], COLLECTION)
    assert b"<type>eighth</type><time-modification>" in marked.data
    assert strip(marked.data).data == data


def test_an_old_version_gets_no_ids():
    old = HERONS.replace(b'version="4.0"', b'version="3.0"')
    marked = place(old, [at(2, as_written=True)], COLLECTION)
    assert b"rc-" not in marked.data
    [found] = find_placements(read_score(marked.data), marked.record)
    assert found.state is State.INTACT
    assert strip(marked.data).data == old


PIECES = [
    chord("E4", "B-4", "G#5", quarters=2, type_="half"),
    chord("G#5", "E4", "B4", quarters=2, type_="half"),
    chord("E4", "B-4", "G#5", quarters=2, type_="half").replace("<note>", '<note id="mine{}">', 1),
    chord("E4", "B4", "G#5", quarters=2, type_="half").replace("<note>", "<note>\n   <!-- é -->"),
    chord("E4", "B4", "G#5", quarters=2, type_="half", more="<notations/>"),
    chord(
        "E4", "B4", "G#5", quarters=2, type_="half", more='<lyric name="x"><text>a</text></lyric>'
    ),
    note(quarters=2, type_="half"),
]


@settings(deadline=None)
@given(
    st.lists(st.sampled_from(range(len(PIECES))), min_size=2, max_size=8).map(
        lambda picks: picks + picks[: len(picks) % 2]
    ),
    st.sampled_from(["3.0", "4.0"]),
)
def test_marking_and_stripping_gives_the_same_bytes(picks, version):
    bars = [
        PIECES[one].format(f"{i}-1") + PIECES[two].format(f"{i}-2")
        for i, (one, two) in enumerate(zip(picks[::2], picks[1::2], strict=True))
    ]
    data = score(*bars, version=version)
    wishes = [
        at(1 + i // 2, 1 if i % 2 == 0 else 3, as_written=True)
        for i, pick in enumerate(picks)
        if pick < len(PIECES) - 1
    ]
    if not wishes:
        return
    marked = place(data, wishes, COLLECTION)
    assert strip(marked.data).data == data
    for bar in range(len(bars)):
        assert [e.pitches for e in events(marked.data, bar + 1)] == [
            e.pitches for e in events(data, bar + 1)
        ]
