"""Exact numbers as text, without a float in between, and how many of something there are."""

from __future__ import annotations

from fractions import Fraction

_PLACES = 6


def counted(count: int, noun: str) -> str:
    """Return how many there are: `1 sonority`, `3 sonorities`, `2 sources`."""
    if count == 1:
        return f"1 {noun}"
    return f"{count} {noun[:-1]}ies" if noun.endswith("y") else f"{count} {noun}s"


def decimal_text(amount: Fraction) -> str:
    """Return a rational as a decimal when it ends within six places, else as a fraction."""
    scaled = amount * 10**_PLACES
    if scaled.denominator != 1:
        return str(amount)
    whole, places = divmod(abs(scaled.numerator), 10**_PLACES)
    text = f"{whole}.{places:0{_PLACES}}".rstrip("0").rstrip(".")
    return f"-{text}" if amount < 0 else text
