"""Stretches during which a track lies on the wrong side of something, and how far.

`depth` is how far beyond a fix lies, metres, negative on the right side; `margin` is how
many standard deviations beyond.  As with heights, errors of a fix change slowly, so the
probability of a stretch is that of its surest fix (see `episode_chance.py`).
"""

from typing import NamedTuple

import numpy as np
import scipy
from numpy.typing import NDArray

from scorer.checks.base import POSSIBLE_FROM
from scorer.checks.runs import merge, runs_of, span_s

Array = NDArray[np.float64]

PAUSE_S = 30.0
"""Two stretches with less between them are one (our choice)."""


class Excursion(NamedTuple):
    """One stretch beyond."""

    deepest: int
    """Index of the fix farthest beyond."""
    depth_m: float
    """There; negative when only its uncertainty reaches beyond."""
    start_s: float
    end_s: float
    """From when to when the estimate is beyond; where never, from when its uncertainty."""
    probability: float


def excursions(
    time_s: Array, depth_m: Array, margin: Array, *, pause_s: float = PAUSE_S
) -> list[Excursion]:
    """Return the stretches that lie, or may lie, beyond; all arrays are (N,).

    NaN is on the right side.
    """
    near = margin > scipy.special.ndtri(POSSIBLE_FROM)  # the rest is surely right
    runs = merge(runs_of(near), time_s, pause_s)
    found = []
    for first, last in zip(runs.first.tolist(), runs.last.tolist(), strict=True):
        part = slice(first, last + 1)
        deepest = first + int(np.nanargmax(depth_m[part]))
        beyond = runs_of(depth_m[part] > 0.0)
        span = float(time_s[first]), float(time_s[last])
        if len(beyond.first):
            ends = first + int(beyond.first[0]), first + int(beyond.last[-1])
            span = span_s(time_s, -depth_m, 0.0, ends)
        found.append(
            Excursion(
                deepest=deepest,
                depth_m=float(depth_m[deepest]),
                start_s=span[0],
                end_s=span[1],
                probability=float(scipy.special.ndtr(np.nanmax(margin[part]))),
            )
        )
    return found
