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
from scorer.tracks.flown import Array
from scorer.tracks.intervals import (
    Intervals,
    joined,
    kept,
    knots_of,
    seen_by_gnss,
    seen_on_ground,
)
from scorer.tracks.noise import GnssNoise, gnss_alone, short_noise
from scorer.tracks.offset import Knots, Offset, Seen, SensorModel, estimate_offset
from scorer.tracks.phases import Stretch
from scorer.tracks.recording import Day, MainSensor, Recording, main_sensor
from scorer.tracks.sensor_models import (
    BARO_FAST_M,
    BARO_FAST_TAU_S,
    baro_model,
    contradiction_m,
    gnss_model,
    gnss_noise,
    with_gnss,
)
from scorer.tracks.smooth import climb_rate, smooth_heights

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


def estimate_heights(
    recording: Recording, stretches: Sequence[Stretch], day: Day
) -> Heights:
    """Join both sensors, the ground stretches and the terrain into heights.

    Without any altitude all heights are NaN.
    """
    time = recording.time_s
    main = main_sensor(recording)
    if main is None:
        nothing = np.full(len(time), np.nan)
        return Heights(
            height_m=nothing,
            sigma_m=nothing,
            altitude_m=nothing,
            climb_m_s=nothing,
            anchored=False,
        )
    noise = _fast_noise(time, main.altitude_m, stretches, main)
    x = smooth_heights(time, main.altitude_m, noise, _standing(time, stretches))
    warm, inversion = _temperature_part(x, stretches, main)
    calm = _fast_noise(time, x, stretches, main)
    fast = float(np.sqrt((1.0 - BUSY_SHARE) * calm**2 + BUSY_SHARE * noise**2))
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
    alone = _alone(time) * WHOLE_METRE_SIGMA_M**2
    sigma = np.sqrt(variance + fast**2 + alone + main.filled_sigma_m**2)
    return Heights(
        height_m=altitude - recording.ground_m,
        sigma_m=np.where(np.isnan(recording.ground_m), np.nan, sigma),
        altitude_m=altitude,
        climb_m_s=climb_rate(time, main.altitude_m, noise)
        * _stretching(offset, x, main),
        anchored=_any_known(recording, stretches),
    )


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
        x[run.fixes] = x[run.fixes].mean()
    stood = [float(x[run.first]) for run in stretches]
    foot = float(np.mean(stood)) if stood else float(x.min())
    here = STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * x
    start = STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * foot
    warm = np.log(start / here) / LAPSE_RATE_K_PER_M
    up = x - foot
    faded = -np.expm1(-np.maximum(up, 0.0) / INVERSION_HEIGHT_M) * INVERSION_HEIGHT_M
    return warm, np.where(up > 0.0, faded, up) / start


def _stretching(offset: Offset, x: Array, main: MainSensor) -> Array:
    """Return the ratio of a true climb to one read off the main sensor."""
    if not main.barometer:
        return np.ones_like(x)
    return np.asarray(
        1.0 + offset.warm_k[0] / (STANDARD_TEMPERATURE_K - LAPSE_RATE_K_PER_M * x)
    )


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
    steps = np.diff(time)
    wide = steps > GAP_STEPS * np.median(steps)
    return np.asarray(np.r_[True, wide] | np.r_[wide, True], dtype=float)


def _any_known(recording: Recording, stretches: Sequence[Stretch]) -> bool:
    return any(np.isfinite(recording.ground_m[run.fixes]).any() for run in stretches)


def _offset(
    *,
    recording: Recording,
    stretches: Sequence[Stretch],
    day: Day,
    main: MainSensor,
    x: Array,
    parts: tuple[Array, Array],
    fast_m: float,
) -> Offset:
    """Gather what is seen of the offset in short intervals and estimate it."""
    intervals = Intervals.around(recording.time_s, stretches)
    knots = knots_of(recording, intervals)
    known = recording.ground_m + LOGGER_ABOVE_GROUND_M - x
    seen = seen_on_ground(recording, stretches, intervals, known, parts)
    if not main.barometer:
        noise = gnss_alone(recording.time_s, x, stretches)
        model = gnss_model(recording, noise, intervals.width_s)
        return _estimated(seen, knots, model)
    model = baro_model(recording, day, fast_m, intervals.width_s)
    by_gnss = seen_by_gnss(recording, intervals, x, parts)
    if by_gnss is None:
        return _estimated(seen, knots, model)
    both = joined(seen, by_gnss)
    noise = gnss_noise(by_gnss)
    offset = _estimated(both, knots, with_gnss(model, recording, noise))
    if noise.sigma_m < SUSPECT_M and np.abs(offset.misfit).max() < OUTLIER:
        return offset
    tame = _without_wild(both, knots, model, recording)
    noise = gnss_noise(kept(tame, tame.stretch < 0))
    return _estimated(tame, knots, with_gnss(model, recording, noise))


def _without_wild(
    seen: Seen, knots: Knots, model: SensorModel, recording: Recording
) -> Seen:
    """Leave out wild means of GNSS, judged by the noise that makers state.

    The worst go first, since a good one beside a wild one looks wild as well.
    """
    stated = GnssNoise(GnssNoise.PRIOR_SIGMA_M, GnssNoise.PRIOR_TAU_S)
    model = with_gnss(model, recording, stated)
    for _ in range(MOST_ROUNDS):
        by_gnss = seen.stretch < 0
        if not by_gnss.any():
            break
        misfit = np.abs(_estimated(seen, knots, model).misfit) * by_gnss
        spread = max(1.0, float(np.median(misfit[by_gnss])) / 0.6745)
        wild = misfit > max(OUTLIER * spread, 0.5 * float(misfit.max()))
        if not wild.any():
            break
        seen = kept(seen, ~wild)
    return seen


def _estimated(seen: Seen, knots: Knots, model: SensorModel) -> Offset:
    """Estimate the offset; the terrain is doubted where the stretches contradict it."""
    doubt = contradiction_m(seen, model)
    if doubt > 0.0:
        seen = replace(seen, terrain_sigma_m=np.hypot(seen.terrain_sigma_m, doubt))
        knots = replace(knots, terrain_sigma_m=np.hypot(knots.terrain_sigma_m, doubt))
    return estimate_offset(seen, knots, model)
