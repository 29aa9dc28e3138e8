"""Marks held against tracks: does a mark lie where its pilot has been.

A mark farther from the track than a throw carries is a keying or identity error until
shown otherwise.  Two stages, so that logs can be looked at in separate processes:

1. `approaches` tells of one track how near it came, in the air, to **every** mark of the
   flight, and when: a few bytes a mark.
2. `check_marks` puts the tracks side by side and names, for each mark that its own
   pilot's track does not reach, the pilots whose track does.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from scorer.checks.base import PlacedMark, in_air
from scorer.checks.places import ACCURACY_M, accuracy_m
from scorer.event import matters
from scorer.event.matter import Blocks, Closes, Matter, matter_kind
from scorer.facts import (
    Fact,
    count,
    distance,
    fact,
    inner,
    log,
    moment,
    pilot,
    several,
    words,
)
from scorer.tracks.flown import Array, Flown
from scorer.tracks.prepare import Ready

MARK_TIME = matter_kind("mark-time", blocks=Blocks.OFFICIAL, closes=Closes.COMPARE)

SIGMAS = 3.0
"""How many standard deviations of mark and track a throw is lengthened by."""
LEG_M = 8.0
"""Tracks are thinned to legs of about this length before the nearest is looked for."""
NEAR_M = 1000.0
"""Fixes farther than this from all marks are left out where nearer ones are found."""
NOTED_S = 60.0
"""A time noted with a mark may be off by this much (our choice)."""
NAMED = 3
"""At most so many pilots are suggested."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Approaches:
    """How near one track came to each of M marks; arrays are (M,), small on purpose."""

    pilot: int
    log: str
    distance_m: NDArray[np.float32]
    """Horizontal, in the plane; inf where the log shows no flight.  For a mark of which
    only the distance from a place is known: from the ring where it can lie, 0 inside."""
    time_s: Array
    """When, POSIX seconds; NaN with an infinite distance."""
    noted_m: NDArray[np.float32]
    """Distance at the time noted with the mark; NaN where none was or the log is silent."""
    sigma_m: float
    """Typical one sigma of the track's fixes."""
    launch_s: float | None = None
    landing_s: float | None = None
    """Where the log shows them, POSIX seconds."""


class Fit(NamedTuple):
    """A pilot whose track reaches a mark."""

    pilot: int
    distance_m: float
    time_s: float


def approaches(flown: Flown, marks: Sequence[PlacedMark]) -> Approaches:
    """Return how near a track came to each mark between launch and landing."""
    air = in_air(flown)
    distance, when, noted = _approached(
        flown.time_s[air], flown.east_m[air], flown.north_m[air], marks
    )
    return Approaches(
        pilot=flown.pilot,
        log=flown.log,
        distance_m=distance.astype(np.float32),
        time_s=when,
        noted_m=noted.astype(np.float32),
        sigma_m=float(np.median(accuracy_m(flown))) if len(flown) else 0.0,
        launch_s=_at(flown, flown.launch),
        landing_s=_at(flown, flown.landing),
    )


def reached(
    ready: Ready, marks: Sequence[PlacedMark], throw_m: float
) -> frozenset[int]:
    """Return which marks a log's track reaches, by their place in the list.

    Before anybody knows whose log it is, and before its heights are known.
    """
    phases = ready.phases
    air = slice(phases.launch or 0, phases.landing)
    distance, _, noted = _approached(
        ready.time_s[air], ready.east_m[air], ready.north_m[air], marks
    )
    sigma = np.array([math.hypot(m.sigma_m, ACCURACY_M) for m in marks])
    fits = (distance <= throw_m + SIGMAS * sigma) & ~(noted > throw_m + SIGMAS * sigma)
    return frozenset(np.flatnonzero(fits).tolist())


def _approached(
    time_s: Array, east_m: Array, north_m: Array, marks: Sequence[PlacedMark]
) -> tuple[Array, Array, Array]:
    """Return distance, time and distance at the noted time, of each mark; all (M,)."""
    track = np.c_[east_m, north_m]
    usable = np.isfinite(track).all(axis=1)
    time, track = time_s[usable], track[usable]
    points = np.array([(m.east_m, m.north_m) for m in marks]).reshape(-1, 2)
    if len(time) < 2 or not len(points):
        nothing = np.full(len(points), np.nan)
        return np.full(len(points), np.inf), nothing, nothing
    within = np.array([m.within_m for m in marks])
    distance, when = nearest(time, track, points)
    noted = np.maximum(_noted(time, track, points, marks) - within, 0.0)
    return np.maximum(distance - within, 0.0), when, noted


def _at(flown: Flown, index: int | None) -> float | None:
    known = index is not None and index < len(flown)
    return float(flown.time_s[index]) if known else None


