"""What a score holds already, and how room is made in it for what is asked for now."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from reedchord.errors import ReedchordError, RequestError
from reedchord.musicxml.document import Score, read_score
from reedchord.musicxml.splice import splice
from reedchord.placement.found import Found, find_placements, still_there
from reedchord.placement.record import ScoreRecord, read_record
from reedchord.placement.take_out import prove_taken_out, take_out, why_it_stays
from reedchord.placement.target import Target, TargetKey, Targets
from reedchord.placement.undo import original_score
from reedchord.placement.wish import Wish, fitting

EDITED = (
    "the score was edited after its sonorities were placed: those that nothing replaces stay "
    "as they are, and labels count on from theirs"
)


@dataclass(frozen=True)
class Earlier:
    """What a score holds before new placements are made.

    `base` is the score that is written into. Where nobody edited it since, that is the score
    without our placements, and `kept` are the wishes that they came from; else they stay in
    it, and `found` says where.
    """

    base: Score
    record: ScoreRecord | None = None
    kept: tuple[Wish, ...] = ()
    found: tuple[Found, ...] = ()
    is_edited: bool = False

    @property
    def settled(self) -> ScoreRecord | None:
        """The record of the placements that stay as they are, None where none has to."""
        if self.record is None or not self.is_edited:
            return None
        return self.record.of(one.row_now() for one in self.found)

    @cached_property
    def standing(self) -> dict[TargetKey, Found]:
        """The placements that stay, by the places of their chords."""
        return _standing_at(self.found)

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


def earlier_placements(score: Score) -> Earlier:
    """Return what a score holds already."""
    record = read_record(score)
    if record is None:
        return Earlier(score)
    original = original_score(score, record)
    if original is None:
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


def make_room(
    earlier: Earlier, wishes: Sequence[Wish], warnings: list[str], *, whole: bool
) -> tuple[Earlier, list[Wish]]:
    """Take out of an edited score what gives way to wishes; return it and what is yet to do.

    A placement gives way where something else is wished for in its place, and, where the
    wishes are the `whole`, where nothing is. What was edited itself never does.
    """
    standing = earlier.standing
    targets = Targets(earlier.base)
    to_do: list[Wish] = []
    wished: dict[int, bool] = {}
    for wish in wishes:
        found = _stands_for(wish, targets, standing, earlier.record)
        if found is None or found[0].row.number in wished:
            to_do.append(wish)
            continue
        one, is_same = found
        wished[one.row.number] = is_same
        if not is_same:
            to_do.append(wish)
    going = [one for one in earlier.found if not wished.get(one.row.number, not whole)]
    for one in going:
        if one.row.number not in wished:
            stays = why_it_stays(one)
            warnings.append(stays or _not_in_the_plan(one))
    return _without(earlier, [one for one in going if why_it_stays(one) is None], warnings), to_do


def _not_in_the_plan(found: Found) -> str:
    name = f"{found.row.label} ({found.row.wish.sonority})"
    return f"{found.where}: {name} is taken out, it is not in the plan"


def _stands_for(
    wish: Wish,
    targets: Targets,
    standing: dict[TargetKey, Found],
    record: ScoreRecord | None,
) -> tuple[Found, bool] | None:
    """Return the placement that stands where a wish leads, and whether it is what is wished.

    Wishes that lead nowhere are told about later.
    """
    try:
        target = targets.find_address(wish.placement)
        found = standing.get(target.key)
        if found is None or record is None:
            return None
        wish = fitting(wish, target, [])
    except ReedchordError:
        return None
    row = found.row
    known = [record.sonorities.get(name or "") for name in (row.wish.sonority, row.wish.other)]
    is_same = wish.asks_for_the_same(row.wish, *known)
    return found, is_same


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


def _without(earlier: Earlier, going: Sequence[Found], warnings: list[str]) -> Earlier:
    if not going or earlier.record is None:
        return earlier
    score = earlier.base
    out = take_out(score, earlier.record, going)
    warnings += out.left
    text = splice(score.text, out.edits)
    data = score.source.with_text(text).encode()
    prove_taken_out(score, data, text, out.edits, out.taken)
    taken = {one.row.number for one in out.taken}
    stay = tuple(one for one in earlier.found if one.row.number not in taken)
    return replace(earlier, base=read_score(data), found=stay)
