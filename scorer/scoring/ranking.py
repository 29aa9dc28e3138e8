"""Ranks of ordered values, with ties."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby
from typing import Any


def competition_ranks(ordered: Sequence[Any]) -> list[int]:
    """Rank values given best first; equal ones share the better rank (1, 2, 2, 4)."""
    ranks: list[int] = []
    for _, group in groupby(ordered):
        ranks.extend([len(ranks) + 1] * len(list(group)))
    return ranks


def mean_ranks(ordered: Sequence[Any]) -> list[Fraction]:
    """Rank values given best first; equal ones have the mean of theirs (1, 2½, 2½, 4)."""
    ranks: list[Fraction] = []
    for _, group in groupby(ordered):
        size, first = len(list(group)), len(ranks) + 1
        ranks.extend([Fraction(2 * first + size - 1, 2)] * size)
    return ranks
