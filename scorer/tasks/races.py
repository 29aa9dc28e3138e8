"""Task kinds measured on the track itself: time to an area, way flown inside airspace.

RTA 3DT of the published model event rules.
"""

import math
from typing import Any

import numpy as np

from scorer.event import matters
from scorer.facts import count, fact, length, log, span, term, time_taken
from scorer.facts import moment as clock
from scorer.tasks.base import Quantity
from scorer.tasks.choice import one_mark
from scorer.tasks.crossing import (
    Array,
    PlaneTrack,
    Volume,
    circle,
    clip,
    inside,
    length_m,
    minus,
    moment,
    union,
    value_at,
)
from scorer.tasks.lengths import flight_in_u, leg_m, require_inside
from scorer.tasks.points import Located, moment_of
from scorer.tasks.spans import LAUNCH_SIGMA_S
from scorer.tasks.work import NoResult, Work
from scorer.tracks.flown import Flown

FINE_S = 0.5
"""A log with fixes this near shows parts of a second."""
_LOOK_ROUND = 20
"""Fixes to either side of a crossing that are looked at for its uncertainty."""


def race_to_area(work: Work) -> Quantity:
    """RTA: elapsed time from the start to the area, by the track or by the mark."""
    begin_s, begin_sigma = _start(work)
    if work.settings["reach"] == "mark":
        end = one_mark(work, lambda at: _mark_time(work, at), best="smallest")
    else:
        end = _entry(work, begin_s)
    elapsed = end.value - begin_s
    if elapsed < 0:
        says = fact("reached-before-start", early=span(-elapsed))
        raise work.failed(says, matters.IMPOSSIBLE)
    times = {"start": clock(begin_s), "end": clock(end.value)}
    work.say(fact("race-time", **times, taken=time_taken(elapsed)))
    _warn_of_coarse_log(work)
    return Quantity(elapsed, math.hypot(end.sigma, begin_sigma))


def _warn_of_coarse_log(work: Work) -> None:
    """Tell of a log that cannot show the decimals of a second that the book counts."""
    flown, decimals = work.evidence.flown, work.evidence.book.results.time_decimals
    if decimals <= 0 or flown is None or len(flown) < 2:
        return
    every = float(np.median(np.diff(flown.time_s)))
    if every > FINE_S:
        says = fact("race-finer-than-log", log=log(flown.log), every=span(every))
        work.warn(says, matters.TASK)


def _mark_time(work: Work, at: Located) -> Quantity:
    areas = work.evidence.task.scoring_areas
    if not areas:
        raise work.failed(fact("race-without-area"))
    require_inside(work, at, areas)
    return Quantity(*moment_of(work, at))


def _start(work: Work) -> tuple[float, float]:
    """Return when the race began for this pilot, and one sigma, seconds."""
    chosen = work.settings["start"]
    if isinstance(chosen, float):
        return chosen, 0.0
    if chosen == "launch-period":
        period = work.evidence.task.launch_period
        if period is None:
            raise NoResult(fact("no-launch-period"))
        return period.start_s, 0.0
    flown = _log(work)
    if flown.launch is None:
        raise NoResult(fact("launch-not-in-log"))
    left = flown.lift_off(flown.launch)
    if left is not None:
        return left.time_s, left.sigma_s
    return float(flown.time_s[flown.launch]), LAUNCH_SIGMA_S


def _log(work: Work) -> Flown:
    flown = work.evidence.flown
    if flown is None or len(flown) < 2:
        raise NoResult(fact("no-log-to-measure"))
    return flown


def _path(flown: Flown) -> PlaneTrack:
    return PlaneTrack(flown.time_s, flown.east_m, flown.north_m, flown.altitude_m)


def _entry(work: Work, begin_s: float) -> Quantity:
    """Return when the track first enters one of the areas after the start."""
    flown = _log(work)
    path, volumes = _path(flown), _volumes(work)
    start, end = moment(path, begin_s), float(len(flown) - 1)
    if begin_s < flown.time_s[0]:
        begins = clock(float(flown.time_s[0]))
        work.warn(fact("log-begins-after-start", time=begins), matters.LOG_GAP)
    stays = clip(_within(path, volumes), start, end)
    if not len(stays):
        raise NoResult(fact("area-not-entered"))
    u = float(stays[0, 0])
    time_s = float(value_at(path.time_s, u))
    if u == start:
        raise NoResult(fact("inside-at-start", time=clock(time_s)))
    _warn_of_pause(work, flown, np.array([[u, u]]))
    work.say(fact("area-entered", time=clock(time_s)))
    return Quantity(time_s, _entry_sigma_s(work, path, volumes, u))


def _within(path: PlaneTrack, volumes: list[Volume]) -> Array:
    return union(*(inside(path, volume) for volume in volumes))


