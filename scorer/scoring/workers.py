"""All logs of one flight, worked on in two passes by whoever does the work.

First each log is looked at by itself.  Then what they tell of the air is put together,
and each track, of one log or several, is judged in the air that all the others tell.
"""

from collections import deque
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import Future
from dataclasses import dataclass, replace
from functools import cached_property, partial
from typing import Generic, TypeVar

import numpy as np

from scorer.checks.mark_track import Approaches, Course
from scorer.event.matter import Matter
from scorer.event.matters import AIR_LATE
from scorer.event.model import LogFile
from scorer.facts import fact, flight, several
from scorer.facts import log as log_value
from scorer.geodesy.cells import Sent, Unsent
from scorer.progress import Control
from scorer.remembered import one_and_same
from scorer.scoring.clocks import clocks_of, doubtful, put_right
from scorer.scoring.helpers import Helpers, failed
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.log_keep import LogKeep
from scorer.scoring.packed import Packed, judge_packed, look_at_packed
from scorer.scoring.rescue import Rescue, lost_job, lost_log
from scorer.scoring.work import (
    FirstLook,
    FlightWork,
    Job,
    LogOutcome,
    judge,
    look_at,
    owned,
)
from scorer.tracks.air import Air, PooledLogs, View
from scorer.tracks.choose import Match, choose
from scorer.tracks.heads import LogHead
from scorer.tracks.join import parts_of

BATCH = 8
"""Logs in one piece of work: small enough for a lively progress bar."""
FEW = 4
"""Tracks that are judged sooner than handed over: that takes what all share along."""
IN_FLIGHT = 128
"""Pieces sent and not yet done, at most: some hundred megabytes wait, however many logs
there are."""

_In = TypeVar("_In")
_Out = TypeVar("_Out")
_There = Callable[[Packed, Sequence[_In]], tuple[_Out, ...] | Unsent]


@dataclass(frozen=True, slots=True, kw_only=True)
class LogsOutcome:
    """What came of a flight's logs."""

    match: Match
    jobs: list[Job]
    outcomes: list[LogOutcome]
    approaches: Mapping[int, Approaches]
    """How near the track that counts for each pilot came to each mark."""
    courses: Mapping[int, Callable[[], Course]]
    """What gives the way of that track in the air."""
    tracks: str
    """Key of what these give, and of the roster; empty = nothing is kept."""
    key: str
    """Of all that judging depended on beside logs and pilots; empty = nothing is kept."""
    air: Air | None
    """What all of them tell of the air, or what was set down; None = none tells."""

    @property
    def airs(self) -> dict[str, Air | None]:
        """The air with which each log was read, by content address of the log."""
        return {
            look.summary.sha256: air
            for job in self.jobs
            for look, air in zip(job.looks, job.airs, strict=True)
            if look.ready is not None
        }


class LogsWork:
    """The logs of one flight while they are worked on."""

    def __init__(
        self,
        shared: FlightWork,
        logs: Sequence[LogFile],
        executor: Helpers | None,
        keep: Keep = NOTHING_KEPT,
    ) -> None:
        self.shared = shared
        self.logs = logs
        self.kept = LogKeep(shared, keep)
        self.hands = _Hands(shared, executor)

    def begin(self) -> None:
        """Hand out the logs that nobody looked at yet, where others look at them."""
        if self.hands.executor is not None:
            self.hands.begin(self.kept.unseen(self.logs))

    def drop(self) -> None:
        """Let go of what was handed out."""
        self.hands.drop()

    def done(self, control: Control, meanwhile: Callable[[], None]) -> LogsOutcome:
        """Work on all logs.

        Outcomes come in the order of the jobs, and those in the order of the logs that
        lead, whoever did the work, and whatever of it was kept.  `meanwhile` is called
        once all that others are to do for this flight is handed out.
        """
        shared, kept, logs = self.shared, self.kept, self.logs
        text = f"flight {shared.flight}: logs"
        control.step(0, 2 * len(logs), text)

        def done(count: int) -> None:
            control.step(count, 2 * len(logs), text)

        looks = kept.looks(logs, lambda some: self.hands.look(some, done))
        looks = owned(shared, looks, kept.reached(looks), kept.keep)
        looks, told = in_time(shared, logs, looks, kept)
        match, jobs, air = jobs_of(looks, shared, kept.keep)
        told += _late(shared, looks)
        match = replace(match, matters=(*match.matters, *told))
        outcomes = kept.outcomes(
            jobs,
            lambda some: self.hands.judge(
                some, lambda n: done(len(logs) + n), meanwhile
            ),
        )
        meanwhile()
        control.step(2 * len(logs), 2 * len(logs), text)
        courses, tracks = kept.courses(jobs, outcomes)
        return LogsOutcome(
            match=match,
            jobs=jobs,
            outcomes=outcomes,
            approaches=kept.approaches(jobs, outcomes),
            courses=courses,
            tracks=tracks,
            key=kept.for_outcomes,
            air=air,
        )


