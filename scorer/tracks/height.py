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

from scorer.geodesy.atmosphere import LAPSE_RATE_K_PER_M, STANDARD_TEMPERATURE_K
from scorer.tracks.air import TREND_SIGMA_M_H, Air, PooledLogs, View, own_lag, view_of
from scorer.tracks.columns import rows
from scorer.tracks.flown import Array
from scorer.tracks.intervals import (
    Intervals,
    interval_means,
    joined,
    knots_of,
    seen_by_gnss,
    seen_on_ground,
)
from scorer.tracks.noise import GnssNoise, gnss_alone, short_noise
from scorer.tracks.offset import (
    HOUR_S,
    Knots,
    Observations,
    SensorModel,
    estimate_offset,
    misfit,
)
from scorer.tracks.plain import diffs, marked, mean, median
from scorer.tracks.recording import Day, MainSensor, Recording, main_sensor
from scorer.tracks.sensor_models import (
    BARO_FAST_M,
    BARO_FAST_TAU_S,
    baro_model,
    gnss_model,
    gnss_noise,
    with_gnss,
)
from scorer.tracks.smooth import climb_rate, smooth_heights
from scorer.tracks.stands import Stretch

Half = NDArray[np.float32]
"""Half a millimetre in five kilometres; it halves what all logs of a flight hold."""

LOGGER_ABOVE_GROUND_M = 1.0
"""Height of a logger over the ground while the basket stands: it hangs from a pole or
lies on a tank, inside a basket 1.1 m high (common practice, no source).  Heights are those
of a logger mounted so; less this number they are heights of the basket's floor, and there
the true place of the logger cancels out, since it is the same standing and flying."""
INVERSION_HEIGHT_M = 150.0
"""A ground inversion of a clear night fades over one to three hundred metres."""
WHOLE_METRE_SIGMA_M = 0.29
"""Of a value rounded to a whole metre: 1 / sqrt(12)."""
BUSY_SHARE = 0.25
"""So much of a flight is lively; there the smoother hardly takes off short noise."""
GAP_STEPS = 4.0
"""So many usual intervals without a fix are a gap."""
OUTLIER = 5.0
"""A mean of GNSS this many sigmas off its neighbours is left out."""
MEAN_PLACE = 0.6
"""Share of a place's error that is left in the mean over a stand of some minutes."""
MOST_ROUNDS = 8
SUSPECT_M = 7.0
"""GNSS noise larger than this suggests that single altitudes are wild."""


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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shape:
    """One log's flight before its air is known; arrays are (N,).  Picklable."""

    x: Half
    """The main sensor, smoothed."""
    climb_m_s: Half
    """Vertical speed as the sensor shows it."""
    warm: Half
    inversion: Half
    own_variance_m2: Half
    """Short noise, filled gaps, rounding, the slope of the ground times the place."""
    barometer: bool
    seen: Observations
    knots: Knots
    hours: Array
    """(M,) since the first fix, of what was seen."""
    climbs: Array
    """(M,) vertical speed, of what was seen."""
    model: SensorModel
    view: View
    anchored: bool
    datum: str


def estimate_heights(
    recording: Recording, stretches: Sequence[Stretch], day: Day
) -> Heights:
    """Join both sensors, the ground stretches and the terrain of one log into heights.

    Without any altitude all heights are NaN.
    """
    shape = shape_of(recording, stretches, day)
    return heights_of(recording.time_s, recording.ground_m, shape, None)


def shape_of(
    recording: Recording, stretches: Sequence[Stretch], day: Day
) -> Shape | None:
    """Do all that can be done before the air of the flight is known.

    None where no altitude was recorded at all.
    """
    time = recording.time_s
    main = main_sensor(recording)
    if main is None:
        return None
    noise = _fast_noise(time, main.altitude_m, stretches, main)
    x = smooth_heights(time, main.altitude_m, noise, _standing(time, stretches))
    parts = _temperature_part(x, stretches, main)
    calm = _fast_noise(time, x, stretches, main)
    fast = float(np.sqrt((1.0 - BUSY_SHARE) * calm**2 + BUSY_SHARE * noise**2))
    climb = climb_rate(time, main.altitude_m, noise)
    intervals = Intervals.around(time, stretches)
    knots = knots_of(recording, intervals)
    known = _level_stands(recording.ground_m, stretches) + LOGGER_ABOVE_GROUND_M - x
    seen = seen_on_ground(recording, stretches, intervals, known, parts)
    climbs = np.zeros(len(seen.time_s))
    if main.barometer:
        model = baro_model(recording, day, fast, intervals.width_s)
        by_gnss = seen_by_gnss(recording, intervals, x, parts)
        if by_gnss is not None:
            known_gnss = np.isfinite(recording.gnss_alt_m)
            up = interval_means(intervals, climb, known_gnss)
            seen, model, climbs = _with_gnss(seen, by_gnss, up, recording, model)
    else:
        alone = gnss_alone(time, x, stretches)
        model = gnss_model(recording, alone, intervals.width_s)
    model = replace(
        model, stand_m=float(np.hypot(model.stand_m, _aslant_m(recording, stretches)))
    )
    hours = seen.time_s / HOUR_S
    shared = [seen.warm, seen.inversion, hours, climbs]
    if not main.barometer:
        shared = [np.zeros_like(hours)] * 4
    variance = fast**2 + _alone(time) * WHOLE_METRE_SIGMA_M**2 + main.filled_sigma_m**2
    return Shape(
        x=x.astype(np.float32),
        climb_m_s=climb.astype(np.float32),
        warm=parts[0].astype(np.float32),
        inversion=parts[1].astype(np.float32),
        own_variance_m2=(variance + recording.place_sigma_m**2).astype(np.float32),
        barometer=main.barometer,
        seen=seen,
        knots=knots,
        hours=hours,
        climbs=climbs,
        model=model,
        view=view_of(
            seen,
            model,
            shared,
            datum=recording.datum,
            gnss_m=_gnss_on_ground(recording, stretches),
        ),
        anchored=_any_known(recording, stretches),
        datum=recording.datum,
    )


