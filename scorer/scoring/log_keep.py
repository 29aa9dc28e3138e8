"""What a flight's logs told before: asked for by all that it depends on, and no more.

Three parts, so that one change costs what it touches: what a log shows by itself
(`FirstLook`), what its pilot's evidence makes of it in the air of the flight
(`LogOutcome`), and how near its track came to each mark, mark by mark.
"""

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from scorer.checks.base import PlacedMark, declared_checks
from scorer.checks.mark_track import (
    ROWS,
    Aloft,
    Approaches,
    Course,
    course_of,
    near_all,
    reached,
    reaches_m,
)
from scorer.event.model import LogFile
from scorer.scoring.keep import Keep
from scorer.scoring.results import LogSummary
from scorer.scoring.work import (
    FirstLook,
    FlightWork,
    Job,
    LogOutcome,
    look_again,
    zone_offsets,
)
from scorer.tracks.flown import Array

BYTES_A_FIX = 80
"""Of a log that was looked at."""
BYTES_A_PLACE = 60
"""Of its course: each fix three times, and a tree of some of them."""
TOGETHER = 32
"""So many tracks at a time are held against the marks of a flight."""
UNSURE = frozenset({"log-fails", "log-ends-its-process"})
"""What may be otherwise the next time."""

_Courses = Sequence[tuple[Hashable, Callable[[], Course]]]
_In = TypeVar("_In")
_Out = TypeVar("_Out", FirstLook, LogOutcome)


