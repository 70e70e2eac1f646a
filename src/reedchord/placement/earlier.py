"""What a score holds already."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from reedchord.errors import ReedchordError, RequestError
from reedchord.musicxml.document import Score
from reedchord.placement.placed import PlacedSonority
from reedchord.placement.record import ScoreRecord, read_record
from reedchord.placement.slurs import wants_slurs
from reedchord.placement.target import Target, TargetKey
from reedchord.placement.undo import original_score
from reedchord.placement.wish import Wish

if TYPE_CHECKING:
    from reedchord.placement.found import Found

EDITED = (
    "the score was edited after its sonorities were placed: those that nothing replaces stay "
    "as they are, and labels count on from theirs"
)

_NOTHING_BEGINS = ("address.inside", "address.no-such-beat")
_WITHOUT_OURS = (
    "Rests that were divided for sonorities count as they were before: name a length in them."
)


@dataclass(frozen=True)
class Earlier:
    """What a score holds before new placements are made.

    `base` is the score that is written into. Where nobody edited it since, that is the score
    without our placements, and `kept` are the wishes that they came from; else they stay in
    it, `found` says where, and `asked` what is wished for them now, by number.
    """

    base: Score
    record: ScoreRecord | None = None
    kept: tuple[Wish, ...] = ()
    found: tuple[Found, ...] = ()
    is_edited: bool = False
    asked: Mapping[int, Wish] = field(default_factory=dict)

    @property
    def settled(self) -> ScoreRecord | None:
        """The record of the placements that stay as they are, None where none has to."""
        if self.record is None or not self.is_edited:
            return None
        stay = self.record.of(one.row_now() for one in self.found)
        # Legends stand in the score whoever of their part stays.
        return stay.model_copy(update={"legends": self.record.legends})

    @cached_property
    def standing(self) -> dict[TargetKey, Found]:
        """The placements that stay, by the places of their chords."""
        return _standing_at(self.found)

    @property
    def has_changed(self) -> bool:
        """Whether slurs between placements that stay are to be written, or were taken out."""
        if self.record is None:
            return False
        slurs = {row.number: row.slur for row in self.record.placements}
        is_other = any(one.row.slur != slurs[one.row.number] for one in self.found)
        return is_other or wants_slurs(self.found)

    def refuse_occupied(self, target: Target) -> None:
        """Raise RequestError where a placement that stays stands at a target."""
        found = self.standing.get(target.key)
        if found is not None:
            raise RequestError(
                "placement.occupied",
                f"{found.row.label} stands here already, and was edited since: "
                f"{'; '.join(found.differences) or 'it is not known what stood there before'}",
                hint="Take it out in the score first.",
                where=target.where,
            )

    def explained(self, error: ReedchordError) -> ReedchordError:
        """Return an error that says, where it may matter, that addresses leave ours out."""
        if self.kept and error.code in _NOTHING_BEGINS:
            error.hint = " ".join(filter(None, (error.hint, _WITHOUT_OURS)))
        return error


def earlier_placements(score: Score) -> Earlier:
    """Return what a score holds already."""
    record = read_record(score)
    if record is None:
        return Earlier(score)
    original = original_score(score, record)
    if original is None:
        from reedchord.placement.found import find_placements, still_there

        found = still_there(find_placements(score, record))
        return Earlier(score, record, found=tuple(found), is_edited=True)
    kept = [
        Wish(
            row.wish,
            record.sonorities[row.wish.sonority],
            set_aside=row.set_aside,
            history=row.history,
            other=record.sonorities.get(row.wish.other or ""),
        )
        for row in record.placements
    ]
    return Earlier(original, record, tuple(kept))


def _standing_at(found: Iterable[Found]) -> dict[TargetKey, Found]:
    return {
        (
            one.music.part.id,
            index,
            event.onset_quarters,
            event.voice,
            event.staff,
            one.row_now().wish.grace or 0,
        ): one
        for one in found
        if one.music is not None
        for index, event in one.chain
    }


def lost_slurs(
    earlier: Earlier, record: ScoreRecord, placed: Sequence[PlacedSonority]
) -> Iterator[str]:
    """Yield sentences on placements from which a slur led, and leads no more.

    `record` is that of the finished score; those `placed` now are the last in it.
    """
    was = {row.number for row in (earlier.record or record).placements if row.slur is not None}
    bare = {row.number for row in record.placements if row.slur is None}
    lost = [
        (one.where, one.row.label)
        for one in earlier.found
        if one.row.number in was & bare and one.row.number not in earlier.asked
    ]
    new = record.placements[len(record.placements) - len(placed) :]
    lost += [
        (done.target.where, done.label)
        for done, row in zip(placed, new, strict=True)
        if done.placement.slur and row.number in bare
    ]
    for where, label in lost:
        yield f"{where}: no slur leads on from {label} any more"
