"""Launches where the balloon stood and when it left: 72 flights in three winds.

The hinge's truth is the flight's own (`scorer.practice.flights`); winds of 2, 5 and 8 m/s.
"""

import numpy as np
import pytest

from scorer.checks.launch import check_launch_distance
from scorer.event.finding import Verdict
from scorer.event.rulebook import LaunchRule, RuleBook
from scorer.geodesy.terrain import Ground
from scorer.practice.flights import FlightPlan, Wind, fly
from scorer.practice.sensors import Logger, record
from scorer.tracks.clean import clean
from scorer.tracks.prepare import flown_in, make_ready
from scorer.tracks.track import Track
from tests.scorer.checks.invented import CENTRE, PLANE, about

MILE_M = 1609.344
WINDS = (2.0, 5.0, 8.0)


def flat(east_m, north_m):
    return np.full(np.shape(east_m), 640.0)


def launched(seed, wind_m_s, away_m):
    """A flight from `away_m` west of the target, flown toward it; and its truth."""
    away_m -= wind_m_s  # the path is laid through the first second of drift
    rng = np.random.default_rng([seed, int(wind_m_s)])
    wind = Wind(
        altitude_m=np.array([0.0, 3000.0]),
        speed_m_s=np.array([wind_m_s, wind_m_s + 2.0]),
        toward_deg=np.array([90.0, 90.0]),
    )
    plan = FlightPlan(
        start_s=1.7e9,
        stand_before_s=float(rng.uniform(90.0, 600.0)),
        stand_after_s=120.0,
        levels=((240.0, 150.0),),
        climb_m_s=float(rng.uniform(1.5, 4.0)),
        launch_east_m=CENTRE[0] - away_m,
        launch_north_m=CENTRE[1],
    )
    truth = fly(plan, wind=wind, terrain=flat, rng=rng)
    logger = Logger(step_s=int(rng.choice([1, 2, 3])), horizontal_sigma_m=1.5)
    reading = record(truth, logger, rng=rng)
    lat, lon = PLANE.to_wgs84(reading.east_m, reading.north_m)
    track = Track(
        name="7.igc",
        sha256="ab" * 32,
        format="igc",
        time_s=reading.time_s,
        lat_deg=lat,
        lon_deg=lon,
        gnss_alt_m=reading.gnss_alt_m,
        pressure_alt_m=reading.pressure_alt_m,
        valid_3d=np.ones(len(lat), dtype=bool),
        accuracy_m=reading.accuracy_m,
    )
    ready = make_ready(clean(track), plane=PLANE, ground=Ground(None, 640.0))
    flown = flown_in(ready, 7, None)
    return flown, truth


@pytest.fixture(scope="module")
def seventy_two():
    return [launched(seed, wind, MILE_M + 6.0) for wind in WINDS for seed in range(24)]


def too_near(flown):
    book = RuleBook(name="test", launch=LaunchRule(least_distance_m=MILE_M))
    return check_launch_distance(flown, about(book)).findings


def test_legal_launches_just_beyond_the_limit_are_left_alone(seventy_two):
    found = [f for flown, _ in seventy_two for f in too_near(flown)]

    assert not [f for f in found if f.verdict is Verdict.CERTAIN]
    assert sum(f.probability > 0.5 for f in found) < 0.05 * 72


def test_places_and_moments_have_no_bias(seventy_two):
    east = [f.lift_offs[0].east_m - truth.east_m[0] for f, truth in seventy_two]
    late = [f.lift_offs[0].time_s - truth.launch_s for f, truth in seventy_two]

    assert abs(np.mean(east)) < 1.0
    assert abs(np.mean(late)) < 0.5
    normal = [
        (f.lift_offs[0].time_s - truth.launch_s) / f.lift_offs[0].sigma_s
        for f, truth in seventy_two
    ]
    assert np.std(normal) < 1.4


def test_launches_just_too_near_are_found():
    flights = [
        launched(seed, wind, MILE_M - 6.0) for wind in WINDS for seed in range(8)
    ]
    found = [too_near(flown) for flown, _ in flights]

    assert all(found)
    assert np.mean([one[0].probability > 0.9 for one in found]) > 0.8
