"""Add up the sums of penalties again, from the figures they are stated in."""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from scorer.recount.numbers import Difference, differ, exact, half_up

_SLACK = Fraction(1, 100_000)
"""Of an amount in metres, which is published in six decimals."""


def check_sum(where: str, charge: Mapping[str, Any]) -> Iterator[Difference]:
    """Add up what a penalty is made of: a fixed part, units over the limit, a step."""
    figures = charge["figures"]
    if "parts" not in figures:
        return  # no result: nothing to add up
    amount = exact(charge["amount"])
    total = Fraction(0)
    for part in figures["parts"]:
        value = _value(part)
        if value is None:
            yield Difference(
                where=where, published=str(part), recomputed="not a part of a sum"
            )
            return
        total += value
    if "most_number" in figures:
        total = min(total, exact(figures["most_number"]))
    total = total.limit_denominator(10**9)
    if charge["unit"].endswith("points"):
        total = Fraction(half_up(total))
    if abs(total - amount) > _SLACK:
        yield from differ(f"{where}, amount", amount, total)


def _value(part: Mapping[str, Any]) -> Fraction | None:
    """Return what one part adds; None = it is no part of a sum."""
    if "units" in part and "each_points" in part:
        return exact(part["units"]) * exact(part["each_points"])
    number = part.get("amount_number", part.get("number"))
    return None if number is None else exact(number)
