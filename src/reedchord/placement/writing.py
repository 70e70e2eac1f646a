"""From placements whose targets are known to the finished, checked document."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from reedchord.musicxml.bar_texts import BarTexts
from reedchord.musicxml.chord_writer import notation_edits, run_edits
from reedchord.musicxml.document import Score
from reedchord.musicxml.giving_back import taken_away
from reedchord.musicxml.header import field_span, new_field_edit
from reedchord.musicxml.multi_bar_rests import division_edits
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.splice import Edit, splice
from reedchord.numbers_as_text import decimal_text
from reedchord.pitch import Pitch
from reedchord.placement.annotate import has_fingering
from reedchord.placement.drafts import Draft, Writing, drafts
from reedchord.placement.layout import layout
from reedchord.placement.legends import (
    Legends,
    has_legends,
    legends,
    prove_legends,
    wanted_legends,
)
from reedchord.placement.links import (
    WrittenChord,
    WrittenRun,
    chords_of_all,
    written_runs,
)
from reedchord.placement.placed import PlacedChord, PlacedSonority
from reedchord.placement.proof import prove
from reedchord.placement.reading_traps import reading_traps
from reedchord.placement.record import PlacedRecord, ScoreRecord, record_text
from reedchord.placement.slurs import Slurs
from reedchord.placement.target import Target
from reedchord.placement.undo import undo_of
from reedchord.placement.wish import Wish
from reedchord.sonority import Sonority


class Written(NamedTuple):
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
    ordered = sorted(wanted, key=lambda row: row[1].order)
    planned, slurs = drafts(writing, ordered)
    runs = layout([(draft.target, draft.course.rhythm) for draft in planned])
    written = written_runs(runs, [draft.voicing for draft in planned])
    bars = BarTexts(score)
    edits = list(_slur_edits(writing, slurs, bars))
    # Where notes touch, what comes after the one and before the next share a point.
    for one in sorted(written, key=_place_in_document):
        bar = bars.of(one.run.music.part.bars[one.run.bar_index])
        edits += run_edits(bar, one.run.events, one.links)
    for music, sounding in _sounding_bars(written, has_legends=has_legends(writing.style)):
        edits += division_edits(music, sounding, bars.of)
    edits = _encodable(score, edits)
    chords = list(zip(planned, chords_of_all(written, len(planned)), strict=True))
    placed = [_placed(draft, mine) for draft, mine in chords]
    rows = [_row(draft, mine, bars) for draft, mine in chords]
    writing = _with_slurs(writing, slurs)
    known = _sonorities(writing, placed)
    told = _legends(writing, rows, known, bars)
    edits = [*_encodable(score, told.edits), *edits]
    record, field_edit = _with_record(writing, rows, known, told.texts, edits)
    after = splice(score.text, [*edits, field_edit])
    data = score.source.with_text(after).encode()
    prove_legends(prove(score, data, after, [*edits, field_edit], written), told.texts)
    warnings = (*_warnings(placed, written), *told.warnings)
    return Written(data, after, tuple(placed), warnings, record)


def _encodable(score: Score, edits: Iterable[Edit]) -> list[Edit]:
    return [Edit(e.start, e.end, score.source.encodable(e.new_text)) for e in edits]


def _sonorities(writing: Writing, placed: Sequence[PlacedSonority]) -> dict[str, Sonority]:
    """Return all sonorities of the finished score by their ids."""
    settled = writing.settled.sonorities if writing.settled else {}
    return {**settled, **{one.id: one for done in placed for one in done.sonorities}}


def _legends(
    writing: Writing, rows: Sequence[PlacedRecord], known: Mapping[str, Sonority], bars: BarTexts
) -> Legends:
    """Return the legends that the finished score has, and how they get into it."""
    settled = writing.settled
    every = [*(settled.placements if settled else ()), *rows]
    wanted = wanted_legends(writing.style, every, known)
    former = settled.legends if settled else {}
    return legends(bars, writing.score.parts, former, wanted)


def _place_in_document(one: WrittenRun) -> tuple[int, int]:
    run = one.run
    return run.music.part.bars[run.bar_index].ordinal, run.events[0].children[0]


def _sounding_bars(
    written: Sequence[WrittenRun], *, has_legends: bool
) -> Iterator[tuple[PartMusic, set[int]]]:
    """Yield each part's music with the bars that are written into; legends stand in the last."""
    parts = {one.run.music.part.id: one.run.music for one in written}
    for part_id, music in parts.items():
        bars = {one.run.bar_index for one in written if one.run.music.part.id == part_id}
        yield music, bars | ({len(music.part.bars) - 1} if has_legends else set())


def _placed(draft: Draft, chords: Sequence[WrittenChord]) -> PlacedSonority:
    return PlacedSonority(
        draft.label,
        draft.is_first,
        draft.wish.sonority,
        draft.sounding,
        draft.wish.placement,
        draft.target,
        tuple(
            PlacedChord(
                chord.bar_index,
                chord.onset_quarters,
                chord.link.quarters,
                tuple(note.pitch for note in chord.link.notes),
            )
            for chord in chords
        ),
        draft.wish.other,
        draft.other.label if draft.other else None,
    )


