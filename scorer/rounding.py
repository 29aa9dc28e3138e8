"""Rounding, in one place: decimal, half up (away from zero at the half)."""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction


def half_up(value: float | Fraction | Decimal, decimals: int = 0) -> Decimal:
    """Round to `decimals` places, a half going away from zero.

    A float is taken by its shortest decimal form, which is what people read:
    2.675 becomes 2.68 although the nearest double lies a little below it.
    """
    step = Decimal(1).scaleb(-decimals)
    if isinstance(value, Fraction):
        return _fraction_half_up(value, decimals)
    exact = value if isinstance(value, Decimal) else Decimal(repr(float(value)))
    return exact.quantize(step, rounding=ROUND_HALF_UP)


def _fraction_half_up(value: Fraction, decimals: int) -> Decimal:
    scaled = abs(value) * 10**decimals
    whole = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    return Decimal(-whole if value < 0 else whole).scaleb(-decimals)


def whole(value: float | Fraction | Decimal) -> int:
    """Round to a whole number, a half going away from zero."""
    return int(half_up(value))


def shown(value: float, decimals: int) -> float:
    """Round for showing and publishing; the float nearest to the decimal result."""
    return float(half_up(value, decimals))