def heights_of(
    time_s: Array, ground_m: Array, shape: Shape | None, air: Air | None
) -> Heights:
    """Return the heights of a log, given the air the others tell; None = it is alone.

    `time_s` and `ground_m` (N,) are those of the recording its shape was made of.
    """
    if shape is None:
        nothing = np.full(len(time_s), np.nan)
        return Heights(
            height_m=nothing,
            sigma_m=nothing,
            altitude_m=nothing,
            climb_m_s=nothing,
            anchored=False,
        )
    air = PooledLogs([shape.view]).air(shape.view) if air is None else air
    seen, model, lag, lag_sigma = _in_air(shape, air)
    knots = replace(
        shape.knots, terrain_sigma_m=air.scale * shape.knots.terrain_sigma_m
    )
    offset = estimate_offset(seen, knots, model)
    since = time_s - time_s[0]
    warm, inversion = shape.warm.astype(float), shape.inversion.astype(float)
    lift, variance = offset.at(since, warm, inversion)
    drift = float(air.mean[2]) if shape.barometer else 0.0
    climb = shape.climb_m_s.astype(float)
    altitude = shape.x.astype(float) + lift + drift * since / HOUR_S + lag * climb
    own = _stretching(shape, float(air.mean[0])) ** 2 * shape.own_variance_m2
    sigma = np.sqrt(variance + own + (lag_sigma * climb) ** 2)
    return Heights(
        height_m=altitude - ground_m,
        sigma_m=np.where(np.isnan(ground_m), np.nan, sigma),
        altitude_m=altitude,
        climb_m_s=climb * _stretching(shape, float(offset.warm_k[0])),
        anchored=shape.anchored,
    )


def _in_air(shape: Shape, air: Air) -> tuple[Observations, SensorModel, float, float]:
    """Put the air into a log: what it explains is taken off, its doubt stays."""
    seen, model = shape.seen, shape.model
    value = seen.value_m
    by_gnss = seen.stretch < 0
    known = air.gnss.get(shape.datum)
    lag = lag_sigma = 0.0
    if shape.barometer:
        lag, lag_sigma = own_lag(shape.view, air)
        value = value - float(air.mean[2]) * shape.hours - lag * shape.climbs
        stretch = float(_stretching(shape, float(air.mean[0])).mean())
        creep = stretch * model.drift_m_h
        model = replace(
            model,
            wander_m=stretch * model.wander_m,
            fast_m=stretch * model.fast_m,
            warm_k=(float(air.mean[0]), float(air.mean[1])),
            warm_cov_k2=(
                (float(air.cov[0, 0]), float(air.cov[0, 1])),
                (float(air.cov[1, 0]), float(air.cov[1, 1])),
            ),
            drift_m_h=float(np.sqrt(creep**2 + air.cov[2, 2])),
        )
        if known is not None:
            value = value + known[0] * by_gnss
            model = replace(model, gnss_offset_sigma_m=known[1])
    elif known is not None:
        model = replace(model, offset_m=known[0], offset_sigma_m=known[1])
    ground = np.where(by_gnss, 1.0, air.scale) * seen.terrain_sigma_m
    return replace(seen, value_m=value, terrain_sigma_m=ground), model, lag, lag_sigma


def _level_stands(ground: Array, stretches: Sequence[Stretch]) -> Array:
    """Return the ground, (N,), one height for each stand: fixes wander, baskets not."""
    level = ground.copy()
    for run in stretches:
        known = ground[run.fixes][np.isfinite(ground[run.fixes])]
        if known.size:
            level[run.fixes] = mean(known)
    return level


