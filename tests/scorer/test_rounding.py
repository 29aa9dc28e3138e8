"""Rounding against the standard library's decimal module (IEEE 754 / ISO 60559)."""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scorer.rounding import half_up, shown, whole


@pytest.mark.parametrize(
    ("value", "decimals", "rounded"),
    [
        (0.5, 0, 1),
        (1.5, 0, 2),
        (2.5, 0, 3),
        (-0.5, 0, -1),
        (2.675, 2, 2.68),  # the double lies below; people read 2.675
        (1.005, 2, 1.01),
        (999.5, 0, 1000),
    ],
)
def test_a_half_goes_away_from_zero(value, decimals, rounded):
    assert half_up(value, decimals) == pytest.approx(Decimal(str(rounded)))


@given(st.fractions(-10000, 10000), st.integers(0, 4))
def test_fractions_round_as_the_decimal_module_does(value, decimals):
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    step = Decimal(1).scaleb(-decimals)
    at_half = (abs(value) * 10**decimals) % 1 == Fraction(1, 2)
    if at_half or abs(((abs(value) * 10**decimals) % 1) - Fraction(1, 2)) > Fraction(
        1, 10**20
    ):
        assert half_up(value, decimals) == exact.quantize(step, ROUND_HALF_UP)


def test_whole_and_shown_are_plain_numbers():
    assert (whole(Fraction(1, 2)), shown(12.345, 2)) == (1, 12.35)


@pytest.mark.parametrize("value", [1e24, 1.7976931348623157e308, -1e300])
def test_the_greatest_numbers_are_rounded_too(value):
    """Whatever was read may have to be told in a fault: they are whole already."""
    assert shown(value, 9) == value
