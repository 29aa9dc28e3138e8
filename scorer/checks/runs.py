"""Stretches of a track: from a condition at each fix to spans of time."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Index = NDArray[np.int64]


class Runs(NamedTuple):
    """Stretches of neighbouring fixes; both arrays are (K,)."""

    first: Index
    last: Index
    """The last fix that belongs to it."""


def runs_of(mask: Mask) -> Runs:
    """Return the unbroken stretches where a condition holds, in order."""
    edge = np.flatnonzero(mask[1:] != mask[:-1]) + 1
    if mask.size and mask[0]:
        edge = np.concatenate(([0], edge))
    if mask.size and mask[-1]:
        edge = np.concatenate((edge, [mask.size]))
    return Runs(edge[0::2], edge[1::2] - 1)


def merge(runs: Runs, time_s: Array, pause_s: float) -> Runs:
    """Join stretches that are parted by less than `pause_s` from fix to fix."""
    if len(runs.first) < 2:
        return runs
    apart = time_s[runs.first[1:]] - time_s[runs.last[:-1]] >= pause_s
    return Runs(
        runs.first[np.concatenate(([True], apart))],
        runs.last[np.concatenate((apart, [True]))],
    )


def crossing_s(time_s: Array, value: Array, i: int, j: int, level: float) -> float:
    """Return when `value` passes `level` between two fixes, linear between them.

    Where one of the two is not recorded or they do not part at the level, the time of
    fix `i`.
    """
    rise = value[j] - value[i]
    if not np.isfinite(rise) or rise == 0.0:
        return float(time_s[i])
    share = min(max((level - value[i]) / rise, 0.0), 1.0)
    return float(time_s[i] + share * (time_s[j] - time_s[i]))


def span_s(
    time_s: Array, value: Array, level: float, run: tuple[int, int]
) -> tuple[float, float]:
    """Return from when to when `value` is under `level` around a run of such fixes."""
    first, last = run
    start, end = float(time_s[first]), float(time_s[last])
    if first > 0:
        start = crossing_s(time_s, value, first, first - 1, level)
    if last < len(time_s) - 1:
        end = crossing_s(time_s, value, last, last + 1, level)
    return start, end
