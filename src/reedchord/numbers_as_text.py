"""Exact rational numbers as text, without a float in between."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

_PLACES = 6


def decimal_text(amount: Fraction) -> str:
    """Return a rational as a decimal when it ends within six places, else as a fraction."""
    if (amount * 10**_PLACES).denominator != 1:
        return str(amount)
    exact = Decimal(amount.numerator) / Decimal(amount.denominator)
    text = format(exact, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text
