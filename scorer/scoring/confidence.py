"""How sure each place is, and which markers are worth measuring again."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

DRAWS = 4000
SEED = 20_000
LEVEL = 0.95
"""Share of the draws that the range of ranks covers."""
WORTH_MEASURING = 0.05
"""Chance of a swap from which two neighbours are worth measuring again."""


class Sureness(NamedTuple):
    """Ranks within the confidence of the measurements; arrays are (N,)."""

    low: NDArray[np.int64]
    """Best rank of the central 95 %."""
    high: NDArray[np.int64]
    """Worst rank of it."""
    swaps: tuple[tuple[int, int, float], ...]
    """Neighbours (index better, index worse) and the chance that their order is wrong."""


def sureness(
    values: NDArray[np.float64], sigmas: NDArray[np.float64], *, greatest: bool
) -> Sureness:
    """Draw every result from its own error and see how ranks spread.

    Parameters
    ----------
    values, sigmas : (N,) arrays
        Results and one sigma each, in one unit.  Errors are taken as independent and
        normal; a NaN sigma counts as zero.
    greatest : bool
        The greatest result is best.

    Notes
    -----
    The random numbers come from a fixed seed: the same results give the same answer.
    """
    count = len(values)
    if count == 0:
        empty = np.empty(0, dtype=np.int64)
        return Sureness(empty, empty, ())
    generator = np.random.Generator(np.random.PCG64(SEED))
    noise = generator.standard_normal((DRAWS, count)) * np.nan_to_num(sigmas)
    drawn = (values + noise) * (-1 if greatest else 1)
    ranks = drawn.argsort(axis=1, kind="stable").argsort(axis=1, kind="stable") + 1
    tail = (1 - LEVEL) / 2
    low, high = np.quantile(ranks, [tail, 1 - tail], axis=0, method="nearest")
    order = np.argsort(values * (-1 if greatest else 1), kind="stable")
    return Sureness(low.astype(np.int64), high.astype(np.int64), _swaps(drawn, order))


def _swaps(
    drawn: NDArray[np.float64], order: NDArray[np.int64]
) -> tuple[tuple[int, int, float], ...]:
    better, worse = order[:-1], order[1:]
    chance = (drawn[:, better] > drawn[:, worse]).mean(axis=0)
    return tuple(
        (int(a), int(b), float(p))
        for a, b, p in zip(better, worse, chance, strict=True)
        if p >= WORTH_MEASURING
    )
