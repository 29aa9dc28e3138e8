"""Ground stretches, launch and landing, on flights whose truth is known."""

import numpy as np
import pytest

from scorer.tracks.flown import LogPart
from scorer.tracks.phases import Phases, find_phases
from scorer.tracks.stands import Stretch, window_mean
from tests.scorer.tracks.invented_logs import (
    GNSS,
    cut,
    make_log,
    phases_of,
    recording_of,
)

NOTHING = Phases(stretches=(), launch=None, landing=None)
SEEDS = range(24)


def all_on_the_ground(log, phases, fixes=slice(None)):
    basket = log.basket_m[fixes]
    return all(basket[run.fixes].max() == 0.0 for run in phases.stretches)


@pytest.mark.parametrize("ride", [False, True])
@pytest.mark.parametrize("noise", [1.0, 2.0])
def test_launch_and_landing_are_found_within_seconds(noise, ride):
    launch, landing = [], []
    for seed in SEEDS:
        log = make_log(seed, noise, ride)
        phases = phases_of(recording_of(log))
        assert all_on_the_ground(log, phases)
        launch.append(log.reading.time_s[phases.launch] - log.truth.launch_s)
        landing.append(log.reading.time_s[phases.landing] - log.truth.landing_s)

    assert np.abs(launch).max() < 20.0
    assert np.abs(landing).max() < 20.0
    assert abs(np.median(launch)) < 10.0
    assert abs(np.median(landing)) < 5.0


def test_a_ride_with_the_logger_is_not_flown_and_its_far_stops_are_left_out():
    for seed in SEEDS:
        log = make_log(seed, 1.0, ride=True)
        recording = recording_of(log)
        phases = phases_of(recording)
        first, last = phases.stretches[0].first, phases.stretches[-1].last
        home = np.hypot(
            recording.east_m - recording.east_m[phases.launch],
            recording.north_m - recording.north_m[phases.launch],
        )
        assert home[first] < 400.0
        assert log.reading.time_s[first] > log.truth.time_s[0] + 400.0
        assert log.reading.time_s[last] < log.truth.time_s[-1] - 500.0


def test_gnss_alone_finds_the_flight_too():
    for seed in SEEDS:
        log = make_log(seed)
        phases = phases_of(recording_of(log, GNSS))
        assert all_on_the_ground(log, phases)
        assert abs(log.reading.time_s[phases.launch] - log.truth.launch_s) < 30.0
        assert abs(log.reading.time_s[phases.landing] - log.truth.landing_s) < 30.0


@pytest.mark.parametrize("seed", range(12))
def test_a_log_without_the_launch_has_no_launch(seed):
    log = make_log(seed)
    fixes = log.reading.time_s > log.truth.launch_s + 120.0

    phases = phases_of(cut(recording_of(log), fixes))

    assert phases.launch is None
    assert phases.landing is not None
    assert all_on_the_ground(log, phases, fixes)


@pytest.mark.parametrize("seed", range(12))
def test_a_log_that_ends_in_the_air_has_no_landing(seed):
    log = make_log(seed)
    fixes = log.reading.time_s < log.truth.landing_s - 90.0

    phases = phases_of(cut(recording_of(log), fixes))

    assert phases.landing is None
    assert phases.launch is not None
    assert all_on_the_ground(log, phases, fixes)


@pytest.mark.parametrize("seed", range(12))
def test_a_log_of_the_air_alone_shows_nothing(seed):
    log = make_log(seed)
    time = log.reading.time_s
    fixes = (time > log.truth.launch_s + 120.0) & (time < log.truth.landing_s - 90.0)

    assert phases_of(cut(recording_of(log), fixes)) == NOTHING


def by_hand(legs, ground=None):
    """Fixes each second from legs of (seconds, speed east, climb)."""
    east = np.concatenate([np.full(s, v) for s, v, _ in legs]).cumsum()
    up = np.concatenate([np.full(s, c) for s, _, c in legs]).cumsum()
    n = len(east)
    flat = np.zeros(n) if ground is None else ground(east)
    return find_phases(
        time_s=np.arange(float(n)),
        east_m=east,
        north_m=np.zeros(n),
        altitude_m=600.0 + up,
        ground_m=flat,
        noise_m=0.6,
    )


FLIGHT = [(120, 0.0, 0.0), (60, 2.0, 2.0), (300, 4.0, 0.0), (60, 2.0, -2.0)]


