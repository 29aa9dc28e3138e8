"""Invented flights must be what a balloon can do and what was asked for."""

from dataclasses import replace

import numpy as np
import pytest

from scorer.practice.flights import (
    Approach,
    FlightPlan,
    fly,
    plan_from,
    random_plan,
    random_wind,
)


def rolling(east_m, north_m):
    return 600.0 + 12.0 * np.sin(east_m / 900.0) + 9.0 * np.cos(north_m / 700.0)


def flown(seed, approach=None, **changes):
    rng = np.random.default_rng(seed)
    wind = random_wind(rng, ground_m=600.0)
    plan = replace(random_plan(rng, start_s=1.7e9, approach=approach), **changes)
    return plan, fly(plan, wind=wind, terrain=rolling, rng=rng)


@pytest.mark.parametrize("seed", range(6))
def test_altitude_is_ground_plus_height_and_never_below_the_ground(seed):
    _, truth = flown(seed)

    np.testing.assert_allclose(truth.ground_m + truth.height_m, truth.altitude_m)
    np.testing.assert_allclose(
        truth.ground_m, rolling(truth.east_m, truth.north_m), atol=1e-9
    )
    assert truth.height_m.min() == 0.0


@pytest.mark.parametrize("seed", range(6))
def test_the_balloon_stands_before_launch_and_after_dragging(seed):
    plan, truth = flown(seed)

    still = (truth.time_s < truth.launch_s) | (
        truth.time_s > truth.landing_s + plan.drag_s + 1.0
    )

    assert np.ptp(truth.height_m[still]) == 0.0
    pace = np.hypot(np.diff(truth.east_m), np.diff(truth.north_m))
    assert pace[still[1:] & still[:-1]].max() < 1e-9


@pytest.mark.parametrize("seed", range(6))
def test_vertical_speed_stays_within_what_balloons_do(seed):
    """Up to 6 m/s: common practice, no source."""
    _, truth = flown(seed)

    assert np.abs(np.diff(truth.altitude_m)).max() < 6.5


@pytest.mark.parametrize("seed", range(6))
def test_the_way_in_dips_to_the_stated_height_and_passes_the_target(seed):
    target = Approach(
        target_east_m=8000.0, target_north_m=6000.0, miss_m=25.0, lowest_m=18.0
    )
    _, truth = flown(seed, target)

    away = np.hypot(truth.east_m - 8000.0, truth.north_m - 6000.0)
    at = int(np.searchsorted(truth.time_s, truth.pass_s))
    way_in = (truth.time_s > truth.pass_s - 350.0) & (truth.time_s < truth.pass_s - 60)
    assert away[at] == pytest.approx(25.0, abs=0.5)
    assert truth.height_m[at] == pytest.approx(3.0, abs=0.3)
    assert truth.height_m[way_in].min() == pytest.approx(18.0, abs=1.0)


def test_a_contact_touches_the_ground_and_slows_the_drift():
    target = Approach(
        target_east_m=0.0, target_north_m=0.0, contact_s=25.0, contact_drag=0.6
    )
    _, truth = flown(2, target)

    touch = int(np.searchsorted(truth.time_s, truth.contact_s))
    pace = np.hypot(np.diff(truth.east_m), np.diff(truth.north_m))
    assert truth.contact_s - truth.pass_s == pytest.approx(25.0, abs=8.0)
    assert truth.height_m[touch] == 0.0
    assert truth.height_m[touch + 20] > 1.0
    assert pace[touch + 4] < 0.6 * pace[touch - 3]
    assert pace[touch + 60] > 0.8 * pace[touch - 3]


def test_a_plan_can_be_stretched_to_launch_at_a_distance():
    rng = np.random.default_rng(5)
    wind = random_wind(rng, ground_m=600.0)
    target = Approach(target_east_m=0.0, target_north_m=0.0)
    plan = random_plan(rng, start_s=0.0, approach=target)

    plan = plan_from(plan, distance_m=2500.0, wind=wind, terrain=rolling, rng=rng)

    truth = fly(plan, wind=wind, terrain=rolling, rng=rng)
    at = int(np.searchsorted(truth.time_s, truth.launch_s))
    assert np.hypot(truth.east_m[at], truth.north_m[at]) == pytest.approx(2500, rel=0.1)


def test_a_plan_without_target_has_no_distance_to_it():
    rng = np.random.default_rng(1)
    wind = random_wind(rng, ground_m=0.0)
    with pytest.raises(ValueError, match="target"):
        plan_from(
            FlightPlan(start_s=0.0), distance_m=1.0, wind=wind, terrain=rolling, rng=rng
        )


def test_a_ride_with_the_logger_stays_on_the_ground_and_is_fast():
    _, truth = flown(4, car_before_s=500.0, car_after_s=700.0)

    driven = truth.time_s - truth.time_s[0] < 490.0
    pace = np.hypot(np.diff(truth.east_m), np.diff(truth.north_m))
    assert truth.height_m[driven].max() == 0.0
    assert pace[driven[1:]].max() > 8.0


def test_the_same_seed_flies_the_same_flight():
    one, other = flown(7)[1], flown(7)[1]

    np.testing.assert_array_equal(one.altitude_m, other.altitude_m)
    np.testing.assert_array_equal(one.east_m, other.east_m)
