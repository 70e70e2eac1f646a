"""Speeds, tempi and lengths as rules put them into words."""

from __future__ import annotations

from fractions import Fraction

from reedchord.checks.finding import Remedy
from reedchord.checks.played import Played
from reedchord.numbers_as_text import decimal_text
from reedchord.rhythm import QUARTER, single_value

SLOWEST_QUARTERS_PER_MINUTE = 20
"""A tempo below this is no remedy."""


def rate_words(played: Played) -> str:
    """Return how fast a sonority is to be articulated: `eighths at quarter = 72 (2.4 a second)`."""
    speed = played.attacks_per_second or 0
    quarters = played.quarters_per_attack
    value = single_value(quarters) if quarters else None
    told = f"{number(speed)} attacks a second"
    if value is None:
        return f"{told} at {tempo_words(played.tempo)}"
    return f"{value.words(plural=True)} at {tempo_words(played.tempo)} ({told})"


def tempo_words(quarters_per_minute: Fraction) -> str:
    """Return a tempo as a metronome mark in quarters, whole where it is nearly so."""
    return _mark(decimal_text(Fraction(round(quarters_per_minute * 10), 10)))


def _mark(beats_per_minute: object) -> str:
    return f"{QUARTER.words()} = {beats_per_minute}"


def number(quantity: float) -> str:
    """Return a number with one place at most."""
    return f"{quantity:.1f}".removesuffix(".0")


def slower(played: Played, share: float) -> tuple[Remedy, ...]:
    """Return the tempo that is this share of the present one, if anybody would play so slowly."""
    tempo = int(float(played.tempo) * share + 1e-9)
    if tempo < SLOWEST_QUARTERS_PER_MINUTE:
        return ()
    return (Remedy(f"slower: it works at {_mark(tempo)} and below"),)
