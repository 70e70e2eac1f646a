"""Placements into a score: bytes in, bytes out, and a report of what was done."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from typing import NamedTuple

from reedchord.collection import Collection
from reedchord.errors import ReedchordError, RequestError, Where, raise_all
from reedchord.many_objects import many_objects
from reedchord.musicxml.document import Score, read_score
from reedchord.placement.drafts import Writing
from reedchord.placement.earlier import EDITED, Earlier, earlier_placements, lost_slurs
from reedchord.placement.overlaps import overlaps
from reedchord.placement.placed import PlacedSonority
from reedchord.placement.plan import Placement
from reedchord.placement.record import ScoreRecord
from reedchord.placement.slurs import unfollowed
from reedchord.placement.style import USUAL, Style
from reedchord.placement.target import Target, TargetKey, Targets
from reedchord.placement.wish import (
    Wish,
    check_tones,
    fitting,
    told_saxophones,
    with_other,
    with_saxophone,
)
from reedchord.placement.writing import write


class PlacedScore(NamedTuple):
    """A score with placements in it.

    `data` is the MusicXML document, `before` and `after` are its texts, `placed` lists every
    placement that was written, in the order of the score, `warnings` are sentences for the
    user.
    """

    data: bytes
    before: str
    after: str
    placed: tuple[PlacedSonority, ...]
    warnings: tuple[str, ...]
    record: ScoreRecord


def place(
    data: bytes,
    placements: Iterable[Placement | tuple[Placement, Where]],
    collection: Collection,
    style: Style | None = None,
    *,
    whole: bool = False,
) -> PlacedScore:
    """Put sonorities of a collection into the bytes of a MusicXML document.

    Placements that the score holds already stay, and are labelled anew together with the
    new ones; one at the same place is replaced. `style` is the score's own, or the usual
    one, where it is left out. Where the placements are the `whole` of a plan, all others are
    taken out, and the result is what the plan gives on the score without any. Raises
    RequestError or InputError, or SeveralErrors with all that is wrong; nothing is placed
    then.
    """
    errors: list[ReedchordError] = []
    with many_objects():
        wishes = list(_wishes(placements, collection, errors))
        return place_wishes(read_score(data), wishes, style, errors, whole=whole)


def place_wishes(
    score: Score,
    wishes: Sequence[Wish],
    style: Style | None,
    errors: list[ReedchordError],
    *,
    whole: bool = False,
) -> PlacedScore:
    """Write wishes into a score; `errors` are those that are known already."""
    earlier, warnings = earlier_placements(score), list[str]()
    record = earlier.record
    wishes = [with_other(wish, record.sonorities if record else {}) for wish in wishes]
    if record and not whole:
        told = told_saxophones(record)
        wishes = [with_saxophone(wish, score, told) for wish in wishes]
    chosen_style = style or (record.style if record and not whole else USUAL)
    if earlier.is_edited:
        from reedchord.placement.room import edited_words, make_room  # most scores need none

        warnings.append(EDITED)
        earlier, wishes = make_room(earlier, wishes, warnings, whole=whole)
        edited = edited_words(earlier)
        warnings += [words for words in edited if not any(words in told for told in warnings)]
        _refuse_other_grid(chosen_style, earlier.settled)
    found = _targets(earlier, wishes, chosen_style, warnings, errors, whole=whole)
    raise_all(errors)
    if not found and (record is None or (whole and not earlier.is_edited)):
        raise RequestError(
            "place.nothing",
            "no placement is asked for",
            hint="To take all sonorities out of a score: reedchord strip SCORE -o OUT",
        )
    is_same = earlier.base is score and not earlier.has_changed
    if not found and record is not None and is_same:
        data = score.source.encode()
        return PlacedScore(data, score.text, score.text, (), tuple(warnings), record)
    writing = Writing(earlier.base, chosen_style, earlier.settled, earlier.found)
    result = write(writing, list(found.values()))
    return PlacedScore(
        result.data,
        score.text,
        result.after,
        result.placed,
        (*warnings, *result.warnings, *lost_slurs(earlier, result.record, result.placed)),
        result.record,
    )


def _wishes(
    placements: Iterable[Placement | tuple[Placement, Where]],
    collection: Collection,
    errors: list[ReedchordError],
) -> Iterable[Wish]:
    for given in placements:
        placement, where = given if isinstance(given, tuple) else (given, Where())
        try:
            other = collection[placement.other] if placement.other else None
            yield Wish(placement, collection[placement.sonority], where, other=other)
        except ReedchordError as error:
            errors.append(error.at(where))


def _targets(
    earlier: Earlier,
    wishes: Sequence[Wish],
    style: Style,
    warnings: list[str],
    errors: list[ReedchordError],
    *,
    whole: bool,
) -> dict[TargetKey, tuple[Wish, Target]]:
    """Return kept and new wishes by their places; what is wrong goes to `errors`."""
    targets, settled = Targets(earlier.base), earlier.settled
    kept: dict[TargetKey, tuple[Wish, Target]] = {}
    for wish in _with_present_records(earlier.kept, wishes, [] if whole else warnings):
        target = targets.find(wish.placement)
        kept[target.key] = wish, target
    new: dict[TargetKey, tuple[Wish, Target]] = {}
    asked: set[TargetKey] = set()
    for wish in wishes:
        try:
            target = targets.find(wish.placement)
            earlier.refuse_occupied(target)
            _refuse_twice(target, asked)
            asked.add(target.key)
            fitted = fitting(wish, target, warnings)
            _refuse_other_record(fitted, settled)
            check_tones(fitted, target, style)
            _tell_replaced(kept.get(target.key), fitted, target, warnings)
            new[target.key] = fitted, target
        except ReedchordError as error:
            errors.append(earlier.explained(error).at(wish.where))
    found = new if whole else {**kept, **new}
    errors += overlaps(found.values())
    errors += unfollowed(found.values(), earlier.found, earlier.asked)
    if not whole:
        return found
    gone = [row for key, row in kept.items() if key not in new]
    warnings += [f"{t.where}: {w.sonority.id} is taken out, it is not in the plan" for w, t in gone]
    return new


def _with_present_records(
    kept: Sequence[Wish], wishes: Sequence[Wish], warnings: list[str]
) -> list[Wish]:
    """Return kept wishes with the records as they are now, where these are placed again."""
    present = {sonority.id: sonority for wish in wishes for sonority in wish.sonorities}
    renewed = [
        wish._replace(
            sonority=present.get(wish.sonority.id, wish.sonority),
            other=wish.other and present.get(wish.other.id, wish.other),
        )
        for wish in kept
    ]
    changed = {
        new.id
        for before, after in zip(kept, renewed, strict=True)
        for old, new in zip(before.sonorities, after.sonorities, strict=True)
        if old != new
    }
    warnings += [
        f"the record of {name} has changed: its earlier places follow the new one"
        for name in sorted(changed)
    ]
    return renewed


def _refuse_other_record(wish: Wish, settled: ScoreRecord | None) -> None:
    """One label stands for one record."""
    for sonority in wish.sonorities:
        known = settled.sonorities.get(sonority.id) if settled else None
        if known is not None and known != sonority:
            raise RequestError(
                "placement.other-record",
                f"the score holds another record of {sonority.id}, and was edited since, so "
                "its earlier places cannot follow the new one",
                hint="Give the new record an id of its own.",
            )


def _tell_replaced(
    before: tuple[Wish, Target] | None, wish: Wish, target: Target, warnings: list[str]
) -> None:
    if before is not None and before[0].sonority.id != wish.sonority.id and not wish.is_swap:
        warnings.append(f"{target.where}: {wish.sonority.id} takes {before[0].sonority.id}'s place")


def _refuse_twice(target: Target, asked: Container[TargetKey]) -> None:
    if target.key in asked:
        raise RequestError(
            "placement.twice", "two placements are asked for at this place", where=target.where
        )


def _refuse_other_grid(style: Style, settled: ScoreRecord | None) -> None:
    """One score has one system of accidentals."""
    if settled is not None and style.grid is not settled.style.grid:
        raise RequestError(
            "style.grid",
            f"the score's sonorities stand on the {settled.style.grid} grid and cannot be "
            "written anew, as the score was edited since",
            hint=f"Place on the {settled.style.grid} grid.",
        )
