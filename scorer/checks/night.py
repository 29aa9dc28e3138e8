"""Flight by daylight only: launch not before sunrise, landing not after sunset.

Each moment is held against the sunrise or sunset nearest to it at its place, whatever the
calendar says: flights over several days and summer nights of a minute are judged alike.
Times of the sun are good to about a minute; a hill on the horizon does not move them.
"""

import scipy

from scorer.checks.base import (
    Circumstances,
    FindingNumbers,
    Scope,
    Seen,
    check,
    finding_of,
    verdict_of,
)
from scorer.checks.launch import MOMENT_SIGMA_S, Bounds, TimedMoment, check_moment
from scorer.event.finding import Drawing, Finding, Verdict, finding_kind
from scorer.event.matter import Closes, Matter, matter_kind
from scorer.facts import chance, fact, moment, term
from scorer.geodesy.sun import HORIZON_SIGMA_DEG, Crossing, Daylight, Sun, sun_at
from scorer.tracks.flown import Flown

NIGHT = finding_kind(
    "night", rule="night.before_sunrise", unit="s", picture=Drawing.MAP
)
POLAR_DAY = matter_kind("polar-day", closes=Closes.RULES, grouped=True)

PLACE_DECIMALS = 2
"""Places are rounded to hundredths of a degree: 2.4 s of sunrise."""
REFRACTION_SIGMAS = 8.0
"""Where the sun only skims the horizon refraction moves it by tenths of a degree."""
WHOLE_DAY_S = 86_400.0


@check("night", Scope.FLIGHT)
def check_night(flown: Flown, about: Circumstances) -> Seen:
    """Compare launch and landing with the nearest sunrise and sunset at their places."""
    launch, landing = flown.launch, flown.landing
    if landing is not None and landing >= len(flown):
        landing = None
    rule = about.book.night
    findings: tuple[Finding, ...] = ()
    suns = []
    if launch is not None and rule.before_sunrise_s is not None:
        suns.append(_sun(flown, launch))
        findings += _launch(flown, about, launch, rule.before_sunrise_s)
    if landing is not None and rule.after_sunset_s is not None:
        suns.append(_sun(flown, landing))
        findings += _landing(flown, about, landing, rule.after_sunset_s)
    polar = any(sun.daylight is Daylight.POLAR_DAY for sun in suns)
    return Seen(findings=findings, matters=(_polar_day(flown, about),) if polar else ())


def _launch(
    flown: Flown, about: Circumstances, at: int, before_s: float
) -> tuple[Finding, ...]:
    sun = _sun(flown, at)
    rise = sun.since if sun.up else sun.until
    if sun.daylight is Daylight.POLAR_NIGHT:
        return _polar_night("act-launched", at, sun, flown, about)
    if rise is None or not (sun.up or _towards_day(flown, at)):
        return ()
    start = rise.time_s - before_s
    bounds = _bounds(start, rise.time_s + WHOLE_DAY_S, "night.before_sunrise", about)
    return check_moment(_moment("act-launched", flown, at, rise), bounds, flown, about)


def _landing(
    flown: Flown, about: Circumstances, at: int, after_s: float
) -> tuple[Finding, ...]:
    sun = _sun(flown, at)
    fall = sun.until if sun.up else sun.since
    told = about.book.night.before_sunrise_s is not None and flown.launch is not None
    if sun.daylight is Daylight.POLAR_NIGHT:
        # told of the launch already, which lies in the same night
        return () if told else _polar_night("act-landed", at, sun, flown, about)
    if fall is None:
        return ()
    launch = flown.launch
    if not sun.up and told and launch is not None:
        same = float(flown.time_s[launch]) > fall.time_s
        if same and _towards_day(flown, launch):
            return ()
    start = fall.time_s - WHOLE_DAY_S
    bounds = _bounds(start, fall.time_s + after_s, "night.after_sunset", about)
    return check_moment(_moment("act-landed", flown, at, fall), bounds, flown, about)


def _towards_day(flown: Flown, at: int) -> bool:
    """Tell whether a moment in the night is nearer to its end than to its beginning."""
    sun, time_s = _sun(flown, at), float(flown.time_s[at])
    if sun.up or sun.until is None:
        return False
    return sun.since is None or sun.until.time_s - time_s <= time_s - sun.since.time_s


def _moment(what: str, flown: Flown, at: int, edge: Crossing) -> TimedMoment:
    """Return a launch or landing as it was fitted, else that of its fix."""
    fitted = flown.lift_off(at) if what == "act-launched" else flown.touch_down
    time_s = float(flown.time_s[at]) if fitted is None else fitted.time_s
    own_s = MOMENT_SIGMA_S if fitted is None else fitted.sigma_s
    sigma_s = (own_s**2 + edge.sigma_s**2) ** 0.5
    return TimedMoment(what, time_s, at, sigma_s, sure=fitted is None or fitted.sure)


def _bounds(start_s: float, end_s: float, key: str, about: Circumstances) -> Bounds:
    return Bounds(
        kind=NIGHT,
        start_s=start_s,
        end_s=end_s,
        name="daylight",
        rule=about.book.cite(key),
        penalties=about.book.night.penalty,
    )


def _polar_night(
    act: str, at: int, sun: Sun, flown: Flown, about: Circumstances
) -> tuple[Finding, ...]:
    """Return the finding of a flight while the sun does not rise at all."""
    time_s = float(flown.time_s[at])
    off = HORIZON_SIGMA_DEG * REFRACTION_SIGMAS
    probability = float(scipy.special.ndtr(-sun.nearest_deg / off))
    verdict = verdict_of(probability)
    if verdict is Verdict.CLEAR:
        return ()
    measure = FindingNumbers(
        kind=NIGHT,
        verdict=verdict,
        probability=probability,
        from_s=time_s,
        to_s=time_s,
        measured=None,
        limit=None,
        excess=0.0,
        at=at,
        rule=about.book.cite("night.before_sunrise"),
        says=fact(
            "seen-polar-night",
            act=term(act),
            time=moment(time_s),
            sure=chance(probability),
        ),
    )
    return (finding_of(measure, about.book.night.penalty, flown, about),)


def _polar_day(flown: Flown, about: Circumstances) -> Matter:
    return Matter(
        kind=POLAR_DAY,
        flight=about.task.flight,
        pilots=(flown.pilot,),
        says=fact("polar-day"),
    )


def _sun(flown: Flown, at: int) -> Sun:
    lat = round(float(flown.lat_deg[at]), PLACE_DECIMALS)
    lon = round(float(flown.lon_deg[at]), PLACE_DECIMALS)
    return sun_at(float(flown.time_s[at]), lat, lon)
