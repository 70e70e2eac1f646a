"""A score that follows the trials of a set-up: records renewed, what does not speak swapped."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from reedchord.collection import Collection
from reedchord.errors import InputError, ReedchordError, RequestError, did_you_mean
from reedchord.musicxml.document import Score, read_score
from reedchord.pitch import Pitch
from reedchord.placement.alternatives import Alternative, alternatives
from reedchord.placement.place import PlacedScore, place_wishes
from reedchord.placement.plan import Placement
from reedchord.placement.record import PastChange, PlacedRecord, ScoreRecord, record_of
from reedchord.placement.standing import StandingPlacement, standing_placements
from reedchord.placement.style import Manner
from reedchord.placement.swap import Swap, SwappedScore, rows_now, swap
from reedchord.placement.wish import Wish
from reedchord.reader import USUAL, told_to
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Articulation
from reedchord.trials.trials import Trials
from reedchord.trials.tried import Tried, as_tried, tried_collection

DEFAULT_OVER_CENTS = 10
"""About what can be heard between tones one after the other (Hill & Summers, JASA 121:2376,
2007, of which only the abstract was seen)."""


@dataclass(frozen=True)
class Followed:
    """A sonority of the score that was tried: at which places, and what could be done.

    `tried.sonority` is the record as it becomes, with cents that are renewed where any lies
    more than `over_cents` away; `alternatives` are offered where it does not speak, or not every
    tone that the score asks for.
    """

    label: str
    tried: Tried
    places: tuple[StandingPlacement, ...]
    over_cents: float
    alternatives: tuple[Alternative, ...] = ()

    @property
    def missing(self) -> tuple[str, ...]:
        """Sentences on what the score asks for and what did not come."""
        return tuple(_missing(self.tried, self.places))

    @property
    def is_in_doubt(self) -> bool:
        """Whether it did not speak, or not as the score asks for it."""
        return not self.tried.speaks or bool(self.missing)

    @property
    def stays_in_tune(self) -> bool:
        """Whether tones were measured elsewhere, and so near that their cents stay."""
        return 0 < self.tried.furthest_cents <= self.over_cents

    @property
    def is_renewed(self) -> bool:
        """Whether the record changes."""
        return self.tried.sonority != self.tried.documented

    @property
    def past(self) -> PastChange:
        """What the score keeps of the change, for whoever reads it later."""
        old, new = self.tried.documented, self.tried.sonority
        with told_to(USUAL):
            found = [
                f"tone {number} was {old.written(number).printed()}"
                for number in old.numbers
                if old.written(number) != new.written(number)
            ]
            found += [f"evidence was {old.evidence}"] if old.evidence is not new.evidence else []
            if not self.tried.speaks:
                found = ["it did not speak"]
            found += self.missing
        return PastChange(
            date=self.tried.latest[0].date,
            set_up=self.tried.set_up.id,
            was=old.id,
            because="; ".join(found) or "the record was renewed",
        )


def followed(
    data: bytes,
    trials: Trials,
    collection: Collection | None = None,
    *,
    over_cents: float = DEFAULT_OVER_CENTS,
) -> tuple[Followed, ...]:
    """Return what trials say of the sonorities in the bytes of a placed score, by label.

    Cents are renewed where any tone was measured more than `over_cents` away. Alternatives
    come from `collection`, as the set-up got it. Raises RequestError where the score holds no
    placements.
    """
    every = standing_placements(read_score(data))
    speaking = tried_collection(collection, trials).speaking if collection is not None else None
    by_id: dict[str, list[StandingPlacement]] = {}
    for one in every:
        by_id.setdefault(one.sonority.id, []).append(one)
    found = []
    for here in by_id.values():
        sonority = here[0].sonority
        tried = as_tried(sonority, trials, over_cents=over_cents)
        if not tried.trials:
            continue
        entry = Followed(here[0].row.label, tried, tuple(here), over_cents)
        if entry.is_in_doubt and speaking is not None:
            entry = replace(entry, alternatives=alternatives(sonority, here, every, speaking))
        found.append(entry)
    return tuple(found)


def _missing(tried: Tried, here: Sequence[StandingPlacement]) -> Iterator[str]:
    """Yield sentences on what places ask for, and what never came in trials."""
    slapped = [one for one in here if one.row.wish.manner is Manner.SLAP]
    if slapped and tried.speaks and tried.speaks_with(Articulation.SLAP) is False:
        yield f"it did not speak as a slap, and is slapped in {_bars(slapped)}"
    came = _tones_heard(tried)
    for number in tried.sonority.numbers:
        wanted = [one for one in here if number in one.row.numbers]
        if wanted and came.get(number) is False:
            brought_out = [one for one in wanted if one.row.emphasised == number]
            words = f"tone {number}, {tried.sonority.written(number).printed()}, did not come"
            if brought_out:
                words += f", and is brought out in {_bars(brought_out)}"
            yield words


def _bars(places: Iterable[StandingPlacement]) -> str:
    return ", and ".join(f"bar {one.bar}, beat {one.row.wish.beat}" for one in places)


def _tones_heard(tried: Tried) -> dict[int, bool]:
    """Return whether each tone that somebody listened for came in the latest such trial."""
    if not tried.speaks:
        return {}
    every = zip(tried.trials, tried.heard, strict=True)
    spoken = (tones for trial, tones in every if trial.outcome.spoke)
    return {number: tone.came for tones in spoken for number, tone in tones.items()}


def follow(
    data: bytes,
    found: Iterable[Followed],
    swaps: Mapping[str, Sonority] | None = None,
) -> SwappedScore:
    """Renew the records that changed, and make the swaps that somebody chose, by label.

    Raises RequestError for a label that is not among what does not speak.
    """
    rows = {one.label: one for one in found}
    chosen = dict(swaps or {})
    silent = [label for label, one in rows.items() if one.is_in_doubt]
    for label in chosen:
        if label not in silent:
            raise RequestError(
                "follow.label",
                f"{label} is not among what did not speak as wanted",
                hint=did_you_mean(label, silent),
            )
    renewed = {one.tried.documented.id: one for one in rows.values() if one.is_renewed}
    score = read_score(data)
    placed, left = _renewed(score, record_of(score), renewed)
    done: list[Swap] = []
    warnings = list(placed.warnings)
    for label, new in chosen.items():
        row = rows[label]
        swapped = swap(placed.data, row.tried.documented.id, new, past=row.past)
        done += swapped.swaps
        left += swapped.left
        warnings += swapped.placed.warnings
        placed = swapped.placed
    whole = placed._replace(before=score.text, warnings=tuple(dict.fromkeys(warnings)))
    return SwappedScore(whole, tuple(done), tuple(dict.fromkeys(left)))


def chosen_swaps(
    found: Iterable[Followed],
    typed: Iterable[str],
    collection: Collection | None,
    trials: Trials,
    *,
    best: bool = False,
) -> dict[str, Sonority]:
    """Return the swaps that somebody chose, by label: `M3=alto-lantern`, or the `best` of all.

    New sonorities are as the set-up got them. Raises RequestError for what cannot be read,
    is not in the collection, or did not speak either. The best is taken only where it has a
    tone of those that are wanted.
    """
    chosen = {
        one.label: one.alternatives[0].sonority
        for one in found
        if best and not one.tried.speaks and one.alternatives and one.alternatives[0].judged.met
    }
    for text in typed:
        label, sign, name = (part.strip() for part in text.partition("="))
        if not (label and sign and name):
            hint = "Write the label and the new sonority: M3=alto-lantern."
            raise RequestError("follow.swap", f"{text!r} is no swap", hint=hint)
        if collection is None:
            hint = "Name it: --collection FILE."
            raise RequestError("follow.collection", f"where is {name} to be found?", hint=hint)
        tried = as_tried(collection[name], trials)
        if tried.speaks is False:
            date = tried.latest[0].date
            raise RequestError("follow.silent", f"{name} did not speak either, on {date}")
        chosen[label] = tried.sonority
    return chosen


def history_lines(data: bytes) -> list[str]:
    """Return what trials changed in a score before, as sentences; empty where nothing was."""
    return [
        f"{one.words}: {past.date}, {past.set_up}: was {past.was}, {past.because}"
        for one in standing_placements(read_score(data))
        for past in one.row.history
    ]


def _renewed(
    score: Score, record: ScoreRecord, renewed: Mapping[str, Followed]
) -> tuple[PlacedScore, list[str]]:
    """Return the score with new records, and why some places keep the old ones.

    One label stands for one record: where any place of a sonority cannot be written anew,
    all of its places keep the record.
    """
    there, stuck = rows_now(score, record)
    held = {
        name: stuck[row.number]
        for row in record.placements
        if row.number in stuck
        for name in _names(row)
        if name in renewed
    }
    records = {name: one for name, one in renewed.items() if name not in held}
    rows = [row for row in there.values() if not records.keys().isdisjoint(_names(row))]
    wishes = [_wish(row, record, records) for row in rows]
    left = [f"{reason}; {name} keeps its record" for name, reason in held.items()]
    if not wishes:
        data = score.source.encode()
        return PlacedScore(data, score.text, score.text, (), (), record), left
    errors: list[ReedchordError] = []
    return place_wishes(score, wishes, None, errors), left


def _names(row: PlacedRecord) -> tuple[str, ...]:
    return tuple(name for name in (row.wish.sonority, row.wish.other) if name)


def _wish(row: PlacedRecord, record: ScoreRecord, records: Mapping[str, Followed]) -> Wish:
    """Return the wish of a placement with new records, its tones named so that they hold."""
    old = record.sonorities[row.wish.sonority]
    own = records.get(old.id)
    new = own.tried.sonority if own else old
    other = row.wish.other
    others = records.get(other or "")
    known = record.sonorities.get(other or "")
    past = tuple(one.past for one in (own, others) if one is not None)
    return Wish(
        _renamed(row.wish, old, new),
        new,
        set_aside=row.set_aside,
        history=(*row.history, *past),
        is_swap=True,
        other=others.tried.sonority if others else known,
    )


def _renamed(wish: Placement, old: Sonority, new: Sonority) -> Placement:
    """Return the placement with tones by number where their pitches no longer name them."""
    tones, order = (_all_named(given, old, new) for given in (wish.tones, wish.order))
    emphasised = None if wish.emphasised is None else _named(wish.emphasised, old, new)
    return wish.model_copy(update={"tones": tones, "order": order, "emphasised": emphasised})


def _all_named(
    given: Sequence[int | Pitch] | None, old: Sonority, new: Sonority
) -> tuple[int | Pitch, ...] | None:
    return None if given is None else tuple(_named(one, old, new) for one in given)


def _named(tone: int | Pitch, old: Sonority, new: Sonority) -> int | Pitch:
    number = old.tone_number(tone)
    try:
        return tone if new.tone_number(tone) == number else number
    except InputError:
        return number
