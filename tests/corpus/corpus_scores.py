"""Sonorities at a spread of addresses of a real score, and all that is checked of them."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from pathlib import Path
from random import Random

from reedchord.errors import ReedchordError, SeveralErrors, Where
from reedchord.musicxml.container import open_score
from reedchord.musicxml.document import Score, read_score
from reedchord.musicxml.packing import repack
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.place import PlacedScore, place
from reedchord.placement.plan import Placement
from reedchord.placement.record import PlacedRecord, record_of
from reedchord.placement.strip import strip
from samples import COLLECTION
from truth.music21_reading import sounding_by_part
from truth.musicxml_schema import new_schema_errors
from truth.real_scores import score_paths
from truth.score_text import encoding_of
from truth.untouched_text import without_touched

WHOLE = os.environ.get("REEDCHORD_CORPUS") == "whole"
SLICE = 60
"""Scores taken where the whole corpus was not asked for."""
ADDRESSES = 12
"""Places tried in one score, half of them rests where there are as many."""
LARGEST_FOR_MUSIC21 = 300_000 if WHOLE else 60_000
"""Bytes of a score that music21 is asked about: it takes about a second for 50 kB."""
EVERY_FOR_MUSIC21 = 3 if WHOLE else 2
"""One of so many scores is read by music21 too."""
NAMES = ("heron", "egret", "crane")


def chosen_scores() -> list[Path]:
    """Return all scores, or a slice of them that is always the same."""
    paths = score_paths()
    return list(paths) if WHOLE else sorted(Random("slice").sample(paths, SLICE))


@dataclass
class Outcome:
    """What came of one score."""

    placed: int = 0
    read_by_music21: int = 0
    refusals: Counter[str] = field(default_factory=Counter)
    music21: str = "not asked"


@cache
def outcome(path: Path) -> Outcome:
    """Place at a spread of addresses of one score and check everything; AssertionError if not."""
    packed = path.read_bytes()
    result = Outcome()
    try:
        file = open_score(packed)
        score = read_score(file.data)
        assert score.source.encode() == file.data
        assert repack(file, file.data) == packed
        asked = wishes(score, Random(path.name))
    except ReedchordError as error:
        result.refusals[error.code] += 1
        return result
    done = _placed(file.data, asked, result.refusals)
    if done is None:
        return result
    result.placed = len(done.placed)
    assert result.placed + sum(result.refusals.values()) == len(asked)
    assert new_schema_errors(file.data, done.data) == []
    assert_rest_is_untouched(file.data, done)
    assert_voices_end_alike(score, read_score(done.data))
    assert_record_is_read_back(done)
    assert open_score(repack(file, done.data)).data == done.data
    assert strip(done.data).data == file.data
    if len(done.data) <= LARGEST_FOR_MUSIC21 and Random(path.stem).random() * EVERY_FOR_MUSIC21 < 1:
        result.music21, result.read_by_music21 = asked_of_music21(file.data, done)
    return result


def wishes(score: Score, chance: Random) -> list[Placement]:
    """Return wishes for rests and notes anywhere in the score, those of cues left out."""
    rests, notes = [], []
    for part in score.parts:
        music = PartMusic(part)
        for bar in part.bars:
            timeline = music.bar(bar.index)
            for event in timeline.events:
                if not event.is_cue:
                    address = part.id, bar.index, timeline.beat_at(event.onset_quarters), event
                    (rests if event.is_rest else notes).append(address)
    half = ADDRESSES // 2
    chosen = chance.sample(rests, min(len(rests), half))
    chosen += chance.sample(notes, min(len(notes), ADDRESSES - len(chosen)))
    return [
        Placement(
            sonority=chance.choice(NAMES),
            part=part,
            bar=f"@{bar + 1}",
            beat=beat,
            voice=event.voice or None,
            staff=event.staff or None,
            saxophone=COLLECTION["heron"].saxophone,
        )
        for part, bar, beat, event in chosen
    ]


def _placed(data: bytes, asked: list[Placement], refusals: Counter[str]) -> PlacedScore | None:
    """Place what can be placed; every refusal is counted by its code and names its place."""
    rows = [(wish, Where(line=line)) for line, wish in enumerate(asked)]
    errors: tuple[ReedchordError, ...] = ()
    while rows:
        try:
            return place(data, rows, COLLECTION)
        except SeveralErrors as several:
            errors = several.errors
        except ReedchordError as error:
            errors = (error,)
        for error in errors:
            refusals[error.code] += 1
            assert error.message
            assert error.where.part, error
            assert error.where.bar, error
        refused = {error.where.line for error in errors}
        rows = [row for row in rows if row[1].line not in refused]
    return None


def assert_rest_is_untouched(before: bytes, done: PlacedScore) -> None:
    """All outside the touched bars and our field is as it was, byte for byte."""
    touched = {
        one.target.part.bars[index].ordinal
        for one in done.placed
        for index in one.target.touched_bars
    }
    codec = encoding_of(before)
    old, new = before.decode(codec), done.data.decode(codec)
    assert without_touched(new, touched) == without_touched(old, touched)


def assert_voices_end_alike(before: Score, after: Score) -> None:
    """Every voice of every bar ends where it ended."""
    for old, new in zip(before.parts, after.parts, strict=True):
        old_music, new_music = PartMusic(old), PartMusic(new)
        for bar in old.bars:
            assert old_music.bar(bar.index).ends == new_music.bar(bar.index).ends, (old, bar)


def assert_record_is_read_back(done: PlacedScore) -> None:
    """What stands in the score, with the cents of its record, is the sonority's concert pitch."""
    score = read_score(done.data)
    record = record_of(score)
    assert len(record.placements) == len(done.placed)
    for row in record.placements:
        sonority = record.sonorities[row.wish.sonority]
        true = [sonority.concert(number).cents for number in row.numbers]
        lift = 0 if row.is_concert else 100 * sonority.saxophone.semitones
        shown = _chord_at(score, row)
        read = [
            pitch + lift + Fraction(cents) for pitch, cents in zip(shown, row.cents, strict=True)
        ]
        assert read == true, row


