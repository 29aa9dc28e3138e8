"""What numpy does for arrays of any kind, for the plain ones of a log, to the bit alike.

Each log asks for these by the dozen; what numpy does with their arguments takes several
times as long as some hundred fixes.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from scorer.geodesy.arrays import Array


def median(values: Array) -> np.float64:
    """Return the middle of (N,) numbers; NaN where one of them is, or there is none."""
    count = len(values)
    if not count:
        return np.float64(np.nan)
    half = count // 2
    part = np.partition(values, (half - 1, half, -1))
    if np.isnan(part[-1]):  # it stands last
        return np.float64(np.nan)
    return np.float64(part[half] if count % 2 else (part[half - 1] + part[half]) / 2.0)


def quantile(values: Array, share: float) -> np.float64:
    """Return what so large a share of (N,) numbers lies under; NaN where one of them is.

    On the straight line between the two next to it; there is at least one.
    """
    place = (len(values) - 1) * share
    under = int(place)
    over = min(under + 1, len(values) - 1)
    part = np.partition(values, (under, over, -1))
    if np.isnan(part[-1]):
        return np.float64(np.nan)
    low, high, way = part[under], part[over], place - under
    step = high - low
    return np.float64(low + step * way if way < 0.5 else high - step * (1.0 - way))


def diffs(values: Array) -> Array:
    """Return by how much each of (N, ...) is more than the one before, (N - 1, ...)."""
    return np.asarray(values[1:] - values[:-1])


def mean(values: Array) -> np.float64:
    """Return the mean of (N,) numbers; there is at least one."""
    return np.float64(np.add.reduce(values) / len(values))


def marked(mask: NDArray[Any]) -> NDArray[np.int64]:
    """Return where (N,) truths or counts are not 0."""
    return mask.nonzero()[0]


def usual_step(time_s: Array) -> float:
    """Return the middle one of the steps between (N,) times; NaN of fewer than two."""
    return float(median(diffs(time_s)))
