"""Marks held against tracks: does a mark lie where its pilot has been.

A mark farther from the track than a throw carries is a keying or identity error until
shown otherwise.  Two stages, so that logs can be looked at in separate processes:

1. `Course.near` tells of one track how near it came, in the air, to **every** mark of the
   flight, and when: a few bytes a mark, and each mark by itself.
2. `mark_told.check_marks` puts the tracks side by side and names, for each mark that its
   own pilot's track does not reach, the pilots whose track does.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import scipy
from numpy.typing import NDArray

from scorer.checks.base import PlacedMark, in_air
from scorer.checks.edges import ACCURACY_M, accuracy_m
from scorer.checks.pauses import Pauses
from scorer.event.moments import NOTED_S
from scorer.facts import Fact
from scorer.geodesy.arrays import Point
from scorer.tracks.flown import Array, Flown
from scorer.tracks.names import one_off
from scorer.tracks.plain import diffs, marked, mean, median
from scorer.tracks.prepare import Ready

SIGMAS = 3.0
"""How many standard deviations of mark and track a throw is lengthened by."""
LEG_M = 8.0
"""Tracks are thinned to legs of about this length before the nearest is looked for."""
SPEED_S = 10.0
"""Speeds are taken from so long before a moment to so long after it."""
ROWS = 12
"""Of `Course.near`: nearest distance and its time, distance at the noted time, three of
`Paused`, and from `PASSES` on those of `Passes`."""
PASSES = 6


class Passes(NamedTuple):
    """What a throw is judged by: one track and M marks; each (M,), NaN = not known."""

    nearest_m: Array
    """From the mark, or from the place that its distance counts from."""
    aim_m: Array
    """From the target the mark was thrown at."""
    then_m: Array
    """At the noted time: from the mark, or from the ring where it can lie; infinite where
    the track is not in the air then."""
    then_m_s: Array
    """Speed over the ground at the noted time."""
    speed_m_s: Array
    """Speed over the ground where it was nearest."""
    height_m: Array
    """Above the ground where it was nearest, about."""


class Paused(NamedTuple):
    """The pause of the log in which a track may have come nearest; each (M,)."""

    least_m: Array
    """So far away at least; NaN = the log has no pause that matters here."""
    start_s: Array
    """POSIX seconds; NaN where the log only begins then, in the air."""
    end_s: Array
    """NaN where the log ended before, in the air."""


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
    passes: "Passes | None" = None
    """What a throw is judged by; None = only the distances above are known."""
    paused: "Paused | None" = None
    """How near it may have come while the log paused; None = not asked."""


class Fit(NamedTuple):
    """A pilot whose track reaches a mark."""

    pilot: int
    distance_m: float
    time_s: float


@dataclass(frozen=True, eq=False)
class Course:
    """Where a balloon was in the air; a mark gets one answer, whatever others are asked.

    Arrays are (N,), without NaN.
    """

    time_s: Array
    """POSIX seconds."""
    east_m: Array
    north_m: Array
    height_m: Array | None = None
    """Above the ground at the launch; for a log alone about, for throws are judged by it
    before the air of the flight is known.  None = not known."""
    begins: bool = False
    """The log begins in the air."""
    ends: bool = False
    """It ends there."""

    @classmethod
    def of(cls, track: Flown | Ready, air: slice) -> "Course":
        """Take the fixes in the air of which the place is known."""
        phases = track if isinstance(track, Flown) else track.phases
        time, east, north = track.time_s[air], track.east_m[air], track.north_m[air]
        usable = np.isfinite(east) & np.isfinite(north)
        height = _height_m(track)
        return cls(
            time[usable],
            east[usable],
            north[usable],
            None if height is None else height[air][usable],
            begins=phases.launch is None,
            ends=phases.landing is None,
        )

    @cached_property
    def pauses(self) -> Pauses:
        """Where the log does not show the flight."""
        places = np.column_stack((self.east_m, self.north_m))
        return Pauses.of(self.time_s, places, begins=self.begins, ends=self.ends)

    @cached_property
    def path(self) -> "ThinnedTrack":
        """The fixes thinned, ready to be searched; made when first asked for."""
        return ThinnedTrack.of(
            self.time_s, np.column_stack((self.east_m, self.north_m))
        )

    @cached_property
    def _aims_m(self) -> dict[Point, float]:
        """How near the track came to each target that was asked for."""
        return {}

    def near(self, marks: Sequence[PlacedMark]) -> Array:
        """Return what the track shows of each mark; (ROWS, M), rows as named there."""
        near: Array = near_all([self], marks)[0]
        return near

    def paused(self, points: Array, noted_s: Array) -> Array:
        """Return the columns of `Paused` with distances from the points; (3, M)."""
        pauses = self.pauses
        if not len(pauses.start_s):
            return np.full((3, len(points)), np.nan)
        least = pauses.least_m(points, noted_s, NOTED_S)
        best = np.where(np.isnan(least), np.inf, least).argmin(axis=1)
        ends = [
            np.where(np.isnan(place[:, 0]), np.nan, when)[best]
            for place, when in (
                (pauses.before_m, pauses.start_s),
                (pauses.after_m, pauses.end_s),
            )
        ]
        return np.array([least[np.arange(len(points)), best], *ends])

    def aimed(self, aims: Sequence[Point]) -> list[float]:
        """Return how near the track came to each of several targets.

        NaN where it may have come nearer while the log paused.
        """
        near = self._aims_m
        fresh = [aim for aim in aims if aim not in near]
        if fresh:
            points = np.array(fresh)
            shown, free = self.path.nearest(points)[0], np.full(len(fresh), np.nan)
            if len(self.pauses.start_s):
                paused = self.pauses.least_m(points, free, NOTED_S).min(axis=1)
                shown = np.where(paused < shown, np.nan, shown)
            near.update(zip(fresh, shown.tolist(), strict=True))
        return [near[aim] for aim in aims]

    def places(self, moments: Array) -> Array:
        """Return where the balloon was; (2, *shape), east and north."""
        return np.array(
            [np.interp(moments, self.time_s, xy) for xy in (self.east_m, self.north_m)]
        )

    def in_air(self, noted_s: Array) -> NDArray[np.bool_]:
        """Tell whether the log covers moments; False for those that are not known."""
        first, last = self.time_s[0] - NOTED_S, self.time_s[-1] + NOTED_S
        return np.asarray((noted_s >= first) & (noted_s <= last))

    def silent(self, noted_s: Array) -> NDArray[np.bool_]:
        """Tell which moments lie in a pause of the log."""
        start, end = self.pauses.start_s, self.pauses.end_s
        within = (noted_s[:, None] > start) & (noted_s[:, None] < end)
        return np.asarray(within.any(axis=1))

    def noted(self, points: Array, noted_s: Array) -> Array:
        """Return the least distance within `NOTED_S` of the time noted with each mark."""
        away = np.full(len(points), np.nan)
        first = np.searchsorted(self.time_s, noted_s - NOTED_S, "left")
        last = np.searchsorted(self.time_s, noted_s + NOTED_S, "right")
        for k in marked(first < last):  # NaN comes after all
            near = slice(first[k], last[k])
            off = self.east_m[near] - points[k, 0], self.north_m[near] - points[k, 1]
            away[k] = np.hypot(*off).min()
        return away


def near_all(courses: Sequence[Course], marks: Sequence[PlacedMark]) -> Array:
    """Return what `Course.near` does of several tracks, (T, ROWS, M), to the same bits."""
    every = np.full((len(courses), ROWS, len(marks)), np.nan)
    every[:, 0] = every[:, PASSES + 2] = np.inf
    flown = [n for n, course in enumerate(courses) if len(course.time_s) >= 2]
    if flown and marks:
        every[flown] = _near([courses[n] for n in flown], marks)
    return every


def _near(courses: Sequence[Course], marks: Sequence[PlacedMark]) -> Array:
    points = np.array([(m.east_m, m.north_m) for m in marks])
    within = np.array([m.within_m for m in marks])
    noted = _noted_s(marks)
    found = np.full((len(courses), ROWS, len(marks)), np.nan)
    distance, found[:, 1] = nearest_of([course.path for course in courses], points)
    found[:, 0] = np.maximum(distance - within, 0.0)
    found[:, 3:PASSES] = [course.paused(points, noted) for course in courses]
    passes = found[:, PASSES:]
    passes[:, 0] = np.where(found[:, 3] < distance, math.nan, distance)
    found[:, 3] = np.maximum(found[:, 3] - within, 0.0)
    passes[:, 1] = _aimed(courses, marks)
    passes[:, 4] = _speeds_m_s(courses, found[:, 1])
    for near, course in zip(found, courses, strict=True):
        if course.height_m is not None:
            near[PASSES + 5] = np.interp(near[1], course.time_s, course.height_m)
    if not np.isnan(noted).all():
        away = np.array([course.noted(points, noted) for course in courses])
        found[:, 2] = np.maximum(away - within, 0.0)
        passes[:, 2], passes[:, 3] = _then(courses, points, within, noted)
    return found


def _aimed(courses: Sequence[Course], marks: Sequence[PlacedMark]) -> Array:
    """Return how near tracks came to the target of each mark, (T, M); NaN without one."""
    aims = [*dict.fromkeys(mark.aim for mark in marks if mark.aim is not None)]
    each = np.array([[*course.aimed(aims), math.nan] for course in courses])
    column: dict[Point | None, int] = {aim: n for n, aim in enumerate(aims)}
    return each[:, np.array([column.get(mark.aim, -1) for mark in marks])]


def _then(
    courses: Sequence[Course], points: Array, within: Array, noted: Array
) -> tuple[Array, Array]:
    """Return how far marks were at their noted times, and the speeds then; (T, M).

    A distance is NaN in a pause and infinite where the track is not in the air.
    """
    covered = np.array([course.in_air(noted) for course in courses])
    here = np.where(covered, noted, math.nan)
    each = zip(courses, here, strict=True)
    there = np.array([course.places(moments) for course, moments in each])
    off = np.hypot(there[:, 0] - points[:, 0], there[:, 1] - points[:, 1])
    late = ~covered & np.isfinite(noted)
    away = np.where(late, math.inf, np.abs(off - within))
    silent = np.array([course.silent(noted) for course in courses])
    return np.where(silent, math.nan, away), _speeds_m_s(courses, here)


def _speeds_m_s(courses: Sequence[Course], moments: Array) -> Array:
    """Return speeds over the ground about moments, (T, M) of T tracks."""
    ends = np.stack([moments - SPEED_S, moments + SPEED_S], axis=1)
    each = zip(courses, ends, strict=True)
    places = np.array([course.places(own) for course, own in each])
    way = places[:, :, 0] - places[:, :, 1]
    return np.asarray(np.hypot(way[:, 0], way[:, 1]) / (2.0 * SPEED_S))


def _noted_s(marks: Sequence[PlacedMark]) -> Array:
    """Return when marks fell, where it was noted; (M,) POSIX seconds, else NaN."""
    return np.array([math.nan if m.time_s is None else m.time_s for m in marks])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Aloft:
    """What marks are held against of one track."""

    pilot: int
    log: str
    sigma_m: float
    """Typical one sigma of the track's fixes."""
    course: Course | None
    """None = that of the one log it is made of."""

    @classmethod
    def of(cls, flown: Flown, *, course: bool = True) -> "Aloft":
        """Take it from a track; without its course where that is known already."""
        return cls(
            pilot=flown.pilot,
            log=flown.log,
            sigma_m=float(median(accuracy_m(flown))) if len(flown) else 0.0,
            course=Course.of(flown, in_air(flown)) if course else None,
        )

    def approaches(self, near: Array) -> Approaches:
        """Say how near it came to each mark, as `Course.near` found."""
        return Approaches(
            pilot=self.pilot,
            log=self.log,
            distance_m=near[0].astype(np.float32),
            time_s=near[1],
            noted_m=near[2].astype(np.float32),
            paused=Paused(*near[3:PASSES]),
            passes=Passes(*near[PASSES:]),
            sigma_m=self.sigma_m,
        )


