"""The air of a flight, from all its logs at once.

All balloons of a flight fly in the same air over the same ground: temperature of the
column, a ground inversion, the trend of pressure, and how far the terrain grid can be
trusted.  Each log tells of them what its stands and its satellite heights say, as the
normal equations of its own regression (`View`), with all that is its own (offset, creep,
lag, noise) integrated out.  They add up; a log that contradicts the others loses weight
by Student's law (four degrees of freedom).  Each log is then read with what the *others*
tell, so that nothing is counted twice, and a log alone is read with what weather allows.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from scorer.tracks.flown import Array
from scorer.tracks.offset import (
    Observations,
    SensorModel,
    ground_covariance,
    other_covariance,
)
from scorer.tracks.systems import cholesky, solve_lower

TREND_SIGMA_M_H = 5.0
"""One sigma of the pressure's trend: 0.6 hPa in an hour.  Twice that is a rapid fall."""
LAG_S, LAG_SIGMA_S = 0.4, 1.2
"""A vented case and the sensor's own filter: tenths of a second to some seconds."""
DIFFERS = np.array([0.6, 1.0, 0.4])
"""By how much the air differs from log to log: kelvin, kelvin of inversion, m/h."""
SCALES = np.array([0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0, 2.8, 4.0, 5.6, 8.0, 16.0, 32.0])
"""Factors tried on the stated error of the terrain."""
SCALE_LOG_SIGMA = 0.7
"""What is said of terrain is good to a factor of two."""
FREEDOM = 4.0
ASTRAY = 0.05
ROUNDS = 15
LEAST_LOGS = 3
GNSS_SIGMA_M = 1.5
"""What stays of a receiver's datum when that of its kind is known: antenna, slow errors."""
LEAST_SAME = 0.7
"""Share of the logs of one datum that must agree on it."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class View:
    """What one log tells of the air and the ground.  Picklable and small."""

    matrix: Array
    """(S, 4, 4) normal equations for each of `SCALES`: warmth, inversion, trend, lag."""
    vector: Array
    """(S, 4)."""
    square: Array
    """(S,) what is left of the data as such."""
    log_det: Array
    """(S,)."""
    mean: tuple[float, float]
    """Of warmth and inversion before anything is seen."""
    spread: tuple[tuple[float, float], tuple[float, float]]
    datum: str = ""
    gnss_m: float = float("nan")
    """Height to add to the receiver's altitudes, seen on the ground."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Air:
    """Air and ground as one log is read with them.  Picklable."""

    mean: Array
    """(3,) kelvin over standard, kelvin of inversion, metres an hour."""
    cov: Array
    """(3, 3)."""
    scale: float
    """Factor on the stated error of the terrain."""
    gnss: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    """By datum: what to add to a receiver's altitudes, and one sigma of it."""
    logs: int = 0
    """How many logs told of it."""


