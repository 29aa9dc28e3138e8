"""The offset's regression on means against one on every fix, done plainly."""

import numpy as np
import pytest

from scorer.tracks.offset import (
    Knots,
    Observations,
    SensorModel,
    estimate_offset,
    misfit,
)

MODEL = SensorModel(
    offset_m=-5.0,
    offset_sigma_m=80.0,
    drift_m_h=3.0,
    wander_m=0.5,
    wander_tau_s=3600.0,
    warm_k=(4.0, 0.0),
    warm_cov_k2=((144.0, -2.0), (-2.0, 9.0)),
    stand_m=0.15,
    fast_m=0.3,
    terrain_length_m=300.0,
    gnss_offset_sigma_m=40.0,
    gnss_sigma_m=3.0,
    gnss_tau_s=150.0,
    gnss_white_m=0.3,
)


def plainly(seen, knots, model):
    """Joint covariance of unknowns and data written out in loops, then one solve."""
    terrain = model.terrain_length_m

    def slow(s, t):
        drift = (model.drift_m_h / 3600.0) ** 2 * s * t
        wander = model.wander_m**2 * np.exp(-abs(s - t) / model.wander_tau_s)
        return model.offset_sigma_m**2 + drift + wander

    def ground(one, i, other, j):
        apart = np.hypot(
            one.east_m[i] - other.east_m[j], one.north_m[i] - other.north_m[j]
        )
        size = one.terrain_sigma_m[i] * other.terrain_sigma_m[j]
        return size * np.exp(-apart / terrain)

    m, k = len(seen.time_s), len(knots.time_s)
    spread = np.array(model.warm_cov_k2)
    parts = np.stack([seen.warm, seen.inversion], axis=1)
    data, cross = np.zeros((m, m)), np.zeros((k + 2, m))
    for j in range(m):
        stands = seen.stretch[j] >= 0
        for i in range(m):
            both = stands and seen.stretch[i] >= 0
            neither = not stands and seen.stretch[i] < 0
            data[i, j] = slow(seen.time_s[i], seen.time_s[j])
            data[i, j] += parts[i] @ spread @ parts[j]
            if both:
                data[i, j] += ground(seen, i, seen, j)
                data[i, j] += model.stand_m**2 * (seen.stretch[i] == seen.stretch[j])
            if neither:
                apart = abs(seen.time_s[i] - seen.time_s[j])
                data[i, j] += model.gnss_offset_sigma_m**2
                half = 0.5 * seen.width_s / model.gnss_tau_s
                share = (np.sinh(half) / half) ** 2 * np.exp(-apart / model.gnss_tau_s)
                if i == j:
                    share = (1.0 - (1.0 - np.exp(-2.0 * half)) / (2.0 * half)) / half
                data[i, j] += model.gnss_sigma_m**2 * share
            if i == j:
                data[i, j] += (model.fast_m if both else model.gnss_white_m) ** 2
        for i in range(k):
            cross[i, j] = slow(knots.time_s[i], seen.time_s[j])
            if stands:
                cross[i, j] += ground(knots, i, seen, j)
        cross[k:, j] = spread @ parts[j]
    prior = np.zeros((k + 2, k + 2))
    prior[k:, k:] = spread
    for i in range(k):
        prior[i, i] = slow(knots.time_s[i], knots.time_s[i])
        prior[i, i] += knots.terrain_sigma_m[i] ** 2
    mean = np.r_[np.full(k, model.offset_m), model.warm_k]
    rest = seen.value_m - model.offset_m - parts @ np.array(model.warm_k)
    weight = np.linalg.solve(data, cross.T).T
    return mean + weight @ rest, prior - weight @ cross.T, data, rest


def scene(stand=8, flight=40, width=45.0):
    rng = np.random.default_rng(5)
    g = 2 * stand
    time = np.r_[np.arange(stand), 60.0 + np.arange(stand), np.arange(flight) * 1.5]
    time = (time + 0.5) * width
    east = np.r_[np.zeros(stand), np.full(stand, 4000.0), np.linspace(0, 4000, flight)]
    up = np.r_[np.zeros(stand), np.full(stand, 20.0), rng.uniform(0.0, 400.0, flight)]
    seen = Observations(
        value_m=20.0 + up / 30.0 + rng.normal(0.0, 1.5, g + flight),
        time_s=time,
        east_m=east,
        north_m=0.3 * east,
        terrain_sigma_m=np.full(g + flight, 0.7),
        warm=up / 280.0,
        inversion=np.minimum(up, 150.0) / 280.0,
        stretch=np.r_[np.zeros(stand), np.ones(stand), np.full(flight, -1.0)],
        width_s=width,
    )
    k = 30
    knots = Knots(
        time_s=np.linspace(0.0, 3000.0, k),
        east_m=np.linspace(0.0, 4000.0, k),
        north_m=np.linspace(0.0, 1200.0, k),
        terrain_sigma_m=np.full(k, 0.7),
    )
    return seen, knots


def test_it_is_the_dense_regression_written_out():
    seen, knots = scene()

    got = estimate_offset(seen, knots, MODEL)

    mean, cov, data, rest = plainly(seen, knots, MODEL)
    k = len(knots.time_s)
    np.testing.assert_allclose(got.mean_m, mean[:k], atol=1e-6)
    np.testing.assert_allclose(got.variance_m2, np.diag(cov)[:k], atol=1e-6)
    np.testing.assert_allclose(got.warm_k, mean[k:], atol=1e-6)
    np.testing.assert_allclose(got.warm_cov_k2, cov[k:, k:], atol=1e-6)
    np.testing.assert_allclose(got.shared, cov[k:, :k], atol=1e-6)
    inverse = np.linalg.inv(data)
    alone = inverse @ rest / np.sqrt(np.diag(inverse))
    np.testing.assert_allclose(misfit(seen, MODEL), alone, atol=1e-5)


def test_at_joins_the_temperature_part_with_its_covariance():
    seen, knots = scene()
    offset = estimate_offset(seen, knots, MODEL)
    warm, inversion = np.array([1.3]), np.array([0.4])

    mean, variance = offset.at(knots.time_s[7:8], warm, inversion)

    _, cov, _, _ = plainly(seen, knots, MODEL)
    k = len(knots.time_s)
    way = np.zeros(k + 2)
    way[[7, k, k + 1]] = 1.0, 1.3, 0.4
    assert variance[0] == pytest.approx(way @ cov @ way, abs=1e-6)
    assert mean[0] == pytest.approx(
        offset.mean_m[7] + offset.warm_k @ np.array([1.3, 0.4])
    )


def test_nothing_seen_leaves_the_prior():
    seen, knots = scene(stand=0, flight=0)

    got = estimate_offset(seen, knots, MODEL)

    np.testing.assert_array_equal(got.mean_m, -5.0)
    assert got.variance_m2.min() >= 80.0**2