def approaches(flown: Flown, marks: Sequence[PlacedMark]) -> Approaches:
    """Return how near a track came to each mark between launch and landing."""
    return Aloft.of(flown).approaches(Course.of(flown, in_air(flown)).near(marks))


def course_of(ready: Ready) -> Course:
    """Return the way of a log's flight, before its heights are known."""
    return Course.of(ready, slice(ready.phases.launch or 0, ready.phases.landing))


def _height_m(track: Flown | Ready) -> Array | None:
    """Return heights above the ground; of a log alone, from that of its launch on."""
    if isinstance(track, Flown):
        return track.height_m
    launch = track.phases.launch
    if track.shape is None or launch is None or launch >= len(track.time_s):
        return None
    above: Array = track.shape.x - track.ground_m
    return np.asarray(above - above[launch])


def reaches_m(marks: Sequence[PlacedMark], throw_m: float) -> Array:
    """Return from how far a track reaches each mark by a throw; (M,)."""
    sigma = np.array([math.hypot(m.sigma_m, ACCURACY_M) for m in marks])
    return np.asarray(throw_m + SIGMAS * sigma)


def reached(nears: Sequence[Array], reach_m: Array) -> list[frozenset[int]]:
    """Return which marks the track of each log reaches, by their place in the list.

    `nears` are what `Course.near` found; nobody need know yet whose logs they are.
    """
    away = np.array([near[0] for near in nears]).reshape(len(nears), len(reach_m))
    noted = np.array([near[2] for near in nears]).reshape(away.shape)
    row, mark = np.nonzero((away <= reach_m) & ~(noted > reach_m))
    ends = np.searchsorted(row, np.arange(len(nears) + 1)).tolist()
    every = mark.tolist()
    return [frozenset(every[start:end]) for start, end in pairwise(ends)]


