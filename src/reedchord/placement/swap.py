"""One sonority for another, at every place of a score or at some, other wishes kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reedchord.errors import ReedchordError, RequestError, Where, did_you_mean
from reedchord.musicxml.document import Score, read_score
from reedchord.placement.found import State, find_placements
from reedchord.placement.place import PlacedScore, place_wishes
from reedchord.placement.record import PlacedRecord, ScoreRecord, record_of
from reedchord.placement.take_out import why_it_stays
from reedchord.placement.tone_wishes import swapped_wish
from reedchord.placement.undo import original_text
from reedchord.placement.wish import Wish, address
from reedchord.sonority import Sonority


@dataclass(frozen=True)
class SwapPlaces:
    """Where to swap: everywhere, or only in a part, in a bar, under a label of the score."""

    part: str | None = None
    bar: str | None = None
    label: str | None = None


@dataclass(frozen=True)
class Swap:
    """One place at which a sonority was swapped, and what could not be kept of its wishes."""

    where: Where
    old_label: str
    old: Sonority
    new_label: str
    new: Sonority
    dropped: tuple[str, ...]


@dataclass(frozen=True)
class SwappedScore:
    """A score in which sonorities were swapped; `left` says where that could not be done."""

    placed: PlacedScore
    swaps: tuple[Swap, ...]
    left: tuple[str, ...]


def swap(
    data: bytes,
    old: str,
    new: Sonority,
    places: SwapPlaces | None = None,
    *,
    carry: bool = False,
) -> SwappedScore:
    """Put one sonority where another stands in the bytes of a MusicXML document.

    `old` is the id of a sonority or its label in the score. Swapped back, the bytes are as
    they were. Raises RequestError where there is nothing to swap, or the new one does not
    fit; nothing is swapped then.
    """
    score = read_score(data)
    record = record_of(score)
    rows, left = _rows_now(score, record)
    wanted = [
        row
        for row in _chosen(score, record, old, places or SwapPlaces())
        if record.sonorities[row.wish.sonority] != new
    ]
    there = [(row, rows[row.number]) for row in wanted if row.number in rows]
    reasons = [left[row.number] for row in wanted if row.number in left]
    if not there:
        raise _nothing_to_swap(old, new, reasons)
    wishes, dropped = [], []
    for _, row in there:
        sonority = record.sonorities[row.wish.sonority]
        wish, lost = swapped_wish(row, sonority, new, carry=carry)
        wishes.append(wish)
        dropped.append(lost)
    errors: list[ReedchordError] = []
    placed = place_wishes(score, wishes, None, errors)
    swaps = tuple(
        Swap(
            _where(score, now),
            row.label,
            record.sonorities[row.wish.sonority],
            now.label,
            placed.record.sonorities[now.wish.sonority],
            lost,
        )
        for row, now, lost in zip(
            (row for row, _ in there), _placed_rows(wishes, placed.record), dropped, strict=True
        )
    )
    return SwappedScore(placed, swaps, tuple(reasons))


def _nothing_to_swap(old: str, new: Sonority, reasons: Sequence[str]) -> RequestError:
    if not reasons:
        return RequestError("swap.same", f"there is nothing to swap: {old} is {new.id} already")
    return RequestError(
        "swap.edited",
        "nothing can be swapped, as the score was edited:\n"
        + "\n".join(f"  {reason}" for reason in reasons),
        hint="Change these by hand.",
    )


def _rows_now(score: Score, record: ScoreRecord) -> tuple[dict[int, PlacedRecord], dict[int, str]]:
    """Return rows that can be swapped, as they stand now, and why the others cannot."""
    if original_text(score, record) is not None:
        return {row.number: row for row in record.placements}, {}
    rows, left = {}, {}
    for found in find_placements(score, record):
        stays = why_it_stays(found)
        if stays is None and found.state is not State.MISSING:
            rows[found.row.number] = found.row_now()
        else:
            left[found.row.number] = stays or found.words()
    return rows, left


def _chosen(score: Score, record: ScoreRecord, old: str, places: SwapPlaces) -> list[PlacedRecord]:
    """Return the rows that were meant; raises RequestError where none is."""
    labels = {row.label for row in record.placements}
    if old in labels:
        rows = [row for row in record.placements if row.label == old]
    else:
        rows = [row for row in record.placements if old in _names(row, record)]
    if not rows:
        known = [*dict.fromkeys(n for row in record.placements for n in _names(row, record))]
        raise RequestError(
            "swap.not-there",
            f"the score holds no sonority {old!r}",
            hint=did_you_mean(old, [*known, *sorted(labels)]),
        )
    here = list(_at_places(score, rows, places))
    if not here:
        stands = ", ".join(f"{row.wish.part} bar {row.bar} beat {row.wish.beat}" for row in rows)
        raise RequestError(
            "swap.not-here", f"{old} does not stand there", hint=f"It stands in {stands}."
        )
    return here


def _names(row: PlacedRecord, record: ScoreRecord) -> Iterator[str]:
    """Yield the ids by which a placement's sonority can be called."""
    yield row.wish.sonority
    origin = record.sonorities[row.wish.sonority].carried_from
    if row.wish.carry and origin:
        yield origin


def _at_places(
    score: Score, rows: Sequence[PlacedRecord], places: SwapPlaces
) -> Iterator[PlacedRecord]:
    part = score.part(places.part) if places.part is not None else None
    for row in rows:
        if places.label is not None and row.label != places.label:
            continue
        if part is not None and row.wish.part != part.id:
            continue
        if places.bar is not None and places.bar not in (row.bar, row.wish.bar):
            continue
        yield row


def _placed_rows(wishes: Sequence[Wish], record: ScoreRecord) -> Iterator[PlacedRecord]:
    """Yield the row that each wish became."""
    now = {address(row.wish): row for row in record.placements}
    return (now[address(wish.placement)] for wish in wishes)


def _where(score: Score, row: PlacedRecord) -> Where:
    return Where(part=str(score.part(row.wish.part)), bar=row.bar, beat=row.wish.beat)