def nearest(
    time_s: Array, track_en_m: Array, points_en_m: Array
) -> tuple[Array, Array]:
    """Return how near a path comes to points, and when; both (M,).

    `time_s` (N,), `track_en_m` (N, 2), `points_en_m` (M, 2), no NaN, N >= 2.  The fixes
    are searched by a tree, then the legs on either side of the nearest fix: exact but for
    thinning to legs of `LEG_M`, which moves the answer by less than a metre.
    """
    keep = _thinned(track_en_m)
    path, when = track_en_m[keep], time_s[keep]
    low, high = points_en_m.min(axis=0) - NEAR_M, points_en_m.max(axis=0) + NEAR_M
    near = np.flatnonzero(((path > low) & (path < high)).all(axis=1))
    away, fix = _nearest_fix(path, near, points_en_m)
    if not (away <= NEAR_M).all():  # then what was left out could be nearer
        _, fix = _nearest_fix(path, np.arange(len(path)), points_en_m)
    best = np.full(len(points_en_m), np.inf)
    at = np.full(len(points_en_m), np.nan)
    for leg in (np.maximum(fix - 1, 0), np.minimum(fix, len(path) - 2)):
        step = path[leg + 1] - path[leg]
        offset = points_en_m - path[leg]
        square = (step**2).sum(axis=1)
        along = (offset * step).sum(axis=1)
        share = np.divide(along, square, out=np.zeros_like(along), where=square > 0)
        share = share.clip(0.0, 1.0)
        away = np.hypot(*(offset - share[:, None] * step).T)
        nearer = away < best
        best = np.where(nearer, away, best)
        moment = when[leg] + share * (when[leg + 1] - when[leg])
        at = np.where(nearer, moment, at)
    return best, at


