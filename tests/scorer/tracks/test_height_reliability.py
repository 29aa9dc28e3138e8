"""Heights of invented flights against their truth: small errors, honest sigmas.

The estimator knows nothing of the generator: its constants are those of makers and of
meteorology.  The generator is run with half and with twice its noise as well, and with
wrong terrain, with one sensor missing, with and without knowing the day's air.
Run with `-s` to see the tables.
"""

from itertools import pairwise

import numpy as np
import pytest
from scipy.special import ndtr

from tests.scorer.tracks.invented_logs import BARO, BOTH, GNSS, errors, estimated

FLIGHTS = range(120)
WITH_TABLE = range(200)


def report(name, error, normal):
    print(  # noqa: T201 - the table of `-s`
        f"{name:22} n {len(error):3}  bias {error.mean():+.2f} m  sd {error.std():.2f} m"
        f"  normalised: mean {normal.mean():+.2f} sd {normal.std():.2f}"
    )


def test_lowest_height_is_within_0_6_m_one_sigma_and_without_bias():
    error, normal = errors(FLIGHTS)
    report("both sensors", error, normal)

    assert np.sqrt(np.mean(error**2)) < 0.6
    assert abs(error.mean()) < 0.15
    assert 0.8 < normal.std() < 1.25
    assert np.abs(normal).max() < 4.0


@pytest.mark.parametrize(("noise", "limit_m"), [(0.5, 0.45), (2.0, 1.1)])
def test_sigmas_stay_honest_with_half_and_twice_the_noise(noise, limit_m):
    error, normal = errors(FLIGHTS, noise=noise)
    report(f"noise times {noise}", error, normal)

    assert np.sqrt(np.mean(error**2)) < limit_m
    assert 0.8 < normal.std() < 1.25


def test_knowing_qnh_and_temperature_does_not_harm():
    error, normal = errors(FLIGHTS, air_known=True)
    report("QNH and temperature", error, normal)

    assert np.sqrt(np.mean(error**2)) < 0.6
    assert 0.8 < normal.std() < 1.25


@pytest.mark.parametrize("sigma_m", [0.5, 2.0])
def test_wrong_terrain_is_in_the_sigma(sigma_m):
    error, normal = errors(FLIGHTS, terrain_sigma_m=sigma_m)
    report(f"terrain {sigma_m} m", error, normal)

    assert 0.8 < normal.std() < 1.25
    # at the low point, and the mean of two ground stretches: 1 + 1/2
    assert error.std() < 1.1 * np.sqrt(0.5**2 + 1.5 * sigma_m**2)


def test_barometer_alone_knows_that_it_does_not_know_the_temperature():
    error, normal = errors(FLIGHTS, sensors=BARO)
    report("barometer alone", error, normal)

    assert 0.8 < normal.std() < 1.25
    assert 0.6 < error.std() < 2.0


def test_gnss_alone_gives_metres_and_says_so():
    error, normal = errors(FLIGHTS, sensors=GNSS)
    report("GNSS alone", error, normal)

    assert 0.8 < normal.std() < 1.25
    assert 1.0 < error.std() < 4.5


@pytest.mark.parametrize("sensors", [BOTH, BARO, GNSS])
def test_sigmas_hold_at_all_heights_of_the_flight(sensors):
    normal = []
    for seed in range(40):
        known = estimated(seed, sensors=sensors)
        runs = known.phases.stretches
        flight = slice(runs[0].last, runs[-1].first, 20)
        off = (known.basket_m - known.log.basket_m) / known.sigma_m
        normal.append(off[flight])
    normal = np.concatenate(normal)

    assert 0.8 < normal.std() < 1.25
    assert abs(normal.mean()) < 0.4


def chances(seeds, **settings):
    """P(lowest height under limit) as stated, and whether it was, for many limits."""
    limits = np.arange(2.0, 60.0, 0.25)
    lows = np.array([estimated(seed, **settings).lowest for seed in seeds])
    stated = ndtr((limits - lows[:, :1]) / lows[:, 2:])
    return stated, lows[:, 1:2] < limits


@pytest.mark.parametrize(
    ("name", "settings"),
    [
        ("both sensors", {}),
        ("half the noise", {"noise": 0.5}),
        ("twice the noise", {"noise": 2.0}),
        ("terrain 0.5 m", {"terrain_sigma_m": 0.5}),
    ],
)
def test_probabilities_mean_what_they_say(name, settings):
    """Reliability table; limits every 0.25 m, so thousands of (flight, limit) pairs.

    Pairs of one flight hang together, so the number of flights, not of pairs, sets the
    binomial tolerance: 3 sigmas.
    """
    flights = WITH_TABLE if not settings else FLIGHTS
    stated, under = chances(flights, **settings)
    edges = np.array([0.0, 0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.98, 1.0001])
    print(f"\n{name}: {stated.size} pairs of {len(flights)} flights")  # noqa: T201
    for low, high in pairwise(edges):
        here = (stated >= low) & (stated < high)
        said, was = stated[here].mean(), under[here].mean()
        flown = int(here.any(axis=1).sum())
        slack = 3.0 * np.sqrt(max(said * (1.0 - said), 0.003) / flown)
        print(f"  stated {said:.3f}  observed {was:.3f}  ± {slack:.3f}  ({here.sum()})")  # noqa: T201
        assert abs(said - was) < slack, f"stated {said:.3f}, observed {was:.3f}"
