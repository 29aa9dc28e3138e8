"""Invented flights with a known truth, through invented loggers, ready for the checks."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from scorer.practice.flights import Approach, Truth, fly, random_plan, random_wind
from scorer.practice.sensors import Logger, random_logger, record
from scorer.tracks.flown import Flown
from scorer.tracks.height import LOGGER_ABOVE_GROUND_M, estimate_heights
from scorer.tracks.phases import find_phases
from scorer.tracks.recording import Day, Recording
from tests.scorer.checks.invented import CENTRE, START_S, track

TERRAIN_SIGMA_M = 0.5
"""An elevation grid from a laser scan, crops included."""
TOUCH, LOW_PASS, PASS = "touch", "low pass", "pass"


@dataclass(frozen=True)
class Practised:
    kind: str
    truth: Truth
    logger: Logger
    flown: Flown
    """What the log shows."""
    real: Flown
    """What happened, in the same form."""


def hills(east_m, north_m):
    return (
        640.0
        + 12.0 * np.sin((east_m - CENTRE[0]) / 900.0)
        + 9.0 * np.cos((north_m - CENTRE[1]) / 700.0)
    )


def survey_error(rng, east_m, north_m):
    """A smooth random field, some 300 m from hill to hill."""
    waves = rng.normal(0.0, 1.0 / 300.0, (2, 12))
    angle = np.outer(east_m - CENTRE[0], waves[0])
    angle += np.outer(north_m - CENTRE[1], waves[1])
    angle += rng.uniform(0.0, 2.0 * np.pi, 12)
    return TERRAIN_SIGMA_M * np.sqrt(2.0 / 12.0) * np.cos(angle).sum(axis=1)


def approach(kind, rng):
    touch = kind == TOUCH
    return Approach(
        target_east_m=CENTRE[0],
        target_north_m=CENTRE[1],
        miss_m=float(rng.normal(0.0, 20.0)),
        lowest_m=float(rng.uniform(13.0, 34.0)),
        descent_s=float(rng.uniform(40.0, 90.0)),
        pass_m=3.0
        if kind == LOW_PASS
        else float(rng.uniform(1.5 if touch else 2.5, 9.0)),
        contact_s=float(rng.uniform(-20.0, 5.0)) if touch else None,
        contact_drag=float(rng.uniform(0.2, 0.9)),
    )


@cache
def practised(seed, kind):
    rng = np.random.default_rng(seed)
    wind = random_wind(rng, ground_m=640.0)
    plan = random_plan(rng, start_s=START_S, approach=approach(kind, rng))
    truth = fly(plan, wind=wind, terrain=hills, rng=rng)
    logger = random_logger(rng)
    return Practised(kind, truth, logger, logged(truth, logger, rng), real(truth))


def logged(truth, logger, rng):
    """The flight as readers, phases and heights make it from what the logger wrote."""
    reading = record(truth, logger, rng=rng)
    east, north = reading.east_m, reading.north_m
    ground = hills(east, north) + survey_error(rng, east, north)
    phases = find_phases(
        time_s=reading.time_s,
        east_m=east,
        north_m=north,
        altitude_m=reading.pressure_alt_m,
        ground_m=ground,
        noise_m=0.6,
    )
    recording = Recording(
        time_s=reading.time_s,
        east_m=east,
        north_m=north,
        ground_m=ground,
        terrain_sigma_m=np.full(len(ground), TERRAIN_SIGMA_M),
        gnss_alt_m=reading.gnss_alt_m,
        pressure_alt_m=reading.pressure_alt_m,
    )
    heights = estimate_heights(recording, phases.stretches, Day(qnh_hpa=logger.qnh_hpa))
    return track(
        reading.time_s - START_S,
        east - CENTRE[0],
        heights.height_m - LOGGER_ABOVE_GROUND_M,
        north_m=north - CENTRE[1],
        sigma_m=heights.sigma_m,
        ground_m=ground,
        climb_m_s=heights.climb_m_s,
        altitude_m=heights.altitude_m,
        accuracy_m=reading.accuracy_m,
        launch=phases.launch,
        landing=phases.landing,
        anchored=heights.anchored,
    )


def real(truth):
    return track(
        truth.time_s - START_S,
        truth.east_m - CENTRE[0],
        truth.height_m,
        north_m=truth.north_m - CENTRE[1],
        sigma_m=0.001,
        ground_m=truth.ground_m,
        launch=int(np.searchsorted(truth.time_s, truth.launch_s)),
        landing=int(np.searchsorted(truth.time_s, truth.landing_s)),
    )
