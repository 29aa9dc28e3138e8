"""Height above the ground of each fix, with the uncertainty it deserves.

A barometer is quiet but stands off by tens of metres and creeps; a GNSS receiver does not
creep but wanders by metres within minutes.  On the ground the height is known.  So the
barometer gives the shape of the flight, the ground stretches and GNSS give what has to be
added to it (`offset`), and the sigma holds all that remains: the creep since the nearest
ground stretch, the stretching of heights by the day's temperature, the terrain, the place
of the logger in the basket, and the sensor's short noise.

Where no barometer was recorded, GNSS takes its place.  Without a ground stretch the result
stands on the absolute offsets alone: its sigma is tens of metres and `anchored` is False.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from scorer.geodesy.atmosphere import (
    LAPSE_RATE_K_PER_M,
    STANDARD_TEMPERATURE_K,
    pressure_altitude_m,
    standard_temperature_c,
)
from scorer.tracks.flown import Array
from scorer.tracks.noise import (
    GnssNoise,
    gnss_against_baro,
    gnss_alone,
    mean_share,
    short_noise,
)
from scorer.tracks.offset import (
    Knots,
    Offset,
    Seen,
    SensorModel,
    estimate_offset,
)
from scorer.tracks.phases import Stretch
from scorer.tracks.smooth import climb_rate, smooth_heights

LOGGER_ABOVE_GROUND_M = 1.0
"""Height of a logger over the ground while the basket stands: it hangs from a pole or
lies on a tank, inside a basket 1.1 m high (common practice, no source).  Heights are those
of a logger mounted so; less this number they are heights of the basket's floor, and there
the true place of the logger cancels out, since it is the same standing and flying."""
STAND_SIGMA_M = 0.15
"""From one stand to the next: a basket on its side, grass, a logger in the hand, and
the half metre that a logger's whole metres may hide."""
TERRAIN_LENGTH_M = 300.0
"""Errors of an elevation grid resemble each other over a few of its posts."""

INTERVAL_S = 45.0
"""Means are taken over this long; shorter than GNSS noise remembers."""
MOST_INTERVALS = 120
AROUND_FLIGHT_S = 1800.0
"""Standing longer than this before or after the flight adds nothing."""

BARO_FAST_M = 0.4
"""Short noise of a barometer in an open basket, whole metres of the log included."""
BARO_FAST_TAU_S = 15.0
BARO_DRIFT_M_H = 3.0
"""A pressure tendency of 1 hPa in three hours is 2.8 m in each; strong, not rare."""
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
INVERSION_SIGMA_K = 3.0
"""The lowest layer against the air above; balloons fly when the morning is calm."""
INVERSION_HEIGHT_M = 150.0
READ_TEMPERATURE_K = 2.0
"""A temperature read in the shade somewhere near, against the air over the field."""
GNSS_DRIFT_M_H = 0.3
OUTLIER = 5.0
"""A mean of GNSS this many sigmas off is left out."""
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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Heights:
    """Heights of the logger; arrays are (N,)."""

    height_m: Array
    """Above the terrain; NaN where the terrain is unknown."""
    sigma_m: Array
    altitude_m: Array
    """Above mean sea level."""
    climb_m_s: Array
    anchored: bool
    """A ground stretch fixed the offsets."""


