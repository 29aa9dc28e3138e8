"""Sunrise, sunset and the height of the sun, by the astral library.

Times are those of almanacs: the upper edge of the sun on a level horizon with ordinary
refraction, good to about a minute at middle latitudes.  Near the polar circles, where
the sun skims the horizon, refraction alone can move them by several minutes.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from enum import StrEnum
from functools import lru_cache
from typing import NamedTuple
from zoneinfo import ZoneInfo

import numpy as np
from astral import Observer
from astral import sun as astral_sun
from numpy.typing import ArrayLike
from scipy.optimize import brentq

from scorer.errors import GeometryError
from scorer.facts import fact, position, span
from scorer.geodesy.arrays import Array, floats

HORIZON_DEG = -0.833
"""Height of the sun's centre at sunrise and sunset: radius and ordinary refraction (as
almanacs count them; US Naval Observatory, from memory)."""
HORIZON_SIGMA_DEG = 0.03
"""One sigma of that height on a level horizon at middle latitudes (our choice)."""
AROUND_S = 36 * 3600.0
"""How far around a moment its sunrise and sunset are looked for."""
_LOOK_S = 900.0
_HOUR_S = 3600.0
_LEAST_SLOPE = 1e-5
_KNOT_S = 60.0
_MOST_KNOTS = 20_000


class Daylight(StrEnum):
    """What kind of day it is."""

    ORDINARY = "ordinary"
    """The sun rises or sets, or both."""
    POLAR_DAY = "polar day"
    """The sun never sets."""
    POLAR_NIGHT = "polar night"
    """The sun never rises."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SunTimes:
    """The sun on one local date at one place; POSIX seconds, UTC, None = does not occur.

    On the first and last days of a polar day or night one of a pair may be missing.
    """

    daylight: Daylight
    civil_dawn_s: float | None
    """The sun's centre 6 degrees below the horizon, rising."""
    sunrise_s: float | None
    sunset_s: float | None
    civil_dusk_s: float | None


def sun_times(
    day: date, lat_deg: float, lon_deg: float, *, time_zone: str = "UTC"
) -> SunTimes:
    """Return when the sun rises and sets on a date of a time zone (IANA name)."""
    zone = ZoneInfo(time_zone)
    observer = _observer(lat_deg, lon_deg)
    rise = _moment(astral_sun.sunrise, observer, day, zone)
    fall = _moment(astral_sun.sunset, observer, day, zone)
    daylight = Daylight.ORDINARY
    if rise is None and fall is None:
        daylight = _polar(observer, day, zone)
    return SunTimes(
        daylight=daylight,
        civil_dawn_s=_moment(astral_sun.dawn, observer, day, zone),
        sunrise_s=rise,
        sunset_s=fall,
        civil_dusk_s=_moment(astral_sun.dusk, observer, day, zone),
    )