@dataclass(frozen=True, slots=True, eq=False)
class ThinnedTrack:
    """A track thinned to legs of about `LEG_M`, in a tree."""

    time_s: Array
    """(N,) POSIX seconds."""
    en_m: Array
    """(N, 2) east and north."""
    tree: "scipy.spatial.cKDTree"

    @classmethod
    def of(cls, time_s: Array, track_en_m: Array) -> "ThinnedTrack":
        """Thin a track of two fixes or more, without NaN."""
        keep = _thinned(track_en_m)
        path = track_en_m[keep]
        return cls(time_s[keep], path, scipy.spatial.cKDTree(path))

    def nearest(self, points_en_m: Array) -> tuple[Array, Array]:
        """Return how near the path comes to points, and when; both (M,).

        The nearest fix is searched by the tree, then the legs on either side of it: exact
        but for the thinning, which moves the answer by less than a metre.
        """
        away, when = nearest_of([self], points_en_m)
        return away[0], when[0]


def nearest_of(
    paths: Sequence[ThinnedTrack], points_en_m: Array
) -> tuple[Array, Array]:
    """Return what `ThinnedTrack.nearest` does of several paths, each (T, M)."""
    ends, times = [], []
    for path in paths:
        _, fix = path.tree.query(points_en_m)
        last = len(path.en_m) - 2
        leg = np.array([np.maximum(fix - 1, 0), np.minimum(fix, last)])
        both = np.array([leg, leg + 1])
        ends.append(path.en_m[both])
        times.append(path.time_s[both])
    start, end = np.moveaxis(np.array(ends), 1, 0)
    at, until = np.moveaxis(np.array(times), 1, 0)
    step = end - start
    offset = points_en_m - start
    square = (step**2).sum(axis=-1)
    along = (offset * step).sum(axis=-1)
    share = np.divide(along, square, out=np.zeros_like(along), where=square > 0)
    share = share.clip(0.0, 1.0)
    off = offset - share[..., None] * step
    away = np.hypot(off[..., 0], off[..., 1])
    moment = at + share * (until - at)
    later = away[:, 1] < away[:, 0]
    return (
        np.where(later, away[:, 1], away[:, 0]),
        np.where(later, moment[:, 1], moment[:, 0]),
    )


