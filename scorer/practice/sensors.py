"""What a logger makes of a flight: the errors of its receiver and its barometer.

The sizes are those that makers of single-frequency receivers and of pressure chips
state, and what meteorology says of a morning's pressure: GNSS heights wander by a few
metres over minutes, barometers are quiet but carry an offset of tens of metres, creep by
metres in an hour, and stretch heights by the ratio of the day's temperature to the
standard one (ICAO Doc 7488).
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.signal import lfilter

from scorer.practice.flights import Truth

Array = NDArray[np.float64]

ISA_SEA_LEVEL_K = 288.15
ISA_LAPSE_K_M = 0.0065
"""ICAO Doc 7488, with the sea-level temperature above."""
METRES_PER_HPA = 8.3
"""Near sea level, from the hydrostatic equation: 1 / (1.2 kg/m3 x 9.81 m/s2)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Logger:
    """One logger on one day: the true sizes of its errors."""

    step_s: int = 1
    """Interval between fixes."""
    mount_m: float = 1.0
    """Height of the logger above the basket floor."""
    has_gnss: bool = True
    has_baro: bool = True
    gnss_offset_m: float = 45.0
    """Ellipsoid or geoid model against mean sea level, and the antenna."""
    gnss_sigma_m: float = 2.5
    """Correlated noise."""
    gnss_tau_s: float = 150.0
    gnss_white_m: float = 0.4
    qnh_hpa: float = 1013.25
    baro_offset_m: float = 0.0
    """Of the sensor itself."""
    baro_drift_m_h: float = 0.0
    """Weather and sensor together."""
    baro_wander_m: float = 0.4
    """One sigma of the creep that is not linear."""
    baro_wander_tau_s: float = 3600.0
    warmer_k: float = 0.0
    """Air column against the standard atmosphere."""
    inversion_k: float = 0.0
    """How much colder the air is at the ground than the column says."""
    inversion_m: float = 150.0
    """Height over which that fades."""
    baro_sigma_m: float = 0.3
    """Correlated noise: gusts, the wind on the case."""
    baro_tau_s: float = 15.0
    dips_per_h: float = 6.0
    """Short falls of pressure, from gusts and handling."""
    dip_m: float = 1.5
    horizontal_sigma_m: float = 2.0
    horizontal_tau_s: float = 120.0
    dropouts: int = 0
    dropout_s: float = 40.0
    off_before_s: float = 0.0
    """The logger is switched on that much after the truth begins."""
    off_after_s: float = 0.0
    """The logger is switched off that much before the truth ends."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoggerReading:
    """What the logger wrote; all arrays are (M,).  NaN where a sensor is missing."""

    index: NDArray[np.int64]
    """Which instants of the truth were recorded."""
    time_s: Array
    east_m: Array
    north_m: Array
    gnss_alt_m: Array
    """Whole metres."""
    pressure_alt_m: Array
    """Whole metres, standard pressure altitude (1013.25 hPa)."""
    accuracy_m: Array
    height_m: Array
    """The true height of the logger over the ground."""
    true: Mapping[str, float]
    """Everything that was drawn, by name."""


def random_logger(rng: np.random.Generator, *, noise: float = 1.0) -> Logger:
    """Draw a logger and a day; `noise` scales every error but offsets and air."""
    return Logger(
        step_s=int(rng.choice([1, 1, 1, 2, 3, 5])),
        mount_m=float(np.clip(rng.normal(1.0, 0.2), 0.4, 1.6)),
        gnss_offset_m=float(rng.uniform(-20.0, 60.0)),
        gnss_sigma_m=noise * float(rng.uniform(1.5, 4.0)),
        gnss_tau_s=float(rng.uniform(60.0, 300.0)),
        gnss_white_m=noise * float(rng.uniform(0.2, 0.7)),
        qnh_hpa=float(rng.normal(1016.0, 8.0)),
        baro_offset_m=float(rng.normal(0.0, 10.0)),
        baro_drift_m_h=noise * float(rng.normal(0.0, 2.5)),
        baro_wander_m=noise * float(rng.uniform(0.2, 0.6)),
        warmer_k=float(rng.uniform(-20.0, 20.0)),
        inversion_k=abs(float(rng.normal(0.0, 3.0))),
        inversion_m=float(rng.uniform(60.0, 250.0)),
        baro_sigma_m=noise * float(rng.uniform(0.2, 0.5)),
        baro_tau_s=float(rng.uniform(5.0, 30.0)),
        dips_per_h=float(rng.uniform(0.0, 12.0)),
        dip_m=noise * float(rng.uniform(0.5, 2.0)),
        horizontal_sigma_m=noise * float(rng.uniform(1.0, 3.0)),
        dropouts=int(rng.poisson(0.3)),
        dropout_s=float(rng.uniform(10.0, 90.0)),
    )


def record(truth: Truth, logger: Logger, *, rng: np.random.Generator) -> LoggerReading:
    """Return what the logger would have written of that flight."""
    index = _recorded(truth, logger, rng)
    since = truth.time_s[index] - truth.time_s[0]
    altitude = truth.altitude_m[index] + logger.mount_m
    ground = float(truth.ground_m[index][0])
    nothing = np.full(len(index), np.nan)
    sideways = [
        wander(since, logger.horizontal_sigma_m, logger.horizontal_tau_s, rng)
        for _ in range(2)
    ]
    accuracy = logger.horizontal_sigma_m * rng.uniform(0.8, 1.3, len(index))
    return LoggerReading(
        index=index,
        time_s=truth.time_s[index],
        east_m=truth.east_m[index] + sideways[0],
        north_m=truth.north_m[index] + sideways[1],
        gnss_alt_m=_gnss(since, altitude, logger, rng) if logger.has_gnss else nothing,
        pressure_alt_m=_baro(since, altitude, ground, logger, rng)
        if logger.has_baro
        else nothing,
        accuracy_m=np.round(accuracy, 1),
        height_m=truth.height_m[index] + logger.mount_m,
        true={**asdict(logger), "ground_m": ground},
    )


def wander(
    since_s: Array, sigma: float, tau_s: float, rng: np.random.Generator
) -> Array:
    """Return first-order Gauss-Markov noise at increasing times, evenly or not.

    Drawn on an even grid of at most a tenth of `tau_s` and read off linearly.
    """
    step = min(max(tau_s / 10.0, 0.5), 1.0) if tau_s < 10.0 else 1.0
    grid = np.arange(since_s[0], since_s[-1] + 2.0 * step, step)
    keep = float(np.exp(-step / tau_s))
    drive = rng.standard_normal(len(grid)) * sigma * np.sqrt(1.0 - keep**2)
    drive[0] = rng.standard_normal() * sigma
    return np.asarray(np.interp(since_s, grid, lfilter([1.0], [1.0, -keep], drive)))


def pressure_altitude(
    altitude_m: Array,
    *,
    ground_m: float,
    qnh_hpa: float,
    warmer_k: float,
    inversion_k: float = 0.0,
    inversion_m: float = 150.0,
) -> Array:
    """Return the standard pressure altitude where the air is `warmer_k` warmer.

    QNH ties pressure to altitude at the ground of the launch place; above and below
    it dz = (1 + warmer / T) dHp with T the standard temperature at Hp, integrated and
    solved for Hp by fixed-point rounds.  An inversion makes the air colder near the
    ground, fading exponentially upwards.  Source: hydrostatic equation with the lapse
    rate of ICAO Doc 7488.
    """
    shift = ISA_SEA_LEVEL_K / ISA_LAPSE_K_M * (1.0 - (qnh_hpa / 1013.25) ** 0.190263)
    foot = ground_m + shift
    ratio = warmer_k / ISA_LAPSE_K_M
    up = altitude_m - ground_m
    high = foot + up
    start = ISA_SEA_LEVEL_K - ISA_LAPSE_K_M * foot
    fade = np.where(up > 0.0, -inversion_m * np.expm1(-up / inversion_m), up)
    lift = up + inversion_k / start * fade
    for _ in range(6):
        here = ISA_SEA_LEVEL_K - ISA_LAPSE_K_M * high
        high = foot + lift + ratio * np.log(here / start)
    return np.asarray(high)


def _gnss(
    since: Array, altitude: Array, logger: Logger, rng: np.random.Generator
) -> Array:
    noise = wander(since, logger.gnss_sigma_m, logger.gnss_tau_s, rng)
    noise = noise + logger.gnss_white_m * rng.standard_normal(len(since))
    return np.round(altitude + logger.gnss_offset_m + noise)


def _baro(
    since: Array,
    altitude: Array,
    ground: float,
    logger: Logger,
    rng: np.random.Generator,
) -> Array:
    high = pressure_altitude(
        altitude,
        ground_m=ground,
        qnh_hpa=logger.qnh_hpa,
        warmer_k=logger.warmer_k,
        inversion_k=logger.inversion_k,
        inversion_m=logger.inversion_m,
    )
    creep = logger.baro_drift_m_h * since / 3600.0
    creep = creep + wander(since, logger.baro_wander_m, logger.baro_wander_tau_s, rng)
    noise = wander(since, logger.baro_sigma_m, logger.baro_tau_s, rng)
    dips = _dips(since, logger, rng)
    return np.round(high + logger.baro_offset_m + creep + noise + dips)


def _dips(since: Array, logger: Logger, rng: np.random.Generator) -> Array:
    """Return short bumps of pressure altitude of either sign, 3 to 8 s long."""
    hours = (since[-1] - since[0]) / 3600.0
    count = int(rng.poisson(logger.dips_per_h * hours))
    when = rng.uniform(since[0], since[-1], count)
    size = logger.dip_m * rng.choice([1.0, 1.0, -1.0], count) * rng.random(count)
    width = rng.uniform(1.0, 3.0, count)
    shape = np.exp(-0.5 * ((since[:, None] - when) / width) ** 2)
    return np.asarray(shape @ size)


def _recorded(
    truth: Truth, logger: Logger, rng: np.random.Generator
) -> NDArray[np.int64]:
    """Return the instants that reach the log: interval, on and off, drop-outs."""
    since = truth.time_s - truth.time_s[0]
    step = max(round(logger.step_s / (since[1] - since[0])), 1)
    keep = np.zeros(len(since), dtype=bool)
    keep[::step] = True
    keep &= since >= logger.off_before_s
    keep &= since <= since[-1] - logger.off_after_s
    for start in rng.uniform(0.0, since[-1], logger.dropouts):
        keep &= (since < start) | (since > start + logger.dropout_s)
    return np.flatnonzero(keep)