class LogKeep:
    """The logs of one flight, as far as they are known already."""

    def __init__(self, shared: FlightWork, keep: Keep) -> None:
        self.shared = shared
        self.keep = keep
        self._of_logs: tuple[Sequence[LogFile], list[str]] | None = None

    @cached_property
    def _passes(self) -> "_Passes":
        return _Passes(self.shared.marks, self._for_looks, self.keep)

    @cached_property
    def _for_looks(self) -> str:
        """All that a log's own reading depends on beside the log."""
        own = self.shared
        return self.keep.key(
            "look",
            (own.flight, own.day, own.time_zone, own.hours),
            zone_offsets(own.time_zone, own.hours),
            (own.qnh_hpa, own.temperature_c, own.ground_elevation_m),
            (own.terrain_sigma_m, own.site.plane, own.site.ground, own.periods),
        )

    @cached_property
    def for_outcomes(self) -> str:
        """All that judging depends on beside the logs, their air and their pilot."""
        own = self.shared
        return self.keep.key(
            "judge",
            (self._for_looks, own.site, own.tasks, own.books, own.places),
            (own.prohibited, own.remarks, own.others),
            [check.name for check in declared_checks()],
        )

    # Looking at logs.

    def looks(
        self,
        logs: Sequence[LogFile],
        find: Callable[[Sequence[LogFile]], Sequence[FirstLook]],
    ) -> list[FirstLook]:
        """Return what each log shows by itself."""
        keys = self._keys(logs)
        found = self._known(keys, logs, find)
        same = self.keep.same
        return [
            same(("look", key), (look,), partial(replace, look, key=key))
            for look, key in zip(found, keys, strict=True)
        ]

    def unseen(self, logs: Sequence[LogFile]) -> list[LogFile]:
        """Return those that nobody has looked at."""
        keys = zip(logs, self._keys(logs), strict=True)
        return [
            log for log, key in keys if not key or self.keep.get(key, _size) is None
        ]

    def _keys(self, logs: Sequence[LogFile]) -> list[str]:
        if self._of_logs is None or self._of_logs[0] is not logs:
            self._of_logs = logs, [self.key(log) for log in logs]
        return self._of_logs[1]

    def again(self, log: LogFile, clock_s: float) -> FirstLook:
        """Return what a log shows with so much added to its times."""
        return replace(self.look(log, clock_s), key=self.key(log, clock_s))

    def look(self, log: LogFile, clock_s: float) -> FirstLook:
        """Return what a log shows by itself, with so much added to its times."""
        key = self.key(log, clock_s)
        find = partial(look_again, self.shared, log, clock_s)
        (look,) = self._known([key], [log], lambda _: [find()])
        return look

    def reached(
        self, looks: Sequence[FirstLook], *, again: bool = False
    ) -> list[frozenset[int] | None]:
        """Say which marks the track of each log reaches; None = it shows none.

        `again`: beside logs seen before some are looked at with their times moved.
        """
        books = self.shared.books.values()
        throw_m = max((book.tracks.throw_m for book in books), default=0.0)
        reach_m = reaches_m(self.shared.marks, throw_m)
        seen = [k for k in looks if k.head is not None and k.ready is not None]
        courses = [(_name(k), partial(self._course, k)) for k in seen]
        nears = self._passes.of((self.shared.flight, again), courses)
        fits = dict(zip(map(_name, seen), reached(nears, reach_m), strict=True))
        return [fits.get(_name(look)) for look in looks]

    def key(self, log: LogFile, clock_s: float = 0.0) -> str:
        """Return the key of what a log shows by itself; empty where nothing is kept."""
        given = (log.blob, log.pilot, log.problem, clock_s)
        return self.keep.key(self._for_looks, *given)

    def _course(self, look: FirstLook) -> Course:
        assert look.ready is not None
        key = f"course {look.key}"
        known = self.keep.recent(key) if look.key else None
        if known is None:
            known = course_of(look.ready)
            size = BYTES_A_PLACE * len(known.time_s)
            if look.key:
                self.keep.put(key, known, size=size, lasts=False)
        own: Course = known
        return own

    # Judging tracks.

    def outcomes(
        self, jobs: Sequence[Job], find: Callable[[Sequence[Job]], Sequence[LogOutcome]]
    ) -> list[LogOutcome]:
        """Return what came of each track."""
        keys = [self._key_of(job) for job in jobs]
        found = self._known(keys, jobs, find)
        each = zip(found, jobs, keys, strict=True)
        return [self._again(own, job, key) for own, job, key in each]

    def _again(self, found: LogOutcome, job: Job, key: str) -> LogOutcome:
        """Put back whose the logs are now, and why, and its key."""
        if not _sure(found):
            return found
        whose = job.looks[0].identified
        parts = (found, whose, *(look.summary for look in job.looks))
        place = "outcome", job.looks[0].key
        return self.keep.same(place, parts, lambda: _again(found, job, key))

    def approaches(
        self, jobs: Sequence[Job], outcomes: Sequence[LogOutcome]
    ) -> dict[int, Approaches]:
        """Return by pilot how near each track that counts came to all marks."""
        each = zip(jobs, outcomes, strict=True)
        aloft = [(job, own.aloft) for job, own in each if own.aloft is not None]
        courses = [self._course_of(job, own) for job, own in aloft]
        nears = self._passes.of(("joined", self.shared.flight), courses)
        return {
            own.pilot: own.approaches(near)
            for (_, own), near in zip(aloft, nears, strict=True)
        }

    def courses(
        self, jobs: Sequence[Job], outcomes: Sequence[LogOutcome]
    ) -> tuple[dict[int, Callable[[], Course]], str]:
        """Return by pilot what gives the way of the track that counts; their key, too."""
        each = zip(jobs, outcomes, strict=True)
        found = {
            own.aloft.pilot: self._course_of(job, own.aloft)
            for job, own in each
            if own.aloft is not None
        }
        names = [(pilot, name) for pilot, (name, _) in found.items()]
        key = self.keep.key("courses", self.shared.pilots, names)
        return {pilot: make for pilot, (_, make) in found.items()}, key

    def _course_of(
        self, job: Job, aloft: Aloft
    ) -> tuple[Hashable, Callable[[], Course]]:
        """Return the name of a track and what gives its course."""
        lead, course = job.looks[0], aloft.course
        if course is None:
            return _name(lead), partial(self._course, lead)
        key = self._key_of(job)
        return ("joined", key or id(course)), lambda: course

    def _key_of(self, job: Job) -> str:
        """Return the key of a track's outcome; empty where one of its logs has none."""
        if not all(look.key for look in job.looks):
            return ""
        own = self.shared
        pilot = job.looks[0].summary.pilot
        evidence = [own.own.get((task.number, pilot or 0)) for task in own.tasks]
        parts: list[object] = [self.for_outcomes, *job.airs, job.counts, *evidence]
        for look in job.looks:
            told = look.summary
            parts += (look.key, told.clock_s, told.clock_sigma_s)
        place = "judged", own.flight, job.looks[0].key, pilot
        known = pilot in self._numbers
        return self.keep.same(
            (*place, known), parts, lambda: self.keep.key("judged", pilot, known, parts)
        )

    @cached_property
    def _numbers(self) -> frozenset[int]:
        return frozenset(pilot.number for pilot in self.shared.pilots)

    def _known(
        self,
        keys: Sequence[str],
        items: Sequence[_In],
        find: Callable[[Sequence[_In]], Sequence[_Out]],
    ) -> list[_Out]:
        """Return what is kept, and find the rest."""
        kept: list[_Out | None] = [
            self.keep.get(key, _size) if key else None for key in keys
        ]
        rest = [n for n, one in enumerate(kept) if one is None]
        fresh = find([items[n] for n in rest]) if rest else ()
        for n, one in zip(rest, fresh, strict=True):
            kept[n] = one
            if keys[n] and _sure(one):
                self.keep.put(keys[n], _bare(one), size=_size(one))
        return [one for one in kept if one is not None]


