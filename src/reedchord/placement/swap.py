"""One sonority for another, at every place of a score or at some, other wishes kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reedchord.errors import ReedchordError, RequestError, Where, did_you_mean
from reedchord.musicxml.document import Score, read_score
from reedchord.placement.found import State, find_placements
from reedchord.placement.place import PlacedScore, place_wishes
from reedchord.placement.record import PastChange, PlacedRecord, ScoreRecord, record_of
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
    past: PastChange | None = None,
) -> SwappedScore:
    """Put one sonority where another stands in the bytes of a MusicXML document.

    `old` is the id of a sonority or its label in the score. Swapped back, the bytes are as
    they were, where no `past` is to be remembered: why it was swapped. Raises RequestError
    where there is nothing to swap, or the new one does not fit; nothing is swapped then.
    """
    score = read_score(data)
    record = record_of(score)
    rows, left = rows_now(score, record)
    wanted = [
        turn
        for turn in _chosen(score, record, old, places or SwapPlaces())
        if record.sonorities[turn.now.wish.sonority] != new
    ]
    there = [turn for turn in wanted if turn.row.number in rows]
    reasons = [left[turn.row.number] for turn in wanted if turn.row.number in left]
    if not there:
        raise _nothing_to_swap(old, new, reasons)
    wishes, dropped = [], []
    for turn in there:
        wish, lost = _wish(turn, rows[turn.row.number], record, new, carry=carry)
        wishes.append(wish._replace(history=(*wish.history, past)) if past else wish)
        dropped.append(lost)
    errors: list[ReedchordError] = []
    placed = place_wishes(score, wishes, None, errors)
    standing = {address(row.wish): row for row in placed.record.placements}
    swaps = []
    for turn, wish, lost in zip(there, wishes, dropped, strict=True):
        now = standing[address(wish.placement)].turns[turn.index]
        where = Where(part=str(score.part(now.wish.part)), bar=now.bar, beat=now.wish.beat)
        before = record.sonorities[turn.now.wish.sonority]
        after = placed.record.sonorities[now.wish.sonority]
        swaps.append(Swap(where, turn.now.label, before, now.label, after, lost))
    return SwappedScore(placed, tuple(swaps), tuple(reasons))


@dataclass(frozen=True)
class _Turn:
    """One sonority of a placement: its own (0), or the one that takes turns with it (1)."""

    row: PlacedRecord
    index: int

    @property
    def now(self) -> PlacedRecord:
        """The placement as that sonority's."""
        return self.row.turns[self.index]


def _wish(
    turn: _Turn, row: PlacedRecord, record: ScoreRecord, new: Sonority, *, carry: bool
) -> tuple[Wish, tuple[str, ...]]:
    sonority = record.sonorities[row.wish.sonority]
    if turn.index == 0:
        return swapped_wish(row, sonority, new, carry=carry)
    ways = {way: new.id for way in ("tremolo", "trill") if getattr(row.wish, way) is not None}
    placement = row.wish.model_copy(update={**ways, "carry": row.wish.carry or carry})
    aside, history = row.set_aside, row.history
    wish = Wish(placement, sonority, set_aside=aside, history=history, is_swap=True, other=new)
    return wish, ()


def _nothing_to_swap(old: str, new: Sonority, reasons: Sequence[str]) -> RequestError:
    if not reasons:
        return RequestError("swap.same", f"there is nothing to swap: {old} is {new.id} already")
    return RequestError(
        "swap.edited",
        "nothing can be swapped, as the score was edited:\n"
        + "\n".join(f"  {reason}" for reason in reasons),
        hint="Change these by hand.",
    )


def rows_now(score: Score, record: ScoreRecord) -> tuple[dict[int, PlacedRecord], dict[int, str]]:
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


def _chosen(score: Score, record: ScoreRecord, old: str, places: SwapPlaces) -> list[_Turn]:
    """Return what was meant; raises RequestError where nothing is."""
    turns = [_Turn(row, i) for row in record.placements for i in range(len(row.turns))]
    labels = {turn.now.label for turn in turns}
    if old in labels:
        meant = [turn for turn in turns if turn.now.label == old]
    else:
        meant = [turn for turn in turns if old in _names(turn.now, record)]
    if not meant:
        known = [*dict.fromkeys(n for turn in turns for n in _names(turn.now, record))]
        raise RequestError(
            "swap.not-there",
            f"the score holds no sonority {old!r}",
            hint=did_you_mean(old, [*known, *sorted(labels)]),
        )
    here = list(_at_places(score, meant, places))
    if not here:
        rows = (turn.row for turn in meant)
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


def _at_places(score: Score, turns: Sequence[_Turn], places: SwapPlaces) -> Iterator[_Turn]:
    part = score.part(places.part) if places.part is not None else None
    for turn in turns:
        row = turn.row
        if places.label is not None and turn.now.label != places.label:
            continue
        if part is not None and row.wish.part != part.id:
            continue
        if places.bar is not None and places.bar not in (row.bar, row.wish.bar):
            continue
        yield turn