def _entry_sigma_s(
    work: Work, path: PlaneTrack, volumes: list[Volume], u: float
) -> float:
    """One sigma of the time of an entry: the track moved by its own uncertainty.

    By central differences east, north and up; so an area cut at a flat angle, or from
    below, gets the uncertainty it has.
    """
    flown, at = _log(work), int(u)
    near = slice(max(at - _LOOK_ROUND, 0), at + _LOOK_ROUND + 2)
    part = PlaneTrack(*(column[near] for column in path))
    known = flown.accuracy_m[near][np.isfinite(flown.accuracy_m[near])]
    flat = float(known.mean()) if known.size else work.evidence.site.sigmas.latlon_m
    up = float(np.nan_to_num(flown.height_sigma_m[near]).mean())
    total = 0.0
    for column, step in (("east_m", flat), ("north_m", flat), ("altitude_m", up)):
        times = [
            _first_s(
                part._replace(**{column: getattr(part, column) + sign * step}), volumes
            )
            for sign in (1, -1)
        ]
        known_times = [t for t in times if t is not None]
        if len(known_times) == 2:
            total += ((known_times[0] - known_times[1]) / 2) ** 2
    return math.sqrt(total)


def _first_s(path: PlaneTrack, volumes: list[Volume]) -> float | None:
    stays = _within(path, volumes)
    return float(value_at(path.time_s, stays[0, 0])) if len(stays) else None


def distance_in_airspace(work: Work) -> Quantity:
    """3DT: way flown inside the airspace of the task, greatest.

    Between two fixes the way is straight; legs that cross the outline, the floor or the
    ceiling count up to the crossing.
    """
    flown = _log(work)
    path = _path(flown)
    stays = clip(_within(path, _volumes(work)), *_counted(work, flown))
    holes = [inside(path, Volume(area)) for area in _holes(work)]
    stays = minus(stays, union(*holes)) if holes else stays
    three = work.evidence.book.tracks.dimensions == 3
    leg = leg_m(work, flown, slope=three)
    parts = length_m(stays, leg)
    for (start, end), way in zip(stays, parts, strict=True):
        first, last = (clock(float(t)) for t in value_at(path.time_s, (start, end)))
        work.say(fact("way-inside", start=first, end=last, way=length(float(way))))
    total = float(parts.sum())
    if total <= 0.0:
        raise NoResult(fact("no-way-inside"))
    if len(stays) > 1:
        surface = term("along-the-slope" if three else "over-the-ground")
        stays_made = {"stays": count(len(stays)), "total": length(total)}
        work.say(fact("ways-together", **stays_made, surface=surface))
    _warn_of_pause(work, flown, stays)
    return Quantity(total, _way_sigma_m(work, flown, stays))


def _counted(work: Work, flown: Flown) -> tuple[float, float]:
    """Return from which moment to which, in `u`, the way counts.

    From launch to landing, and within the scoring period where the task has one.
    """
    start, end = flight_in_u(flown)
    period = work.evidence.task.scoring_period
    if period is not None:
        path = _path(flown)
        start = max(start, moment(path, period.start_s))
        end = min(end, moment(path, period.end_s))
        bounds = {"start": clock(period.start_s), "end": clock(period.end_s)}
        work.say(fact("way-counts-between", **bounds))
    return start, max(start, end)


def _way_sigma_m(work: Work, flown: Flown, stays: Array) -> float:
    """One sigma of a way flown: that of the places where each stay begins and ends.

    Errors of neighbouring fixes go together, so between the ends they cancel.
    """
    moments = stays.ravel()
    sigma = value_at(flown.accuracy_m, moments)
    receiver = work.evidence.site.sigmas.latlon_m
    return float(np.sqrt((np.where(np.isnan(sigma), receiver, sigma) ** 2).sum()))


def _volumes(work: Work) -> list[Volume]:
    """Return the airspace of a task: its areas and its rings, with their levels."""
    site, settings = work.evidence.site, work.settings
    lower, upper = settings.get("lower"), settings.get("upper")
    volumes = []
    for name in work.evidence.task.scoring_areas:
        place = work.evidence.places.get(name)
        own = (place.lower_m, place.upper_m) if place else (None, None)
        volumes.append(
            Volume(
                site.area(name),
                own[0] if lower is None else lower,
                own[1] if upper is None else upper,
            )
        )
    for ring in settings.get("circles") or ():
        area = circle(site.point(ring["centre"]), ring["outer"], ring.get("inner", 0.0))
        volumes.append(Volume(area, ring.get("lower", lower), ring.get("upper", upper)))
    return volumes


def _holes(work: Work) -> list[Any]:
    names = work.settings.get("without") or ()
    return [work.evidence.site.area(name) for name in names]


def _warn_of_pause(work: Work, flown: Flown, stays: Array) -> None:
    """Warn where a stay rests on a straight line over a pause of the log."""
    longest = work.evidence.book.tracks.log_gap_s
    pause = np.diff(flown.time_s)
    for leg in np.flatnonzero(pause > longest):
        if ((stays[:, 0] <= leg + 1) & (stays[:, 1] > leg)).any():
            paused = {
                "pause": span(float(pause[leg])),
                "time": clock(float(flown.time_s[leg])),
            }
            work.warn(fact("log-pauses", **paused), matters.LOG_GAP)