def _thinned(track_en_m: Array) -> NDArray[np.int64]:
    """Return the fixes to keep for legs of about `LEG_M`, the last one included."""
    length = float(np.hypot(*np.diff(track_en_m, axis=0).T).mean())
    last = len(track_en_m) - 1
    step = min(max(int(LEG_M / max(length, 1e-6)), 1), max(last // 2, 1))
    return np.unique(np.r_[np.arange(0, last, step), last])


def _nearest_fix(
    path: Array, among: NDArray[np.int64], points: Array
) -> tuple[Array, NDArray[np.int64]]:
    """Return the distance and number of the nearest fix; inf and 0 among none."""
    if not among.size:
        return np.full(len(points), np.inf), np.zeros(len(points), dtype=np.int64)
    away, fix = cKDTree(path[among]).query(points)
    return away, among[fix]


def _noted(
    time: Array, track: Array, points: Array, marks: Sequence[PlacedMark]
) -> Array:
    """Return the least distance within `NOTED_S` of the time noted with each mark."""
    noted = np.full(len(marks), np.nan)
    for k, mark in enumerate(marks):
        if mark.time_s is None:
            continue
        near = np.abs(time - mark.time_s) <= NOTED_S
        if near.any():
            noted[k] = np.hypot(*(track[near] - points[k]).T).min()
    return noted


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """All marks of a flight and how its tracks came near them."""

    marks: Sequence[PlacedMark]
    tracks: Mapping[int, Approaches]
    """By pilot; a pilot without a log is missing."""
    throw_m: float
    flight: str

    def reach_m(self, mark: int, pilot: int) -> float:
        """Return how far from this track this mark can lie by a throw."""
        sigma = np.hypot(self.marks[mark].sigma_m, self.tracks[pilot].sigma_m)
        return float(self.throw_m + SIGMAS * sigma)

    def fits(self, mark: int, pilot: int) -> bool:
        """Tell whether a track reaches a mark, and at the noted time if there is one."""
        track = self.tracks[pilot]
        reach = self.reach_m(mark, pilot)
        noted = track.noted_m[mark]
        return bool(track.distance_m[mark] <= reach and not noted > reach)


def check_marks(flight: Marks) -> tuple[Matter, ...]:
    """Warn of every mark that its own pilot's track does not reach.

    The warning names the nearest pilots whose track does reach it, first those who miss a
    mark themselves, then those whose number is easily mistaken for the one keyed.
    """
    astray = {
        k
        for k, mark in enumerate(flight.marks)
        if mark.pilot in flight.tracks and not flight.fits(k, mark.pilot)
    }
    return (
        *(_warning(flight, k, astray) for k in sorted(astray)),
        *(m for k in range(len(flight.marks)) for m in _not_in_flight(flight, k)),
    )


def _not_in_flight(flight: Marks, k: int) -> Iterator[Matter]:
    """Yield what is wrong with a noted time at which the pilot was not in the air."""
    mark = flight.marks[k]
    track = flight.tracks.get(mark.pilot)
    if track is None or mark.time_s is None:
        return
    named = {"mark": inner(_named(mark)), "noted": moment(mark.time_s)}
    whose = log(track.log)
    says = None
    if track.launch_s is not None and mark.time_s < track.launch_s - NOTED_S:
        launch = moment(track.launch_s)
        says = fact("mark-before-launch", **named, log=whose, launch=launch)
    if track.landing_s is not None and mark.time_s > track.landing_s + NOTED_S:
        landing = moment(track.landing_s)
        says = fact("mark-after-landing", **named, log=whose, landing=landing)
    if says is not None:
        yield Matter(
            kind=MARK_TIME,
            flight=flight.flight,
            task=mark.task,
            pilots=(mark.pilot,),
            mark=mark.mark,
            says=says,
        )


def fitting(flight: Marks, k: int, astray: set[int]) -> list[Fit]:
    """Return the pilots whose track reaches a mark, the likeliest first."""
    own = flight.marks[k]
    placed = {
        mark.pilot
        for i, mark in enumerate(flight.marks)
        if i not in astray and mark.task == own.task and mark.mark == own.mark
    }
    found = [
        Fit(p, float(track.distance_m[k]), float(track.time_s[k]))
        for p, track in flight.tracks.items()
        if p != own.pilot and flight.fits(k, p)
    ]
    return sorted(
        found,
        key=lambda fit: (
            fit.pilot in placed,
            not mistaken(own.pilot, fit.pilot),
            fit.distance_m,
            fit.pilot,
        ),
    )


def mistaken(one: int, other: int) -> bool:
    """Tell whether a number is easily keyed for another.

    One digit wrong, missing or too many, or two neighbours swapped: the single errors of
    keying (F. J. Damerau, Communications of the ACM 7 (1964) 171).
    """
    a, b = str(one), str(other)
    if len(a) == len(b):
        wrong = [i for i in range(len(a)) if a[i] != b[i]]
        swapped = (
            len(wrong) == 2
            and wrong[1] == wrong[0] + 1
            and a[wrong[0]] == b[wrong[1]]
            and a[wrong[1]] == b[wrong[0]]
        )
        return len(wrong) == 1 or swapped
    long, short = sorted((a, b), key=len, reverse=True)
    return len(long) == len(short) + 1 and any(
        long[:i] + long[i + 1 :] == short for i in range(len(long))
    )


def _warning(flight: Marks, k: int, astray: set[int]) -> Matter:
    mark = flight.marks[k]
    return Matter(
        kind=matters.MARK_FAR_FROM_TRACK,
        flight=flight.flight,
        task=mark.task,
        pilots=(mark.pilot,),
        mark=mark.mark,
        says=fact(
            "mark-astray",
            what=inner(_what(flight, k)),
            others=inner(_others(flight, k, astray)),
        ),
    )


def _what(flight: Marks, k: int) -> Fact:
    """State how a mark and the track of its pilot disagree."""
    mark = flight.marks[k]
    track = flight.tracks[mark.pilot]
    named = _named(mark)
    away, reach = float(track.distance_m[k]), flight.reach_m(k, mark.pilot)
    if not np.isfinite(away):
        return fact("mark-without-flight", mark=inner(named), log=log(track.log))
    values = {
        "mark": inner(named),
        "log": log(track.log),
        "away": distance(away),
        "at": moment(float(track.time_s[k])),
    }
    if away > reach:
        return fact(
            "mark-beyond-throw",
            **values,
            reach=distance(reach),
            beyond=distance(away - reach),
        )
    assert mark.time_s is not None
    return fact(
        "mark-at-other-time",
        **values,
        noted=moment(mark.time_s),
        then=distance(float(track.noted_m[k])),
    )


def _named(mark: PlacedMark) -> Fact:
    if mark.mark:
        return fact("mark-named", mark=words(mark.mark), pilot=pilot(mark.pilot))
    return fact("mark-of", pilot=pilot(mark.pilot))


def _others(flight: Marks, k: int, astray: set[int]) -> Fact:
    """State whose tracks a mark fits instead."""
    mark = flight.marks[k]
    fits = fitting(flight, k, astray)
    if not fits:
        return fact("mark-fits-nobody")
    theirs = {fit.pilot for fit in fits}
    for i in sorted(astray):
        other = flight.marks[i]
        crossed = other.pilot != mark.pilot and other.task == mark.task
        if crossed and other.pilot in theirs and flight.fits(i, mark.pilot):
            return fact(
                "marks-swapped", pilot=pilot(mark.pilot), other=pilot(other.pilot)
            )
    named = several(inner(_fit(fit)) for fit in fits[:NAMED])
    if len(fits) > NAMED:
        return fact("mark-fits-many", named=named, more=count(len(fits) - NAMED))
    return fact("mark-fits", named=named)


def _fit(fit: Fit) -> Fact:
    return fact(
        "track-reaches",
        pilot=pilot(fit.pilot),
        away=distance(fit.distance_m),
        at=moment(fit.time_s),
    )