def view_of(
    seen: Observations,
    model: SensorModel,
    columns: Sequence[Array],
    *,
    datum: str = "",
    gnss_m: float = float("nan"),
) -> View:
    """Return what one log tells; `columns` are four of (M,), one for each unknown."""
    g = int(np.count_nonzero(seen.stretch >= 0))
    data = np.column_stack([*columns, seen.value_m - model.offset_m])
    whole = other_covariance(seen, model)
    terrain = ground_covariance(seen, model)
    lower = cholesky(whole[g:, g:])
    top = solve_lower(lower, np.concatenate([whole[g:, :g], data[g:]], axis=1))
    cross, white = top[:, :g], top[:, g:]
    rest = whole[:g, :g] - cross.T @ cross
    left = data[:g] - cross.T @ white
    base = white.T @ white
    log_det = 2.0 * np.log(np.diag(lower)).sum()
    found, dets = [], []
    for scale in SCALES:
        own = cholesky(rest + scale**2 * terrain)
        part = solve_lower(own, left)
        found.append(base + part.T @ part)
        dets.append(log_det + 2.0 * np.log(np.diag(own)).sum())
    sums = np.array(found)
    return View(
        matrix=sums[:, :4, :4],
        vector=sums[:, :4, 4],
        square=sums[:, 4, 4],
        log_det=np.array(dets),
        mean=model.warm_k,
        spread=model.warm_cov_k2,
        datum=datum,
        gnss_m=gnss_m,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Sums:
    """Normal equations of (warmth, inversion, trend) of L logs, lag integrated out."""

    matrix: Array
    """(L, 3, 3)."""
    vector: Array
    """(L, 3)."""
    square: Array
    """(L,)."""
    log_det: Array
    """(L,)."""


class PooledLogs:
    """All logs of a flight put together."""

    def __init__(self, views: Sequence[View]) -> None:
        self.views = tuple(view for view in views if _sound(view))
        self._gnss = _by_datum(self.views)
        told = [view for view in self.views if view.spread[0][0] > 0.0]
        mean = np.median([view.mean for view in told], axis=0) if told else np.zeros(2)
        cov = np.diag([1.0, 1.0, TREND_SIGMA_M_H**2])
        if told:
            cov[:2, :2] = told[0].spread
        self._prior = np.linalg.inv(cov)
        self._prior_vector = self._prior @ np.r_[mean, 0.0]
        self.scale = 1.0
        if not self.views:
            return
        tried = [self._at(s) for s in range(len(SCALES))]
        scores = _sober(np.array([score for _, _, score in tried]))
        off = np.log(SCALES) / SCALE_LOG_SIGMA
        scores -= 0.5 * (FREEDOM + 1.0) * np.log1p(off**2 / FREEDOM)
        chance = np.exp(scores - scores.max())
        chance /= chance.sum()
        self.scale = float(np.exp(chance @ np.log(SCALES)))
        self._sums, self.weights, _ = tried[_nearest(self.scale)]

    def air(self, own: View | None = None) -> Air:
        """Return the air that all logs tell but `own`; None = all."""
        matrix, vector = self._prior, self._prior_vector
        told = np.array([view is not own for view in self.views], dtype=bool)
        if told.any():
            weights = self.weights * told
            matrix = matrix + np.tensordot(weights, self._sums.matrix, 1)
            vector = vector + weights @ self._sums.vector
        cov = np.linalg.inv(matrix)
        differs = np.diag(DIFFERS**2) * bool(told.any() and own is not None)
        return Air(
            mean=cov @ vector,
            cov=cov + differs,
            scale=self.scale,
            gnss=self._gnss,
            logs=int(told.sum()),
        )

    def _at(self, scale: int) -> tuple[_Sums, Array, Array]:
        """Return sums, weights and log-likelihoods, (L,), for one scale of the terrain."""
        sums = _without_lag(self.views, scale)
        many = len(self.views) >= LEAST_LOGS
        if len(self.views) > 1:
            sums = _apart(sums)
        starts = np.linalg.solve(
            self._prior + sums.matrix, (self._prior_vector + sums.vector)[..., None]
        )
        theta = np.median(starts[..., 0], axis=0)
        inverse = np.linalg.pinv(sums.matrix, rcond=1e-9, hermitian=True)
        weights = np.ones(len(self.views))
        for _ in range(ROUNDS if many else 1):
            if many:
                off = sums.matrix @ theta - sums.vector
                astray = np.einsum("li,lij,lj->l", off, inverse, off)
                weights = np.minimum((FREEDOM + 3.0) / (FREEDOM + astray), 1.0)
            theta = np.linalg.solve(
                self._prior + np.tensordot(weights, sums.matrix, 1),
                self._prior_vector + weights @ sums.vector,
            )
        left = sums.log_det + sums.square - 2.0 * sums.vector @ theta
        left = left + np.einsum("i,lij,j->l", theta, sums.matrix, theta)
        return sums, weights, -0.5 * left


def _nearest(scale: float) -> int:
    """Return which of `SCALES` is nearest."""
    return int(np.argmin(np.abs(np.log(SCALES / scale))))


def _sound(view: View) -> bool:
    parts = (view.matrix, view.vector, view.square, view.log_det)
    return all(bool(np.isfinite(part).all()) for part in parts)


def _sober(likely: Array) -> Array:
    """Sum (S, logs) log-likelihoods over the logs; none of them alone decides.

    Each log is, with the probability `ASTRAY`, one that tells nothing of the terrain.
    """
    if likely.shape[1] < LEAST_LOGS:
        return np.asarray(likely.sum(axis=1))
    fair = np.exp(likely - likely.max(axis=0))
    return np.asarray(np.log((1.0 - ASTRAY) * fair + ASTRAY).sum(axis=1))


def own_lag(view: View, air: Air) -> tuple[float, float]:
    """Return a log's lag in seconds and one sigma, given the air of the others."""
    at = _nearest(air.scale)
    prior = np.zeros((4, 4))
    prior[:3, :3] = np.linalg.inv(air.cov)
    prior[3, 3] = 1.0 / LAG_SIGMA_S**2
    cov = np.linalg.inv(prior + view.matrix[at])
    mean = cov @ (prior @ np.append(air.mean, LAG_S) + view.vector[at])
    return float(mean[3]), float(np.sqrt(cov[3, 3]))


def _without_lag(views: Sequence[View], scale: int) -> _Sums:
    matrix = np.array([view.matrix[scale] for view in views])
    vector = np.array([view.vector[scale] for view in views])
    own = matrix[:, 3, 3] + 1.0 / LAG_SIGMA_S**2
    pull = vector[:, 3] + LAG_S / LAG_SIGMA_S**2
    cross = matrix[:, :3, 3]
    square = np.array([view.square[scale] for view in views])
    return _Sums(
        matrix=matrix[:, :3, :3]
        - cross[:, :, None] * cross[:, None] / own[:, None, None],
        vector=vector[:, :3] - cross * (pull / own)[:, None],
        square=square + LAG_S**2 / LAG_SIGMA_S**2 - pull**2 / own,
        log_det=np.array([view.log_det[scale] for view in views]) + np.log(own),
    )


def _apart(sums: _Sums) -> _Sums:
    """Let the air of a log differ from that of the flight by `DIFFERS`."""
    inner = np.linalg.inv(sums.matrix + np.diag(DIFFERS**-2.0))
    keep = np.eye(3) - sums.matrix @ inner
    grown = np.eye(3) + sums.matrix * DIFFERS**2
    pulled = np.einsum("li,lij,lj->l", sums.vector, inner, sums.vector)
    return _Sums(
        matrix=keep @ sums.matrix,
        vector=np.einsum("lij,lj->li", keep, sums.vector),
        square=sums.square - pulled,
        log_det=sums.log_det + np.linalg.slogdet(grown)[1],
    )


def _by_datum(views: Sequence[View]) -> dict[str, tuple[float, float]]:
    """Return what to add to satellite altitudes, where enough logs agree on it."""
    found = {}
    for datum in sorted({view.datum for view in views if view.datum}):
        some = np.array([v.gnss_m for v in views if v.datum == datum])
        some = some[np.isfinite(some)]
        if len(some) < LEAST_LOGS:
            continue
        middle = float(np.median(some))
        off = np.abs(some - middle)
        sigma = float(np.hypot(1.4826 * np.median(off), GNSS_SIGMA_M))
        if np.mean(off < 4.0 * sigma) < LEAST_SAME or sigma > 10.0:
            continue  # of two kinds that call themselves one
        found[datum] = (middle, sigma)
    return found
