"""Who works on logs beside this process: others of this computer, or of a cluster.

They may end at any time, all of them, and one that waits for them would never know: an
executor only says so of processes that it started itself.
"""

from collections.abc import Callable, Iterable
from concurrent.futures import FIRST_COMPLETED, Executor, Future, wait
from typing import TypeVar

from scorer.errors import ScorerError

LOOK_S = 1.0
"""How long one waits before one looks whether anything came back."""
MOST_LOOKS = 600
"""So often in a row nothing may have: ten minutes.  A piece of work takes some seconds; a
cluster may be busy with other things, or bring up new workers."""
T = TypeVar("T")


class Helpers:
    """An executor, and when it was last heard of."""

    def __init__(self, executor: Executor) -> None:
        self._executor = executor
        self._heard(None)

    def submit(self, work: Callable[..., T], *given: object) -> Future[T] | None:
        """Hand out work; None where nobody takes it any more: broken, or closed."""
        try:
            future = self._executor.submit(work, *given)
        except Exception:  # noqa: BLE001 - each kind of cluster has its own
            return None
        self._heard(None)
        future.add_done_callback(self._heard)
        return future

    def first(self, futures: Iterable[Future[T]]) -> set[Future[T]]:
        """Return those that ended, once one of them did.

        Raises
        ------
        ScorerError
            Nothing at all came back for so long that nobody seems to be there.
        """
        waiting = list(futures)
        while True:
            ended = wait(waiting, timeout=LOOK_S, return_when=FIRST_COMPLETED).done
            if ended:
                return ended
            self._looks += 1
            if self._looks > MOST_LOOKS:
                raise ScorerError(_SILENT.format(MOST_LOOKS * LOOK_S / 60))

    def _heard(self, _: object) -> None:
        self._looks = 0


def failed(future: Future[T]) -> bool:
    """Tell whether what ended brought nothing: its process died, or nobody wants it."""
    return future.cancelled() or future.exception() is not None


_SILENT = (
    "the processes that read logs have sent nothing for {:.0f} minutes; perhaps none of "
    "them runs any more. Start them again and score again, or score without them: then "
    "this computer reads all logs itself"
)
