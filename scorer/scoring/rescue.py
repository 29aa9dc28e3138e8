"""Logs whose process died are tried again, apart from all others.

A process that the system ends (no memory left, a crash below Python) takes its whole
batch along, and a pool of processes all batches that wait.  None of that may cost an
event its score: what is missing is done again in one process by itself, a broken batch
log by log, and a log that ends its process once more is left out, with its matter.
"""

from collections.abc import Callable, Sequence
from concurrent.futures import BrokenExecutor, Executor
from dataclasses import replace
from types import TracebackType
from typing import Generic, Self, TypeVar

from scorer.event import matters
from scorer.event.matter import Matter, about
from scorer.event.model import LogFile
from scorer.facts import fact
from scorer.facts import log as log_value
from scorer.fresh import processes
from scorer.geodesy.cells import Unsent
from scorer.scoring.packed import Packed
from scorer.scoring.results import LogSummary
from scorer.scoring.work import FirstLook, Job, LogOutcome

_In = TypeVar("_In")
_Out = TypeVar("_Out")


class Rescue(Generic[_In, _Out]):
    """One process for what other processes did not bring to an end."""

    def __init__(
        self,
        shared: Packed,
        work: Callable[[Packed, Sequence[_In]], tuple[_Out, ...] | Unsent],
        lost: Callable[[_In], _Out],
        more: Callable[[Packed, Unsent], Packed],
    ) -> None:
        """Take what does the work, and what says that one item of it is lost.

        `more` sends more of the terrain, where that turns out to be needed.
        """
        self._shared = shared
        self._work = work
        self._lost = lost
        self.more = more
        self._pool: Executor | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._close()

    def work_on(self, items: Sequence[_In]) -> tuple[_Out, ...]:
        """Work on a batch; one that ends its process, item by item."""
        done = self._try(items)
        if done is not None:
            return done
        if len(items) == 1:
            return (self._lost(items[0]),)
        return tuple(outcome for item in items for outcome in self.work_on([item]))

    def _try(self, items: Sequence[_In]) -> tuple[_Out, ...] | None:
        shared = self._shared
        try:
            while isinstance(found := self._done(shared, items), Unsent):
                shared = self.more(shared, found)
        except BrokenExecutor:
            self._close()
            return None
        return found

    def _done(self, shared: Packed, items: Sequence[_In]) -> tuple[_Out, ...] | Unsent:
        if self._pool is None and not self._open():
            return self._work(shared, items)
        assert self._pool is not None
        return self._pool.submit(self._work, shared, items).result()

    def _open(self) -> bool:
        """Start the process; False where this computer starts none."""
        self._pool = processes(1)
        try:
            self._pool.submit(int).result()
        except BrokenExecutor:
            self._close()
        return self._pool is not None

    def _close(self) -> None:
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)
            self._pool = None


def lost_log(flight: str, log: LogFile) -> FirstLook:
    """Say that a log is left out, since it ends its process."""
    name = log.blob.name
    summary = LogSummary(name=name, sha256=log.blob.sha256, pilot=log.pilot, fixes=0)
    return FirstLook(summary=summary, matters=(_ended(flight, summary),))


def lost_job(flight: str, job: Job) -> LogOutcome:
    """Say the same of the logs of one track."""
    summary = replace(job.looks[0].summary, fixes=0)
    told = _ended(flight, summary)
    return LogOutcome(summary=summary, identified=None, matters=(told,))


def _ended(flight: str, summary: LogSummary) -> Matter:
    return Matter(
        kind=matters.LOG_BROKEN,
        flight=flight,
        pilots=about(summary.pilot),
        says=fact("log-ends-its-process", log=log_value(summary.name)),
        evidence=(summary.name,),
    )
