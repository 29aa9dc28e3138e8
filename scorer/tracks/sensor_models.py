"""How the sensors of a logger err before its flight is looked at.

Sizes with their physical reasons; what the log itself tells of its noise joins them.
"""

from dataclasses import replace

import numpy as np

from scorer.geodesy.atmosphere import pressure_altitude_m, standard_temperature_c
from scorer.tracks.noise import GnssNoise, gnss_against_baro, mean_share
from scorer.tracks.offset import Observations, SensorModel
from scorer.tracks.recording import Day, Recording

STAND_SIGMA_M = 0.15
"""From one stand to the next: a basket on its side, grass, a logger in the hand, and
the half metre that a logger's whole metres may hide."""
TERRAIN_LENGTH_M = 300.0
"""Errors of an elevation grid resemble each other over a few of its posts."""
BARO_FAST_M = 0.4
"""Short noise of a barometer in an open basket, whole metres of the log included."""
BARO_FAST_TAU_S = 15.0
BARO_DRIFT_M_H = 1.2
"""Of the sensor itself; the pressure's own trend is the air's (`air.py`)."""
BARO_WANDER_M = 0.5
"""What creeps and is not linear: the sensor warming up, gusts of the hour.  Taken larger
for a sensor that trembles more than `BARO_FAST_M` on the ground, and smaller for a quiet
one: both come from the same chip in the same case."""
WANDER_RANGE = (0.7, 2.5)
BARO_WANDER_TAU_S = 3600.0
METRES_PER_HPA = 8.3
"""Near sea level, hydrostatic equation."""
BARO_OFFSET_M = 10.0
"""Of a sensor with QNH known: a consumer chip is specified to 1 hPa."""
QNH_UNKNOWN_HPA = 10.0
WARM_SIGMA_K = 12.0
"""The lower air against the standard atmosphere over the seasons, two sigma 24 K."""
INVERSION_SIGMA_K = 4.0
"""The lowest layer against the air above; balloons fly when the morning is calm."""
READ_TEMPERATURE_K = 2.0
"""A temperature read in the shade somewhere near, against the air over the field."""
GNSS_DRIFT_M_H = 0.3


def baro_model(
    recording: Recording, day: Day, fast_m: float, width_s: float
) -> SensorModel:
    """Describe the barometer before the flight is looked at."""
    mean, spread = _temperature_prior(recording, day)
    sigma = BARO_OFFSET_M
    shift = 0.0
    if day.qnh_hpa is None:
        sigma = float(np.hypot(sigma, QNH_UNKNOWN_HPA * METRES_PER_HPA))
    else:
        shift = -float(pressure_altitude_m(day.qnh_hpa))
    return SensorModel(
        offset_m=shift,
        offset_sigma_m=sigma,
        drift_m_h=BARO_DRIFT_M_H,
        wander_m=BARO_WANDER_M * float(np.clip(fast_m / BARO_FAST_M, *WANDER_RANGE)),
        wander_tau_s=BARO_WANDER_TAU_S,
        warm_k=mean,
        warm_cov_k2=spread,
        stand_m=STAND_SIGMA_M,
        fast_m=fast_m * float(np.sqrt(mean_share(width_s, BARO_FAST_TAU_S))),
        terrain_length_m=TERRAIN_LENGTH_M,
    )


def gnss_noise(by_gnss: Observations) -> GnssNoise:
    """Judge the receiver by the barometer."""
    return gnss_against_baro(
        by_gnss.time_s, by_gnss.value_m, by_gnss.warm, by_gnss.inversion
    )


def with_gnss(
    model: SensorModel, recording: Recording, noise: GnssNoise
) -> SensorModel:
    """Add the receiver to the barometer."""
    return replace(
        model,
        gnss_offset_sigma_m=recording.gnss_offset_sigma_m,
        gnss_sigma_m=noise.sigma_m,
        gnss_tau_s=noise.tau_s,
        gnss_white_m=0.1 * noise.sigma_m,
    )


def gnss_model(recording: Recording, noise: GnssNoise, width_s: float) -> SensorModel:
    """Describe GNSS alone: its noise is the wandering."""
    return SensorModel(
        offset_m=0.0,
        offset_sigma_m=recording.gnss_offset_sigma_m,
        drift_m_h=GNSS_DRIFT_M_H,
        wander_m=noise.sigma_m,
        wander_tau_s=noise.tau_s,
        warm_k=(0.0, 0.0),
        warm_cov_k2=((0.0, 0.0), (0.0, 0.0)),
        stand_m=STAND_SIGMA_M,
        fast_m=noise.sigma_m
        * float(np.sqrt(max(1.0 - mean_share(width_s, noise.tau_s), 0.01))),
        terrain_length_m=TERRAIN_LENGTH_M,
    )


def _temperature_prior(
    recording: Recording, day: Day
) -> tuple[tuple[float, float], tuple[tuple[float, float], tuple[float, float]]]:
    """Return mean and covariance of warmth and inversion, given a reading if any.

    A reading near the ground tells their sum; one line of Bayes' rule does the rest.
    """
    warm, inversion = WARM_SIGMA_K**2, INVERSION_SIGMA_K**2
    if day.temperature_c is None:
        return (0.0, 0.0), ((warm, 0.0), (0.0, inversion))
    elevation = day.elevation_m
    if elevation is None:
        known = recording.ground_m[np.isfinite(recording.ground_m)]
        elevation = float(known[0]) if known.size else 0.0
    excess = day.temperature_c - float(standard_temperature_c(elevation))
    whole = warm + inversion + READ_TEMPERATURE_K**2
    mean = (warm / whole * excess, inversion / whole * excess)
    shared = -warm * inversion / whole
    return mean, (
        (warm - warm**2 / whole, shared),
        (shared, inversion - inversion**2 / whole),
    )
