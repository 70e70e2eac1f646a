"""Exact rational numbers as text, without a float in between."""

from __future__ import annotations

from fractions import Fraction

_PLACES = 6


def decimal_text(amount: Fraction) -> str:
    """Return a rational as a decimal when it ends within six places, else as a fraction."""
    scaled = amount * 10**_PLACES
    if scaled.denominator != 1:
        return str(amount)
    whole, places = divmod(abs(scaled.numerator), 10**_PLACES)
    text = f"{whole}.{places:0{_PLACES}}".rstrip("0").rstrip(".")
    return f"-{text}" if amount < 0 else text
