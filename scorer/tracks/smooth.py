"""A fixed-interval smoother for heights: one banded system, no loop over fixes.

The model is the textbook one of a body pushed up and down by white noise: the second
difference of the heights is noise of variance q times the interval, each reading is the
height plus noise of variance r.  The smoothed heights then solve a five-banded system
(the same answer as a Kalman filter followed by a Rauch-Tung-Striebel smoother).

A balloon drifts level for minutes and then checks its descent within seconds.  So a first
pass finds how hard it is pushed at each moment, and the second pass takes that for q:
quiet parts are averaged over several seconds, a touch of the ground keeps its edge.
"""

import numpy as np
import scipy
from numpy.typing import NDArray

from scorer.tracks.flown import Array
from scorer.tracks.plain import diffs, quantile, usual_step
from scorer.tracks.systems import solve_banded

FIRST_PASS_S = 4.0
"""Averaging time of the first pass."""
QUIET_S = 10.0
"""Averaging time where nothing pushes: the swing of a balloon takes a minute."""
PUSH_S = 5.0
"""How long one push lasts: a burn takes a few seconds."""
CLIMB_S = 3.0
"""Averaging time for the vertical speed."""


def smooth_heights(
    time_s: Array,
    readings_m: Array,
    noise_m: float,
    standing: NDArray[np.bool_] | None = None,
) -> Array:
    """Return the readings smoothed, less where the balloon was pushed harder.

    `time_s` (N,) strictly increasing, `readings_m` (N,) without NaN.  `standing` marks
    fixes on the ground: what seems to push there is noise, and so much is taken off
    everywhere.
    """
    if len(time_s) < 3:
        return readings_m.copy()
    step = usual_step(time_s)
    first = smooth(time_s, readings_m, noise_m, push(noise_m, step, FIRST_PASS_S))
    force = scipy.ndimage.maximum_filter1d(_bend(time_s, first) ** 2, 3, mode="nearest")
    if standing is not None and standing.any():
        noise = quantile(force[standing[1:-1]], 0.9) if standing[1:-1].any() else 0.0
        force = np.maximum(force - noise, 0.0)
    strength = push(noise_m, step, QUIET_S) + PUSH_S * force
    return smooth(time_s, readings_m, noise_m, strength)


def climb_rate(time_s: Array, readings_m: Array, noise_m: float) -> Array:
    """Return the vertical speed, m/s, up positive, averaged over a few seconds."""
    if len(time_s) < 3:
        return np.zeros_like(time_s)
    step = usual_step(time_s)
    even = smooth(time_s, readings_m, noise_m, push(noise_m, step, CLIMB_S))
    return np.gradient(even, time_s)


def push(noise_m: float, step_s: float, averaging_s: float) -> float:
    """Return the q that makes the smoother average over about so many seconds.

    The kernel of a cubic smoothing spline has the width (r dt / q)^(1/4).
    Source: B. W. Silverman, Annals of Statistics 12 (1984) 898.
    """
    return noise_m**2 * step_s / averaging_s**4


def smooth(
    time_s: Array, readings_m: Array, noise_m: float, strength: Array | float
) -> Array:
    """Solve for the heights, given q (m2/s3) as one number or one per inner fix.

    Minimises sum((x - z)^2 / r) + sum((change of slope)^2 / (q dt)).
    """
    n = len(time_s)
    if n < 3:
        return readings_m.copy()
    steps = diffs(time_s)
    left, right = 1.0 / steps[:-1], 1.0 / steps[1:]
    centre = -(left + right)
    mean_step = 0.5 * (steps[:-1] + steps[1:])
    weight = noise_m**2 / (strength * mean_step)
    bands = np.zeros((3, n))
    bands[2] = 1.0
    bands[2, :-2] += weight * left**2
    bands[2, 1:-1] += weight * centre**2
    bands[2, 2:] += weight * right**2
    bands[1, 1:-1] += weight * left * centre
    bands[1, 2:] += weight * centre * right
    bands[0, 2:] += weight * left * right
    base = float(readings_m[0])  # the solver keeps more digits near zero
    solved = solve_banded(bands, readings_m - base)
    return np.asarray(solved + base)


def _bend(time_s: Array, heights_m: Array) -> Array:
    """Return the vertical acceleration at the inner fixes, m/s2."""
    slopes = diffs(heights_m) / diffs(time_s)
    return np.asarray(diffs(slopes) / (0.5 * (time_s[2:] - time_s[:-2])))
