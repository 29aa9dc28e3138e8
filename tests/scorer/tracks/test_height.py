"""Heights: what they do at the edges, and what they owe to each piece of knowledge."""

from dataclasses import replace

import numpy as np
import pytest

from scorer.tracks.height import LOGGER_ABOVE_GROUND_M, estimate_heights
from scorer.tracks.recording import Day, Recording
from scorer.tracks.stands import Stretch
from tests.scorer.tracks.invented_logs import (
    BARO,
    GNSS,
    cut,
    estimated,
    make_log,
    phases_of,
    recording_of,
)


def heights_of(recording, day=None):
    return estimate_heights(
        recording, phases_of(recording).stretches, Day() if day is None else day
    )


def still(n=300, **changes):
    """A logger standing still on flat ground, both sensors with an offset."""
    fixes = {
        "time_s": np.arange(float(n)),
        "east_m": np.zeros(n),
        "north_m": np.zeros(n),
        "ground_m": np.full(n, 600.0),
        "terrain_sigma_m": np.full(n, 0.5),
        "gnss_alt_m": np.full(n, 650.0),
        "pressure_alt_m": np.full(n, 580.0),
    }
    return Recording(**{**fixes, **changes})


def test_a_standing_logger_is_one_metre_above_the_ground():
    """Whatever its offsets; the terrain's error cancels at the same place."""
    heights = heights_of(still())

    assert heights.anchored
    np.testing.assert_allclose(heights.height_m, LOGGER_ABOVE_GROUND_M, atol=0.05)
    assert heights.sigma_m.max() < 0.6
    np.testing.assert_allclose(heights.climb_m_s, 0.0, atol=1e-6)


def test_altitude_is_ground_plus_height():
    heights = estimated(3).heights
    ground = recording_of(make_log(3)).ground_m

    np.testing.assert_allclose(heights.altitude_m, ground + heights.height_m)


@pytest.mark.parametrize("seed", range(8))
def test_a_log_without_a_ground_stretch_is_wide_and_not_anchored(seed):
    log = make_log(seed)
    time = log.reading.time_s
    fixes = (time > log.truth.launch_s + 120.0) & (time < log.truth.landing_s - 90.0)
    flying = cut(recording_of(log), fixes)

    plain = heights_of(flying)
    with_qnh = heights_of(flying, Day(qnh_hpa=log.logger.qnh_hpa))

    off = plain.height_m - LOGGER_ABOVE_GROUND_M - log.basket_m[fixes]
    assert not plain.anchored
    assert plain.sigma_m.min() > 20.0
    assert np.abs(off / plain.sigma_m).max() < 3.0
    assert with_qnh.sigma_m.max() < 0.5 * plain.sigma_m.min()


@pytest.mark.parametrize("seed", range(8))
def test_sigma_grows_away_from_the_only_ground_stretch(seed):
    log = make_log(seed)
    fixes = log.reading.time_s < log.truth.landing_s - 90.0

    heights = heights_of(cut(recording_of(log), fixes))

    assert heights.anchored
    assert heights.sigma_m[-1] > 1.5 * heights.sigma_m[0]


def test_temperature_unknown_and_gnss_missing_widens_with_height():
    known = estimated(5, sensors=BARO)
    high = known.log.basket_m > 200.0
    low = known.log.basket_m < 10.0

    assert np.median(known.sigma_m[high]) > 4.0 * np.median(known.sigma_m[low])


def test_a_temperature_read_narrows_a_barometer_alone():
    log = make_log(5)
    recording = recording_of(log, BARO)
    true = log.logger
    reading_c = 15.0 - 0.0065 * 600.0 + true.warmer_k - true.inversion_k
    high = log.basket_m > 200.0

    plain = heights_of(recording)
    informed = heights_of(recording, Day(temperature_c=reading_c))

    assert informed.sigma_m[high].mean() < 0.5 * plain.sigma_m[high].mean()
    error = informed.height_m - LOGGER_ABOVE_GROUND_M - log.basket_m
    assert np.abs(error / informed.sigma_m)[high].mean() < 2.0


def test_constant_offsets_of_the_sensors_do_not_matter():
    recording = recording_of(make_log(4))
    moved = replace(
        recording,
        gnss_alt_m=recording.gnss_alt_m + 30.0,
        pressure_alt_m=recording.pressure_alt_m - 12.0,
    )

    one, other = heights_of(recording), heights_of(moved)

    np.testing.assert_allclose(one.height_m, other.height_m, atol=0.25)


def test_a_few_wild_gnss_altitudes_change_little():
    recording = recording_of(make_log(4))
    wild = recording.gnss_alt_m.copy()
    middle = len(wild) // 2
    wild[middle : middle + 60] += 150.0

    one = heights_of(recording)
    other = heights_of(replace(recording, gnss_alt_m=wild))

    assert np.abs(one.height_m - other.height_m).max() < 1.0


