"""Winds from drift: the wind of an invented air is found again."""

from dataclasses import replace

import numpy as np
import pytest

from scorer.checks.winds import LAYER_M, drift_of, middle_of, wind_table
from scorer.practice.flights import FlightPlan, Wind, fly
from scorer.words.catalogue import message
from tests.bench.winds import errors_of
from tests.scorer.checks.invented import CENTRE, track


def steady(height_m, speed_m_s, toward_deg, seconds=600.0):
    time = np.arange(0.0, seconds + 1)
    way = speed_m_s * time
    toward = np.radians(toward_deg)
    return track(time, way * np.sin(toward), height_m, north_m=way * np.cos(toward))


@pytest.mark.parametrize(
    ("toward", "came_from"), [(90.0, 270.0), (180.0, 0.0), (10.0, 190.0)]
)
def test_a_balloon_that_drifts_east_tells_of_a_west_wind(toward, came_from):
    (layer,) = wind_table([drift_of(steady(120.0, 6.0, toward))])

    assert layer.height_m == 125.0  # the logger at 121 m
    assert layer.from_deg == pytest.approx(came_from, abs=1e-6)
    assert layer.speed_m_s == pytest.approx(6.0)
    assert layer.spread_m_s == pytest.approx(0.0, abs=1e-3)
    assert layer.seconds == pytest.approx(600.0)


def test_convergence_turns_grid_north_to_true_north():
    """True bearing = grid bearing + convergence."""
    (layer,) = wind_table([drift_of(steady(120.0, 6.0, 0.0))], convergence_deg=-1.2)

    assert layer.from_deg == pytest.approx(178.8)


def test_two_opposite_drifts_mean_no_wind_and_a_wide_spread():
    both = [drift_of(steady(120.0, 3.0, toward)) for toward in (90.0, 270.0)]

    (layer,) = wind_table(both)

    assert layer.speed_m_s == pytest.approx(0.0, abs=1e-9)
    assert layer.spread_m_s == pytest.approx(3.0)
    assert layer.balloons == 2


def test_directions_about_north_are_averaged_as_vectors():
    both = [drift_of(steady(120.0, 5.0, toward)) for toward in (350.0, 10.0)]

    (layer,) = wind_table(both)

    assert layer.from_deg == pytest.approx(180.0)
    assert layer.speed_m_s == pytest.approx(5.0 * np.cos(np.radians(10.0)))


def test_layers_flown_for_less_than_a_minute_are_left_out():
    assert wind_table([drift_of(steady(120.0, 5.0, 90.0, seconds=50.0))]) == ()


def test_a_car_that_counts_as_a_balloon_does_not_turn_the_wind_of_three_others():
    """It drives for an hour and they cross the lowest layers in two minutes each."""
    field = [drift_of(steady(30.0, 2.5, 27.0 + turn, 120.0)) for turn in (-3, 0, 3)]
    car = drift_of(steady(30.0, 15.0, 235.0, seconds=3600.0))

    (layer, *_) = wind_table([*field, car])

    assert layer.speed_m_s == pytest.approx(2.5, abs=0.2)
    assert layer.from_deg == pytest.approx(207.0, abs=4.0)


def test_who_stays_long_in_a_layer_does_not_outvote_the_others():
    short = [drift_of(steady(120.0, 4.0, 90.0, seconds=200.0)) for _ in range(3)]
    long = drift_of(steady(120.0, 4.4, 90.0, seconds=7200.0))

    (layer,) = wind_table([*short, long])

    assert layer.speed_m_s == pytest.approx(4.1, abs=0.05)


def test_the_order_of_tracks_does_not_matter():
    parts = [drift_of(steady(60.0 * k, 2.0 + k, 40.0 * k)) for k in range(1, 4)]

    here, there = wind_table(parts), wind_table(parts[::-1])

    np.testing.assert_allclose(np.array(here), np.array(there), rtol=1e-9)


def test_a_basket_that_drags_along_the_ground_tells_no_wind():
    assert wind_table([drift_of(steady(1.0, 2.0, 90.0))]) == ()


@pytest.mark.parametrize("world", ["troubles", "hills"])
def test_winds_are_those_of_the_air_where_three_or_more_flew(world):
    """The world's own air is the answer: within 0.5 m/s and 10°."""
    off = np.abs(errors_of(world, 23, 9))

    assert len(off) >= 5
    assert off[:, 0].max() < 0.5
    assert off[:, 1].max() < 10.0


def test_over_a_long_pause_nothing_is_known_of_the_drift():
    flown = steady(120.0, 5.0, 90.0)
    time = flown.time_s.copy()
    time[300:] += 500.0

    drift = drift_of(replace(flown, time_s=time))

    assert drift.seconds.sum() == pytest.approx(580.0)
    assert wind_table([drift])[0].speed_m_s == pytest.approx(5.0)


def test_a_log_without_a_flight_or_without_heights_tells_no_wind():
    still = track(np.arange(100.0), 0.0, 0.0, launch=0, landing=0)
    blind = steady(np.nan, 5.0, 90.0)

    for flown in (still, blind):
        assert drift_of(flown).seconds.sum() == 0.0
    assert middle_of([]) is None
    assert wind_table([]) == ()


def test_the_middle_of_the_tracks_is_where_convergence_is_taken():
    east, north = middle_of([drift_of(steady(120.0, 5.0, 90.0))])

    assert east == pytest.approx(CENTRE[0] + 1500.0, abs=60.0)
    assert north == pytest.approx(CENTRE[1])


def test_the_wind_of_an_invented_air_is_found_again():
    """Layers held for ten minutes each; the air's own wind is the answer."""
    wind = Wind(
        altitude_m=600.0 + np.array([0.0, 100.0, 300.0, 600.0]),
        speed_m_s=np.array([1.5, 3.0, 6.0, 9.0]),
        toward_deg=np.array([80.0, 95.0, 120.0, 140.0]),
    )
    plan = FlightPlan(
        start_s=0.0,
        levels=((900.0, 120.0), (900.0, 320.0), (900.0, 620.0)),
        swing_m=2.0,
    )
    truth = fly(
        plan,
        wind=wind,
        terrain=lambda east, _: np.full(np.shape(east), 600.0),
        rng=np.random.default_rng(4),
    )
    flown = track(
        truth.time_s,
        truth.east_m,
        truth.height_m,
        north_m=truth.north_m,
        launch=int(np.searchsorted(truth.time_s, truth.launch_s)),
        landing=int(np.searchsorted(truth.time_s, truth.landing_s)),
    )

    layers = wind_table([drift_of(flown)])

    long = [layer for layer in layers if layer.seconds > 500.0]
    assert len(long) >= 3
    for layer in long:
        aim = np.array([600.0 + layer.height_m])
        east, north = wind.at(aim, np.zeros(1))
        half = LAYER_M / 2 * 0.02  # the speed changes by 0.02 m/s in a metre at most
        assert layer.speed_m_s == pytest.approx(
            np.hypot(east, north)[0], abs=half + 0.2
        )
        toward = np.degrees(np.arctan2(east, north))[0]
        off = (layer.from_deg - 180.0 - toward + 180.0) % 360.0 - 180.0
        assert abs(off) < 5.0


def test_the_caution_says_that_it_is_past_wind():
    caution = message("caution-winds", {})

    assert "what the wind was" in caution
    assert "no forecast" in caution
