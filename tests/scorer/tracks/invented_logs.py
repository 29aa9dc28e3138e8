"""Invented flights with their logs, made once per test run and shared."""

from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from scorer.practice.flights import (
    Approach,
    FlightPlan,
    Truth,
    fly,
    random_plan,
    random_wind,
)
from scorer.practice.sensors import Logger, LoggerReading, random_logger, record
from scorer.tracks.height import LOGGER_ABOVE_GROUND_M, Heights, estimate_heights
from scorer.tracks.phases import Phases, find_phases
from scorer.tracks.recording import Day, Recording

GROUND_M = 600.0
BOTH, BARO, GNSS = "both", "baro", "gnss"


def rolling(east_m, north_m):
    """Hills of some metres, slopes of a few per cent."""
    return GROUND_M + 10.0 * np.sin(east_m / 700.0) + 8.0 * np.cos(north_m / 900.0)


@dataclass(frozen=True)
class Log:
    plan: FlightPlan
    truth: Truth
    logger: Logger
    reading: LoggerReading

    @property
    def basket_m(self):
        """True height of the basket floor at each fix."""
        return self.truth.height_m[self.reading.index]

    @property
    def way_in(self):
        """Fixes on the last kilometres to the target, before the final descent."""
        since = self.reading.time_s - self.truth.pass_s
        return (since > -420.0) & (since < -60.0)


@cache
def flight_of(seed, ride=False):
    """The flight of a seed, and the state of its chance before a logger is drawn."""
    rng = np.random.default_rng(seed)
    wind = random_wind(rng, ground_m=GROUND_M)
    approach = Approach(
        target_east_m=5000.0,
        target_north_m=4000.0,
        miss_m=float(rng.uniform(-80.0, 80.0)),
        lowest_m=float(rng.uniform(12.0, 35.0)),
        lowest_before_s=float(rng.uniform(150.0, 400.0)),
        contact_s=20.0 if seed % 3 == 0 else None,
    )
    plan = random_plan(rng, start_s=1.7e9, approach=approach)
    if ride:
        plan = replace(plan, car_before_s=500.0, car_after_s=600.0)
    truth = fly(plan, wind=wind, terrain=rolling, rng=rng)
    return plan, truth, rng.bit_generator.state


@cache
def make_log(seed, noise=1.0, ride=False, **logger_changes):
    plan, truth, state = flight_of(seed, ride)
    rng = np.random.default_rng()
    rng.bit_generator.state = state
    logger = replace(random_logger(rng, noise=noise), **logger_changes)
    return Log(plan, truth, logger, record(truth, logger, rng=rng))


def terrain_error(reading, sigma_m, seed):
    """A smooth random field over the places of the fixes, some 100 m from hill to hill."""
    if sigma_m == 0.0:
        return np.zeros_like(reading.time_s)
    rng = np.random.default_rng([seed, 77])
    waves = rng.normal(size=(2, 40)) / 300.0
    angle = np.outer(reading.east_m, waves[0]) + np.outer(reading.north_m, waves[1])
    angle += rng.uniform(0.0, 2.0 * np.pi, 40)
    return sigma_m * np.sqrt(2.0 / 40.0) * np.cos(angle).sum(axis=1)


def recording_of(log, sensors=BOTH, terrain_sigma_m=0.0, seed=0):
    reading = log.reading
    nothing = np.full(len(reading.time_s), np.nan)
    ground = rolling(reading.east_m, reading.north_m)
    return Recording(
        time_s=reading.time_s,
        east_m=reading.east_m,
        north_m=reading.north_m,
        ground_m=ground + terrain_error(reading, terrain_sigma_m, seed),
        terrain_sigma_m=np.full(len(ground), terrain_sigma_m),
        gnss_alt_m=nothing if sensors == BARO else reading.gnss_alt_m,
        pressure_alt_m=nothing if sensors == GNSS else reading.pressure_alt_m,
    )


def cut(recording, fixes):
    """The same recording with only some of its fixes."""
    arrays = {
        name: getattr(recording, name)[fixes]
        for name in recording.__slots__
        if isinstance(getattr(recording, name), np.ndarray)
    }
    return replace(recording, **arrays)


def phases_of(recording) -> Phases:
    by_baro = np.isfinite(recording.pressure_alt_m).any()
    return find_phases(
        time_s=recording.time_s,
        east_m=recording.east_m,
        north_m=recording.north_m,
        altitude_m=recording.pressure_alt_m if by_baro else recording.gnss_alt_m,
        ground_m=recording.ground_m,
        noise_m=0.6 if by_baro else 3.0,
    )


@dataclass(frozen=True)
class Estimate:
    log: Log
    heights: Heights
    phases: Phases

    @property
    def basket_m(self):
        """Estimated height of the basket floor."""
        return self.heights.height_m - LOGGER_ABOVE_GROUND_M

    @property
    def sigma_m(self):
        return self.heights.sigma_m

    @property
    def lowest(self):
        """Estimated and true lowest height on the way in, and the sigma stated."""
        where = self.log.way_in
        at = int(np.argmin(np.where(where, self.basket_m, np.inf)))
        return self.basket_m[at], self.log.basket_m[where].min(), self.sigma_m[at]


@cache
def estimated(seed, noise=1.0, sensors=BOTH, terrain_sigma_m=0.0, air_known=False):
    log = make_log(seed, noise)
    recording = recording_of(log, sensors, terrain_sigma_m, seed)
    phases = phases_of(recording)
    day = Day()
    if air_known:
        true = log.logger
        at_ground = 15.0 - 0.0065 * GROUND_M + true.warmer_k - true.inversion_k
        day = Day(qnh_hpa=true.qnh_hpa, temperature_c=at_ground, elevation_m=GROUND_M)
    return Estimate(log, estimate_heights(recording, phases.stretches, day), phases)


def errors(seeds, **settings):
    """Lowest heights of many flights: error in metres, and in stated sigmas."""
    lows = np.array([estimated(seed, **settings).lowest for seed in seeds])
    return lows[:, 0] - lows[:, 1], (lows[:, 0] - lows[:, 1]) / lows[:, 2]
