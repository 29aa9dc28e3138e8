"""What every part of the second verifier needs: exact rounding, differences, sums."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One published number that does not follow from the others."""

    where: str
    published: str
    recomputed: str

    def __str__(self) -> str:
        return f"{self.where}: published {self.published}, recomputed {self.recomputed}"


def differ(where: str, published: object, recomputed: object) -> Iterator[Difference]:
    """Yield the difference, if there is one."""
    if published != recomputed:
        yield Difference(
            where=where, published=_show(published), recomputed=_show(recomputed)
        )


def _show(value: object) -> str:
    return str(float(value)) if isinstance(value, Fraction) else str(value)


_MOST_DIGITS = 80
_GREATEST_EXPONENT = 400
"""No double is printed with more; a short text could else stand for gigabytes."""


def exact_text(text: str) -> Fraction:
    """Read a printed number exactly; ValueError for one that nobody prints."""
    digits, _, exponent = text.casefold().partition("e")
    if len(digits) > _MOST_DIGITS or len(exponent) > 5:
        raise ValueError(f"a number of {len(text):,} characters")
    if abs(int(exponent or 0)) > _GREATEST_EXPONENT:
        raise ValueError(f"a number with exponent {exponent}")
    return Fraction(text)


def exact_whole(text: str) -> int:
    """Read a printed whole number; ValueError for one that nobody prints."""
    return int(exact_text(text))


def exact(value: object) -> Fraction:
    """Return a published number as a fraction; TypeError for what is no number."""
    if isinstance(value, int | Fraction) and not isinstance(value, bool):
        return Fraction(value)
    if isinstance(value, str):
        return exact_text(value)
    raise TypeError(f"a number, where {value!r:.60} stands")


def half_up(value: Fraction) -> int:
    """Round to a whole number, a half going away from zero."""
    doubled = 2 * abs(value)
    whole = (doubled.numerator + doubled.denominator) // (2 * doubled.denominator)
    return whole if value >= 0 else -whole


def total_of(score: Mapping[str, Any], unit: str) -> Fraction:
    """Add up the charges of a score that count, in one unit."""
    counted = (c for c in score["charges"] if c["counts"] and c["unit"] == unit)
    return sum((exact(c["amount"]) for c in counted), Fraction(0))
