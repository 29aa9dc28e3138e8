"""The air of a flight from all its logs, on the worlds of `tests/bench/worlds.py`.

Those share no code with the estimator: real columns of air, real errors of grids.  The
rates over many flights stand in the bench (`python -m tests.bench.heights`).
"""

from dataclasses import replace

import numpy as np
import pytest

from scorer.tracks.air import PooledLogs
from scorer.tracks.height import heights_of
from tests.bench.heights import lowest, pooled, ready_of
from tests.bench.worlds import make_world

COUNT = 12


def made(name, seed=1, count=COUNT):
    world, ground, logs = make_world(name, seed, count)
    return world, logs, ready_of(world, ground, logs)


@pytest.fixture(scope="module")
def hot():
    return made("hot")


@pytest.fixture(scope="module")
def troubles():
    _, logs, ready = made("troubles", count=18)
    return logs, pooled(ready)


def of(troubles, *kinds):
    logs, flowns = troubles
    return [
        (log, flown)
        for log, flown in zip(logs, flowns, strict=True)
        if log.trouble in kinds
    ]


def test_temperature_and_trend_are_those_of_the_day(hot):
    """35 degrees at 400 m are 22.6 K over standard, one more aloft; -1.5 hPa/h falls."""
    _, _, ready = hot
    air = PooledLogs([one.shape.view for one in ready]).air()

    assert abs(air.mean[0] - 23.6) < 2.5
    assert abs(air.mean[2] + 1.5 * 9.0) < 2.0  # 9 m for each hPa in air so warm


def test_the_pool_is_no_worse_than_each_log_alone_and_says_how_good(hot):
    _, logs, ready = hot
    flowns = pooled(ready)
    error, sigma = np.array(
        [lowest(log, flown)[:2] for log, flown in zip(logs, flowns, strict=True)]
    ).T

    assert np.sqrt(np.mean(error**2)) < 1.1
    assert np.abs(error / sigma).max() < 4.0


def test_the_order_of_views_changes_nothing_that_matters(hot):
    _, _, ready = hot
    views = [one.shape.view for one in ready]
    one, other = PooledLogs(views).air(), PooledLogs(views[::-1]).air()

    assert one.mean == pytest.approx(other.mean, abs=1e-6)


def test_a_log_with_a_broken_barometer_does_not_bend_the_air(hot):
    _, _, ready = hot
    views = [one.shape.view for one in ready]
    sound = PooledLogs(views[1:]).air()
    bad = views[0]
    bent = type(bad)(
        matrix=bad.matrix * 5.0,
        vector=bad.vector * 5.0 + bad.matrix[:, :, 0] * 200.0,
        square=bad.square * 5.0 + 1e5,
        log_det=bad.log_det,
        mean=bad.mean,
        spread=bad.spread,
    )
    with_bad = PooledLogs([bent, *views[1:]]).air()

    assert abs(with_bad.mean[0] - sound.mean[0]) < 1.0


@pytest.mark.parametrize("name", ["coarse-float", "fixed"])
def test_stands_tell_how_far_the_ground_can_be_trusted(name):
    _, logs, ready = made(name)
    flowns = pooled(ready)
    rows = [lowest(log, flown) for log, flown in zip(logs, flowns, strict=True)]
    error, sigma = np.array([row[:2] for row in rows]).T

    assert np.median(sigma) > 1.4
    assert np.std(error / sigma) < 1.6


def test_another_flight_a_ride_and_a_rope_in_the_log_are_left_out(troubles):
    for log, flown in of(troubles, "yesterday", "cars", "tether"):
        if not log.launched:
            continue
        assert abs(flown.lift_offs[0].time_s - log.launch_s) < 20.0, log.trouble
        assert flown.left_out or log.trouble == "tether"
        assert flown.time_s[flown.landing] == pytest.approx(log.landing_s, abs=30.0)


def test_the_lag_of_a_sensor_is_found(troubles):
    found = of(troubles, "lag")
    for log, flown in found:
        error, sigma = lowest(log, flown)[:2]
        assert abs(error) < 4.0 * sigma


def test_a_log_without_a_stand_has_the_height_of_the_others_datum(troubles):
    for log, flown in of(troubles, "aloft"):
        error, sigma = lowest(log, flown)[:2]
        assert not flown.anchored
        assert sigma < 5.0
        assert abs(error) < 3.0 * sigma


def test_errors_of_pressure_are_fewer_metres_in_cold_air_and_more_in_hot(hot):
    """By the hypsometric equation a hectopascal is R T / g p metres: as T, so its errors.

    All else the same, what is the sensor's own in the variance goes with (1 + K / T)².
    """
    _, _, ready = hot
    log = ready[1]
    air = PooledLogs([one.shape.view for one in ready]).air(log.shape.view)
    noisy = replace(log.shape, own_variance_m2=log.shape.own_variance_m2 + 100.0)

    def own_m2(kelvin):
        here = replace(air, mean=np.r_[kelvin, air.mean[1:]])
        with_it, without = (
            heights_of(log.time_s, log.ground_m, shape, here).sigma_m ** 2
            for shape in (noisy, log.shape)
        )
        return float(np.median(with_it - without))

    at = 288.15 - 0.0065 * float(np.median(log.shape.x))
    for kelvin in (-28.0, 24.0):
        assert own_m2(kelvin) == pytest.approx(
            100.0 * (1.0 + kelvin / at) ** 2, rel=2e-3
        )
