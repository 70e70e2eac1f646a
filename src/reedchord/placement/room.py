"""Room in an edited score: what stands where something else is asked for now is taken out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from reedchord.errors import ReedchordError
from reedchord.musicxml.document import read_score
from reedchord.musicxml.splice import splice
from reedchord.placement.earlier import Earlier
from reedchord.placement.found import Found, State, find_placements, still_there
from reedchord.placement.record import ScoreRecord
from reedchord.placement.take_out import prove_taken_out, take_out
from reedchord.placement.target import TargetKey, Targets
from reedchord.placement.wish import Wish, fitting


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


def edited_words(earlier: Earlier) -> Iterator[str]:
    """Yield a sentence on each placement that was edited itself."""
    return (one.words() for one in earlier.found if one.state is State.EDITED)


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
