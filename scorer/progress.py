"""Progress and cancelling for long work, without any window in sight."""

import gc
import os
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TypeVar

from scorer.errors import Cancelled

T = TypeVar("T")
Reporter = Callable[[int, int, str], None]
"""Called with steps done, steps in all, and what is being done."""


class Control:
    """Handed to every long engine function; the command line and the window own it."""

    def __init__(self, report: Reporter | None = None) -> None:
        self._report = report
        self._stop = threading.Event()

    def cancel(self) -> None:
        """Ask the work to stop at its next step; safe from any thread."""
        self._stop.set()

    def step(self, done: int, total: int, text: str) -> None:
        """Report one step; raise Cancelled if the user asked to stop."""
        if self._stop.is_set():
            raise Cancelled
        if self._report is not None:
            self._report(done, total, text)

    def steps(self, items: Iterable[T], text: str) -> Iterator[T]:
        """Yield each item, reporting before it and stopping between two if asked."""
        todo = list(items)
        for done, item in enumerate(todo):
            self.step(done, len(todo), text)
            yield item
        self.step(len(todo), len(todo), text)


@contextmanager
def undisturbed() -> Iterator[None]:
    """Put the search for garbage off: it walks over all that is held, and finds none.

    For work that makes or reads back very many frozen values.
    """
    was = gc.isenabled()
    gc.disable()
    _PUT_OFF.append(was)
    try:
        yield
    finally:
        _PUT_OFF.remove(was)
        if was:
            gc.enable()


_PUT_OFF: list[bool] = []


def _in_worker() -> None:
    """Search again in a worker that starts meanwhile, for it lives longer.

    What it was born with is never searched: that would copy all its pages, too.
    """
    gc.freeze()
    if any(_PUT_OFF):
        gc.enable()


if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_in_worker)
