"""What a player can turn to: neighbours, and other sonorities if this one does not speak."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from reedchord.choosing.judging import Judged, Meeting
from reedchord.choosing.neighbours import DocumentedNeighbour, Neighbours, neighbours_of
from reedchord.choosing.search import find
from reedchord.choosing.search_wish import Wish
from reedchord.collection import Collection
from reedchord.drawing.diagram import DiagramSize, sonority_diagram
from reedchord.drawing.picture_files import Picture
from reedchord.pitch import signed_cents_text
from reedchord.sonority import Sonority

MOST_ALIKE, MOST_EASY = 3, 3
EASY_GRADES = ("no change", "very easy", "easy")
NO_COLLECTION = (
    "No collection was named, so no alternatives were looked for: name one with --collection."
)
ABOUT_EASY = "Computed from the fingers alone; embouchure, air and tongue are for a trial to tell."


@dataclass(frozen=True)
class NeighbourLine:
    """A sonority that connects easily: its name, and why, in clauses."""

    name: str
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class Option:
    """Another sonority to try: its name, its fingering drawn and in words, what speaks for it."""

    name: str
    diagram: Picture
    fingering: str
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class Options:
    """Others to try: those that sound alike, those near for the fingers, or why there is none."""

    alike: tuple[Option, ...]
    easy: tuple[Option, ...]
    remark: str


def neighbour_lines(sonority: Sonority, collection: Collection | None) -> tuple[NeighbourLine, ...]:
    """Return what records say of easy connections, in both directions where they are known."""
    if collection is None or sonority.id not in collection:
        return tuple(
            NeighbourLine(near.sonority, _clauses(str(near.because), near.note))
            for near in sonority.neighbours
        )
    return tuple(map(_neighbour_line, neighbours_of(sonority, collection).documented))


def _neighbour_line(near: DocumentedNeighbour) -> NeighbourLine:
    said = {clause for one in near.statements for clause in _clauses(str(one.because), one.note)}
    # What is said with a note need not be said without one.
    reasons = sorted(c for c in said if not any(other.startswith(f"{c}: ") for other in said))
    if near.change is not None:
        reasons.append(f"by the fingers {near.change.grade}, {near.change.words}")
    return NeighbourLine(_name(near.sonority) if near.sonority else near.id, tuple(reasons))


def _clauses(because: str, note: str | None) -> tuple[str, ...]:
    return (f"{because}: {note}",) if note else (because,)


def _name(sonority: Sonority) -> str:
    return f"{sonority.name} ({sonority.id})" if sonority.name else sonority.id


def options_for(
    sonority: Sonority,
    wanted: frozenset[int],
    emphasised: int | None,
    collection: Collection | None,
) -> Options:
    """Return what else the collection holds for the same saxophone, this one left out.

    Alike are those with tones within 50 cents of the `wanted` ones, by number; easy are
    those to which few fingers move.
    """
    if collection is None:
        return Options((), (), NO_COLLECTION)
    alike = tuple(_alike(sonority, wanted, emphasised, collection))[:MOST_ALIKE]
    there = {option.name for option in alike}
    near = neighbours_of(sonority, collection)
    easy = tuple(option for option in _easy(near) if option.name not in there)[:MOST_EASY]
    same = sum(other.saxophone == sonority.saxophone for other in collection)
    others = same - (sonority.id in collection)
    remark = "" if alike or easy else _nothing(sonority, others)
    return Options(alike, easy, remark)


def _nothing(sonority: Sonority, others: int) -> str:
    if not others:
        return f"The collection holds no other sonority for {sonority.saxophone}."
    kin = f"Its {others} others" if others > 1 else "Its one other"
    return (
        f"The collection holds nothing that sounds alike or is near for the fingers. {kin} for "
        f"{sonority.saxophone} may still be worth a look."
    )


def _alike(
    sonority: Sonority,
    wanted: frozenset[int],
    emphasised: int | None,
    collection: Collection,
) -> Iterator[Option]:
    wish = Wish(
        pitches=tuple(sonority.concert(number) for number in sorted(wanted)),
        emphasised=sonority.concert(emphasised) if emphasised else None,
        saxophones=(sonority.saxophone,),
    )
    for judged in find(collection, wish, most=MOST_ALIKE + 1).fitting:
        if judged.sonority.id != sonority.id and judged.met:
            yield _option(judged.sonority, _how_alike(judged, len(wish.wanted)))


def _how_alike(judged: Judged, count: int) -> tuple[str, ...]:
    """Tell how many tones are alike, and how exactly, in concert pitch."""
    met = ", ".join(map(_met_words, judged.met))
    clauses = [f"{len(judged.met)} of {count} tones alike: {met}"]
    if judged.missing:
        names = ", ".join(missing.wish.printed() for missing in judged.missing)
        clauses.append(f"lacks concert {names}")
    if judged.in_addition:
        more = len(judged.in_addition)
        clauses.append(f"{more} tone{'s' if more > 1 else ''} in addition")
    return tuple(clauses)


def _met_words(meeting: Meeting) -> str:
    away = signed_cents_text(meeting.cents).replace("-", "−")
    by = f"by {away}¢" if meeting.cents else "exactly"
    return f"concert {meeting.wish.printed()} {by}"


def _easy(near: Neighbours) -> Iterator[Option]:
    computed = [(other.sonority, other.change) for other in near.computed]
    documented = [
        (other.sonority, other.change)
        for other in near.documented
        if other.sonority is not None and other.change is not None
    ]
    changes = [*documented, *computed]
    for other, change in sorted(changes, key=lambda pair: (pair[1].score, pair[0].id)):
        if change.grade in EASY_GRADES:
            yield _option(other, (f"{change.grade}, {change.words}", _sounds(other)))


def _sounds(sonority: Sonority) -> str:
    concert = ", ".join(pitch.printed() for pitch in sonority.concert_pitches)
    return f"sounds concert {concert}"


def _option(sonority: Sonority, reasons: tuple[str, ...]) -> Option:
    diagram = sonority_diagram(sonority, size=DiagramSize.TEXT, strip=True)
    told = (*reasons, str(sonority.evidence))
    return Option(_name(sonority), diagram, sonority.fingering.words(), told)
