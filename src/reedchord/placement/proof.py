"""The proof, before anything is written, that a score holds what it should and all it had."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from reedchord.musicxml.document import Score, read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.splice import Edit, untouched_is_equal
from reedchord.placement.placed import PlacedSonority


class SelfCheckError(RuntimeError):
    """Our own fault: the result is not what was meant, so it is not handed out."""


def prove(
    before: Score,
    data: bytes,
    after: str,
    edits: Sequence[Edit],
    placed: Sequence[PlacedSonority],
) -> None:
    """Read the finished document anew and hold it against what was meant.

    Every character outside the edits is as it was, every placed chord has the pitches and
    the length that were wanted, and every voice of a touched bar ends where it ended.
    Raises SelfCheckError.
    """
    score = prove_untouched(before, data, after, edits)
    music = {part.id: PartMusic(part) for part in score.parts}
    for done in placed:
        _prove_chord(done, music[done.target.part.id])
        _prove_ends(done, music[done.target.part.id])


def prove_untouched(before: Score, data: bytes, after: str, edits: Sequence[Edit]) -> Score:
    """Return the finished document read anew; raises SelfCheckError where more than edits moved."""
    if not untouched_is_equal(before.text, after, edits):
        raise SelfCheckError("something outside the touched places changed")
    score = read_score(data)
    if score.text != after:
        raise SelfCheckError("the bytes do not give the text back")
    return score


def _prove_chord(done: PlacedSonority, music: PartMusic) -> None:
    target = done.target
    old = target.event
    wanted = tuple(tone.pitch for tone in done.sounding.tones)
    found = [
        event
        for event in music.bar(target.bar.index).events
        if event.onset_quarters == old.onset_quarters
        and (event.voice, event.staff) == (old.voice, old.staff)
        and not event.is_cue
    ]
    if len(found) != 1:
        raise SelfCheckError(f"{target.where}: {len(found)} events where one chord was placed")
    chain = music.tied_from(target.bar.index, found[0])[: target.links]
    length = sum((event.duration_quarters for _, event in chain), Fraction(0))
    if any(event.pitches != wanted for _, event in chain):
        raise SelfCheckError(f"{target.where}: the chord does not have the pitches that it should")
    if len(chain) != target.links or length != target.duration_quarters:
        raise SelfCheckError(f"{target.where}: the chord does not last as long as it should")


def _prove_ends(done: PlacedSonority, music: PartMusic) -> None:
    for index in {index for index, _ in done.target.chain}:
        if music.bar(index).ends != done.target.music.bar(index).ends:
            raise SelfCheckError(f"{done.target.where}: a voice of the bar ends elsewhere now")