def _name(look: FirstLook) -> Hashable:
    """Return what the track of one log is known by."""
    return look.key or id(look.ready)


def _sure(found: FirstLook | LogOutcome) -> bool:
    return not any(matter.says.kind in UNSURE for matter in found.matters)


def _bare(found: _Out) -> _Out:
    """Return it without what other logs say of it."""
    return found if isinstance(found, FirstLook) else replace(found, identified=None)


def _size(found: FirstLook | LogOutcome) -> int:
    ready = found.ready if isinstance(found, FirstLook) else None
    return BYTES_A_FIX * (200 if ready is None else len(ready.time_s))


def _again(found: LogOutcome, job: Job, key: str) -> LogOutcome:
    def told(one: LogSummary, look: FirstLook) -> LogSummary:
        return replace(one, notes=look.summary.notes)

    lead, *rest = job.looks
    return replace(
        found,
        identified=lead.identified,
        summary=told(found.summary, lead),
        joined=tuple(map(told, found.joined, rest)),
        key=key,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stack:
    """How near some tracks came to some marks."""

    names: tuple[Hashable, ...]
    """Of the tracks."""
    marks: tuple[PlacedMark, ...]
    near: Array
    """(T, ROWS, M)."""


class _Passes:
    """How near tracks came to the marks of a flight; only new marks are looked for."""

    def __init__(self, marks: Sequence[PlacedMark], given: str, keep: Keep) -> None:
        self.marks = tuple(marks)
        self.given = given
        self.keep = keep
        self._of: dict[Hashable, Array] = {}

    def of(self, place: Hashable, courses: _Courses) -> list[Array]:
        """Return what `Course.near` does of each track; (ROWS, M).

        `courses` are tracks with the name that each is known by, which says all that they
        depend on; `place` is where they stand, so that the same tracks are looked for
        there the next time.
        """
        fresh = {name: own for name, own in courses if name not in self._of}
        if fresh:
            near = self._stacked(place, fresh).near
            self._of.update(zip(fresh, near, strict=True))
        return [self._of[name] for name, _ in courses]

    def _stacked(
        self, place: Hashable, courses: Mapping[Hashable, Callable[[], Course]]
    ) -> _Stack:
        key = self.keep.key("near", self.given, place)
        known: _Stack | None = self.keep.get(key, _bytes_of) if key else None
        names, made = tuple(courses), list(courses.values())
        near = np.empty((len(names), ROWS, len(self.marks)))
        before = known.names if known is not None and known.marks else ()
        there = {name: row for row, name in enumerate(before)}
        old = [row for row, name in enumerate(names) if name in there]
        if known is not None and old:
            columns, fresh = self._same(known.marks)
            rows = [there[names[row]] for row in old]
            near[old] = known.near[rows].take(columns, axis=2)
            if fresh:
                some = near_all(
                    [made[row]() for row in old], [*map(self.marks.__getitem__, fresh)]
                )
                near[np.ix_(old, range(ROWS), fresh)] = some
        new = [row for row, name in enumerate(names) if name not in there]
        for start in range(0, len(new), TOGETHER):
            rows = new[start : start + TOGETHER]
            near[rows] = near_all([made[row]() for row in rows], self.marks)
        stack = _Stack(names=names, marks=self.marks, near=near)
        self.keep.put(key, stack, size=near.nbytes, newest_of=key)
        return stack

    def _same(self, old: Sequence[PlacedMark]) -> tuple[NDArray[np.int64], list[int]]:
        """Return where each mark stood then, 0 for new ones, and which ones are new."""
        places = {_where(mark): n for n, mark in enumerate(old)}
        then = [places.get(_where(mark), -1) for mark in self.marks]
        fresh = [n for n, one in enumerate(then) if one < 0]
        return np.maximum(np.array(then, dtype=np.int64), 0), fresh


def _bytes_of(stack: _Stack) -> int:
    return stack.near.nbytes


def _where(mark: PlacedMark) -> tuple[object, ...]:
    return mark.east_m, mark.north_m, mark.within_m, mark.time_s, mark.aim
