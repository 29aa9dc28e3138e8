"""Flight by daylight only: launch not before sunrise, landing not after sunset.

Sunrise and sunset are those of the place, to about a minute; a hill on the horizon does
not move them.
"""

from datetime import date
from functools import lru_cache

from scorer.checks.base import Circumstances, Scope, Seen, check
from scorer.checks.launch import MOMENT_SIGMA_S, Bounds, Moment, check_moment
from scorer.event.finding import Finding, Picture, finding_kind
from scorer.geodesy.sun import SunTimes, sun_times
from scorer.tracks.flown import Flown

NIGHT = finding_kind(
    "night", rule="night.before_sunrise", unit="s", picture=Picture.MAP
)

SUN_SIGMA_S = 10.0
"""One sigma of a computed sunrise at middle latitudes on a level horizon."""
PLACE_DECIMALS = 2
"""Places are rounded to hundredths of a degree: 2.4 s of sunrise."""
SIGMA_S = (MOMENT_SIGMA_S**2 + SUN_SIGMA_S**2) ** 0.5
WHOLE_DAY_S = 86_400.0


@check("night", Scope.FLIGHT)
def check_night(flown: Flown, about: Circumstances) -> Seen:
    """Compare launch and landing with sunrise and sunset at their places."""
    return Seen(findings=_launch(flown, about) + _landing(flown, about))


def _launch(flown: Flown, about: Circumstances) -> tuple[Finding, ...]:
    before, at = about.book.night.before_sunrise_s, flown.launch
    if before is None or at is None:
        return ()
    rise = _sun(flown, at, about).sunrise_s
    if rise is None:
        return ()
    bounds = _bounds(rise - before, rise + WHOLE_DAY_S, "night.before_sunrise", about)
    moment = Moment("act-launched", float(flown.time_s[at]), at, SIGMA_S, sure=True)
    return check_moment(moment, bounds, flown, about)


def _landing(flown: Flown, about: Circumstances) -> tuple[Finding, ...]:
    after, at = about.book.night.after_sunset_s, flown.landing
    if after is None or at is None or at >= len(flown):
        return ()
    fall = _sun(flown, at, about).sunset_s
    if fall is None:
        return ()
    bounds = _bounds(fall - WHOLE_DAY_S, fall + after, "night.after_sunset", about)
    moment = Moment("act-landed", float(flown.time_s[at]), at, SIGMA_S, sure=True)
    return check_moment(moment, bounds, flown, about)


def _bounds(start_s: float, end_s: float, key: str, about: Circumstances) -> Bounds:
    return Bounds(
        kind=NIGHT,
        start_s=start_s,
        end_s=end_s,
        name="daylight",
        rule=about.book.cite(key),
        penalties=about.book.night.penalty,
    )


def _sun(flown: Flown, at: int, about: Circumstances) -> SunTimes:
    lat = round(float(flown.lat_deg[at]), PLACE_DECIMALS)
    lon = round(float(flown.lon_deg[at]), PLACE_DECIMALS)
    return _times(about.date, lat, lon, about.time_zone)


@lru_cache(maxsize=4096)
def _times(day: date, lat_deg: float, lon_deg: float, time_zone: str) -> SunTimes:
    return sun_times(day, lat_deg, lon_deg, time_zone=time_zone)