class _Hands:
    """Who works on the logs of a flight."""

    def __init__(self, shared: FlightWork, executor: Helpers | None) -> None:
        self.shared = shared
        self.executor = executor
        self._begun: Batches[LogFile, FirstLook] | None = None

    @cached_property
    def sent(self) -> Packed:
        """What all logs share; packed once, and only where a log is worked on."""
        return Packed.of(self.shared)

    def begin(self, logs: Sequence[LogFile]) -> None:
        """Hand out logs to be looked at, as many as may be in flight."""
        if logs:
            self._begun = self._batches(look_at_packed, logs)
            self._begun.send()

    def drop(self) -> None:
        """Let go of them."""
        if self._begun is not None:
            self._begun.drop()

    def look(
        self, logs: Sequence[LogFile], done: Callable[[int], None]
    ) -> list[FirstLook]:
        """Look at logs; what was begun of just these goes on."""
        begun, self._begun = self._begun, None
        if begun is not None and not begun.of(logs):
            begun.drop()
            begun = None
        if self.executor is None:
            return self._here(look_at, logs, done)
        batches = begun or self._batches(look_at_packed, logs)
        return batches.done(self._rescue(look_at_packed, lost_log), done)

    def judge(
        self,
        jobs: Sequence[Job],
        done: Callable[[int], None],
        meanwhile: Callable[[], None],
    ) -> list[LogOutcome]:
        """Judge tracks; a few of them here, for they were read before."""
        if self.executor is None or len(jobs) <= FEW:
            return self._here(judge, jobs, done)
        batches = self._batches(judge_packed, jobs, self._along)
        batches.send()
        meanwhile()
        return batches.done(self._rescue(judge_packed, lost_job), done)

    def _here(
        self,
        work: Callable[[FlightWork, Sequence[_In]], tuple[_Out, ...]],
        items: Sequence[_In],
        done: Callable[[int], None],
    ) -> list[_Out]:
        found: list[_Out] = []
        for batch in _cut(items, BATCH):
            found += work(self.shared, batch)
            done(len(found))
        return found

    def _batches(
        self,
        there: "_There[_In, _Out]",
        items: Sequence[_In],
        along: Callable[[Sequence[_In]], Packed] | None = None,
    ) -> "Batches[_In, _Out]":
        assert self.executor is not None
        along = along or (lambda _: self.sent)
        return Batches(self.executor, along, there, items)

    def _rescue(
        self, there: "_There[_In, _Out]", lost: Callable[[str, _In], _Out]
    ) -> Rescue[_In, _Out]:
        return Rescue(self.sent, there, partial(lost, self.shared.flight), self._more)

    def _along(self, jobs: Sequence[Job]) -> Packed:
        """Return what all share, with the terrain under the fixes of some tracks."""
        terrain = self.shared.site.ground.terrain
        ready = [
            own.ready for job in jobs for own in job.looks if own.ready is not None
        ]
        if self.sent.cells is None or terrain is None or not ready:
            return self.sent
        east = np.concatenate([own.east_m for own in ready])
        north = np.concatenate([own.north_m for own in ready])
        under = terrain.among(*self.shared.site.plane.to_wgs84(east, north))
        return replace(self.sent, cells=Sent.of(terrain.data, under))

    def _more(self, sent: Packed, lacking: Unsent) -> Packed:
        """Send the cells of the terrain that a batch turned out to need as well."""
        terrain = self.shared.site.ground.terrain
        assert terrain is not None
        assert sent.cells is not None
        wanted = np.concatenate([sent.cells.cells, lacking.cells])
        return replace(sent, cells=Sent.of(terrain.data, wanted))


class Batches(Generic[_In, _Out]):
    """Items sent to an executor batch by batch, some at a time."""

    def __init__(
        self,
        helpers: Helpers,
        along: Callable[[Sequence[_In]], Packed],
        there: "_There[_In, _Out]",
        items: Sequence[_In],
    ) -> None:
        """Take what does the work, and what goes along with each batch."""
        self._helpers = helpers
        self._along = along
        self._there = there
        self._items = items
        self._batches = _cut(items, BATCH)
        self._new = iter(range(len(self._batches)))
        self._again: deque[tuple[int, Packed]] = deque()
        self._futures: dict[Future[tuple[_Out, ...] | Unsent], tuple[int, Packed]] = {}

    def of(self, items: Sequence[_In]) -> bool:
        """Tell whether these are its very items."""
        return one_and_same(items, self._items)

    def send(self) -> bool:
        """Send what may be in flight beside what is; tell whether anything is."""
        while self._again or len(self._futures) < IN_FLIGHT:
            if self._again:
                i, own = self._again.popleft()
            elif (i := next(self._new, -1)) >= 0:
                own = self._along(self._batches[i])
            else:
                break
            sent = self._helpers.submit(self._there, own, self._batches[i])
            if sent is None:
                break
            self._futures[sent] = i, own
        return bool(self._futures)

    def drop(self) -> None:
        """Let go of what is in flight."""
        for future in self._futures:
            future.cancel()

    def done(
        self, rescue: Rescue[_In, _Out], done: Callable[[int], None]
    ) -> list[_Out]:
        """Return the results in the order of the items."""
        results: dict[int, Iterable[_Out]] = {}
        count = 0
        try:
            while self.send():
                for future in self._helpers.first(self._futures):
                    i, own = self._futures.pop(future)
                    if failed(future):
                        continue
                    found = future.result()
                    if isinstance(found, Unsent):
                        self._again.append((i, rescue.more(own, found)))
                    else:
                        results[i] = found
                        count += len(self._batches[i])
                        done(count)
        finally:
            self.drop()
        with rescue:
            for i in (i for i in range(len(self._batches)) if i not in results):
                results[i] = rescue.work_on(self._batches[i])
                count += len(self._batches[i])
                done(count)
        return [one for index in range(len(self._batches)) for one in results[index]]


