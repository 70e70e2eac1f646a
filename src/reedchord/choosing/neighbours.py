"""The sonorities that connect easily to one: what sources say, and what the fingers say."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reedchord.choosing.kept import kept
from reedchord.collection import Collection
from reedchord.fingering_change import ChangeDifficulty, change_difficulty
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Closeness, Neighbour


@dataclass(frozen=True)
class Statement:
    """What one record says of a neighbour: `by` names the record that says it."""

    by: str
    because: Closeness
    note: str | None


@dataclass(frozen=True)
class DocumentedNeighbour:
    """A neighbour that records name, in either direction.

    `sonority` and `change` are None where the collection does not hold the record, `change`
    also where the two are for different saxophones.
    """

    id: str
    sonority: Sonority | None
    statements: tuple[Statement, ...]
    change: ChangeDifficulty | None


@dataclass(frozen=True)
class ComputedNeighbour:
    """A neighbour that nobody names; only the fingers were looked at."""

    sonority: Sonority
    change: ChangeDifficulty


@dataclass(frozen=True)
class Neighbours:
    """What connects to a sonority: documented neighbours, and computed ones, easiest first."""

    sonority: Sonority
    documented: tuple[DocumentedNeighbour, ...]
    computed: tuple[ComputedNeighbour, ...]


_BOTH_FIRST = (Closeness.BOTH, Closeness.FINGERS, Closeness.EMBOUCHURE)


def neighbours_of(sonority: Sonority, collection: Collection) -> Neighbours:
    """Return every documented neighbour, and all others of the same saxophone, easiest first."""
    said = statements_about(sonority, collection)
    documented = [
        _documented(sonority, near, tuple(lines), collection) for near, lines in said.items()
    ]
    computed = [
        ComputedNeighbour(other, change_difficulty(sonority.fingering, other.fingering))
        for other in collection
        if other.id != sonority.id and other.id not in said
        if other.saxophone == sonority.saxophone
    ]
    return Neighbours(
        sonority,
        tuple(sorted(documented, key=_documented_order)),
        tuple(sorted(computed, key=lambda near: (near.change.score, near.sonority.id))),
    )


def statements_about(sonority: Sonority, collection: Collection) -> dict[str, list[Statement]]:
    """Return what records say of connections with this one, by the id of the other sonority."""
    said: dict[str, list[Statement]] = {}
    for near in sonority.neighbours:
        said.setdefault(near.sonority, []).append(_statement(sonority, near))
    for other, near in _namings(collection).get(sonority.id, ()):
        if other.id != sonority.id:
            said.setdefault(other.id, []).append(_statement(other, near))
    return said


def documented_pairs(collection: Collection) -> dict[frozenset[str], Closeness]:
    """Return the best reason that records give for each pair of neighbours, by both ids."""
    pairs: dict[frozenset[str], Closeness] = {}
    for sonority in collection:
        for near in sonority.neighbours:
            pair = frozenset((sonority.id, near.sonority))
            reasons = {near.because, pairs.get(pair, near.because)}
            pairs[pair] = min(reasons, key=_BOTH_FIRST.index)
    return pairs


@kept
def _namings(collection: Collection) -> dict[str, list[tuple[Sonority, Neighbour]]]:
    """Return, for each id that records name as a neighbour, which ones do and how."""
    namings: dict[str, list[tuple[Sonority, Neighbour]]] = {}
    for sonority in collection:
        for near in sonority.neighbours:
            namings.setdefault(near.sonority, []).append((sonority, near))
    return namings


def _statement(by: Sonority, near: Neighbour) -> Statement:
    return Statement(by.id, near.because, near.note)


def _documented(
    sonority: Sonority, near: str, statements: tuple[Statement, ...], collection: Collection
) -> DocumentedNeighbour:
    other = collection.sonorities.get(near)
    comparable = other is not None and other.saxophone == sonority.saxophone
    change = (
        change_difficulty(sonority.fingering, other.fingering) if other and comparable else None
    )
    return DocumentedNeighbour(near, other, statements, change)


def best_reason(statements: Iterable[Statement]) -> Closeness:
    """Return the reason that makes a neighbour nearest: both, else the fingers."""
    return min((said.because for said in statements), key=_BOTH_FIRST.index)


def _documented_order(near: DocumentedNeighbour) -> tuple[int, float, str]:
    reason = _BOTH_FIRST.index(best_reason(near.statements))
    return reason, near.change.score if near.change else float("inf"), near.id
