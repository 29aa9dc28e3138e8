"""What a flight's logs told before: asked for by all that it depends on, and no more.

Three parts, so that one change costs what it touches: what a log shows by itself
(`FirstLook`), what its pilot's evidence makes of it in the air of the flight
(`LogOutcome`), and how near its track came to each mark, mark by mark.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
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
from scorer.tracks.prepare import Ready

BYTES_A_FIX = 80
"""Of a log that was looked at."""
BYTES_A_PLACE = 60
"""Of its course: each fix three times, and a tree of some of them."""
UNSURE = frozenset({"log-fails", "log-ends-its-process"})
"""What may be otherwise the next time."""

_Moved = tuple[NDArray[np.int64], NDArray[np.int64], list[int]]
_In = TypeVar("_In")
_Out = TypeVar("_Out", FirstLook, LogOutcome)


class LogKeep:
    """The logs of one flight, as far as they are known already."""

    def __init__(self, shared: FlightWork, keep: Keep) -> None:
        self.shared = shared
        self.keep = keep
        self._passes = _Passes(shared.marks, keep)

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
        keys = [self.key(log) for log in logs]
        found = self._known(keys, logs, find)
        return [replace(look, key=key) for look, key in zip(found, keys, strict=True)]

    def again(self, log: LogFile, clock_s: float) -> FirstLook:
        """Return what a log shows with so much added to its times, and what it reaches."""
        (look,) = self.reached([self.look(log, clock_s)])
        return replace(look, key=self.key(log, clock_s))

    def look(self, log: LogFile, clock_s: float) -> FirstLook:
        """Return what a log shows by itself, with so much added to its times."""
        key = self.key(log, clock_s)
        find = partial(look_again, self.shared, log, clock_s)
        (look,) = self._known([key], [log], lambda _: [find()])
        return look

    def reached(self, looks: Sequence[FirstLook]) -> list[FirstLook]:
        """Say which marks the track of each log reaches."""
        books = self.shared.books.values()
        throw_m = max((book.tracks.throw_m for book in books), default=0.0)
        reach_m = reaches_m(self.shared.marks, throw_m)

        def with_marks(look: FirstLook) -> FirstLook:
            if look.head is None or look.ready is None:
                return look
            near = self._passes.of(look.key, look.ready, lambda: self._course(look))
            fits = reached(near, reach_m)
            return replace(look, head=replace(look.head, reaches=fits))

        return [with_marks(look) for look in looks]

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
        return [_again(own, job, key) for own, job, key in each]

    def approaches(
        self, jobs: Sequence[Job], outcomes: Sequence[LogOutcome]
    ) -> dict[int, Approaches]:
        """Return by pilot how near each track that counts came to all marks."""
        found = {}
        for job, outcome in zip(jobs, outcomes, strict=True):
            if outcome.aloft is not None:
                key, make = self._course_of(job, outcome.aloft)
                alone = job.looks[0].ready if outcome.aloft.course is None else None
                near = self._passes.of(key, alone, make)
                found[outcome.aloft.pilot] = outcome.aloft.approaches(near)
        return found

    def courses(
        self, jobs: Sequence[Job], outcomes: Sequence[LogOutcome]
    ) -> dict[int, Callable[[], Course]]:
        """Return by pilot what gives the way of the track that counts."""
        return {
            outcome.aloft.pilot: self._course_of(job, outcome.aloft)[1]
            for job, outcome in zip(jobs, outcomes, strict=True)
            if outcome.aloft is not None
        }

    def _course_of(self, job: Job, aloft: Aloft) -> tuple[str, Callable[[], Course]]:
        lead, course = job.looks[0], aloft.course
        if course is None:
            return lead.key, partial(self._course, lead)
        key = f"joined {self._key_of(job)}" if lead.key else ""
        return key, lambda: course

    def _key_of(self, job: Job) -> str:
        """Return the key of a track's outcome; empty where one of its logs has none."""
        if not all(look.key for look in job.looks):
            return ""
        own = self.shared
        pilot = job.looks[0].summary.pilot
        logs = [
            (look.key, look.summary.clock_s, look.summary.clock_sigma_s)
            for look in job.looks
        ]
        evidence = [own.own.get((task.number, pilot or 0)) for task in own.tasks]
        known = any(one.number == pilot for one in own.pilots)
        return self.keep.key(
            self.for_outcomes, logs, job.airs, job.counts, pilot, known, evidence
        )

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


def _sure(found: FirstLook | LogOutcome) -> bool:
    return not any(matter.says.kind in UNSURE for matter in found.matters)


def _bare(found: _Out) -> _Out:
    """Return it without what other logs say of it."""
    return found if isinstance(found, FirstLook) else replace(found, identified=None)


def _size(found: FirstLook | LogOutcome) -> int:
    ready = found.ready if isinstance(found, FirstLook) else None
    return BYTES_A_FIX * (200 if ready is None else len(ready.time_s))


def _again(found: LogOutcome, job: Job, key: str) -> LogOutcome:
    """Put back whose the logs are now, and why, and its key."""

    def told(one: LogSummary, look: FirstLook) -> LogSummary:
        return replace(one, notes=look.summary.notes)

    if not _sure(found):
        return found
    lead, *rest = job.looks
    return replace(
        found,
        identified=lead.identified,
        summary=told(found.summary, lead),
        joined=tuple(map(told, found.joined, rest)),
        key=key,
    )


class _Passes:
    """How near tracks came to the marks of a flight; only new marks are looked for."""

    def __init__(self, marks: Sequence[PlacedMark], keep: Keep) -> None:
        self.marks = tuple(marks)
        self.keep = keep
        self._moves: dict[int, tuple[Sequence[PlacedMark], _Moved]] = {}
        self._once: dict[int, tuple[Ready, Array]] = {}

    def of(self, key: str, log: Ready | None, course: Callable[[], Course]) -> Array:
        """Return what `Course.near` does; (ROWS, M).

        `log` is what was made ready of the one log whose course it is; None of several.
        """
        if not key or not self.keep.holds:
            if log is None:
                return course().near(self.marks)
            if id(log) not in self._once:
                self._once[id(log)] = log, course().near(self.marks)
            return self._once[id(log)][1]
        key = f"near {key}"
        known: tuple[Sequence[PlacedMark], Array] | None = self.keep.recent(key)
        if known is not None and known[0] is self.marks:
            return known[1]
        near = np.full((ROWS, len(self.marks)), np.nan)
        fresh = list(range(len(self.marks)))
        if known is not None:
            there, here, fresh = self._same(known[0])
            near[:, here] = known[1][:, there]
        if fresh:
            near[:, fresh] = course().near([self.marks[n] for n in fresh])
        size = 8 * ROWS * len(self.marks)
        self.keep.put(key, (self.marks, near), size=size, lasts=False)
        return near

    def _same(self, old: Sequence[PlacedMark]) -> _Moved:
        """Return the places then and now of marks that stood there, and of new ones."""
        if id(old) not in self._moves:
            places = {_where(mark): n for n, mark in enumerate(old)}
            pairs = [
                (places[where], n)
                for n, mark in enumerate(self.marks)
                if (where := _where(mark)) in places
            ]
            there, here = np.array(pairs, dtype=int).reshape(-1, 2).T
            fresh = sorted({*range(len(self.marks))} - {*here.tolist()})
            self._moves[id(old)] = old, (there, here, fresh)
        return self._moves[id(old)][1]


def _where(mark: PlacedMark) -> tuple[object, ...]:
    return mark.east_m, mark.north_m, mark.within_m, mark.time_s, mark.aim
