"""From placements whose targets are known to the finished, checked document."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from reedchord.errors import InputError, Where
from reedchord.musicxml.chord_writer import (
    BarText,
    ChordToWrite,
    chord_edits,
    continuation,
    links_of,
)
from reedchord.musicxml.document import Bar, Score
from reedchord.musicxml.fragment import parse_fragment
from reedchord.musicxml.giving_back import taken_away
from reedchord.musicxml.header import field_span, new_field_edit
from reedchord.musicxml.score_text import line_and_column
from reedchord.musicxml.splice import Edit, splice
from reedchord.musicxml.timeline import Event
from reedchord.numbers_as_text import decimal_text
from reedchord.placement.appearance import chord_to_write, wanted_tones
from reedchord.placement.labels import Labels
from reedchord.placement.placed import PlacedSonority
from reedchord.placement.proof import prove
from reedchord.placement.reading_traps import reading_traps
from reedchord.placement.record import ID_PREFIX, PlacedRecord, ScoreRecord, record_text
from reedchord.placement.style import Style
from reedchord.placement.target import Target
from reedchord.placement.undo import undo_of
from reedchord.placement.wish import Wish


@dataclass(frozen=True)
class Writing:
    """What is written into: `settled` is the record of placements that stay as they are."""

    score: Score
    style: Style
    settled: ScoreRecord | None


@dataclass(frozen=True)
class Written:
    """The finished document with what was done."""

    data: bytes
    after: str
    placed: tuple[PlacedSonority, ...]
    warnings: tuple[str, ...]
    record: ScoreRecord


Wanted = tuple[Wish, Target]


def write(writing: Writing, wanted: Sequence[Wanted]) -> Written:
    """Write placements into a score and prove that nothing else moved."""
    score = writing.score
    # Reading all ids takes a while, and few scores have any of our kind.
    may_meet = score.can_have_ids and f"{ID_PREFIX}-" in score.text
    labels = Labels(writing.settled, score.ids if may_meet else ())
    placed: list[PlacedSonority] = []
    rows: list[PlacedRecord] = []
    edits: list[Edit] = []
    bars: dict[int, BarText] = {}
    for wish, target in sorted(wanted, key=lambda row: row[1].order):
        placement, sonority = wish.placement, wish.sonority
        label, is_first = labels.label(sonority.id)
        sounding = wanted_tones(
            placement, sonority, writing.style, is_concert=target.pitch.is_concert
        )
        done = PlacedSonority(label, is_first, sonority, sounding, placement, target)
        row = _row(done, labels.next_number(), score, bars)
        chord = chord_to_write(
            sounding,
            placement,
            sonority,
            writing.style,
            label,
            is_first=is_first,
            cents_as_words=target.music.has_lyrics,
        )
        words = (chord.words,) if chord.words else ()
        row = row.model_copy(update={"words": words, "set_aside": dict(wish.set_aside)})
        edits += _placement_edits(score, target, chord, row.ids, bars)
        placed.append(done)
        rows.append(row)
    edits = [Edit(e.start, e.end, score.source.encodable(e.new_text)) for e in edits]
    record, field_edit = _with_record(writing, rows, placed, edits)
    after = splice(score.text, [*edits, field_edit])
    data = score.source.with_text(after).encode()
    prove(score, data, after, [*edits, field_edit], placed)
    return Written(data, after, tuple(placed), _warnings(placed), record)


def _row(done: PlacedSonority, number: int, score: Score, bars: dict[int, BarText]) -> PlacedRecord:
    target, sounding = done.target, done.sounding
    wish = {"part": target.part.id, "bar": f"@{target.bar.index + 1}", "beat": target.beat}
    wish |= {"voice": target.event.voice, "staff": target.event.staff}
    return PlacedRecord(
        number=number,
        label=done.label,
        wish=done.placement.model_copy(update=wish),
        bar=target.bar.label or str(target.bar.index + 1),
        onset_quarters=str(target.event.onset_quarters),
        duration_quarters=str(target.duration_quarters),
        is_concert=target.pitch.is_concert,
        pitches=tuple(tone.pitch for tone in sounding.tones),
        cents=tuple(decimal_text(tone.left_over_cents) for tone in sounding.tones),
        numbers=sounding.numbers,
        emphasised=sounding.emphasised,
        ids=tuple(_ids(done, number)) if score.can_have_ids else (),
        was=tuple(
            taken_away(_bar_text(score, target.part.bars[index], bars), event)
            for index, event in target.chain
        ),
    )


def _ids(done: PlacedSonority, number: int) -> Iterator[str]:
    """Yield an id for each note of each written chord; those that the score gave stay."""
    note = 0
    for _, event in done.target.chain:
        given = dict(enumerate(old.get("id") for old in event.notes))
        for place in range(len(done.sounding.tones) * links_of(event)):
            note += 1
            yield given.get(place) or f"{ID_PREFIX}-{number}-{note}"


def _placement_edits(
    score: Score,
    target: Target,
    chord: ChordToWrite,
    ids: tuple[str, ...],
    bars: dict[int, BarText],
) -> Iterator[Edit]:
    """Yield the edits bar by bar: what hangs on the chord stands in the first."""
    for bar_index, links in groupby(target.chain, key=lambda link: link[0]):
        bar = _bar_text(score, target.part.bars[bar_index], bars)
        events: list[Event] = [event for _, event in links]
        here = chord if bar_index == target.bar.index else continuation(chord, ())
        used = len(chord.notes) * sum(links_of(event) for event in events)
        yield from chord_edits(
            bar,
            events,
            replace(here, ids=ids[:used]),
            comes_in=bar_index != target.bar.index,
            goes_on=bar_index != target.chain[-1][0],
        )
        ids = ids[used:]


def _bar_text(score: Score, bar: Bar, bars: dict[int, BarText]) -> BarText:
    """Return a bar's text and nodes, read once for all placements in it."""
    if bar.ordinal not in bars:
        start, end = score.bar_span(bar)
        text = score.text[start:end]
        try:
            bars[bar.ordinal] = BarText(text, parse_fragment(text), start)
        except InputError as error:
            line, _ = line_and_column(score.text, start)
            raise error.at(Where(line=line, bar=str(bar))) from None
    return bars[bar.ordinal]


def _with_record(
    writing: Writing, rows: list[PlacedRecord], placed: list[PlacedSonority], edits: list[Edit]
) -> tuple[ScoreRecord, Edit]:
    """Return the record of all placements and the edit that writes it into the header."""
    score, settled = writing.score, writing.settled
    sonorities = {done.sonority.id: done.sonority for done in placed}
    if settled is not None:
        record = ScoreRecord(
            style=writing.style,
            placements=(*settled.placements, *rows),
            sonorities={**settled.sonorities, **sonorities},
        )
        span = field_span(score)
        assert span is not None  # the settled record was read from it
        return record, Edit(span.start, span.end, record_text(record))
    bare = ScoreRecord(style=writing.style, placements=tuple(rows), sonorities=sonorities)
    around = new_field_edit(score, "{}")
    undo = undo_of(score.text, edits, around, "{}")
    record = bare.model_copy(update={"undo": undo})
    text = around.new_text.replace("{}", record_text(record), 1)
    return record, Edit(around.start, around.end, text)


def _warnings(placed: Sequence[PlacedSonority]) -> tuple[str, ...]:
    by_part = (sentence for done in placed for sentence in done.target.pitch.warnings)
    return tuple(dict.fromkeys((*by_part, *reading_traps(placed))))
