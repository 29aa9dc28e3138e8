"""How noisy the sensors of one log are, judged from the log itself.

What makers state is taken as if seen on a few earlier occasions, and joined with what
this log shows: a log that tells little keeps the stated value.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from scorer.tracks.flown import Array
from scorer.tracks.plain import mean
from scorer.tracks.stands import Stretch
from scorer.tracks.systems import solve_lower

PRIOR_WEIGHT = 4.0
"""Stated values count as much as so many independent observations."""
TAUS_S = np.array([40.0, 70.0, 120.0, 200.0, 350.0])
"""Memories of GNSS noise that are tried: multipath turns with the satellites, the
atmosphere's share over minutes."""
MOST_POINTS = 100
LEAST_CLIMB_M_K = 0.1
"""Metres per kelvin: below a climb of 30 m the temperature shows nothing."""


@dataclass(frozen=True, slots=True)
class GnssNoise:
    """Wandering of a receiver's altitude."""

    PRIOR_SIGMA_M: ClassVar[float] = 3.0
    """Vertical, open sky, single frequency: about 1.5 times the horizontal error."""
    PRIOR_TAU_S: ClassVar[float] = 130.0
    PRIOR_WHITE_M: ClassVar[float] = 0.6
    """Short noise with the whole metres of the log."""

    sigma_m: float
    tau_s: float


def mean_share(width_s: float, tau_s: float) -> float:
    """Return the variance of a mean over an interval, as a share of the noise's own.

    For noise with covariance exp(-|s - t| / tau); the double integral by hand.
    """
    ratio = width_s / tau_s
    if ratio < 1e-6:
        return 1.0
    return float(2.0 / ratio * (1.0 + np.expm1(-ratio) / ratio))


def short_noise(
    time_s: Array,
    altitude_m: Array,
    stretches: Sequence[Stretch],
    stated_m: float,
    tau_s: float,
) -> float:
    """Return one sigma of a sensor's short noise, from how it trembles on the ground.

    A straight line is taken out of each stretch; whole metres hide noise much smaller
    than their rounding, so half of the stated value is the least.
    """
    weight, total = 2.0 * PRIOR_WEIGHT, 2.0 * PRIOR_WEIGHT * stated_m**2
    for run in stretches:
        rest, lasts = _off_line(time_s[run.fixes], altitude_m[run.fixes])
        independent = max(lasts / (2.0 * tau_s) - 2.0, 0.0)
        weight += independent
        total += independent * float(mean(rest**2))
    return float(max(np.sqrt(total / weight), 0.5 * stated_m))


def gnss_alone(
    time_s: Array, altitude_m: Array, stretches: Sequence[Stretch]
) -> GnssNoise:
    """Return the noise of GNSS altitudes from how they wander on the ground."""
    tau = GnssNoise.PRIOR_TAU_S
    weight, total = PRIOR_WEIGHT, PRIOR_WEIGHT * GnssNoise.PRIOR_SIGMA_M**2
    for run in stretches:
        time, altitude = time_s[run.fixes], altitude_m[run.fixes]
        lasts = float(time[-1] - time[0])
        seen = 1.0 - mean_share(lasts, tau)
        independent = lasts / (2.0 * tau) * seen
        weight += independent
        total += independent * float(np.var(altitude)) / max(seen, 0.05)
    return GnssNoise(sigma_m=float(np.sqrt(total / weight)), tau_s=tau)


def gnss_against_baro(
    time_s: Array, difference_m: Array, warm: Array, inversion: Array
) -> GnssNoise:
    """Return the noise of GNSS from its difference to the barometer over the flight.

    Offset, drift and temperature are regressed out; for each memory tried, the variance
    follows from restricted maximum likelihood (Patterson and Thompson, Biometrika 58
    (1971) 545), and the memories are weighed by it.
    """
    step = max(1, -(-len(time_s) // MOST_POINTS))
    time, value = time_s[::step], difference_m[::step]
    columns = [np.ones_like(time), time / 3600.0]
    if time.size and np.ptp(warm) > LEAST_CLIMB_M_K:
        columns += [warm[::step] / 15.0, inversion[::step] * 10.0]
    if len(time) < len(columns) + 3:
        return GnssNoise(GnssNoise.PRIOR_SIGMA_M, GnssNoise.PRIOR_TAU_S)
    data = np.stack([*columns, value], axis=1)
    scores, variances = _restricted(time, data)
    chance = np.exp(scores - scores.max())
    chance /= chance.sum()
    tau_s = float(np.exp(chance @ np.log(TAUS_S)))
    return GnssNoise(float(np.sqrt(chance @ variances)), tau_s)


def _restricted(time: Array, data: Array) -> tuple[Array, Array]:
    """Return the restricted log-likelihood of each memory with its priors, (T,).

    And the variance that goes with it, (T,).
    """
    n, p = len(time), data.shape[1] - 1
    shape = np.exp(np.abs(time[:, None] - time) / -TAUS_S[:, None, None])
    shape += 0.02 * np.eye(n)
    lower = np.linalg.cholesky(shape)
    white = np.stack([solve_lower(one, data) for one in lower])
    # the last column of the triangle holds what the regressors leave unexplained
    triangle = np.diagonal(np.linalg.qr(white, mode="r"), axis1=1, axis2=2)
    weight = n - p + PRIOR_WEIGHT
    square = triangle[:, p] ** 2 + PRIOR_WEIGHT * GnssNoise.PRIOR_SIGMA_M**2
    variance = square / weight
    score = -0.5 * weight * np.log(variance)
    score -= np.log(np.diagonal(lower, axis1=1, axis2=2)).sum(axis=1)
    score -= np.log(np.abs(triangle[:, :p])).sum(axis=1)
    score -= 0.5 * (np.log(TAUS_S / GnssNoise.PRIOR_TAU_S) / 0.7) ** 2
    return score, variance


def _off_line(time: Array, values: Array) -> tuple[Array, float]:
    """Return the values less their straight line, and how long they last."""
    since = time - mean(time)
    level = values - mean(values)
    square = float(since @ since)
    slope = float(since @ level) / square if square > 0.0 else 0.0
    return level - slope * since, float(time[-1] - time[0])
