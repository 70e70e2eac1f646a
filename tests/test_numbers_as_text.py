"""Rational numbers as people read them, exactly."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.numbers_as_text import decimal_text


@pytest.mark.parametrize(
    ("amount", "text"),
    [
        (Fraction(72), "72"),
        (Fraction(100), "100"),
        (Fraction(5, 2), "2.5"),
        (Fraction(-1, 4), "-0.25"),
        (Fraction(1, 10**6), "0.000001"),
        (Fraction(1, 10**7), "1/10000000"),
        (Fraction(1, 3), "1/3"),
        (Fraction(0), "0"),
        (10**40 + Fraction(1, 2), f"1{'0' * 40}.5"),
    ],
)
def test_decimals_when_they_end_and_fractions_when_they_do_not(amount, text):
    assert decimal_text(amount) == text


@given(st.fractions())
def test_the_text_is_the_number(amount):
    assert Fraction(decimal_text(amount)) == amount