def nearest(
    time_s: Array, track_en_m: Array, points_en_m: Array
) -> tuple[Array, Array]:
    """Return how near a path comes to points, and when; both (M,).

    `time_s` (N,), `track_en_m` (N, 2), `points_en_m` (M, 2), no NaN, N >= 2.
    """
    return ThinnedTrack.of(time_s, track_en_m).nearest(points_en_m)


def _thinned(track_en_m: Array) -> NDArray[np.int64]:
    """Return the fixes to keep for legs of about `LEG_M`, the last one included."""
    length = float(mean(np.hypot(*diffs(track_en_m).T)))
    last = len(track_en_m) - 1
    step = min(max(int(LEG_M / max(length, 1e-6)), 1), max(last // 2, 1))
    return np.append(np.arange(0, last, step), last)


@dataclass(frozen=True, kw_only=True)
class Marks:
    """All marks of a flight and how its tracks came near them."""

    marks: Sequence[PlacedMark]
    tracks: Mapping[int, Approaches]
    """By pilot; a pilot without a log is missing."""
    throw_m: float
    flight: str

    def reach_m(self, mark: int, pilot: int) -> float:
        """Return how far from this track this mark can lie by a throw."""
        return float(self._reach_m[self._rows[pilot], mark])

    def fits(self, mark: int, pilot: int) -> bool:
        """Tell whether a track reaches a mark, and at the noted time if there is one."""
        return bool(self._fits[self._rows[pilot], mark])

    def fitted_by(self, mark: int) -> list[int]:
        """Return the pilots whose track reaches a mark, in the order of the tracks."""
        numbers = list(self.tracks)
        return [numbers[row] for row in np.flatnonzero(self._fits[:, mark])]

    @cached_property
    def _rows(self) -> Mapping[int, int]:
        return {number: row for row, number in enumerate(self.tracks)}

    @cached_property
    def _reach_m(self) -> Array:
        """From how far each track reaches each mark; (P, M)."""
        marks = np.array([mark.sigma_m for mark in self.marks])
        tracks = np.array([track.sigma_m for track in self.tracks.values()])
        return np.asarray(self.throw_m + SIGMAS * np.hypot(tracks[:, None], marks))

    @cached_property
    def _fits(self) -> NDArray[np.bool_]:
        """Whether each track reaches each mark; (P, M)."""
        tracks, shape = self.tracks.values(), self._reach_m.shape
        away = np.array([track.distance_m for track in tracks]).reshape(shape)
        noted = np.array([track.noted_m for track in tracks]).reshape(shape)
        return (away <= self._reach_m) & ~(noted > self._reach_m)

    def paused(self, mark: int, pilot: int) -> bool:
        """Tell whether a track may have reached a mark while its log paused."""
        paused = self.tracks[pilot].paused
        if paused is None:
            return False
        return bool(paused.least_m[mark] <= self.reach_m(mark, pilot))


class Doubt(NamedTuple):
    """A mark that something else fits better (`mark_doubts`)."""

    mark: int
    """Its place in the list."""
    odds: float
    """Natural logarithm of the odds that it is wrong."""
    sign: int | None
    """The rarest of its signs: 0 away, 1 aim, 2 then; None = none is rare."""
    meant: Fact | None = None
    """What fits better by far; None = nothing stands out."""
    swap: int | None = None
    """The mark it is exchanged with, if that stands out."""
    other: int | None = None
    """The pilot it is of, if that stands out."""
    stack: Fact | None = None
    """What it is wrong in together with other marks of its stack; `what` and `meant` of
    this one are put in where it is told."""


def fitting(flight: Marks, k: int, astray: set[int]) -> list[Fit]:
    """Return the pilots whose track reaches a mark, the likeliest first."""
    own = flight.marks[k]
    placed = {
        mark.pilot
        for i, mark in enumerate(flight.marks)
        if i not in astray and mark.task == own.task and mark.mark == own.mark
    }
    reaching = ((p, flight.tracks[p]) for p in flight.fitted_by(k) if p != own.pilot)
    found = [
        Fit(p, float(track.distance_m[k]), float(track.time_s[k]))
        for p, track in reaching
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


MOST_PAIRS = 200_000
"""So many pairs of numbers are remembered: each mark asks for all others."""
LIKE_NUMBER = 0.6
"""How often a wrong number is one easily mistaken for the right one (our choice)."""


def mixed_up(weights: Mapping[int, float], like: set[int]) -> dict[int, float]:
    """Return how likely each number is the right one where another was written.

    `weights` are what else speaks for each, `like` those easily mistaken for the one
    written; all chances together are 1, or less where none is like it.
    """
    total = sum(weights.values())
    alike = sum(weights[n] for n in weights if n in like)
    return {
        n: (1.0 - LIKE_NUMBER) * weight / total
        + (LIKE_NUMBER * weight / alike if n in like else 0.0)
        for n, weight in weights.items()
    }


@lru_cache(maxsize=MOST_PAIRS)
def mistaken(one: int, other: int) -> bool:
    """Tell whether a number is easily keyed for another."""
    return one_off(str(one), str(other))