def _aslant_m(recording: Recording, stretches: Sequence[Stretch]) -> float:
    """Return the height that the error of a stand's place makes on a slope."""
    place = np.broadcast_to(recording.place_sigma_m, recording.time_s.shape)
    some = [float(mean(place[run.fixes])) for run in stretches]
    return MEAN_PLACE * max(some, default=0.0)


def _gnss_on_ground(recording: Recording, stretches: Sequence[Stretch]) -> float:
    """Return what has to be added to the receiver's altitudes where it stood."""
    standing = _standing(recording.time_s, stretches)
    off = recording.ground_m + LOGGER_ABOVE_GROUND_M - recording.gnss_alt_m
    off = off[standing & np.isfinite(off)]
    return float(median(off)) if off.size else float("nan")


def _temperature_part(
    x: Array, stretches: Sequence[Stretch], main: MainSensor
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
        x[run.fixes] = mean(x[run.fixes])
    stood = [float(x[run.first]) for run in stretches]
    foot = float(np.mean(stood)) if stood else float(x.min())
    here = STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * x
    start = STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * foot
    warm = np.log(start / here) / LAPSE_RATE_K_PER_M
    up = x - foot
    faded = -np.expm1(-np.maximum(up, 0.0) / INVERSION_HEIGHT_M) * INVERSION_HEIGHT_M
    return warm, np.where(up > 0.0, faded, up) / start


def _stretching(shape: Shape, warm_k: float) -> Array:
    """Return the ratio of true metres to those read off the main sensor, (N,).

    A barometer counts metres of the standard atmosphere: its climbs and its errors, which
    are of pressure, are more in air that is warmer, by up to a tenth.
    """
    if not shape.barometer:
        return np.ones_like(shape.x)
    kelvin = STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * shape.x
    return np.asarray(1.0 + warm_k / kelvin)


def _standing(time: Array, stretches: Sequence[Stretch]) -> NDArray[np.bool_]:
    standing = np.zeros(len(time), dtype=bool)
    for run in stretches:
        standing[run.fixes] = True
    return standing


def _fast_noise(
    time: Array, x: Array, stretches: Sequence[Stretch], main: MainSensor
) -> float:
    if not main.barometer:
        return GnssNoise.PRIOR_WHITE_M
    return short_noise(time, x, stretches, BARO_FAST_M, BARO_FAST_TAU_S)


def _alone(time: Array) -> Array:
    """Return 1 beside a gap and 0 elsewhere: there nothing averages the rounding."""
    if len(time) < 3:
        return np.ones_like(time)
    steps = diffs(time)
    wide = steps > GAP_STEPS * median(steps)
    return np.asarray(np.append(True, wide) | np.append(wide, True), dtype=float)


def _any_known(recording: Recording, stretches: Sequence[Stretch]) -> bool:
    return any(np.isfinite(recording.ground_m[run.fixes]).any() for run in stretches)


def _with_gnss(
    seen: Observations,
    by_gnss: Observations,
    up: Array,
    recording: Recording,
    model: SensorModel,
) -> tuple[Observations, SensorModel, Array]:
    """Put the receiver beside the barometer, without means that are wild.

    Returns what was seen, the model, and the vertical speed of each observation.
    """
    both = joined(seen, by_gnss)
    climbs = np.append(np.zeros(len(seen.time_s)), up)
    noise = gnss_noise(by_gnss)
    free = replace(model, drift_m_h=float(np.hypot(model.drift_m_h, TREND_SIGMA_M_H)))
    off = misfit(both, with_gnss(free, recording, noise))
    if noise.sigma_m >= SUSPECT_M or np.abs(off).max() >= OUTLIER:
        good = _wild_free(both, free, recording)
        both, climbs = rows(both, good), climbs[good]
        noise = gnss_noise(rows(both, both.stretch < 0))
    return both, with_gnss(model, recording, noise), climbs


def _wild_free(
    seen: Observations, model: SensorModel, recording: Recording
) -> NDArray[np.bool_]:
    """Tell, (M,), which means of GNSS are not wild, by the noise that makers state.

    The worst go first, since a good one beside a wild one looks wild as well.
    """
    stated = GnssNoise(GnssNoise.PRIOR_SIGMA_M, GnssNoise.PRIOR_TAU_S)
    model = with_gnss(model, recording, stated)
    good = np.ones(len(seen.time_s), dtype=bool)
    for _ in range(MOST_ROUNDS):
        part = rows(seen, good)
        by_gnss = part.stretch < 0
        if not by_gnss.any():
            break
        off = np.abs(misfit(part, model)) * by_gnss
        spread = max(1.0, float(median(off[by_gnss])) / 0.6745)
        wild = off > max(OUTLIER * spread, 0.5 * float(off.max()))
        if not wild.any():
            break
        good[marked(good)[wild]] = False
    return good
