"""Sunrise, sunset and the height of the sun, by the astral library.

Times are those of almanacs: the upper edge of the sun on a level horizon with ordinary
refraction, good to about a minute at middle latitudes.  Near the polar circles, where
the sun skims the horizon, refraction alone can move them by several minutes.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from enum import StrEnum
from zoneinfo import ZoneInfo

import numpy as np
from astral import Observer
from astral import sun as astral_sun
from numpy.typing import ArrayLike

from scorer.errors import GeometryError
from scorer.facts import fact, position, span
from scorer.geodesy.arrays import Array, floats

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
