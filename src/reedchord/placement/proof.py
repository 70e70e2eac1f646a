"""The proof, before anything is written, that a score holds what it should and all it had."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from reedchord.musicxml.chord_parts import Link
from reedchord.musicxml.document import Bar, Score
from reedchord.musicxml.event import Event
from reedchord.musicxml.fragment import parse_fragment
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.score_text import read_score_text
from reedchord.musicxml.splice import Edit, untouched_is_equal
from reedchord.musicxml.touched_bars import read_touched
from reedchord.placement.links import WrittenRun


class SelfCheckError(RuntimeError):
    """Our own fault: the result is not what was meant, so it is not handed out."""


def prove(
    before: Score,
    data: bytes,
    after: str,
    edits: Sequence[Edit],
    written: Sequence[WrittenRun],
) -> Score:
    """Return the finished document, its touched places held against what was meant.

    Every character outside the edits is as it was, every chord has the pitches, the length
    and the ties that were wanted, every rest its length, and every voice of a touched bar
    ends where it ended. Raises SelfCheckError.
    """
    bars = [one.run.music.part.bars[one.run.bar_index] for one in written]
    score = prove_untouched(before, data, after, edits, bars)
    music = {part.id: PartMusic(part) for part in score.parts}
    for one in written:
        if one.links[0].keeps_notes:
            _prove_only_added(before, one, edits)
        _prove_run(one, music[one.run.music.part.id])
        _prove_ends(one, music[one.run.music.part.id])
    return score


def prove_untouched(
    before: Score, data: bytes, after: str, edits: Sequence[Edit], bars: Iterable[Bar]
) -> Score:
    """Return the finished document read anew; of bars that nobody touched, only these `bars`.

    Raises SelfCheckError where more than the edits moved, or the bytes are not the text.
    """
    if not untouched_is_equal(before.text, after, edits):
        raise SelfCheckError("something outside the touched places changed")
    if read_score_text(data).text != after:
        raise SelfCheckError("the bytes do not give the text back")
    score = read_touched(before, after, edits, bars)
    if score.bar_count != before.bar_count:
        raise SelfCheckError("bars were lost, or came up from nowhere")
    return score


def _prove_only_added(before: Score, written: WrittenRun, edits: Sequence[Edit]) -> None:
    """Where notes stay as they are, not one character of them may go."""
    run = written.run
    start, end = before.bar_span(run.music.part.bars[run.bar_index])
    bar = parse_fragment(before.text[start:end])
    notes = [bar.children[index] for index in run.events[0].children]
    for edit in edits:
        if edit.start < edit.end and any(
            note.start + start < edit.end and edit.start < note.end + start for note in notes
        ):
            raise SelfCheckError("a note that was to stay as it is would be changed")


def _prove_run(written: WrittenRun, music: PartMusic) -> None:
    run = written.run
    timeline = music.bar(run.bar_index)
    if run.bar_index in music.multi_bar_rests:
        raise SelfCheckError(f"bar {timeline.bar} is hidden under a multi-bar rest")
    events = timeline.graces if run.events[0].is_grace else timeline.events
    mine = [
        event
        for event in events
        if (event.voice, event.staff) == (run.events[0].voice, run.events[0].staff)
        and not event.is_cue
    ]
    for piece, link in zip(run.pieces, written.links, strict=True):
        wanted = tuple(note.pitch for note in link.notes)
        found = [event for event in mine if event.onset_quarters == piece.onset_quarters]
        if run.events[0].is_grace:
            found = [event for event in found if event.pitches == wanted]
        where = f"{timeline.bar}, beat {timeline.beat_at(piece.onset_quarters)}"
        if len(found) != 1 and not run.events[0].is_grace:
            raise SelfCheckError(f"{where}: {len(found)} events where one was written")
        if not found or (found[0].pitches != wanted if wanted else not found[0].is_rest):
            raise SelfCheckError(f"{where}: the pitches are not those that were wanted")
        if found[0].duration_quarters != link.quarters:
            raise SelfCheckError(f"{where}: it does not last as long as it should")
        _prove_ties(found[0], link, where)


def _prove_ties(event: Event, link: Link, where: str) -> None:
    for note, wanted in zip(event.notes, link.notes, strict=False):
        found = {tie.get("type") for tie in note.iterfind("tie")}
        if not set(wanted.ties) <= found or (link.clears_ties and found != set(wanted.ties)):
            raise SelfCheckError(f"{where}: {wanted.pitch} is not tied as it should")


def _prove_ends(written: WrittenRun, music: PartMusic) -> None:
    run = written.run
    if music.bar(run.bar_index).ends != run.music.bar(run.bar_index).ends:
        bar = run.music.bar(run.bar_index).bar
        raise SelfCheckError(f"bar {bar}: a voice ends elsewhere now")
