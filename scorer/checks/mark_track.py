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
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from scorer.checks.base import PlacedMark, in_air
from scorer.checks.edges import ACCURACY_M, accuracy_m
from scorer.checks.pauses import Pauses
from scorer.event.moments import NOTED_S
from scorer.facts import Fact
from scorer.geodesy.arrays import Point
from scorer.tracks.flown import Array, Flown
from scorer.tracks.names import one_off
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
        places = np.c_[self.east_m, self.north_m]
        return Pauses.of(self.time_s, places, begins=self.begins, ends=self.ends)

    @cached_property
    def path(self) -> "ThinnedTrack":
        """The fixes thinned, ready to be searched; made when first asked for."""
        return ThinnedTrack.of(self.time_s, np.c_[self.east_m, self.north_m])

    @cached_property
    def _aims_m(self) -> dict[Point, float]:
        """How near the track came to each target that was asked for."""
        return {}

    def near(self, marks: Sequence[PlacedMark]) -> Array:
        """Return what the track shows of each mark; (ROWS, M), rows as named there."""
        found = np.full((ROWS, len(marks)), np.nan)
        found[0] = np.inf
        passes = found[PASSES:]
        passes[2] = np.inf
        if len(self.time_s) < 2 or not marks:
            return found
        points = np.array([(m.east_m, m.north_m) for m in marks])
        within = np.array([m.within_m for m in marks])
        distance, found[1] = self.path.nearest(points)
        found[0] = np.maximum(distance - within, 0.0)
        found[2] = np.maximum(self._noted(points, marks) - within, 0.0)
        found[3:PASSES] = paused = self._paused(points, marks)
        passes[0] = np.where(paused[0] < distance, math.nan, distance)
        found[3] = np.maximum(paused[0] - within, 0.0)
        passes[1] = self._aimed(marks)
        passes[2], passes[3] = self._then(points, within, marks)
        passes[4] = self._speed_m_s(found[1])
        if self.height_m is not None:
            passes[5] = np.interp(found[1], self.time_s, self.height_m)
        return found

    def _paused(self, points: Array, marks: Sequence[PlacedMark]) -> Array:
        """Return the columns of `Paused` with distances from the points; (3, M)."""
        pauses = self.pauses
        if not len(pauses.start_s):
            return np.full((3, len(marks)), np.nan)
        least = pauses.least_m(points, _noted_s(marks), NOTED_S)
        best = np.where(np.isnan(least), np.inf, least).argmin(axis=1)
        ends = [
            np.where(np.isnan(place[:, 0]), np.nan, when)[best]
            for place, when in (
                (pauses.before_m, pauses.start_s),
                (pauses.after_m, pauses.end_s),
            )
        ]
        return np.array([least[np.arange(len(marks)), best], *ends])

    def _aimed(self, marks: Sequence[PlacedMark]) -> Array:
        """Return how near the track came to the target of each mark.

        NaN where it may have come nearer while the log paused.
        """
        near = self._aims_m
        fresh = sorted({mark.aim for mark in marks if mark.aim is not None} - {*near})
        if fresh:
            points = np.array(fresh)
            shown, free = self.path.nearest(points)[0], np.full(len(fresh), np.nan)
            if len(self.pauses.start_s):
                paused = self.pauses.least_m(points, free, NOTED_S).min(axis=1)
                shown = np.where(paused < shown, np.nan, shown)
            near.update(zip(fresh, shown.tolist(), strict=True))
        aims = (mark.aim for mark in marks)
        return np.array([math.nan if aim is None else near[aim] for aim in aims])

    def _then(
        self, points: Array, within: Array, marks: Sequence[PlacedMark]
    ) -> tuple[Array, Array]:
        """Return how far each mark was at its noted time, and the speed then.

        The distance is NaN in a pause and infinite where the track is not in the air.
        """
        noted, time = _noted_s(marks), self.time_s
        if np.isnan(noted).all():
            return noted, noted
        late = (noted > time[-1] + NOTED_S) | (noted < time[0] - NOTED_S)
        here = np.where(late, math.nan, noted)
        east, north = (np.interp(here, time, xy) for xy in (self.east_m, self.north_m))
        away = np.abs(np.hypot(east - points[:, 0], north - points[:, 1]) - within)
        begin, end = self.pauses.start_s, self.pauses.end_s
        silent = ((noted[:, None] > begin) & (noted[:, None] < end)).any(axis=1)
        away = np.where(silent, math.nan, np.where(late, math.inf, away))
        return away, self._speed_m_s(here)

    def _speed_m_s(self, moments: Array) -> Array:
        """Return the speed over the ground about some moments."""
        ends = np.array([moments - SPEED_S, moments + SPEED_S])
        way = (
            np.subtract(*np.interp(ends, self.time_s, xy))
            for xy in (self.east_m, self.north_m)
        )
        return np.asarray(np.hypot(*way) / (2.0 * SPEED_S))

    def _noted(self, points: Array, marks: Sequence[PlacedMark]) -> Array:
        """Return the least distance within `NOTED_S` of the time noted with each mark."""
        away = np.full(len(marks), np.nan)
        noted = _noted_s(marks)
        first = np.searchsorted(self.time_s, noted - NOTED_S, "left")
        last = np.searchsorted(self.time_s, noted + NOTED_S, "right")
        for k in np.flatnonzero(first < last):  # NaN comes after all
            near = slice(first[k], last[k])
            off = self.east_m[near] - points[k, 0], self.north_m[near] - points[k, 1]
            away[k] = np.hypot(*off).min()
        return away


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
            sigma_m=float(np.median(accuracy_m(flown))) if len(flown) else 0.0,
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


