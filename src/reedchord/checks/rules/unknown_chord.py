"""A chord in a saxophone's part that is no sonority that anybody knows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import partial

from reedchord.checks.checked_score import CheckedScore, WrittenChord
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.choosing.search import find
from reedchord.choosing.search_wish import MOST_TONES, Wish
from reedchord.pitch import Pitch
from reedchord.sonority import Sonority

SAME_WITHIN_CENTS = 50
"""A chord is written to the nearest quarter tone, or semitone."""
NEAREST_WITHIN_CENTS = 100


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    known = list(_known(checked))
    told: set[tuple[str, tuple[Pitch, ...]]] = set()
    for chord in checked.chords:
        key = (chord.part.music.part.id, chord.event.pitches)
        if chord.played is not None or chord.part.member is None or key in told:
            continue
        told.add(key)
        is_same = partial(_is_same, _concert(chord))
        fits = [one for one in known if one.saxophone == chord.part.member and is_same(one)]
        if fits:
            yield Problem(
                f"{chord.words} has the tones of {fits[0].id}, without its label, fingering and "
                "source",
                chord.spot,
                (Remedy(f"reedchord place SCORE {fits[0].id} at this place", swap_to=fits[0].id),),
            )
        else:
            yield Problem(
                f"{chord.words} is no sonority that is known for the {chord.part.member}: one "
                "player sounds one note, or a fingering's own tones",
                chord.spot,
                tuple(_nearest(checked, chord)),
            )


def _known(checked: CheckedScore) -> Iterable[Sonority]:
    if checked.record is not None:
        yield from checked.record.sonorities.values()
    if checked.collection is not None:
        yield from checked.collection


def _concert(chord: WrittenChord) -> list[Pitch]:
    member = chord.part.member
    assert member is not None  # asked only where it is known
    pitches = chord.event.pitches
    return list(pitches if chord.part.is_concert else map(member.concert, pitches))


def _is_same(concert: list[Pitch], sonority: Sonority) -> bool:
    """Whether every note of a chord is a tone of its own of a sonority."""
    free = [pitch.cents for pitch in sonority.concert_pitches]
    for pitch in concert:
        near = min(free, key=lambda cents: abs(cents - pitch.cents), default=None)
        if near is None or abs(near - pitch.cents) > SAME_WITHIN_CENTS:
            return False
        free.remove(near)
    return True


def _nearest(checked: CheckedScore, chord: WrittenChord) -> Iterator[Remedy]:
    """Yield the sonority that comes nearest, if the collection has one that is near at all."""
    collection, member = checked.collection, chord.part.member
    concert = _concert(chord)
    if collection is None or member is None or len(concert) > MOST_TONES:
        return
    wish = Wish(
        pitches=tuple(concert),
        saxophones=(member,),
        dynamic=chord.dynamic,
        within_cents=Fraction(NEAREST_WITHIN_CENTS),
    )
    for found in find(collection, wish, most=1).fitting:
        met, all_of = len(found.met), len(concert)
        yield Remedy(
            f"nearest in the collection: {found.sonority.id} ({met} of {all_of} tones within "
            f"{NEAREST_WITHIN_CENTS} cents)",
            swap_to=found.sonority.id,
        )
        return


RULE = Rule(
    "chord.unknown",
    Severity.WARNING,
    "A chord in a saxophone's part is no sonority that is known.",
    throughout=_throughout,
    passes=(
        Example("mf bell/1", "a placed sonority"),
        Example("mf C5/2 E5/2", "single notes"),
    ),
    fails=(
        Example("mf [C5+E5+G5]/1", "a common chord, which no fingering gives"),
        Example("mf [E4+C5+A5]/1", "the tones of a known one, typed by hand"),
    ),
)
