"""What the height estimate starts from: one log's fixes, and the air of the day."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scorer.tracks.flown import Array
from scorer.tracks.noise import GnssNoise

FALL_M_S = 1.5
"""Vertical speed that a fix without any altitude may hide."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """What is known of the air; None where nobody noted it."""

    qnh_hpa: float | None = None
    temperature_c: float | None = None
    """Of the air at `elevation_m`."""
    elevation_m: float | None = None
    """Where the temperature was read; None = at the ground of the flight."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Recording:
    """One logger's fixes as the height estimate needs them; arrays are (N,)."""

    time_s: Array
    """Seconds, strictly increasing."""
    east_m: Array
    north_m: Array
    ground_m: Array
    """Terrain, NaN where unknown."""
    terrain_sigma_m: Array
    """One sigma of `ground_m`."""
    gnss_alt_m: Array
    """NaN where not recorded or not trusted."""
    pressure_alt_m: Array
    """Standard pressure altitude (1013.25 hPa), NaN where not recorded."""
    gnss_offset_sigma_m: float = 40.0
    """Of the receiver's datum against mean sea level, before a ground stretch is seen:
    geoid and ellipsoid are up to 100 m apart."""
    place_sigma_m: Array | float = 0.0
    """(N,) height that the error of a fix's place makes on a slope, one sigma."""
    datum: str = ""
    """What the receiver's altitudes count from, by its own account."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MainSensor:
    """The sensor that gives the shape of the flight, its gaps filled."""

    altitude_m: Array
    filled_sigma_m: Array
    """0 where recorded."""
    barometer: bool


def main_sensor(recording: Recording) -> MainSensor | None:
    """Take the barometer if it covers half of the fixes, else GNSS."""
    baro, gnss = recording.pressure_alt_m, recording.gnss_alt_m
    has_baro = np.isfinite(baro)
    if 2 * np.count_nonzero(has_baro) >= max(len(baro), 2):
        return _filled(recording.time_s, baro, gnss, barometer=True)
    if np.isfinite(gnss).any():
        return _filled(recording.time_s, gnss, baro, barometer=False)
    return None


def _filled(time: Array, main: Array, other: Array, *, barometer: bool) -> MainSensor:
    """Bridge gaps of one sensor along the other's shape, or else linearly."""
    known = np.isfinite(main)
    if known.all():
        return MainSensor(
            altitude_m=main, filled_sigma_m=np.zeros_like(main), barometer=barometer
        )
    good, along, wander = known, main, np.zeros_like(main)
    both = known & np.isfinite(other)
    if both.any():
        away = _away_s(time, known)
        beside = other + np.interp(time, time[both], (main - other)[both])
        wander = GnssNoise.PRIOR_SIGMA_M * np.sqrt(np.minimum(away / 150.0, 1.0))
        follow = ~known & np.isfinite(other) & (wander < FALL_M_S * away)
        good, along = known | follow, np.where(known, main, beside)
    sigma = wander + FALL_M_S * _away_s(time, good)  # 0 where followed or known
    return MainSensor(
        altitude_m=np.interp(time, time[good], along[good]),
        filled_sigma_m=np.where(known, 0.0, sigma),
        barometer=barometer,
    )


def _away_s(time: Array, known: NDArray[np.bool_]) -> Array:
    """Return the time to the nearest known fix."""
    good = time[known]
    after = np.clip(np.searchsorted(good, time), 0, len(good) - 1)
    before = np.maximum(after - 1, 0)
    return np.asarray(
        np.minimum(np.abs(good[after] - time), np.abs(time - good[before]))
    )
