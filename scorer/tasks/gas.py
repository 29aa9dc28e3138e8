"""The long-distance race of gas balloons: the geodesic from launch to landing.

The greatest distance wins; route and time do not count (published rules of such races).
Distances are geodesics on the WGS84 ellipsoid (`pyproj.Geod`), whatever the event's own
kind of distance, since no plane holds a race of a thousand kilometres.  The unit is the
metre, as for every other distance, so that penalties in metres or kilometres enter the
result without a conversion of their own; sheets may show kilometres.
"""

import math
from dataclasses import replace

from scorer.geodesy.geodesic import geodesic_inverse
from scorer.geodesy.precision import sigma_towards
from scorer.tasks.base import Quantity
from scorer.tasks.geometry import added
from scorer.tasks.points import (
    LANDING_MARK,
    LAUNCH_MARK,
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
        raise NoResult(
            "the launch is not known: name launch_place in the task, key a mark "
            f"{LAUNCH_MARK}, or give a log that shows it"
        )
    return found


def _landing(work: Work) -> Located:
    """Return the landing as reported (a keyed mark), else by the log."""
    logged = fix_of(work, "landing")
    reported = [r for r in (LANDING_MARK, "") if r in roles_present(work)]
    if not reported:
        if logged is None:
            raise NoResult(
                "the landing is not known: key the reported place, or give a log that "
                "shows it"
            )
        work.say("landing by the log")
        return logged
    end = replace(mark(work, reported[0]), name="reported landing")
    if logged is not None:
        apart = _leg_m(placed(work, end), placed(work, logged), work)
        if apart > FAR_APART_M:
            work.warn(
                f"the reported landing lies {work.length(apart, 0)} from that of the log: "
                "look which is right; the report counts"
            )
        if end.time_s is None:
            end = replace(end, time_s=logged.time_s)
    return end


def _check_time(work: Work, end: Located) -> None:
    latest_s = work.settings["land_by"]
    if latest_s is None:
        return
    if end.time_s is None:
        work.warn("the time of the landing is not known; enter it beside the report")
        return
    work.say(f"landed at {work.clock(end.time_s)}, due by {work.clock(latest_s)}")
    if end.time_s > latest_s:
        work.beyond_limits(
            f"landed at {work.clock(end.time_s)}, after {work.clock(latest_s)}"
        )


def _staged(work: Work, stages: tuple[str, ...]) -> Quantity:
    """Add the legs of a race flown in stages: each from its place to the pilot's mark.

    Stage n counts from the n-th place to the mark with role n; a stage without a mark
    counts nothing.
    """
    legs = []
    for number, name in enumerate(stages, start=1):
        role = str(number)
        if role not in roles_present(work):
            work.warn(f"stage {number}: no landing is keyed (mark {role}); counts 0 m")
            continue
        end = replace(mark(work, role), name=f"landing of stage {number}")
        legs.append(_leg(work, place(work, name), end))
    if not legs:
        raise NoResult("no landing of any stage is keyed")
    total = sum(leg.value for leg in legs)
    work.say(f"{len(legs)} of {len(stages)} stages together: {work.length(total, 0)}")
    return Quantity(total, math.hypot(*(leg.sigma for leg in legs)))


def _leg(work: Work, start: Located, end: Located) -> Quantity:
    a, b = placed(work, start), placed(work, end)
    length = _leg_m(a, b, work)
    step = (b[0] - a[0], b[1] - a[1])
    sigma = sigma_towards(added(start.covariance, end.covariance), *step)
    work.say(
        f"geodesic on WGS84 from {start.name} ({_shown(work, a)}) to {end.name} "
        f"({_shown(work, b)}): {length / 1000:.3f} km"
    )
    return Quantity(length, sigma)


def _leg_m(a: tuple[float, float], b: tuple[float, float], work: Work) -> float:
    plane = work.evidence.site.plane
    length, _ = geodesic_inverse(*plane.to_wgs84(*a), *plane.to_wgs84(*b))
    return float(length)


def _shown(work: Work, point: tuple[float, float]) -> str:
    lat, lon = work.evidence.site.plane.to_wgs84(*point)
    north, east = "N" if lat >= 0 else "S", "E" if lon >= 0 else "W"
    return f"{abs(lat):.5f}° {north}, {abs(lon):.5f}° {east}"
