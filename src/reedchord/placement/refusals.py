"""What cannot give way to a sonority, and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reedchord.errors import RequestError
from reedchord.musicxml.document import Bar
from reedchord.musicxml.event import Event
from reedchord.musicxml.part_music import PartMusic


def refuse_event(music: PartMusic, bar_index: int, event: Event) -> None:
    """Raise RequestError where a chord in place of this event would break something."""
    _refuse_unclear_notes(event)
    if event.first.get("print-object") == "no":
        raise RequestError(
            "address.hidden",
            "this rest or note is hidden in the score, and a chord in its place would be too",
            hint="Show it in the score first, or choose another voice.",
        )
    if not event.is_rest and not event.is_pitched:
        raise RequestError("address.unpitched", "this is a note without pitch")
    if event.is_grace and (event.is_tied("start") or event.is_tied("stop")):
        raise RequestError(
            "address.tie",
            "this grace note is tied to another note",
            hint="Take the tie out in the score first.",
        )
    if (
        event.is_rest
        and event.first.find("beam") is None
        and _is_under_beam(music, bar_index, event)
    ):
        raise RequestError(
            "address.beam",
            "a chord in place of this rest would split a beam",
            hint="Choose another place, or break the beam in the score first.",
        )


def refuse_hiding_bars(music: PartMusic, bar_indices: Sequence[int]) -> None:
    """Raise RequestError where a sign stands for the bar and would hide the chord.

    verovio draws no note under a repeat sign for bars (measured). Multi-bar rests are divided,
    unless another one begins inside.
    """
    for index in bar_indices:
        if index in music.bars_of_repeat_signs:
            raise RequestError(
                "address.repeat-sign",
                f"bar {music.part.bars[index]} is written as a sign that repeats the bar before, "
                "which would hide the chord",
                hint="Write the bar out in the score first.",
            )
    for bars in {music.multi_bar_rests.get(index) for index in bar_indices} - {None}:
        assert bars is not None  # as None was taken out
        inner = [music.part.bars[index] for index in bars[1:]]
        begun = next((bar for bar in inner if _begins_bars_of_rest(bar)), None)
        if begun is not None:
            raise RequestError(
                "address.multi-bar-rest",
                f"a multi-bar rest begins in bar {begun}, inside the one from bar "
                f"{music.part.bars[bars[0]]} on",
                hint="Let them follow one another in the score first.",
            )


def _begins_bars_of_rest(bar: Bar) -> bool:
    return next(bar.element.iter("multiple-rest"), None) is not None


def refuse_broken_ties(
    music: PartMusic, bar_index: int, chain: Sequence[tuple[int, Event]]
) -> None:
    """Raise RequestError where ties lead in, or lead on from some notes of a chord only."""
    before = music.tied_into(bar_index, chain[0][1])
    if before is not None:
        bar = music.bar(before[0])
        raise RequestError(
            "address.inside",
            "this note is tied to the one before it",
            hint=f"Place the sonority on bar {bar.bar}, beat "
            f"{bar.simple_beat_at(before[1].onset_quarters)}: it takes the whole chain of ties.",
        )
    last_bar, last = chain[-1]
    following = music.next_in_voice(last_bar, last) if last.is_tied("start") else None
    if following is not None and following[1].is_tied("stop"):
        bar = music.bar(following[0])
        raise RequestError(
            "address.tie",
            "only some notes are tied on to the next chord, in bar "
            f"{bar.bar}, beat {bar.beat_at(following[1].onset_quarters)}",
            hint="Tie all of its notes, or none, so that it is clear what the sonority takes.",
        )


def _refuse_unclear_notes(event: Event) -> None:
    """Raise RequestError where a note says twice what it is: readers differ on such notes."""
    for note in event.notes:
        said = [str(child.tag) for child in note.iterchildren("pitch", "unpitched", "rest")]
        if len(said) > 1:
            raise RequestError(
                "address.unclear-note",
                f"a note here holds <{said[0]}> and <{said[1]}> at once",
                hint="Mend it in the score first.",
            )


def _is_under_beam(music: PartMusic, bar_index: int, rest: Event) -> bool:
    """Whether a beam leads over a rest from the note before it to the next, over barlines too."""
    return _next_beam(_after(music, bar_index, rest)) in ("continue", "end") and _next_beam(
        _before(music, bar_index, rest)
    ) in ("begin", "continue")


def _next_beam(events: Iterator[Event]) -> str | None:
    """Return the beam of the first note, or of the first rest that has one."""
    for event in events:
        beam = event.first.findtext("beam")
        if beam or not event.is_rest:
            return beam
    return None


def _after(music: PartMusic, bar_index: int, event: Event) -> Iterator[Event]:
    here = _voice(music, bar_index, event.voice)
    yield from here[here.index(event) + 1 :]
    yield from _voice(music, bar_index + 1, event.voice)


def _before(music: PartMusic, bar_index: int, event: Event) -> Iterator[Event]:
    here = _voice(music, bar_index, event.voice)
    yield from reversed(here[: here.index(event)])
    yield from reversed(_voice(music, bar_index - 1, event.voice))


def _voice(music: PartMusic, bar_index: int, voice: str) -> list[Event]:
    if not 0 <= bar_index < len(music.part.bars):
        return []
    return [event for event in music.bar(bar_index).events if event.voice == voice]
