"""How sure each place is, and which markers are worth measuring again."""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scorer.geodesy.arrays import Array
from scorer.tasks.base import Apart, Together

DRAWS = 4000
SEED = 20_000
LEVEL = 0.95
"""Share of the draws that the range of ranks covers."""
LOWEST, HIGHEST = (round((DRAWS - 1) * (1 + side * LEVEL) / 2) for side in (-1, 1))
"""The draws at its ends, in order."""
FEW = 24
"""So many results are compared each with each; more are sorted."""
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
    values: Array,
    sigmas: Array,
    *,
    greatest: bool,
    apart: Mapping[int, tuple[Apart | Together, float]] | None = None,
) -> Sureness:
    """Draw every result from its own error and see how ranks spread.

    Parameters
    ----------
    values, sigmas : (N,) arrays
        Results and one sigma each, in one unit.  Errors are taken as independent and
        normal; a NaN sigma counts as zero.
    greatest : bool
        The greatest result is best.
    apart : mapping, optional
        By index, results that are distances of two points known by their place, or made
        of several, and what was measured: their errors are drawn in the plane or in
        space, so distances follow the law of Rice.

    Notes
    -----
    No result is drawn under 0.  The random numbers come from a fixed seed: the same
    results give the same answer.
    """
    count = len(values)
    if count == 0:
        empty = np.empty(0, dtype=np.int64)
        return Sureness(empty, empty, ())
    drawn = _drawn(values, sigmas, apart or {})
    drawn *= -1 if greatest else 1
    order = np.argsort(values * (-1 if greatest else 1), kind="stable")
    low, high = _ranges(drawn, order)
    return Sureness(low, high, _swaps(drawn, order))


def _drawn(
    values: Array, sigmas: Array, apart: Mapping[int, tuple[Apart | Together, float]]
) -> Array:
    """Draw all results, (N, D)."""
    noise = _noise(len(values), plane=bool(apart))
    drawn = np.abs(_along(values[:, None], sigmas[:, None], noise[:, 0]))
    for index, (points, measured) in apart.items():
        if isinstance(points, Together):
            lengths = _added(points, index) + (values[index] - measured)
        else:
            lengths = _between(points, measured, values[index], noise[index])
        drawn[index] = np.abs(lengths)
    return drawn


@lru_cache(maxsize=1)
def _noise(count: int, *, plane: bool) -> Array:
    """Draw errors along lines and those beside them, (N, 1 or 3, D); the latest kept.

    The others are drawn after all of the first: where nothing is in the plane, none is.
    """
    lines = 3 if plane else 1
    drawn = _normals(-(-count // COUNTS) * COUNTS * lines)[: DRAWS * count * lines]
    noise = np.empty((count, lines, DRAWS))
    noise[:, 0] = drawn[: DRAWS * count].reshape(DRAWS, count).T
    if plane:
        further = drawn[DRAWS * count :].reshape(DRAWS, count, 2)
        noise[:, 1:] = further.transpose(1, 2, 0)
    return noise


COUNTS = 64
"""Flights of about as many results draw from the same numbers."""


@lru_cache(maxsize=1)
def _normals(draws: int) -> Array:
    """Draw so many times `DRAWS` numbers; fewer are the first of them."""
    generator = np.random.Generator(np.random.PCG64(SEED))
    return generator.standard_normal(DRAWS * draws)


def _ranges(
    drawn: Array, order: NDArray[np.int64]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the best and the worst rank of the central draws, each (N,).

    Results that no draw mixes with others are ranked among themselves.
    """
    low = np.empty(len(order), dtype=np.int64)
    low[order] = np.arange(1, len(order) + 1)
    high = low.copy()
    mixed = [(start, np.sort(order[start:end])) for start, end in _mixed(drawn[order])]
    if mixed:
        own = np.concatenate([rows for _, rows in mixed])
        ranks = np.concatenate([start + _ranks(drawn[rows]) for start, rows in mixed])
        # Whole numbers of so few bits are sorted sooner than two of them are found.
        ranks = np.sort(ranks.astype(np.min_scalar_type(len(order))), kind="stable")
        low[own], high[own] = ranks[:, LOWEST], ranks[:, HIGHEST]
    return low, high


def _ranks(drawn: Array) -> NDArray[np.int32]:
    """Return the ranks of a few results in each draw, from 1; of equals the first."""
    ranks = np.ones(drawn.shape, dtype=np.int32)
    if len(drawn) > FEW:
        places = drawn.T.argsort(axis=1, kind="stable")
        each = np.arange(1, len(drawn) + 1, dtype=np.int32)[None, :]
        np.put_along_axis(ranks.T, places, each, axis=1)
        return ranks
    for row in range(1, len(drawn)):
        better = drawn[row] < drawn[:row]
        ranks[:row] += better
        ranks[row] += row - better.sum(axis=0, dtype=np.int32)
    return ranks


def _mixed(drawn: Array) -> Iterator[tuple[int, int]]:
    """Yield the stretches of two results and more that some draw puts out of order."""
    least = np.minimum.accumulate(drawn.min(axis=1)[::-1])[::-1]
    most = np.maximum.accumulate(drawn.max(axis=1))
    apart = np.flatnonzero(most[:-1] < least[1:]) + 1
    for start, end in pairwise([0, *apart.tolist(), len(drawn)]):
        if end - start > 1:
            yield start, end


def _along(value: Array | float, sigma: Array | float, noise: Array) -> Array:
    """Draw values with an error of their own each."""
    return np.asarray(value + np.nan_to_num(sigma) * noise)


def _added(several: Together, index: int) -> Array:
    """Draw a sum or mean of values, each from its own error, (D,)."""
    generator = np.random.Generator(np.random.PCG64([SEED, index]))
    total = np.zeros(DRAWS)
    for value, sigma, apart in several.each:
        noise = generator.standard_normal((DRAWS, 3)).T
        if isinstance(apart, Apart):
            total += _between(apart, value, value, noise)
        else:
            total += np.abs(_along(value, sigma, noise[0]))
    return several.share * total


def _between(apart: Apart, measured: float, value: float, noise: Array) -> Array:
    """Draw the distance of two points, (D,); penalties and rounding stay on top of it."""
    vector = np.asarray(apart.vector_m)
    size = np.linalg.norm(vector)
    if size > 0:  # the event's surface and the plane differ in scale
        vector = vector * (measured / size)
    roots, axes = np.linalg.eigh(np.asarray(apart.covariance_m2))
    errors = axes @ (np.sqrt(np.maximum(roots, 0.0))[:, None] * noise[: len(vector)])
    errors += vector[:, None]
    return np.asarray(np.linalg.norm(errors, axis=0) + (value - measured))


def _swaps(
    drawn: Array, order: NDArray[np.int64]
) -> tuple[tuple[int, int, float], ...]:
    better, worse = order[:-1], order[1:]
    ordered = drawn[order]
    chance = (ordered[:-1] > ordered[1:]).mean(axis=1)
    return tuple(
        (int(a), int(b), float(p))
        for a, b, p in zip(better, worse, chance, strict=True)
        if p >= WORTH_MEASURING
    )
