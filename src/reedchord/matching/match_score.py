"""Chords that a composer has typed, told from a collection and marked where that is clear."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from reedchord.choosing.search_wish import DEFAULT_WITHIN_CENTS
from reedchord.collection import Collection
from reedchord.errors import InputError, RequestError
from reedchord.matching.chords_of_score import ScoreChord, chords_of
from reedchord.matching.match import Match, Matcher, unambiguous
from reedchord.musicxml.document import read_score
from reedchord.pitch import cents_text
from reedchord.placement.place import PlacedScore, place
from reedchord.placement.plan import Placement
from reedchord.saxophones import Saxophone

_TAKE = re.compile(
    r"""\s*(?:part\s+(?P<part>.+?)[,\s]\s*)?
    bar\s+(?P<bar>[^\s,=]+)[\s,]*
    (?:beat\s+(?P<beat>[^\s,=]+)[\s,]*)?
    (?:voice\s+(?P<voice>[^\s,=]+)[\s,]*)?
    =\s*(?P<sonority>\S+)\s*""",
    re.VERBOSE | re.IGNORECASE,
)


@dataclass(frozen=True)
class Choice:
    """A choice of the user's: this sonority stands behind the chord at this place."""

    bar: str
    sonority: str
    beat: str | None = None
    part: str | None = None
    voice: str | None = None
    typed: str = ""


@dataclass(frozen=True)
class MatchedChord:
    """A chord with what may be meant, and what is taken, by itself or by the user."""

    place: ScoreChord
    matches: tuple[Match, ...]
    taken: Match | None = None
    is_asked_for: bool = False


@dataclass(frozen=True)
class MatchedScore:
    """The chords of a score in order; `notes` are sentences on what was passed over."""

    data: bytes
    chords: tuple[MatchedChord, ...]
    saxophone: Saxophone | None
    notes: tuple[str, ...]

    @property
    def taken(self) -> list[MatchedChord]:
        """The chords whose sonority is known now."""
        return [one for one in self.chords if one.taken is not None]

    @property
    def questions(self) -> list[MatchedChord]:
        """The chords that a player has to be asked about."""
        return [one for one in self.chords if one.taken is None]


def parse_choice(text: str) -> Choice:
    """Read `bar 5 beat 1 = sonority`, with `part P` before and `voice N` after the beat.

    Raises InputError with an example.
    """
    found = _TAKE.fullmatch(text)
    if found is None:
        raise InputError(
            "match.choice",
            f"{text!r} is no choice of a sonority for a chord",
            hint="Write: --choose 'bar 5 beat 1 = ID', or 'part Alto bar 5 beat 1 = ID'.",
        )
    return Choice(
        found["bar"], found["sonority"], found["beat"], found["part"], found["voice"], text.strip()
    )


def match_score(
    data: bytes,
    collection: Collection,
    *,
    parts: Sequence[str] = (),
    within_cents: Fraction = DEFAULT_WITHIN_CENTS,
    saxophone: Saxophone | None = None,
    choices: Sequence[Choice] = (),
) -> MatchedScore:
    """Tell the sonorities behind the chords in the bytes of a MusicXML document.

    Raises RequestError where there is no chord in a saxophone part, and for a choice that
    fits no chord, or whose sonority does not have the chord's notes.
    """
    score = read_score(data)
    matcher = Matcher(collection, within_cents, searches=sum(len(p.bars) for p in score.parts))
    notes: list[str] = []
    places = chords_of(score, parts, saxophone, matcher.is_named, notes)
    chords = [_matched(place, matcher.matches(place.chord)) for place in places]
    for choice in choices:
        part_id = score.part(choice.part).id if choice.part else None
        index = _chosen(chords, choice, part_id)
        match = matcher.match(chords[index].place.chord, collection[choice.sonority])
        _refuse_other_notes(match, choice, chords[index], within_cents)
        chords[index] = replace(chords[index], taken=match, is_asked_for=True)
    return MatchedScore(data, tuple(chords), saxophone, tuple(notes))


def apply(matched: MatchedScore, collection: Collection) -> PlacedScore:
    """Mark every chord whose sonority is known; not one of its notes changes.

    Raises RequestError where nothing is known.
    """
    if not matched.taken:
        raise RequestError(
            "match.nothing-taken",
            "no chord has a sonority that could be taken without asking",
            hint="Choose: --choose 'bar 5 beat 1 = ID'.",
        )
    return place(matched.data, list(placements(matched)), collection)


def placements(matched: MatchedScore) -> Iterator[Placement]:
    """Yield a placement for every chord whose sonority is known; its notes stay as written."""
    for one in matched.taken:
        match, here = one.taken, one.place
        assert match is not None  # or it would be a question
        yield Placement(
            sonority=match.sonority.id,
            part=here.part.id,
            bar=f"@{here.timeline.bar.index + 1}",
            beat=here.beat,
            voice=here.event.voice,
            staff=here.event.staff,
            grace=here.grace or None,
            tones=tuple(note.tone for note in match.notes) if match.not_written else None,
            as_written=True,
            saxophone=matched.saxophone,
            carry=match.is_carried,
        )


def _matched(place: ScoreChord, matches: tuple[Match, ...]) -> MatchedChord:
    return MatchedChord(place, matches, unambiguous(matches))


def _chosen(chords: Sequence[MatchedChord], choice: Choice, part_id: str | None) -> int:
    """Return the one chord that a choice is about; raises RequestError otherwise."""
    found = [
        index
        for index, one in enumerate(chords)
        if choice.bar in (one.place.timeline.bar.label, f"@{one.place.timeline.bar.index + 1}")
        and choice.beat in (None, one.place.beat)
        and part_id in (None, one.place.part.id)
        and choice.voice in (None, one.place.event.voice)
    ]
    if len(found) == 1:
        return found[0]
    if not found:
        raise RequestError(
            "match.choice-nothing",
            f"--choose {choice.typed!r}: no chord that is to be matched begins there",
            hint=f"There are: {'; '.join(str(one.place.where) for one in chords[:12])}.",
        )
    raise RequestError(
        "match.choice-several",
        f"--choose {choice.typed!r}: {len(found)} chords are meant",
        hint=f"Say part, beat or voice: {'; '.join(str(chords[i].place.where) for i in found)}.",
    )


def _refuse_other_notes(
    match: Match, choice: Choice, chord: MatchedChord, within_cents: Fraction
) -> None:
    if match.explains_all:
        return
    others = ", ".join(str(pitch) for pitch in match.in_addition)
    tones = ", ".join(str(pitch) for pitch in match.sonority.written_pitches)
    raise RequestError(
        "match.choice-other-notes",
        f"--choose {choice.typed!r}: {others} is none of the tones of {match.sonority.id} within "
        f"{cents_text(within_cents)} cents",
        hint=f"Its written tones are {tones}. Allow more with --within, or choose another one.",
        where=chord.place.where,
    )
