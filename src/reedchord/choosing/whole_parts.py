"""Cents as whole numbers of some part of a cent: as exact as fractions, and reckoned faster."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import lcm

from reedchord.pitch import CENTS_PER_OCTAVE


def common_parts(cents: Iterable[Fraction]) -> int:
    """Return into how many parts a cent must be divided for all of these to be whole."""
    return lcm(*(one.denominator for one in cents))


def in_parts(cents: Iterable[Fraction], parts: int) -> list[int]:
    """Return cents as numbers of such parts."""
    return [one.numerator * (parts // one.denominator) for one in cents]


def gaps_in_parts(wished: int, heights: list[int], parts: int, *, pitch_class: bool) -> list[int]:
    """Return by how much each height lies above the wished one; octaves may not count."""
    gaps = [height - wished for height in heights]
    if not pitch_class:
        return gaps
    octave = CENTS_PER_OCTAVE * parts
    half = octave // 2
    return [(gap + half) % octave - half for gap in gaps]
