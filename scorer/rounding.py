"""Numbers exactly as they were keyed, and rounding in one place.

Rounding is decimal, half up (away from zero at the half).
"""

from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from typing import Self

MOST_DIGITS = 6
"""Decimals up to which a number is said exactly; beyond them it is rounded."""

_ANY_SIZE = Context(prec=400, rounding=ROUND_HALF_UP)
"""With as many digits as the greatest double has: it rounds whatever was read."""


class Exact(float):
    """A float that keeps the number it stands for: what was keyed, or is rounded to.

    It counts, compares and prints as the float nearest to it; arithmetic gives plain
    floats.  Whoever rounds, ranks or prints asks `exact` for the number itself.
    """

    __slots__ = ("fraction",)
    fraction: Fraction

    def __new__(cls, value: Fraction) -> Self:
        """Make one of a fraction."""
        made = super().__new__(cls, value)
        made.fraction = value
        return made

    def __reduce__(self) -> tuple[type["Exact"], tuple[Fraction]]:
        return Exact, (self.fraction,)


class Rounded(Exact):
    """A number that was rounded to so many decimals: it is printed with all of them."""

    __slots__ = ("decimals",)
    decimals: int

    def __new__(cls, value: Fraction, decimals: int = 0) -> Self:
        """Make one of a fraction."""
        made = super().__new__(cls, value)
        made.decimals = decimals
        return made

    def __reduce__(self) -> tuple[type["Rounded"], tuple[Fraction, int]]:  # type: ignore[override]
        return Rounded, (self.fraction, self.decimals)


def exact(value: float | Fraction) -> Fraction:
    """Return a number as a fraction; a plain float by its shortest decimal form."""
    if isinstance(value, Exact):
        return value.fraction
    return value if isinstance(value, Fraction) else Fraction(repr(float(value)))


def digits(value: Fraction, most: int = MOST_DIGITS) -> int | None:
    """Return how many decimals a number has; None where they are more than `most`."""
    fitting = (n for n in range(most + 1) if (value * 10**n).denominator == 1)
    return next(fitting, None)


def text(value: Fraction) -> str:
    """Write a fraction so that it can be read back: `2.77495`, or `1451/300`."""
    places = digits(value, 30)
    return str(value) if places is None else f"{half_up(value, places):f}"


def to_step(value: Fraction, step: Fraction) -> Fraction:
    """Round to a multiple of `step`, a half going away from zero."""
    return step * whole(value / step)


def half_up(value: float | Fraction | Decimal, decimals: int = 0) -> Decimal:
    """Round to `decimals` places, a half going away from zero.

    A float is taken by its shortest decimal form, which is what people read:
    2.675 becomes 2.68 although the nearest double lies a little below it.
    """
    step = Decimal(1).scaleb(-decimals)
    if isinstance(value, Exact | Fraction):
        return _fraction_half_up(exact(value), decimals)
    plain = value if isinstance(value, Decimal) else Decimal(repr(float(value)))
    return plain.quantize(step, context=_ANY_SIZE)


def _fraction_half_up(value: Fraction, decimals: int) -> Decimal:
    scaled = abs(value) * 10**decimals
    whole = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    return Decimal(-whole if value < 0 else whole).scaleb(-decimals)


def whole(value: float | Fraction | Decimal) -> int:
    """Round to a whole number, a half going away from zero."""
    return int(half_up(value))


def shown(value: float | Fraction, decimals: int) -> float:
    """Round for showing and publishing; the float nearest to the decimal result."""
    return float(half_up(value, decimals))
