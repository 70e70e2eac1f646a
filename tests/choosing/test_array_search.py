"""Cases that arrays could get wrong, each against judging one sonority after the other."""

from __future__ import annotations

from fractions import Fraction

import pytest

from reedchord.choosing import array_search, search
from reedchord.choosing.search_wish import Wish
from reedchord.collection import Collection
from reedchord.pitch import parse_pitch
from samples import EGRET, HERON, sonority


def _tones(*rows):
    """Return tones for alto by concert pitch, each with its presence at mf."""
    return [{"concert": pitch, "presence": {"mf": presence}} for pitch, presence in rows]


def _pitches(text):
    return tuple(map(parse_pitch, text.split()))


def _both(monkeypatch, records, **wishes):
    """Return what both ways of searching find; they must agree."""
    collection = Collection({record.id: record for record in records}, {}, "made")
    wish = Wish(**wishes)
    plain = search.find(collection, wish, most=9)
    monkeypatch.setattr(search, "MANY", 0)
    assert search.find(collection, wish, most=9) == plain
    return plain


def _met(found, name):
    [one] = [one for one in found.fitting if one.sonority.id == name]
    return [(str(meeting.wish), meeting.tone.number) for meeting in one.met]


def test_a_dominant_tone_out_of_reach_does_not_beat_a_faint_one_within(monkeypatch):
    tones = _tones(("F4-45", "faint"), ("F4+55", "dominant"))
    found = _both(monkeypatch, [sonority("one", tones=tones)], pitches=_pitches("F4"))
    assert _met(found, "one") == [("F4", 1)]


def test_of_two_tones_that_cost_the_same_the_first_is_taken(monkeypatch):
    tones = _tones(("F4-10", "clear"), ("F4+15", "dominant"))
    found = _both(monkeypatch, [sonority("one", tones=tones)], pitches=_pitches("F4"))
    assert _met(found, "one") == [("F4", 1)]
    assert found.fitting[0].cost == 15 + 30


def test_two_wishes_for_one_tone(monkeypatch):
    tones = _tones(("F4-10", "clear"), ("F4+60", "clear"))
    wishes = {"pitches": _pitches("F4 F4+20"), "within_cents": Fraction(50)}
    found = _both(monkeypatch, [sonority("one", tones=tones)], **wishes)
    assert _met(found, "one") == [("F4", 1), ("F4+20", 2)]


def test_the_emphasised_wish_by_the_tone_that_meets_it(monkeypatch):
    tones = _tones(("F4", "clear"), ("C5", "clear"))
    records = [sonority("first", tones=tones, emphasised=1)]
    records += [sonority("second", tones=tones, emphasised=2), sonority("none", tones=tones)]
    wishes = {"pitches": _pitches("F4 C5"), "emphasised": parse_pitch("C5")}
    found = _both(monkeypatch, records, **wishes)
    assert [one.sonority.id for one in found.fitting] == ["second", "first", "none"]


@pytest.mark.parametrize("by_class", [False, True])
def test_nothing_fits_and_the_nearest_come_first(monkeypatch, by_class):
    records = [HERON, EGRET, sonority("far", "B3"), sonority("odd", "C4+1/11", "E5")]
    found = _both(monkeypatch, records, pitches=_pitches("C#2-45"), pitch_class=by_class,
                  within_cents=Fraction(1))  # fmt: skip
    assert found.fitting == ()
    assert len(found.ruled_out) == 4


def test_wishes_between_the_units_are_held_one_by_one(monkeypatch):
    found = _both(monkeypatch, [HERON, EGRET], pitches=_pitches("C4-1/11"))
    assert [one.sonority.id for one in found.fitting] == ["egret"]


@pytest.mark.parametrize("most", [1, 2, 3])
def test_one_good_tone_beats_all_wishes_met_badly(monkeypatch, most):
    good = sonority("good", tones=_tones(("F4", "dominant"), ("C5", "dominant")))
    half = sonority("half", tones=_tones(("F4", "dominant")))
    loud = [(pitch, "dominant") for pitch in ("D5", "E5", "F5", "G5")]
    bad = sonority("bad", tones=_tones(("F4-45", "faint"), ("C5-45", "faint"), *loud))
    collection = Collection({one.id: one for one in (bad, half, good)}, {}, "made")
    monkeypatch.setattr(search, "MANY", 0)
    found = search.find(collection, Wish(pitches=_pitches("F4 C5")), most=most)
    ranked = [(one.sonority.id, one.cost) for one in found.fitting]
    assert ranked == [("good", 0), ("half", 200), ("bad", 260)][:most]
    assert (found.fitting_count, found.complete) == (3, 2)


def test_sonorities_that_no_array_holds_do_not_push_out_earlier_ones(monkeypatch):
    # An eleventh of a cent lies between the units: these three are judged alone.
    off_grid = [sonority(name, tones=_tones(("F4+1/11", "clear"))) for name in "xyz"]
    others = [sonority(name, tones=_tones(("F4", "clear"))) for name in "abc"]
    monkeypatch.setattr(array_search, "BLOCK", 8)
    collection = Collection({one.id: one for one in (*off_grid, *others)}, {}, "made")
    wish = Wish(tone_count=1)
    monkeypatch.setattr(search, "MANY", 0)
    found = search.find(collection, wish, most=3)
    assert [one.sonority.id for one in found.fitting] == ["a", "b", "c"]


@pytest.mark.parametrize(
    ("tones", "taken"),
    [
        # The second wish loses less by giving way, then the first one does.
        (("F4-10", "F4+20"), [1, 2]),
        (("F4-20", "F4+10"), [1, 2]),
        # It costs the same: the earlier wish has the lower tone.
        (("F4", "F4+5"), [1, 2]),
        # Nothing else is near to either: the later wish goes without.
        (("F4", "C6"), [1]),
        # What one could give way to is wanted by a third.
        (("F4", "F4+40", "F4+55"), [1, 2, 3]),
    ],
)
def test_who_gives_way(monkeypatch, tones, taken):
    record = sonority("one", tones=_tones(*((pitch, "clear") for pitch in tones)))
    wishes = "F4 F4+2" if len(tones) == 2 else "F4 F4+5 F4+30"
    found = _both(monkeypatch, [record], pitches=_pitches(wishes), within_cents=Fraction(60))
    assert [number for _, number in _met(found, "one")] == taken
