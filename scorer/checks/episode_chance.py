"""How surely a height stayed under a limit for long enough: the probability of an episode.

The height of a track is `h(t) + s(t) z(t)`, with `h` the smoothed estimate, `s` its
standard deviation and `z` standard normal.  What is left in `z` after smoothing is the
offset of the sensors: it changes over many minutes, an episode lasts seconds to a few
minutes.  So within an episode `z` is taken as one number.  Then

    "under the limit L for at least T seconds on end"
    ⇔  there is a window of T seconds with h(t) + s(t) z < L throughout
    ⇔  z < max over windows of min over the window of m(t),   m(t) = (L − h(t)) / s(t)

and its probability is Φ(max-min m): that of the *decisive depth*, the greatest depth (in
standard deviations) that was kept up for T.  With T = 0 it is the deepest point.  Taking
`z` as many independent numbers would call almost every long flight near the limit a
breach; taking it as one can only under-rate an episode that is longer than the errors'
memory.  `tests/scorer/checks/test_check_reliability.py` holds the result against truth.
"""

from typing import NamedTuple

import numpy as np
import scipy
from numpy.typing import NDArray

Array = NDArray[np.float64]

WINDOW_STEPS = 12
"""Grid steps in the shortest time that counts."""
LEAST_STEP_S = 0.25


class HeldDepth(NamedTuple):
    """The decisive depth of an episode."""

    margin: float
    """Depth in standard deviations that was kept up long enough; negative = above."""
    at_s: float
    """Where that window begins, POSIX seconds."""

    @property
    def probability(self) -> float:
        """That the limit was really broken for long enough."""
        return float(scipy.special.ndtr(self.margin))


def held_under(
    time_s: Array, height_m: Array, sigma_m: Array, limit_m: float, least_s: float
) -> HeldDepth:
    """Return the decisive depth of a stretch of track under a limit.

    Parameters
    ----------
    time_s, height_m, sigma_m : ndarray, shape (N,)
        The stretch, N >= 1, no NaN, sigma positive; linear between fixes.
    limit_m : float
    least_s : float
        Shortest time under the limit that counts; a stretch that is shorter altogether
        cannot break it and gets the margin -inf.
    """
    margin = (limit_m - height_m) / sigma_m
    if least_s <= 0.0:
        deepest = int(margin.argmax())
        return HeldDepth(float(margin[deepest]), float(time_s[deepest]))
    if time_s[-1] - time_s[0] < least_s:
        return HeldDepth(-np.inf, float(time_s[0]))
    step = max(least_s / WINDOW_STEPS, LEAST_STEP_S)
    step = least_s / max(int(least_s / step), 1)
    grid = np.arange(time_s[0], time_s[-1] + 1e-6, step)
    return _windowed(grid, np.interp(grid, time_s, margin), round(least_s / step))


def _windowed(grid: Array, margin: Array, steps: int) -> HeldDepth:
    """Return the greatest of the least margins in windows of `steps` grid steps."""
    size = steps + 1
    low = scipy.ndimage.minimum_filter1d(
        margin, size, origin=-(size // 2), mode="nearest"
    )
    low = low[: max(len(margin) - steps, 1)]
    best = int(low.argmax())
    return HeldDepth(float(low[best]), float(grid[best]))