def _row(draft: Draft, chords: Sequence[WrittenChord], bars: BarTexts) -> PlacedRecord:
    target, sounding = draft.target, draft.sounding
    address = {"part": target.part.id, "bar": f"@{target.bar.index + 1}", "beat": target.beat}
    address |= {"voice": target.event.voice, "staff": target.event.staff}
    slur = {"slur": draft.slur is not None}
    words = [chord.link.hung.words for chord in chords]
    return PlacedRecord.model_construct(
        number=draft.number,
        label=draft.label,
        wish=draft.wish.placement.model_copy(update=address | slur),
        bar=target.bar.label or str(target.bar.index + 1),
        onset_quarters=str(target.onset_quarters),
        duration_quarters=str(target.duration_quarters),
        is_concert=target.pitch.is_concert,
        pitches=tuple(tone.pitch for tone in sounding.tones),
        cents=tuple(decimal_text(tone.left_over_cents) for tone in sounding.tones),
        numbers=sounding.numbers,
        emphasised=sounding.emphasised,
        ids=tuple(note.id for chord in chords for note in chord.link.notes if note.id),
        was=_taken_away(draft, bars),
        other=draft.other,
        slur=draft.slur,
        chords=_chord_pitches(draft, chords),
        lengths=()
        if draft.voicing.keeps_ties
        else tuple(str(event.duration_quarters) for _, event in target.chain),
        before=str(target.onset_quarters - target.event.onset_quarters),
        divides_bar_rest=bool(target.divided_rests),
        kept_fingering=has_fingering(target, draft.wish.sonority),
        words=tuple(text for text in words if text),
        marks=tuple(mark for chord in chords for mark in chord.link.hung.directions),
        set_aside=dict(draft.wish.set_aside),
        history=draft.wish.history,
    )


def _chord_pitches(draft: Draft, chords: Sequence[WrittenChord]) -> tuple[tuple[Pitch, ...], ...]:
    """Return the pitches chord by chord, nothing where every chord has them all."""
    if len(draft.course.steps) == 1 and draft.other is None:
        return ()
    return tuple(tuple(note.pitch for note in chord.link.notes) for chord in chords)


def _taken_away(draft: Draft, bars: BarTexts) -> tuple[tuple[str, ...], ...]:
    """Return what gave way, event by event."""
    target, is_divided = draft.target, not draft.voicing.keeps_ties
    return tuple(
        taken_away(bars.of(target.part.bars[index]), event, is_divided=is_divided)
        for index, event in target.chain
    )


def _slur_edits(writing: Writing, slurs: Slurs, bars: BarTexts) -> Iterator[Edit]:
    """Yield edits that hang the ends of new slurs on placements that stay as they are."""
    for found in writing.standing:
        marks = slurs.marks.get(found.row.number)
        if marks and found.music is not None:
            index, event = found.chain[0]
            yield from notation_edits(bars.of(found.music.part.bars[index]), event, marks)


def _with_slurs(writing: Writing, slurs: Slurs) -> Writing:
    """Return the same with new slurs in the record of what stays."""
    settled = writing.settled
    if settled is None:
        return writing
    rows = tuple(
        row.with_slur(slurs.records[row.number]) if row.number in slurs.records else row
        for row in settled.placements
    )
    return writing._replace(settled=settled.model_copy(update={"placements": rows}))


def _with_record(
    writing: Writing,
    rows: list[PlacedRecord],
    sonorities: dict[str, Sonority],
    legend_texts: dict[str, str],
    edits: list[Edit],
) -> tuple[ScoreRecord, Edit]:
    """Return the record of all placements and the edit that writes it into the header."""
    score, settled = writing.score, writing.settled
    if settled is not None:
        record = ScoreRecord.model_construct(
            style=writing.style,
            placements=(*settled.placements, *rows),
            sonorities=sonorities,
            legends=legend_texts,
        )
        span = field_span(score)
        assert span is not None  # the settled record was read from it
        return record, Edit(span.start, span.end, record_text(record))
    bare = ScoreRecord.model_construct(
        style=writing.style,
        placements=tuple(rows),
        sonorities=sonorities,
        legends=legend_texts,
    )
    (around,) = _encodable(score, [new_field_edit(score, "{}")])
    undo = undo_of(score.text, edits, around, "{}")
    record = bare.model_copy(update={"undo": undo})
    head, _, tail = around.new_text.rpartition("{}")
    return record, Edit(around.start, around.end, head + record_text(record) + tail)


def _warnings(placed: Sequence[PlacedSonority], written: Sequence[WrittenRun]) -> tuple[str, ...]:
    by_part = (sentence for done in placed for sentence in done.target.pitch.warnings)
    return tuple(dict.fromkeys((*by_part, *reading_traps(placed, written))))