def reached(near: Array, reach_m: Array) -> frozenset[int]:
    """Return which marks a log's track reaches, by their place in the list.

    `near` is what `Course.near` found; nobody need know yet whose log it is.
    """
    fits = (near[0] <= reach_m) & ~(near[2] > reach_m)
    return frozenset(np.flatnonzero(fits).tolist())


@dataclass(frozen=True, slots=True, eq=False)
class ThinnedTrack:
    """A track thinned to legs of about `LEG_M`, in a tree."""

    time_s: Array
    """(N,) POSIX seconds."""
    en_m: Array
    """(N, 2) east and north."""
    tree: cKDTree

    @classmethod
    def of(cls, time_s: Array, track_en_m: Array) -> "ThinnedTrack":
        """Thin a track of two fixes or more, without NaN."""
        keep = _thinned(track_en_m)
        path = track_en_m[keep]
        return cls(time_s[keep], path, cKDTree(path))

    def nearest(self, points_en_m: Array) -> tuple[Array, Array]:
        """Return how near the path comes to points, and when; both (M,).

        The nearest fix is searched by the tree, then the legs on either side of it: exact
        but for the thinning, which moves the answer by less than a metre.
        """
        path, when = self.en_m, self.time_s
        _, fix = self.tree.query(points_en_m)
        leg = np.array([np.maximum(fix - 1, 0), np.minimum(fix, len(path) - 2)])
        start, at = path[leg], when[leg]
        step = path[leg + 1] - start
        offset = points_en_m - start
        square = (step**2).sum(axis=-1)
        along = (offset * step).sum(axis=-1)
        share = np.divide(along, square, out=np.zeros_like(along), where=square > 0)
        share = share.clip(0.0, 1.0)
        off = offset - share[..., None] * step
        away = np.hypot(off[..., 0], off[..., 1])
        moment = at + share * (when[leg + 1] - at)
        later = away[1] < away[0]
        return np.where(later, away[1], away[0]), np.where(later, moment[1], moment[0])


def nearest(
    time_s: Array, track_en_m: Array, points_en_m: Array
) -> tuple[Array, Array]:
    """Return how near a path comes to points, and when; both (M,).

    `time_s` (N,), `track_en_m` (N, 2), `points_en_m` (M, 2), no NaN, N >= 2.
    """
    return ThinnedTrack.of(time_s, track_en_m).nearest(points_en_m)


def _thinned(track_en_m: Array) -> NDArray[np.int64]:
    """Return the fixes to keep for legs of about `LEG_M`, the last one included."""
    length = float(np.hypot(*np.diff(track_en_m, axis=0).T).mean())
    last = len(track_en_m) - 1
    step = min(max(int(LEG_M / max(length, 1e-6)), 1), max(last // 2, 1))
    return np.unique(np.r_[np.arange(0, last, step), last])


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


def mistaken(one: int, other: int) -> bool:
    """Tell whether a number is easily keyed for another."""
    return one_off(str(one), str(other))
