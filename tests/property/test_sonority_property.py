"""What holds for every record that keeps the rules, however odd."""

import json
from fractions import Fraction

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from reedchord.carry import carry_to_all
from reedchord.collection import Collection
from reedchord.dynamics import SCALE, DynamicRange
from reedchord.fingering import Amount, Fingering
from reedchord.keywork import KEYS, exists_on
from reedchord.packed_records import packed, unpacked
from reedchord.pitch import pitch_from_cents
from reedchord.rhythm import QUARTERS_BY_TYPE, NoteValue, Rate
from reedchord.saxophones import FAMILY
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Articulation, Closeness, Evidence, Presence
from reedchord.source import CslType

IDS = st.from_regex(r"[A-Za-z][A-Za-z0-9_.:+-]{0,79}", fullmatch=True)
# No character that a MusicXML file cannot hold.
CHARACTERS = st.characters(
    min_codepoint=32, exclude_categories=["Cs"], exclude_characters="\ufffe\uffff"
)
WORDS = st.text(CHARACTERS, min_size=1, max_size=30).map(str.strip).filter(bool)
VALUES = st.builds(NoteValue, st.sampled_from(list(QUARTERS_BY_TYPE)), st.integers(0, 2))
SPEEDS = st.fractions(1, 400, max_denominator=100)
RATES = st.builds(Rate, VALUES, VALUES, SPEEDS)
RANGES = st.tuples(st.sampled_from(SCALE), st.sampled_from(SCALE)).map(
    lambda ends: DynamicRange(*sorted(ends, key=lambda mark: mark.level))
)
# Cents between written A2 and C8, whole or not.
HEIGHTS = st.lists(
    st.fractions(4500, 10800, max_denominator=9), min_size=1, max_size=12, unique=True
).map(sorted)
AUTHORS = st.lists(st.fixed_dictionaries({"family": WORDS}), max_size=3)
DATES = st.lists(st.integers(-2000, 2100), min_size=1, max_size=1).map(lambda date: [date])


@st.composite
def citations(draw):
    key = draw(IDS)
    entry = {
        "id": key,
        "type": draw(st.sampled_from(CslType.__args__)),
        "title": draw(st.none() | WORDS),
        "author": draw(AUTHORS),
        "issued": {"date-parts": draw(DATES)},
        "container-title": draw(st.none() | WORDS),
        "note": draw(st.none() | WORDS),
    }
    return {
        "id": key,
        "page": draw(st.none() | WORDS),
        "entry": draw(st.none() | st.just(entry)),
    }


@st.composite
def sonorities(draw):
    own_id = draw(IDS)
    other = "y" if own_id.startswith("x") else "x"
    member = draw(st.sampled_from(list(FAMILY.values())))
    dynamics = draw(st.none() | RANGES)
    marks = list(dynamics.marks() if dynamics else SCALE)
    heights = draw(HEIGHTS)
    numbers = range(1, len(heights) + 1)
    ways = draw(st.lists(st.sampled_from(Articulation), unique=True))
    there = [name for name, key in KEYS.items() if exists_on(key, member.name)]
    pressed = draw(st.dictionaries(st.sampled_from(there), st.sampled_from(Amount)))
    emphasised = draw(st.none() | st.sampled_from(numbers))
    loud = st.sampled_from([word for word in Presence if word is not Presence.ABSENT])
    return Sonority.model_validate(
        {
            "id": own_id,
            "name": draw(st.none() | WORDS),
            "saxophone": member,
            "fingering": Fingering(tuple(pressed.items())),
            "tones": [
                _tone(draw(st.integers(1, 3)), member, height)
                | {"presence": draw(st.dictionaries(st.sampled_from(marks), loud))}
                for height in heights
            ],
            "emphasised": emphasised,
            "dynamics": dynamics,
            "limits": [
                {
                    "articulation": way,
                    "fastest": draw(RATES),
                    "dynamics": draw(st.none() | st.just(dynamics)),
                }
                for way in ways
            ],
            "neighbours": [
                {"sonority": f"{other}{index}", "because": reason, "note": draw(st.none() | WORDS)}
                for index, reason in enumerate(draw(st.lists(st.sampled_from(Closeness))))
            ],
            "build_up": draw(st.lists(st.sampled_from(numbers), unique=True)),
            "advice": draw(st.none() | WORDS),
            "evidence": draw(st.sampled_from(Evidence)),
            "source": draw(citations()),
            "set_up": draw(st.none() | WORDS),
        }
    )


def _tone(which, member, height):
    """Return a tone with its written pitch (1), its concert pitch (2) or both (3)."""
    written = pitch_from_cents(Fraction(height))
    pitches = {"written": written, "concert": member.concert(written)}
    return {name: p for bit, (name, p) in enumerate(pitches.items()) if which >> bit & 1}


# A record has fifty fields: on a busy machine, making one and carrying it to the whole family
# take longer than hypothesis allows.
PATIENT = settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@PATIENT
@given(sonorities())
def test_a_record_goes_through_json_and_back(sonority):
    for options in ({"exclude_defaults": True}, {}):
        text = json.dumps(sonority.model_dump(mode="json", by_alias=True, **options))
        assert Sonority.model_validate(json.loads(text)) == sonority


@PATIENT
@given(sonorities())
def test_a_record_goes_through_plain_data_and_back(sonority):
    assert Sonority.model_validate(sonority.model_dump(by_alias=True)) == sonority


@PATIENT
@given(st.lists(sonorities(), max_size=3, unique_by=lambda sonority: sonority.id))
def test_records_go_through_the_cache_and_back(records):
    collection = Collection({record.id: record for record in records}, {}, "drawn")
    again = unpacked(packed(collection))
    assert again == collection
    assert repr(list(again)) == repr(records)
    assert [one.model_fields_set for one in again] == [one.model_fields_set for one in records]


@PATIENT
@given(sonorities())
def test_what_is_carried_is_a_sound_record(sonority):
    for carried in carry_to_all(sonority):
        assert (carried.sonority is None) == bool(carried.missing_keys)
        if carried.sonority is not None:
            data = carried.sonority.model_dump(mode="json", by_alias=True)
            assert Sonority.model_validate(data) == carried.sonority
            assert carried.sonority.written_pitches == sonority.written_pitches
            assert carried.sonority.concert_pitches == carried.concert
            assert carried.sonority.emphasised_number == sonority.emphasised_number


@PATIENT
@given(sonorities())
def test_each_tone_is_found_by_its_own_pitch(sonority):
    for number in sonority.numbers:
        assert sonority.tone_number(sonority.written(number)) == number
