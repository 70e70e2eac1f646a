"""Lengths, build-ups and tremolos all over real scores, judged by the schema and by readers.

The scores are those that the package music21 ships (truth.real_scores).
"""

from __future__ import annotations

import functools
import random
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

import pytest

from reedchord.errors import ReedchordError
from reedchord.musicxml.document import Part, read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.place import PlacedScore, place
from reedchord.placement.plan import Placement
from reedchord.placement.strip import strip
from reedchord.rhythm import beat_text
from samples import COLLECTION
from truth.engraving import engraved
from truth.musicxml_schema import new_schema_errors
from truth.real_scores import NAMED
from truth.score_text import root_file
from truth.sounding_strands import sounding_strands

SCORES = (
    "crlf melody",
    "cr chorale",
    "latin1 rests",
    "rests of all values",
    "bars of rest",
    "voice and clarinet",
    "chorale",
    "octave change",
    "version 4 voices",
    "two voices",
    "divisions mid-bar",
    "pickup",
)
every_score = pytest.mark.parametrize("name", SCORES)
LENGTHS = ("16th", "eighth", "quarter", "quarter.", "half", "half+eighth", "whole", "breve")
WAYS: tuple[dict[str, object], ...] = (
    {},
    {"build_up": True, "order": (2, 1, 3)},
    {"fade": True, "order": (2, 1, 3)},
    {"bring_out": True},
    {"tremolo": "egret"},
)


@dataclass(frozen=True)
class Lengths:
    """A real score before and after, and how many wishes were refused for which reason."""

    before: bytes
    result: PlacedScore
    refusals: Counter[str] = field(compare=False)


@functools.cache
def lengths(name: str) -> Lengths:
    """Place lengths and courses all over the first part of a real score, a spread of each."""
    data = root_file(NAMED[name].read_bytes())
    part = read_score(data).parts[0]
    refusals: Counter[str] = Counter()
    kept: list[Placement] = []
    for wish in _wishes(part, random.Random(name)):
        try:
            place(data, [*kept, wish], COLLECTION)
            kept.append(wish)
        except ReedchordError as error:
            refusals[error.code] += 1
    return Lengths(data, place(data, kept, COLLECTION), refusals)


def _wishes(part: Part, chance: random.Random) -> Iterator[Placement]:
    music = PartMusic(part)
    events = [
        (music.bar(bar.index), event)
        for bar in part.bars
        for event in music.bar(bar.index).events
        if event.duration_quarters and not event.is_cue
    ]
    rests = [row for row in events if row[1].is_rest]
    notes = [row for row in events if not row[1].is_rest]
    for kind, count in ((rests, 10), (notes, 6)):
        for timeline, event in chance.sample(kind, min(count, len(kind))):
            later = chance.choice([0, 0, Fraction(1, 2)]) if event.is_rest else 0
            onset = event.onset_quarters + later * event.duration_quarters
            yield Placement.model_validate(
                {
                    "sonority": "heron",
                    "part": part.id,
                    "bar": f"@{timeline.bar.index + 1}",
                    "beat": beat_text(1 + onset / timeline.opening_state.beat_quarters),
                    "voice": event.voice,
                    "staff": event.staff,
                    "saxophone": "alto",
                    "lasting": chance.choice(LENGTHS),
                    **chance.choice(WAYS),
                }
            )


@every_score
def test_the_schema_finds_nothing_new(name):
    # MusicXML 4.0 XSD, W3C Community Group Report.
    done = lengths(name)
    assert new_schema_errors(done.before, done.result.data) == []


@every_score
def test_every_voice_ends_where_it_ended(name):
    done = lengths(name)
    before, after = (
        PartMusic(read_score(data).parts[0]) for data in (done.before, done.result.data)
    )
    for bar in before.part.bars:
        assert before.bar(bar.index).ends == after.bar(bar.index).ends


@every_score
def test_the_same_bytes_come_back(name):
    done = lengths(name)
    assert strip(done.result.data).data == done.before


@every_score
def test_music21_hears_the_top_tone_as_long_as_it_should_sound(name):
    done = lengths(name)
    if any(one.target.event.staff != "1" for one in done.result.placed):
        return  # music21 makes a part of each staff
    heard = Counter((one.pitch, one.quarters) for one in sounding_strands(done.result.data))
    plain = [one for one in done.result.placed if not one.placement.ways]
    wanted = Counter(
        (one.sounding.tones[-1].pitch.cents / 100, one.target.duration_quarters) for one in plain
    )
    assert wanted - heard == Counter()


@every_score
def test_verovio_draws_the_new_noteheads(name):
    done = lengths(name)
    before, after = engraved(done.before), engraved(done.result.data)
    more = sum(
        one.noteheads
        - sum(0 if event.is_rest else len(event.notes) for _, event in one.target.chain)
        for one in done.result.placed
    )
    assert after.notehead_count - before.notehead_count == more
    assert Counter(after.warnings) - Counter(before.warnings) == Counter()


def test_how_many_were_placed_and_how_many_refused():
    count = sum(len(lengths(name).result.placed) for name in SCORES)
    refusals = sum((lengths(name).refusals for name in SCORES), Counter())
    said = ", ".join(f"{number} {code}" for code, number in refusals.most_common())
    sys.stdout.write(f"\n{count} lengths placed in {len(SCORES)} real scores; refused: {said}\n")
    assert count >= 50
