"""Sunrise, sunset and the height of the sun, by the astral library.

Times are those of almanacs: the upper edge of the sun on a level horizon with ordinary
refraction, good to about a minute at middle latitudes.  Near the polar circles, where
the sun skims the horizon, refraction alone can move them by several minutes.
"""

import math
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import scipy
from astral import Observer
from astral import sun as astral_sun

from scorer.errors import GeometryError
from scorer.facts import fact, position

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
_SLOPE_S = 60.0


class Daylight(StrEnum):
    """What kind of day it is."""

    ORDINARY = "ordinary"
    """The sun rises or sets, or both."""
    POLAR_DAY = "polar day"
    """The sun never sets."""
    POLAR_NIGHT = "polar night"
    """The sun never rises."""


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
        time = float(scipy.optimize.brentq(over, times[i], times[i + 1], xtol=0.5))
        slope = abs(over(time + _SLOPE_S) - over(time - _SLOPE_S)) / (2 * _SLOPE_S)
        sigma_s = HORIZON_SIGMA_DEG / max(slope, _LEAST_SLOPE)
        found.append(Crossing(time, bool(heights[i + 1] > 0), sigma_s))
    nearest = float(heights.max() if heights[0] <= 0 else heights.min())
    return bool(heights[0] > 0), nearest, tuple(found)


def sun_elevation_deg(time_s: float, lat_deg: float, lon_deg: float) -> float:
    """Return the height of the sun's centre over the horizon, refraction left out.

    `time_s` is POSIX seconds; degrees, good to about 0.05.
    """
    return _elevation(_observer(lat_deg, lon_deg), time_s)


def _observer(lat_deg: float, lon_deg: float) -> Observer:
    if not (abs(lat_deg) <= 90 and np.isfinite(lon_deg)):
        raise GeometryError(
            fact("no-place-on-earth", lat=position(lat_deg), lon=position(lon_deg))
        )
    return Observer(lat_deg, (lon_deg + 180) % 360 - 180, 0.0)


def _elevation(observer: Observer, time_s: float) -> float:
    moment = datetime.fromtimestamp(time_s, tz=UTC)
    return float(astral_sun.elevation(observer, moment, with_refraction=False))
