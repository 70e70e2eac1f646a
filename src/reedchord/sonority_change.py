"""What becomes different for a player when one sonority takes another's place."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.fingering_change import change_difficulty
from reedchord.pitch import Pitch, cents_text
from reedchord.sonority import Sonority
from reedchord.wording import evidence_words, limit_words

SAME_TONE_WITHIN_CENTS = 50
"""Tones that lie no further apart count as one that moved."""


def changes_for_player(old: Sonority, new: Sonority) -> tuple[str, ...]:
    """Return sentences on fingering, tones, limits, dynamics and evidence, only what changes.

    Pitches are written ones, each for the saxophone of its own sonority.
    """
    rows = (
        ("saxophone", old.saxophone.name, new.saxophone.name),
        ("dynamics", str(old.possible_dynamics() or "not known"), _dynamics(new)),
        ("limits", _limits(old), _limits(new)),
        ("evidence", evidence_words(old), evidence_words(new)),
    )
    return (
        _fingering(old, new),
        *_tones(old, new),
        *(f"{name}: {now} (was {was})" for name, was, now in rows if was != now),
    )


def _dynamics(sonority: Sonority) -> str:
    return str(sonority.possible_dynamics() or "not known")


def _limits(sonority: Sonority) -> str:
    return "; ".join(limit_words(sonority)) or "none known"


def _fingering(old: Sonority, new: Sonority) -> str:
    fingering = f"fingering: {new.fingering.words()}"
    if old.fingering == new.fingering:
        return f"{fingering} (as before)"
    if old.saxophone != new.saxophone:
        return f"{fingering} (was {old.fingering.words()})"
    change = change_difficulty(old.fingering, new.fingering)
    return f"{fingering}; from the former, {change.words}"


def _tones(old: Sonority, new: Sonority) -> Iterator[str]:
    """Yield what became of the tones; the nearest are taken for the same, pair by pair."""
    pairs = _pairs(old, new)
    gone = [old.written(n).printed() for n in old.numbers if n not in pairs]
    come = [new.written(n).printed() for n in new.numbers if n not in pairs.values()]
    moved = [_moved(old.written(a), new.written(b)) for a, b in sorted(pairs.items())]
    clauses = [f"{name} goes" for name in gone] + [f"{name} comes" for name in come]
    clauses += [clause for clause in moved if clause]
    yield f"tones: {', '.join(clauses) or 'as before'}"
    was, now = (
        "none" if s.emphasised_number is None else s.written(s.emphasised_number).printed()
        for s in (old, new)
    )
    if was != now:
        yield f"emphasised in the record: {now} (was {was})"


def _pairs(old: Sonority, new: Sonority) -> dict[int, int]:
    """Return tones that are taken for the same, new numbers by old ones, nearest first."""
    near = sorted(
        (abs(old.written(a).cents - new.written(b).cents), a, b)
        for a in old.numbers
        for b in new.numbers
    )
    pairs: dict[int, int] = {}
    for cents, a, b in near:
        if cents <= SAME_TONE_WITHIN_CENTS and a not in pairs and b not in pairs.values():
            pairs[a] = b
    return pairs


def _moved(was: Pitch, now: Pitch) -> str:
    cents = now.cents - was.cents
    if not cents:
        return ""
    way = "higher" if cents > 0 else "lower"
    many = "1 cent" if abs(cents) == 1 else f"{cents_text(abs(cents))} cents"
    return f"{was.printed()} becomes {now.printed()}, {many} {way}"