class Crossing(NamedTuple):
    """A sunrise or sunset."""

    time_s: float
    """POSIX seconds, UTC."""
    rises: bool
    sigma_s: float
    """One sigma: great where the sun only skims the horizon."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sun:
    """The sun at one moment and place, whatever the calendar says."""

    up: bool
    """Whether its upper edge is over a level horizon."""
    since: Crossing | None
    """The sunrise (where it is up) or sunset before; None = none within `AROUND_S`."""
    until: Crossing | None
    """The sunset (where it is up) or sunrise after; None = none within `AROUND_S`."""
    nearest_deg: float
    """How near to the horizon the sun comes within `AROUND_S`, negative below it."""

    @property
    def daylight(self) -> Daylight:
        """Polar day, polar night, or neither."""
        if self.since or self.until:
            return Daylight.ORDINARY
        return Daylight.POLAR_DAY if self.up else Daylight.POLAR_NIGHT


def sun_at(time_s: float, lat_deg: float, lon_deg: float) -> Sun:
    """Return whether the sun is up at a moment, and the rise and set nearest to it.

    `time_s` is POSIX seconds.  Works on every day at every latitude: no date is asked.
    """
    hour = math.floor(time_s / _HOUR_S) * _HOUR_S
    up, nearest_deg, crossings = _crossings(hour, lat_deg, lon_deg)
    before = [c for c in crossings if c.time_s <= time_s]
    after = [c for c in crossings if c.time_s > time_s]
    return Sun(
        up=before[-1].rises if before else up,
        since=before[-1] if before else None,
        until=after[0] if after else None,
        nearest_deg=nearest_deg,
    )


@lru_cache(maxsize=4096)
def _crossings(
    hour_s: float, lat_deg: float, lon_deg: float
) -> tuple[bool, float, tuple[Crossing, ...]]:
    """Return whether the sun is up first, how near it comes, and its rises and sets."""
    observer = _observer(lat_deg, lon_deg)

    def over(time_s: float) -> float:
        return _elevation(observer, time_s) - HORIZON_DEG

    times = np.arange(hour_s - AROUND_S, hour_s + AROUND_S + _HOUR_S, _LOOK_S)
    heights = np.array([over(time) for time in times.tolist()])
    turns = np.flatnonzero((heights[1:] > 0) != (heights[:-1] > 0))
    found = []
    for i in turns.tolist():
        time = float(brentq(over, times[i], times[i + 1], xtol=0.5))
        slope = abs(over(time + _KNOT_S) - over(time - _KNOT_S)) / (2 * _KNOT_S)
        sigma_s = HORIZON_SIGMA_DEG / max(slope, _LEAST_SLOPE)
        found.append(Crossing(time, bool(heights[i + 1] > 0), sigma_s))
    nearest = float(heights.max() if heights[0] <= 0 else heights.min())
    return bool(heights[0] > 0), nearest, tuple(found)


def sun_elevation_deg(time_s: ArrayLike, lat_deg: float, lon_deg: float) -> Array:
    """Elevation of the sun's centre over the horizon, refraction left out.

    Parameters
    ----------
    time_s : array_like
        POSIX seconds, UTC; NaN gives NaN.  The times of one flight: not more than two
        weeks from first to last.

    Returns
    -------
    ndarray
        Degrees, good to about 0.05.  Computed each minute and interpolated, which adds
        less than 0.001.
    """
    (times,) = floats(time_s)
    known = times[np.isfinite(times)]
    if known.size == 0:
        return np.full(times.shape, np.nan)[()]
    first = np.floor(known.min() / _KNOT_S)
    count = int(np.ceil(known.max() / _KNOT_S) - first) + 1
    if count > _MOST_KNOTS:
        raise GeometryError(fact("no-one-flight", apart=span(count * _KNOT_S)))
    observer = _observer(lat_deg, lon_deg)
    knots = (first + np.arange(count)) * _KNOT_S
    heights = [_elevation(observer, knot) for knot in knots]
    return np.where(np.isfinite(times), np.interp(times, knots, heights), np.nan)[()]


def _observer(lat_deg: float, lon_deg: float) -> Observer:
    if not (abs(lat_deg) <= 90 and np.isfinite(lon_deg)):
        raise GeometryError(
            fact("no-place-on-earth", lat=position(lat_deg), lon=position(lon_deg))
        )
    return Observer(lat_deg, (lon_deg + 180) % 360 - 180, 0.0)


def _elevation(observer: Observer, time_s: float) -> float:
    moment = datetime.fromtimestamp(time_s, tz=UTC)
    return float(astral_sun.elevation(observer, moment, with_refraction=False))


def _moment(
    event: Callable[..., datetime], observer: Observer, day: date, zone: ZoneInfo
) -> float | None:
    """Ask astral; it raises ValueError where the sun does not get there that day."""
    try:
        return event(observer, date=day, tzinfo=zone).timestamp()
    except ValueError:
        return None


def _polar(observer: Observer, day: date, zone: ZoneInfo) -> Daylight:
    """Tell polar day from polar night by how high the sun stands at local noon."""
    noon = datetime.combine(day, time(12), tzinfo=zone).timestamp()
    highest = max(_elevation(observer, noon + 3600.0 * h) for h in range(-12, 13))
    return Daylight.POLAR_DAY if highest > 0 else Daylight.POLAR_NIGHT