def _cut(items: Sequence[_In], size: int) -> list[Sequence[_In]]:
    return [items[at : at + size] for at in range(0, len(items), size)]


def in_time(
    shared: FlightWork,
    logs: Sequence[LogFile],
    looks: Sequence[FirstLook],
    kept: LogKeep,
) -> tuple[list[FirstLook], list[Matter]]:
    """Read logs again whose clock an official put right; tell of doubtful clocks."""
    clocks = clocks_of(shared, looks)
    seen, again = list(looks), False
    for n, clock in clocks.items():
        if clock.offset_s is not None and clock.matter.key in shared.accepted:
            seen[n] = put_right(kept.again(logs[n], clock.offset_s), clock)
            again = True
        else:
            seen[n] = doubtful(looks[n])
    if again:  # they are seen at other times: it may be another's log
        seen = owned(shared, seen, kept.reached(seen, again=True), kept.keep)
    return seen, [clock.matter for clock in clocks.values()]


def _late(shared: FlightWork, looks: Sequence[FirstLook]) -> list[Matter]:
    """Tell of logs that came after the air of the flight was set down."""
    if shared.air is None:
        return []
    names = sorted(
        {
            look.summary.name
            for look in looks
            if look.ready is not None and look.summary.sha256 not in shared.air.logs
        }
    )
    if not names:
        return []
    says = fact(
        "air-late", logs=several(map(log_value, names)), flight=flight(shared.flight)
    )
    return [Matter(kind=AIR_LATE, flight=shared.flight, says=says)]


def jobs_of(
    looks: Sequence[FirstLook], shared: FlightWork, keep: Keep = NOTHING_KEPT
) -> tuple[Match, list[Job], Air | None]:
    """Put the logs of each pilot's flight together, and give each log its air."""
    by_head = {id(k.identified.head): k for k in looks if k.identified is not None}

    def parts(lead: LogHead, others: Sequence[LogHead]) -> list[LogHead]:
        first = by_head[id(lead)].ready
        ready = {id(r): h for h in others if (r := by_head[id(h)].ready) is not None}
        some = [by_head[id(h)].ready for h in others]
        own = [r for r in some if r is not None]
        return [] if first is None else [ready[id(r)] for r in parts_of(first, own)]

    identified = [k.identified for k in looks if k.identified is not None]
    match = choose(identified, flight=shared.flight, parts=parts)
    views = {
        look.summary.sha256: look.ready.shape.view
        for look in sorted(looks, key=lambda k: (k.summary.sha256, k.summary.name))
        if look.ready is not None and look.ready.shape is not None
    }  # each file once, in an order of its own
    kept = shared.air
    keys = [look.key for look in looks if look.ready is not None]
    alone = [] if kept is not None else list(views.values())
    airs, pooled = keep.newest(
        "airs", keys[0] if keys else "", (keys, len(alone)), lambda: _airs(alone)
    )
    by_log = dict(zip(views, airs, strict=True)) if kept is None else {}

    def air(look: FirstLook) -> Air | None:
        sha256 = look.summary.sha256
        if kept is None or sha256 not in views:
            return by_log.get(sha256)
        return kept.of(sha256)

    whole = kept.whole if kept is not None else pooled

    leads = {id(head): match.joined[n] for n, head in match.chosen.items()}
    merged = {id(head) for heads in match.joined.values() for head in heads}
    jobs = []
    for look in looks:
        head = None if look.identified is None else look.identified.head
        if head is not None and id(head) in merged:
            continue
        rest = leads.get(id(head), ())
        own = (look, *(by_head[id(one)] for one in rest))
        counts = head is not None and id(head) in leads
        jobs.append(Job(looks=own, airs=tuple(map(air, own)), counts=counts))
    return match, jobs, whole


def _airs(views: Sequence[View]) -> tuple[list[Air], Air | None]:
    """Return the air that the others tell for each log, and what all of them tell."""
    pool = PooledLogs(views)
    return [pool.air(view) for view in views], pool.air() if views else None
