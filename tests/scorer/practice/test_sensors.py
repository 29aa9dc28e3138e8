"""The logger model: its errors have the sizes that were asked for."""

import csv
from pathlib import Path

import numpy as np
import pytest

from scorer.practice.flights import FlightPlan, fly, random_wind
from scorer.practice.sensors import (
    Logger,
    pressure_altitude,
    random_logger,
    record,
    wander,
)

DATA = Path(__file__).parents[4] / "shared/data/atmosphere"


def flat(east_m, north_m):
    return np.full(np.broadcast(east_m, north_m).shape, 500.0)


def truth(seed=0):
    rng = np.random.default_rng(seed)
    wind = random_wind(rng, ground_m=500.0)
    plan = FlightPlan(start_s=1.7e9)
    return fly(plan, wind=wind, terrain=flat, rng=rng)


def test_wander_has_its_sigma_and_time_constant():
    rng = np.random.default_rng(3)
    noise = wander(np.arange(400_000.0), 2.0, 50.0, rng)

    lag = np.corrcoef(noise[:-50], noise[50:])[0, 1]
    assert noise.std() == pytest.approx(2.0, rel=0.05)
    assert lag == pytest.approx(np.exp(-1.0), abs=0.05)


def test_a_perfect_logger_shows_the_altitude_in_whole_metres():
    flight = truth()
    perfect = Logger(
        gnss_offset_m=0.0, gnss_sigma_m=0.0, gnss_white_m=0.0, baro_wander_m=0.0,
        baro_sigma_m=0.0, dips_per_h=0.0, horizontal_sigma_m=0.0,
    )  # fmt: skip

    reading = record(flight, perfect, rng=np.random.default_rng(0))

    wanted = flight.altitude_m + 1.0
    assert np.abs(reading.gnss_alt_m - wanted).max() <= 0.5 + 1e-9
    assert np.abs(reading.pressure_alt_m - wanted).max() <= 0.5 + 1e-9
    np.testing.assert_allclose(reading.east_m, flight.east_m)


def test_pressure_altitude_in_standard_air_is_the_altitude():
    high = np.array([0.0, 500.0, 3000.0])

    got = pressure_altitude(high, ground_m=500.0, qnh_hpa=1013.25, warmer_k=0.0)

    np.testing.assert_allclose(got, high, atol=1e-9)


def test_warm_air_stretches_heights_by_the_ratio_of_temperatures():
    """Hydrostatic equation: 15 K warmer near 288 K is 5 per cent, by hand."""
    got = pressure_altitude(
        np.array([100.0]), ground_m=0.0, qnh_hpa=1013.25, warmer_k=15.0
    )

    assert got[0] == pytest.approx(100.0 * 288.15 / 303.15, abs=0.1)


def test_qnh_shifts_pressure_altitude_as_the_published_table_says():
    """ICAO Doc 7488 table: the altitude at which the standard pressure is the QNH."""
    table = DATA / "icao_doc7488_table_ambiance.csv"
    if not table.exists():
        pytest.skip("reference data not beside the checkout")
    lines = [line for line in table.read_text().splitlines() if line[:1] != "#"]
    rows = list(csv.DictReader(lines))
    high = next(k for k in rows[0] if "geopotential" in k.lower() or k == "H_m")
    pressure = next(k for k in rows[0] if "pressure" in k.lower() or k == "p_Pa")
    for row in rows:
        if 0.0 <= float(row[high]) <= 3000.0:
            hpa = float(row[pressure]) / 100.0
            got = pressure_altitude(
                np.zeros(1), ground_m=0.0, qnh_hpa=hpa, warmer_k=0.0
            )
            assert got[0] == pytest.approx(float(row[high]), abs=0.6)


def test_drop_outs_intervals_and_missing_sensors_are_as_asked():
    flight = truth()
    logger = Logger(
        step_s=3, dropouts=1, dropout_s=60.0, has_baro=False, off_before_s=100.0
    )

    reading = record(flight, logger, rng=np.random.default_rng(2))

    steps = np.diff(reading.time_s)
    assert np.median(steps) == pytest.approx(3.0)
    assert steps.max() > 59.0
    assert np.isnan(reading.pressure_alt_m).all()
    assert reading.time_s[0] >= flight.time_s[0] + 100.0


def test_twice_the_noise_is_twice_the_sigma():
    one = random_logger(np.random.default_rng(9))
    two = random_logger(np.random.default_rng(9), noise=2.0)

    assert two.gnss_sigma_m == pytest.approx(2.0 * one.gnss_sigma_m)
    assert two.gnss_offset_m == one.gnss_offset_m


def test_the_same_seed_records_the_same_log():
    flight = truth()
    logs = [record(flight, Logger(), rng=np.random.default_rng(4)) for _ in range(2)]

    np.testing.assert_array_equal(logs[0].gnss_alt_m, logs[1].gnss_alt_m)
