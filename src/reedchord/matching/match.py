"""Which sonorities may stand behind a written chord: ranked, every note explained."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from reedchord.choosing.judging import Judged, judge
from reedchord.choosing.search import find
from reedchord.choosing.search_conditions import search_in
from reedchord.choosing.search_wish import DEFAULT_WITHIN_CENTS, MOST_TONES, Wish
from reedchord.collection import Collection
from reedchord.fingering import unknown_keys
from reedchord.matching.match_text import Names, Told, told_by
from reedchord.pitch import Pitch
from reedchord.saxophones import Saxophone
from reedchord.sonority import Sonority

MOST_OF_EACH = 6
"""So many of the same saxophone, and so many of others, are looked at more closely."""
GAIN_BY_NUMBER = 60
"""What a number beside the chord is worth, in the cents in which a match is reckoned."""

RULE = (
    "A match is taken by itself where every note of the chord is a tone of it within --within "
    "cents, it is for the part's own saxophone, and either the text beside the chord names it "
    "alone, or every tone of it is written and that is so for no other sonority."
)


@dataclass(frozen=True)
class Chord:
    """A chord as a player reads it: written pitches, lowest first, and the texts beside it."""

    saxophone: Saxophone
    written: tuple[Pitch, ...]
    texts: tuple[str, ...] = ()


@dataclass(frozen=True)
class NoteMatch:
    """A written note and the tone that it stands for, `cents` above the note."""

    note: Pitch
    tone: int
    cents: Fraction


@dataclass(frozen=True)
class Match:
    """A sonority that may be meant.

    `in_addition` are notes of the chord that are none of its tones, `not_written` its tones
    that are no notes of the chord; `cost` ranks, the least first.
    """

    sonority: Sonority
    is_carried: bool
    notes: tuple[NoteMatch, ...]
    in_addition: tuple[Pitch, ...]
    not_written: tuple[int, ...]
    told: Told
    cost: float

    @property
    def explains_all(self) -> bool:
        """Whether every note of the chord is a tone of it."""
        return bool(self.notes) and not self.in_addition

    @property
    def is_whole(self) -> bool:
        """Whether the notes are its tones, no more and no less."""
        return self.explains_all and not self.not_written


class Matcher:
    """A collection in which chords are looked up, the same chord once."""

    def __init__(
        self,
        collection: Collection,
        within_cents: Fraction = DEFAULT_WITHIN_CENTS,
        *,
        searches: int = 1,
    ) -> None:
        self._collection = collection
        self._within_cents = within_cents
        self._searches = searches
        self._known: dict[Chord, tuple[Match, ...]] = {}
        self._names = Names(collection)
        # An impossible tolerance is told before anything is searched.
        Wish(within_cents=within_cents)

    def matches(self, chord: Chord) -> tuple[Match, ...]:
        """Return what may be meant, the likeliest first; nothing where hardly a note fits.

        Those that the text names come first, then those of the same saxophone.
        """
        if chord not in self._known:
            found = (self._match(chord, one) for one in self._candidates(chord))
            likely = [one for one in found if one.told.names or _is_likely(one)]
            self._known[chord] = tuple(sorted(likely, key=_rank))
        return self._known[chord]

    def match(self, chord: Chord, sonority: Sonority) -> Match:
        """Return how one sonority, whichever it is, fits a chord."""
        return self._match(chord, sonority)

    def is_named(self, texts: Sequence[str]) -> bool:
        """Whether texts name any sonority of the collection."""
        return bool(self._names.named_in(texts))

    def _candidates(self, chord: Chord) -> Iterable[Sonority]:
        if len(chord.written) > MOST_TONES:
            return []
        found: dict[str, Sonority] = {}
        for saxophones in ((chord.saxophone,), ()):
            wish = self._wish(chord, saxophones)
            best = find(
                self._collection, wish, most=MOST_OF_EACH, searches=2 * self._searches
            ).fitting
            found |= {judged.sonority.id: judged.sonority for judged in best}
        found |= {sonority.id: sonority for sonority in self._names.named_in(chord.texts)}
        return [one for one in found.values() if not _lacks_keys(one, chord.saxophone)]

    def _wish(self, chord: Chord, saxophones: tuple[Saxophone, ...] = ()) -> Wish:
        return Wish(
            pitches=chord.written,
            written=True,
            within_cents=self._within_cents,
            saxophones=saxophones,
        )

    def _match(self, chord: Chord, sonority: Sonority) -> Match:
        judged = judge(search_in(self._collection, self._wish(chord)), sonority)
        told = told_by(chord.texts, sonority)
        return Match(
            sonority,
            sonority.saxophone != chord.saxophone,
            tuple(_in_order(judged)),
            tuple(missing.wish for missing in judged.missing),
            tuple(sorted(tone.number for tone in judged.in_addition)),
            told,
            judged.cost - GAIN_BY_NUMBER * told.numbers,
        )


def unambiguous(matches: Sequence[Match]) -> Match | None:
    """Return the match that is taken by itself, None where a player has to be asked: `RULE`."""
    fitting = [one for one in matches if one.explains_all and not one.is_carried]
    named = [one for one in matches if one.told.names]
    if named:
        return named[0] if len(named) == 1 and named[0] in fitting else None
    whole = [one for one in fitting if one.is_whole and not one.told.contradicts]
    return whole[0] if len(whole) == 1 else None


def _in_order(judged: Judged) -> Iterator[NoteMatch]:
    """Yield notes with tones, the lowest note for the lowest tone: none of them cross.

    Uncrossed pairs are never further apart in sum than crossed ones.
    """
    notes = sorted((met.wish for met in judged.met), key=lambda pitch: pitch.cents)
    tones = sorted(met.tone.number for met in judged.met)
    for note, tone in zip(notes, tones, strict=True):
        yield NoteMatch(note, tone, judged.sonority.written(tone).cents - note.cents)


def _is_likely(match: Match) -> bool:
    """Whether at least two notes, and half of the chord, are tones of it."""
    count = len(match.notes)
    return count >= 2 and count >= len(match.in_addition)


def _rank(match: Match) -> tuple[bool, bool, float, str]:
    return not match.told.names, match.is_carried, match.cost, match.sonority.id


def _lacks_keys(sonority: Sonority, member: Saxophone) -> bool:
    return sonority.saxophone != member and any(unknown_keys(sonority.fingering, member.name))
