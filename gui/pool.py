"""Processes that read logs, started when there are enough of them to be worth it."""

import os
from concurrent.futures import BrokenExecutor, Executor
from functools import cached_property
from typing import TYPE_CHECKING

from scorer.fresh import FEW_LOGS, processes

if TYPE_CHECKING:
    from scorer.event.model import Event
    from scorer.progress import Control
    from scorer.scoring.keep import Keep
    from scorer.scoring.results import Results


class Pool:
    """One pool for as long as the window lives, and what its work came to."""

    def __init__(self, workers: int | None = None) -> None:
        self._workers = workers or max((os.cpu_count() or 2) - 1, 1)
        self._executor: Executor | None = None

    @cached_property
    def keep(self) -> "Keep":
        """What logs told before, in this window and in earlier ones; for the worker."""
        # The window is there before the scoring modules are loaded.
        from scorer.recall import keep_of_user  # noqa: PLC0415

        return keep_of_user()

    def score(self, event: "Event", control: "Control | None" = None) -> "Results":
        """Score an event in a worker; what was found before is not found again.

        A preview asks for it as the score itself does: one changed entry costs alike.
        """
        # The window is there before the scoring modules are loaded.
        from scorer.scoring.score import score  # noqa: PLC0415

        logs = sum(len(flight.logs) for flight in event.flights)
        executor = self.for_logs(logs)
        return score(event, executor, control=control, keep=self.keep)

    def for_logs(self, logs: int) -> Executor | None:
        """Return the executor for so many logs; None = do it here, in half a second."""
        if logs <= FEW_LOGS:
            return None
        if self._broken():
            self.close()
        if self._executor is None:
            self._executor = processes(self._workers)
        return self._executor

    def _broken(self) -> bool:
        """Tell whether one of the processes was killed: then all of them take no work."""
        try:
            if self._executor is not None:
                self._executor.submit(int)
        except BrokenExecutor:
            return True
        return False

    def close(self) -> None:
        """End the processes, and write down what is known now for the next start."""
        if "keep" in self.__dict__:
            self.keep.close()
        if self._executor is not None:
            self._executor.shutdown(wait=True, cancel_futures=True)
            self._executor = None
