"""Add up the sums of penalties again, from their printed figures."""

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from scorer.recount.numbers import Difference, differ, half_up

_NUMBER = r"([\d.]+(?:e[+-]?\d+)?)"
_TERM = re.compile(rf"(?:step )?{_NUMBER}(?: (\S+) × {_NUMBER})?")
_DIGITS = Fraction(1, 100_000)
"""Sums are printed with six figures: how far a printed count may be off, as a share."""


def check_sum(where: str, charge: Mapping[str, Any]) -> Iterator[Difference]:
    """Add up the printed sum of a penalty: `5 + 3.2 min × 100, at most 500 = 325 ...`."""
    terms, _, outcome = charge["sum"].partition(" = ")
    terms, _, cap = terms.partition(", at most ")
    if not outcome:
        return  # no result: nothing to add up
    low = high = Fraction(0)
    for term in terms.split(" + "):
        match = _TERM.fullmatch(term)
        if match is None:
            yield Difference(where=where, published=term, recomputed="not a sum")
            return
        value = Fraction(match[1]) * Fraction(match[3] or 1)
        slack = value * _DIGITS if match[3] else Fraction(0)
        low, high = low + value - slack, high + value + slack
    if cap:
        low, high = min(low, Fraction(cap)), min(high, Fraction(cap))
    amount = Fraction(charge["amount"])
    if charge["unit"].endswith("points"):
        low, high = Fraction(half_up(low)), Fraction(half_up(high))
    if not low - _DIGITS <= amount <= high + _DIGITS:
        yield from differ(f"{where}, amount", amount, low)
