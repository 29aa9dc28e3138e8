"""All logs of one flight, worked on in two passes by whoever does the work.

First each log is looked at by itself.  Then what they tell of the air is put together,
and each track, of one log or several, is judged in the air that all the others tell.
"""

from collections import deque
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import (
    FIRST_COMPLETED,
    BrokenExecutor,
    Executor,
    Future,
    wait,
)
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cached_property, partial
from typing import TypeVar

import numpy as np

from scorer.checks.mark_track import Approaches, Course
from scorer.event.matter import Matter
from scorer.event.matters import AIR_LATE
from scorer.event.model import LogFile
from scorer.facts import fact, flight, several
from scorer.facts import log as log_value
from scorer.geodesy.cells import Sent, Unsent
from scorer.progress import Control
from scorer.scoring.clocks import clocks_of, doubtful, put_right
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.log_keep import LogKeep
from scorer.scoring.rescue import Rescue, lost_job, lost_log
from scorer.scoring.work import (
    FirstLook,
    FlightWork,
    Job,
    LogOutcome,
    Packed,
    judge,
    judge_packed,
    look_at,
    look_at_packed,
    owned,
)
from scorer.tracks.air import Air, PooledLogs, View
from scorer.tracks.choose import Match, choose
from scorer.tracks.heads import LogHead
from scorer.tracks.join import parts_of

BATCH = 8
"""Logs in one piece of work: small enough for a lively progress bar."""
IN_FLIGHT = 128
"""Pieces sent and not yet done, at most: some hundred megabytes wait, however many logs
there are."""

_In = TypeVar("_In")
_Out = TypeVar("_Out")


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


def work_on_all(
    shared: FlightWork,
    logs: Sequence[LogFile],
    executor: Executor | None,
    control: Control,
    keep: Keep = NOTHING_KEPT,
) -> LogsOutcome:
    """Work on all logs of a flight.

    Outcomes come in the order of the jobs, and those in the order of the logs that lead,
    whoever did the work, and whatever of it was kept.
    """
    text = f"flight {shared.flight}: logs"
    control.step(0, 2 * len(logs), text)
    hands = _Hands(shared, executor)

    def done(count: int) -> None:
        control.step(count, 2 * len(logs), text)

    kept = LogKeep(shared, keep)
    looks = kept.looks(logs, lambda some: hands.look(some, done))
    looks = owned(shared, looks, kept.reached(looks), keep)
    looks, told = in_time(shared, logs, looks, kept)
    match, jobs, air = jobs_of(looks, shared, keep)
    told += _late(shared, looks)
    match = replace(match, matters=(*match.matters, *told))
    outcomes = kept.outcomes(
        jobs, lambda some: hands.judge(some, lambda n: done(len(logs) + n))
    )
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

    def __init__(self, shared: FlightWork, executor: Executor | None) -> None:
        self.shared = shared
        self.executor = executor

    @cached_property
    def sent(self) -> Packed:
        """What all logs share; packed once, and only where a log is worked on."""
        return Packed.of(self.shared)

    def look(
        self, logs: Sequence[LogFile], done: Callable[[int], None]
    ) -> list[FirstLook]:
        """Look at logs."""
        return self._through(look_at, look_at_packed, lost_log, logs, done)

    def judge(
        self, jobs: Sequence[Job], done: Callable[[int], None]
    ) -> list[LogOutcome]:
        """Judge tracks."""
        return self._through(judge, judge_packed, lost_job, jobs, done, self._along)

    def _through(  # noqa: PLR0917 - who works, on what, and who is told
        self,
        here: Callable[[FlightWork, Sequence[_In]], tuple[_Out, ...]],
        there: Callable[[Packed, Sequence[_In]], tuple[_Out, ...] | Unsent],
        lost: Callable[[str, _In], _Out],
        items: Sequence[_In],
        done: Callable[[int], None],
        first: Callable[[Sequence[_In]], Packed] | None = None,
    ) -> list[_Out]:
        if not items:
            return []
        if self.executor is None:
            found: list[_Out] = []
            for batch in _batches(items, BATCH):
                found += here(self.shared, batch)
                done(len(found))
            return found
        lost_here = partial(lost, self.shared.flight)
        rescue = Rescue(self.sent, there, lost_here, self._more)
        send = first or (lambda _: self.sent)
        return _spread(self.executor, send, there, rescue, items, done)

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


def _spread(  # noqa: PLR0917 - who works, on what, and who is told
    executor: Executor,
    first: Callable[[Sequence[_In]], Packed],
    there: Callable[[Packed, Sequence[_In]], tuple[_Out, ...] | Unsent],
    rescue: Rescue[_In, _Out],
    items: Sequence[_In],
    done: Callable[[int], None],
) -> list[_Out]:
    """Send batches to the executor; results come in the order of the items."""
    batches = _batches(items, BATCH)
    futures: dict[Future[tuple[_Out, ...] | Unsent], tuple[int, Packed]] = {}
    results: dict[int, Iterable[_Out]] = {}
    again: deque[tuple[int, Packed]] = deque()
    count, new = 0, iter(range(len(batches)))

    def send() -> bool:
        """Send what may be in flight beside what is; tell whether anything is."""
        with suppress(BrokenExecutor):  # of an earlier score, or while we send
            while again or len(futures) < IN_FLIGHT:
                if again:
                    i, own = again.popleft()
                elif (i := next(new, -1)) >= 0:
                    own = first(batches[i])
                else:
                    break
                futures[executor.submit(there, own, batches[i])] = i, own
        return bool(futures)

    try:
        while send():
            for future in wait(futures, return_when=FIRST_COMPLETED).done:
                i, own = futures.pop(future)
                if future.exception() is not None:
                    continue
                found = future.result()
                if isinstance(found, Unsent):
                    again.append((i, rescue.more(own, found)))
                else:
                    results[i] = found
                    count += len(batches[i])
                    done(count)
    finally:
        for future in futures:
            future.cancel()
    with rescue:
        for i in (i for i in range(len(batches)) if i not in results):
            results[i] = rescue.work_on(batches[i])
            count += len(batches[i])
            done(count)
    return [one for index in range(len(batches)) for one in results[index]]


def _batches(items: Sequence[_In], size: int) -> list[Sequence[_In]]:
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
