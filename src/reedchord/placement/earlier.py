"""What a score holds already, and how room is made in it for what is asked for now."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from reedchord.errors import ReedchordError, RequestError
from reedchord.musicxml.document import Score, read_score
from reedchord.musicxml.splice import splice
from reedchord.placement.found import Found, find_placements, still_there
from reedchord.placement.placed import PlacedSonority
from reedchord.placement.record import ScoreRecord, read_record
from reedchord.placement.slurs import wants_slurs
from reedchord.placement.take_out import prove_taken_out, take_out
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
        return self.record.of(one.row_now() for one in self.found)

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
    wishes are the `whole`, where nothing is. What was edited itself never does. Slurs lead
    from what stays as the wishes have it.
    """
    standing = earlier.standing
    targets = Targets(earlier.base)
    to_do: list[Wish] = []
    wished: dict[int, Wish | None] = {}
    for wish in wishes:
        found = _stands_for(wish, targets, standing, earlier.record)
        if found is None or found[0].row.number in wished:
            to_do.append(wish)
            continue
        one, is_same = found
        wished[one.row.number] = wish if is_same else None
        if not is_same:
            to_do.append(wish)
    asked = {number: wish for number, wish in wished.items() if wish is not None}
    going = [
        one
        for one in earlier.found
        if one.row.number not in asked and (whole or one.row.number in wished)
    ]
    found_as_asked = tuple(_slurred_as_asked(one, asked) for one in earlier.found)
    asking = replace(earlier, found=found_as_asked, asked=asked)
    room = _without(asking, going, to_do, warnings)
    stays = {one.row.number for one in room.found} | wished.keys()
    warnings += [_not_in_the_plan(one) for one in going if one.row.number not in stays]
    return room, to_do


def _slurred_as_asked(found: Found, asked: Mapping[int, Wish]) -> Found:
    """Return a placement that stays with or without the slur that is asked for now."""
    wish, row = asked.get(found.row.number), found.row
    if wish is None or wish.placement.slur == row.wish.slur:
        return found
    placement = row.wish.model_copy(update={"slur": wish.placement.slur})
    slur = row.slur if wish.placement.slur else None
    return replace(found, row=row.model_copy(update={"wish": placement, "slur": slur}))


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
    # Slurs do not need the chord anew, unless they are refused.
    is_refused = wish.placement.as_written and wish.placement.slur
    return found, wish.asks_for_the_same(row.wish, *known) and not is_refused


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


def _without(
    earlier: Earlier, going: Sequence[Found], to_do: Iterable[Wish], warnings: list[str]
) -> Earlier:
    """Take placements out, and slurs that lead nowhere or are not asked for any more."""
    if earlier.record is None:
        return earlier
    score = earlier.base
    out = take_out(score, earlier.record, going, earlier.found)
    warnings += out.left
    taken = {one.row.number for one in out.taken}
    stay = [one for one in earlier.found if one.row.number not in taken]
    stay = [_unslurred(one) if one.row.number in out.unslurred else one for one in stay]
    if not out.edits:
        return replace(earlier, found=tuple(stay))
    text = splice(score.text, out.edits)
    data = score.source.with_text(text).encode()
    prove_taken_out(score, data, text, out.edits, out.taken)
    base = read_score(data)
    if not any(one.row.wish.slur for one in stay) and not any(w.placement.slur for w in to_do):
        return replace(earlier, base=base, found=tuple(stay))
    # Ends of slurs are written on what stays, for which it has to be known where it is now.
    rows = tuple(one.row_now() for one in stay)
    found = find_placements(base, earlier.record.model_copy(update={"placements": rows}))
    return replace(earlier, base=base, found=tuple(still_there(found)))


def _unslurred(found: Found) -> Found:
    return replace(found, row=found.row.model_copy(update={"slur": None}))


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
