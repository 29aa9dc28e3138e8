"""Noise of the sensors judged from the log, against integrals and known noise."""

import numpy as np
import pytest
from scipy.integrate import dblquad

from scorer.practice.sensors import wander
from scorer.tracks.noise import (
    GnssNoise,
    gnss_against_baro,
    gnss_alone,
    mean_share,
    short_noise,
)
from scorer.tracks.offset import gnss_covariance
from scorer.tracks.stands import Stretch


@pytest.mark.parametrize(("width", "tau"), [(45.0, 15.0), (30.0, 200.0)])
def test_variance_and_covariance_of_means_are_the_double_integrals(width, tau):
    """Against scipy.integrate.dblquad."""

    def shared(t, s):
        return np.exp(-abs(t - s) / tau)

    own = 2.0 * dblquad(shared, 0.0, width, 0.0, lambda s: s)[0] / width**2
    next_one = dblquad(shared, 0.0, width, width, 2.0 * width)[0] / width**2

    got = gnss_covariance(np.array([0.0, width]), 1.0, tau, width)

    assert mean_share(width, tau) == pytest.approx(own, rel=1e-6)
    assert got[0, 0] == pytest.approx(own, rel=1e-6)
    assert got[0, 1] == pytest.approx(next_one, rel=1e-6)


@pytest.mark.parametrize(("sigma", "tau"), [(1.5, 60.0), (3.0, 150.0), (6.0, 250.0)])
def test_gnss_noise_is_found_beside_offset_drift_and_temperature(sigma, tau):
    found = []
    for seed in range(25):
        rng = np.random.default_rng(seed)
        time = np.arange(0.0, 5400.0, 45.0)
        height = 300.0 * np.abs(np.sin(time / 900.0))
        warm, inversion = height / 280.0, np.minimum(height, 150.0) / 280.0
        value = 40.0 + time / 1800.0 + 12.0 * warm - 3.0 * inversion
        value = value + wander(time, sigma, tau, rng)
        found.append(gnss_against_baro(time, value, warm, inversion))

    assert np.mean([f.sigma_m for f in found]) == pytest.approx(sigma, rel=0.25)
    assert np.exp(np.mean([np.log(f.tau_s) for f in found])) == pytest.approx(
        tau, rel=0.7
    )


def test_too_little_to_see_keeps_the_stated_noise():
    time = np.arange(5.0)

    got = gnss_against_baro(time, time, time, time)

    assert got == GnssNoise(GnssNoise.PRIOR_SIGMA_M, GnssNoise.PRIOR_TAU_S)


def test_short_noise_follows_the_trembling_on_the_ground():
    rng = np.random.default_rng(1)
    time = np.arange(1200.0)
    run = [Stretch(0, 1199)]
    quiet = [short_noise(time, wander(time, 0.2, 15.0, rng), run, 0.4, 15.0)]
    loud = [short_noise(time, wander(time, 1.0, 15.0, rng), run, 0.4, 15.0)]

    assert 0.2 <= np.mean(quiet) < 0.32
    assert 0.75 < np.mean(loud) < 1.05
    assert short_noise(time, time, [], 0.4, 15.0) == pytest.approx(0.4)


def test_gnss_alone_is_judged_on_the_ground():
    time = np.arange(1500.0)
    run = [Stretch(0, 1499)]
    found = [
        gnss_alone(
            time, wander(time, 6.0, 130.0, np.random.default_rng(s)), run
        ).sigma_m
        for s in range(20)
    ]

    assert 4.0 < np.mean(found) < 6.5
