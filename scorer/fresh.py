"""Fresh programs of our own: the window, what sets long papers, who works on logs."""

import os
import signal
import sys
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context, parent_process
from multiprocessing.process import BaseProcess
from threading import Thread

FEW_LOGS = 60
"""Up to this many logs, starting fresh processes costs more than it saves."""


def processes(
    workers: int | None = None, method: str | None = "spawn"
) -> ProcessPoolExecutor:
    """Give processes, one for each core, that end with this one; work starts them.

    A fork of a program with threads can hang; a spawned one cannot.  None = as this
    computer starts them by itself, sooner: where nothing else runs.
    """
    return _Processes(workers, mp_context=get_context(method), initializer=_begin)


class _Processes(ProcessPoolExecutor):
    """Processes of which one may die, for want of memory, say.

    Before Python 3.11.7, as Debian 12 has it, who ends them then waits for good for what
    was on its way to them (https://github.com/python/cpython/issues/94777).
    """

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:  # noqa: FBT001, FBT002
        """End the processes; where one died, let go what was on its way to it."""
        sent = getattr(self, "_call_queue", None)
        if sys.version_info < (3, 11, 7) and sent is not None:
            if getattr(self, "_broken", False):
                sent._reader.close()  # noqa: SLF001 - as later Pythons do there
        super().shutdown(wait, cancel_futures=cancel_futures)


def _begin() -> None:
    """Begin to work: what a user stops at the keyboard, the program who asked ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    end_with_parent()


def surroundings() -> dict[str, str]:
    """Return the environment of a Python that finds modules where this one does.

    And nowhere else: what lies in the folder in which somebody stands is no part of it.
    """
    known = os.pathsep.join(path for path in sys.path if path)
    return {**os.environ, "PYTHONPATH": known, "PYTHONSAFEPATH": "1"}


def end_with_parent() -> None:
    """End this process when the one that started it is no more, however that ended.

    What waits for work of a pool is told of a parent that closes it, never of one that was
    killed: it would wait for as long as the computer runs.
    """
    parent = parent_process()
    if parent is not None:
        Thread(target=_follow, args=(parent,), daemon=True).start()


def _follow(parent: BaseProcess) -> None:
    parent.join()
    os._exit(1)