def estimate_heights(
    recording: Recording, stretches: Sequence[Stretch], day: Day
) -> Heights:
    """Join both sensors, the ground stretches and the terrain into heights.

    Without any altitude all heights are NaN.
    """
    time = recording.time_s
    main = _main_sensor(recording)
    if main is None:
        nothing = np.full(len(time), np.nan)
        return Heights(
            height_m=nothing,
            sigma_m=nothing,
            altitude_m=nothing,
            climb_m_s=nothing,
            anchored=False,
        )
    noise = BARO_FAST_M if main.barometer else GnssNoise.PRIOR_WHITE_M
    x = smooth_heights(time, main.altitude_m, noise)
    warm, inversion = _temperature_part(x, stretches, main)
    fast = _fast_noise(time, x, stretches, main)
    offset = _offset(
        recording=recording,
        stretches=stretches,
        day=day,
        main=main,
        x=x,
        parts=(warm, inversion),
        fast_m=fast,
    )
    lift, variance = offset.at(time - time[0], warm, inversion)
    altitude = x + lift
    short = fast**2 if main.barometer else GnssNoise.PRIOR_WHITE_M**2
    sigma = np.sqrt(variance + short + main.filled_sigma_m**2)
    return Heights(
        height_m=altitude - recording.ground_m,
        sigma_m=np.where(np.isnan(recording.ground_m), np.nan, sigma),
        altitude_m=altitude,
        climb_m_s=climb_rate(time, main.altitude_m, noise)
        * _stretching(offset, x, main),
        anchored=_any_known(recording, stretches),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Main:
    """The sensor that gives the shape of the flight, its gaps filled."""

    altitude_m: Array
    filled_sigma_m: Array
    """0 where recorded."""
    barometer: bool


def _main_sensor(recording: Recording) -> _Main | None:
    """Take the barometer if it covers half of the fixes, else GNSS."""
    baro, gnss = recording.pressure_alt_m, recording.gnss_alt_m
    has_baro = np.isfinite(baro)
    if 2 * np.count_nonzero(has_baro) >= max(len(baro), 2):
        return _filled(recording.time_s, baro, gnss, barometer=True)
    if np.isfinite(gnss).any():
        return _filled(recording.time_s, gnss, baro, barometer=False)
    return None


def _filled(time: Array, main: Array, other: Array, *, barometer: bool) -> _Main:
    """Bridge gaps of one sensor along the other's shape, or else linearly."""
    known = np.isfinite(main)
    if known.all():
        return _Main(
            altitude_m=main, filled_sigma_m=np.zeros_like(main), barometer=barometer
        )
    base = np.interp(time, time[known], main[known])
    away = _away_s(time, known)
    sigma = FALL_M_S * away
    both = known & np.isfinite(other)
    if both.any():
        along = other + np.interp(time, time[both], (main - other)[both])
        wander = GnssNoise.PRIOR_SIGMA_M * np.sqrt(np.minimum(away / 150.0, 1.0))
        follow = ~known & np.isfinite(other) & (wander < sigma)
        base = np.where(follow, along, base)
        sigma = np.where(follow, wander, sigma)
    return _Main(
        altitude_m=np.where(known, main, base),
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


def _temperature_part(
    x: Array, stretches: Sequence[Stretch], main: _Main
) -> tuple[Array, Array]:
    """Return metres that each kelvin over standard adds, and each of inversion.

    dz = (1 + K / T) dHp with T the standard temperature at pressure altitude Hp, counted
    from the ground of the flight; the inversion fades with height.  While standing the
    mean reading is taken: else its noise would look like an answer to temperature.
    """
    if not main.barometer:
        return np.zeros_like(x), np.zeros_like(x)
    x = x.copy()
    for run in stretches:
        x[run.fixes] = x[run.fixes].mean()
    stood = [float(x[run.first]) for run in stretches]
    foot = float(np.mean(stood)) if stood else float(x.min())
    here = STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * x
    start = STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * foot
    warm = np.log(start / here) / LAPSE_RATE_K_PER_M
    up = x - foot
    faded = -np.expm1(-np.maximum(up, 0.0) / INVERSION_HEIGHT_M) * INVERSION_HEIGHT_M
    return warm, np.where(up > 0.0, faded, up) / start


def _stretching(offset: Offset, x: Array, main: _Main) -> Array:
    """Return the ratio of a true climb to one read off the main sensor."""
    if not main.barometer:
        return np.ones_like(x)
    return np.asarray(
        1.0 + offset.warm_k[0] / (STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * x)
    )


def _fast_noise(
    time: Array, x: Array, stretches: Sequence[Stretch], main: _Main
) -> float:
    if not main.barometer:
        return GnssNoise.PRIOR_WHITE_M
    return short_noise(time, x, stretches, BARO_FAST_M, BARO_FAST_TAU_S)


def _any_known(recording: Recording, stretches: Sequence[Stretch]) -> bool:
    return any(np.isfinite(recording.ground_m[run.fixes]).any() for run in stretches)


def _offset(
    *,
    recording: Recording,
    stretches: Sequence[Stretch],
    day: Day,
    main: _Main,
    x: Array,
    parts: tuple[Array, Array],
    fast_m: float,
) -> Offset:
    """Gather what is seen of the offset in short intervals and estimate it."""
    bins = _Bins.around(recording.time_s, stretches)
    on_ground = _seen_on_ground(recording, stretches, bins, x, parts)
    by_gnss = _seen_by_gnss(recording, bins, x, parts) if main.barometer else None
    seen = on_ground if by_gnss is None else _joined(on_ground, by_gnss)
    if main.barometer:
        model = _baro_model(recording, day, fast_m, bins.width_s)
        if by_gnss is not None:
            model = _with_gnss(model, recording, by_gnss)
    else:
        noise = gnss_alone(recording.time_s, x, stretches)
        model = _gnss_model(recording, noise, bins.width_s)
    knots = _knots(recording, bins)
    offset = estimate_offset(seen, knots, model)
    good = (seen.stretch >= 0) | (np.abs(offset.misfit) < OUTLIER)
    if not good.all():
        offset = estimate_offset(_kept(seen, good), knots, model)
    return offset


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Bins:
    """Even intervals around the flight."""

    number: NDArray[np.intp]
    """(N,) interval of each fix; -1 = outside."""
    centre_s: Array
    """(K,) since the first fix of the log."""
    width_s: float

    @classmethod
    def around(cls, time_s: Array, stretches: Sequence[Stretch]) -> "_Bins":
        since = time_s - time_s[0]
        begin, end = 0.0, float(since[-1])
        if stretches:
            begin = max(begin, since[stretches[0].last] - AROUND_FLIGHT_S)
        if len(stretches) > 1:
            end = min(end, since[stretches[-1].first] + AROUND_FLIGHT_S)
        width = max(INTERVAL_S, (end - begin) / MOST_INTERVALS)
        number = np.floor((since - begin) / width).astype(np.intp)
        count = int((end - begin) // width) + 1
        number = np.where((number < 0) | (number >= count), -1, number)
        return cls(
            number=number,
            centre_s=np.asarray(begin + (np.arange(count) + 0.5) * width, dtype=float),
            width_s=width,
        )


def _means(
    key: NDArray[np.intp], columns: Sequence[Array]
) -> tuple[NDArray[np.intp], list[Array]]:
    """Return the keys that occur, increasing, and the mean of each column under each."""
    size = np.bincount(key)
    found = np.flatnonzero(size)
    sums = [np.bincount(key, weights=column)[found] for column in columns]
    return found, [total / size[found] for total in sums]


def _seen(
    recording: Recording,
    bins: _Bins,
    *,
    fixes: NDArray[np.intp],
    value: Array,
    parts: tuple[Array, Array],
    stretch: Array,
) -> Seen:
    """Average observations over intervals, apart for each stretch."""
    fixes = fixes[bins.number[fixes] >= 0]
    count = len(bins.centre_s)
    key = bins.number[fixes] + count * (stretch[fixes].astype(np.intp) + 1)
    columns = (
        value,
        recording.east_m,
        recording.north_m,
        recording.terrain_sigma_m,
        parts[0],
        parts[1],
    )
    found, means = _means(key, [column[fixes] for column in columns])
    return Seen(
        value_m=means[0],
        time_s=bins.centre_s[found % count],
        east_m=means[1],
        north_m=means[2],
        terrain_sigma_m=means[3],
        warm=means[4],
        inversion=means[5],
        stretch=np.asarray(found // count - 1, dtype=float),
        width_s=bins.width_s,
    )


def _seen_on_ground(
    recording: Recording,
    stretches: Sequence[Stretch],
    bins: _Bins,
    x: Array,
    parts: tuple[Array, Array],
) -> Seen:
    stretch = np.full(len(x), -1.0)
    for number, run in enumerate(stretches):
        stretch[run.fixes] = number
    value = recording.ground_m + LOGGER_ABOVE_GROUND_M - x
    fixes = np.flatnonzero((stretch >= 0) & np.isfinite(value))
    return _seen(
        recording, bins, fixes=fixes, value=value, parts=parts, stretch=stretch
    )


def _seen_by_gnss(
    recording: Recording, bins: _Bins, x: Array, parts: tuple[Array, Array]
) -> Seen | None:
    value = recording.gnss_alt_m - x
    fixes = np.flatnonzero(np.isfinite(value))
    if not fixes.size:
        return None
    nowhere = np.full(len(x), -1.0)
    return _seen(
        recording, bins, fixes=fixes, value=value, parts=parts, stretch=nowhere
    )


def _joined(one: Seen, other: Seen) -> Seen:
    names = (
        "value_m",
        "time_s",
        "east_m",
        "north_m",
        "terrain_sigma_m",
        "warm",
        "inversion",
        "stretch",
    )
    both = {name: np.r_[getattr(one, name), getattr(other, name)] for name in names}
    return Seen(**both, width_s=one.width_s)


def _kept(seen: Seen, good: NDArray[np.bool_]) -> Seen:
    return replace(
        seen,
        value_m=seen.value_m[good],
        time_s=seen.time_s[good],
        east_m=seen.east_m[good],
        north_m=seen.north_m[good],
        terrain_sigma_m=seen.terrain_sigma_m[good],
        warm=seen.warm[good],
        inversion=seen.inversion[good],
        stretch=seen.stretch[good],
    )


def _knots(recording: Recording, bins: _Bins) -> Knots:
    """Return the middles of the intervals and the places there."""
    since = recording.time_s - recording.time_s[0]
    sigma = np.interp(bins.centre_s, since, recording.terrain_sigma_m)
    return Knots(
        time_s=bins.centre_s,
        east_m=np.interp(bins.centre_s, since, recording.east_m),
        north_m=np.interp(bins.centre_s, since, recording.north_m),
        terrain_sigma_m=sigma,
    )


def _baro_model(
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


def _with_gnss(model: SensorModel, recording: Recording, by_gnss: Seen) -> SensorModel:
    noise = gnss_against_baro(
        by_gnss.time_s, by_gnss.value_m, by_gnss.warm, by_gnss.inversion
    )
    return replace(
        model,
        gnss_offset_sigma_m=recording.gnss_offset_sigma_m,
        gnss_sigma_m=noise.sigma_m,
        gnss_tau_s=noise.tau_s,
        gnss_white_m=0.1 * noise.sigma_m,
    )


def _gnss_model(recording: Recording, noise: GnssNoise, width_s: float) -> SensorModel:
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