def _chord_at(score: Score, row: PlacedRecord) -> list[Fraction]:
    """Return the heights in cents of the chord that stands where a row says."""
    music = PartMusic(score.part(row.wish.part))
    bar = music.part.bar(row.wish.bar).index
    (event,) = [
        event
        for event in music.bar(bar).events
        if event.onset_quarters == Fraction(row.onset_quarters)
        and (event.voice, event.staff) == (row.wish.voice, row.wish.staff)
        and not event.is_cue
    ]
    return [pitch.cents for pitch in event.pitches]


def asked_of_music21(before: bytes, done: PlacedScore) -> tuple[str, int]:
    """Return how music21 fared, and how many chords it read; AssertionError for a wrong one."""
    try:
        sounding_by_part(before)
    except Exception as error:  # music21 raises of many kinds
        return f"cannot read the original: {type(error).__name__}", 0
    heard = sounding_by_part(done.data)
    for one in done.placed:
        target = one.target
        onset, bar = target.event.onset_quarters, target.bar.index
        transpose = target.timeline.state_at(onset).transpose(target.event.staff)
        semitones = transpose.semitones if transpose else 0
        wanted = tuple(sorted(tone.pitch.cents / 100 + semitones for tone in one.sounding.tones))
        there = list(_near(heard[target.part.id][bar], onset))
        assert wanted in there, (target.where, wanted, there)
    return "read the result", len(done.placed)


def _near(bar: list, onset: Fraction) -> Iterator[tuple[Fraction, ...]]:
    return (one.pitches for one in bar if abs(one.onset_quarters - onset) < Fraction(1, 1000))
