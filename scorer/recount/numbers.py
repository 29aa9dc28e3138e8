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


def half_up(value: Fraction) -> int:
    """Round to a whole number, a half going away from zero."""
    doubled = 2 * abs(value)
    whole = (doubled.numerator + doubled.denominator) // (2 * doubled.denominator)
    return whole if value >= 0 else -whole


def total_of(score: Mapping[str, Any], unit: str) -> Fraction:
    """Add up the charges of a score that count, in one unit."""
    counted = (c for c in score["charges"] if c["counts"] and c["unit"] == unit)
    return sum((Fraction(c["amount"]) for c in counted), Fraction(0))
