"""How sure each place is, and which markers are worth measuring again."""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scorer.geodesy.arrays import Array
from scorer.tasks.base import Apart, Together

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
    generator = np.random.Generator(np.random.PCG64(SEED))
    drawn = generator.standard_normal((DRAWS, count))
    further = generator.standard_normal((DRAWS, count, 2))
    for index in range(count):
        noise = np.column_stack((drawn[:, index], further[:, index]))
        points, measured = (apart or {}).get(index, (None, values[index]))
        if isinstance(points, Together):
            lengths = _added(points, index) + (values[index] - measured)
        elif points is not None:
            lengths = _between(points, measured, values[index], noise)
        else:
            lengths = _along(values[index], sigmas[index], noise)
        drawn[:, index] = np.abs(lengths)
    drawn *= -1 if greatest else 1
    ranks = np.empty(drawn.shape, dtype=np.int64)
    places = drawn.argsort(axis=1, kind="stable")
    np.put_along_axis(ranks, places, np.arange(1, count + 1)[None, :], axis=1)
    tail = (1 - LEVEL) / 2
    low, high = np.quantile(ranks, [tail, 1 - tail], axis=0, method="nearest")
    order = np.argsort(values * (-1 if greatest else 1), kind="stable")
    return Sureness(low.astype(np.int64), high.astype(np.int64), _swaps(drawn, order))


def _along(value: float, sigma: float, noise: Array) -> Array:
    """Draw a value with an error of its own, (D,)."""
    return np.asarray(value + np.nan_to_num(sigma) * noise[:, 0])


def _added(several: Together, index: int) -> Array:
    """Draw a sum or mean of values, each from its own error, (D,)."""
    generator = np.random.Generator(np.random.PCG64([SEED, index]))
    total = np.zeros(DRAWS)
    for value, sigma, apart in several.each:
        noise = generator.standard_normal((DRAWS, 3))
        if isinstance(apart, Apart):
            total += _between(apart, value, value, noise)
        else:
            total += np.abs(_along(value, sigma, noise))
    return several.share * total


def _between(apart: Apart, measured: float, value: float, noise: Array) -> Array:
    """Draw the distance of two points, (D,); penalties and rounding stay on top of it."""
    vector = np.asarray(apart.vector_m)
    size = np.linalg.norm(vector)
    if size > 0:  # the event's surface and the plane differ in scale
        vector = vector * (measured / size)
    roots, axes = np.linalg.eigh(np.asarray(apart.covariance_m2))
    errors = noise[:, : len(vector)] * np.sqrt(np.maximum(roots, 0.0)) @ axes.T
    return np.asarray(np.linalg.norm(vector + errors, axis=1) + (value - measured))


def _swaps(
    drawn: Array, order: NDArray[np.int64]
) -> tuple[tuple[int, int, float], ...]:
    better, worse = order[:-1], order[1:]
    chance = (drawn[:, better] > drawn[:, worse]).mean(axis=0)
    return tuple(
        (int(a), int(b), float(p))
        for a, b, p in zip(better, worse, chance, strict=True)
        if p >= WORTH_MEASURING
    )
