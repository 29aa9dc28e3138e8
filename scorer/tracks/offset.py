"""What to add to a sensor's altitude: offsets, drift, temperature, with uncertainty.

The unknown is u(t), by which the reading x(t) of the main sensor has to be lifted for
x + u - terrain to be the height above the real ground.  It is a sum of

- a constant offset, a linear drift and a slow wandering,
- for a barometer the day's temperature: K warmer than standard times `warm`, and an
  inversion near the ground times `inversion`,
- the error of the terrain, which changes from place to place.

It is seen on the ground, where the height is known, and, where both sensors are there, by
the GNSS receiver, which adds a constant and noise with a memory of minutes.  All of it is
Gaussian, so the estimate is one regression on a few hundred means over short intervals:
posterior mean and covariance at once (Rasmussen and Williams, Gaussian Processes for
Machine Learning, 2006, equations 2.25, 2.26 and 2.41).
"""

from dataclasses import dataclass

import numpy as np

from scorer.tracks.flown import Array
from scorer.tracks.plain import diffs
from scorer.tracks.systems import cholesky, solve_lower

HOUR_S = 3600.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SensorModel:
    """Sizes of the errors, one sigma each."""

    offset_m: float
    offset_sigma_m: float
    """Of the main sensor's offset before any ground stretch is seen."""
    drift_m_h: float
    wander_m: float
    wander_tau_s: float
    warm_k: tuple[float, float]
    """Mean of temperature over standard, and of the inversion's strength."""
    warm_cov_k2: tuple[tuple[float, float], tuple[float, float]]
    stand_m: float
    """Of the logger's height above ground when the basket stands, anew each time."""
    fast_m: float
    """The main sensor's short noise, as left in a mean over one interval."""
    terrain_length_m: float
    """Over this distance errors of the terrain resemble each other."""
    gnss_offset_sigma_m: float = 0.0
    gnss_sigma_m: float = 0.0
    gnss_tau_s: float = 1.0
    gnss_white_m: float = 0.0
    """Short noise, as left in a mean over one interval."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Observations:
    """Observations of u, all (M,): first those on the ground, then those by GNSS."""

    value_m: Array
    time_s: Array
    east_m: Array
    north_m: Array
    terrain_sigma_m: Array
    warm: Array
    inversion: Array
    stretch: Array
    """Number of the ground stretch; -1 for observations by GNSS."""
    width_s: float
    """Length of the interval over which the means were taken."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Knots:
    """Times and places at which u is asked for, all (K,)."""

    time_s: Array
    east_m: Array
    north_m: Array
    terrain_sigma_m: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Offset:
    """u at the knots without the temperature part, and the temperature part."""

    time_s: Array
    mean_m: Array
    variance_m2: Array
    warm_k: Array
    """(2,) temperature over standard, inversion."""
    warm_cov_k2: Array
    """(2, 2)."""
    shared: Array
    """(2, K) covariance of temperature part and knots."""

    def at(self, time_s: Array, warm: Array, inversion: Array) -> tuple[Array, Array]:
        """Return mean and variance of u at times between the knots, (N,) each."""
        base, width = _places(self.time_s, time_s)
        mean = _between(self.mean_m, base, width)
        variance = _between(self.variance_m2, base, width)
        mean = mean + self.warm_k[0] * warm + self.warm_k[1] * inversion
        for part, row in ((warm, 0), (inversion, 1)):
            variance = variance + part**2 * self.warm_cov_k2[row, row]
            shared = _between(self.shared[row], base, width)
            variance = variance + 2.0 * part * shared
        variance = variance + 2.0 * warm * inversion * self.warm_cov_k2[0, 1]
        return mean, np.maximum(variance, 0.0)


def _places(knots_s: Array, time_s: Array) -> tuple[np.ndarray, Array]:
    """Return the knot before each time and the way to the next one, 0 to 1."""
    if len(knots_s) < 2:
        return np.zeros(len(time_s), dtype=np.intp), np.zeros(len(time_s))
    base = np.clip(np.searchsorted(knots_s, time_s) - 1, 0, len(knots_s) - 2)
    way = (time_s - knots_s[base]) / (knots_s[base + 1] - knots_s[base])
    return base, np.clip(way, 0.0, 1.0)


def _between(values: Array, base: np.ndarray, way: Array) -> Array:
    if len(values) < 2:
        return np.full(len(way), values[0])
    return np.asarray(values[base] + way * diffs(values)[base])


