"""The long-distance race of gas balloons: the geodesic from launch to landing.

The greatest distance wins; route and time do not count (published rules of such races).
Distances are geodesics on the WGS84 ellipsoid (`pyproj.Geod`), whatever the event's own
kind of distance, since no plane holds a race of a thousand kilometres.  The unit is the
metre, as for every other distance, so that penalties in metres or kilometres enter the
result without a conversion of their own; sheets may show kilometres.
"""

import math
from dataclasses import replace

from scorer.facts import (
    Value,
    count,
    distance,
    fact,
    inner,
    moment,
    number,
    position,
    term,
)
from scorer.geodesy.geodesic import geodesic_inverse
from scorer.geodesy.precision import error_ellipse, sigma_towards
from scorer.tasks.base import Quantity
from scorer.tasks.geometry import added
from scorer.tasks.points import (
    LANDING_MARK,
    Located,
    fix_of,
    launch_or_none,
    mark,
    place,
    placed,
    roles_present,
)
from scorer.tasks.work import NoResult, Work

FAR_APART_M = 1000.0
"""A landing report and a log that part by more are looked at.  Our choice."""


def long_distance(work: Work) -> Quantity:
    """GAS: geodesic from launch to landing; with stages, their sum."""
    stages = work.settings["stages"]
    if stages:
        return _staged(work, stages)
    start, end = _launch(work), _landing(work)
    _check_time(work, end)
    return _leg(work, start, end)


def _launch(work: Work) -> Located:
    """Return the launch: the place the task names, else as keyed, else by the log."""
    named = work.settings["launch_place"] or work.evidence.task.target
    if named is not None:
        return place(work, named)
    found = launch_or_none(work)
    if found is None:
        raise NoResult(fact("launch-place-unknown"))
    return found


def _landing(work: Work) -> Located:
    """Return the landing as reported (a keyed mark), else by the log."""
    logged = fix_of(work, "landing")
    reported = [r for r in (LANDING_MARK, "") if r in roles_present(work)]
    if not reported:
        if logged is None:
            raise NoResult(fact("landing-unknown"))
        work.say(fact("landing-by-log"))
        return logged
    end = replace(mark(work, reported[0]), name=term("reported-landing"))
    if logged is not None:
        apart = _leg_m(_degrees(work, end), _degrees(work, logged))
        if apart > FAR_APART_M:
            work.warn(fact("landings-apart", apart=distance(apart)))
        if end.time_s is None:
            end = replace(end, time_s=logged.time_s)
    return end


def _check_time(work: Work, end: Located) -> None:
    latest_s = work.settings["land_by"]
    if latest_s is None:
        return
    if end.time_s is None:
        work.warn(fact("landing-time-unknown"))
        return
    landed = {"landed": moment(end.time_s), "due": moment(latest_s)}
    work.say(fact("landed", **landed))
    if end.time_s > latest_s:
        work.beyond_limits(fact("landed-late", **landed))


def _staged(work: Work, stages: tuple[str, ...]) -> Quantity:
    """Add the legs of a race flown in stages: each from its place to the pilot's mark.

    Stage n counts from the n-th place to the mark with role n; a stage without a mark
    counts nothing.
    """
    legs = []
    for stage, name in enumerate(stages, start=1):
        role = str(stage)
        if role not in roles_present(work):
            work.warn(fact("stage-without-landing", stage=number(stage)))
            continue
        ended = inner(fact("landing-of-stage", stage=number(stage)))
        end = replace(mark(work, role), name=ended)
        legs.append(_leg(work, place(work, name), end))
    if not legs:
        raise NoResult(fact("no-stage-landed"))
    total = sum(leg.value for leg in legs)
    flown = {"flown": count(len(legs)), "stages": count(len(stages))}
    work.say(fact("stages-together", **flown, total=distance(total)))
    return Quantity(total, math.hypot(*(leg.sigma for leg in legs)))


def _leg(work: Work, start: Located, end: Located) -> Quantity:
    a, b = _degrees(work, start), _degrees(work, end)
    length = _leg_m(a, b)
    ends = {
        "start": start.name,
        "start_at": _at(a),
        "end": end.name,
        "end_at": _at(b),
    }
    work.say(fact("great-distance", **ends, distance=distance(length)))
    return Quantity(length, _sigma(start, end))


def _sigma(start: Located, end: Located) -> float:
    """One sigma along the line; the greatest in any direction where no plane shows it."""
    covariance = added(start.covariance, end.covariance)
    if start.point is None or end.point is None:
        return error_ellipse(covariance).major_m
    step = (end.point[0] - start.point[0], end.point[1] - start.point[1])
    return sigma_towards(covariance, *step)


def _degrees(work: Work, at: Located) -> tuple[float, float]:
    """Return latitude and longitude: as entered or logged, never by way of the plane."""
    if at.latlon_deg is not None:
        return at.latlon_deg
    lat, lon = work.evidence.site.plane.to_wgs84(*placed(work, at))
    return float(lat), float(lon)


def _leg_m(a: tuple[float, float], b: tuple[float, float]) -> float:
    length, _ = geodesic_inverse(*a, *b)
    return float(length)


def _at(degrees: tuple[float, float]) -> Value:
    lat, lon = degrees
    return inner(fact("latitude-longitude", lat=position(lat), lon=position(lon)))
