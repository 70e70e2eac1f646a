"""Placements into a score: bytes in, bytes out, and a report of what was done."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from reedchord.carry import carry_to
from reedchord.collection import Collection
from reedchord.errors import ReedchordError, RequestError, Where, raise_all
from reedchord.musicxml.document import Score, read_score
from reedchord.placement.appearance import wanted_tones
from reedchord.placement.placed import PlacedSonority
from reedchord.placement.plan import Placement
from reedchord.placement.record import ScoreRecord, read_record, rows_still_there
from reedchord.placement.style import Style
from reedchord.placement.target import Target, TargetKey, Targets
from reedchord.placement.undo import original_text
from reedchord.placement.writing import Writing, write
from reedchord.sonority import Sonority


@dataclass(frozen=True)
class PlacedScore:
    """A score with placements in it.

    `data` is the MusicXML document, `before` and `after` are its texts, `placed` lists every
    placement of the score in its order, `warnings` are sentences for the user.
    """

    data: bytes
    before: str
    after: str
    placed: tuple[PlacedSonority, ...]
    warnings: tuple[str, ...]
    record: ScoreRecord


@dataclass(frozen=True)
class Wish:
    """A placement together with its sonority and the place in a plan where it was asked for."""

    placement: Placement
    sonority: Sonority
    where: Where = field(default_factory=Where)


def place(
    data: bytes,
    placements: Iterable[Placement | tuple[Placement, Where]],
    collection: Collection,
    style: Style | None = None,
) -> PlacedScore:
    """Put sonorities of a collection into the bytes of a MusicXML document.

    Placements that the score holds already stay, and are labelled anew together with the
    new ones; one at the same place is replaced. `style` is the score's own, or the usual
    one, where it is left out. Raises RequestError or InputError, or SeveralErrors with all
    that is wrong; nothing is placed then.
    """
    errors: list[ReedchordError] = []
    wishes = list(_wishes(placements, collection, errors))
    score = read_score(data)
    base, kept, record, warnings = _before_placements(score)
    chosen_style = style or (record.style if record else Style())
    targets = Targets(base)
    settled = _still_there(score, record) if record and base is score else None
    _refuse_other_grid(chosen_style, settled)
    kept = _with_present_records(kept, wishes, warnings)
    found: dict[TargetKey, tuple[Wish, Target]] = {}
    for wish in kept:
        target = targets.find(wish.placement)
        found[target.key] = wish, target
    new: set[TargetKey] = set()
    for wish in wishes:
        try:
            target = targets.find(wish.placement)
            _refuse_occupied(target, new, settled)
            new.add(target.key)
            fitting = _fitting(wish, target, warnings)
            _refuse_other_record(fitting, settled)
            _check_tones(fitting, target, chosen_style)
            _tell_replaced(found.get(target.key), fitting, target, warnings)
            found[target.key] = fitting, target
        except ReedchordError as error:
            errors.append(error.at(wish.where))
    raise_all(errors)
    if record is None and not found:
        raise RequestError("place.nothing", "no placement is asked for")
    writing = Writing(score=base, style=chosen_style, settled=settled)
    result = write(writing, [(w.placement, w.sonority, t) for w, t in found.values()])
    return PlacedScore(
        result.data,
        score.text,
        result.after,
        result.placed,
        (*warnings, *result.warnings),
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
            yield Wish(placement, collection[placement.sonority], where)
        except ReedchordError as error:
            errors.append(error.at(where))


def _before_placements(
    score: Score,
) -> tuple[Score, Sequence[Wish], ScoreRecord | None, list[str]]:
    """Return the score without our placements, and the wishes that they came from.

    Where somebody edited the score since, the placements stay in it as they are, and none
    is a wish any more.
    """
    record = read_record(score)
    if record is None:
        return score, (), None, []
    text = original_text(score, record)
    if text is None:
        return (
            score,
            (),
            record,
            [
                (
                    "the score was edited after its sonorities were placed: they stay as they are, "
                    "and labels count on from theirs"
                )
            ],
        )
    wishes = [Wish(p.wish, record.sonorities[p.wish.sonority]) for p in record.placements]
    return read_score(score.source.with_text(text).encode()), wishes, record, []


def _fitting(wish: Wish, target: Target, warnings: list[str]) -> Wish:
    """Return the wish with a sonority for the part's own saxophone."""
    member, sonority = target.pitch.saxophone, wish.sonority
    if sonority.saxophone == member:
        return wish
    if not wish.placement.carry:
        raise RequestError(
            "part.other-saxophone",
            f"{sonority.id} is for {sonority.saxophone.name}, the part for {member.name}",
            hint=f"Carry it to {member.name} (--carry), knowing that only a trial makes it "
            "true, or choose a sonority of that saxophone.",
            where=target.where,
        )
    carried = carry_to(sonority, member)
    if carried.sonority is None:
        raise RequestError(
            "carry.missing-keys",
            f"{sonority.id} cannot be fingered on {member.name}: "
            f"no {' and no '.join(carried.missing_keys)}",
            where=target.where,
        )
    warnings += [f"{carried.sonority.id}: {sentence}" for sentence in carried.warnings]
    placement = wish.placement.model_copy(update={"sonority": carried.sonority.id})
    return replace(wish, placement=placement, sonority=carried.sonority)


def _with_present_records(
    kept: Sequence[Wish], wishes: Sequence[Wish], warnings: list[str]
) -> list[Wish]:
    """Return kept wishes with the records as they are now, where these are placed again."""
    present = {wish.sonority.id: wish.sonority for wish in wishes}
    renewed = [
        replace(wish, sonority=present.get(wish.sonority.id, wish.sonority)) for wish in kept
    ]
    changed = {
        new.sonority.id
        for old, new in zip(kept, renewed, strict=True)
        if old.sonority != new.sonority
    }
    warnings += [
        f"the record of {name} has changed: its earlier places follow the new one"
        for name in sorted(changed)
    ]
    return renewed


def _refuse_other_record(wish: Wish, settled: ScoreRecord | None) -> None:
    """One label stands for one record."""
    known = settled.sonorities.get(wish.sonority.id) if settled else None
    if known is not None and known != wish.sonority:
        raise RequestError(
            "placement.other-record",
            f"the score holds another record of {wish.sonority.id}, and was edited since, so "
            "its earlier places cannot follow the new one",
            hint="Give the new record an id of its own.",
        )


def _check_tones(wish: Wish, target: Target, style: Style) -> None:
    try:
        wanted_tones(wish.placement, wish.sonority, style, is_concert=target.pitch.is_concert)
    except ReedchordError as error:
        raise error.at(target.where) from None


def _tell_replaced(
    before: tuple[Wish, Target] | None, wish: Wish, target: Target, warnings: list[str]
) -> None:
    if before is not None and before[0].sonority.id != wish.sonority.id:
        warnings.append(f"{target.where}: {wish.sonority.id} takes {before[0].sonority.id}'s place")


def _still_there(score: Score, record: ScoreRecord) -> ScoreRecord:
    return record.model_copy(update={"placements": tuple(rows_still_there(score, record))})


def _refuse_occupied(target: Target, new: set[TargetKey], settled: ScoreRecord | None) -> None:
    if target.key in new:
        raise RequestError(
            "placement.twice", "two placements are asked for at this place", where=target.where
        )
    labels = {row.label for row in settled.placements} if settled else set()
    label = (target.event.first.findtext("footnote") or "").partition(":")[0]
    if label in labels:
        raise RequestError(
            "placement.occupied",
            f"{label} stands here already, in a score that was edited since",
            hint="Take it out in the score first.",
            where=target.where,
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