def test_a_gap_of_the_barometer_is_bridged_and_wider():
    log = make_log(4)
    recording = recording_of(log)
    holes = recording.pressure_alt_m.copy()
    gap = slice(len(holes) // 2, len(holes) // 2 + 60)
    holes[gap] = np.nan

    heights = heights_of(replace(recording, pressure_alt_m=holes))

    whole = heights_of(recording)
    error = heights.height_m - LOGGER_ABOVE_GROUND_M - log.basket_m
    assert heights.sigma_m[gap].mean() > 1.5 * whole.sigma_m[gap].mean()
    assert np.abs(error[gap] / heights.sigma_m[gap]).max() < 4.0


def test_a_fix_beside_a_gap_in_the_log_is_a_little_less_sure():
    log = make_log(4)
    recording = recording_of(log)
    keep = np.ones(len(recording.time_s), dtype=bool)
    middle = len(keep) // 2
    keep[middle : middle + 90] = False

    heights = heights_of(cut(recording, keep))

    assert heights.sigma_m[middle] > heights.sigma_m[middle + 5]


def test_one_flat_elevation_for_a_hilly_field_is_noticed():
    """Launch 25 m higher than landing, the elevation given is the same: then the stretches
    contradict each other and heights are only that good."""
    recording = recording_of(make_log(2), terrain_sigma_m=0.5)
    tilt = np.linspace(25.0, 0.0, len(recording.time_s))
    wrong = replace(recording, ground_m=recording.ground_m + tilt)
    stretches = phases_of(recording).stretches

    honest = estimate_heights(recording, stretches, Day())
    doubted = estimate_heights(wrong, stretches, Day())

    middle = len(tilt) // 2
    assert honest.sigma_m[middle] < 2.0
    assert doubted.sigma_m[middle] > 8.0


def test_unknown_terrain_gives_no_height_but_an_altitude():
    recording = recording_of(make_log(4))
    ground = recording.ground_m.copy()
    ground[500:600] = np.nan

    heights = heights_of(replace(recording, ground_m=ground))

    assert np.isnan(heights.height_m[500:600]).all()
    assert np.isnan(heights.sigma_m[500:600]).all()
    assert np.isfinite(heights.altitude_m).all()
    assert np.isfinite(heights.height_m[600:]).all()


def test_a_log_without_any_altitude_has_no_heights():
    nothing = np.full(300, np.nan)

    heights = heights_of(still(gnss_alt_m=nothing, pressure_alt_m=nothing))

    assert np.isnan(heights.height_m).all()
    assert not heights.anchored


@pytest.mark.parametrize("n", [1, 2, 3, 5])
@pytest.mark.parametrize("sensors", ["both", BARO, GNSS])
def test_a_few_fixes_do_no_harm(n, sensors):
    nothing = np.full(n, np.nan)
    recording = still(n)
    if sensors == BARO:
        recording = replace(recording, gnss_alt_m=nothing)
    if sensors == GNSS:
        recording = replace(recording, pressure_alt_m=nothing)

    heights = estimate_heights(recording, (), Day())

    assert np.isfinite(heights.height_m).all()
    assert heights.sigma_m.min() > 5.0


def test_a_ground_stretch_on_unknown_terrain_anchors_nothing():
    recording = still(ground_m=np.full(300, np.nan))

    heights = estimate_heights(recording, (Stretch(0, 200),), Day())

    assert not heights.anchored
    assert np.isnan(heights.height_m).all()


@pytest.mark.parametrize("seed", [0, 3, 6, 9])
def test_a_touch_of_the_ground_shows_as_one(seed):
    known = estimated(seed)
    time = known.log.reading.time_s
    near = np.abs(time - known.log.truth.contact_s - 3.0) < 10.0

    low = known.basket_m[near].min()

    assert low == pytest.approx(0.0, abs=3.0 * known.sigma_m[near].mean())


def test_climb_rate_follows_the_truth():
    for seed in range(5):
        known = estimated(seed)
        truth = known.log.truth
        at = known.log.reading.index
        rate = np.gradient(truth.altitude_m, truth.time_s)[at]
        error = known.heights.climb_m_s - rate
        assert error.std() < 0.35
        assert abs(error.mean()) < 0.02


def test_the_same_log_gives_the_same_bits():
    recording = recording_of(make_log(1))

    one, other = heights_of(recording), heights_of(recording)

    np.testing.assert_array_equal(one.height_m, other.height_m)
    np.testing.assert_array_equal(one.sigma_m, other.sigma_m)