def estimate_offset(seen: Observations, knots: Knots, model: SensorModel) -> Offset:
    """Return u at the knots, given what was seen."""
    slow = _slow(model, knots.time_s[:, None], seen.time_s)
    g = int(np.count_nonzero(seen.stretch >= 0))
    slow[:, :g] += _near(knots, seen, g, model)
    spread, mean = np.asarray(model.warm_cov_k2), np.asarray(model.warm_k)
    cross = np.concatenate([slow, spread @ np.stack([seen.warm, seen.inversion])])
    rest, whole = _told(seen, model)
    k = len(knots.time_s)
    prior = _slow_variance(model, knots.time_s) + knots.terrain_sigma_m**2
    if len(seen.time_s) == 0:
        return Offset(
            time_s=knots.time_s,
            mean_m=np.full(k, model.offset_m),
            variance_m2=prior,
            warm_k=mean,
            warm_cov_k2=spread,
            shared=np.zeros((2, k)),
        )
    white = solve_lower(cholesky(whole), np.column_stack((cross.T, rest)))
    ways, told = white[:, :-1], white[:, -1]
    lift = ways.T @ told
    heat = ways[:, k:]
    return Offset(
        time_s=knots.time_s,
        mean_m=model.offset_m + lift[:k],
        variance_m2=prior - np.einsum("ij,ij->j", ways[:, :k], ways[:, :k]),
        warm_k=mean + lift[k:],
        warm_cov_k2=spread - heat.T @ heat,
        shared=-heat.T @ ways[:, :k],
    )


def misfit(seen: Observations, model: SensorModel) -> Array:
    """Return each observation's residual when left out, in sigmas, (M,).

    With C the covariance of the data: (C^-1 y)_i / sqrt((C^-1)_ii); Rasmussen and
    Williams, section 5.4.2.
    """
    rest, whole = _told(seen, model)
    inverse = solve_lower(cholesky(whole), np.eye(len(rest)))
    told = inverse @ rest
    return np.asarray(
        (inverse.T @ told) / np.sqrt(np.einsum("ij,ij->j", inverse, inverse))
    )


def _slow(model: SensorModel, one_s: Array, other_s: Array) -> Array:
    """Covariance of offset, drift and wandering between times; drift counts from 0."""
    wander = np.exp(-np.abs(one_s - other_s) / model.wander_tau_s)
    drift = (model.drift_m_h / HOUR_S) ** 2 * one_s * other_s
    return np.asarray(model.offset_sigma_m**2 + drift + model.wander_m**2 * wander)


def _slow_variance(model: SensorModel, time_s: Array) -> Array:
    drift = (model.drift_m_h / HOUR_S * time_s) ** 2
    return np.asarray(model.offset_sigma_m**2 + drift + model.wander_m**2)


def _near(
    one: Knots | Observations, other: Observations, count: int, model: SensorModel
) -> Array:
    """Covariance of the terrain's errors at places and at the first of the others."""
    apart = np.hypot(
        one.east_m[:, None] - other.east_m[:count],
        one.north_m[:, None] - other.north_m[:count],
    )
    size = one.terrain_sigma_m[:, None] * other.terrain_sigma_m[:count]
    return np.asarray(size * np.exp(-apart / model.terrain_length_m))


def _told(seen: Observations, model: SensorModel) -> tuple[Array, Array]:
    """Return what was seen less what was expected, (M,), and its covariance."""
    regress = np.stack([seen.warm, seen.inversion])
    rest = seen.value_m - model.offset_m - np.asarray(model.warm_k) @ regress
    whole = other_covariance(seen, model)
    g = int(np.count_nonzero(seen.stretch >= 0))
    whole[:g, :g] += ground_covariance(seen, model)
    return rest, np.asarray(whole + regress.T @ model.warm_cov_k2 @ regress)


def ground_covariance(seen: Observations, model: SensorModel) -> Array:
    """Covariance of the terrain's errors in what was seen on the ground, (G, G)."""
    g = int(np.count_nonzero(seen.stretch >= 0))
    return _near(seen, seen, g, model)[:g]


def other_covariance(seen: Observations, model: SensorModel) -> Array:
    """Covariance of all that was seen but for terrain and temperature."""
    whole = _slow(model, seen.time_s[:, None], seen.time_s)
    g = int(np.count_nonzero(seen.stretch >= 0))
    stand = seen.stretch[:g, None] == seen.stretch[:g]
    whole[:g, :g] += model.stand_m**2 * stand
    whole[g:, g:] += model.gnss_offset_sigma_m**2 + gnss_covariance(
        seen.time_s[g:], model.gnss_sigma_m, model.gnss_tau_s, seen.width_s
    )
    extra = np.full(len(seen.time_s), model.gnss_white_m**2)
    extra[:g] = model.fast_m**2
    whole.flat[:: len(whole) + 1] += extra  # along its diagonal
    return whole


def gnss_covariance(
    time_s: Array, sigma_m: float, tau_s: float, width_s: float
) -> Array:
    """Covariance of means over intervals of noise that forgets with `tau_s`.

    The double integral of sigma^2 exp(-|s - t| / tau) over two intervals, done by hand.
    """
    half = 0.5 * width_s / tau_s
    apart = np.abs(time_s[:, None] - time_s) / tau_s
    whole = sigma_m**2 * (np.sinh(half) / half) ** 2 * np.exp(-apart)
    own = (1.0 + np.expm1(-2.0 * half) / (2.0 * half)) / half
    np.fill_diagonal(whole, sigma_m**2 * own)
    return np.asarray(whole)
