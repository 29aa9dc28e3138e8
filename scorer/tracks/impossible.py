"""Heights that cannot be true, by the log itself: under the ground, or never above it."""

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import median_filter

from scorer.tracks.flown import Array, Disputed

UNDER_M, UNDER_SIGMAS = 3.0, 3.0
"""Heights of the basket under the ground by more than both are impossible ..."""
UNDER_S = 10.0
"""... in the median over this long ..."""
MOST_FIXES = 300
"""... and over no more fixes, of logs with hundreds a second."""
NEVER_UP_M = 8.0
"""A log that stays lower, or within `UNDER_SIGMAS` of the ground, shows no flight: it was
left in a car."""
UP_SHARE = 0.95
ONE_SPELL_S = 120.0
"""Contradictions nearer than this in time are one."""


def impossible(
    log: str, time_s: Array, basket_m: Array, sigma_m: Array
) -> tuple[Disputed, ...]:
    """Return when a log's heights, (N,) and NaN where unknown, cannot be true."""
    known = np.isfinite(basket_m)
    if np.count_nonzero(known) < 2:
        return ()
    time, height, sigma = time_s[known], basket_m[known], sigma_m[known]
    up = height - np.maximum(NEVER_UP_M, UNDER_SIGMAS * sigma)
    if np.quantile(up, UP_SHARE) < 0.0:
        return (Disputed(log, float(time[0]), float(time[-1]), 0.0),)
    fixes = int(np.clip(UNDER_S / np.median(np.diff(time)), 1, MOST_FIXES))
    calm = median_filter(height, fixes, mode="nearest")
    under = calm < -np.maximum(UNDER_M, UNDER_SIGMAS * sigma)
    return spells(log, time, calm, under)


def spells(
    log: str, time_s: Array, off_m: Array, where: NDArray[np.bool_]
) -> tuple[Disputed, ...]:
    """Join what is marked in `where`, (N,), to spells; `off_m` says by how much."""
    at = np.flatnonzero(where)
    ends = np.flatnonzero(np.diff(time_s[at]) > ONE_SPELL_S) + 1
    return tuple(
        Disputed(
            log,
            float(time_s[part[0]]),
            float(time_s[part[-1]]),
            float(np.abs(off_m[part]).max()),
        )
        for part in np.split(at, ends)
        if part.size
    )
