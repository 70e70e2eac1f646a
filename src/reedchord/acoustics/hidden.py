"""Tones among the harmonics of another one, as an octave above it, and tones taken too low."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from reedchord.acoustics.following import Agreement, Followed, Harmonics, agreement
from reedchord.acoustics.spectrum import Reals, Spectra
from reedchord.acoustics.together import follow, free_of

_MULTIPLES = (2, 3, 4, 5)
_OFF_CENTS, _OFF_AT_MOST_CENTS, _OFF_A_WANDER, _OFF_UNSURE = 0.5, 10.0, 0.15, 1.2
"""How far every second harmonic, or third, must lie off the rest, and may before it is a line."""
_LEAST_AGREEING, _LEAST_FRAMES, _LEAST_SHARE = 2.0, 6, 0.4
"""How many harmonics agree in a usual frame, in how many frames, and in what share of them."""
_KNOWN_CENTS = 30.0
"""What lies so near to a tone that is known is that tone."""
_TOO_LOW = (2, 3)
_FREE_SHARE = 0.5
"""A harmonic counts as free where no other tone comes near to it in so much of the time."""
_BETWEEN_BELOW_DB = 20.0
"""So far below its own harmonics lies what is between them, where a tone was taken too low."""
_LOW, _LOST_BELOW_DB = 8, 30.0
"""Harmonics before that one are low; so far below the strongest they are next to nothing."""
_SAME_CENTS, _SAME_A_WANDER = 4.0, 0.4
"""How far apart the courses of one tone, followed twice, may lie; more where it moves."""


@dataclass(frozen=True)
class Hidden:
    """A tone among the harmonics of another: the other's place, and of which it is a multiple.

    `agreeing` tells how many harmonics it has in a usual frame.
    """

    owner: int
    multiple: int
    followed: Followed
    agreeing: float


def hidden_tones(found: Spectra, tones: Sequence[Followed]) -> tuple[Hidden, ...]:
    """Return tones whose harmonics are nearly those of another one, the plainest first.

    Harmonics of one tone are in tune with each other to a fraction of a cent. Where every
    second one, or third, lies elsewhere and these agree among themselves, they are another's.
    """
    hidden: list[Hidden] = []
    while True:
        known = [*tones, *(one.followed for one in hidden)]
        seen = [
            one
            for owner in range(len(tones))
            for one in _among(found, owner, known)
            if all(_apart_cents(one.followed, other) > _KNOWN_CENTS for other in known)
        ]
        if not seen:
            return tuple(hidden)
        hidden.append(max(seen, key=lambda one: one.agreeing))


def _apart_cents(one: Followed, other: Followed) -> float:
    return abs(one.height_cents - other.height_cents)


def _among(found: Spectra, owner: int, known: Sequence[Followed]) -> Iterator[Hidden]:
    tone = known[owner]
    is_free = free_of(found, tone, [*known[:owner], *known[owner + 1 :]])
    free = tone.harmonics.trusted(is_free.astype(np.float64))
    for multiple in _MULTIPLES:
        is_multiple = free.numbers % multiple == 0
        if np.sum(is_multiple) < 2:
            return
        upper, lower = free.only(is_multiple), free.only(~is_multiple)
        theirs, own = (agreement(part, steadily=False) for part in (upper, lower))
        told = (tone.held > 0) & np.any(theirs.cells > 0, axis=0) & np.any(own.cells > 0, axis=0)
        if np.sum(told) < max(_LEAST_FRAMES, _LEAST_SHARE * np.sum(tone.held > 0)):
            continue
        off = float(np.median(np.abs(theirs.cents - own.cents)[told]))
        unsure = float(np.median(np.hypot(_unsure(upper, theirs), _unsure(lower, own))[told]))
        least = _OFF_CENTS + _OFF_A_WANDER * tone.wander_cents + _OFF_UNSURE * unsure
        agreeing = float(np.mean(np.sum(theirs.cells > 0, axis=0)[told]))
        if least < off < _OFF_AT_MOST_CENTS and agreeing >= _LEAST_AGREEING:
            hz = multiple * 2 ** (float(np.median(theirs.cents[told])) / 1200)
            yield Hidden(owner, multiple, follow(found, hz, tone.sounds), agreeing)


def _unsure(harmonics: Harmonics, agreed: Agreement) -> Reals:
    """Return how sure an agreement is in each frame, in cents."""
    sure = np.sum((agreed.cells > 0) / harmonics.locked_cents**2, axis=0)
    return np.asarray(1 / np.sqrt(np.maximum(sure, 1e-9)))


def true_multiple(found: Spectra, tone: Followed, others: Sequence[Followed]) -> int:
    """Return 2 or 3 where nothing but every second or third harmonic is the tone's own, else 1.

    The rest is what other tones happen to have there, or far weaker; or it is next to nothing in
    the low ones that no other tone comes near.
    """
    is_held = tone.held > 0
    is_free = np.mean(free_of(found, tone, others)[:, is_held], axis=1) > _FREE_SHARE
    usual = np.median(tone.harmonics.powers[:, is_held], axis=1)
    for multiple in _TOO_LOW:
        is_multiple = tone.harmonics.numbers % multiple == 0
        if not np.any(is_multiple):
            continue
        low = is_free & ~is_multiple & (tone.harmonics.numbers < _LOW)
        lost = np.max(usual[is_multiple]) * 10 ** (-_LOST_BELOW_DB / 10)
        if np.sum(low) >= 2 and np.max(usual[low]) < lost:
            return multiple
        own = is_free & is_multiple
        if not np.any(own):
            continue
        weak = np.max(usual[own]) * 10 ** (-_BETWEEN_BELOW_DB / 10)
        highest = np.max(tone.harmonics.numbers[own & (usual >= weak)])
        between = is_free & ~is_multiple & (tone.harmonics.numbers < highest)
        if np.sum(between) >= 2 and np.max(usual[between]) < weak:
            return multiple
    return 1


def are_one(one: Followed, other: Followed) -> bool:
    """Tell whether two tones that were followed take the same course."""
    return _apart_in_course(one, other, 1) < _SAME_CENTS + _SAME_A_WANDER * other.wander_cents


def is_harmonic(one: Followed, other: Followed) -> bool:
    """Tell whether a tone moves with a harmonic of another above its fundamental."""
    number = round(one.frequency_hz / other.frequency_hz)
    same = _OFF_CENTS + _OFF_A_WANDER * other.wander_cents
    return number > 1 and _apart_in_course(one, other, number) < same


def _apart_in_course(one: Followed, other: Followed, number: int) -> float:
    both = (one.held > 0) & (other.held > 0)
    if not np.any(both):
        return np.inf
    off = one.course_cents - other.course_cents - 1200 * np.log2(number)
    return float(np.median(np.abs(off[both])))
