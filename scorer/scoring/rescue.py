"""Logs whose process died are tried again, apart from all others.

A process that the system ends (no memory left, a crash below Python) takes its whole
batch along, and a pool of processes all batches that wait.  None of that may cost an
event its score: what is missing is done again in one process by itself, a broken batch
log by log, and a log that ends its process once more is left out, with its matter.
"""

from collections.abc import Sequence
from concurrent.futures import BrokenExecutor, ProcessPoolExecutor
from multiprocessing import get_context
from types import TracebackType
from typing import Self

from scorer.event import matters
from scorer.event.matter import Matter, about
from scorer.event.model import LogFile
from scorer.facts import fact
from scorer.facts import log as log_value
from scorer.scoring.results import LogSummary
from scorer.scoring.work import LogOutcome, Packed, work_on_packed


class Rescue:
    """One process for what other processes did not bring to an end."""

    def __init__(self, shared: Packed, flight: str) -> None:
        self._shared = shared
        self._flight = flight
        self._pool: ProcessPoolExecutor | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._close()

    def work_on(self, logs: Sequence[LogFile]) -> tuple[LogOutcome, ...]:
        """Work on a batch; one that ends its process, log by log."""
        done = self._try(logs)
        if done is not None:
            return done
        if len(logs) == 1:
            return (_left_out(self._flight, logs[0]),)
        return tuple(outcome for log in logs for outcome in self.work_on([log]))

    def _try(self, logs: Sequence[LogFile]) -> tuple[LogOutcome, ...] | None:
        if self._pool is None and not self._open():
            return work_on_packed(self._shared, logs)
        assert self._pool is not None
        try:
            return self._pool.submit(work_on_packed, self._shared, logs).result()
        except BrokenExecutor:
            self._close()
            return None

    def _open(self) -> bool:
        """Start the process; False where this computer starts none."""
        # A fork of a program with threads can hang; a spawned one cannot.
        self._pool = ProcessPoolExecutor(1, mp_context=get_context("spawn"))
        try:
            self._pool.submit(int).result()
        except (BrokenExecutor, OSError):
            self._close()
        return self._pool is not None

    def _close(self) -> None:
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)
            self._pool = None


def _left_out(flight: str, log: LogFile) -> LogOutcome:
    name = log.blob.name
    warning = Matter(
        kind=matters.LOG_BROKEN,
        flight=flight,
        pilots=about(log.pilot),
        says=fact("log-ends-its-process", log=log_value(name)),
        evidence=(name,),
    )
    summary = LogSummary(name=name, sha256=log.blob.sha256, pilot=log.pilot, fixes=0)
    return LogOutcome(summary=summary, identified=None, matters=(warning,))
