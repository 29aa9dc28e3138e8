"""The banded smoother against textbook ones."""

import numpy as np
import pytest
from scipy.interpolate import make_smoothing_spline

from scorer.tracks.smooth import climb_rate, push, smooth, smooth_heights


def kalman_rts(time, readings, r, q):
    """Filter and smooth a body of height and slope, step by step.

    Kalman filter and Rauch-Tung-Striebel smoother as in S. Sarkka, Bayesian Filtering
    and Smoothing (2013), theorems 4.2 and 8.2; the slope jumps at each fix by noise of
    variance q times the mean of the two intervals beside it.
    """
    n = len(time)
    steps = np.diff(time)
    mean, cov = np.array([readings[0], 0.0]), np.diag([1e8, 1e8])
    means, covs, ahead = [], [], []
    look = np.array([1.0, 0.0])
    for k in range(n):
        if k > 0:
            move = np.array([[1.0, steps[k - 1]], [0.0, 1.0]])
            jump = q * 0.5 * (steps[k - 1] + steps[k]) if k < n - 1 else 0.0
            mean, cov = move @ mean, move @ cov @ move.T + np.diag([0.0, jump])
            ahead.append((move, mean, cov))
        gain = cov @ look / (look @ cov @ look + r)
        mean = mean + gain * (readings[k] - look @ mean)
        cov = cov - np.outer(gain, look @ cov)
        means.append(mean)
        covs.append(cov)
    for k in range(n - 2, -1, -1):
        move, mean, cov = ahead[k]
        gain = covs[k] @ move.T @ np.linalg.inv(cov)
        means[k] = means[k] + gain @ (means[k + 1] - mean)
        covs[k] = covs[k] + gain @ (covs[k + 1] - cov) @ gain.T
    return np.array(means)[:, 0]


def wavy(n, seed):
    rng = np.random.default_rng(seed)
    time = np.cumsum(rng.uniform(0.5, 6.0, n))
    height = 50.0 + 30.0 * np.sin(time / 25.0)
    return time, height, height + 0.5 * rng.standard_normal(n)


@pytest.mark.parametrize("q", [0.002, 0.1])
def test_it_is_the_textbook_kalman_and_rts_smoother(q):
    time, _, readings = wavy(120, 1)

    got = smooth(time, readings, 0.5, q)

    np.testing.assert_allclose(got, kalman_rts(time, readings, 0.25, q), atol=1e-4)


def test_it_is_close_to_the_cubic_smoothing_spline_of_scipy():
    """scipy.interpolate.make_smoothing_spline: lam is r / q at unit intervals."""
    time = np.arange(200.0)
    readings = 40.0 * np.sin(time / 30.0) + np.random.default_rng(2).normal(size=200)

    got = smooth(time, readings, 1.0, push(1.0, 1.0, 5.0))

    spline = make_smoothing_spline(time, readings, lam=5.0**4)(time)
    assert np.abs(got - spline)[10:-10].max() < 0.01


def test_a_straight_climb_passes_unchanged():
    time = np.array([0.0, 1.0, 2.0, 5.0, 9.0, 10.0])

    got = smooth_heights(time, 600.0 + 3.0 * time, 0.4)

    np.testing.assert_allclose(got, 600.0 + 3.0 * time, atol=1e-9)
    np.testing.assert_allclose(climb_rate(time, 600.0 + 3.0 * time, 0.4), 3.0)


def test_a_hard_touch_keeps_its_edge_while_level_flight_is_averaged():
    time = np.arange(200.0)
    height = np.maximum(np.abs(time - 100.0) * 1.0, 0.0).clip(0.0, 40.0)
    noise = 0.3 * np.random.default_rng(3).standard_normal(200)

    got = smooth_heights(time, height + noise, 0.4)

    level = (time < 50) | (time > 150)
    assert got[95:106].min() < 0.7
    assert (got - height)[level].std() < 0.6 * noise[level].std()


@pytest.mark.parametrize("n", [1, 2])
def test_one_or_two_fixes_are_left_alone(n):
    np.testing.assert_array_equal(
        smooth_heights(np.arange(n) * 1.0, np.ones(n), 0.4), np.ones(n)
    )
