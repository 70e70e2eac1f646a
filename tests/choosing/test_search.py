"""Finding a sonority, as a composer asks for it."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.choosing.search import find
from reedchord.choosing.search_report import found_data, found_text
from reedchord.choosing.search_text import WishText, parse_pitches, wish_from_text
from reedchord.choosing.search_wish import Wish, deviation_cents
from reedchord.collection import Collection
from reedchord.dynamics import Dynamic
from reedchord.errors import ReedchordError, RequestError
from reedchord.pitch import parse_pitch
from reedchord.rhythm import parse_rate
from reedchord.saxophones import saxophone
from reedchord.sonority_fields import Articulation, Evidence
from samples import sonority


def _tones(*rows):
    return [{"written": pitch, "presence": presence} for pitch, presence in rows]


# For alto, written D5 sounds F4, A5 sounds C5 and F#4 sounds A3.
CLEAR = {"p-f": "clear"}
HERON = sonority(
    "heron",
    tones=_tones(
        ("F#4", CLEAR), ("D5-18", {"p-f": "dominant"}), ("A5+24", {"p": "absent"} | {"f": "clear"})
    ),
    emphasised=2,
    fingering="left 1 2 3 | right 1 3, E flat",
    limits=[
        {"articulation": "single tongue", "fastest": "16th at quarter = 72", "dynamics": "mp-f"},
        {"articulation": "slur", "fastest": "32nd at quarter = 100"},
    ],
    neighbours=[{"sonority": "stork", "because": "embouchure"}],
    evidence="documented",
    source={"id": "log", "entry": {"id": "log", "type": "book", "title": "Log"}},
)
EGRET = sonority("egret", "D5+10", "A5-5", fingering="left 1 2 3 | right 1 3, low C")
STORK = sonority("stork", "B4", "F#5+30", fingering="right 1 2 3, E flat | left 0")
TENOR = sonority("tern", "G5", "D6", saxophone="tenor")
BIRDS = Collection({r.id: r for r in (HERON, EGRET, STORK, TENOR)}, {}, "birds")


def _pitches(text):
    return tuple(map(parse_pitch, text.split()))


def _find(**wishes):
    return find(BIRDS, Wish(**wishes))


def _names(judged):
    return [one.sonority.id for one in judged]


def _reasons(found, name):
    [one] = [one for one in found.ruled_out if one.sonority.id == name]
    return [(verdict.wish, verdict.words) for verdict in one.ruled_out]


def test_concert_pitches_find_written_records_of_every_saxophone():
    found = _find(pitches=_pitches("F4 C5"))
    assert _names(found.fitting) == ["tern", "egret", "heron"]
    best = found.fitting[0]
    assert [(str(m.wish), m.tone.number, m.cents) for m in best.met] == [("F4", 1, 0), ("C5", 2, 0)]
    assert [m.cents for m in found.fitting[1].met] == [10, -5]
    assert _reasons(found, "stork") == [("concert", "no tone meets a wished pitch")]


def test_a_tone_in_addition_costs_and_is_told():
    heron = _find(pitches=_pitches("F4 C5")).fitting[2]
    assert [tone.number for tone in heron.in_addition] == [1]
    assert heron.cost == 18 + 0 + 24 + 5 + 20


def test_written_pitches():
    found = _find(pitches=_pitches("D5 A5"), written=True)
    assert _names(found.fitting)[0] == "egret"
    assert _reasons(found, "tern") == [("written", "no tone meets a wished pitch")]


def test_a_missing_pitch_costs_more_than_a_bad_one():
    found = _find(pitches=_pitches("D4 A4+20 F4"))
    assert [str(missing.wish) for missing in found.fitting[0].missing] == ["F4"]
    assert found.fitting[0].missing[0].nearest is None
    assert found.complete == 0


def test_a_pitch_class_is_met_in_any_octave():
    found = _find(pitches=_pitches("F2 C8"), pitch_class=True, saxophones=(saxophone("tenor"),))
    assert _names(found.fitting) == ["tern"]
    assert [m.cents for m in found.fitting[0].met] == [0, 0]


def test_where_octaves_do_not_count_none_is_told():
    found = _find(pitches=_pitches("F4 C5"), pitch_class=True, dynamic=Dynamic.P)
    heron = next(one for one in found.fitting if one.sonority.id == "heron")
    assert "tone 3 would meet C, but is absent at p" in [note.words for note in heron.notes]
    found = _find(emphasised=parse_pitch("B4"), highest=parse_pitch("C9"), pitch_class=True)
    told = dict(_reasons(found, "stork"))
    assert told["emphasised"] == "no tone to bring out for B"
    assert told["highest"].endswith(" C")


def test_absent_tones_do_not_meet_and_that_is_told():
    found = _find(pitches=_pitches("F4 C5"), dynamic=Dynamic.P, saxophones=(saxophone("alto"),))
    heron = next(one for one in found.fitting if one.sonority.id == "heron")
    assert [str(m.wish) for m in heron.missing] == ["C5"]
    assert ("dynamic", "tone 3 would meet C5, but is absent at p") in [
        (note.wish, note.words) for note in heron.notes
    ]


def test_a_dynamic_at_which_it_does_not_speak():
    found = _find(pitches=_pitches("F4"), dynamic=Dynamic.FFF)
    assert _reasons(found, "heron") == [("dynamic", "it speaks at p-f, not at fff")]
    assert "its dynamics are not known" in [note.words for note in found.fitting[0].notes]


def test_the_emphasised_pitch_is_wanted_and_the_records_own_choice_is_better():
    found = _find(emphasised=parse_pitch("F4"))
    assert _names(found.fitting)[0] == "heron"
    assert found.fitting[0].notes[0].words == "tone 2 is the one that it brings out"
    assert "for a trial" in found.fitting[1].notes[0].words
    assert _reasons(found, "stork") == [("emphasised", "no tone to bring out for F4")]


def test_speed_is_held_against_limits_but_not_against_slurs():
    assert _names(_find(speed=parse_rate("eighth at quarter = 144")).fitting)[0] == "heron"
    too_fast = _find(speed=parse_rate("eighth at quarter = 145"))
    own_limit = "single tongue: up to 16ths at quarter = 72, mp-f"
    assert _reasons(too_fast, "heron") == [
        ("speed", f"eighths at quarter = 145 are beyond it ({own_limit})")
    ]
    soft = _find(speed=parse_rate("quarter at quarter = 40"), dynamic=Dynamic.P)
    assert "heron" in _names(soft.ruled_out)
    assert "how fast it can be articulated is not known" in [
        note.words for note in soft.fitting[0].notes
    ]


def test_a_wished_way_of_articulating_has_a_limit_of_its_own():
    slurred = _find(speed=parse_rate("32nd at quarter = 90"), articulation=Articulation.SLUR)
    notes = {one.sonority.id: one.notes[-1].words for one in slurred.fitting}
    assert notes["heron"] == "slur: up to 32nds at quarter = 100"
    assert notes["egret"] == "how fast it can be articulated (slur) is not known"
    slow_enough = _find(articulation=Articulation.SINGLE_TONGUE)
    assert not slow_enough.ruled_out
    soft = _find(articulation=Articulation.SINGLE_TONGUE, dynamic=Dynamic.P)
    assert _reasons(soft, "heron") == [
        (
            "speed",
            "single tongue at p is beyond it (single tongue: up to 16ths at quarter = 72, mp-f)",
        )
    ]


@pytest.mark.parametrize(
    ("wishes", "names"),
    [
        ({"evidence": Evidence.DOCUMENTED}, ["heron"]),
        ({"evidence": Evidence.TRIED}, []),
        ({"tone_count": 3}, ["heron"]),
        ({"tone_count": 2, "dynamic": Dynamic.P}, ["egret", "heron", "stork", "tern"]),
        ({"lowest": parse_pitch("A3+20")}, ["heron"]),
        ({"highest": parse_pitch("C4"), "pitch_class": True}, ["tern", "egret", "heron"]),
        ({"intervals": (Fraction(15),)}, ["heron"]),
        ({"intervals": (Fraction(3),), "pitch_class": True}, ["heron"]),
        ({"intervals": (Fraction(7), Fraction(15))}, ["heron"]),
        ({"saxophones": (saxophone("tenor"), saxophone("bass"))}, ["tern"]),
        ({"avoid": _pitches("F4")}, ["stork"]),
        (
            {"avoid": _pitches("F4+20"), "avoid_within_cents": Fraction(15)},
            ["heron", "stork", "tern"],
        ),
        ({"connects_to": "heron"}, ["stork", "egret"]),
    ],
    ids=str,
)
def test_one_wish_at_a_time(wishes, names):
    fitting = _find(**wishes).fitting
    assert sorted(_names(fitting)) == sorted(names)


def test_connections_are_documented_first_and_computed_else():
    found = _find(connects_to="heron")
    notes = {one.sonority.id: one.notes[-1].words for one in found.fitting}
    assert notes["stork"] == "documented neighbour of heron (embouchure)"
    assert _names(found.fitting) == ["stork", "egret"]
    assert notes["egret"].startswith("computed change from heron: easy (5), one finger: right")
    assert _reasons(found, "tern") == [("connects to", "it is for tenor, heron for alto")]
    hard = find(BIRDS, Wish(connects_to="egret"))
    assert _reasons(hard, "stork")[0][1].startswith("computed change from egret: hard")


@pytest.mark.parametrize(
    ("wishes", "words"),
    [
        ({"tone_count": 13}, "a sonority has 1 to 12 tones, not 13"),
        ({"tone_count": 1, "pitches": _pitches("F4 A5")}, "2 pitches cannot sound in 1 tones"),
        ({"tone_count": 1, "intervals": (Fraction(7),)}, "there is no interval in 1 tone"),
        ({"within_cents": Fraction(601)}, "--within goes from 0 to 600 cents, not 601"),
        (
            {"lowest": parse_pitch("F5"), "highest": parse_pitch("C5")},
            "the lowest tone F5 lies above the highest, C5",
        ),
        (
            {"pitches": _pitches("F3"), "lowest": parse_pitch("C5")},
            "F3 is wished, but C5 is to be the lowest tone",
        ),
        (
            {"pitches": _pitches("F6"), "highest": parse_pitch("C5")},
            "F6 is wished, but C5 is to be the highest tone",
        ),
        (
            {"pitches": _pitches("F4"), "avoid": _pitches("F4")},
            "F4 is wished, and F4 is to be avoided",
        ),
    ],
)
def test_impossible_wishes_are_named(wishes, words):
    with pytest.raises(RequestError) as caught:
        Wish(**wishes)
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("wishes", "words"),
    [
        ({}, "nothing is wished"),
        ({"within_cents": Fraction(10), "pitch_class": True}, "nothing is wished"),
        ({"connects_to": "hern"}, "Did you mean"),
        (
            {"connects_to": "heron", "saxophones": (saxophone("tenor"),)},
            "nothing for another saxophone connects to it",
        ),
    ],
)
def test_wishes_that_this_collection_cannot_meet(wishes, words):
    with pytest.raises(RequestError) as caught:
        _find(**wishes)
    assert words in str(caught.value)


def test_text_of_a_search_with_results():
    text = found_text(_find(pitches=_pitches("F4 C5")), most=2)
    assert text.startswith("3 of 4 sonorities fit; the best 2:")
    assert "F4 met exactly  tone 1  concert F4  presence not known" in text
    assert "heron" not in text


def test_text_of_a_search_without_results():
    text = found_text(_find(pitches=_pitches("F7")), most=5)
    assert text.startswith("None of 4 sonorities fits. The nearest:")
    assert "F7 missing; nearest  tone 2  concert C5  2900 cents below" in text
    assert "ruled out by concert: no tone meets a wished pitch" in text


def test_data_for_programs():
    data = found_data(_find(pitches=_pitches("F4 C5")), most=1)
    assert (data["searched"], data["fitting"], data["complete"]) == (4, 3, 3)
    assert data["results"][0]["met"][1] == {
        "wish": "C5",
        "cents": 0.0,
        "tone": 2,
        "written": "D6",
        "concert": "C5",
        "presence": None,
    }
    assert data["nearest"] == []


CENTS = st.fractions(0, 12000, max_denominator=10)


@given(CENTS, CENTS, st.integers(-4, 4))
def test_octaves_do_not_count_for_pitch_classes(wished, cents, octaves):
    gap = deviation_cents(wished, cents, pitch_class=True)
    assert -600 <= gap < 600
    assert (cents - wished - gap) % 1200 == 0
    assert deviation_cents(wished, cents + 1200 * octaves, pitch_class=True) == gap


@given(st.lists(st.sampled_from(["F4", "C5", "A3-18", "G#5+31"]), min_size=1, max_size=4))
def test_every_wish_is_met_or_missing_and_no_tone_is_used_twice(names):
    for one in _find(pitches=_pitches(" ".join(names)), within_cents=Fraction(60)).fitting:
        assert len(one.met) + len(one.missing) == len(names)
        numbers = [meeting.tone.number for meeting in one.met]
        assert len(set(numbers)) == len(numbers)


def test_wishes_as_they_are_typed():
    wish = wish_from_text(
        WishText(
            concert="F, B flat",
            pitch_class=True,
            interval="7, 10.5",
            within="12.5",
            saxophone=("Alto Sax",),
            at="mf",
            speed="quavers at crotchet = 96",
            evidence="tried",
            avoid="C5",
        )
    )
    assert [str(pitch) for pitch in wish.pitches] == ["F4", "Bb4"]
    assert wish.intervals == (7, Fraction(21, 2))
    assert (wish.within_cents, wish.avoid_within_cents) == (Fraction(25, 2), 50)
    assert wish.saxophones == (saxophone("alto"),)
    assert str(wish.speed) == "eighth at quarter = 96"


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("F4 A5-20", ["F4", "A5-20"]),
        ("E flat 4", ["Eb4"]),
        ("E flat 4, G5 +31", ["Eb4", "G5+31"]),
        ("C4;E4;", ["C4", "E4"]),
    ],
)
def test_pitches_as_they_are_typed(typed, read):
    assert [str(pitch) for pitch in parse_pitches(typed)] == read


def test_the_nearest_is_the_one_with_the_fewest_cents_to_go():
    found = _find(pitches=_pitches("F4+6"), within_cents=Fraction(0))
    assert _names(found.ruled_out) == ["egret", "tern", "heron", "stork"]


def test_a_tone_that_is_taken_is_not_called_the_nearest():
    fitting = _find(pitches=_pitches("F4 F4")).fitting
    assert [one.met[0].tone.number for one in fitting] == [1, 1, 2]
    assert [one.missing[0].nearest.tone.number for one in fitting] == [2, 2, 3]
    text = found_text(_find(pitches=_pitches("F4 C5 E5")), most=1)
    assert re.search("E5 missing +no tone left", text)


def test_without_wished_pitches_all_tones_are_shown():
    text = found_text(_find(tone_count=3), most=1)
    assert "sounds  tone 1  concert A3" in text
    assert "cost 0" in text


def test_every_mistake_is_reported_with_its_option_and_column():
    with pytest.raises(ReedchordError) as caught:
        wish_from_text(
            WishText(
                concert="F4 A#x",
                saxophone=("kazoo",),
                interval="0",
                within="wide",
                articulation="tongued",
                evidence="rumour",
            )
        )
    text = str(caught.value)
    assert "--concert: 'A#x' is no pitch: column 6" in text
    assert "\n  F4 A#x\n       ^\n" in text
    assert "There are: sopranino, soprano, alto, C melody, tenor, baritone, bass" in text
    assert "--interval: '0' is no interval" in text
    assert "--within: 'wide' is no number of cents" in text
    assert "There are: single tongue, double tongue, breath, slap, slur, flutter." in text
    assert "From the weakest: invented, carried, documented, tried, measured." in text


def test_concert_and_written_exclude_each_other():
    with pytest.raises(RequestError, match="as concert and as written"):
        wish_from_text(WishText(concert="F4", written="D5"))


def test_no_pitch_is_a_mistake():
    with pytest.raises(ReedchordError, match="no pitch is given"):
        parse_pitches(" ")


def test_no_more_nearest_ones_are_shown_than_are_asked_for():
    found = _find(pitches=_pitches("B1"))
    for most, shown in ((1, 1), (2, 2), (9, 3)):
        assert len(found_data(found, most=most)["nearest"]) == shown
        assert found_text(found, most=most).count("ruled out by concert") == shown
