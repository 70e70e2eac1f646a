"""Searching by arrays gives what judging one sonority after the other gives."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.choosing import array_filters, array_meetings, array_search, search
from reedchord.choosing.search_wish import Wish
from reedchord.collection import Collection
from reedchord.dynamics import SCALE, DynamicRange
from reedchord.errors import ReedchordError
from reedchord.fingering import Fingering
from reedchord.pitch import pitch_from_cents
from reedchord.rhythm import NoteValue, Rate
from reedchord.saxophones import FAMILY
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Articulation, Evidence, Presence

# Few different figures, so that tones collide and costs tie; thirds and elevenths lie between
# the decimals, and elevenths between the units of the arrays.
EVEN_CENTS = st.sampled_from([0, 0, 10, -10, 5, 30])
CENTS = EVEN_CENTS | st.sampled_from([Fraction(-37, 2), Fraction(1, 3), Fraction(5, 11)])
# Written G4 to D5, and F5 to make octaves: on alto B flat 3 to F4, which is what is wished.
SEMITONES = [67, 68, 69, 70, 71, 72, 73, 74, 80]
HEIGHTS = st.builds(
    lambda semitone, cents: 100 * semitone + cents, st.sampled_from(SEMITONES), EVEN_CENTS | CENTS
)
MARKS = st.sampled_from(SCALE[2:7])
MEMBERS = st.sampled_from([FAMILY[name] for name in ("alto", "alto", "alto", "tenor")])
RATES = st.builds(
    Rate,
    st.sampled_from([NoteValue("eighth"), NoteValue("16th")]),
    st.just(NoteValue("quarter")),
    st.sampled_from([Fraction(60), Fraction(90), Fraction(120)]),
)
FINGERINGS = st.sets(st.sampled_from(["B", "A", "G", "F", "low C", "octave", "side C"])).map(
    lambda names: Fingering(tuple((name, "full") for name in sorted(names)))
)


@st.composite
def records(draw, name):
    member = draw(MEMBERS)
    heights = sorted(draw(st.sets(HEIGHTS, min_size=1, max_size=5)))
    low, high = sorted(draw(st.tuples(MARKS, MARKS)), key=lambda mark: mark.level)
    tones = []
    for height in heights:
        presence = draw(st.dictionaries(MARKS, st.sampled_from(Presence), max_size=3))
        kind = draw(st.sampled_from(["written", "concert"]))
        pitch = pitch_from_cents(Fraction(height))
        tones.append(
            {kind: pitch if kind == "written" else member.concert(pitch), "presence": presence}
        )
    limit = {"fastest": draw(RATES), "dynamics": draw(st.none() | st.just(DynamicRange(low, low)))}
    ways = draw(st.lists(st.sampled_from(["single tongue", "slap", "slur"]), unique=True))
    fields = {
        "id": name,
        "saxophone": member,
        "fingering": draw(FINGERINGS),
        "tones": tones,
        "emphasised": draw(st.none() | st.sampled_from(range(1, len(heights) + 1))),
        "dynamics": draw(st.none() | st.just(DynamicRange(low, high))),
        "limits": [limit | {"articulation": way} for way in ways],
        "neighbours": draw(
            st.sampled_from([[], [{"sonority": "b1", "because": "fingers"}]])
            if name != "b1"
            else st.just([])
        ),
        "evidence": draw(st.sampled_from(Evidence)),
        "set_up": "invented",
        "source": {"id": "log"},
    }
    try:
        return Sonority.model_validate(fields)
    except ValueError:  # a rule of records, such as presence outside of the dynamics
        return Sonority.model_validate(
            fields | {"dynamics": None, "emphasised": None, "limits": []}
        )


@st.composite
def collections(draw):
    # Ids do not come in the order of the file.
    names = draw(st.permutations([f"{letter}{n}" for letter in "cab" for n in range(3)]))
    found = [draw(records(name)) for name in names[: draw(st.integers(3, 9))]]
    return Collection({record.id: record for record in found}, {}, "drawn")


# Concert heights around those of the records.
PITCHES = st.builds(
    lambda semitone, cents: pitch_from_cents(Fraction(100 * semitone + cents)),
    st.sampled_from([semitone - 9 for semitone in SEMITONES]),
    EVEN_CENTS | CENTS,
)
WIDTHS = st.sampled_from([Fraction(c) for c in (20, 50, 50, 110, 600)] + [Fraction(70, 3)])


def _or_none(strategy):
    """Return mostly none, so that not every sonority is ruled out."""
    return st.integers(0, 6).flatmap(lambda chance: st.none() if chance else strategy)


def _often_one_twice(pitches):
    return st.sampled_from([tuple(pitches), (*pitches, pitches[0])])


WISHES = st.fixed_dictionaries(
    {
        "pitches": st.lists(PITCHES, min_size=1, max_size=3).flatmap(_often_one_twice)
        | st.just(()),
        "written": st.sampled_from([False, False, False, True]),
        "emphasised": st.none() | PITCHES,
        "pitch_class": st.booleans(),
        "intervals": _or_none(st.sampled_from([Fraction(7), Fraction(21, 2), Fraction(3)])).map(
            lambda wide: (wide,) if wide else ()
        ),
        "highest": _or_none(PITCHES),
        "lowest": _or_none(PITCHES),
        "tone_count": _or_none(st.integers(1, 5)),
        "within_cents": WIDTHS,
        "saxophones": st.sampled_from(
            [(), (), (FAMILY["alto"],), (FAMILY["alto"], FAMILY["bass"])]
        ),
        "dynamic": _or_none(MARKS),
        "speed": _or_none(RATES),
        "articulation": _or_none(st.sampled_from(Articulation)),
        "evidence": _or_none(st.sampled_from(Evidence)),
        "connects_to": _or_none(st.sampled_from(["a1", "b1"])),
        "avoid": _or_none(PITCHES).map(lambda pitch: (pitch,) if pitch else ()),
        "avoid_within_cents": WIDTHS,
    }
)


@settings(max_examples=60, deadline=None)
@given(collections(), st.lists(WISHES, min_size=5, max_size=5), st.integers(0, 4))
def test_the_same_sonorities_costs_and_order(collection, wishes, most):
    for wished in wishes:
        try:
            wish = Wish(**wished)
            one_by_one = search.find(collection, wish)
        except ReedchordError:  # an impossible wish, or none
            continue
        _check(collection, wish, one_by_one, most)


def _check(collection, wish, one_by_one, most):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "MANY", 0)
        # Small enough that a few records are looked at in several steps.
        patch.setattr(array_search, "BLOCK", 8)
        patch.setattr(array_meetings, "BLOCK", 3)
        patch.setattr(array_filters, "BLOCK", 2)
        patch.setattr(array_search, "SOME", 1)
        patch.setattr(array_search, "FEW", 1)
        patch.setattr(array_search, "GROWTH", 2)
        in_arrays = search.find(collection, wish, most=most)
    assert in_arrays.fitting == one_by_one.fitting[:most]
    assert in_arrays.ruled_out == (() if in_arrays.fitting else one_by_one.ruled_out[:most])
    assert in_arrays == search.find(collection, wish, most=most)
    assert (in_arrays.searched, in_arrays.fitting_count, in_arrays.complete) == (
        len(collection),
        len(one_by_one.fitting),
        one_by_one.complete,
    )