def test_hanging_still_in_the_air_is_not_standing():
    phases = by_hand([*FLIGHT[:2], (150, 0.0, 0.0), *FLIGHT[2:], (200, 0.0, 0.0)])

    assert len(phases.stretches) == 2
    assert phases.stretches[0].last < 120
    assert phases.stretches[1].first >= 690


def test_a_stop_on_the_ground_in_between_is_a_stretch_within_one_flight():
    again = [(100, 0.0, 0.0), *FLIGHT[1:], (200, 0.0, 0.0)]
    phases = by_hand([*FLIGHT, *again])

    assert len(phases.stretches) == 3
    assert 118 <= phases.launch <= 125
    assert phases.landing > 1000


def test_a_log_that_begins_on_a_rope_shows_the_launch_after_it():
    """Switched on while tethered: up to 25 m, swaying within 20 m, then a short stand."""
    rope = [(30, 0.2, 0.8), (60, 0.1, 0.0), (60, -0.1, 0.0), (40, -0.1, -0.6)]

    phases = by_hand([*rope, *FLIGHT, (200, 0.0, 0.0)])

    assert 308 <= phases.launch <= 315
    assert phases.landing > 600
    assert [one.part for one in phases.left_out] == [LogPart.ROPE]


def test_a_log_that_begins_low_before_a_landing_still_shows_that_landing():
    phases = by_hand([(90, 0.3, 0.0), (40, 0.3, -1.0), (200, 0.0, 0.0)])

    assert phases.launch is None
    assert phases.landing is not None


def test_walking_with_the_logger_is_no_flight():
    phases = by_hand([(100, 0.0, 0.0), (300, 1.3, 0.0), (100, 0.0, 0.0)])

    assert phases.launch is None
    assert phases.landing is None


def test_driving_over_hills_that_the_terrain_knows_is_no_flight():
    def hills(east_m):
        return 40.0 * np.sin(east_m / 400.0)

    legs = [(100, 0.0, 0.0), (400, 14.0, 0.0), (100, 0.0, 0.0)]
    east = np.concatenate([np.full(s, v) for s, v, _ in legs]).cumsum()
    phases = find_phases(
        time_s=np.arange(600.0),
        east_m=east,
        north_m=np.zeros(600),
        altitude_m=600.0 + hills(east),
        ground_m=hills(east),
        noise_m=0.6,
    )

    assert phases.launch is None
    assert len(phases.stretches) == 2


def test_a_logger_that_starts_by_motion_still_shows_a_short_stand():
    phases = by_hand([(16, 0.0, 0.0), *FLIGHT[1:], (16, 0.0, 0.0)])

    assert phases.stretches[0].first == 0
    assert 8 <= phases.stretches[0].last <= 16
    assert phases.launch == pytest.approx(16, abs=4)
    assert phases.landing == pytest.approx(436, abs=4)


@pytest.mark.parametrize("n", [1, 2, 3, 10])
def test_a_few_fixes_show_nothing(n):
    zero = np.zeros(n)
    phases = find_phases(
        time_s=np.arange(float(n)),
        east_m=zero,
        north_m=zero,
        altitude_m=zero,
        ground_m=zero,
        noise_m=0.6,
    )
    assert phases == NOTHING


def test_a_log_without_altitude_shows_nothing():
    zero = np.zeros(500)
    phases = find_phases(
        time_s=np.arange(500.0),
        east_m=zero,
        north_m=zero,
        altitude_m=zero * np.nan,
        ground_m=zero,
        noise_m=0.6,
    )
    assert phases == NOTHING


def test_the_window_mean_is_the_integral_of_the_line_over_the_window():
    """Trapezoid by numpy on a fine grid, uneven times."""
    time = np.array([0.0, 1.0, 4.0, 5.5, 9.0, 20.0])
    values = np.array([2.0, -1.0, 3.0, 3.0, 0.0, 7.0])

    got = window_mean(time, values, 6.0)

    both = window_mean(time, np.stack([values, -2.0 * values]), 6.0)
    assert np.array_equal(both, [got, -2.0 * got])
    for k, now in enumerate(time):
        fine = np.linspace(max(now - 3.0, 0.0), min(now + 3.0, 20.0), 60_001)
        assert got[k] == pytest.approx(np.interp(fine, time, values).mean(), abs=1e-3)


def test_a_stretch_is_a_slice_with_both_ends():
    assert Stretch(3, 5).fixes == slice(3, 6)
